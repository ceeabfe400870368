//! How each published run is set up. What the publication says stands in `given`; everything else is guessed,
//! once, before the results were seen, and `guessed` says so.

use engine::batch::vessel::{Kind, Vessel};

/// Where it stood.
#[derive(Debug, Clone, Copy)]
pub enum Site {
    /// A town of the climate table.
    Town(&'static str),
    /// A room, °C.
    Room(f64),
}

/// What was put in.
#[derive(Debug, Clone, Copy)]
pub enum Feeds {
    /// All at once, kg.
    Once(f64),
    /// The same again and again.
    Every {
        /// kg each.
        kg: f64,
        /// Days between.
        days: f64,
        /// Not from this day on.
        until: f64,
    },
}

/// Composition of what was put in. Organic matter is half carbon.
#[derive(Debug, Clone, Copy)]
pub struct Mix {
    /// C:N.
    pub cn: f64,
    /// Water share of wet mass.
    pub water: f64,
    /// Ash share of dry mass.
    pub ash: f64,
    /// Quick, cellulose, lignin-like: shares of organic matter.
    pub pools: [f64; 3],
    /// Dry bulk density, kg/m³.
    pub density: f64,
}

/// One run.
#[derive(Debug, Clone, Copy)]
pub struct Case {
    /// Its id in validation.csv.
    pub study: &'static str,
    /// Place.
    pub site: Site,
    /// Month and day of the start.
    pub start: (u32, u32),
    /// Days until it is looked at.
    pub days: usize,
    /// Vessel.
    pub vessel: Vessel,
    /// Mix.
    pub mix: Mix,
    /// Feeds.
    pub feeds: Feeds,
    /// Days between turnings.
    pub turned: Option<f64>,
    /// What the publication says.
    pub given: &'static str,
    /// What is guessed.
    pub guessed: &'static str,
}

const fn vessel(kind: Kind, litres: f64, insulation: f64, sun: f64, vents: f64) -> Vessel {
    Vessel {
        kind,
        litres,
        surface: None,
        insulation,
        absorptance: 0.92,
        sun,
        vents,
        open_top: false,
    }
}

const fn mix(cn: f64, water: f64, pools: [f64; 3], density: f64) -> Mix {
    Mix {
        cn,
        water,
        ash: 0.1,
        pools,
        density,
    }
}

/// Food with leaves, wood or paper; food alone; garden waste; dung, vegetables and sawdust.
const FOOD_AND_DRY: [f64; 3] = [0.42, 0.41, 0.17];
const FOOD: [f64; 3] = [0.55, 0.32, 0.13];
const GARDEN: [f64; 3] = [0.35, 0.42, 0.23];
const DUNG_AND_SAWDUST: [f64; 3] = [0.40, 0.40, 0.20];

/// All runs.
pub const CASES: [Case; 14] = [
    Case {
        study: "KS2011",
        site: Site::Town("Chiang Mai"),
        start: (6, 1),
        days: 120,
        vessel: vessel(Kind::Bin, 200.0, 1.0, 0.1, 2.0),
        mix: mix(30.0, 0.62, FOOD_AND_DRY, 130.0),
        feeds: Feeds::Every {
            kg: 1.6,
            days: 1.0,
            until: 56.0,
        },
        turned: None,
        given: "200 L, 1.6 kg a day of food scraps and dry leaves until full, 120 d, Chiang Mai",
        guessed: "C:N 30, 62 % water, full after 56 d, under a roof, from 1 June, vents of two drums",
    },
    Case {
        study: "VK2014",
        site: Site::Town("Dhaka"),
        start: (2, 1),
        days: 20,
        vessel: vessel(Kind::Drum, 550.0, 1.0, 0.1, 2.0),
        mix: mix(24.0, 0.70, DUNG_AND_SAWDUST, 130.0),
        feeds: Feeds::Once(150.0),
        turned: Some(1.0),
        given: "550 L drum, 150 kg, C:N 24; vegetables, dung, sawdust 6:3:1; Guwahati",
        guessed: "70 % water, 20 d, turned daily, under a roof, from 1 February, air of Dhaka, vents of two drums",
    },
    Case {
        study: "G2019",
        site: Site::Town("Hyderabad, India"),
        start: (1, 1),
        days: 45,
        vessel: vessel(Kind::Drum, 80.0, 1.0, 0.1, 1.0),
        mix: mix(30.0, 0.60, FOOD_AND_DRY, 130.0),
        feeds: Feeds::Once(40.0),
        turned: Some(3.0),
        given: "80 L, 45 d, food and yard waste with bagasse, card or chips; 50 to 65 % water held; Warangal",
        guessed: "C:N 30, 60 % water at the start and none added, 40 kg, turned every 3 d, roof, from 1 January, air of Hyderabad",
    },
    Case {
        study: "MY2021-drum",
        site: Site::Town("Mumbai"),
        start: (1, 1),
        days: 45,
        vessel: vessel(Kind::Drum, 400.0, 1.0, 0.1, 2.0),
        mix: mix(30.0, 0.60, GARDEN, 110.0),
        feeds: Feeds::Once(115.0),
        turned: Some(1.0 / 6.0),
        given: "drum turned 6 times a day, 45 d; garden waste 100, dung slurry 10, compost 5 kg; Surat",
        guessed: "400 L, C:N 30, 60 % water, roof, from 1 January, air of Mumbai, vents of two drums",
    },
    Case {
        study: "MY2021-aerated",
        site: Site::Town("Mumbai"),
        start: (1, 1),
        days: 45,
        vessel: vessel(Kind::Drum, 400.0, 1.0, 0.1, 4.0),
        mix: mix(30.0, 0.60, GARDEN, 110.0),
        feeds: Feeds::Once(115.0),
        turned: None,
        given: "aerated vessel, 45 d, the same mix",
        guessed: "as the drum, but not turned and vents of four drums for the forced air",
    },
    Case {
        study: "CR2022",
        site: Site::Town("Hyderabad, India"),
        start: (1, 1),
        days: 55,
        vessel: vessel(Kind::Bin, 80.0, 1.0, 0.1, 2.0),
        mix: mix(20.0, 0.72, FOOD, 150.0),
        feeds: Feeds::Once(40.0),
        turned: None,
        given: "80 L bins, passive air, 55 d, vegetables and grass 85:15, up to 16 % grease scum; Warangal",
        guessed: "C:N 20, 72 % water, 40 kg, no grease, not turned, roof, from 1 January, vents of two drums",
    },
    Case {
        study: "VS2017",
        site: Site::Town("Porto, Portugal"),
        start: (3, 1),
        days: 365,
        vessel: vessel(Kind::Bin, 340.0, 1.0, 0.5, 2.0),
        mix: mix(18.0, 0.75, FOOD, 150.0),
        feeds: Feeds::Every {
            kg: 7.3,
            days: 7.0,
            until: 300.0,
        },
        turned: Some(14.0),
        given: "90 household bins, all kitchen waste with meat and fish, 380 kg a year; Galicia",
        guessed: "340 L, C:N 18, 75 % water, fed 300 d and left 65, forked every 14 d, half sun, air of Porto",
    },
    Case {
        study: "Kuwait2024",
        site: Site::Town("Abu Dhabi"),
        start: (11, 1),
        days: 43,
        vessel: vessel(Kind::Drum, 200.0, 1.0, 0.5, 1.0),
        mix: mix(30.0, 0.60, DUNG_AND_SAWDUST, 120.0),
        feeds: Feeds::Once(80.0),
        turned: Some(1.0),
        given: "drum; school waste 42, horse manure 42, sawdust 16 %; 43 d; Kuwait",
        guessed: "200 L, 80 kg, C:N 30, 60 % water, turned daily, half sun, from 1 November, air of Abu Dhabi",
    },
    Case {
        study: "Kumar2010",
        site: Site::Room(25.0),
        start: (1, 1),
        days: 12,
        vessel: vessel(Kind::Drum, 20.0, 0.3, 0.0, 4.0),
        mix: mix(19.6, 0.60, FOOD_AND_DRY, 130.0),
        feeds: Feeds::Once(10.0),
        turned: None,
        given: "vessel in a laboratory, 12 d, food and green waste, C:N 19.6, 60 % water",
        guessed: "20 L, 10 kg, insulated (0.3), room of 25 °C, vents of four drums",
    },
    Case {
        study: "RHS2010",
        site: Site::Town("London, United Kingdom"),
        start: (11, 15),
        days: 120,
        vessel: vessel(Kind::Bin, 300.0, 1.0, 0.5, 2.0),
        mix: mix(45.0, 0.60, GARDEN, 100.0),
        feeds: Feeds::Once(120.0),
        turned: None,
        given: "300 L bin, chipped garden waste, late autumn, southern England, air below 10 °C",
        guessed: "120 kg, C:N 45, 60 % water, 120 d from 15 November, half sun, air of London",
    },
    Case {
        study: "Cornell-bin",
        site: Site::Room(21.0),
        start: (1, 1),
        days: 30,
        vessel: vessel(Kind::Bin, 75.0, 1.0, 0.0, 2.0),
        mix: mix(30.0, 0.60, FOOD_AND_DRY, 130.0),
        feeds: Feeds::Once(35.0),
        turned: None,
        given: "indoor bin of more than 10 gallons",
        guessed: "75 L, 35 kg at once, C:N 30, 60 % water, room of 21 °C",
    },
    Case {
        study: "Cornell-bottle",
        site: Site::Room(21.0),
        start: (1, 1),
        days: 14,
        vessel: vessel(Kind::Bin, 2.0, 0.35, 0.0, 1.0),
        mix: mix(30.0, 0.60, FOOD_AND_DRY, 130.0),
        feeds: Feeds::Once(0.9),
        turned: None,
        given: "soda bottle",
        guessed: "2 L, 0.9 kg, insulated (0.35), C:N 30, 60 % water, room of 21 °C",
    },
    Case {
        study: "Danish-bins",
        site: Site::Town("Copenhagen"),
        start: (5, 15),
        days: 455,
        vessel: vessel(Kind::Bin, 320.0, 1.0, 0.5, 2.0),
        mix: mix(20.0, 0.72, FOOD, 150.0),
        feeds: Feeds::Every {
            kg: 3.0,
            days: 7.0,
            until: 365.0,
        },
        turned: None,
        given: "six bins, household waste and a little garden waste, one year from May, then left; Denmark",
        guessed: "320 L and 3 kg a week (recalled), C:N 20, 72 % water, left for 90 d, half sun",
    },
    Case {
        study: "London-bins",
        site: Site::Town("London, United Kingdom"),
        start: (4, 1),
        days: 365,
        vessel: vessel(Kind::Bin, 250.0, 1.0, 0.5, 2.0),
        mix: mix(22.0, 0.70, FOOD_AND_DRY, 140.0),
        feeds: Feeds::Every {
            kg: 5.0,
            days: 7.0,
            until: 365.0,
        },
        turned: None,
        given: "plastic bins of 220 to 290 L, fed through the year, west London (recalled)",
        guessed: "5 kg a week of kitchen and garden waste, C:N 22, 70 % water, half sun",
    },
];
