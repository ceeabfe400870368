//! Second mentions: what is said again, mixed with, taken out of, or cut from a thing before.

use super::Said;
use super::assemble::{Assembler, Draft};
use super::lexicon;
use super::number::Amount;
use super::segment::{Break, Thing, What, thing};
use super::unit::Unit;
use crate::{Catalogue, Verdict};

impl Draft {
    /// The amount in its own unit, if one was said.
    pub(super) fn spoken(&self) -> Option<Said> {
        if self.amount.is_none() && self.unit.is_none() {
            return None;
        }
        let (by, unit) = self.unit.map_or((1.0, "each"), Unit::name);
        let count = by * self.amount.map_or(1.0, |a| a.mid);
        Some(Said { count, unit })
    }
}

impl Draft {
    /// "tea, 3 bags" are tea bags, not bags of tea leaves.
    pub(super) fn bagged(&mut self, catalogue: &Catalogue) {
        let bag = self.unit.is_some_and(|u| u.name().1 == "bag");
        if bag
            && self.thing.words == "tea"
            && let Some(bags) = thing(catalogue, "tea bag")
        {
            (self.thing, self.unit) = (bags, None);
        }
    }
}

/// Dung and the same with what the animals lay on.
const BEDDED: &[(&str, &str)] = &[
    ("manure-rabbit", "bedding-rabbit"),
    ("manure-chicken-fresh", "manure-chicken-bedded"),
    ("manure-horse", "manure-horse-straw"),
];

/// Plants that clippings come from.
const CUT: &[&str] = &[
    "hedge", "lawn", "bush", "shrub", "ivy", "privet", "laurel", "conifer",
];

fn is_bedding(id: &str) -> bool {
    id.starts_with("straw-") || id.starts_with("hay-") || matches!(id, "wood-shavings" | "sawdust")
}

