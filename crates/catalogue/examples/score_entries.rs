//! Counts the labelled entries of a file that are read fully, and shows each that is not:
//! `cargo run -q -p catalogue --example score_entries -- FILE.jsonl`. The rule is in `tests/scoring`.

#[path = "../tests/scoring/mod.rs"]
mod scoring;

#[allow(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "an example whose whole point is its output"
)]
fn main() {
    let file = std::env::args()
        .nth(1)
        .expect("give a file of labels: score_entries FILE.jsonl");
    let file = std::fs::read_to_string(&file).expect("the file of labels can be read");
    let catalogue = catalogue::Catalogue::load().expect("the tables hold");
    let weights = scoring::weights();
    let labels = scoring::labels(&file);
    let (mut fully, mut silent) = (0, 0);
    for label in &labels {
        let found = scoring::check(&weights, label, &scoring::read(&catalogue, label));
        if found.wrong.is_empty() {
            fully += 1;
            continue;
        }
        silent += usize::from(!found.silent.is_empty());
        println!("{}", scoring::text(label, "text"));
        println!("    {}", found.wrong.join("; "));
        if !found.silent.is_empty() {
            println!("    in silence: {}", found.silent.join("; "));
        }
    }
    println!(
        "{fully} of {} read fully, {silent} misread in silence",
        labels.len()
    );
}
