//! `[[feeds]]`: what goes in and when, in words, as a composition, or as targets of a mix.

use catalogue::entry::Hands;
use catalogue::{Catalogue, Verdict};
use engine::batch::composed::{Composed, Nitrogen, Unfit, to_targets};
use engine::batch::events::{Deed, Feed};
use engine::batch::substrate::{self, Pieces};
use engine::climate::Day;
use engine::ensemble::At;
use units::{Range, ranges};

use super::error::{CaseError, CaseFault};
use super::place::Told;
use super::sheet::{Cell, Table};

const KG: Range = row("amount", "kg", 0.001, 5_000.0);
const TEMPERATURE: Range = row("temperature of what goes in", "°C", -20.0, 70.0);
const EVERY: Range = row("days between feeds", "days", 0.5, 3_650.0);
const SHARE_PCT: Range = row("share", "% of dry mass", 0.0, 100.0);
/// Temperature of what goes in where none is given, °C (choice: a kitchen in the evening, a shed in spring).
pub(super) const TEMPERATURE_C: f64 = 15.0;
/// What a kitchen mix of the targets is made of.
const GREENS: &str = "mixed-kitchen-scraps";
const BROWNS: &str = "cardboard-corrugated";

pub(super) const fn row(name: &'static str, unit: &'static str, least: f64, most: f64) -> Range {
    Range {
        name,
        unit,
        least,
        most,
    }
}

/// Days of a run as a range; half a day before the end is the last on which a thing can still act.
pub(super) fn day_range(days: usize) -> Range {
    row("day of the run", "", 0.0, days as f64 - 0.5)
}

/// Reads all feeds.
pub(super) fn read(
    root: &Table<'_>,
    catalogue: &Catalogue,
    (start, days): (Day, usize),
    told: &mut Told,
) -> Result<Vec<At>, CaseError> {
    let mut all = Vec::new();
    let tables = root.tables("feeds")?;
    if tables.is_empty() {
        return Err(root.wrong(
            "no feeds; give at least one [[feeds]] with a day and an entry, a composition or a mix",
        ));
    }
    for t in tables {
        t.keys(&[
            "day",
            "date",
            "entry",
            "composition",
            "mix",
            "repeat",
            "pieces",
            "temperature_c",
        ])?;
        let at = when(&t, start, days)?;
        let feed = one(&t, catalogue, at.len(), told)?;
        all.extend(at.into_iter().map(|day| At {
            day,
            deed: Deed::Feed(feed),
        }));
    }
    Ok(all)
}

/// Days on which a feed goes in.
fn when(t: &Table<'_>, start: Day, days: usize) -> Result<Vec<f64>, CaseError> {
    let range = day_range(days);
    let first = match (t.get("day"), t.get("date")) {
        (Some(_), Some(cell)) => return Err(cell.wrong("day says the same; keep one of the two")),
        (Some(cell), None) => cell.number(range)?,
        (None, Some(cell)) => {
            let day = cell.day()?;
            let end = start + (days as i32 - 1);
            if day < start || day > end {
                return Err(cell.wrong(format!(
                    "{day} is outside {start} to {end}, the days of this run"
                )));
            }
            f64::from(day - start)
        }
        (None, None) => {
            return Err(t.wrong("`day` is missing; give the day of the run, 0 is the first"));
        }
    };
    let Some(repeat) = t.table("repeat")? else {
        return Ok(vec![first]);
    };
    repeat.keys(&["every_days", "until_day"])?;
    let every = repeat.needed("every_days", EVERY)?;
    let until = Range {
        least: first,
        ..range
    };
    let until = repeat.needed("until_day", until)?;
    let count = ((until - first) / every + 1e-9).floor() as usize;
    Ok((0..=count).map(|i| first + every * i as f64).collect())
}

fn one(
    t: &Table<'_>,
    catalogue: &Catalogue,
    count: usize,
    told: &mut Told,
) -> Result<Feed, CaseError> {
    let pieces = t
        .get("pieces")
        .map(|c| {
            c.one_of(&[
                ("whole", Pieces::Whole),
                ("torn", Pieces::Torn),
                ("shredded", Pieces::Shredded),
            ])
        })
        .transpose()?;
    let temperature = t.number("temperature_c", TEMPERATURE)?;
    for (key, lacks) in [
        ("feeds.pieces", pieces.is_none()),
        ("feeds.temperature_c", temperature.is_none()),
    ] {
        if lacks && !told.missing.iter().any(|m| m == key) {
            told.missing.push(key.into());
        }
    }
    let how = (
        pieces.unwrap_or_default(),
        temperature.unwrap_or(TEMPERATURE_C),
    );
    match (t.get("entry"), t.table("composition")?, t.table("mix")?) {
        (Some(cell), None, None) => entry(&cell, catalogue, how, told),
        (None, Some(c), None) => composition(&c, how, told),
        (None, None, Some(m)) => mix(&m, catalogue, how, count),
        (None, None, None) => Err(t.wrong("nothing goes in; give entry, composition or mix")),
        _ => Err(t.wrong("give only one of entry, composition and mix; use a second [[feeds]]")),
    }
}

