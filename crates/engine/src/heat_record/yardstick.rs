//! Published criteria for heat, side by side. None binds compost a household makes and uses itself.
//!
//! `seen` says whether the figures were seen in a publication; the others are recalled, and shown as not checked.
//! Only heat, time and turnings are compared. What else a rule asks (`also`) is named, never judged.

use super::course::Course;
use super::hours::plain;
use super::turns::apart;

/// What a criterion is for those it was made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Law for plants or trades; at home a yardstick.
    Law,
    /// A standard, a guideline or an expert opinion.
    Yardstick,
}

/// A temperature held so long.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// °C.
    pub celsius: f64,
    /// Hours.
    pub hours: f64,
    /// Whether without a break; else in total.
    pub unbroken: bool,
}

/// One criterion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// Id.
    pub id: &'static str,
    /// Name.
    pub name: &'static str,
    /// Law or yardstick.
    pub standing: Standing,
    /// Whom it binds.
    pub reach: &'static str,
    /// The condition in words.
    pub condition: &'static str,
    /// Any one of these lists; all of a list.
    pub heat: &'static [&'static [Held]],
    /// Turnings, and days between them.
    pub turns: Option<(usize, f64)>,
    /// Days the whole must last.
    pub days: f64,
    /// What else it asks, not compared here.
    pub also: &'static str,
    /// Whether a household is left out by its own words.
    pub exempt: bool,
    /// Whether the figures were seen in a publication.
    pub seen: bool,
    /// Where.
    pub source: &'static str,
}

const fn total(celsius: f64, hours: f64) -> Held {
    Held {
        celsius,
        hours,
        unbroken: false,
    }
}

const fn unbroken(celsius: f64, hours: f64) -> Held {
    Held {
        celsius,
        hours,
        unbroken: true,
    }
}

const DAY: f64 = 24.0;

const PLAIN: Rule = Rule {
    id: "",
    name: "",
    standing: Standing::Law,
    reach: "sewage-sludge plants",
    condition: "",
    heat: &[],
    turns: None,
    days: 0.0,
    also: "",
    exempt: false,
    seen: true,
    source: "",
};

