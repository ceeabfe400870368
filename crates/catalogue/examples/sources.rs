//! Prints SOURCES.md from the tables: `cargo run -p catalogue --example sources > SOURCES.md`.

#[allow(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "an example whose whole point is its output"
)]
fn main() {
    let catalogue = catalogue::Catalogue::load().expect("the tables hold");
    print!("{}", catalogue.sources_page());
}
