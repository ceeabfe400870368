//! The end of a segment, and what is said of it as a whole: verbs, times.

use super::assemble::Assembler;
use super::segment::{Break, What, thing};
use super::tokens::Token;
use super::{When, lexicon};

impl Assembler<'_> {
    pub(super) fn verb(&mut self, at: usize) {
        let mut rest = self.parts[at + 1..]
            .iter()
            .filter(|p| p.what != What::Filler);
        let trailing = matches!(
            rest.next().map(|p| &p.what),
            None | Some(What::Break(_) | What::When(_))
        );
        let named = self.sheet.drafts.len() > self.segment && self.pending.is_none();
        if trailing && named {
            let from = self.parts[at].from;
            let all = from > 0 && matches!(self.tokens[from - 1].low(), "all" | "both");
            let count = self.sheet.drafts.len();
            for draft in self
                .sheet
                .drafts
                .iter_mut()
                .skip(if all { 0 } else { count - 1 })
            {
                draft.cooked = true;
            }
        } else {
            self.settle_pending();
            self.cook = true;
        }
    }

    pub(super) fn time(&mut self, time: super::when::Time, from: usize, to: usize) {
        let quoted = &self.text[self.tokens[from].start..self.tokens[to - 1].end];
        match &mut self.sheet.when {
            None => {
                let day = time.day.unwrap_or(super::Day::Ago(0));
                self.sheet.when = Some(When {
                    text: quoted.to_owned(),
                    day,
                    time: time.clock,
                });
            }
            Some(said) if time.day.is_none() || time.day == Some(said.day) => {
                said.time = time.clock.or(said.time);
                said.text = format!("{} {quoted}", said.text);
            }
            // Only a clock was said so far.
            Some(said) if said.day == super::Day::Ago(0) && said.time.is_some() => {
                said.day = time.day.unwrap_or(said.day);
                said.time = time.clock.or(said.time);
                said.text = format!("{} {quoted}", said.text);
            }
            Some(_) => self.sheet.unknown.push((from, to, Vec::new())),
        }
    }

    /// The end of a segment.
    pub(super) fn close(&mut self, kind: Option<Break>) {
        self.settle_pending();
        self.trailing_adjectives();
        if let Some((part, at)) = self.part.take() {
            // "the heel of a sliced pan": the thing it is part of was not understood.
            let end = self
                .parts
                .iter()
                .find(|p| p.from == at)
                .map_or(at + 1, |p| p.to);
            self.lone_part(&part, at, end);
        }
        if let (Some(Break::Colon | Break::With), Some(last)) = (kind, self.sheet.drafts.last_mut())
            && (last.vessel || last.unit.is_some_and(|u| u.is_vessel()) && last.of)
        {
            last.opens = last.opens.or(kind);
        }
        if kind == Some(Break::Colon) {
            let before = self.sheet.drafts.is_empty();
            let meal = |t: &Token| matches!(t.low(), "dinner" | "roast" | "prep" | "cooking");
            let upto = self
                .parts
                .iter()
                .position(|p| p.what == What::Break(Break::Colon));
            let end = upto.map_or(0, |p| self.parts[p].from);
            self.cook |= before && self.tokens[..end].iter().any(meal);
        }
        if kind == Some(Break::Line) {
            self.cook = false;
        }
        if matches!(kind, Some(Break::Line | Break::Colon)) {
            self.line = self.sheet.drafts.len();
        }
        if let Some(not) = self.denied.filter(|_| kind != Some(Break::With)) {
            let _ = not;
            self.denied = None;
        }
        self.forget();
        self.linked = matches!(
            kind,
            Some(Break::Comma | Break::And | Break::With | Break::Colon)
        );
        self.segment = self.sheet.drafts.len();
        self.after_with = (kind == Some(Break::With)).then_some(self.segment);
    }

    /// "tomato plants, 4, dead and brown" are dead tomato plants.
    fn trailing_adjectives(&mut self) {
        let Some(last) = self.sheet.drafts.last_mut() else {
            return;
        };
        for &at in &self.adjectives {
            let (low, norm) = (self.tokens[at].low(), self.tokens[at].norm());
            last.whole |= lexicon::WHOLE.contains(&low) || lexicon::WHOLE.contains(&norm);
            let better = thing(self.catalogue, &format!("{norm} {}", last.thing.words));
            if let Some(better) = better.filter(|b| b.may_be.len() == 1 && last.part.is_none()) {
                last.thing = better;
            }
        }
    }
}
