//! A heat record in sentences: the criterion and the readings, never a promise.

use desk::{HeatAnswer, HeatHours, MetFacts};

use super::inside::degrees;
use super::tongue::Tongue;

/// Hours as readings bear them: whole ones, tens from a hundred on.
pub(crate) fn hours(h: f64) -> String {
    if h >= 100.0 {
        format!("{:.0} h", (h / 10.0).round() * 10.0)
    } else {
        format!("{h:.0} h")
    }
}

/// Where hours can be told at all.
pub(crate) fn told(h: &HeatHours) -> bool {
    h.known > 0.0
}

fn count(n: usize, one: &str) -> String {
    let s = if n == 1 { "" } else { "s" };
    format!("{n} {one}{s}")
}

/// What the readings say of 72 h at 55 °C.
pub(crate) fn headline(a: &HeatAnswer, tongue: Tongue) -> String {
    let readings = a.core.readings + a.shell.map_or(0, |s| s.readings);
    let hot = degrees(55.0, tongue);
    if readings == 0 {
        return format!(
            "No temperature of {} is noted, so nothing is known of its heat.",
            a.chamber
        );
    }
    if !told(&a.core) && !a.shell.as_ref().is_some_and(told) {
        return format!(
            "{} of {}, none within a day of the next: no hours can be told.",
            count(readings, "reading"),
            a.chamber
        );
    }
    let place = if a.core_only() {
        "in the core"
    } else {
        "at the colder place"
    };
    if a.reaches {
        format!(
            "At least {} {place}: 72 h at {hot} are reached there.",
            hours(a.graded_h)
        )
    } else {
        format!(
            "{} {place} are known; 72 h at {hot} are not reached.",
            hours(a.graded_h)
        )
    }
}

/// What the headline rests on.
pub(crate) fn doubts(a: &HeatAnswer) -> Vec<String> {
    let mut said = Vec::new();
    if a.core_only() && a.core.readings > 0 {
        said.push("Core only: the shell was not read, so nothing is claimed for it.".to_owned());
    }
    let days = (a.span_h / 24.0).round();
    let unread = days - (a.core.known / 24.0).round();
    if unread >= 1.0 {
        said.push(format!(
            "Of {days:.0} days, {unread:.0} were not read. They may have been hot or cool."
        ));
    }
    if a.set_aside > 0 {
        said.push(format!(
            "{} set aside: no probe in compost reads that.",
            count(a.set_aside, "reading")
        ));
    }
    said
}

/// Turnings and the part that was never hot.
pub(crate) fn turnings(a: &HeatAnswer) -> String {
    let noted = count(a.turned.len(), "day");
    match a.never_heated_pct {
        None => format!("Turned on {noted}. No hot spell is known, so no turning mixed heat in."),
        Some(_) if a.turns_between == 0 => {
            format!(
                "Turned on {noted}, none of them between two hot spells of 3 days. What lay outside stayed cool."
            )
        }
        Some([low, _, high]) => format!(
            "Turned on {noted}, {} between hot spells. By arithmetic {} to {} % was never in the heat; five such turnings are wanted.",
            a.turns_between,
            share(low),
            share(high)
        ),
    }
}

/// One figure, as the doubt bears.
fn share(pct: f64) -> String {
    match pct {
        p if p >= 1.0 => format!("{p:.0}"),
        p if p >= 0.1 => format!("{p:.1}"),
        _ => "under 0.1".into(),
    }
}

/// How a criterion stands.
pub(crate) fn met(m: MetFacts) -> &'static str {
    match m {
        MetFacts::Met => "met, core and shell",
        MetFacts::NotMet => "not met",
        MetFacts::CoreOnly => "met in the core; shell not read",
        MetFacts::Unread => "not known, too little noted",
    }
}

/// A band of weeds or disease.
pub(crate) fn band(id: &str, m: MetFacts, tongue: Tongue) -> String {
    let (what, asks) = match id {
        "annual_weeds" => (
            "Most annual weeds",
            "72 h at 55 °C and 3 turnings, or 4 months moist with a spell at 45 °C",
        ),
        "docks" => ("Docks and their like", "14 days at 60 °C"),
        _ => (
            "Most plant disease",
            "64 °C for 21 days; clubroot, wilts and viruses may live on",
        ),
    };
    format!("{what}: {} ({}).", met(m), tongue.warm(asks))
}

/// Never claimed.
pub(crate) const NEVER: &str =
    "Never claimed: bindweed, couch, knotweed, bulbils, hard-coated seed.";

/// Whom rules bind.
pub(crate) const LAW: &str = "No such law binds compost you make and use at home, in the places we know. Rules bind if you sell it, give it away, or sell what grows in it. They bind too if you use raw manure on crops for sale, or keep livestock. Your local rules come first.";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_keep_to_what_readings_bear() {
        assert_eq!(hours(66.2), "66 h");
        assert_eq!(hours(139.5), "140 h");
    }

    #[test]
    fn the_demo_says_what_is_not_known() {
        let a = desk::Desk::demo().unwrap().heat(Some("Far")).unwrap();
        let text = headline(&a, Tongue::default());
        assert!(
            text.contains("no hours can be told") || text.contains("not reached"),
            "{text}"
        );
        assert!(doubts(&a).iter().any(|d| d.starts_with("Core only")));
        assert!(
            turnings(&a).contains("No hot spell is known"),
            "{}",
            turnings(&a)
        );
    }
}
