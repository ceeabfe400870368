//! What is wrong, and what is the smallest thing that fixes it?
//!
//! Words → symptom → what is known of the chamber → causes with chances → one act each, with its amount.
//! A page takes the forecast only if it is worked out; a command works one out, without its moves.

mod amounts;
mod evidence;
mod note;
mod words;

use engine::diagnosis::{Act, Because, Cause, Chance, Evidence, Symptom, diagnose, plan};
pub use note::PutRightDone;

use jiff::ToSpan;
use jiff::civil::Date;

use crate::{Desk, DoseLine, Error};

/// Members of the forecast that a command works out for it: enough for a middle and two ends (choice).
const MEMBERS: usize = 200;
/// Causes shown; the rest are unlikely (choice).
const SHOWN: usize = 3;

/// A thing that may be noticed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SymptomFacts {
    /// Its id.
    pub id: &'static str,
    /// Its everyday name.
    pub name: &'static str,
    /// smell, look, warmth, animals or caddy.
    pub family: &'static str,
}

/// What is asked.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PutRightAsk {
    /// The symptom, by id or in everyday words.
    pub symptom: String,
    /// Chamber; the one filling if none is named.
    pub chamber: Option<String>,
    /// Whether to work out a forecast if none is known; a page never does.
    pub wait: bool,
}

/// What the chances rest on besides what was noticed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rests {
    /// The forecast of the chamber, and the log.
    Forecast,
    /// The log only: no forecast is worked out yet.
    Log,
    /// Nothing: there is no chamber, or it is empty.
    Nothing,
    /// The log and the season: it is about the caddy.
    Caddy,
}

impl Rests {
    /// As in JSON.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Forecast => "forecast",
            Self::Log => "log",
            Self::Nothing => "nothing",
            Self::Caddy => "caddy",
        }
    }
}

/// Something known that speaks for a cause, or against it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpeaksFor {
    /// Which quantity, as in JSON.
    pub what: &'static str,
    /// Its middle.
    pub value: f64,
    /// How many times likelier it makes the cause.
    pub times: f64,
    /// Whether a hand measured it.
    pub measured: bool,
}

/// How much of what.
#[derive(Debug, Clone, PartialEq)]
pub struct PutRightAmount {
    /// card, water or greens.
    pub what: &'static str,
    /// The material, in mass, litres and handfuls: in all.
    pub line: DoseLine,
    /// The first step of it, where it is more than two buckets.
    pub today: Option<DoseLine>,
    /// water, carbon_nitrogen, room or volume.
    pub bound_by: &'static str,
    /// Water after, %.
    pub water_after_pct: f64,
    /// C:N after, if it is known.
    pub cn_after: Option<f64>,
    /// Whether it is what to begin with for a bucket of the mix (10 L), since what is in the chamber is not known.
    pub per_bucket: bool,
}

/// A cause, and what to do.
#[derive(Debug, Clone, PartialEq)]
pub struct CauseFacts {
    /// Its id.
    pub cause: &'static str,
    /// Whether nothing is wrong and time does it.
    pub nothing_wrong: bool,
    /// Chance, 0 to 1.
    pub chance: f64,
    /// The chance if the judged weight were one standard deviation off.
    pub range: (f64, f64),
    /// Of twenty.
    pub in_twenty: usize,
    /// What to do.
    pub act: &'static str,
    /// How much, where the act has an amount.
    pub amount: Option<PutRightAmount>,
    /// Another chamber that may be fed meanwhile, where nothing more goes into this one.
    pub feed_instead: Option<String>,
    /// When to look again.
    pub look_again: Date,
    /// What speaks for it, the strongest first.
    pub because: Vec<SpeaksFor>,
    /// What speaks against it most: a reason to look before acting.
    pub against: Option<SpeaksFor>,
}

