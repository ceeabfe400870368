//! Parts to drafts of items: which amount belongs to which thing.

use super::number::Amount;
use super::segment::{Break, Part, Thing, What, thing};
use super::tokens::Token;
use super::unit::Unit;
use super::{When, lexicon};
use crate::Catalogue;

/// An item before its amount is worked out.
#[derive(Debug, Clone)]
pub(super) struct Draft {
    pub(super) thing: Thing,
    pub(super) amount: Option<Amount>,
    pub(super) unit: Option<Unit>,
    /// "of" stood between amount and thing.
    pub(super) of: bool,
    /// First token, and the one after the last.
    pub(super) from: usize,
    pub(super) to: usize,
    /// "peel of …".
    pub(super) part: Option<String>,
    /// Cooked or peeled: only the scraps go in.
    pub(super) cooked: bool,
    /// An adjective says the whole of it goes in.
    pub(super) whole: bool,
    /// No amount and no "the", "some".
    pub(super) bare: bool,
    /// Joined to the draft before by a comma or "and" alone.
    pub(super) linked: bool,
    /// A vessel without contents said.
    pub(super) vessel: bool,
    /// The amount is that of the thing before: "and their stones".
    pub(super) copied: bool,
    /// ":" or "with" stands behind it.
    pub(super) opens: Option<Break>,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Pending {
    pub(super) amount: Option<Amount>,
    pub(super) unit: Option<Unit>,
    pub(super) of: bool,
    pub(super) from: usize,
    pub(super) to: usize,
    /// A bare caddy whose volume follows.
    pub(super) caddy: bool,
}

/// Everything read, amounts not yet worked out.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    pub(super) drafts: Vec<Draft>,
    /// Token ranges that were not understood, and ids to offer.
    pub(super) unknown: Vec<(usize, usize, Vec<String>)>,
    pub(super) when: Option<When>,
    pub(super) chamber: Option<String>,
}

pub(super) struct Assembler<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token],
    pub(super) parts: &'a [Part],
    pub(super) sheet: Sheet,
    pub(super) pending: Option<Pending>,
    pub(super) part: Option<(String, usize)>,
    pub(super) lead: Option<usize>,
    pub(super) adjectives: Vec<usize>,
    pub(super) own: bool,
    pub(super) cook: bool,
    pub(super) linked: bool,
    /// First draft of this segment.
    pub(super) segment: usize,
    pub(super) denied: Option<usize>,
    pub(super) instead: bool,
    /// "with" stands behind so many drafts.
    pub(super) after_with: Option<usize>,
    /// The last thing said was not understood: a bare amount belongs to it.
    pub(super) last_unknown: bool,
    /// Tokens before this one are part of what was read.
    pub(super) skip: usize,
    /// Drafts there were at the last line break or colon.
    pub(super) line: usize,
    /// Tokens that say again what was said, or only where it came from.
    pub(super) heard: Vec<(usize, usize)>,
    /// The draft that bare things now say more of.
    pub(super) gloss: Option<usize>,
    /// The draft in front of "with".
    pub(super) with_head: Option<usize>,
    /// Amounts of this run stand behind their things.
    behind: bool,
    /// An amount for each thing of the list that follows.
    each: Option<Pending>,
    /// The part being read.
    pub(super) at: usize,
}

pub(super) const SCRAPS: &str = "mixed-kitchen-scraps";

impl<'a> Assembler<'a> {
    pub(super) fn new(
        catalogue: &'a Catalogue,
        text: &'a str,
        tokens: &'a [Token],
        parts: &'a [Part],
    ) -> Self {
        Self {
            catalogue,
            text,
            tokens,
            parts,
            sheet: Sheet::default(),
            pending: None,
            part: None,
            lead: None,
            adjectives: Vec::new(),
            own: false,
            cook: false,
            linked: false,
            segment: 0,
            denied: None,
            instead: false,
            after_with: None,
            last_unknown: false,
            skip: 0,
            line: 0,
            heard: Vec::new(),
            gloss: None,
            with_head: None,
            behind: false,
            each: None,
            at: 0,
        }
    }

