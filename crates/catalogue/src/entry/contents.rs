//! Amounts without a thing of their own: bare vessels, and amounts behind the thing.

use super::assemble::{Assembler, Draft, SCRAPS};
use super::number::Amount;
use super::segment::{Thing, What, thing};
use super::tokens::Token;
use super::unit::{Unit, Vessel};

impl Assembler<'_> {
    /// An amount that no thing follows: it belongs to the thing before, or is a bare vessel.
    pub(super) fn settle_pending(&mut self) {
        let Some(p) = self.pending.take() else { return };
        let in_segment = self.sheet.drafts.len() > self.segment;
        if self.instead
            && !in_segment
            && let Some(last) = self.sheet.drafts.last_mut()
        {
            self.instead = false;
            (last.amount, last.unit, last.to) =
                (p.amount.or(last.amount), p.unit.or(last.unit), p.to);
            return;
        }
        if self.last_unknown && !matches!(p.unit, Some(Unit::Caddy(_))) {
            // "salsa, half a cup": the amount goes where the thing goes.
            if let Some(last) = self.sheet.unknown.last_mut() {
                last.1 = last.1.max(p.to);
            }
            return;
        }
        let bare_caddy = matches!(p.unit, Some(Unit::Caddy(_))) || p.caddy;
        if bare_caddy && !in_segment && !p.of && self.fills(&p)
            || !bare_caddy && (self.of_head(&p) || self.restates(&p))
        {
            return;
        }
        let each = self.is_each(&p);
        if let Some(last) = self.sheet.drafts.last_mut() {
            let open = last.amount.is_none() || last.amount.is_some_and(|a| a.article);
            let says = p.unit.is_some() || p.amount.is_some_and(|a| !a.article);
            let own_name = matches!(p.unit, Some(Unit::Count(_)))
                && thing(
                    self.catalogue,
                    self.tokens.get(p.to - 1).map_or("", Token::norm),
                )
                .is_some();
            let fits =
                last.unit.is_none() && open && says && !last.vessel && (in_segment || !own_name);
            if fits && (in_segment || !bare_caddy) {
                // "we had corn, so husks from a dozen ears".
                if let Some((part, _)) = &self.part
                    && let Some(better) =
                        thing(self.catalogue, &format!("{} {part}", last.thing.words))
                    && better.may_be.len() == 1
                {
                    last.thing = better;
                }
                (last.amount, last.unit) = (
                    p.amount.or(last.amount).or(Some(Amount::exact(1.0))),
                    p.unit,
                );
                last.to = last.to.max(p.to);
                last.bare = false;
                last.bagged(self.catalogue);
                self.spread_to(&p, each);
                return;
            }
        }
        let only_article = p.unit.is_none() && p.amount.is_some_and(|a| a.article);
        if only_article {
            return;
        }
        let word = self.tokens.get(p.to - 1).map_or("", Token::norm);
        let named = match p.unit {
            Some(Unit::Caddy(_)) => thing(self.catalogue, SCRAPS),
            _ if p.caddy => thing(self.catalogue, SCRAPS),
            Some(Unit::Count(_)) => thing(self.catalogue, word),
            // A weight and nothing else in the whole entry: kitchen scraps.
            Some(Unit::Mass(_) | Unit::Volume { vessel: None, .. }) if self.alone() => {
                thing(self.catalogue, SCRAPS)
            }
            _ => None,
        };
        let grounds = self
            .part
            .as_ref()
            .filter(|(part, _)| part == "ground")
            .map(|(_, at)| *at);
        let named = match grounds {
            Some(_) => thing(self.catalogue, "coffee ground").or(named),
            None => named,
        };
        let Some(found) = named else {
            self.sheet.unknown.push((p.from, p.to, Vec::new()));
            return;
        };
        let unit = match p.unit {
            Some(Unit::Count(name)) if grounds.is_none() => Some(Unit::Count(name)),
            other => other,
        };
        let draft = Draft {
            thing: Thing {
                words: if bare_caddy {
                    "caddy".into()
                } else {
                    found.words
                },
                ..found
            },
            amount: p.amount.or(Some(Amount::exact(1.0))),
            unit: if bare_caddy && !p.caddy {
                Some(Unit::Caddy(Vessel::Caddy))
            } else {
                unit
            },
            of: false,
            from: grounds.unwrap_or(self.part.as_ref().map_or(p.from, |part| part.1.min(p.from))),
            to: p.to,
            part: if grounds.is_none() {
                self.part.take().map(|p| p.0)
            } else {
                None
            },
            cooked: false,
            whole: false,
            bare: false,
            linked: self.linked,
            vessel: bare_caddy,
            copied: false,
            opens: None,
        };
        self.push(draft);
    }

    fn alone(&self) -> bool {
        self.sheet.drafts.is_empty()
            && self.parts.iter().all(|p| {
                !matches!(
                    p.what,
                    What::Thing(_)
                        | What::Doubt(_)
                        | What::Unknown
                        | What::Part(_)
                        | What::PartOf(_)
                )
            })
            && self
                .parts
                .iter()
                .filter(|p| matches!(p.what, What::Unit(_)))
                .count()
                == 1
    }
}
