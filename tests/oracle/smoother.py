"""Learning from readings in NumPy and SciPy: the same pass, and what all passes cost.

The pass is held against the engine's before anything is timed. Four passes and the last run are five runs of all
members to the horizon; what NumPy takes for a member-day by the engine's own step is measured by `many.py`.
"""

import json
import subprocess
import tempfile
import time
from pathlib import Path

import numpy as np
from scipy.linalg import cho_factor, cho_solve, cholesky

MEMBERS, DAYS = 250, 180
# Sums in another order, through a matrix whose condition is below 1e4 (seen).
SAME = 1e-9


def moved(z, y, data, noise, drawn, alpha):
    """One pass of ES-MDA (Emerick & Reynolds 2013, Comput. Geosci. 55:3-15): a row a parameter or a reading."""
    drawn = drawn - drawn.mean(axis=1, keepdims=True)
    off = data[:, None] + np.sqrt(alpha) * cholesky(noise, lower=True) @ drawn - y
    dy, dz = y - y.mean(axis=1, keepdims=True), z - z.mean(axis=1, keepdims=True)
    per = 1 / (z.shape[1] - 1)
    return z + per * dz @ dy.T @ cho_solve(cho_factor(per * dy @ dy.T + alpha * noise, lower=True), off)


def compared(example, environment, step_us):
    """Readings, and CPU seconds of all passes in NumPy and SciPy, of which seconds of algebra."""
    with tempfile.TemporaryDirectory() as folder:
        command = [example, "pass", folder, str(MEMBERS), str(DAYS)]
        out = subprocess.run(command, check=True, capture_output=True, text=True, env=environment).stdout
        head = json.loads(out)
        read = lambda name, rows: np.fromfile(Path(folder) / f"{name}.f64").reshape(-1, rows).T.copy()
        n = head["readings"]
        z, after = (read(name, np.fromfile(Path(folder) / f"{name}.f64").size // MEMBERS) for name in ("z", "after"))
        y, noise, drawn = (read(name, n) for name in ("y", "noise", "drawn"))
        data = read("data", 1)[0]
    passes = head["passes"]
    apart = np.abs(moved(z, y, data, noise, drawn, passes) - after).max()
    assert apart <= SAME, f"a pass of the smoother differs by {apart}"
    assert np.abs(after - z).max() > 0.1, "the readings of the smoother's check moved nobody"
    clock = time.process_time()
    for _ in range(passes):
        moved(z, y, data, noise, drawn, passes)
    algebra = time.process_time() - clock
    return n, apart, algebra + (passes + 1) * MEMBERS * DAYS * step_us * 1e-6, algebra