    pub(super) fn run(mut self) -> Sheet {
        self.behind = Self::amounts_behind(self.parts, 0);
        for at in 0..self.parts.len() {
            self.at = at;
            self.take(at);
            if matches!(
                self.parts[at].what,
                What::Break(_) | What::When(_) | What::Chamber(_)
            ) {
                self.behind = Self::amounts_behind(self.parts, at + 1);
            }
        }
        self.close(None);
        self.left();
        self.sheet
    }

    fn take(&mut self, at: usize) {
        let parts = self.parts;
        let Part { what, from, to } = &parts[at];
        let (from, to) = (*from, *to);
        if from < self.skip {
            return;
        }
        match what {
            What::Num(amount) => {
                if !self.potted(*amount, at) {
                    self.num(*amount, from, to);
                }
            }
            What::Unit(unit) => self.unit(*unit, from, to, at),
            What::Of => {
                if let Some(p) = &mut self.pending {
                    p.of = true;
                }
            }
            What::Thing(found) => self.thing(found.clone(), from, to, at),
            What::PartOf(part) => self.part = Some((part.clone(), from)),
            What::Part(part) => self.lone_part(part, from, to),
            What::When(time) => {
                self.close(None);
                self.time(*time, from, to);
            }
            What::Chamber(name) => {
                self.close(None);
                match &self.sheet.chamber {
                    Some(other) if other != name => self.sheet.unknown.push((from, to, Vec::new())),
                    _ => self.sheet.chamber = Some(name.clone()),
                }
            }
            What::Break(kind) => {
                let kind = if *kind == Break::Line && self.emptied() {
                    &Break::Colon
                } else {
                    kind
                };
                self.close(Some(*kind));
                self.with_head = match kind {
                    Break::With => self.sheet.drafts.len().checked_sub(1),
                    Break::Comma => self.with_head,
                    _ => None,
                };
                if matches!(kind, Break::Line) {
                    (self.gloss, self.each) = (None, None);
                }
                if matches!(kind, Break::Comma | Break::Colon) && self.gloss.is_none() {
                    self.mixture(at);
                }
            }
            What::Not => {
                if !self.qualifies(at) {
                    self.close(Some(Break::Comma));
                    self.denied = Some(from);
                }
            }
            What::Instead => {
                self.close(Some(Break::Comma));
                self.instead = !self.sheet.drafts.is_empty();
            }
            What::Withdrawn => self.withdraw(from, to),
            What::Adjective => {
                self.adjectives.push(from);
                self.lead.get_or_insert(from);
            }
            What::Own => self.own = true,
            What::Cook => self.verb(at),
            What::Put => {
                self.close(Some(Break::And));
                self.cook = false;
            }
            What::Filler => self.gloss_at(at),
            What::Unknown => self.unread(from, to),
            What::Doubt(ids) => self.doubted(from, to, ids),
        }
    }

    fn num(&mut self, amount: Amount, from: usize, to: usize) {
        // "apple cores x4 carrot tops": four cores.
        if self.tokens[from].low() == "x"
            && self.pending.is_none()
            && let Some(last) = self
                .sheet
                .drafts
                .last_mut()
                .filter(|d| d.to == from && d.open())
        {
            (last.amount, last.to, last.bare) = (Some(amount), to, false);
            return;
        }
        match &mut self.pending {
            Some(p) if p.amount.is_none() && p.unit.is_some() && !p.of => {
                (p.amount, p.to) = (Some(amount), to);
            }
            Some(p) if p.unit.is_none() && p.amount.is_some_and(|a| a.article) => {
                (p.amount, p.to) = (Some(amount), to);
            }
            _ => {
                self.settle_pending();
                self.pending = Some(Pending {
                    amount: Some(amount),
                    unit: None,
                    of: false,
                    from,
                    to,
                    caddy: false,
                });
            }
        }
    }

