//! A forecast in sentences: what it takes for granted, when, how sure, what would move it.

use desk::{Assumed, ForecastAnswer, MoveFacts, RungFacts};
use jiff::civil::Date;

use super::dates::{Grain, Speech};
use super::{capital, list};

/// The rung a bed asks for; moves are worked out for it.
pub(crate) const BED: &str = "planted_bed";

/// "planted beds", as it stands behind "fit for".
pub(crate) fn rung(id: &str) -> &'static str {
    match id {
        "mulch" => "mulch",
        "resting_bed" => "a resting bed",
        "planted_bed" => "planted beds",
        "pots" => "pots",
        "seed_trays" => "seed trays",
        _ => "use",
    }
}

/// Where and how it is used then.
pub(crate) fn rung_use(id: &str) -> &'static str {
    match id {
        "mulch" => "On top of the soil, around shrubs.",
        "resting_bed" => "Dug into a bed that is planted six weeks later or more.",
        "planted_bed" => "Dug into a bed that is planted now.",
        "pots" => "A part of a potting mix.",
        "seed_trays" => "A part of a seed mix.",
        _ => "",
    }
}

/// How a forecast of this chamber speaks of dates.
pub(crate) fn speech(a: &ForecastAnswer) -> Speech {
    // The climate says which half of the year is winter, wherever the household lives.
    let mean = |months: [i8; 3]| {
        let of: Vec<f64> = a
            .weeks
            .iter()
            .filter(|w| w.date.is_some_and(|d| months.contains(&d.month())))
            .map(|w| w.air_c)
            .collect();
        of.iter().sum::<f64>() / of.len().max(1) as f64
    };
    Speech {
        this_year: a.today.year(),
        south: mean([12, 1, 2]) > mean([6, 7, 8]),
    }
}

fn grain(r: &RungFacts) -> Grain {
    Grain::of(r.early, r.late)
}

/// How many of the twenty are not fit by the horizon.
pub(crate) fn beyond(r: &RungFacts) -> usize {
    r.dots.iter().filter(|d| d.is_none()).count()
}

/// Runs, out of the twenty, between the early and the late date.
const INSIDE: usize = 16;

/// "Most likely fit for planted beds around 10 May." and how sure.
pub(crate) fn window(a: &ForecastAnswer, r: &RungFacts) -> Vec<String> {
    let (speech, grain) = (speech(a), grain(r));
    let (fit, never, now) = (rung(r.rung), beyond(r), r.in_twenty_by_now);
    let lead = if a.state == "filling" {
        "If nothing more went in: most"
    } else {
        "Most"
    };
    let mut said = Vec::new();
    match r.middle {
        None => {
            said.push(format!("{lead} likely not fit for {fit} within a year."));
            let within = r.dots.len() - never;
            said.push(if within == 0 {
                "In none of 20 runs is it.".into()
            } else {
                format!("In {within} of 20 runs it is, in {never} it is not.")
            });
            return said;
        }
        Some(date) if date <= a.today => {
            said.push(format!(
                "{lead} likely fit for {fit} by now: so in {now} of 20 runs."
            ));
        }
        Some(date) => {
            said.push(format!(
                "{lead} likely fit for {fit} {}.",
                speech.about(date, grain)
            ));
            match (r.early, r.late) {
                (Some(early), Some(late)) => {
                    said.push(format!(
                        "In {INSIDE} of 20 runs {}.",
                        speech.between(early, late, grain)
                    ));
                }
                (Some(early), None) if early > a.today => said.push(format!(
                    "In 18 of 20 runs not before {}.",
                    speech.plain(early, grain)
                )),
                _ => {}
            }
            if now > 0 {
                said.push(format!("In {now} of 20 runs it is fit already."));
            }
        }
    }
    if never > 0 {
        said.push(format!("In {never} of 20 runs not within a year."));
    }
    said
}

