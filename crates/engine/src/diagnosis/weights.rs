//! How often a symptom has each cause: shares, all of them judged.
//!
//! They follow the order in which extension texts name causes, not a count of batches. Each symptom sums
//! to one. "Too dry or cold" stands as two rows where the texts give one (0.50 split 0.30 and 0.20).

use super::cause::Cause as C;
use super::symptom::Symptom as S;

/// A row: what is noticed, why, how often, and who names the cause.
pub type Row = (S, C, f64, &'static str);

const EXT: &str = "judged; cause: Troubleshooting Compost Piles (county extension, n.d.) and BioCycle troubleshooting, both seen";
const USE: &str = "judged; cause: common practice";
const NOTE: &str = "judged; cause: gardening columns, seen as anecdote";

/// Every row. A chamber's rows first, the caddy's last.
#[rustfmt::skip]
pub const WEIGHTS: &[Row] = &[
    (S::Ammonia, C::LowCn, 0.60, EXT),
    (S::Ammonia, C::HotAlkaline, 0.20, USE),
    (S::Ammonia, C::DryHot, 0.15, "judged; cause: BioCycle troubleshooting, seen: water holds ammonia"),
    (S::Ammonia, C::Urine, 0.05, USE),
    (S::Rotten, C::Wet, 0.55, EXT),
    (S::Rotten, C::Overfull, 0.20, USE),
    (S::Rotten, C::Matted, 0.15, USE),
    (S::Rotten, C::HeldLong, 0.10, USE),
    (S::MustyGrey, C::Dry, 0.80, EXT),
    (S::MustyGrey, C::Finished, 0.20, USE),
    (S::Slimy, C::Wet, 0.60, EXT),
    (S::Slimy, C::Condensation, 0.20, USE),
    (S::Slimy, C::Rain, 0.10, USE),
    (S::Slimy, C::Matted, 0.10, USE),
    (S::Dripping, C::Wet, 0.75, EXT),
    (S::Dripping, C::Condensation, 0.15, USE),
    (S::Dripping, C::JuicyLoad, 0.10, USE),
    (S::DryUnchanged, C::Dry, 0.60, EXT),
    (S::DryUnchanged, C::HighCn, 0.25, EXT),
    (S::DryUnchanged, C::Coarse, 0.10, USE),
    (S::DryUnchanged, C::Cold, 0.05, USE),
    (S::Clumps, C::WetFines, 0.65, NOTE),
    (S::Clumps, C::OverTurned, 0.20, USE),
    (S::Clumps, C::Finished, 0.15, USE),
    (S::Mould, C::NormalMould, 0.85, USE),
    (S::Mould, C::DryHot, 0.10, USE),
    (S::Mould, C::MouldyFood, 0.05, "judged; cause: Merck Veterinary Manual, seen"),
    (S::LevelStays, C::Dry, 0.30, USE),
    (S::LevelStays, C::HighCn, 0.30, USE),
    (S::LevelStays, C::Cold, 0.20, USE),
    (S::LevelStays, C::SteadyFeeding, 0.20, USE),
    (S::Shells, C::Eggshell, 0.75, NOTE),
    (S::Shells, C::Stones, 0.25, USE),
    (S::Seedlings, C::KeptSeed, 0.70, "judged; cause: Ryckeboer, Cops & Coosemans 2002, seen: tomato seed in backyard bins"),
    (S::Seedlings, C::WeedSeed, 0.20, USE),
    (S::Seedlings, C::BlownIn, 0.10, USE),
    (S::NotHeating, C::Small, 0.35, EXT),
    (S::NotHeating, C::Dry, 0.20, EXT),
    (S::NotHeating, C::Wet, 0.15, EXT),
    (S::NotHeating, C::HighCn, 0.15, EXT),
    (S::NotHeating, C::Cold, 0.10, NOTE),
    (S::NotHeating, C::Finished, 0.05, EXT),
    (S::HeatsThenStops, C::Airless, 0.30, EXT),
    (S::HeatsThenStops, C::Dry, 0.30, EXT),
    (S::HeatsThenStops, C::Spent, 0.25, EXT),
    (S::HeatsThenStops, C::HighCn, 0.10, USE),
    (S::HeatsThenStops, C::Cold, 0.05, USE),
    (S::TooHot, C::RichLoad, 0.55, USE),
    (S::TooHot, C::Sun, 0.30, USE),
    (S::TooHot, C::Probe, 0.15, USE),
    (S::Frozen, C::Cold, 0.80, NOTE),
    (S::Frozen, C::IceBlock, 0.20, USE),
    (S::FruitFlies, C::Exposed, 0.60, USE),
    (S::FruitFlies, C::CaddySource, 0.25, USE),
    (S::FruitFlies, C::Wet, 0.15, NOTE),
    (S::Larvae, C::SoldierFly, 0.80, NOTE),
    (S::Larvae, C::HouseFly, 0.20, NOTE),
    (S::Ants, C::Dry, 0.75, NOTE),
    (S::Ants, C::Residues, 0.15, USE),
    (S::Ants, C::Nest, 0.10, USE),
    (S::Rodents, C::Cooked, 0.45, EXT),
    (S::Rodents, C::Gaps, 0.30, USE),
    (S::Rodents, C::Spilled, 0.25, "judged; cause: town ordinances (Hammond 94.023), seen"),
    (S::CaddyJuice, C::WetScraps, 0.55, "judged; cause: City of Ventura FAQ 495, n.d., and Seattle Public Utilities 2014, both seen"),
    (S::CaddyJuice, C::HeldLong, 0.30, USE),
    (S::CaddyJuice, C::CaddyShut, 0.15, USE),
    (S::CaddySmell, C::HeldLong, 0.55, "judged; cause: Lake Macquarie City Council 2019 and Seattle Public Utilities 2014, both seen"),
    (S::CaddySmell, C::Fishy, 0.20, "judged; cause: City of Beaverton FAQ 575, n.d., seen"),
    (S::CaddySmell, C::CaddyWet, 0.15, "judged; cause: Schwarz & Bonhotal, Cornell, Composting at Home, n.d., seen"),
    (S::CaddySmell, C::CaddyDirty, 0.10, "judged; cause: Prince George's County FAQ 1135, n.d., seen"),
    (S::CaddyFlies, C::CaddyOpen, 0.45, "judged; cause: Somerset Waste Partnership 2016, seen"),
    (S::CaddyFlies, C::HeldLong, 0.35, USE),
    (S::CaddyFlies, C::CameWithFruit, 0.20, USE),
    (S::CaddyLid, C::CaddyShut, 0.60, "judged; cause: St Helens Council caddy tips, n.d., seen"),
    (S::CaddyLid, C::HeldLong, 0.30, USE),
    (S::CaddyLid, C::CaddyDirty, 0.10, USE),
];

/// Causes of a symptom, with their shares.
pub fn of(symptom: S) -> impl Iterator<Item = (C, f64)> {
    WEIGHTS
        .iter()
        .filter(move |row| row.0 == symptom)
        .map(|row| (row.1, row.2))
}
