//! How much a quantity speaks for or against a cause: one row each, smooth, all judged unless a source stands.
//!
//! Read a row as: "for `wet`, water above about 62 % counts up to 2.5-fold, far below it 0.15-fold".

use units::Spread;

use super::cause::Cause as C;
use super::evidence::{Evidence, Group as G, Quantity as Q};

/// Which side of the middle speaks for the cause.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Side {
    /// High values do.
    Above,
    /// Low values do.
    Below,
    /// Values up to this far on either side of the middle do.
    Within(f64),
}
use Side::{Above, Below, Within};

/// One row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factor {
    /// The cause.
    pub cause: C,
    /// What is looked at.
    pub quantity: Q,
    /// Which side speaks for it.
    pub side: Side,
    /// Middle of the turn, in the unit of the quantity.
    pub at: f64,
    /// Width of the turn: 73 % of it lies within two widths.
    pub width: f64,
    /// Multiplier far on the wrong side.
    pub least: f64,
    /// Multiplier far on the right side.
    pub most: f64,
    /// Where the middle comes from.
    pub source: &'static str,
}

const fn row(
    cause: C,
    quantity: Q,
    side: Side,
    (at, width): (f64, f64),
    (least, most): (f64, f64),
    source: &'static str,
) -> Factor {
    Factor {
        cause,
        quantity,
        side,
        at,
        width,
        least,
        most,
        source,
    }
}

const JUDGED: &str = "judged";
const NRAES: &str = "NRAES-54 (Rynk 1992), Table 2.1, edge of reasonable; width judged";
/// The turn lies where both are about as likely, the ends are capped: no squeeze proves a cause.
const SPREADS: &str =
    "judged: a usual batch holds 54 ± 9 % water, one too dry 38 ± 8, one too wet 70 ± 5";
const SQUEEZE: &str = "window of docs/dose.md, as seen from a usual batch; width judged";

