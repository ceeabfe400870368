//! Composting as pure functions: the same input and seed give the same answer, bit for bit.
//!
//! No clock, no unseeded randomness, no files, no sentences for people. [`blend`] says what a mix is,
//! [`dose`] how much of what brings it into the windows, [`climate`] what air and sun do around the drum.

pub mod assimilate;
pub mod batch;
pub mod blend;
pub mod climate;
pub mod diagnosis;
pub mod dose;
pub mod ensemble;
pub mod forecast;
pub mod heat_record;
pub mod maturity;
pub mod season;
