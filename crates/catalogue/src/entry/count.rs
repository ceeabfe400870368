//! One of a thing, and the portion taken when no amount is said.

use units::{Spread, round_to_doubt};

use super::item::{HAND, Portion, Scale, times};
use super::lexicon;
use super::unit::about;
use crate::{Material, Measure, normalise};

impl<'a> Scale<'a> {
    /// The row that "one of it" means: the one whose name adds least to what was said.
    fn one(
        &self,
        material: &Material,
        words: &str,
        unit: Option<&str>,
    ) -> Option<(&'a Measure, bool)> {
        const PLAIN: &[&str] = &[
            "one", "of", "a", "and", "the", "from", "for", "whole", "spoiled", "medium", "dry",
            "used", "stale", "in", "double", "g", "gone", "soft", "carved", "overripe", "cooked",
        ];
        const SIZED: &[&str] = &[
            "bucket",
            "barrow",
            "wheelbarrow",
            "sack",
            "caddy",
            "mower",
            "watering",
            "box",
            "flake",
            "bale",
            "wedge",
            "dozen",
        ];
        let said: Vec<&str> = words.split(' ').collect();
        let mut best: Option<(i32, &Measure, bool)> = None;
        for row in self.rows(material) {
            let name = normalise(&row.name);
            let names: Vec<&str> = name.split(' ').collect();
            let id: Vec<&str> = row.id.split('-').collect();
            let wanted =
                unit.is_some_and(|u| row.unit == u || names.contains(&u) || id.contains(&u));
            let countable = row.unit == "each"
                || wanted && matches!(row.unit.as_str(), "bunch" | "brew" | "pair" | "spoon");
            let odd_vessel = names
                .iter()
                .chain(&id)
                .any(|w| SIZED.contains(w) && !said.contains(w) && unit != Some(*w));
            if !countable || odd_vessel {
                continue;
            }
            let unsaid = |w: &&&str| {
                !PLAIN.contains(*w)
                    && !said.contains(*w)
                    && !w.starts_with(|c: char| c.is_ascii_digit())
            };
            // Part of a thing is not the thing: half a lemon, a sheet of a newspaper. A size
            // that was not said is not the usual one.
            let weight = |w: &&str| match *w {
                "half" | "sheet" | "loaf" | "small" | "large" if unit != Some(*w) => 4,
                _ => 1,
            };
            let extra: i32 = names.iter().filter(unsaid).map(weight).sum();
            let common = names.iter().filter(|w| said.contains(w)).count() as i32;
            let part = names
                .iter()
                .any(|w| said.contains(w) && lexicon::PART.contains(w));
            let score = 10 * i32::from(wanted) + 3 * i32::from(part) + 2 * common - extra;
            if best.is_none_or(|(s, ..)| score > s) {
                best = Some((score, row, wanted));
            }
        }
        best.map(|(_, row, wanted)| (row, wanted))
    }

    /// A row of another material with the same name: a greasy pizza box weighs what a clean one does.
    fn like(&self, words: &str) -> Option<&'a Measure> {
        let said: Vec<&str> = words.split(' ').collect();
        self.catalogue.measures.iter().find(|m| {
            m.unit == "each"
                && m.material.is_some()
                && m.id.contains('-')
                && m.id.split('-').all(|w| said.contains(&w))
        })
    }

    pub(super) fn counted(
        &self,
        material: &Material,
        words: &str,
        unit: Option<&'static str>,
        by: Spread,
    ) -> Portion {
        let said = |w: &str| words.split(' ').any(|s| s == w);
        if let Some((row, wanted)) = self.one(material, words, unit) {
            let name = normalise(&row.name);
            let part = name
                .split(' ')
                .any(|w| lexicon::PART.contains(&w) && !said(w));
            let unlike = part || !name.split(' ').any(said);
            let same = matches!(unit, None | Some("plant" | "head" | "ear" | "piece"));
            let other = if unlike && !wanted {
                self.like(words)
            } else {
                None
            };
            let row = other.unwrap_or(row);
            let portion = self.by_measure(material, row, by);
            return match (wanted || same && !unlike, unit) {
                (true, _) => portion,
                (false, unit) => {
                    let unit = unit.map_or(String::new(), |u| format!(" {u}"));
                    portion.note(format!("one{unit} taken as {}", row.name))
                }
            };
        }
        if let Some(row) = self.like(words) {
            let portion = self.by_measure(material, row, by);
            return portion.note(format!("one taken as {}", row.name));
        }
        let litres = match unit {
            Some("box" | "packet") => Some(1.5),
            Some("stick" | "slice" | "piece" | "clove" | "thumb" | "wedge") => Some(0.05),
            _ => None,
        };
        if let (Some(litres), Some(unit)) = (litres, unit) {
            // A packet of food, a bite of it (judged).
            let portion = self.by_volume(material, times(about(litres, HAND), by));
            return portion.note(format!("one {unit} taken as {litres} L"));
        }
        let each = unit.unwrap_or("of them");
        let handfuls = Portion {
            by_handful: true,
            ..self.handfuls(material, by)
        };
        handfuls.note(format!("one {each} taken as one handful"))
    }

    /// The usual portion when no amount was said.
    pub(super) fn usual(&self, material: &Material, words: &str) -> Portion {
        let one = Spread::exact(1.0);
        let pot = self
            .rows(material)
            .find(|m| m.unit == "brew" && m.id.contains("pot"));
        let brew = pot.or_else(|| self.rows(material).find(|m| m.unit == "brew"));
        let row = brew
            .or_else(|| self.one(material, words, None).map(|(row, _)| row))
            .or_else(|| self.rows(material).find(|m| m.unit == "bunch"))
            .or_else(|| self.like(words));
        let (portion, name) = match row {
            Some(row) => (self.by_measure(material, row, one), row.name.as_str()),
            None => (self.handfuls(material, one), "one handful"),
        };
        let text = match portion.kg {
            Some(kg) => format!("{name}, about {}", grams(kg)),
            None => name.to_owned(),
        };
        portion.note(text)
    }
}

/// Grams or kilograms with no more digits than the spread bears.
pub(super) fn grams(kg: Spread) -> String {
    let g = kg.scale(1000.0);
    let shown = round_to_doubt(g.mid, g);
    let shown = if shown > 0.0 { shown } else { g.mid };
    if shown >= 1000.0 {
        format!("{:.1} kg", shown / 1000.0)
    } else {
        format!("{shown:.0} g")
    }
}