/// What is wrong, and what to do.
#[derive(Debug, Clone, PartialEq)]
pub struct PutRightAnswer {
    /// The symptom.
    pub symptom: SymptomFacts,
    /// Name of the chamber it is about.
    pub chamber: Option<String>,
    /// empty, filling or closed.
    pub state: Option<&'static str>,
    /// What the chances rest on.
    pub rests: Rests,
    /// Likeliest first; three at most.
    pub causes: Vec<CauseFacts>,
    /// Today.
    pub today: Date,
    /// Size of the household's caddy, L.
    pub caddy_l: f64,
}

impl Desk {
    /// Everything that may be noticed, in the order of a page.
    #[must_use]
    pub fn symptoms() -> Vec<SymptomFacts> {
        Symptom::ALL.iter().map(|s| facts(*s)).collect()
    }

    /// What is wrong, and the smallest act.
    ///
    /// # Errors
    /// [`Error::NoSymptom`] with near ones; a chamber that does not exist; as the journal's.
    pub fn put_right(&self, ask: &PutRightAsk) -> Result<PutRightAnswer, Error> {
        let symptom = words::read(&ask.symptom)?;
        let known = self.evidence(symptom, ask.chamber.as_deref(), ask.wait)?;
        let seen = self.borne_out(symptom)?;
        let today = self.clock.now(&self.zone()).date();
        let causes = diagnose(symptom, &known.evidence, &seen)
            .iter()
            .take(SHOWN)
            .map(|c| self.cause(symptom, c, &known, today))
            .collect::<Result<_, _>>()?;
        Ok(PutRightAnswer {
            symptom: facts(symptom),
            chamber: known.chamber,
            state: known.state,
            rests: known.rests,
            causes,
            today,
            caddy_l: self.hands()?.caddy_l,
        })
    }

    fn cause(
        &self,
        symptom: Symptom,
        chance: &Chance,
        known: &evidence::Known,
        today: Date,
    ) -> Result<CauseFacts, Error> {
        let plan = plan(chance.cause, &known.evidence);
        let speaks = |b: &Because| SpeaksFor {
            what: b.quantity.as_str(),
            value: b.value,
            times: b.times,
            measured: known.measured.contains(&b.quantity),
        };
        Ok(CauseFacts {
            cause: chance.cause.as_str(),
            nothing_wrong: chance.cause.nothing_wrong(),
            chance: chance.chance,
            range: chance.range,
            in_twenty: (chance.chance * 20.0).round() as usize,
            act: plan.act.as_str(),
            amount: self.amount_of(plan.act, symptom, chance.cause, known)?,
            feed_instead: (plan.act == Act::StopFeeding)
                .then(|| self.other_open(known.chamber.as_deref()))
                .transpose()?
                .flatten(),
            look_again: today
                .checked_add(i64::from(plan.look_again).days())
                .unwrap_or(today),
            because: chance.because.iter().map(speaks).collect(),
            against: chance.against.as_ref().map(speaks),
        })
    }
}

impl Desk {
    /// A chamber beside this one that fills or is empty: one that finishes takes nothing.
    fn other_open(&self, this: Option<&str>) -> Result<Option<String>, Error> {
        if self.store.is_none() {
            return Ok(None);
        }
        let mut open = self
            .chambers()?
            .into_iter()
            .filter(|c| c.state != "closed" && Some(c.name.as_str()) != this);
        Ok(open.next().map(|c| c.name))
    }
}

fn facts(symptom: Symptom) -> SymptomFacts {
    SymptomFacts {
        id: symptom.as_str(),
        name: words::name(symptom),
        family: symptom.family().as_str(),
    }
}

/// Whether a material is cooked food, meat, fish or dairy: what local rules are mostly about.
pub(crate) fn cooked_or_meat(material: &str) -> bool {
    use engine::diagnosis::Group;
    matches!(evidence::group(material), Some(Group::Cooked | Group::Meat))
}

/// What is known where nothing is.
fn nothing() -> Evidence {
    Evidence::default()
}

/// Reads a cause from a form or a reading.
fn cause_named(word: &str) -> Option<Cause> {
    Cause::parse(word)
}
