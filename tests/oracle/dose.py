"""Solves the engine's dose problems a second time, with SciPy, and compares.

The engine finds the least departure from the windows, then the least mass, with
its own solver. Here each problem becomes linear programs for HiGHS, with a
bisection of our own. Only the statement of the problem is shared: masses in kg,
volumes in litres, water 1.0, organic matter 1.6 and ash 2.5 kg per litre.
"""

import argparse
import json
import subprocess
import sys

import numpy as np
from scipy.optimize import linprog

import handfuls
import timing

ORGANIC_KG_PER_L = 1.6
ASH_KG_PER_L = 2.5

# Agreed with the engine's statement of the problem.
MEETS_BELOW = 1e-9
RELAXED_BY = 1e-7
CANNOT_ABOVE = 1.0
SAME_T = 1e-6
SAME_MASS = 1e-6

# A departure is sought up to here; beyond 1 its size is not compared.
T_MOST = 50.0
# HiGHS takes no smaller tolerance; rows are scaled so that it means kg per kg of base.
TOLERANCE = 1e-10

# Enough for a median; the long run need not time them all.
MOST_TIMED = 200

AT_LEAST = {"windows": 300, "targets": 100}


class Blend:
    """Totals of base and candidates as rows over (1, q), for a base of 1 kg."""

    def __init__(self, problem):
        base, candidates = problem["base"], problem["candidates"]
        self.names = [c["name"] for c in candidates]
        self.scale = base["water"] + base["dry"]
        if self.scale <= 0:
            raise ValueError(f"problem {problem['id']}: the base weighs nothing")

        def row(fixed, each):
            return np.array([fixed / self.scale, *(each(c) for c in candidates)])

        self.water = row(base["water"], lambda c: c["water"])
        self.dry = row(base["dry"], lambda c: 1 - c["water"])
        self.carbon = row(base["carbon"], lambda c: (1 - c["water"]) * c["carbon"])
        self.nitrogen = row(base["nitrogen"], lambda c: (1 - c["water"]) * c["nitrogen"])
        self.ash = row(base["ash"], lambda c: (1 - c["water"]) * c["ash"])
        self.litres = row(base["litres"], lambda c: 1000 / c["density"])
        self.bounds = [
            (0, None if c["stock_kg"] is None else c["stock_kg"] / self.scale)
            for c in candidates
        ]

    def rows_at(self, problem, t):
        """Rows whose product with (1, q) must be at most 0 for a departure of t."""
        windows = problem["windows"]
        w_lo, w_hi, w_warn_lo, w_warn_hi = windows["water"]
        n_lo, n_hi, n_warn_lo, n_warn_hi = windows["cn"]
        air, air_warn = windows["air"]
        wet = self.water + self.dry
        solids = self.water + (self.dry - self.ash) / ORGANIC_KG_PER_L + self.ash / ASH_KG_PER_L
        free = air - t * (air - air_warn)
        rows = np.array([
            self.water - (w_hi + t * (w_warn_hi - w_hi)) * wet,
            (w_lo - t * (w_lo - w_warn_lo)) * wet - self.water,
            self.carbon - (n_hi + t * (n_warn_hi - n_hi)) * self.nitrogen,
            (n_lo - t * (n_lo - n_warn_lo)) * self.nitrogen - self.carbon,
            solids - (1 - free) * problem["packing"] * self.litres,
        ])
        return scaled(rows)

    def least_mass(self, rows, equal=False):
        """The smallest added mass that keeps the rows, or None when none does."""
        if not self.names:
            kept = np.abs(rows[:, 0]) if equal else rows[:, 0]
            return (0.0, {}) if np.all(kept <= TOLERANCE) else None
        sides = {"A_eq": rows[:, 1:], "b_eq": -rows[:, 0]} if equal else {
            "A_ub": rows[:, 1:], "b_ub": -rows[:, 0]}
        for presolve in (True, False):
            found = linprog(
                np.ones(len(self.names)), bounds=self.bounds, method="highs",
                options={
                    "presolve": presolve,
                    "primal_feasibility_tolerance": TOLERANCE,
                    "dual_feasibility_tolerance": TOLERANCE,
                },
                **sides,
            )
            # HiGHS sometimes gives up on a point right at the edge with its presolve on.
            if found.status in (0, 2):
                break
        if found.status == 2:
            return None
        if found.status != 0:
            raise ArithmeticError(f"HiGHS: {found.message}")
        kg = {name: q * self.scale for name, q in zip(self.names, found.x)}
        return found.fun * self.scale, kg

    def with_amounts(self, kg):
        return np.array([1.0, *(kg.get(name, 0.0) / self.scale for name in self.names)])


