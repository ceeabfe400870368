//! Parts of things: peels, crusts, stones, and what is said of a thing behind its name.

use super::assemble::{Assembler, Draft};
use super::lexicon;
use super::number::Amount;
use super::segment::{Thing, thing};
use super::tokens::Token;
use super::unit::Unit;

impl Assembler<'_> {
    /// "horse muck with straw" is horse manure with straw, which has a name of its own.
    pub(super) fn mixes(&mut self, found: &Thing, to: usize) -> bool {
        let catalogue = self.catalogue;
        // A card with foil on it is no card.
        const PAPER: &[&str] = &[
            "greeting-cards",
            "wrapping-tissue",
            "mixed-paper",
            "paperboard",
            "office-paper",
            "kraft-paper-bag",
            "plastic-lined-paper",
        ];
        let lined = found.may_be == ["plastic-glass-metal"]
            && self.after_with == Some(self.sheet.drafts.len());
        if lined
            && let Some(last) = self.sheet.drafts.last_mut()
            && last
                .thing
                .may_be
                .iter()
                .all(|id| PAPER.contains(&id.as_str()))
        {
            last.thing.may_be = vec!["plastic-lined-paper".to_owned()];
            last.to = to;
            return true;
        }
        let Some(last) = self.sheet.drafts.last() else {
            return false;
        };
        let [id] = last.thing.may_be.as_slice() else {
            return false;
        };
        if self.after_with != Some(self.sheet.drafts.len()) || self.pending.is_some() {
            return false;
        }
        let Some(sheet_at) = catalogue.by_id.get(id) else {
            return false;
        };
        let groups = catalogue.words.iter().filter(|(_, to)| *to == [*sheet_at]);
        let mut mixed: Vec<Thing> = groups
            .filter_map(|(group, _)| thing(catalogue, &format!("{group} with {}", found.words)))
            .filter(|t| t.may_be.len() == 1)
            .collect();
        mixed.sort_by(|a, b| a.words.cmp(&b.words));
        let Some(better) = mixed.into_iter().next() else {
            return false;
        };
        if let Some(last) = self.sheet.drafts.last_mut() {
            (last.thing, last.to) = (better, to);
        }
        true
    }

    /// "avocado skins and their stones", "apple cores and peels".
    pub(super) fn lone_part(&mut self, part: &str, from: usize, to: usize) {
        if self.sheet.drafts.last().is_some_and(|d| d.to > from) {
            return;
        }
        let theirs = from > 0 && matches!(self.tokens[from - 1].low(), "their" | "its");
        let pending = self.pending;
        if matches!(part, "crust" | "heel") && self.denied.is_none() {
            return self.crust(part, from, to);
        }
        let touches = self.sheet.drafts.last().is_some_and(|d| d.to == from);
        let grounds = self.tokens.get(from).is_some_and(|t| t.low() == "grounds");
        if grounds
            && !(touches && pending.is_none())
            && let Some(coffee) = thing(self.catalogue, "coffee ground")
        {
            return self.add(coffee, from, to);
        }
        let Some(last) = self.sheet.drafts.last() else {
            return self.unread(from, to);
        };
        let words: Vec<&str> = last.thing.words.split(' ').collect();
        let base: Vec<&str> = words
            .iter()
            .copied()
            .take_while(|w| !lexicon::PART.contains(w))
            .collect();
        let touching = last.to == from && pending.is_none();
        let found = [base.join(" "), words[0].to_owned()]
            .iter()
            .find_map(|base| thing(self.catalogue, &format!("{base} {part}")));
        let Some(found) = found.filter(|_| !base.is_empty() && self.denied.is_none()) else {
            if touching && self.ends_in(&last.thing.may_be, part) {
                if let Some(last) = self.sheet.drafts.last_mut() {
                    last.to = to;
                }
                return self.forget();
            }
            if touching && self.denied.is_none() {
                // "pizza crusts" are no pizza: the whole group is not known.
                let (start, ids) = (last.from, last.thing.may_be.clone());
                self.sheet.drafts.pop();
                self.sheet.unknown.push((start, to, ids));
                self.last_unknown = true;
                return self.forget();
            }
            return self.unread(from, to);
        };
        if found.may_be == last.thing.may_be && pending.is_none() {
            if let Some(last) = self.sheet.drafts.last_mut() {
                last.to = to;
            }
            return self.forget();
        }
        // "corn on the cob x4, husks and cobs too".
        let same = |d: &Draft| d.thing.may_be == found.may_be && d.amount.is_some();
        if pending.is_none() && self.sheet.drafts.iter().any(same) {
            self.heard.push((from, to));
            return self.forget();
        }
        let ones = matches!(
            last.unit,
            None | Some(Unit::Count("ear" | "head" | "plant"))
        );
        let theirs = theirs || pending.is_none() && ones && last.amount.is_some();
        let copied = if theirs {
            (last.amount, last.unit)
        } else {
            (None, None)
        };
        let own = self.own;
        let draft = Draft {
            thing: found,
            amount: pending.map_or(copied.0, |p| p.amount.or(Some(Amount::exact(1.0)))),
            unit: pending.map_or(copied.1, |p| p.unit),
            of: false,
            from: pending.map_or(from, |p| p.from),
            to,
            part: None,
            cooked: false,
            whole: false,
            bare: pending.is_none() && !own,
            linked: self.linked,
            vessel: false,
            copied: theirs && pending.is_none(),
            opens: None,
        };
        self.pending = None;
        self.push(draft);
        self.forget();
    }

    /// Crusts are bread, whatever lay on it: "4 crusts", "pizza crusts", "sandwich crusts".
    fn crust(&mut self, part: &str, from: usize, to: usize) {
        let Some(found) = thing(self.catalogue, &format!("bread {part}")) else {
            return self.unread(from, to);
        };
        let touching = self
            .sheet
            .drafts
            .last()
            .filter(|d| d.to == from && self.pending.is_none());
        if let Some(mut draft) = touching.cloned() {
            self.sheet.drafts.pop();
            (draft.thing, draft.to) = (found, to);
            return self.push(draft);
        }
        let pending = self.pending.take();
        self.push(Draft {
            thing: found,
            amount: pending.map(|p| p.amount.unwrap_or(Amount::exact(1.0))),
            unit: pending.and_then(|p| p.unit),
            of: false,
            from: pending.map_or(from, |p| p.from),
            to,
            part: None,
            cooked: false,
            whole: false,
            bare: pending.is_none() && !self.own,
            linked: self.linked,
            vessel: false,
            copied: false,
            opens: None,
        });
        self.forget();
    }

    /// Whether some name of this material ends in the part: "coffee ground" for "cofee grounds".
    fn ends_in(&self, ids: &[String], part: &str) -> bool {
        let [id] = ids else { return false };
        let Some(&at) = self.catalogue.by_id.get(id) else {
            return false;
        };
        self.catalogue.words.iter().any(|(group, to)| {
            to.contains(&at)
                && group
                    .strip_suffix(part)
                    .is_some_and(|rest| rest.ends_with(' '))
        })
    }

    /// "weeds (no seeds)", "tops, no blight": said of the thing before.
    pub(super) fn qualifies(&mut self, at: usize) -> bool {
        let to = self.parts[at].to;
        let word = self.tokens.get(to).map_or("", Token::norm);
        let end = self.sheet.drafts.last().map_or(0, |d| d.to);
        let touching = end > 0 && end + 1 >= self.parts[at].from;
        let yes = touching && lexicon::WITHOUT.contains(&word);
        if yes {
            self.denied = None;
            if let Some(last) = self.sheet.drafts.last_mut() {
                last.to = to + 1;
                // "weeds (no seeds)" are one kind of weeds.
                let words = format!("{} without {word}", last.thing.words);
                if let Some(better) = thing(self.catalogue, &words) {
                    last.thing = better;
                }
            }
        }
        yes
    }
}
