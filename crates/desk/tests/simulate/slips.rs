//! What each slip in a case file is told.

use desk::CaseFault::{self, Bad, Failed, NotUnderstood};

/// Part to replace, by what, what is said, and what fault it is.
pub(crate) type Slip = (&'static str, &'static str, &'static str, CaseFault);

/// Slips of the finger in the usual case, each with its message word for word.
pub(crate) const SLIPS: &[Slip] = &[
    (
        "litres = 106",
        "litre = 106",
        "line 5, vessel.litre: no such key; did you mean `litres`?",
        Bad,
    ),
    (
        "litres = 106",
        "litres = -5",
        "line 5, vessel.litres: volume of the vessel: -5 L is outside 1 to 5000 L",
        Bad,
    ),
    (
        "litres = 106",
        "litres = nan",
        "line 5, vessel.litres: volume of the vessel: not a number; give 1 to 5000 L",
        Bad,
    ),
    (
        "litres = 106",
        "litres = \"106\"",
        "line 5, vessel.litres: \"106\" is not a number; give 1 to 5000 L without quotes",
        Bad,
    ),
    (
        "litres = 106",
        "litres = 106\nturnings = [3]",
        "line 6, vessel.turnings: no such key; it belongs at the top, above the first [table]",
        Bad,
    ),
    (
        "litres = 106",
        "litres = 106\nlength_cm = 75",
        "line 3, vessel: its size is given twice; keep litres, or length_cm and diameter_cm",
        Bad,
    ),
    (
        "\"drum\"",
        "\"barrel\"",
        "line 4, vessel.kind: `barrel` is not known here; say drum, bin, heap",
        Bad,
    ),
    (
        "day = 0",
        "day = -3",
        "line 9, feeds[1].day: day of the run: -3 is outside 0 to 59.5",
        Bad,
    ),
    (
        "day = 0",
        "date = 2025-03-29",
        "line 9, feeds[1].date: 2025-03-29 is outside 2025-04-01 to 2025-05-30, the days of this run",
        Bad,
    ),
    (
        "until_day = 30",
        "until_day = 200",
        "line 11, feeds[1].repeat.until_day: day of the run: 200 is outside 0 to 59.5",
        Bad,
    ),
    (
        "town = \"Cologne\"",
        "town = \"Colonge\"",
        "line 7, place.town: `Colonge` is not among the 269 towns known here; did you mean Cologne, Germany? Otherwise give latitude and monthly_mean_c",
        NotUnderstood,
    ),
    (
        "town = \"Cologne\"",
        "latitude = 34",
        "line 6, place: `monthly_mean_c` is missing; give twelve means from January to December",
        Bad,
    ),
    (
        "town = \"Cologne\"",
        "latitude = 37.8\nmonthly_mean_c = [20, 20, 18, 15, 12, 10, 9, 10, 12, 14, 16, 19]",
        "line 7, place.latitude: the warm months are the dark ones at 37.8°; south is negative (-37.8), and months run January to December there too",
        Bad,
    ),
    (
        "town = \"Cologne\"",
        "latitude = 51\nmonthly_mean_c = [1, 2, 3]",
        "line 8, place.monthly_mean_c: 3 means; give twelve, January to December",
        Bad,
    ),
    (
        "start = 2025-04-01",
        "start = \"2025-02-29\"",
        "line 1, start: date 2025-02-29: no such day; give a year from 1600 to 2999, a month from 1 to 12 and a day of that month",
        Bad,
    ),
    (
        "days = 60",
        "days = 36525",
        "line 2, days: days to look ahead: 36525 days is outside 1 to 3650 days",
        Bad,
    ),
    (
        "days = 60",
        "members = 1000000000",
        "line 2, members: members: 1000000000 is outside 1 to 100000",
        Bad,
    ),
    (
        "2 kg scraps",
        "2 kg wibblefrotz",
        "line 10, feeds[1].entry: `wibblefrotz` is not known here; say a thing and an amount, as \"2 kg scraps, 10 handfuls torn card\"",
        NotUnderstood,
    ),
    (
        "2 kg scraps",
        "yesterday 2 kg scraps",
        "line 10, feeds[1].entry: `yesterday` is a time; give it as day or date",
        Bad,
    ),
    (
        "[[feeds]]",
        "[[takings]]\nday = 0\nshare_pct = 99\n[[feeds]]",
        "line 10, takings[1].share_pct: share taken out: 99 % is outside 0 to 95 %",
        Bad,
    ),
    (
        "entry = \"2 kg scraps, 10 handfuls torn card\"",
        "mix = { kg_per_feed = 3, water_pct = 58 }",
        "line 10, feeds[1].mix: `cn` is missing; give target C:N from 1 to 500",
        Bad,
    ),
    (
        "entry = \"2 kg scraps, 10 handfuls torn card\"",
        "composition = { kg = 3, water_pct = 58 }",
        "line 10, feeds[1].composition: nitrogen is missing; give nitrogen_pct_dry or cn",
        Bad,
    ),
    (
        "town = \"Cologne\"",
        "weather = \"nowhere.csv\"",
        "line 7, place.weather: nowhere.csv: No such file or directory (os error 2)",
        Failed,
    ),
];
