"""The batch in NumPy, all members at once, in two ways of stepping.

`hour`: RK4 with 24 base steps a day, each cut into n = floor((l1 + l2) h / margin) + 1 parts, l1 and l2 the rates at
which core and shell lose heat, and n of 8 or more while a node is near the freezing span. Members of like n (1, 2, 3,
4, then powers of two) are stepped together: all by the largest n would cost more.

`Exponential`: the engine's own fast mode, from the head of `step.rs`, but for its second go at a step in which a
node passes an edge of the freezing span or a warm core takes off. One set of rates an hour, for all members alike.
"""

import time

import numpy as np
from equations import CORE, FREEZING, KEPT, MOVING, SPAN
from solvers import many_per20, many_rates, many_steeper

HOUR = 1 / 24
# Members, as a share of all, below which a group is not worth its calls.
LEAST_GROUP = 0.03
RESTART, LITTLE = 6, 21.0


def parts(y, tell, margin):
    """Parts of an hour for each member."""
    g, flow, inside, loss, c1, c2 = tell[:6]
    slope = inside * 4098 / (y[0] + 237.3) ** 2 * (1 + inside / 0.622)
    rate = (g + flow * (1.006e-3 + 2.4 * slope)) / c1 + (g + loss) / c2
    n = np.floor(rate * HOUR / margin).astype(int) + 1
    near = ((y[:2] > -2.6) & (y[:2] < 0.6)).any(axis=0)
    n = np.where(near, np.maximum(n, 8), n)
    return np.where(n <= 4, n, 2 ** np.ceil(np.log2(n)).astype(int))


def hour(y, p, per, k, v, now, then, settled, margin):
    """One hour of all members."""
    change = then - now
    first, tell = many_rates(y, p, per, k, v, now[0], now[1], now[2], now[3], settled[0])
    n = parts(y, tell, margin)
    first = np.array(first[:MOVING])
    kinds, counts = np.unique(n, return_counts=True)
    if len(kinds) > 1:
        # A handful goes along with the next finer ones.
        for kind, count, next_kind in zip(kinds, counts, kinds[1:]):
            if count < LEAST_GROUP * y.shape[1]:
                n[n == kind] = next_kind
        kinds = np.unique(n)
    if len(kinds) == 1:
        return passed(y, first, p, per, k, v, now, change, settled, int(kinds[0]))
    out = np.empty_like(y)
    for kind in kinds:
        at = np.flatnonzero(n == kind)
        out[:, at] = passed(
            y[:, at], first[:, at], p[:, at], per[at], k[:, at], v, now[:, at], change[:, at], settled, int(kind)
        )
    return out


def passed(y, first, p, per, k, v, now, change, settled, n):
    h = HOUR / n

    def slope(y, part):
        d = now[:3] + change[:3] * part
        s = settled[0] + (settled[1] - settled[0]) * part
        return np.array(many_rates(y, p, per, k, v, d[0], d[1], d[2], now[3], s)[0][:MOVING])

    for i in range(n):
        k1 = first if i == 0 else slope(y, i / n)
        k2 = slope(y + k1 * (h / 2), (i + 0.5) / n)
        k3 = slope(y + k2 * (h / 2), (i + 0.5) / n)
        k4 = slope(y + k3 * h, (i + 1) / n)
        y = y + (k1 + 2 * (k2 + k3) + k4) * (h / 6)
    return y


