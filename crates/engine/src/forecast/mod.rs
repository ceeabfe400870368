//! From an ensemble to what a gardener asks: when, for what, how sure, and what would move it.

pub mod rungs;
