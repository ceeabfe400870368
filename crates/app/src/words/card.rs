//! What the card buys in days, in no finer words than the doubt bears.

use desk::{CardFacts, DoseAnswer, Gain};

use super::when::{Way, by};

/// Share of the runs as a count out of twenty.
fn of_twenty(share: f64) -> usize {
    (share * 20.0).round() as usize
}

fn gain(g: Gain) -> Option<(String, Way)> {
    by(g.days, g.doubt)
}

/// What browns and scissors buy, where a brown is dosed: gain, then what it rests on. Empty where nothing is
/// larger than its doubt.
pub(crate) fn lines(a: &DoseAnswer, c: &CardFacts) -> Vec<String> {
    let mut all = Vec::new();
    if a.exact || a.doses.is_empty() {
        return all;
    }
    match gain(c.browns) {
        Some((size, Way::Sooner)) => {
            all.push(format!(
                "Without the browns: fit for planted beds {size} later."
            ));
        }
        Some((size, Way::Later)) => all.push(format!(
            "Without the browns: fit for planted beds {size} sooner, but wetter until then."
        )),
        None => {}
    }
    let (without, with) = (of_twenty(c.arrive.0), of_twenty(c.arrive.1));
    if without < with {
        all.push(format!(
            "Within a year {with} of 20 runs are fit with it, {without} without."
        ));
    }
    for (what, than, g) in [
        ("Card torn to a palm", "in whole sheets", c.torn),
        ("Card shredded", "torn", c.shredded),
    ] {
        if let Some((size, way)) = gain(g) {
            let way = way.word();
            all.push(format!("{what}: {size} {way} than {than}."));
        }
    }
    if a.read.items.iter().any(|l| l.material == EGGSHELL) {
        all.push("Crushing the shells changes what is left over, not the date.".into());
    }
    if let Some(last) = all.last_mut() {
        last.push_str(" By arithmetic, for a dozen of your usual caddies [dose.days].");
    }
    all
}

/// Shell rots in no compost; it is there at the start and at the end.
const EGGSHELL: &str = "eggshell";

#[cfg(test)]
mod tests {
    use super::*;

    fn dose(entry: &str) -> DoseAnswer {
        let ask = desk::DoseAsk {
            text: entry.into(),
            ..desk::DoseAsk::default()
        };
        desk::Desk::without_journal(None)
            .unwrap()
            .dose(&ask)
            .unwrap()
    }

    fn facts(browns: f64, torn: f64, shredded: f64, doubt: f64) -> CardFacts {
        let gain = |days| Gain { days, doubt };
        CardFacts {
            browns: gain(browns),
            arrive: (0.52, 0.81),
            torn: gain(torn),
            shredded: gain(shredded),
            nitrogen_lost_pct: (40.0, 20.0),
        }
    }

    #[test]
    fn days_are_said_as_wide_as_their_doubt() {
        let said = lines(&dose("full caddy"), &facts(40.0, 12.0, 3.0, 8.0));
        assert_eq!(
            said,
            [
                "Without the browns: fit for planted beds 5 to 7 weeks later.",
                "Within a year 16 of 20 runs are fit with it, 10 without.",
                "Card torn to a palm: 1 to 3 weeks sooner than in whole sheets. By arithmetic, for a dozen of your usual caddies [dose.days].",
            ]
        );
        let said = lines(
            &dose("full caddy, 2 eggshells"),
            &facts(-9.0, 9.0, 4.2, 1.0),
        );
        assert!(
            said[0].contains("beds about 9 days sooner, but"),
            "{said:?}"
        );
        assert!(said[3].starts_with("Card shredded: about 4 days sooner than torn."));
        assert!(said[4].starts_with("Crushing the shells"), "{said:?}");
    }

    #[test]
    fn without_browns_there_is_nothing_to_say() {
        let mut none = dose("full caddy");
        none.doses.clear();
        assert!(lines(&none, &facts(40.0, 12.0, 3.0, 1.0)).is_empty());
    }
}
