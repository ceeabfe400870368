//! Vessels: a chamber of a drum, a bin on open ground, a heap.
//!
//! UA per m² of shell: 1/(1/18 + 0.003/0.45 + 0.08/0.35) = 3.4 W/m² K for 3 mm plastic and 8 cm of compost
//! (films and conductivities recalled); prior 3.0. Insulation multiplies it (× 0.3–0.4 for 3–5 cm of foam, by
//! the same sum). Wall: 3 kJ/K to the core and 8 kJ/K to the shell per m² (choice; HDPE 1.9 kJ/kg K).
//! Drain 0.03/d in a closed drum, 0.2/d on open floor (choice). Vents 1 = a drum with two grilles.

use serde::{Deserialize, Serialize};
use units::{OutOfRange, Range};

use super::drivers;

/// What kind of vessel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A chamber that is turned whole.
    Drum,
    /// A bin with an open floor.
    Bin,
    /// A heap without walls.
    Heap,
}

/// A vessel as a household describes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vessel {
    /// What kind.
    pub kind: Kind,
    /// Litres of one chamber.
    pub litres: f64,
    /// Outer surface of the chamber, m²; from the volume if not given.
    pub surface: Option<f64>,
    /// Factor on the loss of heat: 1 bare, 0.35 well insulated.
    pub insulation: f64,
    /// Absorptance of the wall: 0.92 black, 0.8 grey or green, 0.4 light.
    pub absorptance: f64,
    /// Sun on it: 1 in the open, 0.5 half a day, 0.1 under a roof or in shade.
    pub sun: f64,
    /// Vents against a usual drum.
    pub vents: f64,
    /// Whether rain falls in.
    pub open_top: bool,
}

const fn row(name: &'static str, unit: &'static str, least: f64, most: f64) -> Range {
    Range {
        name,
        unit,
        least,
        most,
    }
}

/// Litres of a vessel.
pub const LITRES: Range = row("volume of the vessel", "L", 1.0, 5_000.0);
/// Factor on the loss of heat.
pub const INSULATION: Range = row("insulation (share of the heat loss left)", "", 0.05, 1.5);
/// Absorptance.
pub const ABSORPTANCE: Range = row("absorptance", "", 0.0, 1.0);
/// Sun.
pub const SUN: Range = row("sun", "", 0.0, 1.5);
/// Vents.
pub const VENTS: Range = row("vents against a usual drum", "", 0.05, 20.0);
/// Surface.
pub const SURFACE: Range = row("surface of the vessel", "m²", 0.05, 60.0);

impl Default for Vessel {
    fn default() -> Self {
        Self {
            kind: Kind::Drum,
            litres: 106.0,
            surface: None,
            insulation: 1.0,
            absorptance: 0.92,
            sun: 1.0,
            vents: 1.0,
            open_top: false,
        }
    }
}

impl Vessel {
    /// One chamber of a drum: litres, and outer surface in m² with its share of both ends; inner walls lose
    /// no heat to the air. Length and diameter in metres, walls thin.
    #[must_use]
    pub fn chamber(length: f64, diameter: f64, chambers: f64) -> (f64, f64) {
        let end = std::f64::consts::PI * diameter * diameter / 4.0;
        let side = std::f64::consts::PI * diameter * length;
        (
            1000.0 * end * length / chambers,
            (side + 2.0 * end) / chambers,
        )
    }

    /// Checks every number against its row.
    ///
    /// # Errors
    /// [`OutOfRange`] names the number, its value and the range.
    pub fn check(&self) -> Result<(), OutOfRange> {
        LITRES.check(self.litres)?;
        INSULATION.check(self.insulation)?;
        ABSORPTANCE.check(self.absorptance)?;
        SUN.check(self.sun)?;
        VENTS.check(self.vents)?;
        if let Some(surface) = self.surface {
            SURFACE.check(surface)?;
        }
        Ok(())
    }

    /// Outer surface, m²: as given, or 1.0 m² at 106 L scaled by volume^⅔ (a 0.6 × 0.375 m chamber).
    #[must_use]
    pub fn surface(&self) -> f64 {
        self.surface
            .unwrap_or_else(|| (self.litres / 106.0).powf(2.0 / 3.0))
    }

    /// Share of the rain on its opening that gets in, m² of opening.
    #[must_use]
    pub fn opening(&self) -> f64 {
        if self.open_top {
            self.surface() / 4.0
        } else {
            0.0
        }
    }

    /// Drain rate at the middle of its prior, 1/d.
    #[must_use]
    pub fn drain(&self) -> f64 {
        match self.kind {
            Kind::Drum => 0.03,
            Kind::Bin | Kind::Heap => 0.2,
        }
    }

    /// As the equations see it.
    #[must_use]
    pub fn driven(&self) -> drivers::Vessel {
        let surface = self.surface();
        let walled: f64 = if self.kind == Kind::Heap { 0.1 } else { 1.0 };
        drivers::Vessel {
            volume: self.litres / 1000.0,
            per_fill: (90.0 / self.litres).powf(2.0 / 3.0),
            surface,
            wall_core: 3e-3 * surface * walled,
            wall_shell: 8e-3 * surface * walled,
            root_insulation: self.insulation.sqrt(),
        }
    }
}