def scaled(rows):
    """Each row with a largest entry of 1, so that one tolerance fits all."""
    size = np.abs(rows).max(axis=1, keepdims=True)
    return rows / np.where(size > 0, size, 1.0)


def least_departure(blend, problem):
    """The smallest t at which the windows can be kept, by bisection."""
    def feasible(t):
        return blend.least_mass(blend.rows_at(problem, t)) is not None

    if feasible(0.0):
        return 0.0
    if not feasible(T_MOST):
        return T_MOST
    low, high = 0.0, T_MOST
    while high - low > 1e-10:
        middle = (low + high) / 2
        low, high = (low, middle) if feasible(middle) else (middle, high)
    return high


def outcome_of(t):
    if t <= MEETS_BELOW:
        return "meets"
    return "compromise" if t <= CANNOT_ABOVE else "cannot"


def amounts_wrong(blend, result, problem):
    """What is amiss with the amounts that the engine gives, in words."""
    kg = result["kg"]
    unknown = sorted(set(kg) - set(blend.names))
    if unknown:
        return [f"amounts of {', '.join(unknown)}, which are no candidates"]
    wrong = []
    for candidate in problem["candidates"]:
        q, stock = kg.get(candidate["name"], 0.0), candidate["stock_kg"]
        if q < 0 or (stock is not None and q > stock * (1 + 1e-9) + 1e-9):
            wrong.append(f"{q} kg of {candidate['name']}, stock {stock}")
    if not near(sum(kg.values()), result["mass"], blend.scale):
        wrong.append(f"amounts add up to {sum(kg.values())}, mass says {result['mass']}")
    return wrong


def near(a, b, scale):
    """Equal to a millionth; a millionth of the base is the least that counts."""
    return abs(a - b) <= SAME_MASS * max(abs(a), abs(b), scale * 1e-3)


def least_score(blend, problem, least):
    """The smallest t + mass / base mass over t from the least departure to 1, by a grid and its refinement."""
    def score(t):
        best = blend.least_mass(blend.rows_at(problem, t + (RELAXED_BY if t > 0 else 0)))
        return np.inf if best is None else t + best[0] / blend.scale

    low, high = least, 1.0
    for _ in range(9):
        grid = np.linspace(low, high, 13)
        scores = [score(t) for t in grid]
        at = int(np.argmin(scores))
        low, high = grid[max(at - 1, 0)], grid[min(at + 1, len(grid) - 1)]
    return min(scores)


def compare_windows(problem):
    blend, result = Blend(problem), problem["result"]
    ours = least_departure(blend, problem)
    if abs(ours - result["t_least"]) > SAME_T and min(ours, result["t_least"]) <= CANNOT_ABOVE:
        return [f"least t {result['t_least']}, here {ours}"]
    if (ours > CANNOT_ABOVE) != (result["outcome"] == "cannot"):
        return [f"outcome {result['outcome']}, here least t {ours}"]
    if ours > CANNOT_ABOVE:
        return []
    wrong = amounts_wrong(blend, result, problem)
    if outcome_of(result["t"]) != result["outcome"]:
        wrong.append(f"outcome {result['outcome']} at t {result['t']}")
    best = least_score(blend, problem, ours)
    if abs(best - result["score"]) > SAME_T:
        wrong.append(f"score {result['score']}, here {best}")
    rows = blend.rows_at(problem, result["t"] + RELAXED_BY)
    worst = float((rows @ blend.with_amounts(result["kg"])).max())
    if worst > SAME_T:
        wrong.append(f"the amounts break a window at t {result['t']} by {worst}")
    return wrong


