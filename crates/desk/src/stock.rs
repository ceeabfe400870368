//! What browns are at hand?

use journal::{Body, StockSet};
use units::ranges;

use crate::answer::StockLine;
use crate::{Desk, Error, HOUSEHOLD};

impl Desk {
    /// Stock as it stands; empty when nothing was counted or no journal is kept.
    pub(crate) fn stock_lines(&self) -> Result<Vec<StockLine>, Error> {
        let Some(store) = &self.store else {
            return Ok(Vec::new());
        };
        let catalogue = self.catalogue()?;
        Ok(store
            .stock(HOUSEHOLD)?
            .into_iter()
            .filter_map(|s| {
                let material = catalogue.get(&s.material)?;
                let density = material.composition().density.map(|d| d.mid);
                let litres = s.litres.or_else(|| Some(s.kg? * 1000.0 / density?));
                let kg = s.kg.or_else(|| Some(s.litres? * density? / 1000.0));
                Some(StockLine {
                    material: s.material,
                    name: material.name.clone(),
                    litres,
                    kg,
                })
            })
            .collect())
    }

    /// Stock as it stands.
    ///
    /// # Errors
    /// As the journal's.
    pub fn stock(&self) -> Result<Vec<StockLine>, Error> {
        self.store()?;
        self.stock_lines()
    }

    /// Counts stock from words, as `torn card 20 L, a sack of dry leaves`: what there is now.
    ///
    /// # Errors
    /// Words that are not understood; an amount out of range.
    pub fn count_stock(&self, text: &str, key: Option<&str>) -> Result<Vec<StockLine>, Error> {
        let read = self.read(text)?.reading;
        for (at, line) in read.items.iter().enumerate() {
            let litres = line
                .litres
                .map(|l| ranges::PORTION_L.check(l.mid))
                .transpose()?;
            let key = key.filter(|k| !k.is_empty()).map(|k| format!("{k}.{at}"));
            let body = Body::StockSet(StockSet {
                material: line.material.clone(),
                kg: if litres.is_none() {
                    line.kg.map(|k| k.mid)
                } else {
                    None
                },
                litres,
            });
            self.write(body, None, key.as_deref())?;
        }
        self.stock_lines()
    }

    /// Says that a stock is used up.
    ///
    /// # Errors
    /// As the journal's.
    pub fn no_stock(&self, material: &str, key: Option<&str>) -> Result<(), Error> {
        let body = Body::StockSet(StockSet {
            material: material.into(),
            litres: Some(0.0),
            kg: None,
        });
        self.write(body, None, key)?;
        Ok(())
    }
}
