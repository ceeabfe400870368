//! Readings that sharpen a forecast: `docs/readings.md` says how, how well, and where it is weak.
//!
//! [`learn`] takes a plan, the members' rows of standard normals with their weather, and readings; it gives rows that
//! agree with the readings, and their forecast. [`screen`] sets readings aside that cannot be; [`worth`] says which
//! reading would help most now; [`carry`] takes what was learnt of the drum to its next batch; [`score`] and
//! [`stretch`] measure past forecasts and widen the next; [`moved`] says what moved a date; [`referee`] is the
//! slow second method, for studies. Pure: seed in, same answer out.

pub mod carry;
mod learnt;
pub mod moved;
pub mod normal;
pub mod observe;
pub mod probe;
pub mod reading;
pub mod referee;
pub mod score;
pub mod screen;
pub mod smells;
pub mod smoother;
pub mod stretch;
pub mod worth;

pub use learnt::{
    Fit, Learnt, ModelError, NotLearnt, Settings, covariance, learn, members, thinned,
};
pub use reading::{Card, Kind, Reading, Seen, Smell, Warmth};
