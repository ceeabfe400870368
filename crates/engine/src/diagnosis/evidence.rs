//! What is known of the chamber or the caddy besides the symptom.

use units::Spread;

named! {
    /// Kinds of things that went in lately and speak for a cause.
    Group {
        /// Fresh or wilted grass.
        Grass = "grass",
        /// Coffee grounds and tea.
        Coffee = "coffee",
        /// Manure and litter.
        Manure = "manure",
        /// Bread and other starch.
        Bread = "bread",
        /// Cooked leftovers.
        Cooked = "cooked",
        /// Meat, fish and dairy.
        Meat = "meat",
        /// Fruit.
        Fruit = "fruit",
        /// Melon, tomato, cucumber and mixed kitchen scraps: 85 % water and more.
        Juicy = "juicy",
        /// Ash and lime.
        Ash = "ash",
        /// Weeds.
        Weeds = "weeds",
    }
}

/// A quantity that a row of the likelihoods looks at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Water, % of wet mass: a squeeze, else the simulation.
    Water,
    /// Carbon to nitrogen.
    CarbonNitrogen,
    /// Free air space, %.
    AirSpace,
    /// Least oxygen of the day, vol-%.
    Oxygen,
    /// Share in wet clumps, %.
    Clumped,
    /// Core, °C.
    Core,
    /// Air now, °C.
    Air,
    /// Core above air, K.
    Rise,
    /// Volume, L.
    Litres,
    /// Level, % of the chamber.
    Level,
    /// Days at 40 °C and above so far.
    DaysHot,
    /// Days since it was last turned.
    SinceTurn,
    /// Days since something last went in.
    SinceFeed,
    /// Days from the first feed to the last.
    FilledOver,
    /// Card and stalk still to be recognised, %.
    Recognisable,
    /// Share of the last additions, % of wet mass.
    Share(Group),
}

impl Quantity {
    /// As in JSON.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Water => "water_pct",
            Self::CarbonNitrogen => "cn",
            Self::AirSpace => "air_space_pct",
            Self::Oxygen => "oxygen_pct",
            Self::Clumped => "clumped_pct",
            Self::Core => "core_c",
            Self::Air => "air_c",
            Self::Rise => "rise_k",
            Self::Litres => "litres",
            Self::Level => "level_pct",
            Self::DaysHot => "days_ge_40",
            Self::SinceTurn => "days_since_turn",
            Self::SinceFeed => "days_since_feed",
            Self::FilledOver => "filled_over_days",
            Self::Recognisable => "recognisable_pct",
            Self::Share(group) => group.as_str(),
        }
    }
}

/// What is known; `None` says nothing. Percentages as in [`Quantity`].
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Evidence {
    /// Water, % of wet mass.
    pub water_pct: Option<Spread>,
    /// Carbon to nitrogen.
    pub cn: Option<Spread>,
    /// Free air space, %.
    pub air_space_pct: Option<Spread>,
    /// Least oxygen of the day, vol-%.
    pub oxygen_pct: Option<Spread>,
    /// Share in wet clumps, %.
    pub clumped_pct: Option<Spread>,
    /// Core, °C.
    pub core_c: Option<Spread>,
    /// Air now, °C.
    pub air_c: Option<Spread>,
    /// Volume, L.
    pub litres: Option<Spread>,
    /// Level, % of the chamber.
    pub level_pct: Option<Spread>,
    /// Days at 40 °C and above so far.
    pub days_ge_40: Option<Spread>,
    /// Days since it was last turned.
    pub days_since_turn: Option<f64>,
    /// Days since something last went in.
    pub days_since_feed: Option<f64>,
    /// Days from the first feed to the last.
    pub filled_over_days: Option<f64>,
    /// Card and stalk still to be recognised, %.
    pub recognisable_pct: Option<Spread>,
    /// Shares of the last additions, % of wet mass; a group that is not listed is not known.
    pub shares: Vec<(Group, f64)>,
    /// Whether the chamber is closed: nothing new goes in.
    pub closed: bool,
}

impl Evidence {
    /// A quantity, if it is known.
    #[must_use]
    pub fn get(&self, quantity: Quantity) -> Option<Spread> {
        match quantity {
            Quantity::Water => self.water_pct,
            Quantity::CarbonNitrogen => self.cn,
            Quantity::AirSpace => self.air_space_pct,
            Quantity::Oxygen => self.oxygen_pct,
            Quantity::Clumped => self.clumped_pct,
            Quantity::Core => self.core_c,
            Quantity::Air => self.air_c,
            Quantity::Rise => self.core_c.zip(self.air_c).map(|(core, air)| {
                Spread::new(core.low - air.mid, core.mid - air.mid, core.high - air.mid)
            }),
            Quantity::Litres => self.litres,
            Quantity::Level => self.level_pct,
            Quantity::DaysHot => self.days_ge_40,
            Quantity::SinceTurn => self.days_since_turn.map(Spread::exact),
            Quantity::SinceFeed => self.days_since_feed.map(Spread::exact),
            Quantity::FilledOver => self.filled_over_days.map(Spread::exact),
            Quantity::Recognisable => self.recognisable_pct,
            Quantity::Share(group) => self
                .shares
                .iter()
                .find(|(g, _)| *g == group)
                .map(|(_, share)| Spread::exact(*share)),
        }
        .filter(|s| s.is_finite())
    }
}
