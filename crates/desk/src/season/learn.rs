//! What the log says of a year: litres by the week, browns by the week.

use catalogue::{Catalogue, Role};
use engine::batch::events::Feed;
use engine::batch::substrate::{Pieces, feed};
use engine::season::Inflow;
use engine::season::course::litres;
use engine::season::inflow::{PEOPLE, PERSON_KG, without_gaps};
use jiff::ToSpan as _;
use jiff::civil::Date;

use crate::forecast::KITCHEN_C;
use crate::{Desk, Error, HOUSEHOLD};

/// Weeks looked back.
const BACK: usize = 156;
/// Scraps and card of the usual mix, wet shares: about C:N 30, 65 % water (choice, as the dose has it).
const USUAL: [(&str, f64); 2] = [
    ("mixed-kitchen-scraps", 0.82),
    ("cardboard-corrugated", 0.18),
];

/// C:N and water share where too little is known: what the dose aims at, and what it comes to.
const MIX: (f64, f64) = (30.0, 0.65);
/// Weeks of a log that say what the mix is (choice).
const LEAST_WEEKS: usize = 8;
const YEAR: usize = 52;

/// C:N and water share in steps of 5, so that one caddy more does not make another table.
fn class(f: &Feed) -> (f64, f64) {
    let dry = f.quick + f.cellulose + f.lignin + f.ash;
    let cn = f.carbon / f.nitrogen.max(1e-9);
    let water = f.water / (f.water + dry).max(1e-9);
    let step = |v: f64| (v / 5.0).round() * 5.0;
    (
        step(cn).clamp(20.0, 50.0),
        step(water * 100.0).clamp(50.0, 75.0) / 100.0,
    )
}

/// The log, by weeks before today.
pub(super) struct Log {
    /// What went in, litres as it lies in the chamber.
    pub(super) inflow: Inflow,
    /// C:N and water share of what went in over the last year, in steps of 5.
    pub(super) mix: (f64, f64),
    /// Browns as they lay before, litres a week, the last first.
    pub(super) browns: Vec<f64>,
}

/// A kilogram of the usual mix.
pub(super) fn usual_mix(catalogue: &Catalogue) -> Option<Feed> {
    USUAL
        .iter()
        .filter_map(|(id, kg)| feed(catalogue.get(id)?, *kg, Pieces::Torn, KITCHEN_C))
        .reduce(|a, b| a.with(&b))
}

impl Desk {
    pub(super) fn season_log(&self, today: Date, south: bool) -> Result<Log, Error> {
        let (store, catalogue, zone) = (self.store()?, self.catalogue()?, self.zone());
        let mut weeks: Vec<Option<Feed>> = vec![None; BACK];
        let mut browns = vec![0.0; BACK];
        let mut oldest = None;
        for fill in store.fills(HOUSEHOLD)? {
            for row in store.portions(HOUSEHOLD, fill.id)? {
                // What was in before the record began is no week's inflow.
                if fill.level.is_some() && row.at <= fill.started {
                    continue;
                }
                let day = row.at.to_zoned_datetime(zone.clone()).date();
                let back = today.since(day).map_or(-1, |s| s.get_days()) / 7;
                let Some(at) = usize::try_from(back).ok().filter(|at| *at < BACK) else {
                    continue;
                };
                oldest = oldest.max(Some(at));
                let Some(material) = catalogue.get(&row.portion.material) else {
                    continue;
                };
                if matches!(material.role, Role::Dries | Role::Opens) {
                    browns[at] += row.portion.litres.mid;
                }
                let made = feed(material, row.portion.kg.mid, Pieces::Torn, KITCHEN_C);
                if let Some(new) = made {
                    weeks[at] = Some(weeks[at].map_or(new, |f| f.with(&new)));
                }
            }
        }
        // The week the log began in is not whole.
        let whole = oldest.unwrap_or(0);
        weeks.truncate(whole);
        browns.truncate(whole);
        let all: Vec<f64> = weeks
            .iter()
            .map(|w| w.as_ref().map_or(0.0, litres))
            .collect();
        let month = |at: usize| {
            let days = at as i64 * 7 + 3;
            today
                .checked_sub(days.days())
                .map_or(1, |d| u32::from(d.month().unsigned_abs()))
        };
        let past = without_gaps(&all)
            .into_iter()
            .enumerate()
            .map(|(at, litres)| (month(at), litres))
            .collect();
        let usual =
            usual_mix(&catalogue).map_or(0.0, |mix| litres(&mix)) * PEOPLE * PERSON_KG / USUAL[0].1;
        let year = weeks
            .iter()
            .take(YEAR)
            .flatten()
            .copied()
            .reduce(|a, b| a.with(&b));
        let mix = year
            .filter(|_| weeks.iter().take(YEAR).flatten().count() >= LEAST_WEEKS)
            .map_or(MIX, |f| class(&f));
        Ok(Log {
            mix,
            inflow: Inflow { past, usual, south },
            browns,
        })
    }
}
