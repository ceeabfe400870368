//! How fast the ensemble is, and how fast it could be: times, growth with members and days, and a roofline
//! from counted operations and measured throughputs. `cargo run --release -p engine --example speed`.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a measurement prints"
)]

mod drum;

use std::cell::Cell;
use std::hint::black_box;
use std::ops::{Add, Div, Mul, Neg, Sub};
use std::time::Instant;

use engine::batch::drivers::Drivers;
use engine::batch::lanes::Real;
use engine::batch::params::Params;
use engine::batch::state::{Kept, Matter, State};
use engine::batch::step::{Before, step};
use engine::batch::vessel::Vessel;
#[cfg(target_arch = "x86_64")]
use engine::batch::{lanes::Lanes, machine::Machine};
use engine::ensemble::{Instructions, LANES, Member, Plan, prior, simulate, simulate_within};

use drum::Drum;

fn set(days: usize, members: u64) -> (Plan, Vec<Member>) {
    Drum {
        days,
        ..Drum::default()
    }
    .set(members)
}

/// Least of several runs, s.
fn best(times: usize, mut f: impl FnMut()) -> f64 {
    (0..times)
        .map(|_| {
            let t = Instant::now();
            f();
            t.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

thread_local! { static COUNTS: Cell<[u64; 6]> = const { Cell::new([0; 6]) }; }

fn count(kind: usize) {
    COUNTS.with(|c| {
        let mut all = c.get();
        all[kind] += 1;
        c.set(all);
    });
}

/// A number that counts what is done to it: add/sub, mul, fma, div, sqrt, compare. exp and ln count as what
/// `Lanes` makes of them.
#[derive(Clone, Copy)]
struct Counted(f64);

macro_rules! counted {
    ($($trait:ident $method:ident $op:tt $kind:literal $by_one:literal),*) => {$(
        impl $trait for Counted {
            type Output = Self;
            fn $method(self, o: Self) -> Self { count($kind); Self(self.0 $op o.0) }
        }
        impl $trait<f64> for Counted {
            type Output = Self;
            fn $method(self, o: f64) -> Self { count($by_one); Self(self.0 $op o) }
        }
    )*};
}
// Division by one number is a multiplication in `Lanes`.
counted!(Add add + 0 0, Sub sub - 0 0, Mul mul * 1 1, Div div / 3 1);

impl Neg for Counted {
    type Output = Self;
    fn neg(self) -> Self {
        count(0);
        Self(-self.0)
    }
}

impl Real for Counted {
    fn of(self, value: f64) -> Self {
        Self(value)
    }
    fn fma(self, by: Self, plus: Self) -> Self {
        count(2);
        Self(self.0 * by.0 + plus.0)
    }
    fn exp(self) -> Self {
        // 2 held, 3 reductions, 1 rounding back, 9 Taylor, 1 scale, 2 whole-number.
        for (kind, n) in [(5, 2), (2, 12), (0, 3), (1, 1)] {
            (0..n).for_each(|_| count(kind));
        }
        Self(self.0.clamp(-700.0, 700.0).exp())
    }
    fn ln(self) -> Self {
        for (kind, n) in [(3, 1), (0, 8), (1, 3), (2, 6)] {
            (0..n).for_each(|_| count(kind));
        }
        Self(self.0.ln())
    }
    fn sqrt(self) -> Self {
        count(4);
        Self(self.0.sqrt())
    }
    fn max(self, o: Self) -> Self {
        count(5);
        Self(self.0.max(o.0))
    }
    fn min(self, o: Self) -> Self {
        count(5);
        Self(self.0.min(o.0))
    }
    fn any_below(self, limit: f64) -> bool {
        count(5);
        self.0 < limit
    }
    fn below(self, limit: f64, then: Self, other: Self) -> Self {
        count(5);
        count(5);
        if self.0 < limit { then } else { other }
    }
}

/// Operations of one step.
fn operations() -> [u64; 6] {
    let vessel = Vessel::default();
    let p64 = prior::params(&[0.0; Params::<f64>::COUNT], &vessel);
    let mut each = Vec::new();
    p64.to_each(|_, v| each.push(v));
    let p = Params::from_each(|at| Counted(each[at]));
    let mut s = State {
        matter: Matter::all(Counted(1.0)),
        core: Counted(25.0),
        shell: Counted(22.0),
        kept: Kept::all(Counted(5.0)),
    };
    let d = Drivers {
        air: Counted(12.0),
        sol_air: Counted(14.0),
        humidity: Counted(0.008),
        rain: Counted(0.0),
        settled: 0.3,
    };
    let v = vessel.driven();
    let mut before = Before::none(Counted(0.0));
    let h = 1.0 / 24.0;
    let _ = step(&mut s, &mut before, &p, &v, (&d, &d), h);
    COUNTS.with(|c| c.set([0; 6]));
    let _ = step(&mut s, &mut before, &p, &v, (&d, &d), h);
    COUNTS.with(Cell::get)
}

/// The mix of one step without its order: the same kinds in the same shares, none waiting for another, nothing
/// from memory. What this takes is the peak for the mix. `P` packs are worked on and `D` divided, as many as
/// registers hold.
#[cfg(target_arch = "x86_64")]
#[derive(Clone, Copy)]
struct Mix<M, const P: usize, const D: usize>(M);

/// Rounds of the mix that are timed.
const ROUNDS: usize = 1_000_000;
/// Sums and differences, products, fused products, the larger of two: of one pack in a round.
const ROUND: [u64; 4] = [4, 4, 3, 1];
/// Packs to one division.
const TO_A_DIVISION: f64 = 2.5;
/// Packs that make up a step: as many as have its divisions and roots, which share one unit.
const PACKS_A_STEP: f64 = 85.0;

#[cfg(target_arch = "x86_64")]
impl<M: Machine, const P: usize, const D: usize> pulp::NullaryFnOnce for Mix<M, P, D> {
    type Output = f64;
    #[inline(always)]
    fn call(self) -> f64 {
        let machine = self.0;
        // Unlike ones: like ones would be worked out once for all.
        let unlike = |pack: usize| {
            let lane = |lane| 1.0 + black_box((pack * LANES + lane) as f64 * 1e-6);
            Lanes::load(machine, std::array::from_fn(lane))
        };
        let mut x: [Lanes<M>; P] = std::array::from_fn(unlike);
        let mut per: [Lanes<M>; D] = std::array::from_fn(|at| unlike(P + at));
        let (y, z) = (x[0].of(0.999_9), x[0].of(1e-9));
        for _ in 0..ROUNDS {
            for per in &mut per {
                *per = y / *per;
            }
            for x in &mut x {
                *x = (((*x + z) * y - z) * y).max(z);
                *x = (x.fma(y, z) + z).fma(y, z) * y;
                *x = (*x - z).fma(y, z) * y;
            }
        }
        // All of them: a lane that nobody reads is not worked out.
        let all = x.iter().chain(&per);
        all.flat_map(|x| x.store()).sum()
    }
}

/// ns for the mix of one step on one pack; nothing for the plain machine, whose registers hold too little of it.
fn peak(on: Instructions) -> Option<f64> {
    #[cfg(target_arch = "x86_64")]
    {
        use pulp::x86::{V3, V4};
        // Seconds, and packs in a round.
        let (seconds, packs) = match on {
            Instructions::Plain => return None,
            Instructions::Avx2 => {
                let m = V3::try_new()?;
                (best(7, || _ = black_box(m.vectorize(Mix::<_, 5, 2>(m)))), 5)
            }
            Instructions::Avx512 => {
                let m = V4::try_new()?;
                (
                    best(7, || _ = black_box(m.vectorize(Mix::<_, 10, 4>(m)))),
                    10,
                )
            }
        };
        Some(seconds * 1e9 / (ROUNDS * packs) as f64 * PACKS_A_STEP)
    }
    #[cfg(not(target_arch = "x86_64"))]
    None
}

fn main() {
    let one = rayon::ThreadPoolBuilder::new()
        .num_threads(1)
        .build()
        .unwrap();
    let (p, all) = set(180, 1000);
    let member_days = 180_000.0;
    let drawn = best(3, || {
        black_box(set(180, 1000));
    });
    let both = best(5, || {
        black_box(simulate(&p, &all));
    });
    let single = one.install(|| {
        best(5, || {
            black_box(simulate(&p, &all));
        })
    });
    println!("1,000 members, 180 days:");
    println!("  drawing members and weather  {:7.1} ms", drawn * 1e3);
    println!("  all cores                    {:7.1} ms", both * 1e3);
    println!(
        "  one core                     {:7.1} ms, {:.2} us a member-day",
        single * 1e3,
        single * 1e6 / member_days
    );

    println!("growth, all cores (us a member-day):");
    for members_of in [125, 250, 500, 1000, 2000, 4000] {
        let (p, m) = set(180, members_of);
        let t = best(3, || {
            black_box(simulate(&p, &m));
        });
        println!(
            "  {members_of:>5} members, 180 days   {:8.1} ms  {:.2}",
            t * 1e3,
            t * 1e6 / (members_of as f64 * 180.0)
        );
    }
    for days in [45, 90, 180, 360, 720] {
        let (p, m) = set(days, 1000);
        let t = best(3, || {
            black_box(simulate(&p, &m));
        });
        println!(
            "   1000 members, {days:>3} days   {:8.1} ms  {:.2}",
            t * 1e3,
            t * 1e6 / (1000.0 * days as f64)
        );
    }

    let packs = (all.len() / LANES) as f64;
    let steps = simulate(&p, &all).steps as f64 / (180.0 * packs);
    println!(
        "roofline, one core, {:.1} steps a day; a step and what is timed for it:",
        steps
    );
    let [add, mul, fma, div, root, compare] = operations();
    let timed = ROUND.map(|n| n as f64 * PACKS_A_STEP);
    let divided = PACKS_A_STEP / TO_A_DIVISION;
    println!(
        "  sums {add}, {:.0}; products {mul}, {:.0}; fused {fma}, {:.0}",
        timed[0], timed[1], timed[2]
    );
    println!(
        "  divisions and roots {}, {divided:.0}; comparisons {compare}, {:.0}",
        div + root,
        timed[3]
    );
    for on in Instructions::here() {
        let seconds = one.install(|| {
            best(4, || {
                black_box(simulate_within(on, &p, &all));
            })
        });
        let reached = seconds * 1e6 / member_days;
        print!("  {on:?}: {reached:.2} us a member-day");
        if let Some(ns) = peak(on) {
            let bound = ns * steps / LANES as f64 / 1000.0;
            let share = 100.0 * bound / reached;
            print!("; the mix takes {ns:.0} ns for eight, so {bound:.2}: {share:.0} % reached");
        }
        println!();
    }
}
