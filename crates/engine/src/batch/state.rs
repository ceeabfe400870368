//! What changes while a batch runs.

use super::lanes::Real;
use super::record::record;

record! {
    /// Matter, microbes and running totals: everything that changes within hours or days. The totals are
    /// the ledger that the balances are closed against.
    Matter {
        /// Quick organic matter, kg.
        quick,
        /// Cellulose and hemicellulose, kg.
        cellulose,
        /// Lignin-like matter, kg.
        lignin,
        /// Humus formed here, kg.
        humus,
        /// Organic carbon, kg.
        carbon,
        /// Nitrogen in organic matter, kg.
        n_organic,
        /// Ammonium and nitrate, kg.
        n_mineral,
        /// Water, kg.
        water,
        /// How far the microbes have grown, 0 to 1.
        microbes,
        /// Share in water-logged clumps.
        clumped,
        /// Organic acids, kg; part of the quick matter.
        acids,
        /// Carbon gone into the air, kg.
        carbon_out,
        /// Nitrogen gone into the air, kg.
        n_air,
        /// Nitrogen drained, kg.
        n_drained,
        /// Water made by decay, kg.
        water_made,
        /// Water evaporated and gone, kg.
        water_air,
        /// Water drained, kg.
        water_drained,
        /// Organic matter lost, kg.
        lost,
        /// Oxygen used, kg.
        oxygen,
        /// Heat made, MJ.
        heat_made,
        /// Heat gone through the shell and with the air, MJ.
        heat_out,
    }
}

/// One member, or a pack of members.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct State<R> {
    /// Matter, microbes and totals.
    pub matter: Matter<R>,
    /// Core temperature, °C.
    pub core: R,
    /// Shell temperature, °C.
    pub shell: R,
    /// What only feeds, turnings and the like change.
    pub kept: Kept<R>,
}

record! {
    /// What changes only when something is done: put in, taken out, turned.
    Kept {
        /// Ash, kg.
        ash,
        /// Organic matter put in, less what was taken out, kg.
        organic_in,
        /// Cellulose put in, less what was taken out, kg.
        cellulose_in,
        /// Dry matter as put in over its own dry bulk density, m³.
        volume_in,
        /// Dry matter as put in, kg.
        dry_in,
        /// Factor of piece size on the decay of cellulose.
        pieces,
        /// Carbon put in, less taken out, kg.
        carbon_in,
        /// Nitrogen put in, less taken out, kg.
        nitrogen_in,
        /// Water put in, less taken out, kg.
        water_in,
        /// Wet matter put in, less taken out, kg.
        mass_in,
        /// Heat brought by what was put in, over 0 °C, less taken out, MJ.
        heat_in,
    }
}
