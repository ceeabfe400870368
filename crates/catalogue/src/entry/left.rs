//! What nobody has taken when all is read: shown as not understood, so that nothing is lost in silence.

use super::assemble::Assembler;
use super::segment::What;

impl Assembler<'_> {
    /// Adds to what was not understood each thing, part and amount that is in no draft.
    pub(super) fn left(&mut self) {
        let mut lost: Vec<(usize, usize, Vec<String>)> = Vec::new();
        for part in self.parts {
            let ids = match &part.what {
                What::Thing(thing) => thing.may_be.clone(),
                What::Doubt(ids) => ids.clone(),
                What::Num(amount) if !amount.article => Vec::new(),
                What::Unit(_) | What::Part(_) | What::PartOf(_) | What::Unknown => Vec::new(),
                _ => continue,
            };
            // "two doodahs": the amount goes where the thing goes.
            let amount = matches!(part.what, What::Num(_) | What::Unit(_));
            let of_unknown = self.sheet.unknown.iter().any(|u| {
                let between = self
                    .parts
                    .iter()
                    .filter(|p| p.from >= part.to && p.to <= u.0);
                let small = |what: &What| {
                    matches!(what, What::Of | What::Own | What::Adjective | What::Unit(_))
                };
                u.0 >= part.to && between.clone().all(|p| small(&p.what))
            });
            if amount && of_unknown {
                continue;
            }
            let within = |from: usize, to: usize| from <= part.from && part.to <= to;
            let taken = self.sheet.drafts.iter().any(|d| within(d.from, d.to))
                || self.sheet.unknown.iter().any(|u| within(u.0, u.1))
                || self.heard.iter().any(|h| within(h.0, h.1));
            if taken {
                continue;
            }
            match lost.last_mut() {
                Some(last) if last.1 == part.from => {
                    last.1 = part.to;
                    last.2.extend(ids);
                }
                _ => lost.push((part.from, part.to, ids)),
            }
        }
        self.sheet.unknown.extend(lost);
    }
}
