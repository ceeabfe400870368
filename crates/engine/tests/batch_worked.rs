//! Numbers worked by hand or printed elsewhere, against the equations of the batch.
//!
//! "by formula" numbers were worked apart from this program, in Python, from the formulas named; the digits
//! are those written down then. Where a publication prints the number, it is named.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod batch_support;

use batch_support::kitchen;
use engine::batch::events::{Deed, done};
use engine::batch::params::Params;
use engine::batch::rates::water_share;
use engine::batch::vessel::Vessel;
use engine::batch::volume::bulk;
use engine::batch::{balance, carbon, heat, limits, nitrogen, oxygen, water};
use engine::ensemble::prior;
use engine::ensemble::run::empty;

/// Half a unit in the last digit written down.
fn same(name: &str, got: f64, printed: f64, places: i32) {
    assert!(
        (got - printed).abs() <= 0.5001 * 10f64.powi(-places),
        "{name}: {got}, printed {printed}"
    );
}

fn centre() -> Params<f64> {
    prior::params(&[0.0; Params::<f64>::COUNT], &Vessel::default())
}

// Haug 1993, The Practical Handbook of Compost Engineering, the curve 1.066^(T−20) − 1.21^(T−60); by formula.
#[test]
fn haugs_curve() {
    for (t, printed) in [
        (20.0, 1.000),
        (30.0, 1.892),
        (40.0, 3.568),
        (50.0, 6.655),
        (55.0, 8.979),
        (60.0, 11.891),
        (65.0, 15.151),
        (70.0, 17.699),
    ] {
        same("g_H", limits::steep::<f64>(t).0, printed, 3);
    }
    // 0.9995 at 20 °C; its top 71.6 °C, its nought near 80 °C.
    same("g_H(20)", limits::steep(20.0).0, 0.9995, 4);
    let top = (7000..7400)
        .map(|i| f64::from(i) * 0.01)
        .max_by(|a, b| limits::steep(*a).0.total_cmp(&limits::steep(*b).0))
        .unwrap();
    same("top", top, 71.6, 1);
    assert!(limits::steep(79.5).0 > 0.0 && limits::steep(80.5).0 < 0.0);
}

// Rosso, Lobry & Flandrois 1993, J. Theor. Biol. 162:447–463, cardinal temperatures; here the program's own
// span of 14 K above the best, −8 and 56 °C, worked by formula: γ(20) is 0.279 432, so g_T(56) is 3.579.
#[test]
fn rossos_curve_has_its_three_points() {
    let p = centre();
    assert_eq!(limits::cardinal(-8.0, &p).0, 0.0);
    assert!(limits::cardinal(70.0, &p).0.abs() < 1e-12);
    same("γ(56)/γ(20)", limits::cardinal(56.0, &p).0, 3.579, 3);
    // Level at its best, and the slope is the slope of the value.
    assert!(limits::cardinal(56.0, &p).1.abs() < 1e-12);
    for t in [-5.0, 3.0, 19.0, 21.0, 40.0, 60.0, 68.0] {
        let d = 1e-4;
        let (up, down) = (limits::paced(t + d, &p).0, limits::paced(t - d, &p).0);
        let slope = limits::paced(t, &p).1;
        assert!(((up - down) / (2.0 * d) - slope).abs() < 1e-6, "{t}");
    }
}

// The published fit to composting, Tn 5, To 58.6, Tx 71.6 °C (Richard & Walker 2006, recalled), by formula.
// The program's span is 14 K; a member with the published 13 K does not exist, so the formula is written here
// once more and then held against the program's with the program's span.
#[test]
fn rossos_curve_as_published() {
    let gamma = |t: f64, least: f64, best: f64, most: f64| {
        (t - most) * (t - least).powi(2)
            / ((best - least)
                * ((best - least) * (t - best) - (best - most) * (best + least - 2.0 * t)))
    };
    for (t, printed) in [
        (10.0, 0.0141),
        (20.0, 0.1229),
        (30.0, 0.3264),
        (40.0, 0.5968),
        (50.0, 0.8736),
        (58.6, 1.0),
        (65.0, 0.8522),
        (71.6, 0.0),
    ] {
        same("γ", gamma(t, 5.0, 58.6, 71.6), printed, 4);
    }
    let p = centre();
    for t in [0.0, 10.0, 25.0, 40.0, 60.0, 69.0] {
        let want = gamma(t, -8.0, 56.0, 70.0) / gamma(20.0, -8.0, 56.0, 70.0);
        assert!((limits::cardinal(t, &p).0 - want).abs() < 1e-12, "{t}");
    }
}

