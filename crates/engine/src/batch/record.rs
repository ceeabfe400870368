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
            /// `self + a·f + b·g`.
            #[inline(always)]
            pub fn moved(&self, (a, f): (&Self, f64), (b, g): (&Self, f64)) -> Self {
                Self { $($name: a.$name.fma(a.$name.of(f), b.$name.fma(a.$name.of(g), self.$name)),)* }
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
