//! Sol-air temperature: the air temperature that would warm a shell as sun and sky do.
//!
//! T_sa = T_a + α F I / h_o − s
//! - T_a air, °C; I global radiation on level ground, W/m²
//! - α absorptance, 0.92 (black plastic)
//! - F mean view of the whole shell to that radiation, 0.40 (a guess: spread 0.40 ×/÷ 1.35, lognormal)
//! - h_o outer film, 18 W/m²·K (12 calm to 25 in wind)
//! - s loss to the sky, ε ΔR / h_o, about 1 K averaged over a shell that sees half sky
//!
//! Form: ASHRAE Handbook, Fundamentals, chapter on fenestration and cooling load (recalled). F and h_o are
//! judged for a drum in the open; a shaded drum has F near 0.1 (judged). Wind is not followed by the hour.

/// How a shell meets sun and sky.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shell {
    /// α, share of the sun's radiation kept, 0 to 1.
    pub absorptance: f64,
    /// F, mean over the shell of received to level-ground radiation, 0 to 1.
    pub view: f64,
    /// h_o, W/m²·K.
    pub film: f64,
    /// s, K.
    pub sky_loss_k: f64,
}

impl Default for Shell {
    fn default() -> Self {
        Self {
            absorptance: 0.92,
            view: 0.40,
            film: 18.0,
            sky_loss_k: 1.0,
        }
    }
}

impl Shell {
    /// T_sa, °C, at an air temperature and a global irradiance, W/m².
    #[must_use]
    pub fn sol_air(&self, air_c: f64, irradiance: f64) -> f64 {
        air_c + self.absorptance * self.view * irradiance.max(0.0) / self.film - self.sky_loss_k
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_june_day_warms_a_black_drum_by_five_kelvin() {
        // 21 MJ/m²·d at 48° N in June is 243 W/m² through the day.
        let gain = Shell::default().sol_air(15.0, 21.0e6 / 86_400.0) + 1.0 - 15.0;
        assert!((gain - 5.0).abs() < 0.1, "{gain}");
    }

    #[test]
    fn a_black_surface_at_clear_noon_gains_25_to_30_kelvin() {
        let facing = Shell {
            view: 0.6,
            ..Shell::default()
        };
        let gain = facing.sol_air(20.0, 900.0) - 20.0;
        assert!((25.0..30.0).contains(&gain), "{gain}");
        let night = Shell::default().sol_air(5.0, 0.0);
        assert!((night - 4.0).abs() < 1e-12);
    }
}
