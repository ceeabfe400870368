//! What the card buys, in days: a usual batch with it and without, with whole sheets, torn, shredded.
//!
//! Twelve full caddies, one every three days, from today on, in this household's climate and usual drum; each
//! with the browns that the dose asks for. Two runs of the same members differ only in what is compared.

use engine::batch::air::courses;
use engine::batch::events::{Deed, Feed};
use engine::batch::substrate::{Pieces, feed};
use engine::batch::vessel::Vessel;
use engine::climate::Normals;
use engine::ensemble::{At, Member, Plan, simulate};

use super::plan::{KITCHEN_C, USUAL, day_of, drawn};
use super::{AHEAD, MOVE_MEMBERS, place};
use crate::{Desk, DoseAnswer, DoseAsk, Error, SEED};

/// Caddies of the usual batch, and days between them (choice: a household that empties twice a week).
const CADDIES: u32 = 12;
const EVERY: f64 = 3.0;
/// The planted bed, in the order of rungs.
const BED: usize = 2;

/// Days until the planted bed, compared by pairs of runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// Days sooner, on average; beyond the horizon counts as the horizon.
    pub days: f64,
    /// Two standard errors.
    pub doubt: f64,
}

/// What browns and scissors buy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CardFacts {
    /// With the browns of the dose against none.
    pub browns: Gain,
    /// Share of the runs without browns that reach the bed within the horizon, and with them.
    pub arrive: (f64, f64),
    /// Torn to a palm against whole sheets.
    pub torn: Gain,
    /// Shredded against torn.
    pub shredded: Gain,
    /// Nitrogen lost by the horizon without and with browns, % (middle).
    pub nitrogen_lost_pct: (f64, f64),
}

/// Mean of the pairs, and two standard errors.
pub(super) fn gain(before: &[f64], after: &[f64]) -> Gain {
    let all: Vec<f64> = before.iter().zip(after).map(|(b, a)| b - a).collect();
    let n = all.len() as f64;
    let mean = all.iter().sum::<f64>() / n;
    let variance = all.iter().map(|g| (g - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
    Gain {
        days: mean,
        doubt: 2.0 * (variance / n).sqrt(),
    }
}

impl Desk {
    /// What the browns of the usual dose buy, if it is worked out for the journal as it is today.
    #[must_use]
    pub fn card_if_known(&self) -> Option<CardFacts> {
        let mut known = None;
        let _ = self.keeping(
            |kept| {
                known = kept.card;
                &mut kept.nothing
            },
            |_| Ok(()),
        );
        known
    }

    /// What the browns of the usual dose buy, worked out now: some seconds. `progress` is told runs done and runs
    /// in all.
    ///
    /// # Errors
    /// As [`Desk::dose`].
    pub fn card_worked_out(
        &self,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<Option<CardFacts>, Error> {
        let usual = self.dose(&DoseAsk {
            text: crate::today::USUAL.into(),
            ..DoseAsk::default()
        })?;
        self.card_buys(&usual, progress)
    }

    pub(super) fn card_buys(
        &self,
        usual: &DoseAnswer,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<Option<CardFacts>, Error> {
        let catalogue = self.catalogue()?;
        let towns = catalogue::climate::Towns::load()?;
        let settings = self.settings()?;
        let Some((place, _)) = place::place(&towns, settings.place.as_deref(), settings.latitude)
        else {
            return Ok(None);
        };
        let normals = Normals::new(place).map_err(|e| Error::BadPlace(e.to_string()))?;
        let made = |parts: &[(String, f64)], pieces: Pieces| {
            parts
                .iter()
                .filter_map(|(id, kg)| feed(catalogue.get(id)?, *kg, pieces, KITCHEN_C))
                .reduce(|a, b| a.with(&b))
        };
        let scraps: Vec<(String, f64)> = usual
            .read
            .items
            .iter()
            .filter_map(|l| Some((l.material.clone(), l.kg?.mid)))
            .collect();
        let browns: Vec<(String, f64)> = usual
            .doses
            .iter()
            .map(|d| (d.material.clone(), d.kg))
            .collect();
        let Some(scraps) = made(&scraps, Pieces::Torn) else {
            return Ok(None);
        };
        let with = |pieces| made(&browns, pieces).map(|b| scraps.with(&b));
        let (Some(whole), Some(torn), Some(shredded)) = (
            with(Pieces::Whole),
            with(Pieces::Torn),
            with(Pieces::Shredded),
        ) else {
            return Ok(None);
        };
        let start = self.clock.now(&self.zone()).date();
        let days = (f64::from(CADDIES) * EVERY) as usize + AHEAD;
        let vessel = Vessel {
            absorptance: USUAL.0,
            sun: USUAL.1,
            ..Vessel::default()
        };
        let (_, day_of_year) = day_of(start).of_year();
        let courses = courses(normals.latitude_rad(), day_of_year as f64 + 1.0, days + 1);
        let span = (start, days, &self.observed(start)?);
        let members: Vec<Member> = drawn(&normals, span, &vessel, SEED, MOVE_MEMBERS);
        let mut done = 0;
        let mut run = |one: Feed| {
            let mut deeds: Vec<At> = (0..CADDIES)
                .map(|i| At {
                    day: f64::from(i) * EVERY,
                    deed: Deed::Feed(one),
                })
                .collect();
            let mut turn = EVERY;
            while turn < days as f64 {
                deeds.push(At {
                    day: turn + 0.5,
                    deed: Deed::Turn,
                });
                turn += EVERY;
            }
            let plan = Plan::new(vessel, deeds, days, courses.clone()).keeping([]);
            let e = simulate(&plan, &members);
            done += MOVE_MEMBERS;
            progress(done, 4 * MOVE_MEMBERS);
            let dates: Vec<f64> = e
                .outcomes
                .iter()
                .map(|o| o.ready[BED].min(days as f64))
                .collect();
            let arrive = e
                .outcomes
                .iter()
                .filter(|o| o.ready[BED].is_finite())
                .count() as f64
                / e.outcomes.len() as f64;
            let mut lost: Vec<f64> = e.outcomes.iter().map(|o| o.nitrogen_loss_pct).collect();
            lost.sort_by(f64::total_cmp);
            (dates, arrive, lost[lost.len() / 2])
        };
        let (none, torn, whole, shredded) = (run(scraps), run(torn), run(whole), run(shredded));
        Ok(Some(CardFacts {
            browns: gain(&none.0, &torn.0),
            arrive: (none.1, torn.1),
            torn: gain(&whole.0, &torn.0),
            shredded: gain(&torn.0, &shredded.0),
            nitrogen_lost_pct: (none.2, torn.2),
        }))
    }
}
