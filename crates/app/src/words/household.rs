//! What the household noted of its local rules, in sentences.

use desk::{LocalFood, LocalRules};

use super::Tongue;

/// Said wherever a local rule may say otherwise.
pub(crate) const ASK: &str =
    "Rules differ from place to place: ask your council or local authority.";

/// What the local rule says of a thing, or that it is worth asking; where it keeps it out, the caution says so.
pub(crate) fn food(local: Option<LocalFood>) -> Option<&'static str> {
    match local? {
        LocalFood::KeptOut => None,
        LocalFood::Allowed => {
            Some("You noted that your local rule allows it. It may still smell and draw rats.")
        }
        LocalFood::Unsaid => Some(ASK),
    }
}

/// The rules noted, a line each; what was not said is not told.
pub(crate) fn noted(rules: &LocalRules, tongue: Tongue) -> Vec<String> {
    let mut said = Vec::new();
    match rules.food_allowed {
        Some(true) => said.push("Cooked food and meat may go in.".to_owned()),
        Some(false) => said.push("Cooked food and meat stay out.".to_owned()),
        None => {}
    }
    if let Some(m) = rules.apart_m {
        said.push(format!(
            "The bin stands {} or more from a neighbour or a window.",
            tongue.distance(m)
        ));
    }
    if let Some(l) = rules.largest_l {
        said.push(format!("A chamber holds {} at most.", tongue.size(l)));
    }
    said
}

/// Whether a chamber is larger than the rule lets it be.
pub(crate) fn too_large(rules: &LocalRules, chamber: &str, tongue: Tongue) -> Option<String> {
    let most = rules.largest_l?;
    let larger = rules.too_large.iter().any(|(name, _)| name == chamber);
    larger.then(|| {
        format!(
            "Larger than the {} you noted as the most. Ask before you fill it further.",
            tongue.size(most)
        )
    })
}
