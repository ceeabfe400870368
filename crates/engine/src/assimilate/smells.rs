//! Which of six words a nose says, from what the batch holds.
//!
//! Each word has a score, the shares are their softmax, and one nose in five says any word (20 % error). A smell
//! counts half, since noses differ and words slip. All judged: no published table links the words to numbers.
//! What the scores stand on: acids and little oxygen smell sour or rotten, sinking pH frees acids and rising pH
//! ammonia (Sundberg 2005, abstract); below 2 vol-% decay halves (Haug 1993, recalled); uptake below 9.6 is the
//! limit of a planted bed (`forecast::rungs`); moulds run dry heaps (common practice).
//!
//! For the smoother a word said is the number 1 against the share of noses that would say it: the best straight
//! line for a yes. Its spread is that of a coin, ½, doubled in variance for the half weight.

/// What counts of a smell.
pub const WEIGHT: f64 = 0.5;
/// Spread of a word against its share.
pub const SD: f64 = std::f64::consts::FRAC_1_SQRT_2;
/// One nose in five says any word.
const ANY: f64 = 0.2;

/// What the nose goes by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Signs {
    /// Least oxygen of the day, vol-%.
    pub oxygen: f64,
    /// Share in water-logged clumps, %.
    pub clumped: f64,
    /// Acids, g per kg dry matter.
    pub acids: f64,
    /// Uptake, mg O2/g OM·d.
    pub uptake: f64,
    /// Water share, %.
    pub water: f64,
    /// Nitrogen lost in the day, % of what was put in.
    pub nitrogen: f64,
}

/// Share of noses for each word, in the order of [`super::reading::Smell::ALL`].
#[must_use]
pub fn shares(s: &Signs) -> [f64; 6] {
    let held = |x: f64| x.clamp(-3.0, 3.0);
    let scores = [
        0.0,
        held((9.6 / s.uptake.max(0.1)).ln() / 0.4),
        held((s.acids - 6.0) / 3.0),
        held(((s.clumped - 15.0) / 5.0).max((2.0 - s.oxygen) / 1.0)),
        held((s.nitrogen - 0.7) / 0.3),
        held((42.0 - s.water) / 4.0),
    ];
    let weights = scores.map(f64::exp);
    let all: f64 = weights.iter().sum();
    weights.map(|w| (1.0 - ANY) * w / all + ANY / 6.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const CALM: Signs = Signs {
        oxygen: 18.0,
        clumped: 1.0,
        acids: 1.0,
        uptake: 25.0,
        water: 58.0,
        nitrogen: 0.1,
    };

    fn likeliest(s: &Signs) -> usize {
        let shares = shares(s);
        (0..6)
            .max_by(|&a, &b| shares[a].total_cmp(&shares[b]))
            .unwrap_or(0)
    }

    #[test]
    fn every_word_has_its_batch() {
        for (word, s) in [
            (0, CALM),
            (
                1,
                Signs {
                    uptake: 4.0,
                    ..CALM
                },
            ),
            (
                2,
                Signs {
                    acids: 14.0,
                    ..CALM
                },
            ),
            (
                3,
                Signs {
                    clumped: 30.0,
                    ..CALM
                },
            ),
            (
                4,
                Signs {
                    nitrogen: 1.6,
                    ..CALM
                },
            ),
            (
                5,
                Signs {
                    water: 28.0,
                    ..CALM
                },
            ),
        ] {
            assert_eq!(likeliest(&s), word, "{:?}", shares(&s));
            assert!((shares(&s).iter().sum::<f64>() - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn a_nose_may_always_err() {
        let sour = Signs {
            acids: 60.0,
            ..CALM
        };
        assert!(shares(&sour).iter().all(|p| *p > 0.03));
    }
}
