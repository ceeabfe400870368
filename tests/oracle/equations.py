"""The batch's right-hand side once more, so that solvers of any make can be timed on it.

One text in three forms: plain Python on numbers, the same compiled by Numba, and NumPy on many members at once.
`speed.py` holds every form against `batch.py`, which the engine is held against.
"""

import math
from collections import namedtuple

import numpy as np

CORE = 0.6
FREEZING, SPAN = 0.334, 2.0
LN_10 = math.log(10)
WARM, COLD = math.log(1.066), math.log(1.21)

# What a form brings: functions, and whether it works on one number at a time.
Form = namedtuple("Form", "exp log sqrt most least where one")
# What moves, in the order of the engine; the running totals after it have no say in the rest.
MOVING = 13
PARAMS = (
    "k_r k_c k_l humified lag cold_share t_least t_best holds drain clumping ua g_core vent condensed heat_o2 "
    "cn_critical n_loss"
).split()
KEPT = "ash organic_in volume_in dry_in pieces".split()
VESSEL = "litres wall_core wall_shell insulation".split()


def either(this, then, other):
    return then if this else other


PLAIN = Form(math.exp, math.log, math.sqrt, max, min, either, True)
MANY = Form(np.exp, np.log, np.sqrt, np.maximum, np.minimum, np.where, False)


def compiled(njit):
    """Numba's form."""
    return Form(math.exp, math.log, math.sqrt, max, min, njit(either), True)


