//! How much of what brings a mix into the windows.
//!
//! # The problem
//! Given the parts already there and candidates i with parts per kilogram, find q_i ≥ 0, at most the stock
//! s_i. Totals W (water), D (dry), C, N, F (litres filled), V (loose litres) are linear in q. At slack t ≥ 0:
//!
//! ```text
//! water:  (lo_w − t·Δlo_w)(W+D) ≤ W ≤ (hi_w + t·Δhi_w)(W+D)
//! C:N:    (lo_r − t·Δlo_r) N    ≤ C ≤ (hi_r + t·Δhi_r) N
//! air:    F ≤ (1 − lo_f + t·Δlo_f) · packing · V
//! ```
//! with Δ the distance from the window's edge to the outer limit: t = 0 is inside every window, t = 1 is at
//! an outer limit. Stage 1: least t* (bisection over linear programs; each row is linear at fixed t).
//! Stage 2: t and q that minimise t + Σq/Q₀, Q₀ the mass already there, over t from t* to 1. Without it a
//! dose may swamp what it doses: 75 kg of grass and 27 kg of paper bring 2 kg of scraps right. Weighing one
//! step outside the windows against the base's own mass again is a choice.
//! Stage 3: the corner of the whole-handful lattice around the answer with the least t, then the least mass.
//! Outcome: t* > 1 cannot; t = 0 meets; otherwise compromise.
//!
//! Both stages scale with the base: half the scraps, half the dose, the same materials, until a stock binds.

mod exact;
mod problem;
mod solve;
mod windows;

pub use exact::{Target, exact};
pub use problem::{Candidate, Problem};
pub use solve::{Answer, Cause, Outcome, solve};
pub use windows::{Limit, Window, Windows};
