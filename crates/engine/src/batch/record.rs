//! Records of like numbers: parameters, matter, what deeds change. One macro, so that each can be read and built
//! in order, for lanes, for solvers and for tables.

macro_rules! record {
    ($(#[doc = $top:literal])+ $record:ident { $($(#[doc = $doc:literal])+ $name:ident,)* }) => {
        $(#[doc = $top])+
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $record<R> { $($(#[doc = $doc])+ pub $name: R,)* }

        impl<R: Real> $record<R> {
            /// How many quantities there are.
            pub const COUNT: usize = [$(stringify!($name)),*].len();
            /// Their names, in order.
            pub const NAMES: &'static [&'static str] = &[$(stringify!($name)),*];
            /// Every quantity the same.
            #[inline(always)]
            pub fn all(value: R) -> Self { Self { $($name: value,)* } }
            /// One step in place, field by field: a record is larger than all registers, and copying one costs as
            /// much as its equations. First the step before is mended, `half · rate` and what is still `open`,
            /// but not where `mark` is below nought; then `self` moves by `new · rate + old · before`.
            /// `before` becomes the rate, `open` what the next mending adds beside its own rate.
            #[inline(always)]
            pub fn stepped(
                &mut self,
                rate: &Self,
                (before, open): (&mut Self, &mut Self),
                (half, mark): (f64, Option<R>),
                (new, old, rest): (f64, f64, f64),
            ) {
                $({
                    let (r, was) = (rate.$name, before.$name);
                    let full = r.fma(r.of(half), self.$name + open.$name);
                    let mended = match mark {
                        None => full,
                        Some(mark) => mark.below(0.0, self.$name, full),
                    };
                    let carried = was * old;
                    self.$name = r.fma(r.of(new), mended + carried);
                    open.$name = r * rest - carried;
                    before.$name = r;
                })*
            }
            /// `other` where `mark` is not below nought.
            #[inline(always)]
            pub fn keep(&mut self, mark: R, other: &Self) {
                $(self.$name = mark.below(0.0, self.$name, other.$name);)*
            }
            /// Builds each from its place in the order.
            #[inline(always)]
            pub fn from_each(mut each: impl FnMut(usize) -> R) -> Self {
                let mut at = 0;
                $(let $name = each(at); at += 1;)*
                let _ = at;
                Self { $($name,)* }
            }
            /// Each in order.
            #[inline(always)]
            pub fn to_each(&self, mut take: impl FnMut(usize, R)) {
                let mut at = 0;
                $(take(at, self.$name); at += 1;)*
                let _ = at;
            }
        }
    };
}

pub(super) use record;
