//! Weather files: what is read, what is noted, what is refused and in which words.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use std::fmt::Write as _;

use engine::climate::file::{Bridge, Format, Note, Series, Unit, read};
use engine::climate::weather::ObservedDay;
use engine::climate::{Day, Noise, Normals, Place, Reading, Weather};
use proptest::prelude::*;

fn day(y: i32, m: u32, d: u32) -> Day {
    Day::from_ymd(y, m, d).unwrap()
}

fn ok(text: &str) -> Reading {
    read(text.as_bytes()).unwrap_or_else(|e| panic!("{e}"))
}

fn on(reading: &Reading, d: Day) -> ObservedDay {
    *reading.days.get(&d).unwrap()
}

/// Says what is wrong; every message ends in a way out.
fn refusal(text: &str) -> String {
    read(text.as_bytes()).unwrap_err().to_string()
}

#[test]
fn a_plain_table_in_many_tongues() {
    for text in [
        "date,tmin,tmax\n2024-02-28,1.5,9\n2024-02-29,2,10.5\n",
        "Datum;Minimum (°C);Maximum (°C)\n28.02.2024;1,5;9\n29.02.2024;2;10,5\n",
        "fecha\ttemperatura mínima\ttemperatura máxima\n28/02/2024\t1.5\t9\n29/02/2024\t2\t10.5\n",
        "# station\nJahr;Monat;Tag;TNK;TXK\n2024;2;28;1.5;9\n2024;2;29;2;10.5\n",
        "date,min_temp_f,max_temp_f\n2/28/2024,34.7,48.2\n2/29/2024,35.6,50.9\n",
        "YYYYMMDD,TN (0.1 °C),TX (0.1 °C)\n20240228,15,90\n20240229,20,105\n",
        "latitude,longitude\n52.5,13.4\n\ntime,temperature_2m_min (°C),temperature_2m_max (°C)\n2024-02-28,1.5,9\n2024-02-29,2,10.5\n",
    ] {
        let r = ok(text);
        assert_eq!(r.format, Format::Csv);
        let leap = on(&r, day(2024, 2, 29));
        assert!((leap.min_c.unwrap() - 2.0).abs() < 1e-9, "{text}");
        assert!((leap.max_c.unwrap() - 10.5).abs() < 1e-9, "{text}");
        assert_eq!((r.days.len(), r.gaps.len()), (2, 0), "{text}");
    }
}

#[test]
fn latin_1_and_byte_order_marks() {
    let latin: Vec<u8> = "date;tmin (°C);tmax (°C)\n2024-01-01;1;5\n"
        .chars()
        .map(|c| c as u8)
        .collect();
    let marked = [
        b"\xef\xbb\xbf",
        "date,tmin,tmax\r\n2024-01-01,1,5\r\n".as_bytes(),
    ]
    .concat();
    for bytes in [latin, marked] {
        assert_eq!(read(&bytes).unwrap().days.len(), 1);
    }
    for bytes in [&b"PK\x03\x04abc"[..], b"d\0a\0t\0"] {
        assert!(
            read(bytes)
                .unwrap_err()
                .to_string()
                .contains("save it as CSV")
        );
    }
}

