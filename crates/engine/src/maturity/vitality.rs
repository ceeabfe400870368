//! Vitality index of cress grown in compost: MLV % = Σ(GRᵢ·RLᵢ) / (n·GRc·RLc) · 100.
//!
//! GR germination, RL mean root length of each dish and of the control (EN 16086-2, formula recalled). The limit of
//! 80 for pots is judged, as for the germination index.

use super::fault::{Fault, within};
use super::germination::ROOT_MM;
use super::{Passes, sure};

/// Germination of one dish, %, and its mean root, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dish {
    /// Germination, %.
    pub germination: f64,
    /// Mean root, mm.
    pub root_mm: f64,
}

/// The index of some dishes against a control.
///
/// # Errors
/// A number that cannot be; a control below 80 %; no dish.
pub fn index(dishes: &[Dish], control: Dish) -> Result<f64, Fault> {
    within("control", control.germination, (80.0, 100.0), "%")?;
    within("control root", control.root_mm, (1.0, ROOT_MM.1), "mm")?;
    if dishes.is_empty() {
        return Err(Fault::NoSeeds { what: "seeds" });
    }
    for dish in dishes {
        within("seeds", dish.germination, (0.0, 100.0), "%")?;
        within("root", dish.root_mm, ROOT_MM, "mm")?;
    }
    let sum: f64 = dishes.iter().map(|d| d.germination * d.root_mm).sum();
    let against = dishes.len() as f64 * control.germination * control.root_mm;
    Ok(100.0 * sum / against)
}

/// What an index says of each rung.
#[must_use]
pub fn passes(index: f64) -> Passes {
    [
        None,
        None,
        sure(index >= 50.0),
        sure(index >= 80.0),
        sure(index >= 80.0),
    ]
}
