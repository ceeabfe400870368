//! A material: its verdict, its role and its figures.

use std::fmt;

use serde::Serialize;
use units::{Figure, Spread};

use crate::composition::Composition;
use crate::food::{Food, Trim};

macro_rules! vocabulary {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
        pub enum $name { $($(#[$vdoc])* #[serde(rename = $word)] $variant,)* }
        impl $name {
            /// Every value, in order.
            pub const ALL: &[Self] = &[$(Self::$variant),*];
            /// As written in the data files and in JSON.
            pub fn as_str(self) -> &'static str { match self { $(Self::$variant => $word,)* } }
            /// Reads the word of the data files.
            pub fn parse(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|v| v.as_str() == word)
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result { f.write_str(self.as_str()) }
        }
    };
}

vocabulary! {
    /// What a material does in the mix.
    Role {
        /// Lately green and alive, or food: feeds the microbes.
        Feeds = "feeds",
        /// Dry carbon: soaks up water.
        Dries = "dries",
        /// Coarse: keeps paths for air.
        Opens = "opens",
        /// Minerals, water, or things that stay out.
        Neutral = "neutral",
    }
}

vocabulary! {
    /// Whether a material may go into a household drum.
    Verdict {
        /// Goes in.
        Yes = "yes",
        /// Goes in after the preparation named.
        Prepare = "prepare",
        /// Goes in up to its cap.
        ALittle = "a_little",
        /// Only into a batch that is measured hot.
        HotOnly = "hot_only",
        /// Rots, but not in a household drum.
        NotHere = "not_here",
        /// Stays out of any compost.
        Never = "never",
    }
}

vocabulary! {
    /// A property that a figure describes.
    Property {
        /// Water share of wet mass.
        Water = "water_pct",
        /// Organic carbon share of dry mass.
        Carbon = "carbon_pct_dry",
        /// Nitrogen share of dry mass.
        Nitrogen = "nitrogen_pct_dry",
        /// Carbon to nitrogen by mass.
        CarbonNitrogen = "cn",
        /// Bulk density as it lies.
        Density = "density_kg_m3",
        /// Ash share of dry mass.
        Ash = "ash_pct_dry",
        /// Lignin share of dry mass.
        Lignin = "lignin_pct_dry",
        /// Carbonate carbon share of dry mass.
        CarbonateCarbon = "carbonate_carbon_pct_dry",
    }
}

/// A distinct thing, by the part that reaches the caddy.
#[derive(Debug, Clone)]
pub struct Material {
    /// Stable id, kebab-case.
    pub id: String,
    /// Everyday name.
    pub name: String,
    /// What it does in the mix.
    pub role: Role,
    /// Whether it may go in.
    pub verdict: Verdict,
    /// Most share of the week's feed by wet mass, per cent.
    pub cap_pct: Option<f64>,
    /// 0 collapses, 1 holds a little, 2 holds the mix open.
    pub structure: u8,
    /// What to do to it first.
    pub preparation: String,
    /// What can go wrong, and for whom.
    pub caution: String,
    /// Its figures, one per property.
    pub figures: Vec<(Property, Figure)>,
    /// The food-table row behind it, if its composition is computed from one.
    pub food: Option<(Food, Trim)>,
    /// Whether the household's own figures stand in for the catalogue's.
    pub own: bool,
}

impl Material {
    /// The figure for a property, if there is one.
    pub fn figure(&self, property: Property) -> Option<&Figure> {
        self.figures
            .iter()
            .find(|(p, _)| *p == property)
            .map(|(_, f)| f)
    }

    /// A figure's three points, divided by `by`.
    pub(crate) fn spread(&self, property: Property, by: f64) -> Option<Spread> {
        self.figure(property)
            .map(|f| Spread::new(f.low / by, f.value / by, f.high / by))
    }

    /// Composition in shares, each with its spread.
    pub fn composition(&self) -> Composition {
        Composition::of(self)
    }
}

/// What one published list says of a material.
#[derive(Debug, Clone)]
pub struct VerdictList {
    /// Material id.
    pub material: String,
    /// Source id.
    pub source: String,
    /// What the list says, in our words.
    pub says: String,
    /// Whether it agrees with our verdict.
    pub agrees: bool,
    /// Why ours differs, where it does.
    pub why: String,
}