#[test]
fn missing_is_marked_and_gaps_are_told_with_their_bridge() {
    let r = ok(
        "date,tmin,tmax,rain (mm),wind\n2023-01-01,1,5,0.2,3\n2023-01-02,,,T,3\n2023-01-03,-9999,NA,,3\n2023-01-06,2,6,1.0,3\n2023-01-07,99.9,7,0,3\n",
    );
    let gaps: Vec<_> = r
        .gaps
        .iter()
        .map(|g| (g.series, g.first.to_string(), g.days(), g.bridge()))
        .collect();
    assert_eq!(
        gaps,
        [
            (
                Series::Temperature,
                "2023-01-02".into(),
                4,
                Bridge::DrawnBetweenNeighbours
            ),
            (
                Series::Temperature,
                "2023-01-07".into(),
                1,
                Bridge::DrawnBetweenNeighbours
            ),
            (Series::Rain, "2023-01-03".into(), 3, Bridge::DrawnFromYear),
        ]
    );
    assert_eq!(
        on(&r, day(2023, 1, 2)).rain_mm,
        Some(0.0),
        "a trace is nought"
    );
    assert!(
        r.notes.contains(&Note::Missing { cells: 6 }),
        "{:?}",
        r.notes
    );
    assert!(r.notes.contains(&Note::Ignored {
        column: "wind".into()
    }));
    // The bridge does as it says: the members differ in the gap and agree on the observed days.
    let place = Place {
        latitude: 50.0,
        monthly_mean_c: [4.0; 12],
        annual_rain_mm: Some(600.0),
        annual_sun_h: None,
    };
    let normals = Normals::new(place).unwrap();
    let draw = |m| {
        Weather::draw(
            &normals,
            day(2023, 1, 1),
            7,
            &r.days,
            Noise::default(),
            (1, m),
        )
    };
    let (a, b) = (draw(1), draw(2));
    let mean = |w: &Weather, n: usize| w.days()[n].mean_c;
    assert_eq!((mean(&a, 0), mean(&b, 0)), (3.0, 3.0));
    assert_eq!((mean(&a, 5), mean(&b, 5)), (4.0, 4.0));
    assert!((mean(&a, 2) - mean(&b, 2)).abs() > 1e-6);
    assert!(!a.days()[2].observed && a.days()[5].observed);
}

#[test]
fn hours_become_days_and_thin_days_are_left_out() {
    let mut text = String::from("timestamp,temperature (°C),ghi (W/m²)\n");
    for d in 1..=4 {
        // The third day breaks off at 10 o'clock.
        for h in 0..if d == 3 { 10 } else { 24 } {
            let sun = if (6..18).contains(&h) { 200 } else { 0 };
            writeln!(text, "2024-05-{d:02} {h:02}:00,{},{sun}", 10 + h / 2).unwrap();
        }
    }
    let r = ok(&text);
    let first = on(&r, day(2024, 5, 1));
    assert_eq!(
        (first.min_c, first.max_c, first.mean_c),
        (Some(10.0), Some(21.0), Some(15.5))
    );
    assert!((first.radiation_mj.unwrap() - 100.0 * 0.0864).abs() < 1e-9);
    assert_eq!(on(&r, day(2024, 5, 3)).mean(), None);
    assert!(
        r.notes.contains(&Note::ThinDays {
            days: 1,
            readings: 18
        }),
        "{:?}",
        r.notes
    );
    assert_eq!(r.gaps.len(), 2);
}

/// GHCN-Daily lines, as the readme lays them out; the figures are made up.
fn dly(element: &str, values: &[(i32, char)]) -> String {
    let mut line = format!("XX000000001202402{element}");
    for n in 0..31 {
        let (value, flag) = values.get(n).copied().unwrap_or((-9999, ' '));
        write!(line, "{value:5} {flag}S").unwrap();
    }
    line + "\n"
}

#[test]
fn ghcn_daily_fixed_width_and_long() {
    let mut high = vec![(105, ' '); 29];
    (high[3].1, high[4].0) = ('I', -9999);
    let text = dly("TMAX", &high)
        + &dly("TMIN", &[(-15, ' '); 29])
        + &dly("SNWD", &[(5, ' '); 29])
        + &dly("PRCP", &[(23, ' '); 29]);
    let r = ok(&text);
    assert_eq!(
        (r.format, r.station.as_deref()),
        (Format::GhcnDly, Some("XX000000001"))
    );
    assert_eq!(r.days.len(), 29);
    let leap = on(&r, day(2024, 2, 29));
    assert_eq!(
        (leap.min_c, leap.max_c, leap.rain_mm),
        (Some(-1.5), Some(10.5), Some(2.3))
    );
    assert!(r.notes.contains(&Note::Flagged { cells: 1 }));
    assert_eq!((r.gaps.len(), r.gaps[0].days()), (1, 2), "{:?}", r.gaps);

    let long = "XX000000001,20240229,TMAX,105,,,S,\nXX000000001,20240229,TMIN,-15,,,S,\nXX000000001,20240301,TMAX,990,,G,S,\n";
    let r = ok(long);
    assert_eq!(
        (r.format, on(&r, day(2024, 2, 29)).mean()),
        (Format::GhcnCsv, Some(4.5))
    );
    assert_eq!(on(&r, day(2024, 3, 1)).max_c, None);

    let other = text.replace("XX000000001202402TMIN", "YY000000001202402TMIN");
    assert!(refusal(&other).contains("line 2: station \"YY000000001\" follows \"XX000000001\""));
    let short = &text[..20];
    assert!(refusal(short).starts_with("line 1"), "{}", refusal(short));
    let in_common_year = text.replace("202402", "202302");
    assert!(
        refusal(&in_common_year).contains("2023-02-29"),
        "{}",
        refusal(&in_common_year)
    );
}

