"""Other solvers on the batch's equations, each timed by the CPU and without its deeds.

A solver starts anew at every feed and turning; between them air and sun are straight lines from hour to hour.
What a feed or a turning does to a state is `batch.py`'s; that is never in a time given here.
"""

import ctypes
import json
import time
import warnings
from itertools import pairwise
from pathlib import Path

import numba
import numpy as np
from batch import MATTER, Batch
from equations import KEPT, MANY, MOVING, PARAMS, PLAIN, VESSEL, compiled, made
from scipy.integrate import odeint

WIDTH = 2 + len(MATTER)
STEPS = 5_000_000

plain_rates, plain_per20, _ = made(PLAIN)
many_rates, many_per20, many_steeper = made(MANY)
fast_rates, _, _ = made(compiled(numba.njit), numba.njit)


class Cases:
    """The members that the engine wrote."""

    def __init__(self, folder, head):
        self.head = json.loads(head)
        read = lambda name: np.fromfile(Path(folder) / name, dtype="<f8")
        self.params = read("params.f64").reshape(-1, len(self.head["params"]))
        self.drivers = read("drivers.f64").reshape(len(self.params), -1, 4)
        self.names = self.head["names"]
        assert self.names[2:WIDTH] == MATTER, "the state has other quantities than the oracle knows"
        self.truth = read("states.f64").reshape(self.head["scored"], -1, len(self.names))
        self.hours = self.drivers.shape[1] - 1
        self.vessel = tuple(self.head["vessel"][n] for n in VESSEL)
        self.deeds = {}
        for deed in self.head["deeds"]:
            if deed["hour"] < self.hours:
                self.deeds.setdefault(deed["hour"], []).append(deed)
        # (from, to, hour of the last turning)
        marks = [*sorted({0, *self.deeds}), self.hours]
        turned, self.spans = 0, []
        for a, b in pairwise(marks):
            if any(d["kind"] == "turn" for d in self.deeds.get(a, [])):
                turned = a
            self.spans.append((a, b, turned))

    def batch(self, m):
        """Deeds of a member, from an empty vessel."""
        batch = Batch({"params": dict(zip(self.head["params"], self.params[m])), "vessel": self.head["vessel"]})
        batch.kept = dict(zip(self.names[WIDTH:], self.truth[0, 0, WIDTH:]))
        return batch

    def start(self, m):
        """State of an empty vessel, as warm as its first day's air."""
        state = self.truth[0, 0, :WIDTH].copy()
        state[:2] = self.truth[m, 0, :2] if m < len(self.truth) else self.drivers[m, :24, 0].mean()
        return state

    def of(self, m):
        """Parameters in the order of the equations."""
        at = [self.head["params"].index(n) for n in PARAMS]
        return tuple(self.params[m, at].tolist())

    def table(self, m, span):
        """Air, sol-air, humidity, rain and settling at each hour of a span."""
        a, b, turned = span
        since = np.maximum(0.0, np.arange(a, b + 1) - turned) / 24
        return np.column_stack([self.drivers[m, a : b + 1], 1 - np.exp(-since / 4)])


def drive(rates, y, t, table, p, per, k, v):
    at = int(t * 24)
    at = min(max(at, 0), len(table) - 2)
    part = t * 24 - at
    now, then = table[at], table[at + 1]
    return rates(
        y, p, per, k, v,
        now[0] + (then[0] - now[0]) * part, now[1] + (then[1] - now[1]) * part,
        now[2] + (then[2] - now[2]) * part, now[3], now[4] + (then[4] - now[4]) * part,
    )[0]  # fmt: skip


def plain_slope(y, t, table, p, per, k, v):
    """In plain Python, on lists: NumPy's single numbers would be slower."""
    return drive(plain_rates, y.tolist(), t, table, p, per, k, v)[: len(y)]


fast_drive = numba.njit(drive)


@numba.njit
def fast_slope(y, t, table, p, per, k, v):
    out = np.empty(len(y))
    r = fast_drive(fast_rates, y, t, table, p, per, k, v)
    for i in range(len(y)):
        out[i] = r[i]
    return out


P, K = len(PARAMS), len(KEPT)


@numba.cfunc(
    numba.types.void(
        numba.types.double,
        numba.types.CPointer(numba.types.double),
        numba.types.CPointer(numba.types.double),
        numba.types.CPointer(numba.types.double),
    )
)
def c_slope(t, y, dy, data):
    head = numba.carray(data, 3 + P + K + 4)
    rows, width = int(head[0]), int(head[1])
    whole = numba.carray(data, 3 + P + K + 4 + 5 * rows)
    table = whole[3 + P + K + 4 :].reshape((rows, 5))
    p = (
        head[3], head[4], head[5], head[6], head[7], head[8], head[9], head[10], head[11], head[12], head[13],
        head[14], head[15], head[16], head[17], head[18], head[19], head[20],
    )  # fmt: skip
    k = (head[21], head[22], head[23], head[24], head[25])
    v = (head[26], head[27], head[28], head[29])
    r = fast_drive(fast_rates, numba.carray(y, width), t, table, p, head[2], k, v)
    for i in range(width):
        dy[i] = r[i]


