//! The rates of everything at one moment, from everything at that moment. Changes nothing.

use super::drivers::{Drivers, Vessel};
use super::lanes::{Real, per_both};
use super::params::Params;
use super::state::{Matter, State};
use super::volume::{Bulk, bulk};
use super::{carbon, clump, heat, limits, nitrogen, oxygen, water};

/// 0.15^⅔ and 1.2^⅔: the fills between which the loss follows the fill.
const FILL: (f64, f64) = (0.282_310_808_664_309, 1.129_243_234_657_234);
/// (0.09/0.106)^⅓: from the air's measure of volume to the core's.
const THIRD: f64 = 0.946_917_656_755_228;

/// Rates, and what the steppers and the pages read beside them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rates<R> {
    /// d/dt of each quantity of matter, per day.
    pub matter: Matter<R>,
    /// Heat into core and shell, MJ/d.
    pub flux: [R; 2],
    /// d flux / d (core, shell), MJ/(d K), nearly: oxygen, fill and vents are held still.
    pub slope: [[R; 2]; 2],
    /// d flux of the core / d air temperature, and of the shell / d sol-air temperature, MJ/(d K).
    pub outside: [R; 2],
    /// Heat capacity of core and shell as felt, MJ/K.
    pub felt: [R; 2],
    /// Plain heat capacity of core and shell, MJ/K.
    pub capacity: [R; 2],
    /// Volume, air space, filled pores.
    pub bulk: Bulk<R>,
    /// Oxygen in the pores, vol-%.
    pub oxygen: R,
    /// Oxygen that decay would use at full supply, kg/d.
    pub wanted: R,
}

/// Water share of wet mass.
#[inline(always)]
pub fn water_share<R: Real>(water: R, dry: R) -> R {
    water / (water + dry + 1e-9)
}

/// Heat capacities of core and shell with their share of the wall, MJ/K.
#[inline(always)]
pub fn capacities<R: Real>(dry: R, water: R, vessel: &Vessel) -> [R; 2] {
    let c = heat::capacity(dry, water);
    [
        c * heat::CORE + vessel.wall_core,
        c * (1.0 - heat::CORE) + vessel.wall_shell,
    ]
}