/// In words, by the grammar of every entry.
fn entry(
    cell: &Cell<'_>,
    catalogue: &Catalogue,
    (pieces, temperature): (Pieces, f64),
    told: &mut Told,
) -> Result<Feed, CaseError> {
    let text = cell.words()?;
    let read = catalogue
        .read(text, &Hands::default())
        .map_err(|e| cell.wrong(e.to_string()))?;
    let unclear = |says: String| cell.wrong(says).but(CaseFault::NotUnderstood);
    let names = |ids: &[String]| -> Vec<String> {
        ids.iter()
            .filter_map(|id| catalogue.get(id))
            .map(|m| m.name.clone())
            .collect()
    };
    if let Some(unknown) = read.unknown.first() {
        let near = names(&unknown.near);
        let near = if near.is_empty() {
            "say a thing and an amount, as \"2 kg scraps, 10 handfuls torn card\"".into()
        } else {
            format!("did you mean {}?", near.join(", "))
        };
        return Err(unclear(format!(
            "`{}` is not known here; {near}",
            unknown.text
        )));
    }
    if let Some(several) = read.ambiguous.first() {
        let may = names(&several.may_be).join(" or ");
        return Err(unclear(format!(
            "`{}` could be {may}; say which",
            several.text
        )));
    }
    if let Some(when) = &read.when {
        return Err(cell.wrong(format!("`{}` is a time; give it as day or date", when.text)));
    }
    let mut sum: Option<Feed> = None;
    for item in &read.items {
        let Some(material) = catalogue.get(&item.material) else {
            continue;
        };
        match material.verdict {
            Verdict::Never => {
                let says = format!(
                    "{} stays out of any compost. {}",
                    material.name, material.caution
                );
                return Err(cell.wrong(says).but(CaseFault::Refused));
            }
            Verdict::NotHere | Verdict::HotOnly => told.notes.push(format!(
                "{} does not belong in a household drum. {}",
                material.name, material.caution
            )),
            Verdict::Yes | Verdict::Prepare | Verdict::ALittle => {}
        }
        let Some(kg) = item.kg.map(|kg| kg.mid) else {
            return Err(cell.wrong(format!(
                "how heavy a litre of {} is, is not known; give kg",
                material.name
            )));
        };
        if let Some(assumed) = &item.assumed {
            told.notes.push(format!(
                "No amount was said for `{}`. It was taken as {assumed}.",
                item.text
            ));
            told.missing.push(format!("{}.amount", material.id));
        }
        let feed = substrate::feed(material, kg, pieces, temperature).ok_or_else(|| {
            cell.wrong(format!(
                "how much water {} holds is not known; give a composition",
                material.name
            ))
        })?;
        let known = material.composition();
        for (what, lacks) in [
            ("carbon_pct_dry", known.carbon.is_none()),
            ("nitrogen_pct_dry", known.nitrogen.is_none()),
            ("ash_pct_dry", known.ash.is_none()),
            ("lignin_pct_dry", known.lignin.is_none()),
        ] {
            let name = format!("{}.{what}", material.id);
            if lacks && !told.missing.contains(&name) {
                told.missing.push(name);
            }
        }
        sum = Some(sum.map_or(feed, |s| s.with(&feed)));
    }
    sum.filter(|f| f.mass() > 0.0).ok_or_else(|| {
        unclear(format!(
            "nothing understood in `{}`; say a thing and an amount, as \"2 kg scraps\"",
            crate::read::shortened(text)
        ))
    })
}

