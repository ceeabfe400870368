//! The demo household: Ines, Joris and their neighbour Maud. Everything about it is invented.
//!
//! Three years of events are generated from a fixed seed and run through the same use cases as real
//! entries: what the demo shows is what the program does.

mod foretold;
mod history;

use jiff::Timestamp;

use crate::Clock;

/// Tonight's caddy in the demo.
pub const TONIGHT: &str = "full caddy of leek tops, squash peel and tea leaves";

/// The demo's day: 18 September 2026, 18:30 in Brussels.
pub fn demo_clock() -> Clock {
    const DAY: i64 = 1_789_749_000;
    Clock::Fixed(Timestamp::from_second(DAY).unwrap_or(Timestamp::UNIX_EPOCH))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_day_is_the_eighteenth_of_september() {
        let zone = jiff::tz::TimeZone::get("Europe/Brussels").unwrap();
        assert_eq!(
            demo_clock()
                .now(&zone)
                .strftime("%Y-%m-%d %H:%M")
                .to_string(),
            "2026-09-18 18:30"
        );
    }
}
