"""Scores the engine's forecasts a second time, with scoringrules, NumPy and SciPy.

CRPS by the pairwise form of scoringrules; the share below what came counted by
hand; windows by NumPy's linear quantiles; the normal distribution by SciPy.
"""

import argparse
import json
import subprocess
import sys

import numpy as np
import scoringrules
from scipy.stats import norm

AT_LEAST = 300


def wrong_with(case):
    members, came = np.array(case["members"]), case["came"]
    wrong = []

    def held(name, theirs, ours, tolerance):
        if not abs(theirs - ours) <= tolerance:
            wrong.append(f"{name} {ours}, here {theirs}")

    theirs = float(scoringrules.crps_ensemble(came, members, estimator="nrg"))
    held("crps", theirs, case["crps"], 1e-9 * max(1.0, abs(theirs)) + 1e-9)
    below, same = int((members < came).sum()), int((members == came).sum())
    pit = (below + case["u"] * (same + 1)) / (len(members) + 1)
    held("pit", pit, case["pit"], 1e-12)
    for share, covered in zip((0.5, 0.8, 0.9), case["covered"]):
        low, high = np.quantile(members, [0.5 - share / 2, 0.5 + share / 2])
        # On the very edge rounding decides.
        near = min(abs(low - came), abs(high - came)) < 1e-9
        if not near and covered != (low <= came <= high):
            wrong.append(f"window of {share}: {covered}, here {low} to {high}")
    below = norm.cdf(case["z"])
    held("normal share", below, case["below"], 3e-7 * min(below, 1.0))
    held("normal quantile", norm.ppf(case["u"]), case["quantile"], 2e-6)
    return wrong


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("count", type=int, nargs="?", default=500)
    parser.add_argument("seed", type=int, nargs="?", default=1)
    arguments = parser.parse_args()
    command = ["cargo", "run", "--release", "--quiet", "-p", "engine", "--example", "scores",
               "--", str(arguments.count), str(arguments.seed)]
    lines = subprocess.run(command, check=True, text=True, stdout=subprocess.PIPE).stdout
    cases = [json.loads(line) for line in lines.splitlines()]
    differ = 0
    for case in cases:
        wrong = wrong_with(case)
        if wrong:
            differ += 1
            print(f"forecast {case['id']}: {'; '.join(wrong)}")
    pits = [case["pit"] for case in cases if len(case["members"]) > 20]
    if len(cases) < AT_LEAST:
        print(f"too few forecasts: {len(cases)}, at least {AT_LEAST}")
        return 1
    counts, _ = np.histogram(pits, bins=10, range=(0, 1))
    chi = float(((counts - len(pits) / 10) ** 2 / (len(pits) / 10)).sum())
    print(f"scores: {len(cases)} compared, {differ} differ; PIT of right forecasts {counts.tolist()}, "
          f"chi-square {chi:.1f} (27.9 is one in a thousand)")
    return 1 if differ or chi > 27.9 else 0


if __name__ == "__main__":
    sys.exit(main())
