//! Where does this number come from?

use catalogue::Catalogue;
use engine::dose::Windows;
use engine::forecast::Rung;
use journal::Body;

use crate::answer::WhyAnswer;
use crate::look_up::{cite, figures};
use crate::{Desk, Error, HOUSEHOLD};

/// What stands behind a computed number.
pub(crate) struct Rule {
    pub(crate) id: &'static str,
    pub(crate) title: &'static str,
    pub(crate) lines: &'static [&'static str],
    pub(crate) sources: &'static [&'static str],
    pub(crate) rests_on: &'static [&'static str],
}

/// Equations and choices behind computed numbers.
const RULES: &[Rule] = &[
    Rule {
        id: "mix.water",
        title: "Water of a mix, % of wet mass",
        lines: &[
            "M = ΣQM / ΣQ",
            "Q is mass as it lies, M the water share of each material.",
        ],
        sources: &[
            "Rynk (ed.) 1992, On-Farm Composting Handbook, NRAES-54, ch. 3",
            "Richard & Trautmann 1996, Cornell Composting: Science and Engineering, moisture",
        ],
        rests_on: &["mix.spread"],
    },
    Rule {
        id: "mix.cn",
        title: "Carbon to nitrogen of a mix, by mass",
        lines: &[
            "C:N = Σ[Q C (1−M)] / Σ[Q N (1−M)]",
            "C and N are shares of dry mass. Ratios are never averaged: nitrogen masses are the weights.",
            "Carbonate carbon (shell, lime, ash) is left out: it is not food.",
        ],
        sources: &[
            "Rynk (ed.) 1992, On-Farm Composting Handbook, NRAES-54, ch. 3",
            "Richard & Trautmann 1996, Cornell Composting: Science and Engineering, C/N ratio",
        ],
        rests_on: &["mix.spread"],
    },
    Rule {
        id: "mix.cn_degradable",
        title: "Carbon that microbes reach, to nitrogen",
        lines: &[
            "Each carbon counts by B = 0.83 − 0.028·L, at least 0.05; L is lignin in % of volatile solids.",
            "It ranks materials; it forecasts nothing.",
        ],
        sources: &["Chandler et al. 1980, Biotechnol. Bioeng. Symp. 10:93–107 (recalled)"],
        rests_on: &["mix.cn"],
    },
    Rule {
        id: "mix.air_space",
        title: "Free air space of a mix, % of volume",
        lines: &[
            "FAS = 1 − ρ[M/1000 + (1−M)·VS/1600 + (1−M)(1−VS)/2500]",
            "ρ is the wet bulk density after mixing, VS the volatile share of dry mass.",
        ],
        sources: &[
            "Richard et al. 2004, Compost Sci. Util. 12 (abstract seen; particle densities recalled)",
            "van Ginkel et al. 1999 (abstract seen)",
        ],
        rests_on: &["mix.volume"],
    },
    Rule {
        id: "mix.volume",
        title: "Volume of a mix, litres",
        lines: &[
            "Loose volumes do not add: small pieces fill the gaps. 80 % of the sum is left, 70–90 %.",
        ],
        sources: &[
            "judged: 20 % lost; mixing coarse with fine loses 5–15 % (recalled), card loses more",
        ],
        rests_on: &[],
    },
    Rule {
        id: "mix.mass",
        title: "Wet mass of a mix, kg",
        lines: &["The sum of the portions. Volumes become mass by each material's bulk density."],
        sources: &["common practice"],
        rests_on: &["mix.spread"],
    },
    Rule {
        id: "mix.spread",
        title: "Low, middle and high",
        lines: &[
            "Low and high are the 5 % and 95 % points of 512 draws from the spreads of every figure and amount.",
            "The middle is computed at the typical figures. The draws are the same each time.",
        ],
        sources: &["choice"],
        rests_on: &[],
    },
    Rule {
        id: "window.water",
        title: "Window for water, % of wet mass",
        lines: &["50–62 % is good, outside 40–68 % is a warning."],
        sources: &[
            "NRAES-54 (Rynk 1992), Table 2.1: 40–65 % acceptable, 50–60 % preferred",
            "Haug 1993 (recalled): 55–65 % with paper; our upper edges are a choice between the two",
        ],
        rests_on: &[],
    },
    Rule {
        id: "window.cn",
        title: "Window for carbon to nitrogen",
        lines: &["25–40 is good, outside 20–50 is a warning. The aim is 30."],
        sources: &[
            "NRAES-54 (Rynk 1992), Table 2.1: 20–40 acceptable, 25–30 preferred",
            "The Composting Handbook 2022, Table 4.2: 20–60 acceptable, 25–40 preferred; the outer 50 is a choice",
        ],
        rests_on: &[],
    },
    Rule {
        id: "window.air",
        title: "Window for free air space, % of volume",
        lines: &["35 % or more is good, under 25 % is a warning."],
        sources: &[
            "Haug 1993 and Jeris & Regan 1973 (recalled): at least 30 %; the 25 % is a choice",
        ],
        rests_on: &[],
    },
    Rule {
        id: "dose.amount",
        title: "Amount to add",
        lines: &[
            "Find amounts, within the stock, that balance the distance outside the windows against the mass added.",
            "One step outside a window weighs as much as adding the scraps' own mass again (a choice).",
            "Each step is a linear program; then the best whole handfuls around the answer.",
            "Led by water: water alone to 60 %. Led by C:N: C:N alone to 30.",
        ],
        sources: &["Linear programming; windows as cited"],
        rests_on: &["window.water", "window.cn", "window.air", "dose.handful"],
    },
    Rule {
        id: "dose.handful",
        title: "A handful",
        lines: &[
            "0.35 L of torn card unless yours was measured: fill the caddy with card and count handfuls.",
        ],
        sources: &["common practice: hands hold 0.3–0.5 L and differ twofold"],
        rests_on: &[],
    },
    Rule {
        id: "dose.without",
        title: "Without the card: more nitrogen lost",
        lines: &[
            "Household waste composted without litter lost 70 % of its nitrogen in 590 days.",
            "With litter of six kinds it lost 43–62 %: so 8 to 27 points of the nitrogen more go without it.",
        ],
        sources: &[
            "Eklind & Kirchmann 2000, Bioresour. Technol. 74:125–133 (volume and pages recalled), abstract read",
        ],
        rests_on: &[],
    },
    Rule {
        id: "dose.days",
        title: "What the card buys, in days",
        lines: &[
            "Gain = Σ (day without − day with) / n until planted beds, over the same 200 runs with and without.",
            "The batch: twelve usual full caddies, one every three days from today, turned as often; each with its dose.",
            "Pieces: whole sheets, torn to a palm, shredded. Doubt = 2 · standard deviation / √n.",
            "A run not fit within a year of the last caddy counts as that year, so a long gain is a least.",
            "Shell is ash and carbonate: it feeds nothing here, so its size moves no date.",
        ],
        sources: &["choice: twelve caddies, one every three days"],
        rests_on: &["dose.amount", "forecast.rung", "forecast.inside"],
    },
    Rule {
        id: "forecast.rung",
        title: "What fit for a use means",
        lines: &[
            "All of a rung’s limits must hold on the same day. The date moves by months with them.",
            "Uptake is oxygen taken up at 25 °C, mg O2 per g of organic matter and day; by 2.67 it is mg CO2-C.",
            "Tests by hand move no date. What they and the forecast say of today is ready.chance.",
        ],
        sources: &[
            "CCME 2005, Guidelines for Compost Quality: uptake 9.6 is 400 mg O2/kg OM·h; 21 days of curing",
            "TMECC 05.08-B (recalled): 30, 20 and 5 are edges of its CO2 classes",
            "choice: uptake 4, the shares of card, the rest of 14, 28 and 60 days",
            "CCQC 2001 (recalled): C:N 25; common practice: nitrogen begins to be locked up at 30; choice: the others",
        ],
        rests_on: &["forecast.inside"],
    },
    Rule {
        id: "forecast.window",
        title: "A date, and how sure it is",
        lines: &[
            "1000 runs of the same batch, each with its own weather and its own guess at what is not known.",
            "Most likely: half of the runs are earlier. Sixteen of 20 lie between the 10 % and the 90 % point.",
            "Each of the twenty dots is the run at 1/40, 3/40 … 39/40 of them, in the order of their dates.",
            "Under three weeks between the ends a day is said, up to eight weeks a third of a month, else a season.",
            "It looks 365 days ahead. A run that is not fit by then counts as later than every date.",
        ],
        sources: &[
            "Kay et al. 2016, When (ish) is My Bus?, CHI 2016: quantile dot plots",
            "Joslyn & Savelli 2021: a drawn band is misread (abstract read)",
            "choice: 16 of 20, and how wide a window is said in days, thirds of a month and seasons",
        ],
        rests_on: &["forecast.rung", "forecast.inside"],
    },
    Rule {
        id: "forecast.inside",
        title: "What it is like inside, worked out",
        lines: &[
            "dS/dt = −k S Φ for quick matter, cellulose and lignin; Φ = water · nitrogen · air · oxygen · warmth.",
            "Heat, water and oxygen are kept in balance hour by hour for a core (60 % of mass) and a shell (40 %).",
            "The middle is that of the runs; the brackets are their 5 % and 95 % points. Readings move the runs.",
            "No worms, no layers of an unturned drum: where nothing was read, it is arithmetic.",
        ],
        sources: &[
            "Haug 1993, The Practical Handbook of Compost Engineering, ch. 9–13 (recalled)",
            "Rosso et al. 1993, J. Theor. Biol. 162:447–463: cardinal temperatures (recalled)",
            "Mason 2006, Waste Manag. 26:3–21, abstract: first-order decay with corrections fits best",
        ],
        rests_on: &["mix.water", "mix.cn", "check.readings"],
    },
    Rule {
        id: "forecast.oxygen",
        title: "Turn, break the balls, or leave it",
        lines: &[
            "15 % or more in wet clumps: turn it and break them. Else under 5 % oxygen by volume: turn it. Else leave it.",
            "Oxygen is the least of the day, in the middle of the runs.",
            "Turning brings little air itself: the pores of 90 L hold about 10 g of oxygen, a day’s decay takes some 300 g.",
        ],
        sources: &[
            "common practice: 5 % oxygen is the usual least for a heap",
            "Haug 1993 (recalled): decay halves at 2 % oxygen",
            "choice: 15 % in clumps; the 10 g and 300 g are computed",
        ],
        rests_on: &["forecast.inside"],
    },
    Rule {
        id: "forecast.moves",
        title: "What would move the planted-bed date",
        lines: &[
            "Runs that are fit already are left out: no act moves them.",
            "Gain = Σ (day without − day with) / n, over the same 200 runs with and without the act from tomorrow on.",
            "Doubt = 2 · standard deviation / √n. What gains or costs less than its doubt, or than a day, is left out.",
            "A run not fit within a year counts as a year ahead, so a long gain is a least.",
            "Doubt of the equations themselves is not in it.",
        ],
        sources: &["choice"],
        rests_on: &["forecast.window"],
    },
    Rule {
        id: "fix.chance",
        title: "How likely a cause is",
        lines: &[
            "P ∝ p · Π m(quantity), p = (5·w + n)/(5 + N), m = least · (most/least)^σ((x − at)/width)",
            "w is the usual share of a cause, judged from the order in which extension texts name them, never counted.",
            "m says how much a quantity speaks for a cause: water, C:N, air, warmth, level, days, card, what went in.",
            "n is how often you noted that it helped; the table is worth five batches. A chance is rounded to twentieths.",
            "A fresh reading goes before arithmetic. What is not known speaks for nothing. One cause at a time.",
        ],
        sources: &[
            "judged, after Troubleshooting Compost Piles (county extension, n.d.) and BioCycle troubleshooting, both seen",
            "rows with a source of their own: docs/put-right.md",
        ],
        rests_on: &["forecast.inside", "window.water", "window.cn"],
    },
    Rule {
        id: "fix.amount",
        title: "How much puts it right",
        lines: &[
            "Card: m(w − 60 %)/(60 % − its water), or to C:N 25 if that asks for more. Water: m(55 % − w)/45 %. Greens: to C:N 35.",
            "m and w are those of your chamber: measured if fresh, else worked out. What you notice goes first: slimy is 68 % at least.",
            "At most what leaves a fifth of the chamber empty. Cooling a hot load, or opening balls: a tenth by volume.",
            "Where the chamber is not known, it is for a bucket of 10 L and 5 kg, 70 % wet or 35 % dry.",
        ],
        sources: &[
            "Rynk (ed.) 1992, On-Farm Composting Handbook, NRAES-54, ch. 3: both formulas",
            "common practice: a tenth by volume, a fifth empty; choice: the aims, at the near edge of good",
        ],
        rests_on: &["window.water", "window.cn", "dose.handful"],
    },
    Rule {
        id: "check.readings",
        title: "How readings move a forecast",
        lines: &[
            "250 members are moved in four passes until what they say agrees with what was read (ES-MDA).",
            "A squeeze is a water share between 45, 55, 63 and 70 %; card is a share left between 25, 50 and 75 %.",
            "A finger is 2 cm, a hand 10 cm; in a drum on its side a depth becomes a share of its circle.",
            "What cannot be is set aside, with its reason, and stays in the log. docs/readings.md has the study.",
            "What the drum itself taught goes on to its next batch, widened.",
        ],
        sources: &[
            "Emerick & Reynolds 2013, Comput. Geosci. 55:3–15 (recalled): the method",
            "choice: cuts, and the error of a hand or an eye",
        ],
        rests_on: &["forecast.inside"],
    },
    Rule {
        id: "check.worth",
        title: "Which look would shorten the window most",
        lines: &[
            "For each outcome a look may have, runs are weighted by how well they agree with it.",
            "The width of the weighted window is averaged over the outcomes, as likely as the runs think them.",
            "The gain is the width now less that mean: an estimate. A kind read within four days is left out.",
        ],
        sources: &["choice"],
        rests_on: &["check.readings", "forecast.window"],
    },
    Rule {
        id: "check.record",
        title: "How many batches landed inside our window",
        lines: &[
            "Each forecast is kept as it was given, once a day. The one given after closing is held against the day of emptying.",
            "Only batches count of which you said what they were fit for. Use may come later than readiness.",
            "From five batches on, the spread of the days that remain is stretched by what they showed; before, by 1.3.",
            "A 90 % window is never narrower than 14 days, nor than a quarter of the days that remain.",
        ],
        sources: &[
            "choice: 1.3, held in a study of 840 invented batches; the floor",
            "Vovk, Gammerman & Shafer 2005 (recalled): conformal prediction",
        ],
        rests_on: &["forecast.window"],
    },
];

