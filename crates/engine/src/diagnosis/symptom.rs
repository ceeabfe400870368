//! What a person notices.

named! {
    /// What is noticed, by nose, eye or hand.
    Symptom {
        /// It smells of ammonia.
        Ammonia = "ammonia",
        /// It smells of rotten eggs, or sour.
        Rotten = "rotten",
        /// Light and grey, without a smell, or musty.
        MustyGrey = "musty_grey",
        /// Wet and slimy.
        Slimy = "slimy",
        /// It drips.
        Dripping = "dripping",
        /// Dry, and as it was two weeks ago.
        DryUnchanged = "dry_unchanged",
        /// Balls or clumps.
        Clumps = "clumps",
        /// White threads or mould.
        Mould = "mould",
        /// Its level stays where it was.
        LevelStays = "level_stays",
        /// Shells and stones still to be seen.
        Shells = "shells",
        /// Seedlings come up.
        Seedlings = "seedlings",
        /// It does not get warm.
        NotHeating = "not_heating",
        /// It was warm and has stopped.
        HeatsThenStops = "heats_then_stops",
        /// Hotter than 65 °C.
        TooHot = "too_hot",
        /// Frozen.
        Frozen = "frozen",
        /// Clouds of tiny flies.
        FruitFlies = "fruit_flies",
        /// Maggots or larvae.
        Larvae = "larvae",
        /// Ants.
        Ants = "ants",
        /// Rats or mice.
        Rodents = "rodents",
        /// Juice at the bottom of the caddy.
        CaddyJuice = "caddy_juice",
        /// The caddy smells.
        CaddySmell = "caddy_smell",
        /// Flies or maggots at the caddy.
        CaddyFlies = "caddy_flies",
        /// Drops or mould on the lid of the caddy.
        CaddyLid = "caddy_lid",
    }
}

named! {
    /// Where one looks for a symptom first.
    Family {
        /// By the nose.
        Smell = "smell",
        /// By eye and hand.
        Look = "look",
        /// By warmth.
        Warmth = "warmth",
        /// Animals.
        Animals = "animals",
        /// The kitchen caddy.
        Caddy = "caddy",
    }
}

impl Symptom {
    /// Its family.
    #[must_use]
    pub fn family(self) -> Family {
        match self {
            Self::Ammonia | Self::Rotten | Self::MustyGrey => Family::Smell,
            Self::NotHeating | Self::HeatsThenStops | Self::TooHot | Self::Frozen => Family::Warmth,
            Self::FruitFlies | Self::Larvae | Self::Ants | Self::Rodents => Family::Animals,
            Self::CaddyJuice | Self::CaddySmell | Self::CaddyFlies | Self::CaddyLid => {
                Family::Caddy
            }
            _ => Family::Look,
        }
    }

    /// Whether it is about the caddy in the kitchen, not about a chamber.
    #[must_use]
    pub fn of_caddy(self) -> bool {
        self.family() == Family::Caddy
    }
}