impl Assembler<'_> {
    /// "took it out": the thing before is shown as not read, so that it is not lost in silence.
    pub(super) fn withdraw(&mut self, from: usize, to: usize) {
        self.settle_pending();
        match self.sheet.drafts.pop() {
            Some(last) => {
                let ids = last.thing.may_be;
                self.sheet.unknown.push((last.from, to, ids));
                self.segment = self.segment.min(self.sheet.drafts.len());
                self.last_unknown = true;
            }
            None => self.unread(from, to),
        }
        self.forget();
    }

    /// "Pumpkins! 3 whole pumpkins": the first was a heading.
    pub(super) fn heading(&mut self, draft: &Draft) {
        let headed = self.line == self.sheet.drafts.len() && draft.amount.is_some();
        let same = self.sheet.drafts.last().is_some_and(|last| {
            last.amount.is_none() && last.unit.is_none() && last.thing.may_be == draft.thing.may_be
        });
        if headed && same {
            let head = self.sheet.drafts.pop();
            self.heard.extend(head.map(|d| (d.from, d.to)));
            self.segment = self.segment.min(self.sheet.drafts.len());
        }
    }

    /// The heel of a loaf is bread, one crust of it; the crusts off a loaf are some.
    pub(super) fn heels(&mut self, found: &Thing, to: usize) -> bool {
        let Some((part, at)) = self.part.clone() else {
            return false;
        };
        let bread = found.may_be.iter().all(|id| id.starts_with("bread-"));
        let said = self.pending.and_then(|p| p.amount);
        let unit = self.pending.and_then(|p| p.unit);
        let said = said.filter(|a| !a.article);
        if !bread || !matches!(part.as_str(), "heel" | "end") || unit.is_some() {
            return false;
        }
        let plural = self.tokens.get(at).is_some_and(|t| t.low() != t.norm());
        let one = Amount {
            article: true,
            ..Amount::exact(1.0)
        };
        let from = self.pending.map_or(at, |p| p.from.min(at));
        let amount = said.or((!plural).then_some(one));
        let draft = Draft {
            thing: Thing {
                may_be: found.may_be.clone(),
                words: "bread crust".into(),
            },
            amount,
            unit: None,
            of: false,
            from,
            to,
            part: None,
            cooked: false,
            whole: false,
            bare: amount.is_none(),
            linked: self.linked,
            vessel: false,
            copied: false,
            opens: None,
        };
        self.push(draft);
        self.forget();
        true
    }

    /// "the privet hedge. Four bags of clippings": more of what was named; "and the cobs too".
    pub(super) fn again(&mut self, found: &Thing, to: usize) -> bool {
        let word = found.words.as_str();
        if self.pending.is_none() && lexicon::PART.contains(&word) {
            let same = |d: &Draft| d.thing.may_be == found.may_be && d.amount.is_some();
            return self.sheet.drafts.iter().any(same);
        }
        let at = to.saturating_sub(word.split(' ').count());
        let (pending, Some(last)) = (self.pending, self.sheet.drafts.last_mut()) else {
            return false;
        };
        // "pot noodle leftovers" are the pot noodle.
        let rest = word.starts_with("leftover") || word == "dreg";
        if pending.is_none() && last.to == at && rest {
            last.to = to;
            return true;
        }
        let Some(pending) = pending else { return false };
        if !matches!(word, "clipping" | "trimming" | "cutting" | "pruning") || last.amount.is_some()
        {
            return false;
        }
        let words = last.thing.words.as_str();
        let cut = words.split(' ').any(|w| CUT.contains(&w));
        match thing(self.catalogue, &format!("{words} {word}")) {
            Some(better) if better.may_be.len() == 1 => last.thing = better,
            _ if cut => {}
            _ => return false,
        }
        last.to = to;
        last.amount = pending.amount.or(Some(Amount::exact(1.0)));
        (last.unit, last.bare) = (pending.unit, false);
        true
    }

    /// "crusts from the toast": where they came from is no item of its own. What must not go in stays
    /// one, so that its warning is seen.
    pub(super) fn origin(&mut self, found: &Thing, from: usize, to: usize) -> bool {
        let counted = self
            .pending
            .is_some_and(|p| p.unit.is_some() || p.amount.is_some_and(|a| !a.article));
        let kept = found.may_be.iter().all(|id| {
            let material = self.catalogue.get(id);
            material.is_some_and(|m| !matches!(m.verdict, Verdict::Never | Verdict::NotHere))
        });
        let Some(last) = self.sheet.drafts.last_mut() else {
            return false;
        };
        let mut at = from;
        while at > last.to
            && (matches!(
                self.tokens[at - 1].low(),
                "the" | "a" | "an" | "my" | "our" | "his" | "her" | "their" | "kids"
            ) || lexicon::ADJECTIVE.contains(&self.tokens[at - 1].low()))
        {
            at -= 1;
        }
        let before = |back: usize| at.checked_sub(back).map_or("", |b| self.tokens[b].low());
        let led = match before(1) {
            "from" | "off" => at == last.to + 1,
            "of" => before(2) == "out" && at == last.to + 2,
            _ => false,
        };
        if counted || !kept || !led || self.part.is_some() {
            return false;
        }
        last.to = to;
        true
    }

    /// "orange peel from 4 oranges": the peel of four, not peel and then four oranges.
    pub(super) fn of_so_many(&mut self, found: &Thing, to: usize) -> bool {
        let (Some(p), Some(last)) = (self.pending, self.sheet.drafts.last_mut()) else {
            return false;
        };
        let lead = p.from.checked_sub(1).map_or("", |b| self.tokens[b].low());
        let open = last.amount.is_none_or(|a| a.article) && last.unit.is_none();
        let same = last.thing.may_be == found.may_be
            || last.thing.words.split(' ').next() == found.words.split(' ').next_back();
        let says = p.amount.is_some_and(|a| !a.article);
        let from =
            matches!(lead, "from" | "off" | "of") && last.to < p.from && p.from <= last.to + 2;
        if !(from && open && same && says) {
            return false;
        }
        (last.amount, last.unit, last.to) = (p.amount, p.unit, to);
        last.bare = false;
        true
    }

    /// "a barrow of straw and rabbit droppings": one load of bedding, not a barrow and a handful.
    pub(super) fn beds(&mut self, found: &Thing, at: usize, to: usize) -> bool {
        let joined = self.parts[..at]
            .iter()
            .rev()
            .find(|p| !matches!(p.what, What::Filler | What::Own | What::Adjective));
        let how = joined.map(|p| &p.what);
        let with = how == Some(&What::Break(Break::With));
        let and = how == Some(&What::Break(Break::And)) && !self.own;
        let (Some(last), true) = (self.sheet.drafts.last_mut(), with || and) else {
            return false;
        };
        let (one, two) = (last.thing.may_be.as_slice(), found.may_be.as_slice());
        // Whose dung it is: one alone, or the one whose animal is named anywhere.
        let heard = |id: &str| {
            self.tokens
                .iter()
                .any(|t| super::narrow::clue(id, t.norm()))
        };
        let other = |dung: &[String], bed: &[String]| {
            if !bed.iter().all(|b| is_bedding(b)) {
                return Vec::new();
            }
            let rows: Vec<_> = BEDDED
                .iter()
                .filter(|(id, _)| dung.iter().any(|d| d == id))
                .collect();
            let named: Vec<_> = rows
                .iter()
                .filter(|(id, _)| rows.len() == 1 || heard(id))
                .collect();
            match named.as_slice() {
                [(_, mixed)] => vec![(*mixed).to_owned()],
                _ => rows.iter().map(|(_, mixed)| (*mixed).to_owned()).collect(),
            }
        };
        let mut mixed = other(one, two);
        if mixed.is_empty() {
            mixed = other(two, one);
        }
        let open = self
            .pending
            .is_none_or(|p| p.unit.is_none() && p.amount.is_none_or(|a| a.article));
        let sure = mixed.len() == 1 && last.amount.is_none();
        if mixed.is_empty() || !open || sure {
            return false;
        }
        last.thing.may_be = mixed;
        last.to = to;
        true
    }

    /// "old compost from 5 pots of dead petunias", "from 2 tomato pots": pots of the thing before.
    pub(super) fn potted(&mut self, amount: Amount, at: usize) -> bool {
        let from = self.parts[at].from;
        let lead = from.checked_sub(1).map_or("", |b| self.tokens[b].low());
        let Some(last) = self.sheet.drafts.last_mut() else {
            return false;
        };
        let open = last.amount.is_none() && last.unit.is_none() && self.pending.is_none();
        if lead != "from" || !open || last.to + 1 != from {
            return false;
        }
        let mut next = at + 1;
        while matches!(
            self.parts.get(next).map(|p| &p.what),
            Some(What::Thing(_) | What::Adjective)
        ) && next < at + 3
        {
            next += 1;
        }
        let Some(What::Unit(unit @ Unit::Count("pot"))) = self.parts.get(next).map(|p| &p.what)
        else {
            return false;
        };
        let of = self.parts.get(next + 1).is_some_and(|p| p.what == What::Of);
        if next == at + 1 && !of {
            return false;
        }
        let mut end = self.parts[next].to;
        if of {
            let rest = self.parts[next + 1..].iter();
            let content = rest.take_while(|p| {
                matches!(
                    p.what,
                    What::Of | What::Thing(_) | What::Adjective | What::Own
                )
            });
            end = content.last().map_or(end, |p| p.to);
        }
        (last.amount, last.unit, last.to) = (Some(amount), Some(*unit), end);
        last.bare = false;
        self.skip = end;
        self.forget();
        true
    }
}