class Odeint:
    """SciPy's LSODA through `odeint`, which costs less around each call than `solve_ivp`."""

    def __init__(self, slope, listed):
        self.slope, self.listed = slope, listed

    def __call__(self, y, t, table, p, per, k, v, rtol, atol):
        table = table.tolist() if self.listed else table
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            clock = time.process_time()
            out, info = odeint(
                self.slope, y, t, args=(table, p, per, k, v), rtol=rtol, atol=atol, mxstep=STEPS, full_output=True
            )
            took = time.process_time() - clock
        return (out if info["message"] == "Integration successful." else None), took, int(info["nfe"][-1])


class Whole:
    """LSODA in C++ (the one that numbalsoda ships), called once a span: no Python between two steps."""

    def __init__(self, library):
        self.call = ctypes.CDLL(str(library)).lsoda_wrapper
        real, pointer, whole = ctypes.c_double, ctypes.c_void_p, ctypes.c_int
        self.call.argtypes = [
            pointer, whole, pointer, pointer, whole, pointer, pointer, real, real, whole, pointer,
        ]  # fmt: skip
        self.call.restype = None

    def __call__(self, y, t, table, p, per, k, v, rtol, atol):
        data = np.concatenate([[len(table), len(y), per], p, k, v, table.ravel()])
        out, done = np.empty((len(t), len(y))), ctypes.c_int(0)
        y = np.ascontiguousarray(y)
        clock = time.process_time()
        self.call(
            c_slope.address, len(y), y.ctypes.data, data.ctypes.data, len(t), t.ctypes.data, out.ctypes.data,
            rtol, atol, STEPS, ctypes.byref(done),
        )  # fmt: skip
        return (out if done.value == 1 else None), time.process_time() - clock, 0


def through(cases, m, solve, width, rtol, atol):
    """Core at every hour, CPU seconds, calls of the right-hand side; None where the solver gave up."""
    batch, state, p = cases.batch(m), cases.start(m), cases.of(m)
    per = plain_per20(batch.tn, batch.to)
    core, took, calls = [state[0]], 0.0, 0
    for span in cases.spans:
        for deed in cases.deeds.get(span[0], []):
            state = batch.do(state, deed)
        k = tuple(float(batch.kept[n]) for n in KEPT)
        t = np.arange(span[1] - span[0] + 1) / 24
        out, seconds, n = solve(state[:width], t, cases.table(m, span), p, per, k, cases.vessel, rtol, atol)
        if out is None or not np.isfinite(out).all():
            return None
        took, calls = took + seconds, calls + n
        core.extend(out[1:, 0])
        state = state.copy()
        state[:width] = out[-1]
    return np.array(core), took, calls


def score(cases, solve, width, rtol, atol, members=None):
    """Worst core, K, over the members and hours; CPU µs and calls a member-day."""
    members = range(cases.head["scored"]) if members is None else members
    worst, took, calls = 0.0, 0.0, 0
    for m in members:
        run = through(cases, m, solve, width, rtol, atol)
        if run is None:
            return np.inf, np.inf, 0
        worst = max(worst, np.abs(run[0] - cases.truth[m, :, 0]).max())
        took, calls = took + run[1], calls + run[2]
    days = len(members) * cases.hours / 24
    return worst, took * 1e6 / days, calls / days


def agree(cases, count=400, seed=1):
    """Largest difference of each form from `batch.py` at random states, against the size of each rate."""
    random = np.random.default_rng(seed)
    worst = dict.fromkeys(("plain", "compiled", "many"), 0.0)
    for _ in range(count):
        m, hour = int(random.integers(len(cases.truth))), int(random.integers(1, cases.hours))
        row = cases.truth[m, hour]
        state = row[:WIDTH] * random.uniform(0.7, 1.3, WIDTH)
        state[:2] += random.uniform(-15, 30, 2)
        state[2 + MATTER.index("microbes")] = random.uniform(0.2, 1)
        state[2 + MATTER.index("clumped")] = random.uniform(0, 0.6)
        batch = cases.batch(m)
        batch.kept = dict(zip(cases.names[WIDTH:], row[WIDTH:]))
        outside = [*cases.drivers[m, hour, :3], random.choice([0.0, 2.0]), random.uniform(0, 1)]
        want = batch.slopes(state, *outside)[0]
        p, k, per = cases.of(m), tuple(float(batch.kept[n]) for n in KEPT), plain_per20(batch.tn, batch.to)
        table = np.array([outside, outside])
        args = (table, p, per, k, cases.vessel)
        got = {
            "plain": plain_slope(state, 0.0, table.tolist(), *args[1:]),
            "compiled": fast_slope(state, 0.0, *args),
            "many": [
                x[0]
                for x in many_rates(
                    state[:, None], [np.array([x]) for x in p], per, [np.array([x]) for x in k], cases.vessel, *outside
                )[0]
            ],
        }
        for name, values in got.items():
            off = np.abs(np.array(values) - want) / (1 + np.abs(want))
            worst[name] = max(worst[name], off.max())
    return worst
