//! What becomes of a batch described in a file? Independent of the journal.
//!
//! `docs/simulate.md` describes the file. Seed and clock enter here.

mod case;
mod error;
mod feeds;
mod measured;
mod place;
mod sheet;
mod vessel;

use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use engine::batch::air::{Air, courses};
use engine::climate::{Noise, Weather};
use engine::ensemble::{self, Daily, Member, Outcome, Plan, prior};
use engine::forecast::rungs::Rung;

pub use error::{CaseError, CaseFault};

use crate::Desk;
use case::Case;
use place::Sky;

/// Members of a run where none are named.
const MEMBERS: u64 = 1000;
/// Members run before progress is told and memory is given back (choice; a multiple of the pack).
const CHUNK: u64 = 64;

/// What is asked.
#[derive(Debug, Clone, Copy)]
pub struct SimulateAsk<'a> {
    /// The case file.
    pub text: &'a str,
    /// Folder in which its weather file is looked for.
    pub folder: &'a Path,
    /// Members, before those of the file.
    pub members: Option<u64>,
    /// Seed, before that of the file.
    pub seed: Option<u64>,
}

/// Three points of a figure; `None` beyond the horizon or where there is no such figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Points {
    /// Low.
    pub low: Option<f64>,
    /// Middle.
    pub mid: Option<f64>,
    /// High.
    pub high: Option<f64>,
}

/// When one rung is reached, in days from the first feed: 10, 50 and 90 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadyDays {
    /// Rung, as in JSON.
    pub rung: &'static str,
    /// Days.
    pub days: Points,
    /// Share of members that do not reach it by the horizon.
    pub never_share: f64,
}