    fn unit(&mut self, unit: Unit, from: usize, to: usize, at: usize) {
        match &mut self.pending {
            Some(p) if p.unit.is_none() => (p.unit, p.to) = (Some(unit), to),
            // "caddy 8 litres": the volume of what is in the caddy.
            Some(p) if matches!(p.unit, Some(Unit::Caddy(_))) && p.amount.is_some() && !p.of => {
                (p.unit, p.to, p.caddy) = (Some(unit), to, true);
            }
            _ => {
                let thing_before = at > 0 && matches!(self.parts[at - 1].what, What::Thing(_));
                if let (true, false, Some(last)) = (
                    thing_before,
                    matches!(unit, Unit::Caddy(_)),
                    self.sheet.drafts.last_mut(),
                ) && self.pending.is_none()
                    && last.unit.is_none()
                    && last.to == from
                {
                    (last.unit, last.to) = (Some(unit), to);
                    return;
                }
                self.settle_pending();
                self.pending = Some(Pending {
                    amount: None,
                    unit: Some(unit),
                    of: false,
                    from,
                    to,
                    caddy: false,
                });
            }
        }
    }

    fn thing(&mut self, found: Thing, from: usize, to: usize, at: usize) {
        let start = [
            self.pending.map(|p| p.from),
            self.part.as_ref().map(|p| p.1),
            self.lead,
            Some(from),
        ]
        .into_iter()
        .flatten()
        .min()
        .unwrap_or(from);
        if self.behind && self.pending.is_some() && self.sheet.drafts.len() > self.segment {
            self.settle_pending();
        }
        if self.denied.is_none()
            && (self.glosses(&found, from, to, at) || self.same_again(&found, from, to))
        {
            return;
        }
        if let Some(not) = self.denied.take() {
            self.sheet.unknown.push((not, to, found.may_be));
            self.forget();
            return;
        }
        // "the peelings all went in" after what was peeled.
        let generic = matches!(found.words.as_str(), "peeling" | "peel" | "veg peeling");
        if generic && self.pending.is_none() && self.sheet.drafts.iter().any(|d| d.cooked) {
            self.heard.push((from, to));
            self.forget();
            return;
        }
        if self.sheet.drafts.last().is_some_and(|d| d.to > from) {
            return;
        }
        // "charcoal briquette ash": the second word says no more than the first.
        let touches =
            at > 0 && matches!(self.parts[at - 1].what, What::Thing(_)) && self.pending.is_none();
        if let (true, Some(last)) = (touches, self.sheet.drafts.last_mut())
            && last.to == from
            && last.thing.may_be.iter().all(|id| found.may_be.contains(id))
        {
            last.to = to;
            return self.forget();
        }
        // "three outer leaves" are of the lettuce before, not off a tree.
        let outer = self
            .adjectives
            .iter()
            .any(|&a| self.tokens[a].low() == "outer");
        if outer && found.words == "leaf" && self.part.is_none() {
            return self.lone_part("leaf", from, to);
        }
        if self.heels(&found, to) {
            return;
        }
        if self.origin(&found, from, to)
            || self.of_so_many(&found, to)
            || self.again(&found, to)
            || self.beds(&found, at, to)
            || self.mixes(&found, to)
        {
            self.heard.push((from, to));
            return self.forget();
        }
        let single = |words: &str| !words.contains(' ');
        let touching =
            at > 0 && matches!(self.parts[at - 1].what, What::Thing(_)) && self.pending.is_none();
        if let (true, Some(last)) = (touching, self.sheet.drafts.last()) {
            let plural = self
                .tokens
                .get(last.to - 1)
                .is_some_and(|t| t.low() != t.norm());
            let dish = lexicon::DISH.contains(&found.words.as_str());
            let said = last.amount.is_some() || dish;
            if said && single(&last.thing.words) && single(&found.words) && !plural {
                // "2 slices of banana bread" is neither bananas nor plain bread.
                let ids = last
                    .thing
                    .may_be
                    .iter()
                    .chain(&found.may_be)
                    .cloned()
                    .collect();
                self.sheet.unknown.push((last.from, to, ids));
                self.sheet.drafts.pop();
                self.last_unknown = true;
                self.forget();
                return;
            }
        }
        self.cut_of_both(&found, from);
        self.add_from(found, start, to);
    }

