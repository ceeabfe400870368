//! Some of what is in a chamber goes into another.
//!
//! What moves keeps its days: the forecast of the chamber it went into replays it there from its own first day, and
//! that of the chamber it left replays what stayed. So both are a little wrong about the past (a whole batch is warmer
//! than its half) and right about what is there. A level or a weight noted before says nothing of now.

use journal::{Body, Chamber, Moved};

use crate::answer::MoveAnswer;
use crate::{Desk, Error, HOUSEHOLD};

/// Shares that have a name.
const NAMED: [(&str, f64); 6] = [
    ("half", 0.5),
    ("a third", 1.0 / 3.0),
    ("two thirds", 2.0 / 3.0),
    ("a quarter", 0.25),
    ("three quarters", 0.75),
    ("all", 1.0),
];

/// A share in words, as it stands in the log.
pub(crate) fn told(share: f64) -> String {
    NAMED
        .iter()
        .find(|(_, named)| (named - share).abs() < 0.005)
        .map_or_else(
            || format!("about {:.0} %", share * 100.0),
            |(name, _)| (*name).to_owned(),
        )
}

/// A share or litres, in words.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Much {
    Share(f64),
    Litres(f64),
}

fn much(words: &str) -> Option<Much> {
    let words = words.trim().to_lowercase().replace(',', ".");
    let bare = words.trim_start_matches("a ");
    let named = NAMED
        .iter()
        .find(|(name, _)| name.trim_start_matches("a ") == bare);
    if let Some((_, share)) = named {
        return Some(Much::Share(*share));
    }
    let end = words.find(|c: char| !c.is_ascii_digit() && c != '.')?;
    let number: f64 = words[..end].parse().ok()?;
    match words[end..].trim() {
        "%" | "per cent" | "percent" => Some(Much::Share(number / 100.0)),
        "l" | "litre" | "litres" | "liter" | "liters" => Some(Much::Litres(number)),
        _ => None,
    }
}

fn name_of(chamber: &Chamber) -> String {
    chamber.name.clone().unwrap_or_else(|| chamber.id.clone())
}

fn wrong(field: &str, reason: String) -> Error {
    Error::BadSetting {
        field: field.into(),
        reason,
    }
}

impl Desk {
    /// Moves a share of what is in one chamber into another: `half`, `a third`, `all`, `40 %`, `30 L`. Litres need a
    /// level that was noted.
    ///
    /// # Errors
    /// No such chamber; an empty one, or one into itself; words that are no amount; more than is there.
    pub fn move_some(
        &self,
        from: &str,
        to: &str,
        amount: &str,
        key: Option<&str>,
    ) -> Result<MoveAnswer, Error> {
        let (from, to) = (self.chamber_named(from)?, self.chamber_named(to)?);
        if from.id == to.id {
            let reason = "is the chamber it comes from; name another".to_owned();
            return Err(wrong(&name_of(&to), reason));
        }
        if self.store()?.contents(HOUSEHOLD, &from.id)?.is_none() {
            let reason = "is empty; there is nothing to move".to_owned();
            return Err(wrong(&name_of(&from), reason));
        }
        let there = self.litres_in(&from)?;
        let share = match much(amount) {
            Some(Much::Share(share)) if share > 0.0 && share <= 1.0 => share,
            Some(Much::Litres(litres)) if litres > 0.0 => {
                let Some(there) = there else {
                    return Err(wrong(
                        "litres",
                        format!(
                            "need to know how full {} is; note its level first, or say half, a third or 40 %",
                            name_of(&from)
                        ),
                    ));
                };
                // A level by hand is a tenth off: so much more than it says is all of it.
                if litres > there * 1.1 {
                    let most = format!("is more than is there: about {there:.0} L by its level");
                    return Err(wrong(&format!("{litres:.0} L"), most));
                }
                (litres / there).min(1.0)
            }
            _ => {
                return Err(wrong(
                    "how much",
                    format!(
                        "`{}` is no amount here; say half, a third, a quarter, all, 40 % or 30 L",
                        crate::read::shortened(amount)
                    ),
                ));
            }
        };
        let notes = self.moving_notes(&to, there.map(|litres| litres * share))?;
        let body = Body::Moved(Moved {
            chamber: from.id.clone(),
            to: to.id.clone(),
            share,
        });
        let done = self.write(body, None, key)?;
        Ok(MoveAnswer {
            id: done.id.to_string(),
            from: name_of(&from),
            to: name_of(&to),
            share,
            told: told(share),
            notes,
            written: done.written,
        })
    }

    /// Litres in a chamber by its last level.
    fn litres_in(&self, chamber: &Chamber) -> Result<Option<f64>, Error> {
        let level = self.levels()?.remove(&chamber.id);
        Ok(level
            .zip(chamber.litres)
            .map(|(level, litres)| litres * level.pct / 100.0))
    }

    /// What to know before the shovel: the chamber may be finishing, or have no room.
    fn moving_notes(&self, to: &Chamber, litres: Option<f64>) -> Result<Vec<String>, Error> {
        let mut notes = Vec::new();
        let contents = self.store()?.contents(HOUSEHOLD, &to.id)?;
        if contents.is_some_and(|(fill, _)| fill.closed.is_some()) {
            notes.push(format!(
                "{} was finishing. What went in has its own age, so look at the date again.",
                name_of(to)
            ));
        }
        let held = self.litres_in(to)?;
        if let (Some(size), Some(held), Some(litres)) = (to.litres, held, litres)
            && held + litres > size
        {
            notes.push(format!(
                "{} may not hold it: about {:.0} L into {size:.0} L.",
                name_of(to),
                held + litres
            ));
        }
        Ok(notes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_read_as_said() {
        for (words, share) in [
            ("half", 0.5),
            ("A third", 1.0 / 3.0),
            ("third", 1.0 / 3.0),
            ("all", 1.0),
            ("40 %", 0.4),
            ("12,5%", 0.125),
        ] {
            assert_eq!(much(words), Some(Much::Share(share)), "{words}");
        }
        assert_eq!(much("30 L"), Some(Much::Litres(30.0)));
        assert_eq!(much("2.5 litres"), Some(Much::Litres(2.5)));
        for words in ["", "some", "30", "L", "-3 L", "1.2.3 L"] {
            assert_eq!(much(words), None, "{words}");
        }
    }

    #[test]
    fn shares_are_told_in_words_where_they_have_some() {
        assert_eq!(told(0.5), "half");
        assert_eq!(told(0.3333), "a third");
        assert_eq!(told(0.4), "about 40 %");
    }
}
