//! The chambers through the year: will there be room, and what if not?
//!
//! [`course`] says what a week's worth of a usual mix comes to, by the month it goes in; [`inflow`] how much
//! goes in, week by week; [`problem`] states the year as it may turn out, [`mod@plan`] finds the change-over weeks.
//! The problem as written, its proof and the check against another solver: `docs/season.md`.

pub mod acts;
pub mod course;
pub mod inflow;
pub mod plan;
pub mod problem;

pub use acts::{Act, Ranked, ranked};
pub use course::{STRATA, Table, Typical};
pub use inflow::{Inflow, Weekly};
pub use plan::{Plan, as_now, follow, plan};
pub use problem::{Chambers, Course, Lot, Problem, Year};

/// Weeks looked ahead.
pub const WEEKS: usize = 52;