/// Every row, by cause.
#[rustfmt::skip]
pub const FACTORS: &[Factor] = &[
    row(C::Wet, Q::Water, Above, (62.0, 3.0), (0.15, 2.5), SPREADS),
    row(C::Wet, Q::AirSpace, Below, (30.0, 5.0), (0.8, 1.5), "Haug 1993 (recalled): 30 % is the least; width judged"),
    row(C::Wet, Q::Oxygen, Below, (5.0, 2.0), (0.9, 1.3), "common practice: 5 %; width judged"),
    row(C::Wet, Q::Share(G::Juicy), Above, (30.0, 8.0), (0.9, 1.5), JUDGED),
    row(C::Dry, Q::Water, Below, (49.0, 4.0), (0.12, 3.0), SPREADS),
    row(C::LowCn, Q::CarbonNitrogen, Below, (22.0, 3.0), (0.15, 2.2), NRAES),
    row(C::LowCn, Q::Share(G::Grass), Above, (20.0, 6.0), (0.9, 2.0), JUDGED),
    row(C::LowCn, Q::Share(G::Coffee), Above, (20.0, 6.0), (0.9, 2.0), JUDGED),
    row(C::LowCn, Q::Share(G::Manure), Above, (20.0, 6.0), (0.9, 1.6), JUDGED),
    row(C::HighCn, Q::CarbonNitrogen, Above, (40.0, 4.0), (0.15, 3.5), NRAES),
    row(C::HighCn, Q::Water, Within(13.0), (54.0, 4.0), (0.6, 1.1), SQUEEZE),
    row(C::HighCn, Q::Rise, Above, (6.0, 3.0), (1.1, 0.5), "judged: without greens no part warms"),
    row(C::HotAlkaline, Q::Core, Above, (55.0, 4.0), (0.3, 3.0), "common practice: above 60 °C"),
    row(C::HotAlkaline, Q::Share(G::Ash), Above, (2.0, 1.0), (0.7, 4.0), JUDGED),
    row(C::DryHot, Q::Water, Below, (49.0, 4.0), (0.25, 2.5), SPREADS),
    row(C::DryHot, Q::Core, Above, (38.0, 5.0), (0.3, 2.0), JUDGED),
    row(C::Urine, Q::Share(G::Manure), Above, (10.0, 4.0), (0.5, 5.0), JUDGED),
    row(C::Overfull, Q::Level, Above, (76.0, 4.0), (0.06, 4.0), "common practice: three quarters full; width and ends judged"),
    row(C::Matted, Q::Share(G::Grass), Above, (20.0, 6.0), (0.5, 7.0), JUDGED),
    row(C::Matted, Q::Clumped, Above, (15.0, 5.0), (0.8, 2.0), JUDGED),
    row(C::Airless, Q::Oxygen, Below, (5.0, 2.0), (0.4, 2.5), "common practice: 5 %; width judged"),
    row(C::Airless, Q::AirSpace, Below, (30.0, 5.0), (0.5, 2.5), "Haug 1993 (recalled): 30 % is the least; width judged"),
    row(C::Airless, Q::SinceTurn, Above, (8.0, 2.0), (0.6, 1.6), JUDGED),
    row(C::Condensation, Q::Rise, Above, (8.0, 3.0), (0.7, 1.8), "judged: warm damp air on a cold wall"),
    row(C::Condensation, Q::Water, Below, (64.0, 3.0), (0.7, 1.5), JUDGED),
    row(C::JuicyLoad, Q::Share(G::Juicy), Above, (35.0, 8.0), (0.5, 4.0), JUDGED),
    row(C::JuicyLoad, Q::Water, Below, (65.0, 3.0), (0.5, 1.8), JUDGED),
    row(C::JuicyLoad, Q::SinceFeed, Below, (2.5, 0.7), (0.4, 1.8), JUDGED),
    row(C::Coarse, Q::Recognisable, Above, (80.0, 7.0), (0.5, 1.5), JUDGED),
    row(C::Coarse, Q::Water, Within(13.0), (54.0, 4.0), (0.5, 1.2), SQUEEZE),
    row(C::Cold, Q::Air, Below, (10.0, 2.0), (0.08, 8.0), "Bernalillo County Extension 2021, seen: slow below 13 °C; width judged"),
    row(C::Cold, Q::Water, Within(14.0), (54.0, 4.0), (0.4, 1.1), SQUEEZE),
    row(C::Cold, Q::CarbonNitrogen, Within(12.0), (30.0, 4.0), (0.6, 1.1), SQUEEZE),
    row(C::Small, Q::Litres, Below, (200.0, 60.0), (0.3, 1.3), "between 60 L and the 380 L of Andrews, Oregon State 2018 (seen): choice"),
    row(C::Small, Q::FilledOver, Above, (25.0, 8.0), (0.6, 1.5), "judged; built over months: county extension (n.d., seen)"),
    row(C::Small, Q::Rise, Above, (6.0, 3.0), (0.8, 1.6), "judged; warm in the middle only: county extension (n.d., seen)"),
    row(C::Small, Q::Water, Within(14.0), (54.0, 4.0), (0.3, 1.1), SQUEEZE),
    row(C::Small, Q::CarbonNitrogen, Within(12.0), (30.0, 4.0), (0.5, 1.1), SQUEEZE),
    row(C::Finished, Q::Recognisable, Below, (15.0, 5.0), (0.1, 8.0), JUDGED),
    row(C::Finished, Q::SinceFeed, Above, (40.0, 8.0), (0.3, 2.0), JUDGED),
    row(C::Spent, Q::DaysHot, Above, (7.0, 2.5), (0.5, 2.0), JUDGED),
    row(C::Spent, Q::SinceFeed, Above, (14.0, 4.0), (0.3, 2.2), JUDGED),
    row(C::Spent, Q::Water, Within(14.0), (54.0, 4.0), (0.4, 1.2), SQUEEZE),
    row(C::RichLoad, Q::Share(G::Grass), Above, (20.0, 6.0), (0.8, 1.8), JUDGED),
    row(C::RichLoad, Q::Share(G::Manure), Above, (20.0, 6.0), (0.9, 1.6), JUDGED),
    row(C::RichLoad, Q::CarbonNitrogen, Below, (30.0, 4.0), (0.6, 1.4), JUDGED),
    row(C::Sun, Q::Air, Above, (24.0, 3.0), (0.3, 2.0), JUDGED),
    row(C::WetFines, Q::Water, Above, (58.0, 4.0), (0.4, 1.6), JUDGED),
    row(C::WetFines, Q::Clumped, Above, (10.0, 4.0), (0.7, 1.5), JUDGED),
    row(C::OverTurned, Q::SinceTurn, Below, (1.5, 0.5), (0.7, 1.5), JUDGED),
    row(C::Exposed, Q::Share(G::Fruit), Above, (20.0, 6.0), (0.9, 1.5), JUDGED),
    row(C::CaddySource, Q::SinceFeed, Above, (4.0, 1.0), (0.7, 1.5), JUDGED),
    row(C::SoldierFly, Q::Air, Above, (19.0, 2.5), (0.3, 1.3), "seen as anecdote: 21 to 32 °C; width judged"),
    row(C::HouseFly, Q::Share(G::Meat), Above, (3.0, 1.5), (0.7, 5.0), "judged; Klickitat County, n.d., seen"),
    row(C::HouseFly, Q::Share(G::Cooked), Above, (5.0, 2.0), (0.8, 3.0), JUDGED),
    row(C::Nest, Q::SinceTurn, Above, (10.0, 3.0), (0.5, 4.0), JUDGED),
    row(C::Cooked, Q::Share(G::Cooked), Above, (3.0, 1.5), (0.7, 3.0), "judged; Test Valley Borough Council, n.d., seen"),
    row(C::Cooked, Q::Share(G::Meat), Above, (2.0, 1.0), (0.8, 3.0), "judged; Klickitat County, n.d., seen"),
    row(C::Cooked, Q::Share(G::Bread), Above, (3.0, 1.5), (0.7, 2.5), "judged; Test Valley Borough Council, n.d., seen"),
    row(C::NormalMould, Q::Water, Within(16.0), (54.0, 4.0), (0.7, 1.1), SQUEEZE),
    row(C::MouldyFood, Q::Share(G::Bread), Above, (10.0, 4.0), (0.8, 5.0), JUDGED),
    row(C::MouldyFood, Q::Share(G::Cooked), Above, (10.0, 4.0), (0.8, 4.0), JUDGED),
    row(C::KeptSeed, Q::DaysHot, Below, (4.0, 1.5), (0.5, 1.2), JUDGED),
    row(C::WeedSeed, Q::Share(G::Weeds), Above, (10.0, 4.0), (0.7, 5.0), JUDGED),
    row(C::BlownIn, Q::SinceFeed, Above, (60.0, 12.0), (0.5, 3.0), JUDGED),
    row(C::IceBlock, Q::Water, Above, (63.0, 3.0), (0.4, 4.0), NRAES),
    row(C::SteadyFeeding, Q::SinceFeed, Below, (7.0, 1.5), (0.2, 2.2), JUDGED),
    row(C::WetScraps, Q::Share(G::Juicy), Above, (30.0, 8.0), (0.8, 1.5), JUDGED),
    row(C::HeldLong, Q::SinceFeed, Above, (3.5, 0.8), (0.4, 2.0), "judged; every 2 to 3 days: Lake Macquarie City Council 2019, seen"),
    row(C::HeldLong, Q::Air, Above, (18.0, 3.0), (0.8, 1.4), JUDGED),
    row(C::CaddyShut, Q::Share(G::Coffee), Above, (20.0, 6.0), (0.8, 2.0), "judged; St Helens Council, n.d., seen: let hot grounds cool"),
    row(C::Fishy, Q::Share(G::Meat), Above, (2.0, 1.0), (0.3, 8.0), "judged; City of Beaverton, n.d., seen"),
    row(C::CaddyOpen, Q::Air, Above, (18.0, 3.0), (0.6, 1.4), "judged; Somerset Waste Partnership 2016, seen: faster in the heat"),
    row(C::CameWithFruit, Q::Share(G::Fruit), Above, (30.0, 8.0), (0.6, 3.0), JUDGED),
];

