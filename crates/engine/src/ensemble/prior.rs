//! What is not known, as a spread for each parameter; one draw is one member.
//!
//! A member is a row of standard normals, one a parameter, so that readings can move it later. Each row of
//! [`PRIORS`] names centre, spread and source. "choice" is our judgement; "recalled" is from memory.

use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

use crate::batch::params::Params;
use crate::batch::vessel::Vessel;

/// How a standard normal becomes a value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Lognormal: median, geometric standard deviation.
    Log(f64, f64),
    /// Normal, held between bounds: mean, standard deviation, least, most.
    Normal(f64, f64, f64, f64),
    /// Uniform between bounds.
    Uniform(f64, f64),
    /// Follows from others.
    Follows,
}

/// One parameter's spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Name, as in [`Params`].
    pub name: &'static str,
    /// In words, with unit.
    pub what: &'static str,
    /// Spread. For the drum's own parameters the centre is a factor on the vessel's.
    pub shape: Shape,
    /// Where it comes from.
    pub source: &'static str,
}

const fn prior(
    name: &'static str,
    what: &'static str,
    shape: Shape,
    source: &'static str,
) -> Prior {
    Prior {
        name,
        what,
        shape,
        source,
    }
}

use Shape::{Follows, Log, Normal, Uniform};

/// In the order of [`Params`].
pub const PRIORS: [Prior; Params::<f64>::COUNT] = [
    prior(
        "k_r",
        "decay of quick matter at 20 °C, 1/d",
        Log(0.050, 1.55),
        "Haug 1993, fast fractions 0.02–0.1 1/d (recalled)",
    ),
    prior(
        "k_c",
        "decay of cellulose at 20 °C, 1/d",
        Log(0.0095, 1.6),
        "order of magnitude: half gone in 2–3 months at 20 °C (recalled)",
    ),
    prior(
        "k_l",
        "decay of lignin at 20 °C, 1/d",
        Log(0.0008, 1.7),
        "years when cool (recalled); 29–49 % in 45 hot days, Mishra & Yadav 2021",
    ),
    prior(
        "humified",
        "share of lost matter that comes back as humus",
        Normal(0.15, 0.05, 0.02, 0.35),
        "0.1–0.3 (recalled)",
    ),
    prior(
        "lag",
        "lag of the microbes, d",
        Log(1.5, 1.7),
        "choice; peaks at day 2–5 in published runs",
    ),
    prior(
        "cold_share",
        "share of the steep curve below 20 °C",
        Uniform(0.0, 1.0),
        "choice: both published curves are possible",
    ),
    prior(
        "t_least",
        "cold end of the curve, °C",
        Normal(-8.0, 4.0, -18.0, 4.0),
        "choice; a shape parameter, 5 °C would stop a winter bin",
    ),
    prior(
        "t_best",
        "temperature of fastest decay, °C",
        Normal(56.0, 3.0, 46.0, 62.0),
        "56–60 °C, Suler & Finstein 1977 (abstract)",
    ),
    prior("per_gamma20", "scale of the curve", Follows, "by formula"),
    prior(
        "holds",
        "water held, kg per kg organic matter",
        Log(2.7, 1.2),
        "choice, centred on Vázquez & Soto 2017 (abstract)",
    ),
    prior(
        "drain",
        "drain rate, against the vessel's",
        Log(1.0, 1.7),
        "choice",
    ),
    prior(
        "clumping",
        "clumps forming when water-logged, 1/d",
        Log(0.06, 1.7),
        "choice",
    ),
    prior(
        "ua",
        "heat loss, W/K per m² of shell",
        Log(3.0, 1.35),
        "3.4 by the sum of films, wall and compost (vessel.rs)",
    ),
    prior(
        "g_core",
        "core to shell, against 1.8 UA",
        Log(1.0, 1.000_001),
        "choice: fixed",
    ),
    prior(
        "vent",
        "air change, m³/d at 20 K",
        Log(8.0, 1.9),
        "choice; no measurement of a tumbler was found",
    ),
    prior(
        "condensed",
        "share of vapour the shell returns",
        Normal(0.35, 0.15, 0.0, 0.8),
        "choice",
    ),
    prior(
        "sun_gain",
        "view of the shell to the sun",
        Log(0.40, 1.35),
        "choice; form of ASHRAE, Fundamentals (recalled)",
    ),
    prior(
        "heat_o2",
        "heat of oxygen, MJ/kg",
        Normal(14.0, 0.5, 12.5, 15.5),
        "13.6–14.4, Haug 1993 (recalled)",
    ),
    prior(
        "cn_critical",
        "C:N above which nitrogen holds back",
        Normal(30.0, 4.0, 18.0, 45.0),
        "choice around the 30:1 of common practice",
    ),
    prior(
        "n_loss",
        "factor on nitrogen losses",
        Log(1.0, 1.8),
        "choice; 16–49 % measured in heaps, Paillat et al. 2005 (abstract)",
    ),
    prior(
        "feed_n",
        "factor on the nitrogen of feeds",
        Log(1.0, 1.15),
        "choice",
    ),
    prior(
        "feed_quick",
        "factor on the quick share of feeds",
        Normal(1.0, 0.15, 0.4, 1.6),
        "choice",
    ),
    prior(
        "feed_wet",
        "points on the water share of feeds",
        Normal(0.0, 0.04, -0.15, 0.15),
        "choice; a squeeze tells ±5 points",
    ),
];

