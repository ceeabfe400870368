//! Answers as facts. Spreads are 5, 50 and 95 %; `None` is unknown.

use units::Spread;

/// An id with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// Material id.
    pub id: String,
    /// Its name.
    pub name: String,
}

/// Words that were not understood, or could be several things.
#[derive(Debug, Clone, PartialEq)]
pub struct Nearby {
    /// As typed.
    pub text: String,
    /// What it may have meant.
    pub near: Vec<Named>,
    /// Whether these are real alternatives rather than near spellings.
    pub ambiguous: bool,
}

/// One portion as understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// As typed.
    pub text: String,
    /// Material id.
    pub material: String,
    /// Its name.
    pub name: String,
    /// yes, prepare, a_little, hot_only, not_here or never.
    pub verdict: &'static str,
    /// feeds, dries, opens or neutral.
    pub role: &'static str,
    /// Most share of the week's feed, per cent.
    pub cap_pct: Option<f64>,
    /// What to do to it first.
    pub preparation: String,
    /// What can go wrong.
    pub caution: String,
    /// Wet mass, kg.
    pub kg: Option<Spread>,
    /// Volume as it lies, L.
    pub litres: Option<Spread>,
    /// What was taken because no amount was said.
    pub assumed: Option<String>,
}

/// An entry as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reading {
    /// What may be counted.
    pub items: Vec<Line>,
    /// What stays out.
    pub refused: Vec<Line>,
    /// What was not understood.
    pub unknown: Vec<Nearby>,
    /// When, in the household's own time, as `17 September 2026, 19:00`; `None` is now.
    pub when: Option<String>,
    /// Chamber named.
    pub chamber: Option<String>,
}

/// What a mix is.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mix {
    /// Wet mass, kg.
    pub mass_kg: Option<Spread>,
    /// Volume after mixing, L.
    pub volume_l: Option<Spread>,
    /// Water, % of wet mass.
    pub water_pct: Option<Spread>,
    /// Carbon to nitrogen.
    pub cn: Option<Spread>,
    /// Degradable carbon to nitrogen.
    pub cn_degradable: Option<Spread>,
    /// Free air space, % of volume.
    pub air_space_pct: Option<Spread>,
    /// Organic carbon, kg.
    pub carbon_kg: Option<Spread>,
    /// Nitrogen, kg.
    pub nitrogen_kg: Option<Spread>,
    /// Names of the unknown numbers above.
    pub missing: Vec<&'static str>,
}

/// `mix`.
#[derive(Debug, Clone, PartialEq)]
pub struct MixAnswer {
    /// What was understood.
    pub read: Reading,
    /// What it makes.
    pub mix: Mix,
}

/// What led to an amount.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LedBy {
    /// The water window.
    Water,
    /// The C:N window.
    CarbonNitrogen,
    /// The air window.
    Air,
    /// Between windows that cannot all be met, or several at once.
    Compromise,
}

impl LedBy {
    /// As in JSON.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Water => "water",
            Self::CarbonNitrogen => "carbon_nitrogen",
            Self::Air => "air",
            Self::Compromise => "compromise",
        }
    }
}

/// An amount to add.
#[derive(Debug, Clone, PartialEq)]
pub struct DoseLine {
    /// Material id.
    pub material: String,
    /// Its name.
    pub name: String,
    /// Wet mass, kg.
    pub kg: f64,
    /// Volume as it lies, L.
    pub litres: Option<f64>,
    /// Handfuls.
    pub handfuls: Option<f64>,
    /// What led to it.
    pub led_by: LedBy,
}

/// `dose`.
#[derive(Debug, Clone, PartialEq)]
pub struct DoseAnswer {
    /// What was understood of the entry.
    pub read: Reading,
    /// meets, compromise or cannot.
    pub outcome: &'static str,
    /// The limit that asks for the material.
    pub binding: Option<&'static str>,
    /// What to add.
    pub doses: Vec<DoseLine>,
    /// Water-led and C:N-led amounts beside a compromise.
    pub beside: Vec<DoseLine>,
    /// The mix before.
    pub before: Mix,
    /// The mix after.
    pub after: Mix,
    /// Why not, if it cannot: a fixed word such as `too_wet`, `stock_too_small`, `conflict`.
    pub cause: Option<&'static str>,
    /// Whether targets were given, so that amounts are exact.
    pub exact: bool,
    /// What was at hand.
    pub at_hand: Vec<StockLine>,
    /// Words of the stock that were not understood.
    pub unknown_stock: Vec<Nearby>,
    /// The chamber counted, if any.
    pub chamber: Option<String>,
    /// Caddy, L, for speaking amounts in half caddies.
    pub caddy_l: f64,
    /// Share of water above the window if nothing is added (per cent), for "without the card".
    pub without_wet_points: Option<f64>,
}

/// Something at hand.
#[derive(Debug, Clone, PartialEq)]
pub struct StockLine {
    /// Material id.
    pub material: String,
    /// Its name.
    pub name: String,
    /// Volume as it lies, L; `None` is plenty.
    pub litres: Option<f64>,
    /// Mass, kg; `None` is plenty.
    pub kg: Option<f64>,
}