/// `simulate`.
#[derive(Debug, Clone, PartialEq)]
pub struct SimulateAnswer {
    /// Figures by name: 5, 50 and 95 %.
    pub figures: Vec<(&'static str, Points)>,
    /// Rungs, roughest first.
    pub ready: Vec<ReadyDays>,
    /// Members.
    pub members: u64,
    /// Seed.
    pub seed: u64,
    /// Time taken, ms.
    pub wall_ms: f64,
    /// Days from the first feed to the end.
    pub horizon_days: usize,
    /// Day of the first feed, as 2025-05-01.
    pub first_feed: String,
    /// Figures not known, taken as nought or as usual.
    pub missing: Vec<String>,
    /// What was done with the input, in sentences.
    pub notes: Vec<String>,
}

impl SimulateAnswer {
    /// A figure by name.
    #[must_use]
    pub fn figure(&self, name: &str) -> Option<Points> {
        self.figures.iter().find(|f| f.0 == name).map(|f| f.1)
    }
}

type Figure = (&'static str, fn(&Outcome) -> f64);

const FIGURES: [Figure; 10] = [
    ("peak_c", |o| o.peak_c),
    ("peak_day", |o| o.peak_day),
    ("days_ge_40", |o| o.days_ge_40),
    ("days_ge_55", |o| o.days_ge_55),
    ("wet_mass_loss_pct", |o| o.wet_mass_loss_pct),
    ("dry_mass_loss_pct", |o| o.dry_mass_loss_pct),
    ("organic_matter_loss_pct", |o| o.organic_matter_loss_pct),
    ("nitrogen_loss_pct", |o| o.nitrogen_loss_pct),
    ("final_cn", |o| o.final_cn),
    ("final_water_pct", |o| o.final_water_pct),
];

/// A C:N above this is no figure: there is no nitrogen to speak of (choice).
const MOST_CN: f64 = 1e6;

/// Quantiles at the nearest member; what is infinite or no number comes last and reads as none.
fn points(mut values: Vec<f64>, shares: [f64; 3]) -> Points {
    for v in &mut values {
        if v.is_nan() || *v > MOST_CN {
            *v = f64::INFINITY;
        }
    }
    values.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let at = ((values.len() as f64 - 1.0) * share).round() as usize;
        values.get(at).copied().filter(|v| v.is_finite())
    };
    Points {
        low: at(shares[0]),
        mid: at(shares[1]),
        high: at(shares[2]),
    }
}

impl Desk {
    /// Runs a case. `progress` is told members done and members in all.
    ///
    /// # Errors
    /// [`CaseError`] names line, key, value, what is allowed and the way out.
    pub fn simulate(
        &self,
        ask: &SimulateAsk<'_>,
        progress: &mut dyn FnMut(u64, u64),
    ) -> Result<SimulateAnswer, CaseError> {
        let began = Instant::now();
        let members = ask
            .members
            .map(|m| case::beside("--members", case::MEMBERS, m))
            .transpose()?;
        let seed = ask
            .seed
            .map(|s| case::beside("--seed", case::SEED, s))
            .transpose()?;
        let failed = |says: String| CaseError::plain(CaseFault::Failed, "", says);
        let catalogue = self.catalogue().map_err(|e| failed(e.to_string()))?;
        let mut case = case::read(ask.text, ask.folder, &catalogue)?;
        let members = members.or(case.members).unwrap_or(MEMBERS);
        let seed = seed.or(case.seed).unwrap_or(1);
        let (outcomes, fullest) = run(&mut case, members, seed, progress);
        if let Some(at) = outcomes.iter().position(|o| !o.sound) {
            return Err(failed(format!(
                "the figures of member {at} with seed {seed} came out impossible; nothing is shown. Try other amounts, and please report this case"
            )));
        }
        let mut notes = case.told.notes;
        if let Some(fullest) = points(fullest, [0.05, 0.5, 0.95]).mid
            && fullest > case.vessel.litres
        {
            notes.push(format!(
                "This is more than the vessel holds: about {:.0} L at its fullest, and the vessel has {:.0} L.",
                (fullest / 10.0).ceil() * 10.0,
                case.vessel.litres
            ));
        }
        let of = |figure: fn(&Outcome) -> f64| outcomes.iter().map(figure).collect::<Vec<f64>>();
        let figures = FIGURES
            .iter()
            .map(|&(name, figure)| {
                let mut values = of(figure);
                if name == "peak_day" {
                    values.iter_mut().for_each(|v| *v -= case.offset);
                }
                (name, points(values, [0.05, 0.5, 0.95]))
            })
            .collect();
        let ready = Rung::ALL
            .into_iter()
            .enumerate()
            .map(|(at, rung)| {
                let days: Vec<f64> = outcomes.iter().map(|o| o.ready[at] - case.offset).collect();
                let never = days.iter().filter(|d| !d.is_finite()).count();
                ReadyDays {
                    rung: rung.as_str(),
                    never_share: never as f64 / days.len().max(1) as f64,
                    days: points(days, [0.1, 0.5, 0.9]),
                }
            })
            .collect();
        Ok(SimulateAnswer {
            figures,
            ready,
            members,
            seed,
            wall_ms: began.elapsed().as_secs_f64() * 1e3,
            horizon_days: case.days,
            first_feed: case.first.to_string(),
            missing: case.told.missing,
            notes,
        })
    }
}

/// Outcomes and the largest volume of each member, L.
fn run(
    case: &mut Case,
    members: u64,
    seed: u64,
    progress: &mut dyn FnMut(u64, u64),
) -> (Vec<Outcome>, Vec<f64>) {
    let latitude = match &case.sky {
        // Without sun and without a range the course of the day is not looked at.
        Sky::Constant(..) => 0.0,
        Sky::Drawn(normals, _) => normals.latitude_rad(),
    };
    let of_year = case.first.of_year().1 as f64 + 1.0;
    let days = case.days;
    let plan = Plan::new(
        case.vessel,
        std::mem::take(&mut case.deeds),
        days,
        courses(latitude, of_year, days + 1),
    );
    let air = |member: u64| match &case.sky {
        Sky::Drawn(normals, observed) => Air::of(&Weather::draw(
            normals,
            case.first,
            days,
            observed,
            Noise::default(),
            (seed, member),
        )),
        Sky::Constant(air, humidity) => Air::constant(*air, *humidity, days),
    };
    let mut outcomes = Vec::new();
    let mut fullest = Vec::new();
    let mut done = 0;
    while done < members {
        let until = (done + CHUNK).min(members);
        let chunk: Vec<Member> = (done..until)
            .map(|m| Member {
                params: prior::params(&prior::row(seed, m), &plan.vessel),
                air: Arc::new(air(m)),
            })
            .collect();
        let ran = ensemble::simulate(&plan, &chunk);
        let mut most = vec![0.0_f64; chunk.len()];
        for day in 0..days {
            for (most, litres) in most.iter_mut().zip(ran.daily(Daily::Litres, day)) {
                *most = most.max(f64::from(litres));
            }
        }
        fullest.extend(most);
        outcomes.extend(ran.outcomes);
        done = until;
        progress(done, members);
    }
    (outcomes, fullest)
}
