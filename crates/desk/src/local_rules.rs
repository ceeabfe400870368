//! What may the household do where it lives? It answers for itself: no rule of any place is known here.

use units::ranges;

use crate::{Desk, Error, HOUSEHOLD};

/// Stands before the caution of what the household's own rule keeps out.
const KEPT_OUT: &str = "The local rule you noted keeps cooked food and meat out.";

/// What the household noted of its local rules; `None` is not said.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LocalRules {
    /// Whether cooked food and meat may go in.
    pub food_allowed: Option<bool>,
    /// How far the bin must stand from a neighbour or a window, m.
    pub apart_m: Option<f64>,
    /// How large a chamber may be, L.
    pub largest_l: Option<f64>,
    /// Chambers that are larger: name and litres.
    pub too_large: Vec<(String, f64)>,
}

/// What the local rule says of a thing that such rules are mostly about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LocalFood {
    /// The household noted that it stays out.
    KeptOut,
    /// The household noted that it may go in.
    Allowed,
    /// The household has not said.
    Unsaid,
}

impl LocalFood {
    /// As in JSON.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::KeptOut => "kept_out",
            Self::Allowed => "allowed",
            Self::Unsaid => "unsaid",
        }
    }
}

impl Desk {
    /// What was noted of local rules, and the chambers that are larger than they let.
    ///
    /// # Errors
    /// As the journal's.
    pub fn local_rules(&self) -> Result<LocalRules, Error> {
        let noted = self.settings()?;
        let mut too_large = Vec::new();
        if let (Some(most), Some(store)) = (noted.largest_l, &self.store) {
            for chamber in store.chambers(HOUSEHOLD)? {
                if let Some(litres) = chamber.litres.filter(|l| *l > most) {
                    too_large.push((chamber.name.unwrap_or(chamber.id), litres));
                }
            }
        }
        Ok(LocalRules {
            food_allowed: noted.food_allowed,
            apart_m: noted.apart_m,
            largest_l: noted.largest_l,
            too_large,
        })
    }

    /// What the local rule says of a material; `None` for one that no such rule is about.
    pub(crate) fn local_food(&self, material: &str) -> Result<Option<LocalFood>, Error> {
        if !crate::put_right::cooked_or_meat(material) {
            return Ok(None);
        }
        Ok(Some(match self.settings()?.food_allowed {
            Some(false) => LocalFood::KeptOut,
            Some(true) => LocalFood::Allowed,
            None => LocalFood::Unsaid,
        }))
    }
}

/// Verdict and caution under the local rule. It may only tighten: what it allows still draws rats.
pub(crate) fn under_rule(
    local: Option<LocalFood>,
    verdict: &'static str,
    caution: &str,
) -> (&'static str, String) {
    if local != Some(LocalFood::KeptOut) {
        return (verdict, caution.to_owned());
    }
    let verdict = if verdict == "never" {
        verdict
    } else {
        "not_here"
    };
    (
        verdict,
        format!("{KEPT_OUT} {caution}").trim_end().to_owned(),
    )
}

/// Distance and size within their ranges.
pub(crate) fn check(apart_m: Option<f64>, largest_l: Option<f64>) -> Result<(), Error> {
    apart_m.map(|m| ranges::APART_M.check(m)).transpose()?;
    largest_l.map(|l| ranges::LARGEST_L.check(l)).transpose()?;
    Ok(())
}
