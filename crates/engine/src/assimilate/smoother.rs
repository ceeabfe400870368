//! Ensemble smoother with multiple data assimilation (ES-MDA): every member is moved towards the readings, several
//! times over, each time with the noise made larger so that all passes together count the readings once.
//!
//! ```text
//! Z ← Z + C_zy (C_yy + α R)⁻¹ (d + √α L ε − Y),   Σ 1/α = 1,  here α = passes
//! ```
//! Z standard normals of the members, Y what they say of each reading, d readings, R = L Lᵀ their noise. Emerick &
//! Reynolds 2013, Comput. Geosci. 55:3–15 (recalled); exact for a straight line and many members. What is in Y but
//! follows no z, such as weather that nobody saw, is not counted over again by the later passes: after the first
//! one Z goes with it, and C_zy is the smaller for it (`tests/assimilate_smoother.rs`). Where it stops being true:
//! a posterior with two heaps becomes one, and curves are followed only as far as the passes are many.
//!
//! Drawn noise has its mean taken out, so that it does not move the middle of the members.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use rand::RngExt as _;
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;
use thiserror::Error;

/// The members cannot be moved.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Stuck {
    /// The noise is no covariance: it has no root.
    #[error(
        "the noise of {readings} readings has no root; every reading needs a spread above nought"
    )]
    NoRoot {
        /// How many.
        readings: usize,
    },
    /// A member says something that is not a number.
    #[error("member {member} says {value} for reading {reading}; the run of that member is broken")]
    NotANumber {
        /// Which member.
        member: usize,
        /// Which reading.
        reading: usize,
        /// What it says.
        value: f64,
    },
}

fn rooted(m: DMatrix<f64>) -> Result<Cholesky<f64, Dyn>, Stuck> {
    let readings = m.nrows();
    m.cholesky().ok_or(Stuck::NoRoot { readings })
}

/// Each row less its mean.
fn centred(m: &DMatrix<f64>) -> DMatrix<f64> {
    let mut out = m.clone();
    for mut row in out.row_iter_mut() {
        let mean = row.sum() / row.len().max(1) as f64;
        row.add_scalar_mut(-mean);
    }
    out
}

/// One pass: moves `z` (a column a member) by what the members say, `y` (a row a reading); `noise` is R.
///
/// # Errors
/// [`Stuck`] for noise without a root and for members that say no number.
pub fn pass(
    z: &mut DMatrix<f64>,
    y: &DMatrix<f64>,
    data: &DVector<f64>,
    noise: &DMatrix<f64>,
    alpha: f64,
    rng: &mut ChaCha8Rng,
) -> Result<(), Stuck> {
    let (readings, members) = y.shape();
    if readings == 0 || members < 2 {
        return Ok(());
    }
    for member in 0..members {
        if let Some(reading) = (0..readings).find(|&i| !y[(i, member)].is_finite()) {
            let value = y[(reading, member)];
            return Err(Stuck::NotANumber {
                member,
                reading,
                value,
            });
        }
    }
    let root = rooted(noise.clone())?.l();
    let drawn = DMatrix::from_fn(readings, members, |_, _| rng.sample(StandardNormal));
    let mut innovation = &root * centred(&drawn) * alpha.sqrt() - y;
    for mut column in innovation.column_iter_mut() {
        column += data;
    }
    let per = 1.0 / (members as f64 - 1.0);
    let spread_y = centred(y);
    let spread_z = centred(z);
    let total = &spread_y * spread_y.transpose() * per + noise * alpha;
    let weights = rooted(total)?.solve(&innovation);
    *z += (&spread_z * spread_y.transpose() * per) * weights;
    Ok(())
}

/// All passes. `forward` says what members make of every reading.
///
/// # Errors
/// As [`pass`], and whatever `forward` returns.
pub fn passes<E: From<Stuck>>(
    z: &mut DMatrix<f64>,
    data: &DVector<f64>,
    noise: &DMatrix<f64>,
    count: usize,
    rng: &mut ChaCha8Rng,
    mut forward: impl FnMut(&DMatrix<f64>) -> Result<DMatrix<f64>, E>,
) -> Result<(), E> {
    for _ in 0..count {
        let y = forward(z)?;
        pass(z, &y, data, noise, count as f64, rng)?;
    }
    Ok(())
}
