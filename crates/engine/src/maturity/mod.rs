//! Tests of maturity a home can do: what each says, and what they say together with the forecast.
//!
//! One file for each test. [`verdict`] weighs them for each rung, [`next`] tells which one would tell most now.
//! `docs/ready.md` gives sources, odds and limits. Classes marked "recalled" were not seen in their publication.

pub mod ash;
pub mod bag;
pub mod ccqc;
pub mod cured;
pub mod fault;
pub mod germination;
pub mod interval;
pub mod jar;
pub mod next;
pub mod seed;
pub mod self_heating;
pub mod verdict;
pub mod vitality;

pub use fault::Fault;
pub use verdict::{Evidence, Group, Hold, Kind, Verdict};

/// For each rung, roughest first: how sure it is that a test was passed, 0 to 1; `None` where it says nothing.
pub type Passes = [Option<f64>; 5];

/// 1 or 0.
pub(crate) fn sure(passed: bool) -> Option<f64> {
    Some(if passed { 1.0 } else { 0.0 })
}
