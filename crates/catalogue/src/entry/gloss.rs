//! What only says more of the thing before: "privet mostly", "(privet and hawthorn)", "scraps like
//! carrot tops", "juice pulp, celery and apple".

use super::assemble::{Assembler, Draft};
use super::lexicon;
use super::segment::{Break, Thing, What, thing};

const MOSTLY: &[&str] = &["mostly", "mainly", "largely", "chiefly"];
/// Made of what is named behind them.
const MIXTURE: &[&str] = &[
    "pulp", "smoothie", "soup", "juice", "slop", "stew", "coleslaw", "slaw",
];

impl Assembler<'_> {
    /// Starts and ends what says more of the draft before, by a small word or a bracket at `at`.
    pub(super) fn gloss_at(&mut self, at: usize) {
        let from = self.parts[at].from;
        let token = &self.tokens[from];
        let many = self.sheet.drafts.len();
        if token.is_mark(')') {
            self.gloss = None;
        } else if token.is_mark('(') && many > 0 {
            let vessel = self.sheet.drafts.last().is_some_and(|d| d.vessel);
            if self.pending.is_some() {
                self.settle_pending();
            }
            if vessel {
                return self.close(Some(Break::Colon));
            }
            let inside = self.parts[at + 1..]
                .iter()
                .take_while(|p| !self.tokens[p.from].is_mark(')'));
            let bare = !inside.clone().any(|p| {
                matches!(p.what, What::Num(a) if !a.article) || matches!(p.what, What::Unit(_))
            });
            self.gloss = bare.then_some(self.sheet.drafts.len() - 1);
        } else if MOSTLY.contains(&token.low()) || self.like(from) {
            self.settle_pending();
            let many = self.sheet.drafts.len();
            let same_line = many > self.line;
            let next = self
                .parts
                .get(at + 1)
                .is_some_and(|p| matches!(p.what, What::Thing(_) | What::Adjective));
            if same_line && next {
                self.gloss = Some(many - 1);
            }
        }
    }

    /// "Emptied the caddy. Carrot tops, …": what follows was in it.
    pub(super) fn emptied(&mut self) -> bool {
        self.settle_pending();
        let low = |at: Option<usize>| at.and_then(|a| self.tokens.get(a)).map_or("", |t| t.low());
        let things = self.parts[self.at..]
            .iter()
            .filter(|p| matches!(p.what, What::Thing(_)));
        let [only] = self.sheet.drafts.as_slice() else {
            return false;
        };
        let the = only.from.checked_sub(1);
        only.vessel
            && matches!(low(the), "the" | "my" | "our")
            && matches!(
                low(the.and_then(|a| a.checked_sub(1))),
                "emptied" | "empty" | "tipped"
            )
            && things.count() > 0
    }

    fn like(&self, from: usize) -> bool {
        let low = |at: usize| self.tokens.get(at).map_or("", |t| t.low());
        matches!(low(from), "like" | "including" | "eg" | "ie")
            || low(from) == "as" && from > 0 && low(from - 1) == "such"
    }

    /// Whether this bare thing says more of a draft before; if so it is taken into it, or shown.
    pub(super) fn glosses(&mut self, found: &Thing, from: usize, to: usize, at: usize) -> bool {
        let trailing = self
            .parts
            .get(at + 1)
            .is_some_and(|p| MOSTLY.contains(&self.tokens[p.from].low()));
        let many = self.sheet.drafts.len();
        let head = match self.gloss {
            Some(head) => head,
            None if trailing && many > self.line => many - 1,
            None => return false,
        };
        if self
            .pending
            .is_some_and(|p| p.unit.is_some() || p.amount.is_some_and(|a| !a.article))
        {
            self.gloss = None;
            return false;
        }
        let catalogue = self.catalogue;
        let kind = |ids: &[String]| {
            ids.first()
                .and_then(|id| catalogue.get(id))
                .map(|m| (m.role, m.verdict))
        };
        let Some(draft) = self.sheet.drafts.get_mut(head) else {
            return false;
        };
        let words = format!("{} {}", found.words, draft.thing.words);
        if let Some(better) = thing(catalogue, &words).filter(|b| b.may_be.len() == 1) {
            draft.thing = better;
        } else if kind(&draft.thing.may_be) != kind(&found.may_be) {
            // Another sort of thing altogether: asked about.
            self.sheet.unknown.push((from, to, found.may_be.clone()));
        }
        self.heard.push((from, to));
        self.forget();
        true
    }

    /// Whether the list behind a mixture says what is in it: single foods, no amounts, to the line's end.
    pub(super) fn mixture(&mut self, at: usize) {
        let many = self.sheet.drafts.len();
        let Some(last) = self.sheet.drafts.last() else {
            return;
        };
        let apart = self.parts[..at].iter().any(|p| {
            p.from >= last.to && matches!(p.what, What::Break(_) | What::Thing(_) | What::Unknown)
        });
        if apart {
            return;
        }
        let mixed = last
            .thing
            .words
            .split(' ')
            .next_back()
            .is_some_and(|w| MIXTURE.contains(&w));
        if !mixed {
            return;
        }
        let rest = self.parts.get(at + 1..).unwrap_or_default();
        let end = rest
            .iter()
            .position(|p| matches!(p.what, What::Break(Break::Line) | What::Put));
        let rest = &rest[..end.unwrap_or(rest.len())];
        let mut things = 0;
        for part in rest {
            match &part.what {
                What::Thing(t)
                    if !t.words.contains(' ') && !lexicon::PART.contains(&t.words.as_str()) =>
                {
                    things += 1
                }
                What::Break(_)
                | What::Filler
                | What::Adjective
                | What::When(_)
                | What::Chamber(_) => {}
                What::Doubt(ids) if ids.len() > 1 => things += 2,
                What::Num(_) | What::Unit(_) if things > 0 => {}
                _ => return,
            }
        }
        if things > 1 {
            self.gloss = Some(many - 1);
        }
    }

    /// "glass jar of pickles, just the pickles went in", "tea towel, old cotton one": said again.
    pub(super) fn same_again(&mut self, found: &Thing, from: usize, to: usize) -> bool {
        let amount = self
            .pending
            .is_some_and(|p| p.unit.is_some() || p.amount.is_some_and(|a| !a.article));
        let before = from.checked_sub(1).map_or("", |b| self.tokens[b].low());
        let only = self.own && before == "the" || matches!(before, "just" | "only");
        let one = self
            .tokens
            .get(to)
            .is_some_and(|t| matches!(t.low(), "one" | "ones"));
        let head = |w: &str| w.rsplit(' ').next().unwrap_or("").to_owned();
        let line = self.line;
        let same = |(at, d): (usize, &Draft)| {
            let last = at + 1 == self.sheet.drafts.len();
            d.thing.may_be == found.may_be
                && (only && head(&d.thing.words) == head(&found.words) || one && last && at >= line)
        };
        if amount || !(only || one) || !self.sheet.drafts.iter().enumerate().any(same) {
            return false;
        }
        self.heard.push((from, to));
        self.forget();
        true
    }
}
