//! What becomes of a batch described in a file? Independent of the journal.
//!
//! `docs/simulate.md` describes the file. Seed and clock enter here.

mod case;
mod error;
mod feeds;
pub(crate) mod measured;
mod place;
mod sheet;
mod vessel;

use std::path::Path;
use std::sync::Arc;
use std::time::Instant;

use engine::batch::air::{Air, courses};
use engine::climate::{Noise, Weather};
use engine::ensemble::{self, Daily, Member, Outcome, Plan, prior, ready, summed};
use engine::forecast::window::quantile;

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

/// A C:N above this is no figure: there is no nitrogen to speak of (choice).
const MOST_CN: f64 = 1e6;

/// Three quantiles as shown; what is beyond the horizon, or no figure, reads as none.
fn points(at: [f64; 3]) -> Points {
    let [low, mid, high] = at.map(|v| (v.is_finite() && v <= MOST_CN).then_some(v));
    Points { low, mid, high }
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
        let (outcomes, mut fullest) = run(&mut case, members, seed, progress);
        if let Some(at) = outcomes.iter().position(|o| !o.sound) {
            return Err(failed(format!(
                "the figures of member {at} with seed {seed} came out impossible; nothing is shown. Try other amounts, and please report this case"
            )));
        }
        let mut notes = case.told.notes;
        fullest.sort_by(f64::total_cmp);
        let fullest = quantile(&fullest, 0.5);
        if fullest > case.vessel.litres {
            notes.push(format!(
                "This is more than the vessel holds: about {:.0} L at its fullest, and the vessel has {:.0} L.",
                (fullest / 10.0).ceil() * 10.0,
                case.vessel.litres
            ));
        }
        let figures = summed(&outcomes)
            .into_iter()
            .map(|s| match s.name {
                "peak_day" => (s.name, points(s.at.map(|day| day - case.offset))),
                name => (name, points(s.at)),
            })
            .collect();
        let ready = ready(&outcomes)
            .into_iter()
            .map(|r| ReadyDays {
                rung: r.rung.as_str(),
                never_share: r.never,
                days: points(r.at.map(|day| day - case.offset)),
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