// The curve in use, half of each below 20 °C; by formula.
#[test]
fn the_temperature_factor_in_use() {
    let p = centre();
    assert!((p.cold_share - 0.5).abs() < 1e-7);
    for (t, printed) in [
        (0.0, 0.182),
        (5.0, 0.304),
        (10.0, 0.477),
        (20.0, 1.0),
        (30.0, 1.763),
        (40.0, 2.626),
        (56.0, 3.579),
        (65.0, 2.605),
    ] {
        same("g_T", limits::temperature(t, &p), printed, 3);
    }
}

// Haug 1993; Higgins & Walker 2001, Bioresour. Technol. 77:265 (recalled); by formula.
#[test]
fn water_air_and_oxygen_factors() {
    for (m, printed) in [
        (0.3, 0.147),
        (0.4, 0.503),
        (0.5, 0.856),
        (0.6, 0.972),
        (0.7, 0.995),
    ] {
        same("g_m", limits::moisture::<f64>(m), printed, 3);
    }
    for (f, printed) in [(0.10, 0.245), (0.1476, 0.500), (0.20, 0.776), (0.30, 0.974)] {
        same("g_FAS", limits::air_space::<f64>(f), printed, 3);
    }
    // Dry pores: half-saturation of 2 vol-%.
    let half = oxygen::half_saturation(0.0);
    assert_eq!(half, 2.0);
    for (x, printed) in [(2.0, 0.5), (5.0, 0.714), (10.0, 0.833), (20.9, 0.913)] {
        same("g_O2", x / (x + half), printed, 3);
    }
    // The level found is the root of a (20.9 − x) = R x/(x + K).
    for (q, wanted, half) in [(8.0, 0.3, 2.0), (0.5, 3.0, 6.0), (40.0, 1e-6, 2.0)] {
        let x: f64 = oxygen::level(q, wanted, half);
        let a = q * 1.33 / 100.0;
        let open = a * (20.9 - x) - wanted * x / (x + half);
        assert!(open.abs() < 1e-12 && (0.0..=20.9).contains(&x), "{x}");
    }
}

// Complete oxidation by formula, atomic masses of IUPAC: C6H10O5 + 6 O2, C6H12O6 + 6 O2, C18H26O10N.
#[test]
fn oxygen_and_water_of_oxidation() {
    let (c, h, o, n) = (12.011, 1.008, 15.999, 14.007);
    let of = |nc: f64, nh: f64, no: f64, nn: f64| {
        let mass = nc * c + nh * h + no * o + nn * n;
        // Nitrogen leaves as ammonia.
        let water = (nh - 3.0 * nn) / 2.0;
        let oxygen = (2.0 * nc + water - no) / 2.0;
        (oxygen * 2.0 * o / mass, water * (2.0 * h + o) / mass, mass)
    };
    let cellulose = of(6.0, 10.0, 5.0, 0.0);
    same("O2 of cellulose", cellulose.0, 1.184, 3);
    same("water of cellulose", cellulose.1, 0.556, 3);
    let glucose = of(6.0, 12.0, 6.0, 0.0);
    same("O2 of glucose", glucose.0, 1.066, 3);
    same("water of glucose", glucose.1, 0.600, 3);
    let food = of(18.0, 26.0, 10.0, 1.0);
    same("O2 of food", food.0, 1.441, 3);
    same("water of food", food.1, 0.498, 3);
    same("mass of food", food.2, 416.4, 1);
    same("C:N of food", 18.0 * c / n, 15.4, 1);
    // The program's rounded figures: cellulose as it is; quick matter between sugar and food.
    same("in use", carbon::OXYGEN[1], cellulose.0, 2);
    assert!(carbon::OXYGEN[0] > glucose.0 && carbon::OXYGEN[0] < food.0);
    assert!(carbon::WATER_MADE <= cellulose.1 && carbon::WATER_MADE >= food.1);
    same(
        "carbon of cellulose",
        carbon::CARBON_SHARE[1],
        6.0 * c / cellulose_mass(),
        3,
    );
}

fn cellulose_mass() -> f64 {
    6.0 * 12.011 + 10.0 * 1.008 + 5.0 * 15.999
}

// Allen et al. 1998, FAO Irrigation and Drainage Paper 56, annex 3 eq. 3-1, and eq. 11 for e°.
#[test]
fn vapour() {
    same("L(20)", heat::evaporation(20.0), 2.454, 3);
    same("L(55)", heat::evaporation(55.0), 2.371, 3);
    for (t, printed) in [
        (20.0, 0.0147),
        (40.0, 0.0488),
        (50.0, 0.0863),
        (55.0, 0.1145),
        (60.0, 0.1524),
    ] {
        let (x, slope) = water::humidity::<f64>(t, 1.0);
        same("x", x, printed, 4);
        let d = 1e-4;
        let by_hand = (water::humidity::<f64>(t + d, 1.0).0 - water::humidity::<f64>(t - d, 1.0).0)
            / (2.0 * d);
        assert!((by_hand / slope - 1.0).abs() < 1e-6, "{t}");
    }
}