fn composition(
    t: &Table<'_>,
    (pieces, temperature): (Pieces, f64),
    told: &mut Told,
) -> Result<Feed, CaseError> {
    t.keys(&[
        "kg",
        "water_pct",
        "carbon_pct_dry",
        "nitrogen_pct_dry",
        "cn",
        "ash_pct_dry",
        "lignin_pct_dry",
        "cellulose_pct_dry",
        "quick_pct_dry",
        "density_kg_m3",
    ])?;
    let nitrogen = match (
        t.share("nitrogen_pct_dry", ranges::NITROGEN_PCT_DRY)?,
        t.number("cn", ranges::CARBON_NITROGEN)?,
    ) {
        (Some(share), None) => Nitrogen::OfDry(share),
        (None, Some(cn)) => Nitrogen::Ratio(cn),
        (None, None) => return Err(t.wrong("nitrogen is missing; give nitrogen_pct_dry or cn")),
        _ => return Err(t.wrong("nitrogen is given twice; keep nitrogen_pct_dry or cn")),
    };
    let composed = Composed {
        kg: t.needed("kg", KG)?,
        water: t.needed("water_pct", ranges::WATER_PCT)? / 100.0,
        nitrogen,
        carbon: t.share("carbon_pct_dry", ranges::CARBON_PCT_DRY)?,
        ash: t.share("ash_pct_dry", ranges::ASH_PCT_DRY)?,
        lignin: t.share("lignin_pct_dry", ranges::LIGNIN_PCT_DRY)?,
        cellulose: t.share("cellulose_pct_dry", SHARE_PCT)?,
        quick: t.share("quick_pct_dry", SHARE_PCT)?,
        density: t.number("density_kg_m3", ranges::DENSITY)?,
        pieces: pieces.factor(),
        temperature,
    };
    if composed.lignin.is_some()
        && composed.cellulose.is_some()
        && composed.quick.is_some()
        && let Some(cell) = t.get("lignin_pct_dry")
    {
        return Err(
            cell.wrong("follows from quick_pct_dry and cellulose_pct_dry; give two of the three")
        );
    }
    for (key, lacks) in [
        ("carbon_pct_dry", composed.carbon.is_none()),
        ("ash_pct_dry", composed.ash.is_none()),
        (
            "lignin_pct_dry",
            composed.lignin.is_none() && (composed.cellulose.is_none() || composed.quick.is_none()),
        ),
        (
            "cellulose_pct_dry",
            composed.cellulose.is_none() && composed.quick.is_none(),
        ),
        ("density_kg_m3", composed.density.is_none()),
    ] {
        let name = format!("feeds.composition.{key}");
        if lacks && !told.missing.contains(&name) {
            told.missing.push(name);
        }
    }
    composed.feed().map_err(|e| match e {
        Unfit::Carbon(most) => t.wrong(format!(
            "more carbon than this much organic matter can hold, {:.0} % of dry mass; lower carbon_pct_dry or ash_pct_dry",
            100.0 * most
        )),
        Unfit::Parts(sum) => t.wrong(format!(
            "quick matter, cellulose and lignin come to {:.0} % of the organic matter (9 points of it are wax and the like); lower one of them",
            100.0 * sum
        )),
    })
}

/// Kitchen scraps and card in the ratio that gives the C:N, with water to the target.
fn mix(
    t: &Table<'_>,
    catalogue: &Catalogue,
    (pieces, temperature): (Pieces, f64),
    count: usize,
) -> Result<Feed, CaseError> {
    t.keys(&["kg_per_feed", "total_kg", "water_pct", "cn"])?;
    let kg = match (t.number("kg_per_feed", KG)?, t.number("total_kg", KG)?) {
        (Some(kg), None) => kg,
        (None, Some(kg)) => kg / count as f64,
        (None, None) => return Err(t.wrong("its mass is missing; give kg_per_feed or total_kg")),
        _ => return Err(t.wrong("its mass is given twice; keep kg_per_feed or total_kg")),
    };
    let water = t.needed("water_pct", ranges::TARGET_WATER_PCT)? / 100.0;
    let cn = t.needed("cn", ranges::TARGET_CN)?;
    let of = |id: &str| {
        catalogue
            .get(id)
            .and_then(|m| substrate::feed(m, 1.0, pieces, temperature))
            .ok_or_else(|| CaseError::plain(CaseFault::Failed, "", format!("no figures for {id}")))
    };
    let (greens, browns) = (of(GREENS)?, of(BROWNS)?);
    to_targets(&greens, &browns, kg, water, cn).ok_or_else(|| {
        let says = format!(
            "C:N {cn} cannot be met with kitchen scraps and card, which reach {:.0} to {:.0}; choose one between, or give a composition",
            greens.carbon_nitrogen().ceil(),
            browns.carbon_nitrogen().floor()
        );
        t.get("cn").map_or_else(|| t.wrong(says.clone()), |c| c.wrong(says.clone()))
    })
}