#[test]
fn ghcn_daily_with_headings_in_tenths_or_fahrenheit() {
    let table = |high: i32, low: i32| {
        let mut text = String::from(
            "\"STATION\",\"DATE\",\"NAME\",\"PRCP\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\"\n",
        );
        for n in 0..200 {
            let flag = if n == 7 { ",X,S" } else { ",,S" };
            writeln!(
                text,
                "\"XX1\",\"{}\",\"SOME, TOWN\",\"10\",\"{}\",\"{flag}\",\"{low}\"",
                day(2023, 3, 1) + n,
                high - n % 3
            )
            .unwrap();
        }
        text
    };
    let tenths = ok(&table(215, 102));
    let first = on(&tenths, day(2023, 3, 1));
    assert_eq!(
        (first.max_c, first.min_c, first.rain_mm),
        (Some(21.5), Some(10.2), Some(1.0))
    );
    assert_eq!(tenths.format, Format::GhcnCsv);
    assert_eq!(on(&tenths, day(2023, 3, 8)).max_c, None, "failed its check");
    assert!(tenths.notes.contains(&Note::Unit {
        column: "TMAX".into(),
        unit: Unit::TenthsCelsius,
        told: false
    }));
    let f = ok(&table(86, 59));
    let first = on(&f, day(2023, 3, 1));
    assert!(
        (first.max_c.unwrap() - 30.0).abs() < 1e-9 && (first.min_c.unwrap() - 15.0).abs() < 1e-9
    );
    // A cold short file in whole numbers may be either.
    let says = refusal("STATION,DATE,TMAX,TMIN\nX,2023-12-01,45,30\nX,2023-12-02,44,28\n");
    assert!(
        says.contains("may be °F or tenths") && says.contains("name the unit"),
        "{says}"
    );
}

#[test]
fn epw_and_tmy3() {
    let mut epw = String::from(
        "LOCATION,Some Town,-,XXX,TMYx,123450,50.0,8.6,1.0,112.0\nDESIGN CONDITIONS,0\nDATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\n",
    );
    let mut tmy = String::from(
        "123456,\"SOME TOWN\",XX,-5.0,36.100,-79.950,273\nDate (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),Dry-bulb (C),Dry-bulb source\n",
    );
    for n in 0..365 {
        let (_, m, d) = (day(2001, 1, 1) + n).ymd();
        let year = if m < 6 { 1991 } else { 2007 };
        for h in 1..=24 {
            let air = if (n, h) == (40, 3) {
                99.9
            } else {
                f64::from(m) + f64::from(h) / 10.0
            };
            let sun = if (7..19).contains(&h) { 300 } else { 0 };
            writeln!(
                epw,
                "{year},{m},{d},{h},60,?9?9,{air},1.0,80,100000,0,0,300,{sun},0,0"
            )
            .unwrap();
            writeln!(
                tmy,
                "{m:02}/{d:02}/{year},{h:02}:00,{sun},{},A",
                if air == 99.9 { -9900.0 } else { air }
            )
            .unwrap();
        }
    }
    for (text, format, latitude) in [(&epw, Format::Epw, 50.0), (&tmy, Format::Tmy3, 36.1)] {
        let r = ok(text);
        assert_eq!(
            (r.format, r.latitude, r.typical_year),
            (format, Some(latitude), true)
        );
        assert_eq!((r.days.len(), r.gaps.len()), (365, 0));
        let means = r.monthly_means();
        for m in 0..12 {
            assert!(
                (means[m].unwrap() - (m as f64 + 1.0 + 1.25)).abs() < 0.01,
                "{means:?}"
            );
        }
        let june = on(&r, day(2001, 6, 15));
        assert!((june.radiation_mj.unwrap() - 150.0 * 0.0864).abs() < 1e-9);
        assert!(r.notes.contains(&Note::Missing { cells: 1 }));
    }
    let hot = epw.replacen("2007,8,1,13,60,?9?9,9.3,", "2007,8,1,13,60,?9?9,93,", 1);
    let says = refusal(&hot);
    assert!(
        says.contains("dry bulb: air temperature: 93 °C is outside -90 to 60 °C"),
        "{says}"
    );
}

