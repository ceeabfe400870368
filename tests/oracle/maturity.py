"""Works out the intervals of seed counts a second time, with SciPy, and compares.

Wilson and Clopper-Pearson come from scipy.stats.binomtest. The interval of a ratio is found from the likelihood:
the shares that fit a ratio best by a bounded search, the ends by Brent's method where the score reaches the 95 %
point of chi-squared. How sure a ratio is comes from Jeffreys' beta posteriors and quadrature.
"""

import json
import subprocess
import sys

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar
from scipy.stats import beta, binomtest, chi2

SAME_SHARE = 1e-9
SAME_RATIO = 1e-4
SAME_CHANCE = 5e-3
AT_LEAST = 100


def score(ratio, x1, n1, x0, n0):
    """Chi-squared of a ratio of two shares."""
    most = min(1.0, 1.0 / ratio)

    def unlikely(p):
        def part(x, n, q):
            value = 0.0
            if x > 0:
                value -= x * np.log(q)
            if n > x:
                value -= (n - x) * np.log1p(-q)
            return value

        return part(x1, n1, ratio * p) + part(x0, n0, p)

    found = minimize_scalar(unlikely, bounds=(1e-12, most * (1 - 1e-12)), method="bounded",
                            options={"xatol": 1e-13})
    p = found.x
    variances = ((x1, n1, ratio * p), (x0, n0, p))
    return sum((x - n * q) ** 2 / max(n * q * (1 - q), 1e-300) for x, n, q in variances)


def ratio_ends(x1, n1, x0, n0):
    limit = chi2.ppf(0.95, 1)

    def beyond(log_ratio):
        return score(np.exp(log_ratio), x1, n1, x0, n0) - limit

    seen = np.log((x1 / n1) / (x0 / n0)) if x1 > 0 else None
    low = 0.0 if x1 == 0 else float(np.exp(brentq(beyond, seen - 8, seen)))
    start = seen if seen is not None else -12.0
    high = float(np.exp(brentq(beyond, start, 3.0)))
    return low, high


def sure(least, x1, n1, x0, n0):
    ours = beta(x1 + 0.5, n1 - x1 + 0.5)
    # In u, p = sin^2(u), the control has no pole at its ends.
    control = beta(x0 + 0.5, n0 - x0 + 0.5)

    def weight(u):
        p = np.sin(u) ** 2
        return control.pdf(p) * ours.sf(min(1.0, least * p)) * np.sin(2 * u)

    return quad(weight, 1e-9, np.pi / 2 - 1e-9, limit=200)[0]


def compare(case):
    x1, n1, x0, n0 = (case[k] for k in ("up", "sown", "control_up", "control_sown"))
    test = binomtest(x1, n1)
    wrong = []
    for kind in ("wilson", "exact"):
        theirs = test.proportion_ci(0.95, method=kind)
        if not np.allclose(case[kind], [theirs.low, theirs.high], rtol=0, atol=SAME_SHARE):
            wrong.append(f"{kind} {case[kind]}, here {theirs.low} to {theirs.high}")
    ends = ratio_ends(x1, n1, x0, n0)
    if not np.allclose(case["ratio"], ends, rtol=SAME_RATIO, atol=SAME_RATIO):
        wrong.append(f"ratio {case['ratio']}, here {ends}")
    for least, ours in zip(case["least"], case["at_least"]):
        theirs = sure(least, x1, n1, x0, n0)
        if abs(ours - theirs) > SAME_CHANCE:
            wrong.append(f"at least {least}: {ours}, here {theirs}")
    return wrong


def main():
    command = ["cargo", "run", "--release", "--quiet", "-p", "engine", "--example", "seed_counts"]
    if len(sys.argv) > 1:
        with open(sys.argv[1], encoding="utf-8") as file:
            lines = file.read().splitlines()
    else:
        lines = subprocess.run(command, check=True, text=True, stdout=subprocess.PIPE).stdout.splitlines()
    differ = 0
    for line in lines:
        case = json.loads(line)
        wrong = compare(case)
        if wrong:
            differ += 1
            print(f"{case['up']}/{case['sown']} against {case['control_up']}: {'; '.join(wrong)}")
    few = len(lines) < AT_LEAST
    if few:
        print(f"too few counts: {len(lines)}, at least {AT_LEAST}")
    print(f"{len(lines)} seed counts compared, {differ} differ")
    return 1 if differ or few else 0


if __name__ == "__main__":
    sys.exit(main())
