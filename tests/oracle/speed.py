"""The engine's speed beside other solvers, in one run, one core each, on the same equations and drivers.

`bash tests/oracle/speed` builds what is needed and writes the table of docs/speed.md and docs/pictures/cost.svg.
All times are CPU time, the least of some runs: the machine may be busy.
"""

import os
import platform
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import many
import numpy as np
import smoother
from picture import drawn
from solvers import MOVING, WIDTH, Cases, Odeint, Whole, agree, fast_slope, plain_slope, score

MEMBERS, SCORED, DAYS = 1000, 16, 60
LONG = 180
COUNTS = (100, 250, 500, 1000, 2000, 4000)
HORIZONS = (45, 90, 180, 360, 720)
RTOLS = [m * 10.0**-e for e in range(2, 9) for m in (1, 0.5, 0.2)][:-2]
FACTORS = (1, 1e-2)
MARGINS = (1.3, 1.1, 0.9, 0.6)
# Forms of the equations against each other, and solvers at 1e-9 against the reference at 1e-10, K.
SAME, TRUE = 1e-12, 1e-4
DOC, PICTURE = Path("docs/speed.md"), Path("docs/pictures/cost.svg")
BEGIN, END = "<!-- beside others: tests/oracle/speed writes from here -->", "<!-- to here -->"
EXAMPLE = Path(os.environ.get("CARGO_TARGET_DIR", "target")) / "release/examples/speed_cases"
ONE = dict(os.environ, RAYON_NUM_THREADS="1")


class Engine:
    """The engine with members drawn, waiting to be told to run; its own CPU clock is read (Linux)."""

    def __init__(self, mode, members, days):
        self.days = members * days
        command = [EXAMPLE, "run", mode, str(members), str(days)]
        self.child = subprocess.Popen(
            command, env=ONE, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
        )
        assert self.child.stdout.readline() == "ready\n", f"{command} did not start"
        # The kernel's number for the CPU clock of another process: see clock_getcpuclockid(3).
        self.clock = (~self.child.pid << 3) | 2

    def seconds(self, runs=5, enough=2.0):
        """Least of up to `runs` runs."""
        best, spent = np.inf, 0.0
        while runs > 0 and spent < enough:
            before = time.clock_gettime(self.clock)
            self.child.stdin.write("\n")
            assert self.child.stdout.readline() == "done\n", "the engine stopped"
            took = time.clock_gettime(self.clock) - before
            best, spent, runs = min(best, took), spent + took, runs - 1
        self.child.stdin.close()
        self.child.wait()
        return best

    def per_day(self):
        return self.seconds() * 1e6 / self.days


def loosest(cases, solve, least):
    """The cheapest setting whose worst core is no worse than `least` K: width, rtol, atol, error, µs.

    Cheapest by calls of the right-hand side where the solver counts them, else by time.
    """
    found = []
    for width in (MOVING, WIDTH):
        for factor in FACTORS:
            for rtol in RTOLS:
                error, us, calls = score(cases, solve, width, rtol, rtol * factor)
                if error <= least:
                    found.append((calls or us, us, width, rtol, rtol * factor, error))
                    break
    assert found, f"no tolerance reaches {least} K"
    _, us, width, rtol, atol, error = min(found)
    # Times of a scan are of one run each: the winner is timed again.
    us = min(us, *(score(cases, solve, width, rtol, atol)[1] for _ in range(2)))
    return width, rtol, atol, error, us


def growth(points):
    """Exponent of seconds ~ n^b; the start and slope of a straight line through the seconds, and its R²."""
    n, s = np.array(points, dtype=float).T
    exponent = np.polyfit(np.log(n), np.log(s), 1)[0]
    slope, start = np.polyfit(n, s, 1)
    r2 = 1 - ((s - start - slope * n) ** 2).sum() / ((s - s.mean()) ** 2).sum()
    return exponent, start, slope, r2


def said(value):
    """Three digits, no more than a clock on a busy machine can bear."""
    return f"{value:,.0f}" if value >= 100 else f"{value:.3g}"


def machine():
    try:
        lines = Path("/proc/cpuinfo").read_text().splitlines()
        return next(line.split(":", 1)[1].strip() for line in lines if line.startswith("model name"))
    except (OSError, StopIteration):
        return platform.processor() or "processor not known"


def commit():
    def git(*args):
        return subprocess.run(["git", *args], check=True, capture_output=True, text=True).stdout.strip()

    changed = git("status", "--porcelain", "--", "crates")
    return git("rev-parse", "--short", "HEAD") + (" with changes of its own in crates/" if changed else "")


def note(text):
    print(f"{time.process_time():6.0f} s of CPU: {text}", flush=True)


