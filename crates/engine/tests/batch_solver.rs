//! The reference mode against solvers by other hands: Dormand & Prince's method of order 8, and a stiff one,
//! Kværnø's singly diagonally implicit method of order 5 (BIT 44:489–502, 2004; recalled), on the same rates.
//!
//! Other methods and another program; the equations themselves are checked by `tests/oracle/batch.py`.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

mod batch_support;

use batch_support::{HOUR, Hours, Mode, Tight, member, normals, plan, six_weeks, weather};
use differential_equations::prelude::{DiagonallyImplicitRungeKutta, ExplicitRungeKutta, IVP, ODE};
use engine::batch::drivers::{Drivers, Vessel};
use engine::batch::params::Params;
use engine::batch::rates::rates;
use engine::batch::state::{Matter, State};
use engine::batch::vessel;

const WIDTH: usize = 2 + Matter::<f64>::COUNT;
type Row = [f64; WIDTH];

fn row(s: &State<f64>) -> Row {
    let mut row = [s.core; WIDTH];
    row[1] = s.shell;
    s.matter.to_each(|at, value| row[2 + at] = value);
    row
}

fn with(s: &State<f64>, row: &Row) -> State<f64> {
    State {
        core: row[0],
        shell: row[1],
        matter: Matter::from_each(|at| row[2 + at]),
        kept: s.kept,
    }
}

struct Equations<'a> {
    s: State<f64>,
    p: &'a Params<f64>,
    v: &'a Vessel,
    between: (&'a Drivers<f64>, &'a Drivers<f64>),
}

impl ODE<f64, Row> for Equations<'_> {
    fn diff(&self, t: f64, y: &Row, slope: &mut Row) {
        let d = self.between.0.towards(self.between.1, t / HOUR);
        let r = rates(&with(&self.s, y), self.p, &d, self.v);
        slope[0] = r.flux[0] / r.felt[0];
        slope[1] = r.flux[1] / r.felt[1];
        r.matter.to_each(|at, value| slope[2 + at] = value);
    }
}

/// An hour by another program.
struct Other(fn(&Equations, Row) -> Row);

fn explicit(equations: &Equations, from: Row) -> Row {
    let method = ExplicitRungeKutta::dop853()
        .rtol(1e-11)
        .atol(1e-12)
        .h0(1e-4);
    let solution = IVP::ode(equations, 0.0, HOUR, from).method(method).solve();
    let solution = solution.unwrap_or_else(|e| panic!("{e:?}"));
    *solution.y.last().unwrap()
}

/// A bend in the rates is looked for by many rejected steps; the usual ten are too few for it.
fn stiff(equations: &Equations, from: Row) -> Row {
    let method = DiagonallyImplicitRungeKutta::kvaerno745()
        .rtol(1e-9)
        .atol(1e-10)
        .newton_tol(1e-12)
        .max_rejects(200)
        .h0(1e-3);
    let solution = IVP::ode(equations, 0.0, HOUR, from).method(method).solve();
    let solution = solution.unwrap_or_else(|e| panic!("{e:?}"));
    *solution.y.last().unwrap()
}

impl Mode for Other {
    fn pass(
        &mut self,
        s: &mut State<f64>,
        p: &Params<f64>,
        v: &Vessel,
        between: (&Drivers<f64>, &Drivers<f64>),
        _: Option<f64>,
    ) {
        let equations = Equations {
            s: *s,
            p,
            v,
            between,
        };
        *s = with(s, &self.0(&equations, row(s)));
    }
}

/// Ten days with feeds, hour by hour, within `limit` of every quantity.
fn same(solver: fn(&Equations, Row) -> Row, limit: f64) {
    let vessel = vessel::Vessel::default();
    let (start, days) = ((5, 1), 10);
    let plan = plan(vessel, six_weeks(days), days, start);
    for m in [35, 50] {
        let air = weather(&normals(11.0, 8.0), start, days, m);
        let member = member(&vessel, air, m);
        let hours = Hours::new(&plan, &member);
        let (other, tight) = (
            hours.run(&mut Other(solver)),
            hours.run(&mut Tight::at(1e-10)),
        );
        assert_eq!(other.len(), days * 24 + 1);
        for (hour, (a, b)) in other.iter().zip(&tight).enumerate() {
            for (x, y) in row(a).iter().zip(row(b)) {
                assert!(
                    (x - y).abs() <= limit * (1.0 + y.abs()),
                    "member {m}, hour {hour}: {x} there, {y} here"
                );
            }
        }
    }
}

#[test]
fn an_explicit_solver_finds_the_same() {
    same(explicit, 1e-7);
}

#[test]
fn a_stiff_solver_finds_the_same() {
    same(stiff, 1e-6);
}
