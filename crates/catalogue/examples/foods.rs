//! Prints what the formula makes of each linked food row, as CSV on a dry basis:
//! `cargo run -q -p catalogue --example foods`. The check in `tests/foodcheck` reads it.

use std::collections::BTreeMap;

#[allow(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "an example whose whole point is its output"
)]
fn main() {
    let catalogue = catalogue::Catalogue::load().expect("the tables hold");
    // Several materials may share a row: peel and flesh of one food. Each row is printed once.
    let foods: BTreeMap<_, _> = catalogue
        .materials()
        .iter()
        .filter_map(|m| m.food.as_ref().map(|(food, _)| (food.ndb.as_str(), food)))
        .collect();
    println!("ndb,description,water,carbon_pct_dry,nitrogen_pct_dry,cn");
    for (ndb, food) in foods {
        let per_dry = |grams: f64| 100.0 * grams / food.dry();
        let ratio = food
            .carbon_nitrogen()
            .map_or(String::new(), |r| format!("{r:.3}"));
        println!(
            "{ndb},\"{}\",{},{:.4},{:.5},{ratio}",
            food.description.replace('"', "\"\""),
            food.water,
            per_dry(food.carbon()),
            per_dry(food.nitrogen()),
        );
    }
}