def measured(library):
    with tempfile.TemporaryDirectory() as folder:
        command = [EXAMPLE, "write", folder, str(MEMBERS), str(SCORED), str(DAYS)]
        head = subprocess.run(command, check=True, capture_output=True, text=True, env=ONE).stdout
        cases = Cases(folder, head)
    apart = agree(cases)
    assert max(apart.values()) <= SAME, f"forms of the equations differ: {apart}"
    ours_error = max(cases.head["errors"])
    note(f"equations agree: {apart}; our worst core {cases.head['errors']} K")

    fast = Engine("fast", MEMBERS, DAYS).per_day()
    portable = Engine("portable", 100, DAYS).per_day()
    reference = Engine("reference", SCORED, DAYS).per_day()
    note(f"ours {fast:.2f}, portable {portable:.2f}, reference {reference:.0f} µs")

    python, njit, whole = Odeint(plain_slope, True), Odeint(fast_slope, False), Whole(library)
    width, rtol, atol, error, njit_us = loosest(cases, njit, ours_error)
    python_us = min(score(cases, python, width, rtol, atol)[1] for _ in range(2))
    w2, rtol2, atol2, error2, whole_us = loosest(cases, whole, ours_error)
    note(f"LSODA {python_us:.0f}, compiled {njit_us:.0f}, without Python {whole_us:.0f} µs at {rtol:g}, {rtol2:g}")
    tight = [
        (name, score(cases, solve, MOVING, 1e-9, 1e-9, members))
        for name, solve, members in (
            ("SciPy LSODA, right-hand side in Python", python, range(1)),
            ("SciPy LSODA, right-hand side by Numba", njit, range(SCORED // 2)),
            ("LSODA with no Python in it", whole, range(SCORED)),
        )
    ]
    assert all(s[0] <= TRUE for _, s in tight), f"a solver at 1e-9 is not near the reference: {tight}"
    note(f"at 1e-9: {[(n, round(s[1])) for n, s in tight]}")
    margin = next(m for m in MARGINS if many.score(cases, m, SCORED)[0] <= ours_error)
    numpy_error, numpy_us = many.score(cases, margin, MEMBERS)
    same_error, same_us = min(many.score(cases, None, MEMBERS) for _ in range(2))
    note(f"NumPy {numpy_us:.0f} µs at margin {margin}, by our own step {same_us:.0f} µs, {same_error:.3f} K")
    learnt = Engine("learn", smoother.MEMBERS, smoother.DAYS).seconds()
    theirs = smoother.compared(EXAMPLE, ONE, same_us)
    note(f"learning {learnt:.3f} s, in NumPy {theirs}")

    def setting(width, rtol, atol):
        return f"rtol {rtol:g}, atol {atol:g}" + ("" if width == MOVING else ", totals too")

    rows = [
        ("ours, fast mode", "24 steps a day or more", ours_error, fast, ""),
        ("ours, without wide instructions", "the same", cases.head["errors"][0], portable, ""),
        ("SciPy LSODA, right-hand side in Python", setting(width, rtol, atol), error, python_us, "150"),
        ("SciPy LSODA, right-hand side by Numba", setting(width, rtol, atol), error, njit_us, "40"),
        ("LSODA with no Python in it", setting(w2, rtol2, atol2), error2, whole_us, "–"),
        (f"NumPy RK4, {MEMBERS:,} members at once", f"margin {margin:g}", numpy_error, numpy_us, "12"),
        (f"NumPy, our own step, {MEMBERS:,} at once", "the same", same_error, same_us, "–"),
    ]
    return rows, (reference, tight), (learnt, *theirs)


def curves():
    members = [(n, Engine("fast", n, LONG).seconds(3)) for n in COUNTS]
    note(f"members {members}")
    days = [(n, Engine("fast", MEMBERS, n).seconds(3)) for n in HORIZONS]
    note(f"days {days}")
    return members, days


def told(rows, tight, learning, members, days):
    fast = rows[0][3]
    out = [
        f"Commit {commit()}, {time.strftime('%-d %B %Y')}, {machine()}, load {os.getloadavg()[0]:.1f}.",
        "",
        "| solver | setting | worst core, K | µs a member-day | against ours | asked for |",
        "|---|---|---|---|---|---|",
    ]
    for name, setting, error, us, goal in rows:
        ratio = "1" if us == fast else said(us / fast)
        out.append(f"| {name} | {setting} | {error:.2g} | {said(us)} | {ratio} | {goal} |")
    reference, others = tight
    out += [
        "",
        "| tight | setting | worst core, K | µs a member-day | against ours |",
        "|---|---|---|---|---|",
        f"| ours, reference mode | 1e-9 | – | {said(reference)} | 1 |",
    ]
    for name, (error, us, _) in others:
        out.append(f"| {name} | rtol and atol 1e-9 | {error:.1g} | {said(us)} | {said(us / reference)} |")
    ours, readings, apart, theirs, algebra = learning
    out += [
        "",
        f"Learning from {readings} readings, {smoother.MEMBERS} members, 4 passes and a last run of {smoother.DAYS} days, "
        f"one core: ours {ours:.2f} s, NumPy and SciPy {said(theirs)} s by the engine's own step (of it {algebra:.2f} s "
        f"algebra), {said(theirs / ours)} times. One pass of both differs by {apart:.0e}.",
    ]
    out += ["", "![Cost against members and days](pictures/cost.svg)", ""]
    for name, points, per in (("members", members, LONG), ("days", days, MEMBERS)):
        exponent, start, slope, r2 = growth(points)
        out.append(
            f"- {name.capitalize()}, {points[0][0]:,} to {points[-1][0]:,}: a straight line of {start:.2f} s and "
            f"{slope / per * 1e6:.2f} µs a member-day has R² {r2:.4f}; the exponent is {exponent:.2f}."
        )
    return "\n".join(out)


def parts():
    """What stands in the page before and after the tables."""
    text = DOC.read_text()
    assert text.count(BEGIN) == text.count(END) == 1, f"{DOC} has lost its marks"
    return text.split(BEGIN)[0], text.split(END)[1]


def main():
    parts()
    rows, tight, learning = measured(Path(sys.argv[1]))
    members, days = curves()
    table = told(rows, tight, learning, members, days)
    print(table)
    PICTURE.parent.mkdir(exist_ok=True)
    lines = [growth(points)[1:3] for points in (members, days)]
    PICTURE.write_text(drawn((members, days), lines, LONG, MEMBERS))
    before, after = parts()
    DOC.write_text(f"{before}{BEGIN}\n{table}\n{END}{after}")


if __name__ == "__main__":
    main()