/// When to test and what to promise.
pub(crate) fn decision(a: &ForecastAnswer, r: &RungFacts) -> String {
    let (speech, grain) = (speech(a), grain(r));
    let to = match r.rung {
        "pots" => "no pot",
        "seed_trays" => "no seed",
        "mulch" => "no shrub",
        _ => "no bed",
    };
    let test = match r.early {
        None => return format!("Promise it to {to} within the year."),
        Some(early) if early <= a.today => {
            if a.state == "filling" {
                "Once it is closed, start testing".to_owned()
            } else {
                "Start testing now".to_owned()
            }
        }
        Some(early) => format!("Start testing {}", speech.on(early, grain)),
    };
    match r.late {
        None => format!("{test}; promise it to {to} within the year."),
        Some(late) if late <= a.today => format!("{test}; it should pass."),
        Some(late) => format!(
            "{test}; promise it to {to} before {}.",
            speech.end_of(late, grain)
        ),
    }
}

/// The window of a rung of the ladder, short.
pub(crate) fn rung_window(a: &ForecastAnswer, r: &RungFacts) -> String {
    let (speech, grain) = (speech(a), grain(r));
    match (r.early, r.middle, r.late) {
        (_, _, Some(late)) if late <= a.today => "By now.".into(),
        (Some(early), Some(_), Some(late)) if early <= a.today => {
            format!("From now to {}.", speech.plain(late, grain))
        }
        (Some(early), Some(_), Some(late)) => {
            capital(&format!("{}.", speech.span(early, late, grain)))
        }
        (Some(early), Some(middle), None) => format!(
            "{}, most likely {}; in {} of 20 runs not within a year.",
            if early <= a.today {
                "From now".to_owned()
            } else {
                format!("From {}", speech.plain(early, grain))
            },
            if middle <= a.today {
                "by now".to_owned()
            } else {
                speech.on(middle, grain)
            },
            beyond(r)
        ),
        _ => format!("In {} of 20 runs not within a year.", beyond(r)),
    }
}

/// What the forecast takes for granted, a sentence each, those a person can mend first.
pub(crate) fn assumed(a: &ForecastAnswer, size: impl Fn(f64) -> String) -> Vec<String> {
    a.assumed.iter().map(|one| taken(one, &size)).collect()
}

/// One thing that is taken for granted.
pub(crate) fn taken(one: &Assumed, size: impl Fn(f64) -> String) -> String {
    match one {
        Assumed::Town(town) => format!("The weather is as in {town} from 1981 to 2010."),
        Assumed::Latitude(l) => format!(
            "The weather is as in towns near {:.0}° {}.",
            l.abs(),
            if *l < 0.0 { "south" } else { "north" }
        ),
        Assumed::NoPlace(town) => {
            format!("Your place is not known here, so the weather of {town} is taken.")
        }
        Assumed::NothingMore => "Nothing more goes in after today.".into(),
        Assumed::Turned { every, noted: true } => {
            format!("It is turned as you noted, and every {every} days from then on.")
        }
        Assumed::Turned {
            every,
            noted: false,
        } => {
            format!("It is turned every {every} days: no turning was noted.")
        }
        Assumed::TurnedBetween(every) => {
            format!("Where two weeks went by without a note, it was turned every {every} days.")
        }
        Assumed::Observed { days: 1, to } => {
            format!(
                "The weather measured on {} is used; the rest is drawn.",
                day(*to)
            )
        }
        Assumed::Observed { days, to } => format!(
            "Weather measured on {days} days is used, up to {}; the rest is drawn.",
            day(*to)
        ),
        Assumed::Litres(litres) => {
            format!("Its size is not known; {} is taken.", size(*litres))
        }
        Assumed::UsualDrum => {
            "It is a plain grey drum, in the sun for half the day, not wrapped.".into()
        }
        Assumed::UsualBin => {
            "It is a plain grey bin on open ground, in the sun for half the day, not wrapped."
                .into()
        }
        Assumed::LeftOut(ids) => {
            let names: Vec<String> = ids.iter().map(|id| id.replace('-', " ")).collect();
            format!(
                "Left out, as too little is known of them: {}.",
                list(&names)
            )
        }
        Assumed::BeforeRecord => {
            "Part of it went in before the log began; your guess stands for it.".into()
        }
        Assumed::Torn => "Card was torn to about the size of a palm.".into(),
    }
}