#[test]
fn refused_with_line_value_range_and_way_out() {
    for (text, says) in [
        ("", "the file is empty"),
        (
            "hello\nworld\n",
            "line 1: no heading names both a date and a temperature (read: hello); name the columns",
        ),
        ("date,wind\n2024-01-01,3\n", "no heading names both"),
        ("date,tmin,tmax\n", "no day of the file has a temperature"),
        (
            "date,tmin,tmax\n2024-01-01,,\n",
            "no day of the file has a temperature",
        ),
        (
            "date,tmin,tmax\n2024-01-01,1,warm\n",
            "line 2, tmax: \"warm\" is not a number; write one such as 12.5",
        ),
        (
            "date,tmin,tmax\n2023-02-29,1,5\n",
            "line 2: date \"2023-02-29\" is no day",
        ),
        (
            "date,tmin,tmax\nsoon,1,5\n",
            "line 2: date \"soon\" is no day",
        ),
        (
            "date,tmin,tmax\n03/04/2024,1,5\n04/04/2024,1,5\n",
            "line 2: date \"03/04/2024\" may be day/month or month/day",
        ),
        (
            "date,tmin,tmax\n2024-01-01,1,5\n2024-01-02,1,5\n2024-01-01,2,6\n",
            "line 4: 2024-01-01 was given before, on line 2",
        ),
        (
            "date,tmin (°C),tmax (°C)\n2024-01-01,1,85\n",
            "line 2, tmax (°C): air temperature: 85 °C is outside -90 to 60 °C; correct the cell",
        ),
        (
            "date,tmin,tmax,rain (mm)\n2024-01-01,1,5,-3\n",
            "line 2, rain (mm): rain of a day: -3 mm is outside 0 to 2000 mm",
        ),
        (
            "date,tmax,tmin\n2024-01-01,1,5\n2024-01-02,2,6\n",
            "line 2: minimum 5 °C lies above maximum 1 °C, and so on 2 of 2 days; the two columns are swapped",
        ),
        (
            "date,tmin,tmax,maximum\n2024-01-01,1,5,6\n",
            "line 1: \"tmax\" and \"maximum\" both look like maximum; keep one",
        ),
        (
            "station,date,tmin,tmax\nA,2024-01-01,1,5\nB,2024-01-01,1,5\n",
            "line 3: station \"B\" follows \"A\"",
        ),
        (
            "date,tmin,tmax\n2024-01-01\n",
            "line 2: 1 cells where 3 are needed",
        ),
        (
            "date,tmin,tmax\n2024-01-01,51.5,60.5\n2024-01-02,-70,60.5\n",
            "may be °F or tenths",
        ),
    ] {
        let said = refusal(text);
        assert!(said.contains(says), "{text:?} said {said}");
    }
}

#[test]
fn one_slip_of_order_costs_one_day_only() {
    let r = ok("date,tmin,tmax\n2024-01-01,1,5\n2024-01-02,7,2\n2024-01-03,1,5\n2024-01-04,1,5\n");
    assert_eq!(
        r.notes
            .iter()
            .filter(|n| **n == Note::MinOverMax { line: 3 })
            .count(),
        1
    );
    assert_eq!(on(&r, day(2024, 1, 2)).mean(), None);
    assert_eq!(r.gaps.len(), 1);
}

