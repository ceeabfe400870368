//! What heat may have done to weed seed and plant disease: bands, each from trials, none a promise.
//!
//! Weeds A, most annuals: 72 h at 55 °C with 3 turnings, or 4 months moist with any spell at 45 °C (built on Tompkins
//! et al. 1998, Eghball & Lesoing 2000, Dahlquist et al. 2007, abstracts seen). B, docks, velvetleaf, pigweed: 14 days
//! at 60 °C (the same, and Thompson et al. 1997). C is never claimed: hard-coated seed, bulbils, rhizomes, bindweed,
//! couch, knotweed, oxalis: 8 % of acacia seed lived through 136 h above 55 °C (seen).
//! Disease: 64 °C for 21 days cleared 33 of 38 fungi, all bacteria and nematodes, 3 of 9 viruses; clubroot, tomato
//! Fusarium wilt and tobacco mosaic lived through it in some trials (Noble & Roberts 2004, abstract seen).

use super::course::Course;
use super::yardstick::{Held, Met, all, at_all_places, heat, turned};

/// How the bands stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bands {
    /// Most annual weeds.
    pub annuals: Met,
    /// Docks, velvetleaf, pigweed.
    pub docks: Met,
    /// Most plant disease, as named above.
    pub disease: Met,
}

const fn held(celsius: f64, hours: f64, unbroken: bool) -> Held {
    Held {
        celsius,
        hours,
        unbroken,
    }
}

/// Four months, h.
const LONG_H: f64 = 120.0 * 24.0;

/// The bands; wetness is not known here, so the moist way of band A is never more than unread. Hours that were not
/// read may have been warm.
#[must_use]
pub fn bands(core: &Course, shell: Option<&Course>, occasions: &[f64], span: f64) -> Bands {
    let of = |lists: &[&[Held]]| {
        at_all_places(heat(core, lists, span), shell.map(|s| heat(s, lists, span)))
    };
    let hot_and_turned = |course: &Course| {
        let hot = heat(course, &[&[held(55.0, 72.0, false)]], span);
        all([hot, turned(occasions, Some((3, 0.0)))].into_iter())
    };
    let hot = at_all_places(hot_and_turned(core), shell.map(hot_and_turned));
    let moist = span >= LONG_H
        && [Some(core), shell]
            .into_iter()
            .flatten()
            .any(|c| c.warmest.is_some_and(|w| w >= 45.0) || span > c.known() + 1e-9);
    Bands {
        annuals: if hot == Met::No && moist {
            Met::Unread
        } else {
            hot
        },
        docks: of(&[&[held(60.0, 14.0 * 24.0, false)]]),
        disease: of(&[&[held(64.0, 21.0 * 24.0, true)]]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat_record::course::{Place, Reading};

    fn course(days: &[f64]) -> Course {
        let all: Vec<Reading> = days
            .iter()
            .map(|day| Reading {
                hour: day * 24.0,
                celsius: 30.0,
                place: Place::Core,
            })
            .collect();
        Course::of(&all, |_| true)
    }

    #[test]
    fn hours_that_nobody_read_may_have_been_warm() {
        // Half a year, three readings, one turning: no claim either way.
        let sparse = course(&[0.0, 60.0, 150.0]);
        let turned_once = [1000.0];
        assert_eq!(
            bands(&sparse, None, &turned_once, 180.0 * 24.0).annuals,
            Met::Unread
        );
        // Read every day and never warm: it was not met.
        let daily: Vec<f64> = (0..=180).map(f64::from).collect();
        let read = course(&daily);
        assert_eq!(
            bands(&read, None, &turned_once, 180.0 * 24.0).annuals,
            Met::No
        );
    }
}