/// Least gain or loss worth telling, d (choice).
const WORTH_TELLING: f64 = 1.0;
/// Doubt below which single days are told (choice).
const FINE: f64 = 2.0;

/// Which way a date moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    /// Earlier.
    Sooner,
    /// Later.
    Later,
}

impl Way {
    /// In a word.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Sooner => "sooner",
            Self::Later => "later",
        }
    }
}

/// Days of a move, in no finer words than its doubt bears: "about 3 days sooner", "1 to 3 weeks later".
pub(crate) fn moved(m: &MoveFacts) -> Option<String> {
    by(m.days, m.doubt).map(|(size, way)| format!("{size} {}", way.word()))
}

/// How far, and which way: positive days are sooner. `None` for what is less than its doubt, or than a day.
pub(crate) fn by(days: f64, doubt: f64) -> Option<(String, Way)> {
    let way = if days > 0.0 { Way::Sooner } else { Way::Later };
    let (days, doubt) = (days.abs(), doubt.abs());
    if !(days > doubt && days >= WORTH_TELLING) {
        return None;
    }
    let plural = |n: f64, one: &str| {
        if n == 1.0 {
            one.to_owned()
        } else {
            format!("{one}s")
        }
    };
    if doubt < FINE {
        let n = days.round();
        return Some((format!("about {n:.0} {}", plural(n, "day")), way));
    }
    let (low, high) = (
        ((days - doubt) / 7.0).round(),
        ((days + doubt) / 7.0).round().max(1.0),
    );
    let size = match low {
        l if l < 1.0 => format!("up to {high:.0} {}", plural(high, "week")),
        l if l == high => format!("about {high:.0} {}", plural(high, "week")),
        l => format!("{l:.0} to {high:.0} weeks"),
    };
    Some((size, way))
}

/// What an act is.
pub(crate) fn act(id: &str) -> String {
    match id {
        "turn_often" | "turn_daily" => "Turn it every day.",
        "wrap" => "Wrap it in foam or a thick blanket.",
        "sun" => "Move it into full sun.",
        "cut" => "Take it out and chop the pieces small.",
        "water" => "Pour in half a bucket of cold water.",
        "warm_water" => "Pour in half a bucket of hand-hot water.",
        "greens" => "Add two full caddies of soft greens.",
        other => return capital(&format!("{}.", other.replace('_', " "))),
    }
    .to_owned()
}

/// Moves worth telling, most days first; those that make it later stand last.
pub(crate) fn moves(a: &ForecastAnswer) -> Vec<(String, String)> {
    a.moves
        .iter()
        // A finishing chamber takes no more, and a wet one wants no soft greens: a gain by them is no advice.
        .filter(|m| {
            let wet = a.inside.water_pct.mid > super::inside::WET;
            !(m.act == "greens" && (a.state == "closed" || wet))
        })
        .filter_map(|m| Some((act(m.act), moved(m)?)))
        .collect()
}

/// The forecast of a chamber in one line, for a page that asks something else.
pub(crate) fn in_short(a: &ForecastAnswer) -> Option<String> {
    let bed = a.rungs.iter().find(|r| r.rung == BED)?;
    window(a, bed).into_iter().next()
}

/// The rung asked for, else the planted bed.
pub(crate) fn rung_asked<'a>(a: &'a ForecastAnswer, asked: &str) -> Option<&'a RungFacts> {
    let find = |id: &str| a.rungs.iter().find(|r| r.rung == id);
    find(asked).or_else(|| find(BED))
}

