//! Words in, lines out.

use catalogue::entry::{Entry, Hands};
use catalogue::{Catalogue, Material, Verdict};
use engine::blend::Portion;
use jiff::Timestamp;
use units::Spread;

use crate::answer::{Line, Named, Nearby, Reading};
use crate::clock;
use crate::{Desk, Error};

/// An entry read, with the moment it means.
pub(crate) struct Read {
    pub(crate) reading: Reading,
    pub(crate) at: Option<Timestamp>,
}

impl Desk {
    /// Reads an entry; understanding nothing is an error that names near words.
    pub(crate) fn read(&self, text: &str) -> Result<Read, Error> {
        let catalogue = self.catalogue()?;
        let entry = catalogue.read(text, &self.hands()?)?;
        let read = self.lay_out(&catalogue, &entry)?;
        if read.reading.items.is_empty() && read.reading.refused.is_empty() {
            let near: Vec<String> = read
                .reading
                .unknown
                .iter()
                .flat_map(|u| u.near.iter().map(|n| n.name.clone()))
                .take(5)
                .collect();
            return Err(Error::NothingUnderstood {
                text: shortened(text),
                near,
            });
        }
        Ok(read)
    }

    fn lay_out(&self, catalogue: &Catalogue, entry: &Entry) -> Result<Read, Error> {
        let mut reading = Reading {
            chamber: entry.chamber.clone(),
            ..Reading::default()
        };
        for item in &entry.items {
            let Some(material) = catalogue.get(&item.material) else {
                continue;
            };
            let mut line = line(
                material,
                &item.text,
                item.kg,
                item.litres,
                item.assumed.clone(),
            );
            let local = self.local_food(&line.material)?;
            (line.verdict, line.caution) =
                crate::local_rules::under_rule(local, line.verdict, &line.caution);
            if material.verdict == Verdict::Never {
                reading.refused.push(line);
            } else {
                reading.items.push(line);
            }
        }
        let named = |ids: &[String]| -> Vec<Named> {
            ids.iter()
                .filter_map(|id| catalogue.get(id))
                .map(|m| Named {
                    id: m.id.clone(),
                    name: m.name.clone(),
                })
                .collect()
        };
        reading.unknown.extend(entry.unknown.iter().map(|u| Nearby {
            text: u.text.clone(),
            near: named(&u.near),
            ambiguous: false,
        }));
        reading
            .unknown
            .extend(entry.ambiguous.iter().map(|u| Nearby {
                text: u.text.clone(),
                near: named(&u.may_be),
                ambiguous: true,
            }));
        let now = self.clock.now(&self.zone());
        let at = match &entry.when {
            None => None,
            Some(when) => {
                Some(clock::resolve(when, &now).ok_or_else(|| Error::BadDay(when.text.clone()))?)
            }
        };
        reading.when = at.map(|at| clock::moment(at, now.time_zone()));
        Ok(Read { reading, at })
    }

    pub(crate) fn hands(&self) -> Result<Hands, Error> {
        let usual = Hands::default();
        let Some(store) = &self.store else {
            return Ok(usual);
        };
        let settings = self.settings()?;
        Ok(Hands {
            caddy_l: settings.caddy_l.unwrap_or(usual.caddy_l),
            caddy_kg: settings.caddy_full_kg,
            handful_l: settings.handful_l.unwrap_or(usual.handful_l),
            us: settings.units == Some(journal::Units::Us),
            chambers: store
                .chambers(crate::HOUSEHOLD)?
                .into_iter()
                .map(|c| c.name.unwrap_or(c.id))
                .collect(),
        })
    }
}

pub(crate) fn line(
    material: &Material,
    text: &str,
    kg: Option<Spread>,
    litres: Option<Spread>,
    assumed: Option<String>,
) -> Line {
    Line {
        text: text.to_owned(),
        material: material.id.clone(),
        name: material.name.clone(),
        verdict: material.verdict.as_str(),
        role: material.role.as_str(),
        cap_pct: material.cap_pct,
        preparation: material.preparation.clone(),
        caution: material.caution.clone(),
        kg,
        litres,
        assumed,
    }
}

/// Portions of lines whose mass is known.
pub(crate) fn portions<'a>(catalogue: &'a Catalogue, lines: &[Line]) -> Vec<Portion<'a>> {
    lines
        .iter()
        .filter_map(|l| {
            Some(Portion {
                material: catalogue.get(&l.material)?,
                kg: l.kg?,
            })
        })
        .collect()
}

/// At most 60 characters of a text, for a message.
pub(crate) fn shortened(text: &str) -> String {
    if text.chars().count() <= 60 {
        text.to_owned()
    } else {
        text.chars().take(57).chain("…".chars()).collect()
    }
}