/// Standard normals of one member.
pub type Row = [f64; Params::<f64>::COUNT];

/// Member `member` of the stream `seed`; the same whatever else is drawn.
#[must_use]
pub fn row(seed: u64, member: u64) -> Row {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    // Streams of weather lie below 2⁶².
    rng.set_stream((1 << 62) + member);
    let mut row = [0.0; Params::<f64>::COUNT];
    for z in &mut row {
        *z = rng.sample(StandardNormal);
    }
    row
}

/// Standard normal distribution function: Abramowitz & Stegun 1964, 26.2.17 (error below 7.5·10⁻⁸).
fn below(z: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * z.abs());
    let poly = t
        * (0.319_381_530
            + t * (-0.356_563_782
                + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    let tail = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt() * poly;
    if z < 0.0 { tail } else { 1.0 - tail }
}

impl Shape {
    /// The value at `z`.
    #[must_use]
    pub fn at(self, z: f64) -> f64 {
        match self {
            Log(median, gsd) => median * (gsd.ln() * z).exp(),
            Normal(mean, sd, least, most) => (mean + sd * z).clamp(least, most),
            Uniform(least, most) => least + (most - least) * below(z),
            Follows => 1.0,
        }
    }
}

/// The parameters of a member in a vessel. A row of noughts is the centre of the prior.
#[must_use]
pub fn params(row: &Row, vessel: &Vessel) -> Params<f64> {
    let mut p = Params::from_each(|at| PRIORS[at].shape.at(row[at]));
    // From factors to the vessel's own figures; W/K to MJ/(d K).
    p.ua *= 0.0864 * vessel.surface() * vessel.insulation;
    p.g_core *= 1.8 * p.ua;
    p.vent *= vessel.vents;
    p.drain *= vessel.drain();
    p.sun_gain *= vessel.absorptance * vessel.sun / 18.0;
    p.completed()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_are_in_the_order_of_the_parameters() {
        for (prior, name) in PRIORS.iter().zip(Params::<f64>::NAMES) {
            assert_eq!(prior.name, *name);
        }
    }

    #[test]
    fn a_member_is_the_same_alone_or_among_many() {
        assert_eq!(row(3, 17), row(3, 17));
        assert_ne!(row(3, 17), row(3, 18));
        assert_ne!(row(3, 17), row(4, 17));
    }
}
