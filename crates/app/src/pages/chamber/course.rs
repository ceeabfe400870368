//! How core and level went week by week, and how they are to go: a stroke from 5 to 95 % with its middle.
//!
//! Strokes, no band: a drawn band is read as real highs and lows (Joslyn & Savelli 2021).

use desk::{ForecastAnswer, WeekFacts};
use maud::{Markup, html};
use units::Spread;

use crate::pages::chambers::drum::to;
use crate::words::{self, Tongue, inside, when};

const WIDE: f64 = 352.0;
const TALL: f64 = 134.0;
/// Left of the first and right of the last week.
const EDGE: (f64, f64) = (50.0, 8.0);
const TOP: f64 = 8.0;
const FOOT: f64 = 98.0;

pub(super) fn page(a: &ForecastAnswer, tongue: Tongue) -> Markup {
    let litres = a.chamber_litres;
    let level = move |w: &WeekFacts| w.litres.scale(100.0 / litres);
    let tops: Vec<f64> = a.weeks.iter().map(|w| w.core_c.high).collect();
    let hot = tops.iter().copied().fold(30.0, f64::max);
    let cold = a.weeks.iter().map(|w| w.core_c.low).fold(0.0, f64::min);
    let warmth: Vec<(f64, String)> = [0.0, 20.0, 40.0, 60.0]
        .into_iter()
        .filter(|c| *c <= hot && *c >= cold)
        .map(|c| (c, inside::degrees(c, tongue)))
        .collect();
    let full: Vec<(f64, String)> = [0.0, 50.0, 100.0]
        .map(|l| (l, format!("{l:.0} %")))
        .to_vec();
    let peak = inside::degrees(a.peak_c.mid, tongue);
    html! {
        figure.course {
            figcaption { "Core. Warmest hour of it all: about " (peak) "." }
            (strokes(a, "core", (cold, hot), &warmth, |w| w.core_c))
        }
        figure.course {
            figcaption { "Level, of a full chamber." }
            (strokes(a, "level", (0.0, 100.0), &full, level))
        }
        details {
            summary { "All weeks as a table" }
            table.worked {
                thead { tr { th scope="col" { "Week of" } th scope="col" { "Core" } th scope="col" { "Level" } } }
                tbody {
                    @for week in &a.weeks {
                        @if let Some(date) = week.date {
                            tr {
                                th scope="row" { (when::day(date)) }
                                td { (inside::warmth_range(week.core_c, tongue)) }
                                td { (words::range(Some(level(week)), "%")) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn strokes(
    a: &ForecastAnswer,
    id: &str,
    (least, most): (f64, f64),
    lines: &[(f64, String)],
    of: impl Fn(&WeekFacts) -> Spread,
) -> Markup {
    let y = |v: f64| FOOT - (v.clamp(least, most) - least) / (most - least) * (FOOT - TOP);
    let count = a.weeks.len().max(2) as f64;
    let x = |n: f64| EDGE.0 + 6.0 + n / (count - 1.0) * (WIDE - EDGE.0 - EDGE.1 - 6.0);
    let now = a.days_since_first as f64 / 7.0;
    let (mut past, mut coming, mut middles) = (String::new(), String::new(), String::new());
    for (n, week) in a.weeks.iter().enumerate() {
        let (n, s) = (n as f64, of(week));
        let at = to(x(n));
        let stroke = format!("M{at} {}V{}", to(y(s.low)), to(y(s.high)));
        if n <= now {
            past.push_str(&stroke)
        } else {
            coming.push_str(&stroke)
        }
        middles.push_str(&format!("M{at} {}h.01", to(y(s.mid))));
    }
    let months = a.weeks.iter().enumerate().filter_map(|(n, w)| {
        let date = w.date?;
        (date.day() <= 7 && date.month() % 3 == 1).then(|| (x(n as f64), date))
    });
    html! {
            svg viewBox={ "0 0 " (WIDE) " " (TALL) } role="img" aria-label={ "Weekly " (id) ", drawn; the table has the same in numbers" } {
                @for (value, label) in lines {
                    line.rule x1=(EDGE.0) x2=(WIDE) y1=(to(y(*value))) y2=(to(y(*value))) {}
                    text.end x=(EDGE.0 - 4.0) y=(to(y(*value) + 4.0)) { (label) }
                }
                path.past d=(past) {}
                path.coming d=(coming) {}
                path.middles d=(middles) {}
                @if now < count {
                    line.today x1=(to(x(now))) x2=(to(x(now))) y1="2" y2=(FOOT) {}
                    text x=(to(x(now) + 4.0)) y="12" { "today" }
                }
                @for (at, date) in months {
    text x=(to(at - 12.0)) y=(FOOT + 16.0) { (date.strftime("%b").to_string()) }
                    @if date.month() == 1 { text x=(to(at - 12.0)) y=(FOOT + 32.0) { (date.year()) } }
                }
            }
        }
}