/// Every criterion, the one nearest to kitchen scraps first.
pub const RULES: &[Rule] = &[
    Rule {
        id: "efsa-2024",
        name: "EFSA opinion 2024, kitchen waste",
        standing: Standing::Yardstick,
        reach: "plants that take kitchen waste",
        condition: "55 °C for 72 h, or 60 °C for 48 h",
        heat: &[&[unbroken(55.0, 72.0)], &[unbroken(60.0, 48.0)]],
        also: "pieces up to 200 mm",
        source: "EFSA Journal 2024;22(4):e8745, abstract",
        ..PLAIN
    },
    Rule {
        id: "fr-2008",
        name: "France, arrêté of 22 April 2008, turned",
        reach: "composting plants",
        condition: "55 °C for 72 h in total, 3 turnings at least 3 days apart, 3 weeks",
        heat: &[&[total(55.0, 72.0)]],
        turns: Some((3, 3.0)),
        days: 21.0,
        also: "read three times a week",
        source: "Arrêté du 22 avril 2008 DEVP0810090A, Annexe I (revised 2012)",
        ..PLAIN
    },
    Rule {
        id: "us-pfrp-vessel",
        name: "US 40 CFR 503, PFRP in a vessel",
        condition: "55 °C for 3 days",
        heat: &[&[unbroken(55.0, 3.0 * DAY)]],
        also: "every part of the mass",
        source: "25 Pa. Code ch. 271 subch. J, App. A, and Wisconsin NR 204.07(6)(a)2.b, which restate it",
        ..PLAIN
    },
    Rule {
        id: "us-pfrp-windrow",
        name: "US 40 CFR 503, PFRP in windrows",
        condition: "55 °C for 15 days and 5 turnings",
        heat: &[&[total(55.0, 15.0 * DAY)]],
        turns: Some((5, 0.0)),
        source: "25 Pa. Code ch. 271 subch. J, App. A, and Wisconsin NR 204.07(6)(a)2.b, which restate it",
        ..PLAIN
    },
    Rule {
        id: "us-psrp",
        name: "US 40 CFR 503, PSRP",
        condition: "40 °C for 5 days, of which 4 h above 55 °C",
        heat: &[&[unbroken(40.0, 5.0 * DAY), total(55.0, 4.0)]],
        source: "25 Pa. Code ch. 271 subch. J, App. A, A.4",
        ..PLAIN
    },
    Rule {
        id: "us-organic-vessel",
        name: "US organic rule 7 CFR 205.203(c), in a vessel",
        reach: "growers who sell as organic",
        condition: "55 °C for 3 days",
        heat: &[&[unbroken(55.0, 3.0 * DAY)]],
        also: "C:N 25–40 at the start, not above 77 °C",
        source: "OMRI generic materials list, citing 205.203(c)(2)(i)–(ii)",
        ..PLAIN
    },
    Rule {
        id: "us-organic-windrow",
        name: "US organic rule 7 CFR 205.203(c), windrows",
        reach: "growers who sell as organic",
        condition: "55 °C for 15 days and 5 turnings",
        heat: &[&[total(55.0, 15.0 * DAY)]],
        turns: Some((5, 0.0)),
        also: "C:N 25–40 at the start, not above 77 °C",
        source: "rule text quoted in an article of 2001 on the final rule",
        ..PLAIN
    },
    Rule {
        id: "de-bioabfv",
        name: "Germany, BioAbfV 2012",
        reach: "treatment plants",
        condition: "55 °C for 14 days, 60 °C for 6 days or 65 °C for 3 days",
        heat: &[
            &[total(55.0, 14.0 * DAY)],
            &[total(60.0, 6.0 * DAY)],
            &[total(65.0, 3.0 * DAY)],
        ],
        also: "whole mass, moisture 40 % or more, pH about 7, as unbroken as can be",
        exempt: true,
        source: "BioAbfV Annex 2 no. 2.2.2.1; exemption s. 1(3) no. 1",
        ..PLAIN
    },
    Rule {
        id: "eu-142",
        name: "EU 142/2011, animal by-products",
        reach: "plants that take animal by-products",
        condition: "70 °C for 1 h",
        heat: &[&[unbroken(70.0, 1.0)]],
        also: "pieces up to 12 mm",
        source: "Reg. 142/2011 Annex V; 12 mm in BioAbfV Annex 2 no. 2.2.1.1",
        ..PLAIN
    },
    Rule {
        id: "uk-abpr-closed",
        name: "UK catering waste rules, closed",
        reach: "plants that take catering waste",
        condition: "60 °C for 2 days, or 70 °C for 1 h",
        heat: &[&[unbroken(60.0, 2.0 * DAY)], &[unbroken(70.0, 1.0)]],
        also: "pieces up to 400 mm (60 mm at 70 °C), no meat or a second step, 18 days of storage",
        exempt: true,
        source: "SI 2006/1293 (W.127) Sch. 1 Pt II; SR (NI) 2003/495; use where it is made: GOV.UK guide",
        ..PLAIN
    },
    Rule {
        id: "uk-abpr-windrow",
        name: "UK catering waste rules, housed windrow",
        reach: "plants that take catering waste",
        condition: "60 °C for 8 days, 3 turnings at least 2 days apart",
        heat: &[&[total(60.0, 8.0 * DAY)]],
        turns: Some((3, 2.0)),
        also: "pieces up to 400 mm, no meat or a second step, 18 days of storage",
        exempt: true,
        source: "SI 2006/1293 (W.127) Sch. 1 Pt II; SR (NI) 2003/495",
        ..PLAIN
    },
    Rule {
        id: "ca-ccme",
        name: "Canada, CCME 2005, in a vessel",
        standing: Standing::Yardstick,
        reach: "compost that is sold or given away",
        condition: "55 °C for 3 days without a break",
        heat: &[&[unbroken(55.0, 3.0 * DAY)]],
        exempt: true,
        source: "restated by Manitoba Agriculture, Compost elements; the CCME text itself not seen",
        ..PLAIN
    },
    Rule {
        id: "eu-cmc3",
        name: "EU 2019/1009, CMC 3",
        reach: "compost with a CE mark",
        condition: "70, 65, 60 or 55 °C for 3, 5, 7 or 14 days",
        heat: &[
            &[unbroken(70.0, 3.0 * DAY)],
            &[unbroken(65.0, 5.0 * DAY)],
            &[unbroken(60.0, 7.0 * DAY)],
            &[unbroken(55.0, 14.0 * DAY)],
        ],
        seen: false,
        source: "Reg. 2019/1009 Annex II, CMC 3",
        ..PLAIN
    },
    Rule {
        id: "uk-pas100",
        name: "UK PAS 100",
        standing: Standing::Yardstick,
        reach: "compost sold under the standard",
        condition: "65 °C for 7 days in total, 2 turnings",
        heat: &[&[total(65.0, 7.0 * DAY)]],
        turns: Some((2, 0.0)),
        also: "moisture 51 % or more",
        seen: false,
        source: "PAS 100; a recommended minimum",
        ..PLAIN
    },
    Rule {
        id: "at-2005",
        name: "Austria, state of the art 2005",
        standing: Standing::Yardstick,
        reach: "composting plants",
        condition: "about 10 days at 55 °C, 3 turnings",
        heat: &[&[total(55.0, 10.0 * DAY)]],
        turns: Some((3, 0.0)),
        also: "moisture 40 % or more",
        seen: false,
        source: "Stand der Technik der Kompostierung 2005, low confidence",
        ..PLAIN
    },
];

