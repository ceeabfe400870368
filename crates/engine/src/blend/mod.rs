//! What a mix is: additive parts, and the ratios read off them.

mod draw;
mod mixture;
mod parts;

pub use mixture::{Lack, Mixture, Portion};
pub use parts::{PACKING, Parts, Point, biodegradable, free_air_space};
