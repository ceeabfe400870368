"""Whole handfuls a second time: the lightest dose of all that are no worse, by integer programming.

The engine rounds each amount to the handful below or above and takes the corner with the
least departure, to a twentieth, then the least mass. With that twentieth as the limit each
row is linear, so HiGHS can search every whole number of handfuls and prove a lower bound.
"""

import math
from statistics import median

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

STEPS_PER_T = 20
# What the engine forgives when it counts twentieths, and the tolerance of HiGHS here.
EASE = 1e-6
SECONDS = 5.0


def compare(blend, problem):
    """What is amiss in words, and the mass over the proved bound in shares of the base."""
    result = problem["result"]
    kg = result["handfuls"]
    wrong = []
    for candidate in problem["candidates"]:
        amount, handful = kg[candidate["name"]], candidate["handful_kg"]
        count = amount / handful
        if abs(count - round(count)) > 1e-6 * max(1.0, count):
            wrong.append(f"{amount} kg of {candidate['name']} is {count} handfuls")
        if amount < 0 or amount > candidate["stock_kg"] * (1 + 1e-9) + 1e-9:
            wrong.append(f"handfuls of {candidate['name']} weigh {amount}, stock {candidate['stock_kg']}")
    steps = max(0, math.ceil(result["handfuls_t"] * STEPS_PER_T - EASE))
    rows = blend.rows_at(problem, steps / STEPS_PER_T + EASE)
    worst = float((rows @ blend.with_amounts(kg)).max())
    if worst > EASE:
        wrong.append(f"the handfuls break a window at t {steps / STEPS_PER_T} by {worst}")
    if wrong:
        return wrong, None

    each = np.array([c["handful_kg"] for c in problem["candidates"]]) / blend.scale
    most = np.array([math.floor(c["stock_kg"] / c["handful_kg"] + 1e-9) for c in problem["candidates"]])
    found = milp(
        each, integrality=np.ones(len(each)), bounds=Bounds(0, most),
        constraints=LinearConstraint(rows[:, 1:] * each, ub=-rows[:, 0]),
        options={"time_limit": SECONDS, "mip_rel_gap": 0.0},
    )
    if found.status == 2:
        return ["the search over handfuls finds none, the engine does"], None
    if found.mip_dual_bound is None:
        raise ArithmeticError(f"HiGHS: {found.message}")
    ours = sum(kg.values()) / blend.scale
    over = ours - found.mip_dual_bound
    if over < -EASE:
        wrong.append(f"handfuls weigh {ours} of the base, below the proved least {found.mip_dual_bound}")
    return wrong, (max(over, 0.0), max(over, 0.0) / each.max(), found.status == 1)


def told(gaps):
    """The gaps in one line."""
    if not gaps:
        return "handfuls: none compared"
    base = sorted(g[0] for g in gaps)
    count = sorted(g[1] for g in gaps)
    at = lambda values, share: values[min(len(values) - 1, int(share * len(values)))]
    return (
        f"handfuls: {len(gaps)} compared, {sum(g < 1e-6 for g in base)} lightest of all; "
        f"mass over the proved least, % of the base: median {100 * median(base):.2g}, "
        f"95th {100 * at(base, 0.95):.2g}, most {100 * base[-1]:.2g}; "
        f"in the heaviest handful at hand: 95th {at(count, 0.95):.2g}, most {count[-1]:.2g}; "
        f"{sum(g[2] for g in gaps)} out of time"
    )
