//! Where the numbers of a season come from.

use crate::why::Rule;

pub(crate) const RULES: &[Rule] = &[
    Rule {
        id: "season.inflow",
        title: "What goes in, litres a week as it settles",
        lines: &[
            "Month = (sum of your logged weeks of that month + 8 · level · shape) / (weeks + 8); level is the mean of your last year.",
            "Without a log: three people at 1.38 kg of scraps a week each, with card. A quarter of it follows the garden's months (judged).",
            "Three weeks or more without an entry count as not known; fewer count as nothing put in.",
            "Litres are those of the batch model, moved half-way towards the level you last read.",
            "Years differ: 16 of 20 lie within 30 % of the middle (a choice). Weeks differ as your log's do.",
        ],
        sources: &[
            "Eurostat, food waste of households 2022: 72 kg a person and year",
            "UNEP, household food waste 2022: 79 kg; WRAP, UK 2021: 76 kg",
            "Vázquez & Soto: 126 kg a person and year taken by home composting schemes, garden waste included",
        ],
        rests_on: &["mix.volume"],
    },
    Rule {
        id: "season.shares",
        title: "How a week's worth shrinks, and when it is fit",
        lines: &[
            "Twelve batches like yours in C:N and water, one begun in each month, 200 runs each of the batch model in your climate.",
            "Each gives the share of volume left week by week, and the weeks from closing to mulch and to the planted bed.",
            "On one day an older week never takes more room than a younger one. Between months: straight lines.",
        ],
        sources: &["choice; the batch model as in the forecast"],
        rests_on: &["forecast.rung", "forecast.inside"],
    },
    Rule {
        id: "season.overflow",
        title: "Litres that find no room, and the chance of it",
        lines: &[
            "200 years are followed week by week. A chamber is full at 80 %: the rest is room to turn.",
            "Doing as now: the caddies move when the chamber is full and the other is fit for a bed, or has rested as long as yours do.",
            "Until then, what finds no room is counted. The chance is the share of years with at least half a litre that week.",
            "A week is named from one year in four on, and called likely from one in two.",
        ],
        sources: &["choice", "a fifth left free to turn: common practice"],
        rests_on: &["season.inflow", "season.shares"],
    },
    Rule {
        id: "season.plan",
        title: "The plan: when to change over",
        lines: &[
            "Least of 100 · litres without room + 10 · weeks emptied too soon for a bed + 2 · changes, mean of the 200 years.",
            "The weeks are the same for all years. A chamber is emptied once it is mulch in 16 of 20 years.",
            "Solved exactly, by a table over the week of the last change.",
        ],
        sources: &[
            "Bellman 1957, Dynamic Programming (the method)",
            "weights: choice",
        ],
        rests_on: &["season.overflow"],
    },
    Rule {
        id: "season.acts",
        title: "What helps, least work first",
        lines: &[
            "Each act by itself against doing as now, mean of the 200 years. Minutes are judged.",
            "A freezer drawer takes 10 L, a sack with leaves 60 L, a further container 60 L (choices). A trench needs ground that is not frozen.",
        ],
        sources: &["choice", "common practice"],
        rests_on: &["season.overflow"],
    },
    Rule {
        id: "season.browns",
        title: "Browns: how long they last, and sacks to lay in",
        lines: &[
            "A week's use is the mean of your last 52 logged weeks of what dries or opens. Weeks left = counted stock / use.",
            "A sack is 60 L. Leaves are down by the end of November, in the south of May (common practice).",
        ],
        sources: &["common practice"],
        rests_on: &[],
    },
    Rule {
        id: "season.ready",
        title: "Close by, so that it is ready for a day",
        lines: &[
            "For what is in the chambers: the dots of its forecast that lie before the day.",
            "For a batch to come: the latest closing day from which 16 of 20 typical batches are fit for a planted bed in time.",
        ],
        sources: &["choice"],
        rests_on: &["season.shares", "forecast.window"],
    },
    Rule {
        id: "season.away",
        title: "Going away",
        lines: &[
            "Warm is a usual mean of 16 °C or more while you are away. A drum is left alone for two weeks, and longer at 5 °C or less; else one turn a week.",
            "A caddy keeps three days in the warm and a week in the cold. The chamber is closed first if it is nine tenths full.",
            "Its level on the first day away lies on a straight line between the month's ends of the year as it looks now.",
        ],
        sources: &["judged", "common practice"],
        rests_on: &["season.plan"],
    },
];