def target_rows(blend, targets):
    """Rows whose product with (1, q) must be 0."""
    wanted = [blend.water - targets["water"] * (blend.water + blend.dry)]
    if "cn" in targets:
        wanted.append(blend.carbon - targets["cn"] * blend.nitrogen)
    return scaled(np.array(wanted))


def compare_targets(problem):
    blend, result = Blend(problem), problem["result"]
    rows = target_rows(blend, problem["targets"])
    best = blend.least_mass(rows, equal=True)
    ours = "cannot" if best is None else "meets"
    if ours != result["outcome"]:
        return [f"outcome {result['outcome']}, here {ours}"]
    if best is None:
        return []
    wrong = amounts_wrong(blend, result, problem)
    if not near(best[0], result["mass"], blend.scale):
        wrong.append(f"mass {result['mass']}, here {best[0]}")
    worst = float(np.abs(rows @ blend.with_amounts(result["kg"])).max())
    if worst > SAME_T:
        wrong.append(f"the amounts miss a target by {worst}")
    return wrong


def solve_again(problem):
    """The problem from its statement to its amounts, for the clock."""
    blend = Blend(problem)
    if "windows" in problem:
        timing.windows(blend, problem, least_departure, RELAXED_BY)
    else:
        blend.least_mass(target_rows(blend, problem["targets"]), equal=True)


def problem_lines(arguments):
    if arguments.lines:
        with open(arguments.lines, encoding="utf-8") as file:
            return file.read().splitlines()
    command = ["cargo", "run", "--release", "--quiet", "-p", "engine",
               "--example", "dose_problems", "--", str(arguments.count), str(arguments.seed)]
    return subprocess.run(command, check=True, text=True, stdout=subprocess.PIPE).stdout.splitlines()


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("count", type=int, help="how many problems the engine is asked for")
    parser.add_argument("seed", type=int)
    parser.add_argument("--lines", help="read the problems from a file instead")
    arguments = parser.parse_args()

    compared = {"windows": 0, "targets": 0}
    outcomes, differ = {}, 0
    gaps, times = [], {"windows": [], "targets": []}
    for line in problem_lines(arguments):
        problem = json.loads(line)
        kind = "windows" if "windows" in problem else "targets"
        wrong = (compare_windows if kind == "windows" else compare_targets)(problem)
        compared[kind] += 1
        seen = (kind, problem["result"]["outcome"])
        outcomes[seen] = outcomes.get(seen, 0) + 1
        if kind == "windows" and problem["result"]["outcome"] != "cannot":
            amiss, gap = handfuls.compare(Blend(problem), problem)
            wrong += amiss
            gaps += [gap] if gap else []
        if len(problem["candidates"]) == timing.INGREDIENTS and len(times[kind]) < MOST_TIMED:
            theirs = timing.least_us(lambda: solve_again(problem))
            times[kind].append((problem["result"]["us"], theirs))
        if wrong:
            differ += 1
            print(f"{kind} {problem['id']}: {'; '.join(wrong)}")

    for (kind, outcome), count in sorted(outcomes.items()):
        print(f"{kind}: {count} {outcome}")
    print(handfuls.told(gaps))
    for kind, pairs in times.items():
        print(timing.told(kind, pairs))
    few = [f"{compared[kind]} {kind}, at least {least}"
           for kind, least in AT_LEAST.items() if compared[kind] < least]
    for line in few:
        print(f"too few problems: {line}")
    print(f"{sum(compared.values())} compared, {differ} differ")
    return 1 if differ or few else 0


if __name__ == "__main__":
    sys.exit(main())
