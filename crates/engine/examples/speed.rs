//! How fast the ensemble is, and how fast it could be: times, growth with members and days, and a roofline
//! from counted operations and measured throughputs. `cargo run --release -p engine --example speed`.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a measurement prints"
)]

mod drum;

use std::cell::Cell;
use std::ops::{Add, Div, Mul, Neg, Sub};
use std::time::Instant;

use engine::batch::air::STEPS;
use engine::batch::drivers::Drivers;
use engine::batch::lanes::Real;
use engine::batch::params::Params;
use engine::batch::state::{Kept, Matter, State};
use engine::batch::step::{Before, RESTART, finer, step};
use engine::batch::vessel::Vessel;
use engine::ensemble::{Member, Plan, portable, prior, simulate};

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

/// Steps of the fast mode in a plan, a day; hours that pass an edge of the freezing span are not known here.
fn steps_a_day(plan: &Plan) -> f64 {
    let v = plan.vessel.driven();
    let mut deeds = plan.deeds.iter().peekable();
    let (mut put_in, mut steps) = (0.0, 0);
    for at in 0..plan.days * STEPS {
        let mut jumped = false;
        while let Some(next) = deeds.next_if(|d| Plan::hour(d.day) <= at) {
            put_in = next.deed.leaves(put_in);
            jumped = true;
        }
        steps += if jumped { RESTART } else { finer(put_in, &v) };
    }
    steps as f64 / plan.days as f64
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

#[cfg(target_arch = "x86_64")]
mod peak {
    use engine::batch::lanes::{Lanes, Real};
    use pulp::x86::V3;

    /// ns for one operation on four numbers, at full throughput: eight at once, none waiting for another.
    struct Loop(V3, usize, usize);

    impl pulp::NullaryFnOnce for Loop {
        type Output = f64;
        #[inline(always)]
        fn call(self) -> f64 {
            let Self(machine, kind, times) = self;
            type L = Lanes<V3, 10>;
            let mut x: L = Lanes::splat(machine, 1.000_1);
            let y: L = Lanes::splat(machine, 0.999_9);
            let z: L = Lanes::splat(machine, 1e-9);
            for _ in 0..times {
                x = match kind {
                    0 => x + z,
                    1 => x * y,
                    2 => x.fma(y, z),
                    3 => y / x,
                    4 => x.sqrt(),
                    // With a difference before it: the larger of the larger would be worked out once for all.
                    _ => (z - x).max(y),
                };
            }
            x.store()[0][0]
        }
    }

    pub(crate) fn nanoseconds(kind: usize) -> f64 {
        let machine = V3::try_new().unwrap();
        let times = 2_000_000;
        let seconds = super::best(5, || {
            std::hint::black_box(machine.vectorize(Loop(
                machine,
                std::hint::black_box(kind),
                times,
            )));
        });
        seconds * 1e9 / (times as f64 * 10.0)
    }
}

fn main() {
    let one = rayon::ThreadPoolBuilder::new()
        .num_threads(1)
        .build()
        .unwrap();
    let (p, all) = set(180, 1000);
    let member_days = 180_000.0;
    let drawn = best(3, || {
        std::hint::black_box(set(180, 1000));
    });
    let both = best(5, || {
        std::hint::black_box(simulate(&p, &all));
    });
    let single = one.install(|| {
        best(5, || {
            std::hint::black_box(simulate(&p, &all));
        })
    });
    let plain = one.install(|| {
        best(2, || {
            std::hint::black_box(portable(&p, &all[..200]));
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
    println!(
        "  one core, portable           {:.2} us a member-day",
        plain * 1e6 / (200.0 * 180.0)
    );

    println!("growth, all cores (us a member-day):");
    for members_of in [125, 250, 500, 1000, 2000, 4000] {
        let (p, m) = set(180, members_of);
        let t = best(3, || {
            std::hint::black_box(simulate(&p, &m));
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
            std::hint::black_box(simulate(&p, &m));
        });
        println!(
            "   1000 members, {days:>3} days   {:8.1} ms  {:.2}",
            t * 1e3,
            t * 1e6 / (1000.0 * days as f64)
        );
    }

    #[cfg(target_arch = "x86_64")]
    {
        let names = ["add", "mul", "fma", "div", "sqrt", "compare"];
        let ops = operations();
        let mut ns: Vec<f64> = (0..6).map(peak::nanoseconds).collect();
        ns[5] = (ns[5] - ns[0]).max(0.0);
        println!("roofline, one core:");
        let mut bound = 0.0;
        for i in 0..6 {
            println!(
                "  {:<8} {:>4} a step, {:.3} ns for four",
                names[i], ops[i], ns[i]
            );
            bound += ops[i] as f64 * ns[i];
        }
        // Four members a vector.
        let steps = steps_a_day(&p);
        println!("  {steps:.1} steps a day");
        let us = bound * steps / 4.0 / 1000.0;
        println!(
            "  bound {us:.2} us a member-day; reached {:.0} %",
            100.0 * us / (single * 1e6 / member_days)
        );
    }
}
