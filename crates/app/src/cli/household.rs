//! `household`: what is known of the household, and its answers to local rules.

use std::fmt::Write as _;

use desk::{ChamberFacts, Desk, Error, Household, HouseholdChange, LocalRules};
use serde_json::{Value, json};

use crate::words::{Tongue, household as say};

/// What is shown.
pub(super) struct Shown {
    household: Household,
    chambers: Vec<ChamberFacts>,
    rules: LocalRules,
    id: Option<String>,
}

/// Notes what was answered, if anything was, and gathers what is known.
pub(super) fn ask(
    desk: &Desk,
    (food_allowed, apart_m, largest_l): (Option<bool>, Option<f64>, Option<f64>),
    key: Option<&str>,
) -> Result<Shown, Error> {
    let answered = food_allowed.is_some() || apart_m.is_some() || largest_l.is_some();
    let change = HouseholdChange::Rules {
        food_allowed,
        apart_m,
        largest_l,
    };
    let id = answered
        .then(|| desk.change_household(change, key))
        .transpose()?;
    Ok(Shown {
        household: desk.household()?,
        chambers: desk.chambers()?,
        rules: desk.local_rules()?,
        id,
    })
}

/// As a gardener reads it in a terminal.
pub(super) fn text(a: &Shown, tongue: Tongue) -> String {
    let h = &a.household;
    let mut out = format!("{}\n", h.name);
    if let Some(place) = &h.place {
        _ = writeln!(out, "  Place: {place}");
    }
    _ = writeln!(out, "  Days follow {}", h.zone_used);
    _ = writeln!(out, "  Caddy: {}", tongue.size(h.caddy_l));
    _ = writeln!(out, "\nChambers:");
    for c in &a.chambers {
        let size = c
            .litres
            .map_or_else(|| "size not given".into(), |l| tongue.size(l));
        let larger = say::too_large(&a.rules, &c.name, tongue)
            .map_or_else(String::new, |text| format!(". {text}"));
        _ = writeln!(out, "  {}: {size}{larger}", c.name);
    }
    if a.chambers.is_empty() {
        _ = writeln!(out, "  None has a name yet.");
    }
    _ = writeln!(out, "\nLocal rules, as you noted them:");
    let noted = say::noted(&a.rules, tongue);
    for line in &noted {
        _ = writeln!(out, "  {line}");
    }
    if noted.is_empty() {
        _ = writeln!(
            out,
            "  None. Note one with: loamwright household --cooked-food no"
        );
    }
    _ = writeln!(out, "{}", say::ASK);
    if let Some(id) = &a.id {
        _ = writeln!(out, "Entry [{id}]. Take it back with: loamwright undo");
    }
    out
}

/// The same as JSON.
pub(super) fn value(a: &Shown) -> Value {
    let h = &a.household;
    json!({
        "schema": "loamwright/household/1", "id": a.id, "name": h.name, "place": h.place, "latitude": h.latitude,
        "zone": h.zone_used, "us": h.us, "american": h.american, "caddy_l": h.caddy_l, "caddy_kg": h.caddy_kg,
        "handful_l": h.handful_l,
        "chambers": a.chambers.iter().map(|c| json!({
            "name": c.name, "litres": c.litres,
            "too_large": a.rules.too_large.iter().any(|(name, _)| *name == c.name),
        })).collect::<Vec<_>>(),
        "local_rules": {
            "food_allowed": a.rules.food_allowed, "apart_m": a.rules.apart_m, "largest_l": a.rules.largest_l,
        },
    })
}