/// All rates.
#[inline(always)]
pub fn rates<R: Real>(s: &State<R>, p: &Params<R>, d: &Drivers<R>, v: &Vessel) -> Rates<R> {
    let m = &s.matter;
    let k = &s.kept;
    let one = m.water.of(1.0);
    let organic = m.quick + m.cellulose + m.lignin + m.humus;
    let dry = organic + k.ash;
    // What `water_share` is, with the division shared.
    let [per_wet, per_in] = per_both(m.water + dry + 1e-9, k.organic_in + 1e-9);
    let share = m.water * per_wet;
    let extent = one - organic * per_in;
    let b = bulk(
        m.water,
        organic,
        k.ash,
        share,
        extent,
        (k.dry_in + 1e-9, k.volume_in + 1e-11),
        d.settled,
    );

    let g_m = limits::moisture(share);
    let g_fas = limits::air_space(b.air_space);
    let per_carbon = one / (m.carbon + 1e-9);
    let g_n = limits::nitrogen(per_carbon, m.n_organic + m.n_mineral, p.cn_critical);
    let (pace_core, pace_shell) = (limits::paced(s.core, p), limits::paced(s.shell, p));
    let (g_core, g_shell) = (pace_core.0 * heat::CORE, pace_shell.0 * (1.0 - heat::CORE));
    let g_t = g_core + g_shell;

    // Air: ⅔ power by ln and exp, shared by the vents and the shell.
    let third = ((b.volume * (1.0 / 0.09)).ln() * (1.0 / 3.0)).exp();
    let scale = third * third;
    let air_change = oxygen::air_change(p.vent, s.core - d.air, b.air_space, scale);

    let pace = g_m * g_n * m.microbes * g_t;
    let aired = g_fas * (one - m.clumped);
    let quick = p.k_r * m.quick * pace;
    let cellulose = p.k_c * k.pieces * m.cellulose * pace;
    let lignin = p.k_l * m.lignin * pace;
    let kept = one - p.humified;
    let wanted = kept
        * aired
        * (quick * carbon::OXYGEN[0] + cellulose * carbon::OXYGEN[1] + lignin * carbon::OXYGEN[2]);
    let half = oxygen::half_saturation(b.pores_filled);
    let oxygen = oxygen::level(air_change, wanted, half);
    let g_o2 = oxygen / (oxygen + half);
    let in_air = aired * g_o2;
    let in_clumps = m.clumped * carbon::CLUMP_PACE;
    let both = in_air + in_clumps;

    let lost = [quick * both, cellulose * both, lignin * in_air];
    let all_lost = lost[0] + lost[1] + lost[2];
    let aerobic = (quick + cellulose + lignin) * in_air;
    let humus_lost = m.humus * carbon::HUMUS_DECAY;
    let kappa = carbon::CARBON_SHARE;
    let shares =
        m.quick * kappa[0] + m.cellulose * kappa[1] + m.lignin * kappa[2] + m.humus * kappa[3];
    let carbon_lost = m.carbon / (shares + 1e-9)
        * (lost[0] * kappa[0] + lost[1] * kappa[1] + lost[2] * kappa[2]
            - all_lost * p.humified * kappa[3]
            + humus_lost * kappa[3]);
    let o2_used = wanted * g_o2;
    let q = o2_used * p.heat_o2;

    // Water and heat.
    let dry_air = air_change * water::AIR_DENSITY;
    let relative = g_m * 0.25 + 0.75;
    let (humid, humid_slope) = water::humidity(s.core, relative);
    let (vapour, vapour_share) = water::vapour(dry_air, humid, d.humidity, m.water);
    let latent = heat::evaporation(s.core);
    let returned = latent * p.condensed * 0.5;
    let drip = water::drip(m.water, organic, k.ash, p.holds, p.drain);
    let fill = (scale * v.per_fill).within(FILL.0, FILL.1);
    let ua = p.ua * fill;
    let g = p.g_core / (third.max(one.of(0.3)) * (THIRD * v.root_insulation));
    let between = g * (s.core - s.shell);
    let sensible = dry_air * water::AIR_HEAT;
    let per_g_t = one / (g_t + 1e-300);
    let core_share = g_core * per_g_t;
    let flux = [
        q * core_share - sensible * (s.core - d.air) - latent * vapour - between,
        q * (one - core_share) + between + returned * vapour - ua * (s.shell - d.sol_air),
    ];
    // The limit on evaporation flattens it: d/dx of x W/(x/12 + W) is the square of its share.
    let vapour_slope = dry_air * humid_slope * vapour_share * vapour_share;
    // Decay warms its own node; that it takes oxygen from the other is left to the next step.
    let per_pace = q * per_g_t;
    let own = [
        per_pace * pace_core.1 * heat::CORE,
        per_pace * pace_shell.1 * (1.0 - heat::CORE),
    ];
    let slope = [
        [own[0] - (sensible + latent * vapour_slope + g), g],
        [g + returned * vapour_slope, own[1] - (g + ua)],
    ];
    let capacity = capacities(dry, m.water, v);
    let felt = [
        heat::felt(s.core, capacity[0], m.water * heat::CORE),
        heat::felt(s.shell, capacity[1], m.water * (1.0 - heat::CORE)),
    ];

    // Nitrogen.
    let ph = clump::ph(m.acids, dry);
    let set_free = m.n_organic * carbon_lost * per_carbon;
    let bound = nitrogen::bound(carbon_lost, (in_air, both), m.n_mineral, organic);
    let n_air = m.n_mineral * nitrogen::loss(s.core, ph, air_change, m.clumped, g_t, p.n_loss);
    let n_drained = drip * 0.7 * m.n_mineral / (m.water + 1e-9);

    let made = aerobic * kept * carbon::WATER_MADE;
    let gone = vapour * (one - p.condensed);
    let water_rate = made + d.rain - gone - drip;
    let g_t_g_m = g_t * g_m;
    let organic_rate = humus_lost + all_lost * kept;
    // Matter that leaves takes its heat along.
    let carried = (water_rate * 4.19e-3 - organic_rate * 1.3e-3)
        * (s.core * heat::CORE + s.shell * (1.0 - heat::CORE));
    let matter = Matter {
        quick: -lost[0],
        cellulose: -lost[1],
        lignin: -lost[2],
        humus: all_lost * p.humified - humus_lost,
        carbon: -carbon_lost,
        n_organic: bound - set_free,
        n_mineral: set_free - bound - n_air - n_drained,
        water: water_rate,
        microbes: carbon::growth(m.microbes, g_t, p.lag),
        clumped: clump::rate(m.clumped, b.pores_filled, p.clumping),
        acids: clump::acids(
            m.acids,
            p.k_r * m.quick * g_t_g_m,
            g_t_g_m,
            g_o2 * (one - m.clumped),
        ),
        carbon_out: carbon_lost,
        n_air,
        n_drained,
        water_made: made + d.rain,
        water_air: gone,
        water_drained: drip,
        lost: organic_rate,
        oxygen: o2_used,
        heat_made: q,
        heat_out: q - flux[0] - flux[1] - carried,
    };
    Rates {
        matter,
        flux,
        slope,
        outside: [sensible, ua],
        felt,
        capacity,
        bulk: b,
        oxygen,
        wanted,
    }
}
