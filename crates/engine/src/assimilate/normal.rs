//! The normal distribution: shares, quantiles, classes.
//!
//! erfc: Press, Teukolsky, Vetterling & Flannery 1992, *Numerical Recipes*, §6.2, relative error below 1.2·10⁻⁷
//! (recalled), so that small tails keep their digits. Quantile: Acklam's rational start (recalled), then one
//! step of Halley's method.

use std::f64::consts::{PI, SQRT_2};

/// Share of a standard normal below `z`.
#[must_use]
pub fn below(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

/// Density of a standard normal.
#[must_use]
pub fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

/// Complementary error function.
fn erfc(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.5 * x.abs());
    let tail = [
        0.170_872_77,
        -0.822_152_23,
        1.488_515_87,
        -1.135_203_98,
        0.278_868_07,
        -0.186_288_06,
        0.096_784_18,
        0.374_091_96,
        1.000_023_68,
        -1.265_512_23,
    ]
    .into_iter()
    .fold(0.0, |sum, c| sum * t + c);
    let value = t * (-x * x + tail).exp();
    if x < 0.0 { 2.0 - value } else { value }
}

/// The value below which a share of a standard normal lies; shares are held off nought and one.
#[must_use]
pub fn quantile(share: f64) -> f64 {
    let p = share.clamp(1e-12, 1.0 - 1e-12);
    let ratio = |x: f64, up: &[f64], down: &[f64]| {
        let sum = |c: &[f64]| c.iter().fold(0.0, |s, c| s * x + c);
        sum(up) / sum(down)
    };
    let outer = |q: f64| {
        ratio(
            (-2.0 * q.ln()).sqrt(),
            &[
                -7.784_894_002_430_293e-3,
                -0.322_396_458_041_136_4,
                -2.400_758_277_161_838,
                -2.549_732_539_343_734,
                4.374_664_141_464_968,
                2.938_163_982_698_783,
            ],
            &[
                7.784_695_709_041_462e-3,
                0.322_467_129_070_039_8,
                2.445_134_137_142_996,
                3.754_408_661_907_416,
                1.0,
            ],
        )
    };
    let z = if p < 0.024_25 {
        outer(p)
    } else if p > 1.0 - 0.024_25 {
        -outer(1.0 - p)
    } else {
        let q = p - 0.5;
        q * ratio(
            q * q,
            &[
                -39.696_830_286_653_76,
                220.946_098_424_520_5,
                -275.928_510_446_968_7,
                138.357_751_867_269,
                -30.664_798_066_147_16,
                2.506_628_277_459_239,
            ],
            &[
                -54.476_098_798_224_06,
                161.585_836_858_040_9,
                -155.698_979_859_886_6,
                66.801_311_887_719_72,
                -13.280_681_552_885_72,
                1.0,
            ],
        )
    };
    let step = (below(z) - p) / density(z).max(1e-300);
    z - step / (1.0 + 0.5 * z * step)
}

/// Share of a normal of mean `mean` and deviation `sd` between two cuts; cuts may be infinite. Taken from the nearer tail,
/// so that a far class keeps its digits.
#[must_use]
pub fn between(mean: f64, sd: f64, low: f64, high: f64) -> f64 {
    let (a, b) = ((low - mean) / sd, (high - mean) / sd);
    if a > 0.0 {
        below(-a) - below(-b)
    } else {
        below(b) - below(a)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_those_of_the_tables() {
        // Abramowitz & Stegun 1964, table 26.1.
        for (z, share) in [
            (0.0, 0.5),
            (1.0, 0.841_344_746),
            (1.96, 0.975_002_105),
            (-3.0, 0.001_349_898),
        ] {
            assert!((below(z) - share).abs() < 2e-7, "{z}: {}", below(z));
        }
    }

    #[test]
    fn a_quantile_undoes_a_share() {
        for p in [1e-6, 0.01, 0.2, 0.5, 0.7, 0.99, 1.0 - 1e-6] {
            assert!((below(quantile(p)) / p - 1.0).abs() < 1e-6, "{p}");
        }
    }

    #[test]
    fn classes_share_out_all() {
        let cuts = [f64::NEG_INFINITY, -2.0, 0.3, 5.0, f64::INFINITY];
        let all: f64 = cuts.windows(2).map(|c| between(0.4, 0.7, c[0], c[1])).sum();
        assert!((all - 1.0).abs() < 1e-6);
        assert!(between(0.0, 1.0, 9.0, f64::INFINITY) > 0.0);
    }
}
