//! The smoother where the answer is known: straight lines and normal noise.
#![allow(clippy::unwrap_used, reason = "tests")]

use engine::assimilate::smoother::{Stuck, pass, passes};
use nalgebra::{DMatrix, DVector};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

const N: usize = 20_000;

struct Line {
    h: DMatrix<f64>,
    data: DVector<f64>,
    noise: DMatrix<f64>,
}

/// Three parameters, twelve readings, errors that last.
fn line() -> Line {
    let h = DMatrix::from_fn(12, 3, |i, j| {
        ((i * 3 + j * 5) as f64).sin() + if j == 0 { 0.5 } else { 0.0 }
    });
    let data = DVector::from_fn(12, |i, _| 1.5 * (i as f64 * 0.7).cos());
    let noise = DMatrix::from_fn(12, 12, |i, j| {
        let apart = i.abs_diff(j) as f64;
        0.8 * 0.6_f64.powf(apart) + if i == j { 0.6 } else { 0.0 }
    });
    Line { h, data, noise }
}

/// Mean and covariance of the exact posterior under a standard normal prior.
fn kalman(l: &Line, noise: &DMatrix<f64>) -> (DVector<f64>, DMatrix<f64>) {
    let per = noise.clone().try_inverse().unwrap();
    let precision = DMatrix::identity(3, 3) + l.h.transpose() * &per * &l.h;
    let cov = precision.try_inverse().unwrap();
    (&cov * l.h.transpose() * per * &l.data, cov)
}

fn normals(rows: usize, columns: usize, rng: &mut ChaCha8Rng) -> DMatrix<f64> {
    DMatrix::from_fn(rows, columns, |_, _| rng.sample(StandardNormal))
}

fn moments(z: &DMatrix<f64>) -> (DVector<f64>, DMatrix<f64>) {
    let mean = z.column_mean();
    let mut c = z.clone();
    for mut column in c.column_iter_mut() {
        column -= &mean;
    }
    let cov = &c * c.transpose() / (z.ncols() as f64 - 1.0);
    (mean, cov)
}

/// With a straight line all passes together are one Kalman step. A mean over N members wanders by sd/√N = 0.007 at most,
/// a variance by √(2/N) = 0.010, and each of four passes adds the error of its own gain: 5 of these are allowed.
#[test]
fn a_straight_line_gives_the_kalman_answer() {
    let l = line();
    let (mean, cov) = kalman(&l, &l.noise);
    for count in [1, 4] {
        let mut rng = ChaCha8Rng::seed_from_u64(7);
        let mut z = normals(3, N, &mut rng);
        passes(&mut z, &l.data, &l.noise, count, &mut rng, |z| {
            Ok::<_, Stuck>(&l.h * z)
        })
        .unwrap();
        let (m, c) = moments(&z);
        assert!(
            (&m - &mean).amax() < 5.0 / (N as f64).sqrt(),
            "{count}: {m} {mean}"
        );
        assert!(
            (&c - &cov).amax() < 5.0 * (2.0 / N as f64).sqrt(),
            "{count}: {c} {cov}"
        );
    }
}

/// Weather that no parameter explains is in the members: they end as with noise R + H, H the weather's, although it is
/// the same weather in all passes. Allowed as above, and as much again for the weather's own luck.
#[test]
fn unseen_weather_is_counted_once() {
    let l = line();
    let hidden = DMatrix::from_fn(12, 12, |i, j| 0.9 * 0.5_f64.powf(i.abs_diff(j) as f64));
    let (mean, cov) = kalman(&l, &(&l.noise + &hidden));
    let root = hidden.cholesky().unwrap().l();
    let mut rng = ChaCha8Rng::seed_from_u64(8);
    let mut z = normals(3, N, &mut rng);
    let weather = root * normals(12, N, &mut rng);
    passes(&mut z, &l.data, &l.noise, 4, &mut rng, |z| {
        Ok::<_, Stuck>(&l.h * z + &weather)
    })
    .unwrap();
    let (m, c) = moments(&z);
    assert!((&m - &mean).amax() < 10.0 / (N as f64).sqrt(), "{m} {mean}");
    assert!(
        (&c - &cov).amax() < 10.0 * (2.0 / N as f64).sqrt(),
        "{c} {cov}"
    );
}

#[test]
fn broken_numbers_are_named() {
    let noise = DMatrix::identity(2, 2);
    let data = DVector::from_vec(vec![0.0, 0.0]);
    let mut rng = ChaCha8Rng::seed_from_u64(1);
    let mut z = normals(2, 5, &mut rng);
    let kept = z.clone();
    let mut y = z.clone();
    y[(1, 3)] = f64::NAN;
    let stuck = pass(&mut z, &y, &data, &noise, 1.0, &mut rng).unwrap_err();
    assert!(
        stuck
            .to_string()
            .contains("member 3 says NaN for reading 1"),
        "{stuck}"
    );
    let none = DMatrix::zeros(2, 2);
    let stuck = pass(&mut z, &kept, &data, &none, 1.0, &mut rng).unwrap_err();
    assert_eq!(stuck, Stuck::NoRoot { readings: 2 });
    assert_eq!(z, kept);
}