fn all() -> impl Iterator<Item = &'static Rule> {
    RULES
        .iter()
        .chain(crate::ready::RULES)
        .chain(crate::season::RULES)
}

impl Desk {
    /// What stands behind a number: a figure (`coffee-grounds.nitrogen_pct_dry`), a rule (`mix.cn`), a
    /// measure (`measure.coffee-pot`) or an entry of the log.
    ///
    /// # Errors
    /// [`Error::NoSuchId`].
    pub fn why(&self, id: &str) -> Result<WhyAnswer, Error> {
        let id = id.trim();
        let catalogue = self.catalogue()?;
        rule(id)
            .or_else(|| figure(&catalogue, id))
            .or_else(|| measure(&catalogue, id))
            .or_else(|| self.entry_why(id))
            .ok_or_else(|| Error::NoSuchId(crate::read::shortened(id)))
    }

    /// Ids of the rules, for a page that lists them.
    pub fn rules(&self) -> Vec<(&'static str, &'static str)> {
        all().map(|r| (r.id, r.title)).collect()
    }

    fn entry_why(&self, id: &str) -> Option<WhyAnswer> {
        let event = id.parse().ok()?;
        let entry = self.store().ok()?.entry(HOUSEHOLD, event).ok()??;
        let line = crate::log::log_line(&entry, &self.chamber_names().ok()?, &self.zone());
        let mut lines = vec![format!("{}, {}: {}", line.at, line.kind, line.text)];
        let mut rests_on = Vec::new();
        if let Some(Body::PutIn(it)) = entry.body.known() {
            for p in &it.portions {
                lines.push(format!(
                    "{}: {} {:.2} kg ({:.2}–{:.2})",
                    p.text, p.material, p.kg.mid, p.kg.low, p.kg.high
                ));
                rests_on.push(format!("{}.density_kg_m3", p.material));
            }
        }
        Some(WhyAnswer {
            id: line.id,
            title: "An entry of your log".into(),
            value: None,
            lines,
            sources: vec!["your own record".into()],
            rests_on,
        })
    }
}