/// How a criterion stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Met {
    /// At every place that was read, core and shell.
    Yes,
    /// Not, even if every hour that was not read had been hot.
    No,
    /// In the core; the shell was not read.
    CoreOnly,
    /// Too many hours were not read, or no turning was noted.
    Unread,
}

/// A criterion and how it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Yardstick {
    /// The criterion.
    pub rule: &'static Rule,
    /// How it stands.
    pub met: Met,
}

/// Whether a course meets a demand: yes, no, or not known for want of readings.
fn held(course: &Course, held: &Held, span: f64) -> Option<bool> {
    let got = if held.unbroken {
        course
            .stretches(held.celsius, &[])
            .into_iter()
            .map(|(from, to)| to - from)
            .fold(0.0, f64::max)
    } else {
        plain(course, held.celsius)
    };
    if got >= held.hours - 1e-9 {
        return Some(true);
    }
    // Hours not read may have been hot, next to those that were.
    let unread = (span - course.known()).max(0.0);
    if got + unread < held.hours {
        Some(false)
    } else {
        None
    }
}

/// Yes if all are; no as soon as one is not; else not known.
pub(crate) fn all(parts: impl Iterator<Item = Option<bool>>) -> Option<bool> {
    let mut known = true;
    for part in parts {
        match part {
            Some(false) => return Some(false),
            Some(true) => {}
            None => known = false,
        }
    }
    known.then_some(true)
}

/// Yes as soon as one is; no if none is; else not known.
fn any(parts: impl Iterator<Item = Option<bool>>) -> Option<bool> {
    all(parts.map(|part| part.map(|p| !p))).map(|none| !none)
}

/// Heat of a course against any one list of demands.
pub(crate) fn heat(course: &Course, lists: &[&[Held]], span: f64) -> Option<bool> {
    any(lists
        .iter()
        .map(|list| all(list.iter().map(|h| held(course, h, span)))))
}

/// Joins what the places say; the shell must be read for a yes.
pub(crate) fn at_all_places(core: Option<bool>, shell: Option<Option<bool>>) -> Met {
    match (core, shell) {
        (Some(false), _) | (_, Some(Some(false))) => Met::No,
        (Some(true), Some(Some(true))) => Met::Yes,
        (Some(true), None) => Met::CoreOnly,
        _ => Met::Unread,
    }
}

/// Whether the turnings suffice; not known where none was ever noted.
pub(crate) fn turned(occasions: &[f64], wanted: Option<(usize, f64)>) -> Option<bool> {
    match wanted {
        None => Some(true),
        Some((count, days)) if apart(occasions, days) >= count => Some(true),
        Some(_) if occasions.is_empty() => None,
        Some(_) => Some(false),
    }
}

/// How every criterion stands. `span` is how long the batch lasts, h; turnings are those written down.
#[must_use]
pub fn yardsticks(
    core: &Course,
    shell: Option<&Course>,
    occasions: &[f64],
    span: f64,
) -> Vec<Yardstick> {
    RULES
        .iter()
        .map(|rule| {
            let turned = turned(occasions, rule.turns);
            let lasted = span >= rule.days * DAY - 1e-9;
            let met = if lasted {
                let of = |course: &Course| all([heat(course, rule.heat, span), turned].into_iter());
                at_all_places(of(core), shell.map(of))
            } else {
                Met::No
            };
            Yardstick { rule, met }
        })
        .collect()
}
