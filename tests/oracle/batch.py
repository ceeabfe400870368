"""The batch's reference mode against SciPy: the same equations, written from the heads of the engine's files.

Reads what `cargo run --release -p engine --example batch_reference -- --cases` prints, integrates every hour
from the engine's own state by DOP853 at 1e-11, and compares the hour's end; then runs the whole case freely
from the start. Hours in which a branch of the equations changes (freezing span, drip, still air, 20 degrees,
open vents, settled water share, fill) are counted apart: there the answer hangs on where a step ends.
"""

import json
import math
import subprocess
import sys

import numpy as np
from scipy.integrate import solve_ivp

SMOOTH = 1e-6
FREE = 2e-6
# Order of the state here; the engine's names.
MATTER = (
    "quick cellulose lignin humus carbon n_organic n_mineral water microbes clumped acids carbon_out n_air "
    "n_drained water_made water_air water_drained lost oxygen heat_made heat_out"
).split()
KAPPA = np.array([0.46, 0.444, 0.60, 0.55])
O2 = np.array([1.35, 1.18, 1.6])
CORE = 0.6
FREEZING, SPAN = 0.334, 2.0


def sigma(x):
    return 1 / (1 + math.exp(-x))


class Batch:
    """One case: parameters, vessel, and what only deeds change."""

    def __init__(self, case):
        self.p = dict(case["params"])
        self.v = case["vessel"]
        self.kept = {}
        self.to = self.p["t_best"]
        self.tn = self.p["t_least"]
        self.tx = self.to + 14
        self.g20 = self.gamma(20.0)

    def gamma(self, t):
        if not self.tn < t < self.tx:
            return 0.0
        d = self.to - self.tn
        return (t - self.tx) * (t - self.tn) ** 2 / (
            d * (d * (t - self.to) - (self.to - self.tx) * (self.to + self.tn - 2 * t))
        )

    def g_t(self, t):
        warm = self.gamma(t) / self.g20
        if t >= 20:
            return warm
        a = self.p["cold_share"]
        return max(0.0, a * (1.066 ** (t - 20) - 1.21 ** (t - 60)) + (1 - a) * warm)

    def capacities(self, dry, water):
        c = 1.3e-3 * dry + 4.19e-3 * water
        return c * CORE + self.v["wall_core"], c * (1 - CORE) + self.v["wall_shell"]

    def slopes(self, state, air, sol_air, humidity, rain, settled):
        """d/dt of core, shell and matter; and which branch of each bent function is taken."""
        p, k = self.p, self.kept
        t1, t2 = state[0], state[1]
        m = dict(zip(MATTER, state[2:]))
        pools = np.array([m["quick"], m["cellulose"], m["lignin"], m["humus"]])
        om = pools.sum()
        dry, w = om + k["ash"], m["water"]
        share = w / (w + dry)
        lost_share = 1 - om / k["organic_in"]

        # Volume and pores.
        rho = k["dry_in"] / k["volume_in"]
        rho *= 1 + 1.2 * lost_share + 0.8 * max(0.0, share - 0.52) * (1 - 0.5 * lost_share)
        rho *= 1 + 0.1 * settled
        filled = w / 1000 + om / 1600 + k["ash"] / 2500
        volume = max(dry / rho, filled / 0.98)
        fas = 1 - filled / volume
        pores = (w / 1000) / (w / 1000 + fas * volume)

        # Limits.
        g_m, g_fas = sigma(17.684 * share - 7.0622), sigma(23.675 * fas - 3.4945)
        nitrogen = m["n_organic"] + m["n_mineral"]
        g_n = min(1.0, p["cn_critical"] * nitrogen / m["carbon"])
        of_core, of_shell = CORE * self.g_t(t1), (1 - CORE) * self.g_t(t2)
        g_t = of_core + of_shell

        # Air and oxygen.
        rise = max(0.0, t1 - air)
        opening = (fas - 0.05) / 0.35
        q_air = p["vent"] * (0.4 + 0.6 * math.sqrt(math.sqrt(rise**2 + 0.25) / 20))
        q_air *= min(max(opening, 0.03), 1.3) ** 1.5 * (volume / 0.09) ** (2 / 3)
        half = 2 * (1 + (pores / 0.55) ** 4)
        rate = np.array([p["k_r"], p["k_c"] * k["pieces"], p["k_l"]])
        pace = rate * pools[:3] * g_m * g_n * m["microbes"] * g_t
        aired = g_fas * (1 - m["clumped"])
        h = p["humified"]
        wanted = (1 - h) * aired * float(O2 @ pace)
        a = q_air * 1.33 / 100
        # a x^2 + (R + a K - 20.9 a) x - 20.9 a K = 0, by the quadratic formula for the positive root.
        b = wanted + a * half - 20.9 * a
        root = math.sqrt(b * b + 4 * a * a * 20.9 * half)
        x = (root - b) / (2 * a) if b < 0 else 2 * a * 20.9 * half / (root + b)
        g_o2 = x / (x + half)

        # Decay.
        in_air = aired * g_o2
        losses = pace * (in_air + np.array([0.2, 0.2, 0.0]) * m["clumped"])
        total = losses.sum()
        aerobic = pace.sum() * in_air
        humus_lost = 0.00012 * m["humus"]
        carbon_lost = (m["carbon"] / float(KAPPA @ pools)) * (
            float(KAPPA[:3] @ losses) - KAPPA[3] * h * total + KAPPA[3] * humus_lost
        )
        o2 = wanted * g_o2
        q = p["heat_o2"] * o2

        # Water.
        flow = 1.2 * q_air
        vapour_pressure = (0.75 + 0.25 * g_m) * 0.6108 * math.exp(17.27 * t1 / (t1 + 237.3))
        drier = 0.622 * vapour_pressure / (101.3 - vapour_pressure) - humidity
        free = flow * max(0.0, drier)
        vapour = free * w / (free / 12 + w)
        gone = vapour * (1 - p["condensed"])
        over = w - p["holds"] * om - 0.4 * k["ash"]
        drip = p["drain"] * max(0.0, over)
        made = 0.55 * (1 - h) * aerobic
        d_water = made + rain - gone - drip

        # Heat.
        latent = 2.501 - 0.002361 * t1
        filling = (volume / (self.v["litres"] / 1000)) ** (2 / 3)
        least, most = 0.15 ** (2 / 3), 1.2 ** (2 / 3)
        ua = p["ua"] * min(max(filling, least), most)
        # The engine writes (V/0.106)^(1/3) with V^(1/3) held above 0.3 of that of 90 L.
        third = max((volume / 0.09) ** (1 / 3), 0.3) * (0.09 / 0.106) ** (1 / 3)
        g = p["g_core"] / (third * math.sqrt(self.v["insulation"]))
        s = of_core / g_t if g_t > 0 else 0.0
        to_core = q * s - flow * 1.006e-3 * (t1 - air) - latent * vapour - g * (t1 - t2)
        to_shell = q * (1 - s) + g * (t1 - t2) + 0.5 * p["condensed"] * latent * vapour - ua * (t2 - sol_air)
        c1, c2 = self.capacities(dry, w)
        icy1, icy2 = -SPAN <= t1 < 0, -SPAN <= t2 < 0
        d_core = to_core / (c1 + icy1 * FREEZING / SPAN * CORE * w)
        d_shell = to_shell / (c2 + icy2 * FREEZING / SPAN * (1 - CORE) * w)

        # Clumps, acids, nitrogen.
        soggy = sigma((pores - 0.80) / 0.04)
        y = m["acids"] / dry
        ph = 8.3 - 3.6 * y / (y + 0.006)
        with_air = g_o2 * (1 - m["clumped"])
        d_acids = 0.25 * p["k_r"] * m["quick"] * g_t * g_m * (1 - with_air)
        d_acids -= 0.5 * m["acids"] * g_t * g_m * with_air
        pka = 0.09018 + 2729.92 / (t1 + 273.15)
        ammonia = 1 / (1 + 10 ** (pka - ph))
        r = 0.9 * ammonia * q_air / 5 * 2 * 10 ** (0.02 * (t1 - 40)) + 0.04 * g_t + 0.1 * m["clumped"] * g_t
        r *= p["n_loss"]
        n_air = m["n_mineral"] * r / (1 + r / 6)
        with_oxygen = in_air / (in_air + 0.2 * m["clumped"]) if in_air > 0 else 0.0
        bound = 0.30 / 9 * carbon_lost * with_oxygen
        bound *= m["n_mineral"] / (m["n_mineral"] + 1e-4 * om)
        freed = m["n_organic"] * carbon_lost / m["carbon"]
        n_drained = 0.7 * drip * m["n_mineral"] / w
        growth = 1.39 * m["microbes"] * (1 - m["microbes"]) * min(max(g_t, 0.05), 3.0) / p["lag"]
        d_om = humus_lost + (1 - h) * total
        carried = (4.19e-3 * d_water - 1.3e-3 * d_om) * (CORE * t1 + (1 - CORE) * t2)
        rates = [
            d_core, d_shell, -losses[0], -losses[1], -losses[2], h * total - humus_lost, -carbon_lost,
            bound - freed, freed - bound - n_air - n_drained, d_water, growth,
            p["clumping"] * soggy * (1 - m["clumped"]) - 0.05 * (1 - soggy) * m["clumped"], d_acids,
            carbon_lost, n_air, n_drained, made + rain, gone, drip, d_om, o2, q,
            q - to_core - to_shell - carried,
        ]  # fmt: skip
        branch = (
            icy1, icy2, t1 < -SPAN, t2 < -SPAN, t1 >= 20, t2 >= 20, share > 0.52, dry / rho > filled / 0.98,
            nitrogen * p["cn_critical"] < m["carbon"], t1 > air, opening > 0.03, opening > 1.3, drier > 0,
            over > 0, filling > least, filling > most, 0.05 < g_t, g_t < 3, t1 < self.tx, t2 < self.tx,
            t1 > self.tn, t2 > self.tn,
        )  # fmt: skip
        return np.array(rates), branch

    def stored(self, t, capacity, water):
        return capacity * t + water * FREEZING * min(0.0, max(-1.0, t / SPAN))

    def warmth(self, heat, capacity, water):
        if heat >= 0:
            return heat / capacity
        whole = water * FREEZING
        inside = heat / (capacity + whole / SPAN)
        return inside if inside >= -SPAN else (heat + whole) / capacity

    def do(self, state, deed):
        """What a deed makes of a state."""
        p, k = self.p, self.kept
        m = dict(zip(MATTER, state[2:]))
        dry_of = lambda: m["quick"] + m["cellulose"] + m["lignin"] + m["humus"] + k["ash"]
        shares = (CORE, 1 - CORE)
        heats = [
            self.stored(t, c, m["water"] * f)
            for t, c, f in zip(state[:2], self.capacities(dry_of(), m["water"]), shares)
        ]
        bring = 0.0
        nodes = None
        if deed["kind"] == "turn":
            m["clumped"] *= 0.85
            t = self.warmth(sum(heats), sum(self.capacities(dry_of(), m["water"])), m["water"])
            nodes = (t, t)
        elif deed["kind"] == "wet":
            m["water"] += deed["kg"]
            bring = self.stored(deed["temperature"], 4.19e-3 * deed["kg"], deed["kg"])
        elif deed["kind"] == "take":
            left = 1 - deed["share"]
            for name in "quick cellulose lignin humus carbon n_organic n_mineral water acids".split():
                m[name] *= left
            for name in "ash organic_in volume_in dry_in".split():
                k[name] *= left
            nodes = tuple(state[:2])
        else:
            solid = sum(deed[n] for n in ("quick", "cellulose", "lignin", "ash"))
            kg = solid + deed["water"]
            share = min(max(deed["water"] / kg + p["feed_wet"], 0.02), 0.97)
            dry, water = kg * (1 - share), kg * share
            organic = (solid - deed["ash"]) * dry / solid
            before = deed["quick"] / (solid - deed["ash"])
            after = min(max(before * p["feed_quick"], 0.0), 0.97)
            rest = (1 - after) / (1 - before) * dry / solid
            old_heat = 1.3e-3 * dry_of() + 4.19e-3 * m["water"]
            new_heat = 1.3e-3 * dry + 4.19e-3 * water
            m["microbes"] = max(0.2, m["microbes"] * (1 - 0.5 * new_heat / (new_heat + old_heat)))
            mass = dry_of() + m["water"]
            m["clumped"] *= mass / (mass + kg)
            new = deed["cellulose"] * rest
            k["pieces"] = (k["pieces"] * m["cellulose"] + deed["pieces"] * new) / (m["cellulose"] + new)
            m["quick"] += organic * after
            m["acids"] += 0.03 * organic * after
            m["cellulose"] += new
            m["lignin"] += deed["lignin"] * rest
            m["carbon"] += deed["carbon"] * dry / solid
            nitrogen = deed["nitrogen"] * p["feed_n"] * dry / solid
            m["n_organic"] += 0.98 * nitrogen
            m["n_mineral"] += 0.02 * nitrogen
            m["water"] += water
            k["ash"] += deed["ash"] * dry / solid
            k["organic_in"] += organic
            k["volume_in"] += dry / deed["dry_density"]
            k["dry_in"] += dry
            bring = self.stored(deed["temperature"], new_heat, water)
        if nodes is None:
            nodes = tuple(
                self.warmth(heat + bring * f, c, m["water"] * f)
                for heat, c, f in zip(heats, self.capacities(dry_of(), m["water"]), shares)
            )
        return np.array([*nodes, *(m[n] for n in MATTER)])