/// The limits of the five rungs, from the engine, so that they cannot differ from those used.
fn rung_limits() -> Vec<String> {
    Rung::ALL
        .into_iter()
        .map(|rung| {
            let name = match rung {
                Rung::Mulch => "Mulch",
                Rung::RestingBed => "A resting bed",
                Rung::PlantedBed => "Planted beds",
                Rung::Pots => "Pots",
                Rung::SeedTrays => "Seed trays",
            };
            let l = rung.limits();
            format!(
                "{name}: uptake at most {}, C:N at most {}, at most {:.0} % of the card still to be recognised, {:.0} days since the last feed.",
                trim(l.uptake),
                trim(l.cn),
                l.recognisable * 100.0,
                l.rest
            )
        })
        .collect()
}

fn rule(id: &str) -> Option<WhyAnswer> {
    let rule = all().find(|r| r.id == id)?;
    let w = Windows::default();
    let value = match id {
        "window.water" => Some(format!(
            "{:.0}–{:.0} %",
            w.water.low * 100.0,
            w.water.high * 100.0
        )),
        "window.cn" => Some(format!(
            "{:.0}–{:.0}",
            w.carbon_nitrogen.low, w.carbon_nitrogen.high
        )),
        "window.air" => Some(format!("{:.0} % or more", w.air.low * 100.0)),
        _ => None,
    };
    let mut lines: Vec<String> = rule.lines.iter().map(|l| (*l).to_owned()).collect();
    if id == "forecast.rung" {
        lines.extend(rung_limits());
    }
    Some(WhyAnswer {
        id: rule.id.into(),
        title: rule.title.into(),
        value,
        lines,
        sources: rule.sources.iter().map(|l| (*l).to_owned()).collect(),
        rests_on: rule.rests_on.iter().map(|l| (*l).to_owned()).collect(),
    })
}

