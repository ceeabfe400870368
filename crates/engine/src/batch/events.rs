//! What is done to a batch: put in, taken out, wetted, turned. The only door through which anything but time
//! changes a state; each mends what depends on it.

use super::drivers::Vessel;
use super::lanes::Real;
use super::params::Params;
use super::rates::capacities;
use super::state::State;
use super::{clump, heat};

/// What one feed brings, before a member's own doubts.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Feed {
    /// Water, kg.
    pub water: f64,
    /// Quick matter (sugars, starch, protein, fat, pectin), kg.
    pub quick: f64,
    /// Cellulose and hemicellulose, kg.
    pub cellulose: f64,
    /// Lignin-like matter, kg.
    pub lignin: f64,
    /// Ash, kg; carbonate carbon stays in it.
    pub ash: f64,
    /// Organic carbon, kg.
    pub carbon: f64,
    /// Nitrogen, kg.
    pub nitrogen: f64,
    /// Dry bulk density in the mix, kg/m³.
    pub dry_density: f64,
    /// Factor of piece size on the decay of cellulose: 0.6 whole, 1 torn, 1.4 shredded.
    pub pieces: f64,
    /// Temperature, °C.
    pub temperature: f64,
}

/// One thing done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Deed {
    /// A feed is put in.
    Feed(Feed),
    /// The drum is turned, or the heap is forked over.
    Turn,
    /// Water is added, kg, at a temperature, °C.
    Wet {
        /// kg.
        kg: f64,
        /// °C.
        temperature: f64,
    },
    /// A share, 0 to 1, is taken out.
    Take(f64),
    /// The vessel is wrapped, or moved: factors on its loss of heat and on the sun it gets.
    Place {
        /// Factor on the loss of heat; 0.35 is a good wrap.
        loss: f64,
        /// Factor on the sun.
        sun: f64,
    },
    /// What is inside is torn smaller: factor on the pace of its cellulose.
    Cut(f64),
}

impl Deed {
    /// What it makes of so many kilograms put in.
    #[must_use]
    pub fn leaves(&self, kg: f64) -> f64 {
        match *self {
            Self::Feed(f) => kg + f.water + f.quick + f.cellulose + f.lignin + f.ash,
            Self::Wet { kg: added, .. } => kg + added,
            Self::Take(share) => kg * (1.0 - share.clamp(0.0, 1.0)),
            _ => kg,
        }
    }
}

/// Smallest growth of the microbes (choice).
pub const LEAST_MICROBES: f64 = 0.2;
/// Mineral share of the nitrogen of a fresh feed (choice: urine and juices are not modelled apart).
const MINERAL_IN: f64 = 0.02;

/// Puts both nodes to the temperatures that hold the given heat.
#[inline(always)]
fn reheat<R: Real>(s: &mut State<R>, v: &Vessel, heat_core: R, heat_shell: R) {
    let dry = s.matter.quick + s.matter.cellulose + s.matter.lignin + s.matter.humus + s.kept.ash;
    let c = capacities(dry, s.matter.water, v);
    s.core = heat::from_stored(heat_core, c[0], s.matter.water * heat::CORE);
    s.shell = heat::from_stored(heat_shell, c[1], s.matter.water * (1.0 - heat::CORE));
}

#[inline(always)]
fn heats<R: Real>(s: &State<R>, v: &Vessel) -> [R; 2] {
    let dry = s.matter.quick + s.matter.cellulose + s.matter.lignin + s.matter.humus + s.kept.ash;
    let c = capacities(dry, s.matter.water, v);
    [
        heat::stored(s.core, c[0], s.matter.water * heat::CORE),
        heat::stored(s.shell, c[1], s.matter.water * (1.0 - heat::CORE)),
    ]
}

/// Does `deed` to `s`.
#[inline(always)]
pub fn done<R: Real>(s: &mut State<R>, deed: &Deed, p: &Params<R>, v: &Vessel) {
    match *deed {
        Deed::Feed(f) => feed(s, &f, p, v),
        Deed::Wet { kg, temperature } => {
            let held = heats(s, v);
            s.matter.water = s.matter.water + kg;
            s.kept.water_in = s.kept.water_in + kg;
            s.kept.mass_in = s.kept.mass_in + kg;
            let core = s.core;
            let of = |x: f64| core.of(x);
            let brought = heat::stored(of(temperature), heat::capacity(of(0.0), of(kg)), of(kg));
            s.kept.heat_in = s.kept.heat_in + brought;
            reheat(
                s,
                v,
                held[0] + brought * heat::CORE,
                held[1] + brought * (1.0 - heat::CORE),
            );
        }
        Deed::Turn => {
            s.matter.clumped = s.matter.clumped * clump::TURNED;
            let held = heats(s, v);
            // One temperature: both nodes share the heat by capacity. Exact away from the freezing span.
            let dry =
                s.matter.quick + s.matter.cellulose + s.matter.lignin + s.matter.humus + s.kept.ash;
            let c = capacities(dry, s.matter.water, v);
            let all = held[0] + held[1];
            let t = heat::from_stored(all, c[0] + c[1], s.matter.water);
            s.core = t;
            s.shell = t;
        }
        Deed::Take(share) => take(s, share.clamp(0.0, 1.0), v),
        Deed::Cut(factor) => s.kept.pieces = s.kept.pieces * factor,
        // Of the vessel, not of what is in it: see [`moved`].
        Deed::Place { .. } => {}
    }
}

