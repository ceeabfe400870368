//! How much goes in, week by week: the household's own log, shrunk towards a usual year.
//!
//! ```text
//! month(m) = (Σ logged weeks of m + K · level · shape(m)) / (n_m + K)
//! ```
//! level is the mean of the logged weeks of the last year over their shapes; without any, three people's. K = 8
//! weeks (choice: two months of a month's own history weigh as much as the shape). A run of three weeks or more
//! without an entry is not known, not nought; a shorter one is a week away.
//!
//! Kitchen: 72 kg a person and year in the EU (Eurostat 2022), 79 the world over (UNEP 2024, Food Waste Index),
//! 76 in the UK (WRAP, 2021): near 1.4 kg a week each, the same all year. Garden: home composters take in
//! 126 kg a person and year with garden waste (Vázquez & Soto 2017): the rest. Its course over the months is
//! judged: little in frost, growth in spring, clear-outs and leaves in autumn; the south is half a year later.

/// Weeks that the usual year weighs.
const K: f64 = 8.0;
/// Share of the usual inflow that follows the garden: a drum takes a quarter of it from beds and pots (judged).
const GARDEN: f64 = 0.25;
/// Kitchen scraps of one person, kg a week: 72 kg/yr (Eurostat 2022).
pub const PERSON_KG: f64 = 1.38;
/// People of a household that logged nothing yet (choice).
pub const PEOPLE: f64 = 3.0;
/// Garden by month in the north, mean 1 (judged).
const MONTHS: [f64; 12] = [0.3, 0.3, 0.7, 1.0, 1.3, 1.3, 1.1, 1.1, 1.3, 1.8, 1.3, 0.5];
/// Spread from week to week where too few are known: standard deviation over mean (judged).
const UNKNOWN_SPREAD: f64 = 0.35;
/// A gap this long in the log is not known, weeks.
const UNKNOWN_GAP: usize = 3;

/// What is known of the past.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Inflow {
    /// Weeks back from today, the last first: month (1 to 12) at its middle and litres; `None` is not known.
    pub past: Vec<(u32, Option<f64>)>,
    /// Litres a week where nothing is known.
    pub usual: f64,
    /// South of the equator.
    pub south: bool,
}

/// The weeks to come.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Weekly {
    /// Litres, the middle.
    pub litres: Vec<f64>,
    /// Standard deviation over mean from week to week.
    pub spread: f64,
    /// Weeks of the log that count.
    pub known: usize,
}

/// The usual course over the months, mean 1.
#[must_use]
pub fn shape(month: u32, south: bool) -> f64 {
    let at = (month as usize + 11 + if south { 6 } else { 0 }) % 12;
    (1.0 - GARDEN) + GARDEN * MONTHS[at]
}

/// Takes long gaps out of a log of weekly litres, the last week first.
#[must_use]
pub fn without_gaps(litres: &[f64]) -> Vec<Option<f64>> {
    let mut all: Vec<Option<f64>> = litres.iter().map(|l| Some(*l)).collect();
    let mut from = 0;
    while from < litres.len() {
        let run = litres[from..].iter().take_while(|l| **l <= 0.0).count();
        if run >= UNKNOWN_GAP {
            all[from..from + run].fill(None);
        }
        from += run.max(1);
    }
    all
}

impl Weekly {
    /// The same with all litres times a factor.
    #[must_use]
    pub fn times(mut self, factor: f64) -> Self {
        self.litres.iter_mut().for_each(|l| *l *= factor);
        self
    }
}

impl Inflow {
    /// The weeks to come; `months` gives the month of each.
    #[must_use]
    pub fn ahead(&self, months: &[u32]) -> Weekly {
        let known: Vec<(u32, f64)> = self
            .past
            .iter()
            .filter_map(|(month, litres)| Some((*month, (*litres)?)))
            .collect();
        let last: Vec<f64> = known
            .iter()
            .take(52)
            .map(|(m, l)| l / shape(*m, self.south))
            .collect();
        // A few weeks weigh little against the usual.
        let n = last.len() as f64;
        let level = (last.iter().sum::<f64>() + self.usual * 2.0) / (n + 2.0);
        let level = if n >= K {
            last.iter().sum::<f64>() / n
        } else {
            level
        };
        let of_month = |month: u32| {
            let own: Vec<f64> = known
                .iter()
                .filter(|(m, _)| *m == month)
                .map(|(_, l)| *l)
                .collect();
            (own.iter().sum::<f64>() + K * level * shape(month, self.south))
                / (own.len() as f64 + K)
        };
        let spread = if last.len() >= 8 && level > 0.0 {
            let var = last.iter().map(|l| (l / level - 1.0).powi(2)).sum::<f64>() / (n - 1.0);
            var.sqrt().clamp(0.1, 0.55)
        } else {
            UNKNOWN_SPREAD
        };
        Weekly {
            litres: months.iter().map(|m| of_month(*m)).collect(),
            spread,
            known: known.len(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_year_has_a_mean_of_one() {
        let mean: f64 = (1..=12).map(|m| shape(m, false)).sum::<f64>() / 12.0;
        assert!((mean - 1.0).abs() < 1e-9, "{mean}");
        assert_eq!(shape(10, false), shape(4, true));
    }

    #[test]
    fn long_gaps_are_not_known_and_short_ones_are_nought() {
        let all = without_gaps(&[5.0, 0.0, 4.0, 0.0, 0.0, 0.0, 3.0]);
        assert_eq!(
            all,
            [Some(5.0), Some(0.0), Some(4.0), None, None, None, Some(3.0)]
        );
    }

    #[test]
    fn a_long_log_outweighs_the_usual_year_and_none_leaves_it() {
        let none = Inflow {
            usual: 20.0,
            ..Inflow::default()
        };
        let mean = none.ahead(&(1..=12).collect::<Vec<_>>());
        assert!((mean.litres.iter().sum::<f64>() / 12.0 - 20.0).abs() < 1e-9);
        let past = (0..156)
            .map(|w| ((w / 4 % 12) as u32 + 1, Some(8.0)))
            .collect();
        let long = Inflow {
            past,
            usual: 20.0,
            south: false,
        };
        let ahead = long.ahead(&[7]);
        assert!((7.5..8.6).contains(&ahead.litres[0]), "{ahead:?}");
    }
}