fn figure(catalogue: &Catalogue, id: &str) -> Option<WhyAnswer> {
    let (material, _) = id.rsplit_once('.')?;
    let material = catalogue.get(material)?;
    let f = figures(catalogue, material)
        .into_iter()
        .find(|f| f.id == id)?;
    Some(WhyAnswer {
        title: format!("{}: {}", material.name, f.property),
        value: Some(format!(
            "{} ({}–{}) {}",
            trim(f.value),
            trim(f.low),
            trim(f.high),
            f.unit
        )),
        lines: vec![f.place, format!("grade: {}", f.grade)],
        sources: vec![f.source],
        rests_on: material
            .food
            .as_ref()
            .map(|(food, _)| vec![format!("NDB {}", food.ndb)])
            .unwrap_or_default(),
        id: f.id,
    })
}

fn measure(catalogue: &Catalogue, id: &str) -> Option<WhyAnswer> {
    let m = catalogue
        .measures()
        .iter()
        .find(|m| Some(m.id.as_str()) == id.strip_prefix("measure."))?;
    let grams = m
        .grams
        .map(|g| format!("{} g ({}–{})", trim(g.mid), trim(g.low), trim(g.high)));
    Some(WhyAnswer {
        id: id.into(),
        title: m.name.clone(),
        value: grams.or_else(|| m.litres.map(|l| format!("{} L", trim(l)))),
        lines: vec![m.place.clone()],
        sources: vec![cite(catalogue, &m.source)],
        rests_on: Vec::new(),
    })
}

/// Three significant digits, without trailing zeros.
fn trim(value: f64) -> String {
    if value == 0.0 {
        return "0".into();
    }
    let places = (2 - value.abs().log10().floor() as i32).clamp(0, 6) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
