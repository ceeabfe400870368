//! Which chamber, by the household's own names.

use super::english;
use super::tokens::{Token, tokens};
use crate::Catalogue;
use crate::Found;

/// For each token, the chamber named there and the first token after its name.
pub(super) fn chambers(
    catalogue: &Catalogue,
    all: &[Token],
    names: &[String],
) -> Vec<Option<(String, usize)>> {
    let mut found = vec![None; all.len()];
    for name in names {
        let parts: Vec<String> = tokens(name).iter().map(|t| t.low().to_owned()).collect();
        if parts.is_empty() || parts.iter().any(String::is_empty) {
            continue;
        }
        for (at, place) in found.iter_mut().enumerate() {
            let Some(here) = all.get(at..at + parts.len()) else {
                break;
            };
            let exact = here.iter().zip(&parts).all(|(t, p)| t.low() == p);
            let single = parts.len() == 1;
            let slip =
                !exact && single && is_slip(catalogue, here[0].low(), &parts[0]) && stands(all, at);
            if (exact && free(catalogue, all, at, parts.len()) || slip) && place.is_none() {
                let to = at + parts.len();
                // "in the far one".
                let one = all.get(to).is_some_and(|t| t.low() == "one");
                *place = Some((name.clone(), to + usize::from(one)));
            }
        }
    }
    found
}

/// "near the shed" and "green beans" name no chamber.
fn free(catalogue: &Catalogue, all: &[Token], at: usize, length: usize) -> bool {
    let after = all.get(at + length);
    let led = led(all, at);
    if !led && after.is_some_and(|t| matches!(t.low(), "the" | "my" | "our" | "to")) {
        return false;
    }
    let name: Vec<&str> = all[at..at + length].iter().map(Token::norm).collect();
    let name = name.join(" ");
    let longer = after.is_some_and(|t| {
        !t.norm().is_empty()
            && !matches!(
                catalogue.find(&format!("{name} {}", t.norm())),
                Found::Nothing
            )
    });
    let thing = !matches!(catalogue.find(&name), Found::Nothing);
    !longer && (!thing || led || stands(all, at))
}

fn led(all: &[Token], at: usize) -> bool {
    let before = |back: usize| {
        at.checked_sub(back)
            .and_then(|b| all.get(b))
            .map_or("", Token::low)
    };
    let lead = if matches!(before(1), "the" | "our" | "my") {
        before(2)
    } else {
        before(1)
    };
    matches!(lead, "in" | "into" | "to" | "chamber")
}

/// Alone between separators, or behind "in", "into", "to".
fn stands(all: &[Token], at: usize) -> bool {
    let open = |t: Option<&Token>| t.is_none_or(|t| t.low().is_empty() && t.number().is_none());
    let before = at.checked_sub(1).and_then(|b| all.get(b));
    open(all.get(at + 1)) && open(before) || led(all, at)
}

fn is_slip(catalogue: &Catalogue, said: &str, name: &str) -> bool {
    said.chars().count() >= 4
        && !english::is_plain(said)
        && strsim::damerau_levenshtein(said, &name.to_lowercase()) == 1
        && matches!(catalogue.find(said), Found::Nothing)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(text: &str) -> Vec<String> {
        let catalogue = Catalogue::load().unwrap();
        let names = ["Near".to_owned(), "Far".to_owned()];
        chambers(&catalogue, &tokens(text), &names)
            .into_iter()
            .flatten()
            .map(|(n, _)| n)
            .collect()
    }

    #[test]
    fn names_and_slips() {
        assert_eq!(named("leaves, near"), ["Near"]);
        assert_eq!(named("leaves, Nera"), ["Near"]);
        assert_eq!(named("tops, farr"), ["Far"]);
        assert_eq!(named("into the FAR chamber"), ["Far"]);
    }

    #[test]
    fn not_names() {
        for text in [
            "nearly full",
            "pear",
            "leaves from near the shed",
            "it was a farce",
        ] {
            assert_eq!(named(text), Vec::<String>::new(), "{text}");
        }
    }
}
