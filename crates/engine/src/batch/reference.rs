//! The reference mode: one member, the same rates, an adaptive Runge–Kutta pair at a tight tolerance.
//!
//! Dormand & Prince 1980, J. Comput. Appl. Math. 6:19–26, order 5 with an embedded 4 (coefficients recalled,
//! checked by the order test below). Steps end on the hours, where air and sun have corners. In the freezing
//! span the capacity jumps; the step control finds the corner.

use super::drivers::{Drivers, Vessel};
use super::params::Params;
use super::rates::rates;
use super::state::{Matter, State};

const A: [&[f64]; 6] = [
    &[0.2],
    &[3.0 / 40.0, 9.0 / 40.0],
    &[44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0],
    &[
        19372.0 / 6561.0,
        -25360.0 / 2187.0,
        64448.0 / 6561.0,
        -212.0 / 729.0,
    ],
    &[
        9017.0 / 3168.0,
        -355.0 / 33.0,
        46732.0 / 5247.0,
        49.0 / 176.0,
        -5103.0 / 18656.0,
    ],
    &[
        35.0 / 384.0,
        0.0,
        500.0 / 1113.0,
        125.0 / 192.0,
        -2187.0 / 6784.0,
        11.0 / 84.0,
    ],
];
const C: [f64; 6] = [0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
/// Fifth order less fourth.
const E: [f64; 7] = [
    71.0 / 57600.0,
    0.0,
    -71.0 / 16695.0,
    71.0 / 1920.0,
    -17253.0 / 339200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];

/// Core, shell, and matter in one row.
const WIDTH: usize = 2 + Matter::<f64>::COUNT;
type Row = [f64; WIDTH];

fn row(s: &State<f64>) -> Row {
    let mut row = [0.0; WIDTH];
    row[0] = s.core;
    row[1] = s.shell;
    s.matter.to_each(|at, value| row[2 + at] = value);
    row
}

fn put(s: &mut State<f64>, row: &Row) {
    s.core = row[0];
    s.shell = row[1];
    s.matter = Matter::from_each(|at| row[2 + at]);
}

fn slope(s: &State<f64>, p: &Params<f64>, d: &Drivers<f64>, v: &Vessel) -> Row {
    let r = rates(s, p, d, v);
    let mut row = [0.0; WIDTH];
    row[0] = r.flux[0] / r.felt[0];
    row[1] = r.flux[1] / r.felt[1];
    r.matter.to_each(|at, value| row[2 + at] = value);
    row
}

/// Advances `s` by `h` days from `now` to `next` with relative tolerance `tolerance`; `guess` is the step
/// tried first (days) and is left at the last one.
pub fn advance(
    s: &mut State<f64>,
    p: &Params<f64>,
    v: &Vessel,
    (now, next): (&Drivers<f64>, &Drivers<f64>),
    h: f64,
    tolerance: f64,
    guess: &mut f64,
) {
    let mut at = 0.0;
    let mut tries = 0;
    while at < h * (1.0 - 1e-12) {
        let dt = guess.min(h - at);
        let y = row(s);
        let mut k = [[0.0; WIDTH]; 7];
        let mut trial = *s;
        k[0] = slope(s, p, &now.towards(next, at / h), v);
        for stage in 0..6 {
            let mut yi = y;
            for (i, value) in yi.iter_mut().enumerate() {
                *value += dt * (0..=stage).map(|j| A[stage][j] * k[j][i]).sum::<f64>();
            }
            put(&mut trial, &yi);
            let t = (at + C[stage] * dt) / h;
            k[stage + 1] = slope(&trial, p, &now.towards(next, t), v);
        }
        let new = row(&trial);
        let worst = (0..WIDTH)
            .map(|i| {
                let error = dt * (0..7).map(|j| E[j] * k[j][i]).sum::<f64>();
                error.abs() / (tolerance * (1.0 + new[i].abs().max(y[i].abs())))
            })
            .fold(0.0, f64::max);
        tries += 1;
        // A corner cannot be met at any tolerance: the smallest step passes it.
        if worst <= 1.0 || dt <= 1e-7 || tries > 200_000 {
            at += dt;
            put(s, &new);
        }
        let factor = 0.9 * worst.max(1e-10).powf(-0.2);
        *guess = (dt * factor.clamp(0.2, 5.0)).clamp(1e-7, 1.0 / 24.0);
    }
}
