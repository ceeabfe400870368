//! Quantities, ranges and figures: the words in which every other room speaks of numbers.
//!
//! Nothing here knows a material, a file or a clock. A number that leaves this crate carries its
//! unit (a newtype), what it may be (a [`Range`] row) or how well it is known (a [`Figure`] with its
//! source, a [`Spread`] with its doubt).

mod figure;
mod quantity;
mod range;
mod spread;

pub use figure::{Figure, Grade};
pub use quantity::{KgPerCubicMetre, Kilograms, Litres, Share};
pub use range::{OutOfRange, Range, ranges};
pub use spread::{Spread, round_to_doubt};
