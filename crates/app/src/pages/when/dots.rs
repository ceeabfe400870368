//! Twenty dots on a line of dates, to scale: each is one run in twenty. Those beyond stand apart.

use desk::{ForecastAnswer, RungFacts};
use jiff::civil::Date;
use maud::{Markup, html};

use crate::pages::chambers::drum::to;

const WIDE: f64 = 352.0;
/// Width of a dot's own place.
const STEP: f64 = 13.0;
const DOT: f64 = 5.5;
/// Where the line begins, and the room for dots beyond it.
const LEFT: f64 = 10.0;
const BEYOND: f64 = 88.0;
/// Dots beyond stand in rows of so many.
const ROW: usize = 5;
/// Least months on a line, so that a single day does not fill it (choice).
const MONTHS: i32 = 3;

fn days(from: Date, to: Date) -> f64 {
    to.since(from).map_or(0.0, |s| f64::from(s.get_days()))
}

fn later(date: Date, months: i32) -> Date {
    date.checked_add(jiff::Span::new().months(months))
        .unwrap_or(date)
}

/// First and last month of the line.
fn line(a: &ForecastAnswer, r: &RungFacts) -> (Date, Date) {
    let known: Vec<Date> = r.dots.iter().flatten().copied().collect();
    let first = known.iter().copied().min().unwrap_or(a.today).min(a.today);
    let last = if known.len() < r.dots.len() {
        a.horizon
    } else {
        known
            .iter()
            .copied()
            .max()
            .unwrap_or(a.horizon)
            .max(a.today)
    };
    let start = first.first_of_month();
    (
        start,
        later(last.first_of_month(), 1).max(later(start, MONTHS)),
    )
}

/// Dots piled up where they fall: place along the line and height in the pile.
fn piles(r: &RungFacts, place: impl Fn(Date) -> f64) -> Vec<(Date, f64, usize)> {
    let mut piled: Vec<(Date, f64, usize)> = Vec::new();
    for date in r.dots.iter().flatten() {
        let x = LEFT + ((place(*date) - LEFT) / STEP).floor() * STEP + STEP / 2.0;
        let under = piled
            .iter()
            .filter(|(_, at, _)| (at - x).abs() < 0.5)
            .count();
        piled.push((*date, x, under));
    }
    piled
}

pub(super) fn picture(a: &ForecastAnswer, r: &RungFacts, said: &str) -> Markup {
    let beyond = r.dots.iter().filter(|d| d.is_none()).count();
    let (start, end) = line(a, r);
    let right = if beyond > 0 {
        WIDE - BEYOND
    } else {
        WIDE - LEFT
    };
    let all = days(start, end).max(1.0);
    let place = |date: Date| LEFT + days(start, date) / all * (right - LEFT);
    let piled = piles(r, place);
    let high = piled
        .iter()
        .map(|(_, _, n)| n + 1)
        .chain([beyond.div_ceil(ROW), 3])
        .max()
        .unwrap_or(3);
    let foot = 24.0 + high as f64 * STEP;
    let y = |n: usize| foot - 3.0 - DOT - n as f64 * STEP;
    let today = place(a.today);
    html! {
        svg viewBox={ "0 0 " (WIDE) " " (foot + 40.0) } role="img" aria-labelledby="dots-title dots-desc" {
            title #dots-title { "Twenty runs, a dot each, on a line of dates" }
            desc #dots-desc { (said) }
            line.base x1=(LEFT) x2=(to(right)) y1=(to(foot)) y2=(to(foot)) {}
            line.today x1=(to(today)) x2=(to(today)) y1="16" y2=(to(foot + 6.0)) {}
            text.start[today < WIDE / 2.0].end[today >= WIDE / 2.0] x=(to(today)) y="12" { "today" }
            (months(start, end, foot, place))
            @for (date, x, n) in &piled {
                circle.dot.gone[*date <= a.today] cx=(to(*x)) cy=(to(y(*n))) r=(DOT) {}
            }
            @if beyond > 0 {
                @let x = WIDE - BEYOND + 20.0;
                @for n in 0..beyond {
                    circle.far cx=(to(x + (n % ROW) as f64 * STEP)) cy=(to(y(n / ROW))) r=(DOT - 1.0) {}
                }
                text x=(to(x - 6.0)) y=(to(foot + 18.0)) { "not within" }
                text x=(to(x - 6.0)) y=(to(foot + 34.0)) { "a year" }
            }
        }
    }
}

/// Ticks at each month; names where there is room, a year where it begins.
fn months(start: Date, end: Date, foot: f64, place: impl Fn(Date) -> f64) -> Markup {
    let mut firsts = vec![start];
    while let Some(next) = firsts
        .last()
        .map(|d| later(*d, 1))
        .filter(|d| *d <= end && firsts.len() < 60)
    {
        firsts.push(next);
    }
    let every = (firsts.len() - 1).div_ceil(6).max(1);
    let named = move |n: usize, date: &Date| {
        (n.is_multiple_of(every) && *date < end).then(|| date.strftime("%b").to_string())
    };
    html! {
        @for (n, date) in firsts.iter().enumerate() {
            @let x = place(*date);
            line.base x1=(to(x)) x2=(to(x)) y1=(to(foot)) y2=(to(foot + if n % every == 0 { 7.0 } else { 4.0 })) {}
            @if let Some(name) = named(n, date) {
                text x=(to(x - 2.0)) y=(to(foot + 20.0)) { (name) }
                @if n == 0 || firsts[n.saturating_sub(every)].year() != date.year() {
                    text x=(to(x - 2.0)) y=(to(foot + 35.0)) { (date.year()) }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn rung(dots: Vec<Option<Date>>) -> RungFacts {
        RungFacts {
            rung: "planted_bed",
            early: None,
            middle: None,
            late: None,
            dots,
            never: 0.0,
            in_twenty_by_now: 0,
            days: [None; 3],
            raw: [None; 3],
        }
    }

    #[test]
    fn dots_of_one_place_pile_up_and_keep_to_scale() {
        let r = rung(vec![
            Some(date(2026, 1, 1)),
            Some(date(2026, 1, 2)),
            Some(date(2026, 12, 31)),
            None,
        ]);
        let place = |d: Date| LEFT + days(date(2026, 1, 1), d);
        let piled = piles(&r, place);
        assert_eq!(piled.len(), 3, "one that does not arrive stands on no date");
        assert_eq!((piled[0].2, piled[1].2, piled[2].2), (0, 1, 0));
        assert!((piled[2].1 - place(date(2026, 12, 31))).abs() <= STEP / 2.0);
    }
}
