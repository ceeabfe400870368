"""How long SciPy takes over the problems that the engine timed in the same run.

SciPy gets the engine's own plan: bisection for the least departure, a bounded search for
the balance, one linear program a step. The engine's time also holds the rounding and what led to it.
"""

import time
from statistics import median

from scipy.optimize import minimize_scalar

INGREDIENTS = 8
RUNS = 3


def windows(blend, problem, least_departure, relaxed):
    """Both stages, as close as the engine goes."""
    least = least_departure(blend, problem)
    if least > 1.0:
        return

    def score(t):
        best = blend.least_mass(blend.rows_at(problem, t + (relaxed if t > 0 else 0)))
        return 1e9 if best is None else t + best[0] / blend.scale

    score(least)
    minimize_scalar(score, bounds=(least, 1.0), method="bounded", options={"xatol": 1e-8})


def least_us(solve):
    """The least of several runs, microseconds."""
    best = float("inf")
    for _ in range(RUNS):
        start = time.perf_counter_ns()
        solve()
        best = min(best, time.perf_counter_ns() - start)
    return best / 1000


def told(kind, pairs):
    """Medians and their ratio in one line."""
    if not pairs:
        return f"time, {kind}: no problem with {INGREDIENTS} ingredients"
    ours, theirs = median(p[0] for p in pairs), median(p[1] for p in pairs)
    return (
        f"time, {kind}, {len(pairs)} problems with {INGREDIENTS} ingredients: "
        f"our median {ours:.0f} µs, SciPy median {theirs:.0f} µs, ratio {theirs / ours:.0f}"
    )
