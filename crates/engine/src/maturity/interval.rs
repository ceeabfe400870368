//! How far a count can be trusted: 95 % intervals of a share and of a ratio of two shares.
//!
//! Wilson: (p̂ + z²/2n ± z√(p̂(1−p̂)/n + z²/4n²)) / (1 + z²/n); the one that is shown (Wilson 1927; Brown, Cai &
//! DasGupta 2001 advise it for small n; both recalled). Clopper–Pearson: the exact one, never too narrow: P(X ≥ k)
//! and P(X ≤ k) are 2.5 % at its ends (Clopper & Pearson 1934, recalled). Ratio: the score interval of Koopman
//! 1984, Biometrics 40:513–517 (recalled), which holds for small pots; ends where χ² reaches 3.84.
//! All three are compared with SciPy in `tests/oracle/maturity.py`. Ignored: seeds of one pot share its fate.

/// 97.5 % point of the normal, and 95 % point of χ² with one degree of freedom.
const Z: f64 = 1.959_963_984_540_054;
const CHI2: f64 = Z * Z;
/// Halvings; beyond them nothing changes in a double.
const HALVINGS: usize = 100;
/// Points of a sum over a share; enough for four digits.
const POINTS: usize = 600;

/// Two ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Low end.
    pub low: f64,
    /// High end; infinite where nothing bounds it.
    pub high: f64,
}

/// Wilson's 95 % interval of a share.
#[must_use]
pub fn wilson(up: u32, sown: u32) -> Interval {
    let (k, n) = (f64::from(up), f64::from(sown));
    let p = k / n;
    let middle = p + CHI2 / (2.0 * n);
    let half = Z * (p * (1.0 - p) / n + CHI2 / (4.0 * n * n)).sqrt();
    let whole = 1.0 + CHI2 / n;
    Interval {
        low: ((middle - half) / whole).max(0.0),
        high: ((middle + half) / whole).min(1.0),
    }
}

/// P(X ≤ k) of n draws at p.
fn at_most(k: u32, n: u32, p: f64) -> f64 {
    if p <= 0.0 {
        return 1.0;
    }
    if p >= 1.0 {
        return if k >= n { 1.0 } else { 0.0 };
    }
    let (odds, mut ln) = ((p / (1.0 - p)).ln(), f64::from(n) * (1.0 - p).ln());
    let mut sum = ln.exp();
    for i in 0..k {
        ln += (f64::from(n - i) / f64::from(i + 1)).ln() + odds;
        sum += ln.exp();
    }
    sum.min(1.0)
}

