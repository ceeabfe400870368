//! `[vessel]`: kind, size, wall, sun.

use engine::batch::vessel::{self, Kind, Vessel};
use units::Range;

use super::error::CaseError;
use super::feeds::row;
use super::sheet::Table;

const LENGTH_CM: Range = row("length of the drum", "cm", 10.0, 500.0);
const DIAMETER_CM: Range = row("diameter of the drum", "cm", 10.0, 300.0);
const CHAMBERS: Range = row("chambers of the drum", "", 1.0, 8.0);

/// Reads the vessel; what was not said goes to `missing`.
pub(super) fn read(root: &Table<'_>, missing: &mut Vec<String>) -> Result<Vessel, CaseError> {
    let Some(t) = root.table("vessel")? else {
        return Err(root.wrong(
            "[vessel] is missing; give kind = \"drum\" and litres, or length_cm and diameter_cm",
        ));
    };
    t.keys(&[
        "kind",
        "litres",
        "length_cm",
        "diameter_cm",
        "chambers",
        "surface_m2",
        "insulation",
        "colour",
        "absorptance",
        "sun",
        "vents",
        "open_top",
    ])?;
    let usual = Vessel::default();
    let kind = match t.get("kind") {
        Some(cell) => cell.one_of(&[
            ("drum", Kind::Drum),
            ("bin", Kind::Bin),
            ("heap", Kind::Heap),
        ])?,
        None => {
            return Err(t.wrong("`kind` is missing; say drum, bin or heap"));
        }
    };
    let (litres, by_size) = size(&t, kind)?;
    let surface = t.number("surface_m2", vessel::SURFACE)?.or(by_size);
    let mut said = |key: &str, value: Option<f64>, or: f64| {
        value.unwrap_or_else(|| {
            missing.push(format!("vessel.{key}"));
            or
        })
    };
    if surface.is_none() {
        said("surface_m2", None, 0.0);
    }
    let insulation = word_or(
        &t,
        "insulation",
        vessel::INSULATION,
        &[("bare", 1.0), ("good", 0.35)],
    )?;
    let insulation = said("insulation", insulation, usual.insulation);
    // Black, grey, green, light: as the vessel of the equations has them.
    let colours = [
        ("black", 0.92),
        ("grey", 0.8),
        ("gray", 0.8),
        ("green", 0.8),
        ("brown", 0.8),
        ("light", 0.4),
        ("white", 0.4),
    ];
    let colour = t.get("colour").map(|c| c.one_of(&colours)).transpose()?;
    let absorptance = t.number("absorptance", vessel::ABSORPTANCE)?;
    if let (Some(_), Some(cell)) = (colour, t.get("absorptance")) {
        return Err(cell.wrong("colour says the same; keep one of the two"));
    }
    // A heap has no wall: the compost itself, dark and damp (judged).
    let bare = if kind == Kind::Heap {
        0.8
    } else {
        usual.absorptance
    };
    let absorptance = said("colour", absorptance.or(colour), bare);
    let sun = word_or(
        &t,
        "sun",
        vessel::SUN,
        &[("open", 1.0), ("half", 0.5), ("shade", 0.1)],
    )?;
    let sun = said("sun", sun, usual.sun);
    let vents = said("vents", t.number("vents", vessel::VENTS)?, usual.vents);
    let open_top = t.get("open_top").map(|c| c.yes()).transpose()?;
    Ok(Vessel {
        kind,
        litres,
        surface,
        insulation,
        absorptance,
        sun,
        vents,
        open_top: open_top.unwrap_or(kind == Kind::Heap),
    })
}

fn size(t: &Table<'_>, kind: Kind) -> Result<(f64, Option<f64>), CaseError> {
    let litres = t.number("litres", vessel::LITRES)?;
    let length = t.number("length_cm", LENGTH_CM)?;
    let diameter = t.number("diameter_cm", DIAMETER_CM)?;
    let chambers = t.get("chambers").map(|c| c.whole(CHAMBERS)).transpose()?;
    match (litres, length, diameter) {
        (Some(litres), None, None) => {
            if let Some(cell) = t.get("chambers") {
                return Err(cell.wrong(
                    "goes with length_cm and diameter_cm; litres are those of one chamber",
                ));
            }
            Ok((litres, None))
        }
        (None, Some(length), Some(diameter)) if kind == Kind::Drum => {
            let (litres, surface) =
                Vessel::chamber(length / 100.0, diameter / 100.0, chambers.unwrap_or(1) as f64);
            let litres = vessel::LITRES
                .check(litres)
                .map_err(|e| t.wrong(format!("{e}; check length_cm and diameter_cm")))?;
            Ok((litres, Some(surface)))
        }
        (None, None, None) => Err(t.wrong(
            "its size is missing; give litres of one chamber, or length_cm and diameter_cm of a drum",
        )),
        (Some(_), _, _) => Err(t.wrong(
            "its size is given twice; keep litres, or length_cm and diameter_cm",
        )),
        _ if kind == Kind::Drum => Err(t.wrong("give both length_cm and diameter_cm, or litres")),
        _ => Err(t.wrong("length_cm and diameter_cm are for a drum; give litres")),
    }
}

/// A number, or a word that stands for one.
fn word_or(
    t: &Table<'_>,
    key: &str,
    range: Range,
    words: &[(&str, f64)],
) -> Result<Option<f64>, CaseError> {
    t.get(key)
        .map(|cell| match cell.as_text() {
            Some(_) => cell.one_of(words),
            None => cell.number(range),
        })
        .transpose()
}