#[test]
fn a_century_of_days_and_every_leap_day() {
    let mut text = String::from("date,tmin,tmax,rain\n");
    let (first, last) = (day(1924, 1, 1), day(2023, 12, 31));
    for n in 0..=(last - first) {
        writeln!(text, "{},{}.5,{}.5,1.2", first + n, n % 7, 9 + n % 7).unwrap();
    }
    let r = ok(&text);
    assert_eq!((r.days.len(), r.gaps.len()), (36_525, 0));
    assert_eq!(
        r.days
            .keys()
            .filter(|d| matches!(d.ymd(), (_, 2, 29)))
            .count(),
        25
    );
    let text = text.replace("1950-06-15,", "1950-06-15T,");
    assert_eq!(ok(&text).days.len(), 36_525);
}

#[test]
fn seattle_as_it_comes() {
    // The measured file of the other tests, dated.
    let first = day(2012, 1, 1);
    let mut text = String::from("location,date,precipitation,temp_max,temp_min,wind\n");
    for (n, row) in (0..).zip(include_str!("data/seattle.csv").lines().skip(2)) {
        let cells: Vec<&str> = row.split(',').collect();
        writeln!(
            text,
            "Seattle,{},{},{},{},4.7",
            first + n,
            cells[2],
            cells[0],
            cells[1]
        )
        .unwrap();
    }
    let r = ok(&text);
    assert_eq!(
        (r.days.len(), r.gaps.len(), r.station.as_deref()),
        (1461, 0, Some("Seattle"))
    );
    let july = r.monthly_means()[6].unwrap();
    assert!((18.0..22.0).contains(&july), "{july}");
    let place = |latitude, shift: f64| Place {
        latitude,
        monthly_mean_c: r.monthly_means().map(|m| m.unwrap() + shift),
        annual_rain_mm: None,
        annual_sun_h: None,
    };
    let own = Normals::new(place(47.6, 0.0)).unwrap();
    assert!(r.mean_departure(&own).unwrap().abs() < 0.1);
    let far = Normals::new(place(47.6, 12.0)).unwrap();
    assert!((r.mean_departure(&far).unwrap() + 12.0).abs() < 0.1);
}

proptest! {
    #[test]
    fn any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        if let Err(e) = read(&bytes) {
            prop_assert!(!e.to_string().is_empty());
        }
    }

    #[test]
    fn any_cells_below_good_headings(cells in proptest::collection::vec("[-0-9.,;T/ a-zé°\"]{0,12}", 0..40), head in 0..4_usize) {
        let heads = [
            "date,tmin,tmax,rain", "Datum;TNK;TXK", "LOCATION,x,x,x,x,1,50,8,1,1\nDATA PERIODS,1",
            "123456,\"A\",XX,-5.0,36.1,-79.9,273\nDate (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),Dry-bulb (C)",
        ];
        let mut text = format!("{}\n", heads[head]);
        for (n, four) in cells.chunks(4).enumerate() {
            writeln!(text, "2024-01-{:02},{}", n + 1, four.join(",")).unwrap();
        }
        match read(text.as_bytes()) {
            Ok(r) => prop_assert!(r.days.values().any(|o| o.mean().is_some())),
            Err(e) => prop_assert!(!e.to_string().is_empty()),
        }
    }

    #[test]
    fn any_fixed_width_line(tail in "[ -~°]{0,300}") {
        let text = format!("XX000000001202402TMAX{tail}");
        if let Ok(r) = read(text.as_bytes()) {
            prop_assert!(r.days.len() <= 29);
        }
    }

    #[test]
    fn what_is_written_is_read_back(start in -100_000..300_000, days in proptest::collection::vec((-40.0..30.0_f64, 0.0..20.0_f64), 1..60), f in any::<bool>()) {
        let out = |c: f64| if f { c * 1.8 + 32.0 } else { c };
        let unit = if f { "°F" } else { "°C" };
        let mut text = format!("date;tmin ({unit});tmax ({unit})\n");
        for (n, (low, more)) in (0..).zip(&days) {
            writeln!(text, "{};{:.6};{:.6}", Day(start) + n, out(*low), out(low + more)).unwrap();
        }
        let r = read(text.as_bytes()).unwrap();
        prop_assert_eq!(r.days.len(), days.len());
        for (n, (low, more)) in (0..).zip(&days) {
            let o = r.days[&(Day(start) + n)];
            prop_assert!((o.min_c.unwrap() - low).abs() < 1e-5 && (o.max_c.unwrap() - low - more).abs() < 1e-5);
        }
    }
}