/// Where a falling function crosses zero.
fn crossing(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if f(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Clopper and Pearson's exact 95 % interval of a share.
#[must_use]
pub fn exact(up: u32, sown: u32) -> Interval {
    const TAIL: f64 = 0.025;
    let low = if up == 0 {
        0.0
    } else {
        crossing(0.0, 1.0, |p| at_most(up - 1, sown, p) - (1.0 - TAIL))
    };
    let high = if up == sown {
        1.0
    } else {
        crossing(0.0, 1.0, |p| at_most(up, sown, p) - TAIL)
    };
    Interval { low, high }
}

/// Koopman's 95 % interval of (up/sown)/(control up/control sown).
#[must_use]
pub fn ratio((up, sown): (u32, u32), (control_up, control_sown): (u32, u32)) -> Interval {
    let (x1, n1) = (f64::from(up), f64::from(sown));
    let (x0, n0) = (f64::from(control_up), f64::from(control_sown));
    // χ² of a ratio, with the shares that fit it best.
    let beyond = |ratio: f64| {
        let (a, b, c) = (ratio * (n1 + n0), ratio * (n1 + x0) + x1 + n0, x1 + x0);
        let root = (b - (b * b - 4.0 * a * c).max(0.0).sqrt()) / (2.0 * a);
        // Where all of a pot came up the root lies on the edge, and rounding may lift it over.
        let p0 = root.min(1.0).min(1.0 / ratio);
        let part = |x: f64, n: f64, p: f64| {
            let apart = x - n * p;
            if apart.abs() < 1e-9 {
                0.0
            } else {
                apart * apart / (n * p * (1.0 - p)).max(f64::MIN_POSITIVE)
            }
        };
        part(x1, n1, ratio * p0) + part(x0, n0, p0) - CHI2
    };
    let seen = (x1 / n1) / (x0 / n0);
    // In logarithms, since a ratio has no upper bound of its own.
    let start = if seen > 0.0 { seen.ln() } else { -14.0 };
    let low = if up == 0 {
        0.0
    } else {
        crossing(start - 14.0, start, |l| beyond(l.exp())).exp()
    };
    let high = if control_up == 0 {
        f64::INFINITY
    } else {
        crossing(start, start.max(0.0) + 14.0, |l| -beyond(l.exp())).exp()
    };
    Interval { low, high }
}

/// Jeffreys' posterior of a share over even steps of u, p = sin²u; weights sum to 1. In u it has no pole.
fn posterior(up: u32, sown: u32) -> Vec<(f64, f64)> {
    let (k, misses) = (2.0 * f64::from(up), 2.0 * f64::from(sown - up));
    let lns: Vec<(f64, f64)> = (0..POINTS)
        .map(|i| {
            let u = (i as f64 + 0.5) / POINTS as f64 * std::f64::consts::FRAC_PI_2;
            let (sin, cos) = u.sin_cos();
            (sin * sin, k * sin.ln() + misses * cos.ln())
        })
        .collect();
    let most = lns.iter().map(|(_, ln)| *ln).fold(f64::MIN, f64::max);
    let sum: f64 = lns.iter().map(|(_, ln)| (ln - most).exp()).sum();
    lns.into_iter()
        .map(|(p, ln)| (p, (ln - most).exp() / sum))
        .collect()
}

/// How sure it is that the true share, or the true ratio to the control, is at least so much.
#[must_use]
pub fn at_least(least: f64, pots: (u32, u32), control: Option<(u32, u32)>) -> f64 {
    let ours = posterior(pots.0, pots.1);
    let above = |bar: f64| {
        ours.iter()
            .filter(|(p, _)| *p >= bar)
            .map(|(_, w)| w)
            .sum::<f64>()
    };
    match control {
        None => above(least),
        Some((up, sown)) => posterior(up, sown)
            .into_iter()
            .map(|(p, w)| w * above(least * p))
            .sum(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: Interval, low: f64, high: f64) {
        assert!(
            (got.low - low).abs() < 5e-5 && (got.high - high).abs() < 5e-5,
            "{got:?}, SciPy gives {low} to {high}"
        );
    }

    /// SciPy 1.17.1: `binomtest(k, n).proportion_ci(method=…)`.
    #[test]
    fn shares_as_scipy_has_them() {
        near(wilson(16, 20), 0.583_983, 0.919_330);
        near(exact(16, 20), 0.563_386, 0.942_666);
        near(exact(0, 20), 0.0, 0.168_433);
        near(exact(20, 20), 0.831_567, 1.0);
    }

    #[test]
    fn a_few_seeds_cannot_tell() {
        let few = ratio((7, 10), (9, 10));
        assert!(few.low < 0.75 && few.high > 1.0, "{few:?}");
        let many = ratio((700, 1000), (900, 1000));
        assert!(many.low > 0.74 && many.high < 0.82, "{many:?}");
        let none = ratio((0, 20), (19, 20));
        assert!(none.low == 0.0 && none.high < 0.25, "{none:?}");
        // All of the control came up: the best share lies on its edge.
        let edge = ratio((42, 50), (50, 50));
        assert!((edge.high - 0.916_626).abs() < 1e-5, "{edge:?}");
        let same = ratio((20, 20), (20, 20));
        assert!(same.low < 1.0 && same.high > 1.0, "{same:?}");
    }

    #[test]
    fn how_sure_grows_with_what_came_up() {
        let sure = |up| at_least(0.75, (up, 20), Some((19, 20)));
        for up in 0..20 {
            assert!(sure(up) <= sure(up + 1), "{up}");
        }
        assert!(sure(4) < 0.01 && sure(20) > 0.95);
    }
}