/// A date as a person reads it in a table.
pub(crate) fn day(date: Date) -> String {
    date.strftime("%-d %B %Y").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn a_move(days: f64, doubt: f64) -> MoveFacts {
        MoveFacts {
            act: "sun",
            days,
            doubt,
        }
    }

    #[test]
    fn days_are_no_finer_than_their_doubt() {
        for (days, doubt, said) in [
            (4.1, 0.8, Some("about 4 days sooner")),
            (-6.5, 1.6, Some("about 7 days later")),
            (1.2, 0.1, Some("about 1 day sooner")),
            (17.7, 6.4, Some("2 to 3 weeks sooner")),
            (15.0, 3.0, Some("2 to 3 weeks sooner")),
            (14.0, 2.5, Some("about 2 weeks sooner")),
            (5.0, 4.0, Some("up to 1 week sooner")),
            (0.6, 0.1, None),
            (3.0, 3.1, None),
            (0.0, 0.0, None),
            (f64::NAN, 1.0, None),
        ] {
            assert_eq!(
                moved(&a_move(days, doubt)).as_deref(),
                said,
                "{days} ± {doubt}"
            );
        }
    }

    /// A forecast of the demo household, its planted bed as given: early, middle, late, beyond, by now.
    fn bed(ends: [Option<Date>; 3], never: usize, now: usize) -> ForecastAnswer {
        let ask = desk::ForecastAsk {
            chamber: Some("Far".into()),
            members: 4,
            moves: false,
            ..desk::ForecastAsk::default()
        };
        let mut a = desk::Desk::demo().unwrap().forecast(&ask).unwrap();
        let r = a.rungs.iter_mut().find(|r| r.rung == BED).unwrap();
        [r.early, r.middle, r.late] = ends;
        r.in_twenty_by_now = now;
        r.dots = (0..20)
            .map(|n| (n >= never).then_some(ends[0]).flatten())
            .collect();
        a
    }

    /// What is said of the bed, and what to do.
    fn said(a: &ForecastAnswer) -> (String, String) {
        let r = rung_asked(a, BED).unwrap();
        (window(a, r).join(" "), decision(a, r))
    }

    #[test]
    fn a_window_is_said_as_wide_as_it_is() {
        let d = |y, m, d| Some(jiff::civil::date(y, m, d));
        let (window, act) = said(&bed([d(2027, 5, 3), d(2027, 5, 10), d(2027, 5, 20)], 0, 0));
        assert_eq!(
            window,
            "Most likely fit for planted beds around 10 May 2027. In 16 of 20 runs between 3 May 2027 and 20 May 2027."
        );
        assert_eq!(
            act,
            "Start testing on 3 May 2027; promise it to no bed before 20 May 2027."
        );
        let (window, act) = said(&bed(
            [d(2026, 10, 3), d(2026, 10, 25), d(2026, 11, 20)],
            1,
            0,
        ));
        assert_eq!(
            window,
            "Most likely fit for planted beds around late October. In 16 of 20 runs between early October and mid November. In 1 of 20 runs not within a year."
        );
        assert_eq!(
            act,
            "Start testing in early October; promise it to no bed before late November."
        );
    }

    #[test]
    fn what_has_no_end_is_promised_to_nobody() {
        let d = |y, m, d| Some(jiff::civil::date(y, m, d));
        let (window, act) = said(&bed([d(2026, 8, 3), d(2026, 11, 26), None], 4, 7));
        assert_eq!(
            window,
            "Most likely fit for planted beds in autumn 2026. In 7 of 20 runs it is fit already. In 4 of 20 runs not within a year."
        );
        assert_eq!(
            act,
            "Start testing now; promise it to no bed within the year."
        );
        let (window, act) = said(&bed([None, None, None], 20, 0));
        assert_eq!(
            window,
            "Most likely not fit for planted beds within a year. In none of 20 runs is it."
        );
        assert_eq!(act, "Promise it to no bed within the year.");
        let (window, act) = said(&bed([d(2026, 8, 1), d(2026, 8, 9), d(2026, 8, 20)], 0, 20));
        assert_eq!(
            window,
            "Most likely fit for planted beds by now: so in 20 of 20 runs."
        );
        assert_eq!(act, "Start testing now; it should pass.");
    }
}