class Exponential:
    """What one step leaves for the next."""

    def __init__(self):
        self.h = None

    def hour(self, y, p, per, k, v, now, then, settled, finer):
        n = RESTART if self.h is None else finer
        change = then - now
        at, s = now, settled[0]
        for i in range(1, n + 1):
            to = now + change * (i / n)
            y = self.step(y, p, per, k, v, at, to, s, HOUR / n)
            at, s = to, settled[0] + (settled[1] - settled[0]) * (i / n)
        return y

    def step(self, y, p, per, k, v, now, to, settled, h):
        t, u = y[0], y[1]
        r, tell = many_rates(y, p, per, k, v, now[0], now[1], now[2], now[3], settled)
        g, flow, inside, loss, c1, c2, free, latent, g_t, to_core, to_shell = tell
        cold, tn, to_best, condensed = p[5], p[6], p[7], p[14]
        w = y[9]
        share = w / (free / 12 + w)
        damp = flow * inside * 4098 / (t + 237.3) ** 2 * (1 + inside / 0.622) * share * share
        pace = r[21] / (g_t + 1e-300)
        sensible = 1.006e-3 * flow
        j = (
            (pace * CORE * many_steeper(t, per, cold, tn, to_best) - sensible - latent * damp - g, g),
            (
                g + 0.5 * condensed * latent * damp,
                pace * (1 - CORE) * many_steeper(u, per, cold, tn, to_best) - g - loss,
            ),
        )
        flux, felt, outside = [to_core, to_shell], (c1, c2), (sensible, loss)
        rates = np.array(r[2:MOVING])
        y = y.copy()
        carried = [0.0, 0.0]
        if self.h is not None:
            y[2:] += rates * (0.5 * self.h) + self.open
            off = []
            for i in (0, 1):
                missed = flux[i] - self.flux[i] - self.along(self.j, i) - self.forced[i]
                each = self.h / felt[i]
                off.append(missed * each / (2 - self.j[i][i] * each * (2 / 3)))
            before = y[:2].copy()
            self.settle(y, off, felt)
            off = y[:2] - before
            self.moved = self.moved + off
            for i in (0, 1):
                flux[i] = flux[i] + j[i][0] * off[0] + j[i][1] * off[1]
                known = self.along(j, i) + outside[i] * (now[i] - self.outside[i])
                carried[i] = (flux[i] - self.flux[i] - known) * (h / self.h)
        forced = [outside[i] * (to[i] - now[i]) + carried[i] for i in (0, 1)]
        start = y[:2].copy()
        self.settle(y, warmed(flux, j, felt, forced, h), felt)
        on = 0.0 if self.h is None else h / self.h
        new, old = h * (1 + 0.5 * on), -0.5 * on * h
        past = self.rates * old if on else 0.0
        y[2:] += rates * new + past
        self.open = rates * (0.5 * h - new) - past
        self.rates, self.flux, self.j, self.forced = rates, flux, j, forced
        self.moved, self.outside, self.h = y[:2] - start, now[:2], h
        return y

    def along(self, j, i):
        return j[i][0] * self.moved[0] + j[i][1] * self.moved[1]

    @staticmethod
    def settle(y, moved, felt):
        """Gives both nodes their heat; in and below the freezing span ice counts too."""
        for i, part in ((0, CORE), (1, 1 - CORE)):
            t, w = y[i], y[9] * part
            if t.min() > 0 and (t + moved[i]).min() > 0:
                y[i] = t + moved[i]
                continue
            plain = felt[i] - np.where((t >= -SPAN) & (t < 0), FREEZING / SPAN * w, 0)
            heat = plain * t + w * FREEZING * np.clip(t / SPAN, -1, 0) + moved[i] * felt[i]
            thawing = heat / (plain + FREEZING / SPAN * w)
            below = np.where(thawing < -SPAN, (heat + FREEZING * w) / plain, thawing)
            y[i] = np.where(heat < 0, below, heat / plain)


def warmed(flux, j, felt, forced, h):
    """Both nodes' change: the exponential of the heat block on the flux, its second function on the forcing."""
    per0, per1 = h / felt[0], h / felt[1]
    a, b, c, d = j[0][0] * per0, j[0][1] * per0, j[1][0] * per1, j[1][1] * per1
    middle, half = (a + d) / 2, (a - d) / 2
    spread = np.maximum(np.sqrt(half * half + b * c), 1e-6)
    z1, z2 = middle + spread, middle - spread
    z1 = np.where(np.abs(z1) < 1e-3, 1e-3, z1)
    f1, f2 = np.expm1(z1) / z1, np.expm1(z2) / z2
    g1, g2 = (f1 - 1) / z1, (f2 - 1) / z2
    df, dg = (f2 - f1) / (z2 - z1), (g2 - g1) / (z2 - z1)
    u0, u1, w0, w1 = flux[0] * per0, flux[1] * per1, forced[0] * per0, forced[1] * per1
    a, d = a - z1, d - z1
    return (
        f1 * u0 + df * (a * u0 + b * u1) + g1 * w0 + dg * (a * w0 + b * w1),
        f1 * u1 + df * (c * u0 + d * u1) + g1 * w1 + dg * (c * w0 + d * w1),
    )


def score(cases, margin, count):
    """Worst core over the scored members, K, and CPU µs a member-day, over the first `count` members.

    By RK4, or by the exponential step if there is no margin.
    """
    p = np.array([cases.of(m) for m in range(count)]).T.copy()
    batches = [cases.batch(m) for m in range(count)]
    per = many_per20(np.array([b.tn for b in batches]), np.array([b.to for b in batches]))
    state = np.array([cases.start(m) for m in range(count)])
    drivers = np.ascontiguousarray(cases.drivers[:count].transpose(1, 2, 0))
    scored = len(cases.truth)
    worst, took, put_in = 0.0, 0.0, 1e-3
    with np.errstate(all="ignore"):
        for a, b, turned in cases.spans:
            for deed in cases.deeds.get(a, []):
                state = np.array([batch.do(s, deed) for batch, s in zip(batches, state)])
                put_in += sum(deed.get(n, 0) for n in ("water", "quick", "cellulose", "lignin", "ash"))
            finer = int(min(max(np.ceil(LITTLE * cases.head["vessel"]["surface"] / put_in), 1), 4))
            exponential = Exponential()
            k = np.array([[batch.kept[n] for n in KEPT] for batch in batches]).T.copy()
            y = state[:, :MOVING].T.copy()
            for at in range(a, b):
                settled = [1 - np.exp(-max(0, h - turned) / 24 / 4) for h in (at, at + 1)]
                clock = time.process_time()
                args = (y, p, per, k, cases.vessel, drivers[at], drivers[at + 1], settled)
                y = hour(*args, margin) if margin else exponential.hour(*args, finer)
                took += time.process_time() - clock
                worst = max(worst, np.abs(y[0, :scored] - cases.truth[:, at + 1, 0]).max())
            state[:, :MOVING] = y.T
    if not np.isfinite(state).all():
        return np.inf, np.inf
    return worst, took * 1e6 / (count * cases.hours / 24)
