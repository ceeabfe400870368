//! The demo household's year, and how long it took. `cargo run -p desk --example season`
#![allow(clippy::print_stdout, reason = "the output is the point")]

fn main() -> Result<(), desk::Error> {
    let desk = desk::Desk::demo()?;
    let begun = std::time::Instant::now();
    let a = desk.season(None)?;
    println!("first {:?}", begun.elapsed());
    let begun = std::time::Instant::now();
    let again = desk.season(None)?;
    println!("again {:?}, same {}", begun.elapsed(), a == again);
    println!("{:#?}", a.assumed);
    println!("weekly {:.1} L, room {:?}", a.weekly_l, a.room_l);
    for m in &a.months {
        println!(
            "{} {} {} {:.0}/{:.0}/{:.0} emptied {}",
            m.month, m.chamber, m.state, m.level_l.low, m.level_l.mid, m.level_l.high, m.emptied
        );
    }
    for o in &a.overflow {
        println!("{} {:.1} L {:.2}", o.week, o.litres, o.chance);
    }
    println!("{:?}\n{:?}\n{:?}\n{:?}", a.now, a.plan, a.tried, a.changes);
    println!("{:#?}\n{:#?}", a.acts, a.browns);
    Ok(())
}
