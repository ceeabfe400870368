//! What stands behind the numbers of "ready" and of the heat record.

use crate::why::Rule;

pub(crate) const RULES: &[Rule] = &[
    Rule {
        id: "ready.chance",
        title: "The chance that a rung is reached",
        lines: &[
            "odds = odds of the forecast · Π factor; k of twenty runs give (k + ½)/21.",
            "factor = [s·w + (1−s)(1−w)] / [(1−t)·w + t(1−w)]: s how often a fit batch passes, t how often an unfit one fails, w how sure the pass is.",
            "Of two tests of breath, or two with plants, the stronger counts whole, the others half. A fail halves every 30 days.",
            "Pots and seed trays want one test of breath and one with plants. Rest since the last feed cannot be tested away.",
            "No more than 19 of 20 is ever said.",
        ],
        sources: &[
            "judged: every pair s, t, the half and the 30 days; docs/ready.md lists them",
            "choice: one test of each group, after CCQC 2001 (structure seen)",
        ],
        rests_on: &["forecast.rung", "ready.seeds"],
    },
    Rule {
        id: "ready.seeds",
        title: "What a seed test can tell",
        lines: &[
            "Share that came up, with Wilson’s 95 % interval; share against plain mix, with Koopman’s.",
            "Three of four for beds and pots, nine of ten for seed trays. Under 16 of 20 in plain mix says nothing.",
            "16 of 20 alone means 58 to 92 %: a few seeds cannot tell.",
        ],
        sources: &[
            "UF/IFAS: three of four radishes sprout and grow (seen)",
            "CCQC 2001: 90 % and 80 % of the control (recalled)",
            "Wilson 1927; Koopman 1984, Biometrics 40:513–517 (recalled); compared with SciPy",
        ],
        rests_on: &[],
    },
    Rule {
        id: "ready.flask",
        title: "What the flask and the bag can tell",
        lines: &[
            "Rise above the room: up to 10 K class V, 20 K IV, 30 K III, 40 K II, above that I.",
            "Mulch may rise 30 K, beds 20 K, pots and seed trays 10 K.",
            "A flask under 1.5 L, or of unknown size, hides heat: class IV at best. Under 5 days it can fail, not pass.",
            "A bag that smells of earth passes; a swollen one still breathes; a foul one fails.",
        ],
        sources: &[
            "EN 16087-2 and TMECC 05.08-D (recalled); Brinton et al. 1995: 1.5 to 2 L (seen)",
            "“Simple tests” after Texas NRCC 1998: sealed bag, 5 to 7 days (seen)",
        ],
        rests_on: &[],
    },
    Rule {
        id: "ready.next",
        title: "The test that would tell most",
        lines: &[
            "For bag, flask and seeds: doubt now less the doubt expected after it, in bits, over all rungs.",
            "Where pots are in reach, a kind of test that is wanting goes first.",
            "One done in the last 14 days is not asked again.",
        ],
        sources: &["choice"],
        rests_on: &["ready.chance"],
    },
    Rule {
        id: "heat.hours",
        title: "Hours of heat",
        lines: &[
            "Straight lines between readings at most 24 h apart; longer gaps are unknown. The forecast’s course is never used.",
            "Plain: time at 55 °C or more. Weighted: Σ Δt · 10^((T−55)/7.142857), from 50 °C on, 70 °C at most.",
            "The worse of both is compared with 72 h, at the colder place. Short peaks weigh more than any rule lets them.",
        ],
        sources: &[
            "US 40 CFR 503, Class A equation, slope 0.14 per °C (seen in 15A NCAC 02T .1106)",
            "EFSA Journal 2024;22(4):e8745: 55 °C for 72 h (abstract seen)",
        ],
        rests_on: &[],
    },
    Rule {
        id: "heat.turns",
        title: "Turnings between hot spells",
        lines: &[
            "A hot spell is 3 days or more at 55 °C. A turning counts between two of them.",
            "Never in the heat: f^n, f the cool share at each turning, 30 to 50 %. Five turnings leave 0.24 to 3.1 %.",
        ],
        sources: &[
            "Haug 1993 (recalled): f^n; judged: f of a drum",
            "Shepherd et al., abstract: at the surface of an unturned heap germs lived up to 4 months",
        ],
        rests_on: &["heat.hours"],
    },
    Rule {
        id: "heat.yardstick",
        title: "Criteria for heat, beside yours",
        lines: &[
            "Heat, time and turnings are compared. Wetness, size of pieces and the like are named, not checked.",
            "Met only where core and shell were read. Not met only where no unread hour could change it.",
            "None binds compost a household makes and uses itself, in the places known here. Local rules come first.",
        ],
        sources: &["each row names its own; those recalled were not checked against the text"],
        rests_on: &["heat.hours", "heat.turns"],
    },
];
