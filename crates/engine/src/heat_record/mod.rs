//! What logged temperatures say of heat: hours, a weighted hour, turnings, and published criteria beside them.
//!
//! Logged readings only, never the simulated course. Straight lines join readings at most a day apart; longer gaps
//! are unknown. Core and shell are two courses; where the shell was not read, nothing is claimed for it.
//! Nothing here says that compost is free of germs: time at a temperature is seldom the limit, the cold zone is.

pub mod bands;
pub mod course;
pub mod hours;
pub mod record;
pub mod turns;
pub mod yardstick;

pub use course::{Course, Place, Reading};
pub use record::{Record, record};
pub use yardstick::{Met, Yardstick};