def line(values, at, share):
    return values[at] + (values[at + 1] - values[at]) * share


def check(case):
    names, width = case["names"], 2 + case["matter"]
    assert names[2:width] == MATTER, "the state has other quantities than the oracle knows"
    states = np.array(case["states"])
    deeds = {}
    for deed in case["deeds"]:
        deeds.setdefault(deed["hour"], []).append(deed)
    batch = Batch(case)
    free = states[0, :width].copy()
    turned = 0
    worst = {"smooth": (0.0, ""), "bent": (0.0, ""), "free": (0.0, "")}
    smooth = bent = 0
    scale = np.zeros(width)
    for hour in range(len(states) - 1):
        kept = dict(zip(names[width:], states[hour, width:]))
        batch.kept = dict(kept)
        start = states[hour, :width].copy()
        for deed in deeds.get(hour, []):
            batch.kept = dict(kept)
            free = batch.do(free, deed)
            batch.kept = dict(kept)
            start = batch.do(start, deed)
            kept = dict(batch.kept)
            if deed["kind"] == "turn":
                turned = hour
        after = dict(zip(names[width:], states[hour + 1, width:]))
        for name in "ash organic_in volume_in dry_in pieces".split():
            off = abs(batch.kept[name] - after[name])
            assert off <= 1e-11 * (1 + abs(after[name])), (case["name"], hour, name, off)
        settled = [1 - math.exp(-max(0, h - turned) / 24 / 4) for h in (hour, hour + 1)]

        def slopes(t, y):
            part = t * 24
            return batch.slopes(
                y,
                line(case["air"], hour, part),
                line(case["sol_air"], hour, part),
                line(case["humidity"], hour, part),
                case["rain"][hour],
                line(settled, 0, part),
            )

        def passed(y):
            out = solve_ivp(
                lambda t, y: slopes(t, y)[0], (0, 1 / 24), y, method="DOP853", rtol=1e-11, atol=1e-13
            )
            assert out.success, (case["name"], hour, out.message)
            return out.y

        path, free = passed(start), passed(free)[:, -1]
        branches = {slopes(1 / 24 * i / (path.shape[1] - 1), path[:, i])[1] for i in range(path.shape[1])}
        kind = "smooth" if len(branches) == 1 else "bent"
        smooth, bent = smooth + (kind == "smooth"), bent + (kind == "bent")
        want = states[hour + 1, :width]
        # Against the largest that each quantity has been, at least a gram or a degree.
        scale = np.maximum(scale, np.maximum(np.abs(want), 1e-3))
        scale[:2] = np.maximum(scale[:2], 1.0)
        for name, got in ((kind, path[:, -1]), ("free", free)):
            off = np.abs(got - want) / scale
            at = int(off.argmax())
            if off[at] > worst[name][0]:
                worst[name] = (float(off[at]), f"{names[at]} at hour {hour + 1}")
    print(
        f"{case['name']}: {smooth} smooth hours, worst {worst['smooth'][0]:.1e} ({worst['smooth'][1]}); "
        f"{bent} hours with a bend apart, worst {worst['bent'][0]:.1e}; "
        f"freely from the start {worst['free'][0]:.1e} ({worst['free'][1]})"
    )
    assert smooth > 4 * bent, f"{case['name']}: too few smooth hours"
    assert worst["smooth"][0] <= SMOOTH, (case["name"], worst["smooth"])
    assert worst["free"][0] <= FREE, (case["name"], worst["free"])


def main():
    if len(sys.argv) > 1:
        text = open(sys.argv[1]).read()
    else:
        command = "cargo run --release --quiet -p engine --example batch_reference -- --cases"
        text = subprocess.run(command.split(), check=True, capture_output=True, text=True).stdout
    for case in text.splitlines():
        check(json.loads(case))


if __name__ == "__main__":
    main()
