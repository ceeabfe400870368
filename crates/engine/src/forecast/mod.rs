//! From an ensemble to what a gardener asks: when, for what, how sure, and what would move it.

pub mod rungs;
pub mod turning;
pub mod window;

pub use rungs::{Limits, Rung};
pub use turning::Turning;
pub use window::Window;
