//! The batch: heat, water, oxygen, carbon, nitrogen and volume from hour to hour.
//!
//! One equation family a file. [`params`], [`state`], [`drivers`] and [`rates`] are records; [`rates::rates`]
//! computes and changes nothing, [`step`] (fast) and [`mod@reference`] (tight) apply, [`events`] is the only
//! other door. Kilograms, days, °C, MJ.

pub mod air;
pub mod balance;
pub mod carbon;
pub mod clump;
pub mod composed;
pub mod drivers;
pub mod events;
pub mod heat;
pub mod lanes;
pub mod limits;
pub mod machine;
pub mod nitrogen;
pub mod oxygen;
pub mod params;
pub mod rates;
pub mod readiness;
mod record;
pub mod reference;
pub mod state;
pub mod step;
pub mod substrate;
pub mod vessel;
pub mod volume;
pub mod water;