    /// An item of this thing with the amount that waits for one.
    pub(super) fn add(&mut self, found: Thing, from: usize, to: usize) {
        let start = self.pending.map_or(from, |p| p.from.min(from));
        self.add_from(found, start, to);
    }

    fn add_from(&mut self, found: Thing, start: usize, to: usize) {
        let pending = self.pending.take();
        // "2 each of kale stalks and broccoli stalks".
        if let Some(p) = pending.filter(|p| p.of || self.is_each(p)) {
            self.each = self.is_each(&p).then_some(p);
        } else if pending.is_some() {
            self.each = None;
        }
        let pending = pending.or(self.each.filter(|_| self.linked && !self.own));
        // "two tubes from kitchen roll" are kitchen roll tubes.
        let tube = pending.is_some_and(|p| p.unit == Some(Unit::Count("tube")));
        let found = match thing(self.catalogue, &format!("{} tube", found.words)) {
            Some(better) if tube && better.may_be.len() == 1 => better,
            _ => found,
        };
        let whole = self.adjectives.iter().any(|&a| {
            lexicon::WHOLE.contains(&self.tokens[a].low())
                || lexicon::WHOLE.contains(&self.tokens[a].norm())
        });
        let mut draft = Draft {
            thing: found,
            amount: pending
                .and_then(|p| p.amount)
                .or(pending.map(|_| Amount::exact(1.0))),
            unit: pending.and_then(|p| p.unit),
            of: pending.is_some_and(|p| p.of),
            from: start,
            to,
            part: self.part.take().map(|p| p.0),
            cooked: self.cook,
            whole,
            bare: pending.is_none() && !self.own,
            linked: self.linked,
            vessel: false,
            copied: false,
            opens: None,
        };
        draft.bagged(self.catalogue);
        self.push(draft);
        self.forget();
    }

    pub(super) fn push(&mut self, draft: Draft) {
        if self.instead {
            self.instead = false;
            if let Some(last) = self.sheet.drafts.last_mut() {
                if last.thing.may_be == draft.thing.may_be && draft.amount.is_some() {
                    *last = Draft {
                        from: last.from,
                        ..draft
                    };
                    return;
                }
                let (from, ids) = (last.from, last.thing.may_be.clone());
                self.sheet.unknown.push((from, draft.to, ids));
                self.sheet.drafts.pop();
                return;
            }
        }
        self.heading(&draft);
        self.sheet.drafts.push(draft);
        self.last_unknown = false;
        self.linked = false;
    }

    pub(super) fn forget(&mut self) {
        self.pending = None;
        self.part = None;
        self.lead = None;
        self.adjectives.clear();
        self.own = false;
    }

    /// A known thing inside a group that is not known: asked about, not taken.
    fn doubted(&mut self, from: usize, to: usize, ids: &[String]) {
        if self.gloss.is_some() && self.pending.is_none() {
            self.heard.push((from, to));
            return;
        }
        self.unread(from, to);
        if let Some(last) = self.sheet.unknown.last_mut().filter(|u| u.1 == to) {
            last.2.extend(ids.iter().cloned());
        }
    }

    pub(super) fn unread(&mut self, from: usize, to: usize) {
        let tagged = self.sheet.drafts.last().is_some_and(|d| d.to > from);
        if tagged {
            return;
        }
        if self
            .pending
            .is_some_and(|p| matches!(p.unit, Some(Unit::Caddy(_))) && !p.of)
        {
            self.settle_pending();
        }
        let start = self
            .denied
            .take()
            .or(self.part.take().map(|p| p.1))
            .or(self.lead)
            .unwrap_or(from);
        self.forget();
        let joined = self.sheet.unknown.last_mut().filter(|u| {
            let between = self.parts.iter().filter(|p| p.from >= u.1 && p.to <= start);
            u.1 <= start
                && between.clone().all(|p| {
                    matches!(
                        p.what,
                        What::Filler | What::Adjective | What::Own | What::Of
                    )
                })
                && between.map(|p| p.to - p.from).sum::<usize>() == start - u.1
        });
        match joined {
            Some(last) => last.1 = to,
            None => self.sheet.unknown.push((start, to, Vec::new())),
        }
        self.last_unknown = true;
    }
}