/// Weights of the low, middle and high point in a mean (Keefer & Bodily 1983, recalled).
const POINTS: [f64; 3] = [0.185, 0.630, 0.185];

fn turn(z: f64) -> f64 {
    1.0 / (1.0 + (-z).exp())
}

impl Factor {
    /// Multiplier at one value.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        let share = match self.side {
            Above => turn((x - self.at) / self.width),
            Below => turn((self.at - x) / self.width),
            Within(reach) => {
                let z = |edge: f64| edge / self.width;
                turn(z(x - self.at + reach)) * turn(z(self.at + reach - x))
            }
        };
        self.least * (self.most / self.least).powf(share)
    }

    /// Multiplier of a value with its doubt.
    #[must_use]
    pub fn over(&self, s: Spread) -> f64 {
        [s.low, s.mid, s.high]
            .into_iter()
            .zip(POINTS)
            .map(|(x, weight)| weight * self.at(x))
            .sum()
    }
}

/// Rows of a cause for which something is known, each with its multiplier.
pub fn known(cause: C, evidence: &Evidence) -> impl Iterator<Item = (&'static Factor, f64)> {
    FACTORS
        .iter()
        .filter(move |f| f.cause == cause)
        .filter_map(|f| Some((f, f.over(evidence.get(f.quantity)?))))
}