// Richard et al. 2004, Compost Sci. Util. 12 (particle densities, recalled); by formula.
#[test]
fn free_air_space() {
    // Bulk density, dry share, organic share of dry matter; nothing lost, not settled: m ≤ 0.52 keeps the
    // density as put in, else it is put in so that the wet density is the one given.
    for (density, dry_share, organic, printed) in
        [(400.0, 0.42, 0.90, 0.667), (650.0, 0.35, 0.80, 0.446)]
    {
        let dry: f64 = density * dry_share;
        let water = density - dry;
        let share = water_share(water, dry);
        let slump = 1.0 + 0.8 * (share - 0.52f64).max(0.0);
        let b = bulk(
            water,
            dry * organic,
            dry * (1.0 - organic),
            share,
            0.0,
            (dry / slump, 1.0),
            0.0,
        );
        assert!((b.volume - 1.0).abs() < 1e-6);
        same("f", b.air_space, printed, 3);
    }
}

// Ash stays: organic share 0.90 falling to 0.75 means that 1 − (0.10·0.75)/(0.25·0.90) is lost; by formula.
#[test]
fn loss_from_ash() {
    let (p, v) = (centre(), Vessel::default().driven());
    let mut s = empty(15.0);
    done(&mut s, &Deed::Feed(kitchen(10.0, 0.58)), &p, &v);
    let share = |s: &engine::batch::state::State<f64>| {
        let m = &s.matter;
        let organic = m.quick + m.cellulose + m.lignin + m.humus;
        (organic, organic / (organic + s.kept.ash))
    };
    let (before, first) = share(&s);
    same("organic share of the feed", first, 0.90, 9);
    let lost: f64 = 1.0 - (0.10 * 0.75) / (0.25 * 0.90);
    same("loss", lost, 0.667, 3);
    s.matter.quick -= before * 0.40;
    s.matter.cellulose -= before * (lost - 0.40);
    same("organic share after it", share(&s).1, 0.75, 9);
}

// Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379 (pKa, recalled); by formula.
#[test]
fn share_of_ammonia() {
    same("pKa", 2729.92 / 298.15 + 0.090_18, 9.246, 3);
    same(
        "pH 8, 25 °C",
        nitrogen::ammonia_share::<f64>(25.0, 8.0),
        0.054,
        3,
    );
    same(
        "pH 8.5, 55 °C",
        nitrogen::ammonia_share::<f64>(55.0, 8.5),
        0.552,
        3,
    );
}

// 20 kg at 45 % to 58 %: 20 (0.58 − 0.45)/(1 − 0.58) = 6.19 kg; by formula.
#[test]
fn water_to_wet_a_mix() {
    let (p, v) = (centre(), Vessel::default().driven());
    let mut s = empty(15.0);
    done(&mut s, &Deed::Feed(kitchen(20.0, 0.45)), &p, &v);
    let kg = 20.0 * (0.58 - 0.45) / (1.0 - 0.58);
    same("water", kg, 6.19, 2);
    done(
        &mut s,
        &Deed::Wet {
            kg,
            temperature: 15.0,
        },
        &p,
        &v,
    );
    let m = &s.matter;
    let dry = m.quick + m.cellulose + m.lignin + m.humus + s.kept.ash;
    same("water share", water_share(m.water, dry), 0.58, 9);
    assert!((s.core - 15.0).abs() < 1e-9, "wetting at the same warmth");
    for r in balance::residuals(&s, &balance::scales(&s)) {
        assert!(r.abs() < balance::LIMIT);
    }
}

// The span of freezing, −2 to 0 °C, holds 0.334 MJ/kg; the inverse gives every temperature back.
#[test]
fn freezing_has_an_exact_inverse() {
    let (capacity, kg): (f64, f64) = (0.05, 12.0);
    for i in -200..=600 {
        let t = f64::from(i) * 0.1;
        let back = heat::from_stored(heat::stored(t, capacity, kg), capacity, kg);
        assert!((back - t).abs() < 1e-12, "{t} came back as {back}");
    }
    let held = heat::stored(0.0, capacity, kg) - heat::stored(-2.0, capacity, kg);
    same("heat of freezing", held, 0.334 * kg + 2.0 * capacity, 9);
}
