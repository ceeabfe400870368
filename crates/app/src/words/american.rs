//! British words as Americans say them; names and quoted words stay as they were given.

/// British, American. Whole words only; the capital is kept.
const WORDS: [(&str, &str); 41] = [
    ("aluminium", "aluminum"),
    ("aubergine", "eggplant"),
    ("aubergines", "eggplants"),
    ("autumn", "fall"),
    ("beetroot", "beet"),
    ("biscuit", "cookie"),
    ("biscuits", "cookies"),
    ("card", "cardboard"),
    ("colour", "color"),
    ("coloured", "colored"),
    ("coriander", "cilantro"),
    ("council", "town"),
    ("courgette", "zucchini"),
    ("courgettes", "zucchini"),
    ("crisps", "potato chips"),
    ("fibre", "fiber"),
    ("fibres", "fibers"),
    ("kerbside", "curbside"),
    ("litre", "liter"),
    ("litres", "liters"),
    ("mangetout", "snow peas"),
    ("metre", "meter"),
    ("metres", "meters"),
    ("mould", "mold"),
    ("moulded", "molded"),
    ("moulds", "molds"),
    ("mouldy", "moldy"),
    ("nappies", "diapers"),
    ("nappy", "diaper"),
    ("neighbour", "neighbor"),
    ("neighbours", "neighbors"),
    ("odour", "odor"),
    ("prawn", "shrimp"),
    ("prawns", "shrimp"),
    ("rocket", "arugula"),
    ("rubbish", "trash"),
    ("sulphur", "sulfur"),
    ("swede", "rutabaga"),
    ("swedes", "rutabagas"),
    ("sweetcorn", "corn"),
    ("tyre", "tire"),
];

fn word(british: &str) -> Option<String> {
    let lower = british.to_lowercase();
    let at = WORDS
        .binary_search_by_key(&lower.as_str(), |(w, _)| *w)
        .ok()?;
    let american = WORDS[at].1;
    let mut letters = american.chars();
    Some(match british.chars().next() {
        Some(first) if first.is_uppercase() => letters
            .next()
            .map_or_else(String::new, |l| l.to_uppercase().chain(letters).collect()),
        _ => american.to_owned(),
    })
}

/// A sentence in American words.
pub(crate) fn american(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while !rest.is_empty() {
        let end = rest
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(rest.len());
        let (name, after) = rest.split_at(end);
        // Ids such as card.cn and hyphened names are looked up as they stand.
        let part_of_id = out.ends_with(['.', '_', '-', '`'])
            || after.starts_with(['_', '-', '='])
            || (after.starts_with('.') && after[1..].starts_with(char::is_alphabetic));
        match word(name).filter(|_| !part_of_id) {
            Some(said) => out.push_str(&said),
            None => out.push_str(name),
        }
        let gap = after.find(char::is_alphabetic).unwrap_or(after.len());
        out.push_str(&after[..gap]);
        rest = &after[gap..];
    }
    out
}

/// Answers of the command line, but not the words a person typed: those stand before an arrow.
pub(crate) fn american_lines(text: &str) -> String {
    text.split_inclusive('\n')
        .map(|line| match line.split_once(" → ") {
            Some((typed, read)) => format!("{typed} → {}", american(read)),
            None => american(line),
        })
        .collect()
}

/// A page in American words. Tags, fields and what is marked `translate="no"` stay.
pub(crate) fn american_page(html: &str) -> String {
    let mut out = String::with_capacity(html.len());
    let mut rest = html;
    while let Some(open) = rest.find('<') {
        out.push_str(&american(&rest[..open]));
        rest = &rest[open..];
        let end = rest.find('>').map_or(rest.len(), |at| at + 1);
        let tag = &rest[..end];
        let name: &str = tag[1..]
            .split(|c: char| !c.is_ascii_alphanumeric())
            .next()
            .unwrap_or_default();
        if name == "textarea" || tag.contains("translate=\"no\"") {
            let close = format!("</{name}>");
            let after = rest.find(&close).map_or(rest.len(), |at| at + close.len());
            out.push_str(&rest[..after]);
            rest = &rest[after..];
        } else {
            out.push_str(&tag.replace("lang=\"en-GB\"", "lang=\"en-US\""));
            rest = &rest[end..];
        }
    }
    out.push_str(&american(rest));
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_order_and_changes_words() {
        for pair in WORDS.windows(2) {
            assert!(pair[0].0 < pair[1].0, "{} before {}", pair[0].0, pair[1].0);
        }
        for (british, american) in WORDS {
            assert_ne!(british, american);
            assert_eq!(word(american), None, "{american} is changed twice");
        }
    }

    #[test]
    fn whole_words_change_and_keep_their_capital() {
        assert_eq!(
            american("Mouldy card, 2 litres. A cardboard tube; Neighbours’ discard."),
            "Moldy cardboard, 2 liters. A cardboard tube; Neighbors’ discard."
        );
        assert_eq!(
            american("[card-torn.cn] card.cn litres_l"),
            "[card-torn.cn] card.cn litres_l"
        );
    }

    #[test]
    fn what_a_person_typed_stays() {
        assert_eq!(
            american_lines("  2 L card → torn card\ncard\n"),
            "  2 L card → torn cardboard\ncardboard\n"
        );
        let page = "<html lang=\"en-GB\"><p title=\"card\">card</p><span translate=\"no\">card <i>card</i></span>card<textarea>card</textarea>";
        assert_eq!(
            american_page(page),
            "<html lang=\"en-US\"><p title=\"card\">cardboard</p><span translate=\"no\">card <i>card</i></span>cardboard<textarea>card</textarea>"
        );
    }
}
