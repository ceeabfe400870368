//! From what is noticed to its cause, and to the smallest act that mends it.
//!
//! # The rule
//! ```text
//! P(cause | symptom, evidence) ∝ p(cause | symptom) · Π m(cause, quantity)
//! p = (s·w + n) / (s + N)         s = 5
//! m(x) = least · (most/least)^σ((x − at)/width)     σ(z) = 1/(1 + e^−z)
//! ```
//! w is a weight of the table in [`weights`], s the strength it is worth in batches seen, n how often this
//! household bore a cause out, N the sum of n. m is a row of [`likelihood`]: how much more a quantity speaks
//! for a cause than a usual batch does. A quantity that is not known says nothing: m = 1. With doubt, m is the
//! mean over its three points, weighted 0.185, 0.630, 0.185 (Keefer & Bodily 1983, Manage. Sci. 29:595–609,
//! recalled).
//!
//! Weights and rows are judged, not counted; where a row rests on a source, it says so. Rows are taken as
//! independent within a cause: two signs of the same thing (wet, airless) count twice, so chances are too
//! sure at the ends. It knows one cause at a time.

/// A closed list of words: a variant for each, as in JSON and in tables.
macro_rules! named {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal,)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $($(#[$vdoc])* $variant,)* }
        impl $name {
            /// Every one, in order.
            pub const ALL: &[Self] = &[$(Self::$variant),*];
            /// As in JSON.
            #[must_use]
            pub fn as_str(self) -> &'static str { match self { $(Self::$variant => $word,)* } }
            /// Reads the word.
            #[must_use]
            pub fn parse(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|v| v.as_str() == word)
            }
        }
    };
}

mod act;
mod amount;
mod cause;
mod evidence;
pub mod likelihood;
mod posterior;
mod symptom;
pub mod weights;

pub use act::{Act, Plan, plan};
pub use amount::{Amount, BoundBy, Extra, Inside, Things, amount, taken};
pub use cause::Cause;
pub use evidence::{Evidence, Group, Quantity};
pub use posterior::{Because, Chance, STRENGTH, diagnose};
pub use symptom::{Family, Symptom};