def made(form, wrap=lambda f: f):
    """The right-hand side of a form; `wrap` compiles each part."""
    exp, log, sqrt, most, least, where, one = form

    @wrap
    def cardinal(t, tn, to):
        tx, d = to + 14, to - tn
        t = least(most(t, tn), tx)
        return (t - tx) * (t - tn) ** 2 / (d * (d * (t - to) - (to - tx) * (to + tn - 2 * t)))

    @wrap
    def warmth(t, per20, a, tn, to):
        g = cardinal(t, tn, to) * per20
        if one and t >= 20:
            return g
        cold = most(0.0, a * (exp(WARM * (t - 20)) - exp(COLD * (t - 60))) + (1 - a) * g)
        return cold if one else where(t >= 20, g, cold)

    @wrap
    def steeper(t, per20, a, tn, to):
        """d warmth / dT."""
        tx, d = to + 14, to - tn
        t = least(most(t, tn), tx)
        over, under = (t - tx) * (t - tn) ** 2, d * (d * (t - to) - (to - tx) * (to + tn - 2 * t))
        g = ((t - tn) * (3 * t - tn - 2 * tx) - over / under * d * (d + 2 * (to - tx))) / under * per20
        cold = a * (WARM * exp(WARM * (t - 20)) - COLD * exp(COLD * (t - 60))) + (1 - a) * g
        return where(t >= 20, g, cold)

    @wrap
    def per20(tn, to):
        return 1 / cardinal(20.0 + 0 * tn, tn, to)

    @wrap
    def sigma(x):
        return 1 / (1 + exp(-x))

    @wrap
    def rates(state, p, per, k, v, air, sol_air, humidity, rain, settled):
        """d/dt of what moves and of the totals; then what a stepper may want to know."""
        t1, t2, quick, cellulose, lignin, humus = state[0], state[1], state[2], state[3], state[4], state[5]
        carbon, n_organic, n_mineral, w = state[6], state[7], state[8], state[9]
        x_m, clumped, acids = state[10], state[11], state[12]
        k_r, k_c, k_l, h, lag, cold, tn, to, holds, drain, clumping, ua, g_core, vent, condensed, heat_o2, cn, n_loss = p
        ash, organic_in, volume_in, dry_in, pieces = k
        litres, wall_core, wall_shell, insulation = v
        om = quick + cellulose + lignin + humus
        dry = om + ash
        share = w / (w + dry)
        gone_share = 1 - om / organic_in

        rho = dry_in / volume_in * (1 + 1.2 * gone_share + 0.8 * most(0.0, share - 0.52) * (1 - 0.5 * gone_share))
        rho = rho * (1 + 0.1 * settled)
        filled = w / 1000 + om / 1600 + ash / 2500
        volume = most(dry / rho, filled / 0.98)
        fas = 1 - filled / volume
        pores = (w / 1000) / (w / 1000 + fas * volume)

        g_m, g_fas = sigma(17.684 * share - 7.0622), sigma(23.675 * fas - 3.4945)
        g_n = least(1.0, cn * (n_organic + n_mineral) / carbon)
        of_core = CORE * warmth(t1, per, cold, tn, to)
        g_t = of_core + (1 - CORE) * warmth(t2, per, cold, tn, to)

        third = exp(log(volume / 0.09) / 3)
        scale = third * third
        rise = most(0.0, t1 - air)
        opening = least(most((fas - 0.05) / 0.35, 0.03), 1.3)
        q_air = vent * (0.4 + 0.6 * sqrt(sqrt(rise * rise + 0.25) / 20)) * opening * sqrt(opening) * scale
        wet2 = (pores / 0.55) ** 2
        half = 2 * (1 + wet2 * wet2)
        base = g_m * g_n * x_m * g_t
        pace0, pace1, pace2 = k_r * quick * base, k_c * pieces * cellulose * base, k_l * lignin * base
        aired = g_fas * (1 - clumped)
        wanted = (1 - h) * aired * (1.35 * pace0 + 1.18 * pace1 + 1.6 * pace2)
        b = wanted / (q_air * 0.0133) + half - 20.9
        c = 20.9 * half
        root = sqrt(b * b + 4 * c)
        x = where(b < 0, (root - b) / 2, 2 * c / (root + b))
        g_o2 = x / (x + half)

        in_air = aired * g_o2
        both = in_air + 0.2 * clumped
        lost0, lost1, lost2 = pace0 * both, pace1 * both, pace2 * in_air
        total = lost0 + lost1 + lost2
        humus_lost = 0.00012 * humus
        carbon_lost = carbon / (0.46 * quick + 0.444 * cellulose + 0.60 * lignin + 0.55 * humus)
        carbon_lost = carbon_lost * (
            0.46 * lost0 + 0.444 * lost1 + 0.60 * lost2 - 0.55 * h * total + 0.55 * humus_lost
        )
        o2 = wanted * g_o2
        q = heat_o2 * o2

        flow = 1.2 * q_air
        e = (0.75 + 0.25 * g_m) * 0.6108 * exp(17.27 * t1 / (t1 + 237.3))
        inside = 0.622 * e / (101.3 - e)
        free = flow * most(0.0, inside - humidity)
        vapour = free * w / (free / 12 + w)
        gone = vapour * (1 - condensed)
        drip = drain * most(0.0, w - holds * om - 0.4 * ash)
        made_water = 0.55 * (1 - h) * (pace0 + pace1 + pace2) * in_air
        d_water = made_water + rain - gone - drip

        latent = 2.501 - 0.002361 * t1
        filling = scale * (90 / litres) ** (2 / 3)
        loss = ua * least(most(filling, 0.15 ** (2 / 3)), 1.2 ** (2 / 3))
        g = g_core / (most(third, 0.3) * (0.09 / 0.106) ** (1 / 3) * sqrt(insulation))
        s = of_core / (g_t + 1e-300)
        to_core = q * s - flow * 1.006e-3 * (t1 - air) - latent * vapour - g * (t1 - t2)
        to_shell = q * (1 - s) + g * (t1 - t2) + 0.5 * condensed * latent * vapour - loss * (t2 - sol_air)
        heat = 1.3e-3 * dry + 4.19e-3 * w
        c1, c2 = heat * CORE + wall_core, heat * (1 - CORE) + wall_shell
        ice = FREEZING / SPAN * w
        c1 = c1 + where((t1 >= -SPAN) & (t1 < 0), ice * CORE, 0 * ice)
        c2 = c2 + where((t2 >= -SPAN) & (t2 < 0), ice * (1 - CORE), 0 * ice)

        soggy = sigma((pores - 0.80) / 0.04)
        y = acids / dry
        ph = 8.3 - 3.6 * y / (y + 0.006)
        with_air = g_o2 * (1 - clumped)
        warm_wet = g_t * g_m
        d_acids = 0.25 * k_r * quick * warm_wet * (1 - with_air) - 0.5 * acids * warm_wet * with_air
        pka = 0.09018 + 2729.92 / (t1 + 273.15)
        ammonia = sigma(LN_10 * (ph - pka))
        r = 0.9 * ammonia * q_air / 5 * 2 * exp(LN_10 * 0.02 * (t1 - 40)) + 0.04 * g_t + 0.1 * clumped * g_t
        r = r * n_loss
        n_air = n_mineral * r / (1 + r / 6)
        bound = 0.30 / 9 * carbon_lost * in_air / (both + 1e-300) * n_mineral / (n_mineral + 1e-4 * om)
        freed = n_organic * carbon_lost / carbon
        n_drained = 0.7 * drip * n_mineral / w
        growth = 1.39 * x_m * (1 - x_m) * least(most(g_t, 0.05), 3.0) / lag
        d_om = humus_lost + (1 - h) * total
        carried = (4.19e-3 * d_water - 1.3e-3 * d_om) * (CORE * t1 + (1 - CORE) * t2)
        return (
            to_core / c1, to_shell / c2, -lost0, -lost1, -lost2, h * total - humus_lost, -carbon_lost,
            bound - freed, freed - bound - n_air - n_drained, d_water, growth,
            clumping * soggy * (1 - clumped) - 0.05 * (1 - soggy) * clumped, d_acids,
            carbon_lost, n_air, n_drained, made_water + rain, gone, drip, d_om, o2, q,
            q - to_core - to_shell - carried,
        ), (g, flow, inside, loss, c1, c2, free, latent, g_t, to_core, to_shell)  # fmt: skip

    return rates, per20, steeper
