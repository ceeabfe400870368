//! Why it is so.

named! {
    /// A cause; "nothing is wrong" is one too: it is only cold, it is only small, that is how it should be.
    Cause {
        /// Too wet, and so short of air.
        Wet = "wet",
        /// Too dry.
        Dry = "dry",
        /// Too much nitrogen for its carbon.
        LowCn = "low_cn",
        /// Too little nitrogen for its carbon.
        HighCn = "high_cn",
        /// Hot and alkaline, or ash and lime went in.
        HotAlkaline = "hot_alkaline",
        /// Dry while it is hot.
        DryHot = "dry_hot",
        /// Litter with urine.
        Urine = "urine",
        /// Filled to the top: it cannot fall as it turns.
        Overfull = "overfull",
        /// Grass or food in mats and clods.
        Matted = "matted",
        /// Short of air.
        Airless = "airless",
        /// Drops fall from a shut lid or wall.
        Condensation = "condensation",
        /// Rain gets in.
        Rain = "rain",
        /// The last load was juicy.
        JuicyLoad = "juicy_load",
        /// Pieces too large, or coated card.
        Coarse = "coarse",
        /// It is only cold.
        Cold = "cold",
        /// It is only small, or fed a little at a time.
        Small = "small",
        /// It is done.
        Finished = "finished",
        /// Easy food is used up: the usual cooling.
        Spent = "spent",
        /// A large rich fresh load.
        RichLoad = "rich_load",
        /// Sun on the drum.
        Sun = "sun",
        /// The probe read the wall or the sun.
        Probe = "probe",
        /// Wet fines rolling up.
        WetFines = "wet_fines",
        /// Turned too long at a time.
        OverTurned = "over_turned",
        /// Fruit lies open at the surface.
        Exposed = "exposed",
        /// They come from the caddy.
        CaddySource = "caddy_source",
        /// Soldier flies: no cause to act.
        SoldierFly = "soldier_fly",
        /// House or blow flies.
        HouseFly = "house_fly",
        /// Sweet residues on the frame.
        Residues = "residues",
        /// A nest, left in peace.
        Nest = "nest",
        /// Cooked food, bread, meat or fat.
        Cooked = "cooked",
        /// Gaps they fit through.
        Gaps = "gaps",
        /// Scraps or seed lie about.
        Spilled = "spilled",
        /// Fungi and actinobacteria: normal.
        NormalMould = "normal_mould",
        /// Mouldy food on top.
        MouldyFood = "mouldy_food",
        /// Seed of food that lived through.
        KeptSeed = "kept_seed",
        /// Seed of weeds.
        WeedSeed = "weed_seed",
        /// Seed blown in while it rested.
        BlownIn = "blown_in",
        /// Eggshell: it takes years.
        Eggshell = "eggshell",
        /// Nutshells, stones, cobs.
        Stones = "stones",
        /// So wet that it froze to a block.
        IceBlock = "ice_block",
        /// New feed hides what is lost.
        SteadyFeeding = "steady_feeding",
        /// Juicy scraps on a bare floor of the caddy.
        WetScraps = "wet_scraps",
        /// The caddy was kept too long.
        HeldLong = "held_long",
        /// Warm wet scraps sweat under a shut lid.
        CaddyShut = "caddy_shut",
        /// Meat, fish or dairy.
        Fishy = "fishy",
        /// It stands in its juice.
        CaddyWet = "caddy_wet",
        /// A film on the wall.
        CaddyDirty = "caddy_dirty",
        /// The lid stood open.
        CaddyOpen = "caddy_open",
        /// They came with the fruit.
        CameWithFruit = "came_with_fruit",
    }
}

impl Cause {
    /// Whether nothing is wrong: time alone does it.
    #[must_use]
    pub fn nothing_wrong(self) -> bool {
        matches!(
            self,
            Self::Cold
                | Self::Small
                | Self::Finished
                | Self::Spent
                | Self::SoldierFly
                | Self::NormalMould
                | Self::Eggshell
                | Self::SteadyFeeding
        )
    }
}
