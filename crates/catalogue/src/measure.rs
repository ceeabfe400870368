//! What a hand, a caddy or "one of them" holds.

use units::Spread;

/// A count or container with a weight, a volume or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// Id, kebab-case.
    pub id: String,
    /// Spoken name.
    pub name: String,
    /// Material it holds; empty for a bare container.
    pub material: Option<String>,
    /// Unit word: each, handful, brew, slice, L…
    pub unit: String,
    /// Grams of one.
    pub grams: Option<Spread>,
    /// Litres of one, as it lies.
    pub litres: Option<f64>,
    /// Source ids.
    pub source: Vec<String>,
    /// Row or reasoning.
    pub place: String,
}

/// A food as bought, and the share of it that becomes scraps.
#[derive(Debug, Clone, PartialEq)]
pub struct Bought {
    /// Food word, normalised.
    pub word: String,
    /// Material of its scraps.
    pub material: String,
    /// Nutrient databank number.
    pub ndb: String,
    /// Share thrown away, per cent of the food as bought.
    pub refuse_pct: f64,
    /// Weight of one as bought, grams.
    pub each_g: Option<f64>,
}
