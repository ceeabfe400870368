//! What does not change while a batch runs: the parameters of one member, or of a pack of members.

use super::lanes::Real;
use super::record::record;

record! {
    /// Parameters; names, units, priors and sources stand in `ensemble::prior`.
    Params {
        /// Decay at 20 °C of sugars, starch, protein, fat, pectin, 1/d.
        k_r,
        /// Decay at 20 °C of cellulose and hemicellulose, 1/d.
        k_c,
        /// Decay at 20 °C of lignin-like matter, 1/d.
        k_l,
        /// Share of lost matter that comes back as humus.
        humified,
        /// Lag of the microbes, d.
        lag,
        /// Share of the steep curve below 20 °C.
        cold_share,
        /// Temperature below which the cardinal curve is nought, °C.
        t_least,
        /// Temperature of fastest decay, °C.
        t_best,
        /// 1 / γ(20 °C) of the cardinal curve; follows from the two above.
        per_gamma20,
        /// Water that organic matter holds, kg/kg.
        holds,
        /// Drain rate of water above that, 1/d.
        drain,
        /// Clumps forming when water-logged, 1/d.
        clumping,
        /// Loss of heat from the full shell, MJ/(d K).
        ua,
        /// Heat between core and shell at 0.106 m³, MJ/(d K).
        g_core,
        /// Air through the vents at 20 K and 40 % air space, m³/d at 0.09 m³.
        vent,
        /// Share of the vapour that the shell returns.
        condensed,
        /// Mean view of the shell to the sun, times absorptance by outer film, K per W/m².
        sun_gain,
        /// Heat of oxygen used, MJ/kg.
        heat_o2,
        /// C:N above which nitrogen holds decay back.
        cn_critical,
        /// Factor on nitrogen losses.
        n_loss,
        /// Factor on the nitrogen of feeds.
        feed_n,
        /// Factor on the quick share of feeds.
        feed_quick,
        /// Points added to the water share of feeds.
        feed_wet,
    }
}

impl<R: Real> Params<R> {
    /// Sets what follows from the others.
    #[must_use]
    #[inline(always)]
    pub fn completed(mut self) -> Self {
        let one = self.k_r.of(1.0);
        self.per_gamma20 = one;
        self.per_gamma20 = one / super::limits::cardinal(one.of(20.0), &self).0;
        self
    }
}
