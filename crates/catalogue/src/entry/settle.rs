//! Drafts to the entry: amounts worked out, shares made, unknown words given near ones.

use units::Spread;

use super::assemble::{Draft, Sheet};
use super::item::{Portion, Scale};
use super::segment::{Break, thing};
use super::tokens::Token;
use super::unit::Unit;
use super::{Ambiguous, Entry, Hands, Item, Unread, lexicon};
use crate::{Bought, Catalogue, Material};

/// Near words are looked up for this many unknown groups, of at most so many bytes.
const MOST_NEAR: usize = 12;
const NEAR_BYTES: usize = 48;

pub(super) struct Settler<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) hands: &'a Hands,
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
}

impl Settler<'_> {
    pub(super) fn entry(&self, sheet: Sheet) -> Entry {
        let Sheet {
            drafts,
            mut unknown,
            when,
            chamber,
        } = sheet;
        let mut entry = Entry {
            when,
            chamber,
            ..Entry::default()
        };
        let drafts = self.narrow(drafts);
        let shares = self.shares(&drafts);
        for (draft, share) in drafts.iter().zip(shares) {
            let Some((by, vessel)) = share else { continue };
            if draft.thing.may_be.len() > 1 && self.plain(draft).is_none() {
                let text = self.quote(draft.from, draft.to);
                entry.ambiguous.push(Ambiguous {
                    text,
                    may_be: draft.thing.may_be.clone(),
                });
                continue;
            }
            let whole = draft.amount.is_none_or(|a| a.holds());
            let made = if whole {
                self.item(draft, by, vessel)
            } else {
                None
            };
            match made {
                Some(item) => entry.items.push(item),
                None => unknown.push((draft.from, draft.to, draft.thing.may_be.clone())),
            }
        }
        unknown.sort_by_key(|u| u.0);
        for (index, (from, to, mut near)) in unknown.into_iter().enumerate() {
            let text = self.quote(from, to);
            if near.is_empty() && index < MOST_NEAR {
                near = self.near(from, to, &text);
            }
            near.dedup();
            entry.unknown.push(Unread { text, near });
        }
        entry
    }

    /// A manky spud or half a banana is not its peel, where the catalogue knows the whole thing.
    fn uneaten<'m>(&'m self, words: &str, row: &Bought, own: &'m Material) -> &'m Material {
        if own.id != row.material {
            return own;
        }
        let food = row.word.as_str();
        ["whole", "overripe", "old", "soft", "rotten"]
            .iter()
            .flat_map(|how| [format!("{how} {words}"), format!("{how} {food}")])
            .chain([food.to_owned()])
            .filter_map(|w| thing(self.catalogue, &w))
            .find(|t| t.may_be.len() == 1 && t.may_be[0] != own.id)
            .and_then(|t| self.catalogue.get(&t.may_be[0]))
            .unwrap_or(own)
    }

    /// What a word with several meanings means here: "husks from 8 ears of corn", eggs that were cooked.
    fn plain(&self, draft: &Draft) -> Option<&Material> {
        if draft.thing.may_be.len() < 2 {
            return None;
        }
        let words = draft.thing.words.as_str();
        if let Some(part) = &draft.part {
            let named = self.named(words, part)?;
            return self.catalogue.get(named.may_be.first()?);
        }
        if !draft.cooked {
            return None;
        }
        let rows = self.catalogue.bought();
        if let Some(row) = rows.iter().find(|b| b.word == words) {
            return self.catalogue.get(&row.material);
        }
        let mut eaten = draft
            .thing
            .may_be
            .iter()
            .filter(|id| rows.iter().any(|b| b.material == **id));
        match (eaten.next(), eaten.next()) {
            (Some(one), None) => self.catalogue.get(one),
            _ => None,
        }
    }

    /// The material that a food and its part name together.
    fn named(&self, words: &str, part: &str) -> Option<super::segment::Thing> {
        part.split(" and ").chain([part]).find_map(|p| {
            thing(self.catalogue, &format!("{words} {p}")).filter(|t| t.may_be.len() == 1)
        })
    }

    fn quote(&self, from: usize, to: usize) -> String {
        let (Some(first), Some(last)) =
            (self.tokens.get(from), self.tokens.get(to.saturating_sub(1)))
        else {
            return String::new();
        };
        self.text
            .get(first.start..last.end)
            .unwrap_or_default()
            .to_owned()
    }

    fn near(&self, from: usize, to: usize, text: &str) -> Vec<String> {
        let ids = |words: &str| -> Vec<String> {
            self.catalogue
                .near(words, 3)
                .into_iter()
                .map(|n| n.material.id.clone())
                .collect()
        };
        let whole = if text.len() <= NEAR_BYTES {
            ids(text)
        } else {
            Vec::new()
        };
        if !whole.is_empty() || to - from < 2 || to - from > 4 {
            return whole;
        }
        (from..to)
            .map(|at| self.tokens[at].norm())
            .filter(|w| w.len() >= 4 && w.len() <= NEAR_BYTES)
            .flat_map(ids)
            .take(3)
            .collect()
    }

    /// For each draft: the share of its vessel and whose vessel it is; `None` if it gave way to its contents.
    fn shares<'d>(&self, drafts: &'d [Draft]) -> Vec<Option<(f64, Option<&'d Draft>)>> {
        let mut shares = vec![Some((1.0, None)); drafts.len()];
        for (at, first) in drafts.iter().enumerate() {
            let holds = first.unit.is_some_and(|u| u.is_vessel()) || first.vessel;
            let mixed = first.thing.may_be.iter().any(|id| id.starts_with("mixed-"));
            let sharing = match first.opens {
                _ if !holds => false,
                Some(Break::With) if first.vessel => self.inside(first.to),
                Some(Break::Colon) if first.vessel => true,
                _ => first.of && !mixed && !first.vessel,
            };
            if !sharing {
                continue;
            }
            let more = drafts[at + 1..]
                .iter()
                .take_while(|d| d.bare && d.linked)
                .count();
            if more == 0 {
                continue;
            }
            let among = more + usize::from(!first.vessel);
            for share in &mut shares[at + 1..=at + more] {
                *share = Some((1.0 / among as f64, Some(first)));
            }
            shares[at] = if first.vessel {
                None
            } else {
                Some((1.0 / among as f64, Some(first)))
            };
        }
        shares
    }

    /// "in it", "inside" somewhere behind the vessel.
    fn inside(&self, from: usize) -> bool {
        let rest = self.tokens.get(from..).unwrap_or_default();
        rest.windows(2)
            .any(|w| w[0].low() == "in" && matches!(w[1].low(), "it" | "there"))
            || rest.iter().any(|t| t.low() == "inside")
    }

    fn bought(&self, words: &str, id: &str) -> Option<&Bought> {
        let all = self.catalogue.bought();
        let last = words.rsplit(' ').next().unwrap_or(words);
        all.iter()
            .find(|b| b.word == words)
            .or_else(|| all.iter().find(|b| b.word == last))
            .or_else(|| {
                let part = words.split(' ').any(|w| lexicon::PART.contains(&w));
                let other = words.contains(' ') && !words.split(' ').all(|w| w != "and");
                all.iter()
                    .find(|b| b.material == id)
                    .filter(|_| !part && !other)
            })
    }

    fn item(&self, draft: &Draft, share: f64, vessel: Option<&Draft>) -> Option<Item> {
        let scale = Scale {
            catalogue: self.catalogue,
            hands: self.hands,
        };
        let own = match self.plain(draft) {
            Some(material) => material,
            None => self.catalogue.get(draft.thing.may_be.first()?)?,
        };
        let words = draft.thing.words.as_str();
        let (material, portion) = match (&draft.part, vessel) {
            (_, Some(vessel)) => {
                let mut portion = scale.portion(own, words, vessel.amount, vessel.unit);
                portion.kg = portion.kg.map(|s: Spread| s.scale(share));
                portion.litres = portion.litres.map(|s: Spread| s.scale(share));
                portion.assumed = Some("an equal share of what it came in".into());
                (own, portion)
            }
            (Some(part), None) => self.part_of(scale, draft, own, part),
            (None, None) => self.said(scale, draft, own),
        };
        portion.holds().then(|| Item {
            text: self.quote(draft.from, draft.to),
            material: material.id.clone(),
            kg: portion.kg,
            litres: portion.litres,
            assumed: portion.assumed,
            said: if vessel.is_none() {
                draft.spoken()
            } else {
                None
            },
        })
    }

    /// "the peel of 4 carrots".
    fn part_of<'m>(
        &'m self,
        scale: Scale<'m>,
        draft: &Draft,
        own: &'m Material,
        part: &str,
    ) -> (&'m Material, Portion) {
        let words = draft.thing.words.as_str();
        let bought = self.bought(words, &own.id);
        let named = self.named(words, part);
        let material = named
            .as_ref()
            .and_then(|t| self.catalogue.get(&t.may_be[0]))
            .or_else(|| bought.and_then(|b| self.catalogue.get(&b.material)))
            .unwrap_or(own);
        let row = bought.filter(|b| b.material == material.id);
        if let Some(portion) = row.and_then(|b| scale.refuse(material, b, draft.amount, draft.unit))
        {
            return (material, portion);
        }
        let weighed = matches!(draft.unit, Some(Unit::Mass(_) | Unit::Volume { .. }));
        if weighed {
            let words = format!("{words} {part}");
            return (
                material,
                scale.portion(material, &words, draft.amount, draft.unit),
            );
        }
        let Some(named) = named else {
            // "crusts from a loaf": not the loaf, and how much of it is not known.
            return (
                material,
                scale.portion(material, &format!("{words} {part}"), None, None),
            );
        };
        (
            material,
            scale.portion(material, &named.words, draft.amount, draft.unit),
        )
    }

    fn said<'m>(
        &'m self,
        scale: Scale<'m>,
        draft: &Draft,
        own: &'m Material,
    ) -> (&'m Material, Portion) {
        let words = draft.thing.words.as_str();
        let half = draft.amount.is_some_and(|a| a.fraction) && draft.unit.is_none();
        let bought = if draft.cooked || draft.whole || half {
            self.bought(words, &own.id)
        } else {
            None
        };
        let own = match bought {
            Some(row) if !draft.cooked => self.uneaten(words, row, own),
            _ => own,
        };
        if let Some(bought) = bought {
            if draft.cooked {
                let scraps = self.catalogue.get(&bought.material).unwrap_or(own);
                if let Some(portion) = scale.refuse(scraps, bought, draft.amount, draft.unit) {
                    return (scraps, portion);
                }
            } else if let (Some(amount), None, true) = (draft.amount, draft.unit, draft.whole)
                && let Some(portion) = scale.whole(own, bought, amount)
            {
                return (own, portion);
            }
        }
        let mut portion = scale.portion(own, words, draft.amount, draft.unit);
        let head = matches!(draft.unit, None | Some(Unit::Count("head")));
        if let (Some(amount), true, true) = (draft.amount, head, portion.by_handful) {
            // No weight of one in the measures, but the food table has one as bought.
            if let Some(whole) = self
                .bought(words, &own.id)
                .and_then(|row| scale.whole(own, row, amount))
            {
                portion = whole;
            }
        }
        if draft.thing.words == super::SCRAPS_WORDS && !draft.vessel {
            portion.assumed = Some("kitchen scraps, as nothing was named".into());
        }
        if draft.copied {
            portion.assumed = Some("as many as of the thing before".into());
        }
        (own, portion)
    }
}
