//! What is this mix?

use engine::blend::{Lack, Mixture};
use units::Spread;

use crate::answer::{Mix, MixAnswer};
use crate::read::portions;
use crate::{Desk, Error, SEED};

impl Desk {
    /// Reads an entry and says what it makes.
    ///
    /// # Errors
    /// [`Error::NothingUnderstood`], [`Error::TooLong`] or a bad day.
    pub fn mix(&self, text: &str) -> Result<MixAnswer, Error> {
        let read = self.read(text)?.reading;
        let catalogue = self.catalogue()?;
        let mut mix = facts(&Mixture::of(&portions(&catalogue, &read.items), SEED));
        if read.items.iter().any(|l| l.kg.is_none()) {
            // A volume of something without a density: no total can be given.
            mix = Mix {
                missing: ALL.to_vec(),
                ..Mix::default()
            };
        }
        Ok(MixAnswer { read, mix })
    }
}

const ALL: [&str; 8] = [
    "mass_kg",
    "volume_l",
    "water_pct",
    "cn",
    "cn_degradable",
    "air_space_pct",
    "carbon_kg",
    "nitrogen_kg",
];

pub(crate) fn facts(mixture: &Mixture) -> Mix {
    let percent = |s: Option<Spread>| s.map(|s| s.scale(100.0));
    let mut mix = Mix {
        mass_kg: mixture.mass(),
        volume_l: mixture.volume(),
        water_pct: percent(mixture.water()),
        cn: mixture.carbon_nitrogen(),
        cn_degradable: mixture.carbon_nitrogen_degradable(),
        air_space_pct: percent(mixture.air_space()),
        carbon_kg: mixture.carbon(),
        nitrogen_kg: mixture.nitrogen(),
        missing: Vec::new(),
    };
    let known = [
        mix.mass_kg,
        mix.volume_l,
        mix.water_pct,
        mix.cn,
        mix.cn_degradable,
        mix.air_space_pct,
        mix.carbon_kg,
        mix.nitrogen_kg,
    ];
    mix.missing = ALL
        .iter()
        .zip(known)
        .filter(|(_, k)| k.is_none())
        .map(|(name, _)| *name)
        .collect();
    mix
}

/// The lack that stops a target, in words for a message.
pub(crate) fn first_lack<'a>(lacks: &'a [Lack], needed: &[&str]) -> Option<&'a Lack> {
    lacks.iter().find(|l| needed.contains(&l.what))
}
