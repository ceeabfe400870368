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

/// A sentence in American words. Names a household gave and what stands in “” or `` stay as typed.
pub(crate) fn american(text: &str, names: &[String]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((at, end)) = typed(rest, names) {
        put(&mut out, &rest[..at]);
        out.push_str(&rest[at..end]);
        rest = &rest[end..];
    }
    put(&mut out, rest);
    out
}

/// Where the first words of a person begin and end.
fn typed(text: &str, names: &[String]) -> Option<(usize, usize)> {
    let quoted = [('`', '`'), ('“', '”')]
        .into_iter()
        .filter_map(|(open, close)| {
            let at = text.find(open)?;
            let after = at + open.len_utf8();
            Some((at, after + text[after..].find(close)? + close.len_utf8()))
        });
    let named = names.iter().filter_map(|name| {
        let whole = |at: usize| {
            !text[..at].ends_with(char::is_alphanumeric)
                && !text[at + name.len()..].starts_with(char::is_alphanumeric)
        };
        let at = text.match_indices(name.as_str()).map(|m| m.0);
        at.filter(|at| whole(*at))
            .map(|at| (at, at + name.len()))
            .next()
    });
    quoted
        .chain(named)
        .min_by_key(|(at, end)| (*at, std::cmp::Reverse(*end)))
}

fn put(out: &mut String, text: &str) {
    let mut rest = text;
    while !rest.is_empty() {
        let end = rest
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(rest.len());
        let (name, after) = rest.split_at(end);
        // Ids such as card.cn and hyphened names are looked up as they stand.
        let part_of_id = out.ends_with(['.', '_', '-'])
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
}

/// Whether a text holds a word that Americans say otherwise.
pub(super) fn differs(text: &str) -> bool {
    american(text, &[]) != text
}

/// Answers of the command line, but not the words a person typed, which stand before an arrow, and not
/// the titles of publications.
pub(crate) fn american_lines(text: &str, names: &[String]) -> String {
    text.split_inclusive('\n')
        .map(|line| match line.split_once(" → ") {
            Some((typed, read)) => format!("{typed} → {}", american(read, names)),
            None if line.trim_start().starts_with("source: ") => line.to_owned(),
            None => american(line, names),
        })
        .collect()
}

/// A page in American words. Fields, what is marked `translate="no"` and tags stay; a label in a tag does not.
pub(crate) fn american_page(html: &str, names: &[String]) -> String {
    let escape = |n: &String| {
        n.replace('&', "&amp;")
            .replace('<', "&lt;")
            .replace('>', "&gt;")
            .replace('"', "&quot;")
    };
    let names: Vec<String> = names.iter().map(escape).collect();
    let mut out = String::with_capacity(html.len());
    let mut rest = html;
    while let Some(open) = rest.find('<') {
        out.push_str(&american(&rest[..open], &names));
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
            out.push_str(&labelled(tag, &names).replace("lang=\"en-GB\"", "lang=\"en-US\""));
            rest = &rest[end..];
        }
    }
    out.push_str(&american(rest, &names));
    out
}

/// A tag whose label for those who do not see it is in American words.
fn labelled(tag: &str, names: &[String]) -> String {
    const LABEL: &str = " aria-label=\"";
    let parts = tag.split_once(LABEL).and_then(|(before, after)| {
        let (label, behind) = after.split_once('"')?;
        Some((before, label, behind))
    });
    match parts {
        Some((before, label, behind)) => {
            format!("{before}{LABEL}{}\"{behind}", american(label, names))
        }
        None => tag.to_owned(),
    }
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
            american(
                "Mouldy card, 2 litres. A cardboard tube; Neighbours’ discard.",
                &[]
            ),
            "Moldy cardboard, 2 liters. A cardboard tube; Neighbors’ discard."
        );
        assert_eq!(
            american("[card-torn.cn] card.cn litres_l", &[]),
            "[card-torn.cn] card.cn litres_l"
        );
    }

    #[test]
    fn what_a_person_typed_stays() {
        assert_eq!(
            american_lines("  2 L card → torn card\ncard\n  source: Card 1992\n", &[]),
            "  2 L card → torn cardboard\ncardboard\n  source: Card 1992\n"
        );
        let page = "<html lang=\"en-GB\"><p title=\"card\">card</p><span translate=\"no\">card <i>card</i></span>card<textarea>card</textarea>";
        assert_eq!(
            american_page(page, &[]),
            "<html lang=\"en-US\"><p title=\"card\">cardboard</p><span translate=\"no\">card <i>card</i></span>cardboard<textarea>card</textarea>"
        );
    }

    #[test]
    fn names_of_a_household_and_quoted_words_stay() {
        let names = ["Card".to_owned(), "Litre & <Co>".to_owned()];
        assert_eq!(
            american(
                "Close Card. Card, card: Cards; Discard card in Litre & <Co>",
                &names
            ),
            "Close Card. Card, cardboard: Cards; Discard cardboard in Litre & <Co>"
        );
        assert_eq!(
            american(
                "nothing understood in `wet card`; “old card” is no card",
                &[]
            ),
            "nothing understood in `wet card`; “old card” is no cardboard"
        );
        assert_eq!(american("a lone ` and card", &[]), "a lone ` and cardboard");
        assert_eq!(
            american_page(
                "<b aria-label=\"Card of card\" class=\"card\">Litre &amp; &lt;Co&gt; 2 litres</b>",
                &names
            ),
            "<b aria-label=\"Card of cardboard\" class=\"card\">Litre &amp; &lt;Co&gt; 2 liters</b>"
        );
    }
}
