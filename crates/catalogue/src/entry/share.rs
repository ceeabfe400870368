//! One amount for several things: "2 each", "about a caddy full", "husks and cobs, 8 ears".

use super::assemble::{Assembler, Draft, Pending, SCRAPS};
use super::number::Amount;
use super::segment::{Break, Part, Thing, What, thing};
use super::tokens::Token;
use super::unit::{Unit, Vessel};

const ABOUT: &[&str] = &[
    "about",
    "roughly",
    "maybe",
    "nearly",
    "almost",
    "around",
    "approx",
    "approximately",
    "say",
    "probably",
    "perhaps",
    "total",
];
/// Words for what is cut off, after which two plants may share it: "ivy and laurel cuttings".
const CUT_OFF: &[&str] = &[
    "peel", "peeling", "skin", "top", "end", "stem", "stalk", "core", "leaf", "rind", "shell",
    "husk", "seed", "stone", "pod", "trimming", "root", "cutting", "clipping", "pruning", "scrap",
    "plant", "vine",
];

impl Draft {
    pub(super) fn open(&self) -> bool {
        self.unit.is_none() && self.amount.is_none_or(|a| a.article)
    }
}

impl Assembler<'_> {
    fn low_at(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", Token::low)
    }

    /// Whether the amount is said of each thing before: "one armful each", "2 of each".
    pub(super) fn is_each(&self, p: &Pending) -> bool {
        let at = p.to + usize::from(self.low_at(p.to) == "of");
        matches!(self.low_at(at), "each" | "apiece")
    }

    fn before(&self, p: &Pending) -> &str {
        p.from.checked_sub(1).map_or("", |b| self.low_at(b))
    }

    /// How many drafts at the end wait for an amount and belong together.
    fn waiting(&self) -> usize {
        let drafts = &self.sheet.drafts[self.line.min(self.sheet.drafts.len())..];
        let mut count = 0;
        for draft in drafts.iter().rev() {
            if !draft.open() || draft.vessel || draft.amount.is_some() {
                break;
            }
            count += 1;
            if !draft.linked {
                break;
            }
        }
        count
    }

    /// After the last draft has got its amount: the same for those that share it.
    pub(super) fn spread_to(&mut self, p: &Pending, each: bool) {
        let many = self.sheet.drafts.len();
        let Some(last) = self.sheet.drafts.last().cloned() else {
            return;
        };
        let first = |d: &Draft| d.thing.words.split(' ').next().unwrap_or("").to_owned();
        let plant = first(&last);
        let counted = matches!(
            p.unit,
            None | Some(Unit::Count("ear" | "head" | "plant" | "piece"))
        );
        for draft in self.sheet.drafts[..many - 1].iter_mut().rev() {
            let id = |d: &Draft| {
                d.thing
                    .may_be
                    .first()
                    .and_then(|i| i.split('-').next().map(str::to_owned))
            };
            let same = counted
                && draft.thing.may_be != last.thing.may_be
                && (first(draft) == plant || p.unit.is_some() && id(draft) == id(&last));
            if !draft.open() || draft.vessel || !(each || same) {
                break;
            }
            (draft.amount, draft.unit, draft.bare) = (last.amount, last.unit, false);
            if !draft.linked {
                break;
            }
        }
    }

    /// A caddy at the end of a list: how much the list is, or nobody can tell.
    pub(super) fn fills(&mut self, p: &Pending) -> bool {
        let waiting = self.waiting();
        if waiting == 0 || p.caddy || p.of {
            return false;
        }
        let full = matches!(self.low_at(p.to), "full" | "ful");
        let total = matches!(self.low_at(p.to), "altogether" | "total" | "worth")
            || matches!(
                (self.low_at(p.to), self.low_at(p.to + 1)),
                ("in", "all" | "total") | ("or", "so")
            );
        let about = ABOUT.contains(&self.before(p)) || p.amount.is_some_and(|a| a.fraction);
        // "coffee, full caddy": a caddy of its own.
        let own = matches!(
            self.before(p),
            "full" | "emptied" | "plus" | "also" | "another" | "the"
        ) || self.tokens[p.from..p.to].iter().any(|t| t.low() == "full");
        if own && !full && !total {
            return false;
        }
        if !(full || total || about) {
            let ids = thing(self.catalogue, SCRAPS).map_or(Vec::new(), |t| t.may_be);
            self.sheet.unknown.push((p.from, p.to, ids));
            return true;
        }
        let many = self.sheet.drafts.len();
        if waiting == 1 {
            if let Some(last) = self.sheet.drafts.last_mut() {
                last.amount = p.amount.or(Some(Amount::exact(1.0)));
                (last.unit, last.bare, last.to) = (p.unit, false, last.to.max(p.to));
            }
            return true;
        }
        for draft in &mut self.sheet.drafts[many - waiting..] {
            (draft.bare, draft.linked) = (true, true);
        }
        let Some(mut vessel) = self.sheet.drafts.last().cloned() else {
            return false;
        };
        vessel.thing = Thing {
            may_be: vec![SCRAPS.to_owned()],
            words: "caddy".into(),
        };
        vessel.amount = p.amount.or(Some(Amount::exact(1.0)));
        vessel.unit = p.unit.or(Some(Unit::Caddy(Vessel::Caddy)));
        (vessel.of, vessel.from, vessel.to) = (false, p.from, p.to);
        (vessel.part, vessel.vessel, vessel.opens) = (None, true, Some(Break::Colon));
        (vessel.bare, vessel.linked) = (false, false);
        self.sheet.drafts.insert(many - waiting, vessel);
        true
    }

    /// "Coffee filters with grounds, 4": four filters.
    pub(super) fn of_head(&mut self, p: &Pending) -> bool {
        let many = self.sheet.drafts.len();
        let Some(head) = self.with_head.filter(|h| h + 2 == many) else {
            return false;
        };
        let counts =
            p.amount.is_some_and(|a| !a.article) && matches!(p.unit, None | Some(Unit::Count(_)));
        let open = self
            .sheet
            .drafts
            .get(head)
            .is_some_and(|d| d.open() && d.amount.is_none());
        if !(counts && open) {
            return false;
        }
        if let Some(draft) = self.sheet.drafts.get_mut(head) {
            (draft.amount, draft.unit, draft.bare) = (p.amount, p.unit, false);
        }
        self.heard.push((p.from, p.to));
        true
    }

    /// "a kettleful of ash, roughly 1 bucket": the second amount says the first more exactly.
    pub(super) fn restates(&mut self, p: &Pending) -> bool {
        let about = ABOUT.contains(&self.before(p));
        let Some(last) = self.sheet.drafts.last_mut() else {
            return false;
        };
        let guessed = matches!(
            last.unit,
            Some(
                Unit::Volume {
                    guessed: Some(_),
                    ..
                } | Unit::Count(_)
            )
        );
        let better = matches!(p.unit, Some(Unit::Volume { .. } | Unit::Mass(_)));
        if !(about && guessed && better) {
            return false;
        }
        (last.amount, last.unit, last.to) = (
            p.amount.or(Some(Amount::exact(1.0))),
            p.unit,
            last.to.max(p.to),
        );
        true
    }

    /// "ivy and laurel cuttings": cuttings of both.
    pub(super) fn cut_of_both(&mut self, found: &Thing, from: usize) {
        let Some(part) = found
            .words
            .split(' ')
            .next_back()
            .filter(|w| CUT_OFF.contains(w))
        else {
            return;
        };
        let joined = from.checked_sub(1).map_or("", |b| self.low_at(b));
        let and = joined == "and" || from > 0 && self.tokens[from - 1].is_mark('&');
        let catalogue = self.catalogue;
        if let Some(last) = self.sheet.drafts.last_mut()
            && and
            && last.to + 1 == from
            && last.bare
            && !last.thing.words.contains(' ')
            && found.words.contains(' ')
            && let Some(better) = thing(catalogue, &format!("{} {part}", last.thing.words))
            && better.may_be.len() == 1
        {
            last.thing = better;
        }
    }

    /// Whether the amounts of this run stand behind their things: "apple cores 4 carrot tops 2".
    pub(super) fn amounts_behind(parts: &[Part], at: usize) -> bool {
        let rest = parts.get(at..).unwrap_or_default();
        let end = rest
            .iter()
            .position(|p| matches!(p.what, What::Break(_) | What::When(_) | What::Chamber(_)));
        let run = &rest[..end.unwrap_or(rest.len())];
        let things = run
            .iter()
            .filter(|p| matches!(p.what, What::Thing(_)))
            .count();
        let mut all = run
            .iter()
            .filter(|p| !matches!(p.what, What::Filler | What::Adjective | What::Own));
        let first = all.next().is_some_and(|p| matches!(p.what, What::Thing(_)));
        let last = run
            .iter()
            .rev()
            .find(|p| !matches!(p.what, What::Filler | What::Adjective | What::Own));
        let behind = last.is_some_and(|p| match p.what {
            What::Num(amount) => !amount.article,
            What::Unit(_) => true,
            _ => false,
        });
        let of = run.iter().any(|p| p.what == What::Of);
        first && behind && things >= 2 && !of
    }
}
