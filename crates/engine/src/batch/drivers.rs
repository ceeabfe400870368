//! What acts on the batch from outside at one moment, and the vessel that it stands in.

/// Air and sun at one moment, and where the batch stands since it was turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drivers<R> {
    /// Air temperature, °C.
    pub air: R,
    /// Sol-air temperature of the shell, °C.
    pub sol_air: R,
    /// Humidity ratio of the air outside, kg/kg dry air.
    pub humidity: R,
    /// Rain into the batch, kg/d.
    pub rain: R,
    /// 1 − e^(−t/4 d), t time since the last turning: how far it has settled, 0 to 1.
    pub settled: f64,
}

impl<R: super::lanes::Real> Drivers<R> {
    /// Between this moment and the next, in proportion.
    #[inline(always)]
    pub fn towards(&self, next: &Self, share: f64) -> Self {
        Self {
            air: self.air + (next.air - self.air) * share,
            sol_air: self.sol_air + (next.sol_air - self.sol_air) * share,
            humidity: self.humidity + (next.humidity - self.humidity) * share,
            rain: self.rain,
            settled: self.settled + (next.settled - self.settled) * share,
        }
    }
}

/// The vessel. Ranges are rows in `batch::vessel`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vessel {
    /// Volume of the chamber, m³.
    pub volume: f64,
    /// (0.09/volume)^⅔.
    pub per_fill: f64,
    /// Outer surface, m².
    pub surface: f64,
    /// Heat capacity of the wall felt by the core, MJ/K.
    pub wall_core: f64,
    /// Heat capacity of the wall felt by the shell, MJ/K.
    pub wall_shell: f64,
    /// √ of the factor by which insulation lowers the loss: it evens core and shell.
    pub root_insulation: f64,
}