/// What `deed` does to the vessel's own parameters.
#[inline(always)]
pub fn moved<R: Real>(p: &mut Params<R>, deed: &Deed) {
    if let Deed::Place { loss, sun } = *deed {
        p.ua = p.ua * loss;
        // Core to shell goes with the root of the insulation (heat.rs).
        p.g_core = p.g_core * loss.sqrt();
        p.sun_gain = p.sun_gain * sun;
    }
}

#[inline(always)]
fn feed<R: Real>(s: &mut State<R>, f: &Feed, p: &Params<R>, v: &Vessel) {
    let one = s.core.of(1.0);
    let held = heats(s, v);
    // The member's doubts: water share and quick share of what was put in, and its nitrogen.
    let dry_kg = f.quick + f.cellulose + f.lignin + f.ash;
    let all = dry_kg + f.water;
    let wet_share = (p.feed_wet + f.water / (all + 1e-12)).within(0.02, 0.97);
    // Dry matter is what a mass on the scale less its water leaves.
    let dry = (one - wet_share) * all;
    let scale = dry * (1.0 / (dry_kg + 1e-12));
    let water = wet_share * all;
    let organic = f.quick + f.cellulose + f.lignin;
    let quick_share = (p.feed_quick * (f.quick / (organic + 1e-12))).within(0.0, 0.97);
    let rest = (one - quick_share) / (1.0 - f.quick / (organic + 1e-12) + 1e-12);
    let quick = scale * quick_share * organic;
    let cellulose = scale * rest * f.cellulose;
    let lignin = scale * rest * f.lignin;
    let ash = scale * f.ash;
    let carbon = scale * f.carbon;
    let nitrogen = scale * p.feed_n * f.nitrogen;

    let capacity_new = heat::capacity(dry, water);
    let before = heat::capacity(
        s.matter.quick + s.matter.cellulose + s.matter.lignin + s.matter.humus + s.kept.ash,
        s.matter.water,
    );
    let share_new = capacity_new / (capacity_new + before + 1e-12);
    let mass_before = s.matter.water
        + s.matter.quick
        + s.matter.cellulose
        + s.matter.lignin
        + s.matter.humus
        + s.kept.ash;

    let m = &mut s.matter;
    m.microbes = (m.microbes * (one - share_new * 0.5)).max(one.of(LEAST_MICROBES));
    m.clumped = m.clumped * mass_before / (mass_before + all + 1e-12);
    let k = &mut s.kept;
    k.pieces = (k.pieces * m.cellulose + cellulose * f.pieces) / (m.cellulose + cellulose + 1e-12);
    m.quick = m.quick + quick;
    m.cellulose = m.cellulose + cellulose;
    m.lignin = m.lignin + lignin;
    m.acids = m.acids + quick * clump::ACID_IN;
    m.carbon = m.carbon + carbon;
    m.n_organic = m.n_organic + nitrogen * (1.0 - MINERAL_IN);
    m.n_mineral = m.n_mineral + nitrogen * MINERAL_IN;
    m.water = m.water + water;
    k.ash = k.ash + ash;
    k.organic_in = k.organic_in + quick + cellulose + lignin;
    k.cellulose_in = k.cellulose_in + cellulose;
    k.volume_in = k.volume_in + dry / f.dry_density.max(1.0);
    k.dry_in = k.dry_in + dry;
    k.carbon_in = k.carbon_in + carbon;
    k.nitrogen_in = k.nitrogen_in + nitrogen;
    k.water_in = k.water_in + water;
    k.mass_in = k.mass_in + water + dry;
    let brought = heat::stored(one.of(f.temperature), capacity_new, water);
    k.heat_in = k.heat_in + brought;
    reheat(
        s,
        v,
        held[0] + brought * heat::CORE,
        held[1] + brought * (1.0 - heat::CORE),
    );
}

#[inline(always)]
fn take<R: Real>(s: &mut State<R>, share: f64, v: &Vessel) {
    let left = 1.0 - share;
    let held = heats(s, v);
    let m = &mut s.matter;
    let k = &mut s.kept;
    let gone = |value: R| value * share;
    let organic = m.quick + m.cellulose + m.lignin + m.humus;
    k.carbon_in = k.carbon_in - gone(m.carbon);
    k.nitrogen_in = k.nitrogen_in - gone(m.n_organic + m.n_mineral);
    k.water_in = k.water_in - gone(m.water);
    k.mass_in = k.mass_in - gone(organic + k.ash + m.water);
    for value in [
        &mut m.quick,
        &mut m.cellulose,
        &mut m.lignin,
        &mut m.humus,
        &mut m.carbon,
        &mut m.n_organic,
        &mut m.n_mineral,
        &mut m.water,
        &mut m.acids,
        &mut k.ash,
        &mut k.organic_in,
        &mut k.cellulose_in,
        &mut k.volume_in,
        &mut k.dry_in,
    ] {
        *value = *value * left;
    }
    // The wall stays; the matter left keeps its temperature.
    let now = heats(s, v);
    s.kept.heat_in = s.kept.heat_in - (held[0] + held[1] - now[0] - now[1]);
}