/// A figure with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureFacts {
    /// Id for `why`.
    pub id: String,
    /// Property.
    pub property: &'static str,
    /// Typical.
    pub value: f64,
    /// Low.
    pub low: f64,
    /// High.
    pub high: f64,
    /// Unit.
    pub unit: String,
    /// Citation.
    pub source: String,
    /// Place within it.
    pub place: String,
    /// measured, handbook or judged.
    pub grade: &'static str,
}

/// What a published list says.
#[derive(Debug, Clone, PartialEq)]
pub struct ListFacts {
    /// Citation.
    pub source: String,
    /// In our words.
    pub says: String,
    /// Whether it agrees with ours.
    pub agrees: bool,
    /// Why ours differs.
    pub why: String,
}

/// One material found.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchFacts {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Verdict.
    pub verdict: &'static str,
    /// Most share of the week's feed, per cent.
    pub cap_pct: Option<f64>,
    /// Role.
    pub role: &'static str,
    /// Carbon to nitrogen.
    pub cn: Option<Spread>,
    /// Water, % of wet mass.
    pub water_pct: Option<Spread>,
    /// Nitrogen, % of dry mass.
    pub nitrogen_pct_dry: Option<Spread>,
    /// Carbon, % of dry mass.
    pub carbon_pct_dry: Option<Spread>,
    /// Bulk density, kg/m³.
    pub density_kg_m3: Option<Spread>,
    /// What to do first.
    pub preparation: String,
    /// What can go wrong.
    pub caution: String,
    /// What the local rule says, where such rules are about it.
    pub local: Option<crate::LocalFood>,
    /// Figures with sources.
    pub figures: Vec<FigureFacts>,
    /// Published lists.
    pub lists: Vec<ListFacts>,
}

/// `look`.
#[derive(Debug, Clone, PartialEq)]
pub struct LookAnswer {
    /// What was asked.
    pub asked: String,
    /// Materials of that name.
    pub matches: Vec<MatchFacts>,
    /// Near ones.
    pub near: Vec<Named>,
}

/// `add`.
#[derive(Debug, Clone, PartialEq)]
pub struct AddAnswer {
    /// Id of the entry.
    pub id: String,
    /// What was understood.
    pub read: Reading,
    /// Chamber it went into.
    pub chamber: String,
    /// Whether it was written now, or had been before with the same key.
    pub written: bool,
}

/// A chamber as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct ChamberFacts {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Volume, L.
    pub litres: Option<f64>,
    /// empty, filling or closed.
    pub state: &'static str,
    /// Since when, as a date.
    pub since: Option<String>,
    /// Days since then.
    pub days: Option<i64>,
    /// Portions put in.
    pub portions: usize,
    /// What went in, as a mix; drying and rotting are not counted.
    pub went_in: Option<Mix>,
    /// Last level, % of the chamber, and its date. One guessed by eye when the record began is in whole
    /// tens, and its date says so.
    pub level: Option<(f64, String)>,
    /// Largest kinds by mass: name and kg.
    pub kinds: Vec<(String, f64)>,
}

/// One line of the log.
#[derive(Debug, Clone, PartialEq)]
pub struct LogLine {
    /// Entry id.
    pub id: String,
    /// Date and time where the household lives.
    pub at: String,
    /// Kind of event.
    pub kind: String,
    /// Chamber name.
    pub chamber: Option<String>,
    /// What it says, in the words given or a short fact.
    pub text: String,
    /// Words that were not understood.
    pub unknown: Vec<String>,
    /// Undone.
    pub undone: bool,
    /// Corrected since.
    pub corrected: bool,
    /// What of it cannot be and does not count: reading and reason.
    pub aside: Vec<(String, String)>,
}

/// `today`.
#[derive(Debug, Clone, PartialEq)]
pub struct TodayAnswer {
    /// Today, as a date.
    pub date: String,
    /// Chamber to tip into.
    pub tip_into: Option<String>,
    /// Chambers.
    pub chambers: Vec<ChamberFacts>,
    /// Days since the last caddy.
    pub days_since_last: Option<i64>,
    /// Dose for a full caddy of the usual scraps.
    pub usual: Option<DoseAnswer>,
    /// Stock.
    pub stock: Vec<StockLine>,
    /// Latest entries.
    pub latest: Vec<LogLine>,
    /// Chambers noted as turned today.
    pub turned_today: Vec<String>,
}

/// `why`.
#[derive(Debug, Clone, PartialEq)]
pub struct WhyAnswer {
    /// Id asked for.
    pub id: String,
    /// What the number is.
    pub title: String,
    /// The number and its unit, if it is one.
    pub value: Option<String>,
    /// Equation or reasoning, line by line.
    pub lines: Vec<String>,
    /// Sources.
    pub sources: Vec<String>,
    /// Ids it rests on.
    pub rests_on: Vec<String>,
}

/// Some of what is in a chamber went into another.
#[derive(Debug, Clone, PartialEq)]
pub struct MoveAnswer {
    /// Id of the entry.
    pub id: String,
    /// Chamber it left.
    pub from: String,
    /// Chamber it went into.
    pub to: String,
    /// Share of what was there, 0 to 1.
    pub share: f64,
    /// The share in words.
    pub told: String,
    /// What to know of it.
    pub notes: Vec<String>,
    /// Whether it was written now, or had been before with the same key.
    pub written: bool,
}
