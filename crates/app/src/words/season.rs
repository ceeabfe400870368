//! A season in sentences: will there be room, what to do about it, browns, and going away.

use desk::{
    AwayAct, AwayAnswer, BrownsFacts, ChangeFacts, LayIn, MonthFacts, OverFacts, ReadyFor,
    SeasonAct, SeasonAnswer, SeasonAssumed,
};
use jiff::civil::Date;

use super::dates::{Grain, Speech};
use super::{Tongue, amount, capital, list};

/// A day is named up to this far ahead; beyond, the third of a month, d (choice).
const NAMED_DAYS: i32 = 28;
/// Litres that are worth a word.
const WORTH_L: f64 = 5.0;
/// Weeks before the bed that count as early.
const EARLY_WEEKS: f64 = 2.0;
/// A chance that is called most likely.
const SURE: f64 = 0.75;
/// Weeks within which Today speaks of it.
const SOON_WEEKS: i64 = 26;

fn speech(a: &SeasonAnswer) -> Speech {
    Speech {
        this_year: a.today.year(),
        south: a.south,
    }
}

fn grain(today: Date, day: Date) -> Grain {
    let days = today.until(day).map_or(0, |s| s.get_days());
    if days <= NAMED_DAYS {
        Grain::Day
    } else {
        Grain::Third
    }
}

/// "on 2 October", "in mid February 2027".
fn on(a: &SeasonAnswer, day: Date) -> String {
    speech(a).on(day, grain(a.today, day))
}

/// "2 October", "mid February 2027".
fn plain(a: &SeasonAnswer, day: Date) -> String {
    speech(a).plain(day, grain(a.today, day))
}

/// Litres of a plan: nearest 5 below 50, nearest 10 beyond; a year of scraps bears no more.
pub(crate) fn about(litres: f64, tongue: Tongue) -> String {
    let step = if litres < 50.0 { 5.0 } else { 10.0 };
    let rounded = (litres / step).round() * step;
    if rounded <= 0.0 {
        format!("less than {}", tongue.size(5.0))
    } else {
        format!("about {}", tongue.size(rounded))
    }
}

fn twenty(chance: f64) -> usize {
    (chance * 20.0).round() as usize
}

/// How often a week has no room, and why.
fn so_in(a: &SeasonAnswer, week: &OverFacts) -> String {
    let n = twenty(week.chance);
    if a.chambers.len() == 1 {
        format!("Doing as now, the chamber is full that week in {n} of 20 runs.")
    } else {
        format!(
            "Doing as now, one chamber is full that week and the other still rests, in {n} of 20 runs."
        )
    }
}

/// Stretches of weeks in which a quarter of the runs overflow; gaps of three weeks do not part them.
fn spells(a: &SeasonAnswer) -> Vec<(Date, Date)> {
    let mut all: Vec<(Date, Date)> = Vec::new();
    for week in a
        .overflow
        .iter()
        .filter(|o| o.chance >= 0.25)
        .map(|o| o.week)
    {
        match all.last_mut() {
            Some((_, to)) if to.until(week).is_ok_and(|s| s.get_days() <= 28) => *to = week,
            _ => all.push((week, week)),
        }
    }
    all
}

/// First week that overflows in at least half of the runs.
fn likely(a: &SeasonAnswer) -> Option<&OverFacts> {
    a.overflow.iter().find(|o| o.chance >= 0.5)
}

/// How sure it is that a week overflows.
fn how_sure(week: &OverFacts) -> &'static str {
    if week.chance >= SURE {
        "most likely"
    } else {
        "as likely as not"
    }
}

/// Whether there will be room: the week first, how sure behind.
pub(crate) fn room(a: &SeasonAnswer) -> Vec<String> {
    let (likely, first) = (likely(a), a.first_over());
    let mut said = Vec::new();
    match (likely, first) {
        (None, None) => {
            said.push("There should be room for a year.".into());
            if a.now.in_twenty > 0 {
                said.push(format!(
                    "In {} of 20 runs some of it finds none.",
                    a.now.in_twenty
                ));
            }
            return said;
        }
        (Some(week), _) => {
            let sure = how_sure(week);
            said.push(format!("No room left {}, {sure}.", on(a, week.week)));
            said.push(so_in(a, week));
        }
        (None, Some(week)) => {
            said.push(format!("Room may run out {}.", on(a, week.week)));
            said.push(so_in(a, week));
        }
    }
    let spells: Vec<String> = spells(a)
        .into_iter()
        .map(|(from, to)| speech(a).span(from, to, Grain::Third))
        .collect();
    said.push(format!(
        "It is tight, in 5 of 20 runs or more: {}.",
        spells.join("; ")
    ));
    if let Some(worst) = a
        .overflow
        .iter()
        .max_by(|x, y| x.chance.total_cmp(&y.chance))
    {
        said.push(format!(
            "Worst is {}: full in {} of 20.",
            speech(a).plain(worst.week, Grain::Third),
            twenty(worst.chance)
        ));
    }
    said
}

/// How much finds no room in a year, and how that hangs on what goes in.
pub(crate) fn spilt(a: &SeasonAnswer, tongue: Tongue) -> String {
    let [(_, less, _), (_, more, _)] = a.tried;
    format!(
        "In a year {} of scraps and browns find no room. With 30 % less going in: {}; with 30 % more: {}.",
        about(a.now.mean, tongue),
        about(less, tongue),
        about(more, tongue)
    )
}

/// The first thing to do, if there is need.
pub(crate) fn advice(a: &SeasonAnswer, tongue: Tongue) -> Vec<String> {
    if a.first_over().is_none() {
        return Vec::new();
    }
    let gained = a.now.mean - a.plan.mean;
    let mut said = Vec::new();
    let left = match a.changes.first() {
        Some(first) if gained >= WORTH_L => {
            said.push(change(a, first));
            said.push(format!(
                "By the whole plan {} find no room, not {}.",
                about(a.plan.mean, tongue),
                about(a.now.mean, tongue).trim_start_matches("about ")
            ));
            a.plan.mean
        }
        _ if a.chambers.len() == 1 => {
            said.push("One chamber cannot rest while it fills: a second one is what helps.".into());
            a.now.mean
        }
        _ => {
            said.push("Changing over at other times would not help.".into());
            a.now.mean
        }
    };
    if left >= WORTH_L {
        let takes = |act: &&SeasonAct| {
            if gained >= WORTH_L {
                act.after_plan_l >= 0.6 * left
            } else {
                act.effect_l >= 0.6 * left
            }
        };
        if let Some(help) = a.acts.iter().find(takes) {
            said.push(format!(
                "For what finds no room: {}.",
                super::lower(act_words(a, help.act))
            ));
        }
    }
    said
}

/// "On 2 October, empty Far and move the caddies there."
pub(crate) fn change(a: &SeasonAnswer, c: &ChangeFacts) -> String {
    let lead = format!(
        "{}, empty {} and move the caddies there",
        capital(&on(a, c.on)),
        c.empty
    );
    if c.early_weeks >= EARLY_WEEKS {
        format!(
            "{lead}. It is {} short of fit for a planted bed: spread it as mulch, or heap it to finish.",
            weeks(c.early_weeks)
        )
    } else {
        format!("{lead}.")
    }
}

fn weeks(count: f64) -> String {
    match count.round() as i64 {
        ..=1 => "a week".into(),
        n if n > 12 => "some months".into(),
        n => format!("about {n} weeks"),
    }
}

/// What an act is.
pub(crate) fn act_words(a: &SeasonAnswer, act: &str) -> &'static str {
    match act {
        "change_over" => "Change over by the plan",
        "empty_early" => "Change over by the plan, as mulch or on to a heap",
        "freeze" => "Freeze scraps until there is room (10 L taken)",
        "bag_with_leaves" => {
            "Keep scraps in a sack with three parts leaves, tied, in the open (60 L taken)"
        }
        "trench" => "Bury scraps a spade deep in a free bed, covered at once",
        "third_container" if a.chambers.len() < 2 => "Set up a second container (60 L taken)",
        "third_container" => "Set up a third container (60 L taken)",
        _ => "Something else",
    }
}

/// What an act does, by when, and what work it is.
pub(crate) fn act_effect(a: &SeasonAnswer, act: &SeasonAct, tongue: Tongue) -> String {
    let of = if a.now.mean > 0.0 {
        act.effect_l / a.now.mean
    } else {
        0.0
    };
    let share = match of {
        s if s >= 0.95 => "all of it".to_owned(),
        _ => about(act.effect_l, tongue),
    };
    format!(
        "From {}. Finds room for {share}. {}.",
        plain(a, act.by),
        work(act.minutes)
    )
}

/// Minutes are judged: only their order is meant.
fn work(minutes: u32) -> &'static str {
    match minutes {
        ..=15 => "A quarter of an hour or less",
        16..=30 => "Half an hour",
        31..=60 => "Up to an hour each time",
        _ => "Half a day to set up",
    }
}

/// Browns in sentences.
pub(crate) fn browns(a: &SeasonAnswer, tongue: Tongue) -> Vec<String> {
    let b: &BrownsFacts = &a.browns;
    let mut said = Vec::new();
    match (b.stock_l, b.weekly_l, b.weeks_left) {
        (Some(stock), Some(weekly), Some(left)) => said.push(format!(
            "{} of browns at hand last {}: you use {} a week.",
            tongue.size(stock),
            match left {
                l if l < 1.5 => "about a week".to_owned(),
                l if l < 26.0 => format!("about {l:.0} weeks"),
                _ => "half a year or more".to_owned(),
            },
            about(weekly, tongue)
        )),
        (None, Some(weekly), _) => said.push(format!(
            "You use {} of browns a week. None are counted at hand.",
            about(weekly, tongue)
        )),
        (_, None, _) => said.push("The log is too short to say how many browns you use.".into()),
        _ => {}
    }
    for lay in &b.lay_in {
        said.push(lay_in(a, lay, tongue));
    }
    said
}

fn lay_in(a: &SeasonAnswer, lay: &LayIn, tongue: Tongue) -> String {
    let s = if lay.sacks == 1 { "" } else { "s" };
    let amount = format!("{} sack{s} ({})", lay.sacks, about(lay.litres, tongue));
    match lay.what {
        "leaves" => format!(
            "For a year from then on, lay in {amount} of dry leaves by {}, or as much torn card.",
            speech(a).plain(lay.by, Grain::Day)
        ),
        _ => format!(
            "Until the leaves fall, find {amount} of torn card, by {}.",
            plain(a, lay.by)
        ),
    }
}

/// Compost for a day.
pub(crate) fn ready(a: &SeasonAnswer, r: &ReadyFor) -> Vec<String> {
    let day = speech(a).plain(r.by, Grain::Day);
    let mut said: Vec<String> = r
        .chambers
        .iter()
        .map(|(name, fit)| {
            let filling = a.filling && Some(name) == a.chambers.first();
            let lead = if filling {
                ", if nothing more went in,"
            } else {
                ""
            };
            format!("{name}{lead} is fit for a planted bed by {day} in {fit} of 20 runs.")
        })
        .collect();
    if a.filling
        && let Some(name) = a.chambers.first()
    {
        said.push(match r.close_by {
            Some(close) => format!(
                "A batch closed by {} makes it in 16 of 20 runs: {name}, if it is closed by then.",
                plain(a, close)
            ),
            None => format!(
                "A batch closed today makes it in fewer than 16 of 20 runs. Do not count on {name}."
            ),
        });
    }
    said
}

/// What it takes for granted.
pub(crate) fn assumed(a: &SeasonAnswer, tongue: Tongue) -> Vec<String> {
    a.assumed
        .iter()
        .map(|it| match it {
            SeasonAssumed::Town { name, given: true } => format!("The usual weather of {name}."),
            SeasonAssumed::Town { name, given: false } => {
                format!("No place is given, so the usual weather of {name}.")
            }
            SeasonAssumed::Latitude(_) => {
                "The usual weather of places as far north or south as you.".into()
            }
            SeasonAssumed::Learned(weeks) => format!(
                "What goes in is learnt from {weeks} weeks of your log: {} a week as it settles.",
                about(a.weekly_l, tongue)
            ),
            SeasonAssumed::Usual => format!(
                "Your log is empty yet, so a kitchen of three: {} a week as it settles.",
                about(a.weekly_l, tongue)
            ),
            SeasonAssumed::Rests(weeks) => format!(
                "A closed chamber rests about {weeks:.0} weeks before you empty it, as so far."
            ),
            SeasonAssumed::Bed => {
                "A closed chamber is emptied once it is fit for a planted bed.".into()
            }
            SeasonAssumed::Room(pct) => format!(
                "A chamber is full at {:.0} %: the rest is room to turn.",
                100.0 - pct
            ),
            SeasonAssumed::Measured(name) => format!("The level of {name} is as last measured."),
            SeasonAssumed::Litres(litres) => {
                format!("A chamber of unknown size holds {}.", tongue.size(*litres))
            }
            SeasonAssumed::LeftOut(names) => format!(
                "Two chambers are planned with; {} is left out.",
                list(names)
            ),
            SeasonAssumed::One => {
                "There is one chamber, so there is nothing to change over to.".into()
            }
        })
        .collect()
}

/// Share of its room from which a chamber is called nearly full (as before going away).
const NEARLY: f64 = 0.9;

/// "filling, about 65 L", "filling, nearly full, about 90 L": a level months ahead bears no more.
pub(crate) fn month(a: &SeasonAnswer, m: &MonthFacts, tongue: Tongue) -> String {
    let emptied = if m.emptied >= 10 { ", emptied" } else { "" };
    if m.state == "empty" {
        return format!("empty{emptied}");
    }
    let room = a.chambers.iter().position(|name| *name == m.chamber);
    let room = room.and_then(|k| a.room_l.get(k));
    let nearly = room.is_some_and(|room| m.level_l.mid > NEARLY * room);
    let full = if nearly { ", nearly full" } else { "" };
    format!(
        "{}{full}, {}{emptied}",
        m.state,
        about(m.level_l.mid, tongue)
    )
}

/// What topping up a closed chamber costs.
pub(crate) fn top_up(a: &SeasonAnswer, chamber: &str) -> Option<String> {
    let (_, with, without) = a.top_up.iter().find(|(name, _, _)| name == chamber)?;
    Some(if !with.is_finite() {
        "Topping it up now would put planted beds off beyond a year.".into()
    } else if *without <= 0.0 {
        format!(
            "Topping it up now would cost about {:.0} days: it is fit for planted beds as it is.",
            days(*with)
        )
    } else if without.is_finite() && with - without >= 1.0 {
        format!(
            "You may top it up, but it would cost about {:.0} days until planted beds.",
            days(with - without)
        )
    } else {
        "You may top it up: it has long to go, so that costs few days.".into()
    })
}

/// Weeks as days, to the ten.
fn days(weeks: f64) -> f64 {
    (weeks * 0.7).round() * 10.0
}

/// One line for Today, if an overflow lies within half a year.
pub(crate) fn in_short(a: &SeasonAnswer) -> Option<String> {
    let first = a.first_over()?;
    let soon = jiff::Span::new().try_weeks(SOON_WEEKS).ok()?;
    if first.week > a.today.checked_add(soon).ok()? {
        return None;
    }
    Some(match likely(a) {
        Some(week) => format!(
            "no room left {}, {}. See what to do",
            on(a, week.week),
            how_sure(week)
        ),
        None => format!("room may run out {}. See what to do", on(a, first.week)),
    })
}

/// What to do before going away.
pub(crate) fn before(act: AwayAct) -> &'static str {
    match act {
        AwayAct::EmptyCaddy => {
            "Empty the caddy into the chamber with its browns on top, and rinse it."
        }
        AwayAct::Freeze => "Freeze peelings that come after, or the caddy will smell.",
        AwayAct::Close => "Close the chamber that fills: it is nearly full.",
        AwayAct::Turn => "Turn it once.",
        AwayAct::Squeeze => {
            "Squeeze a handful. If it crumbles, sprinkle water until it holds; warm weather dries it."
        }
        AwayAct::Latch => "Latch doors and lids.",
    }
}

fn nearly_full(a: &AwayAnswer) -> bool {
    a.room.as_ref().is_some_and(|r| r.nearly_full)
}

/// How much room there is in those weeks, and what to do if there is none.
pub(crate) fn room_then(a: &AwayAnswer, tongue: Tongue) -> Option<String> {
    let Some(room) = &a.room else {
        return (!a.year_known)
            .then(|| "Whether there is room then is still being worked out: look again.".into());
    };
    let (name, level) = (&room.chamber, about(room.level_l.mid, tongue));
    Some(if room.nearly_full {
        format!(
            "{name} will be nearly full by then: {level}. Close it; freeze what comes, or begin elsewhere."
        )
    } else {
        let holds = about(room.room_l, tongue);
        let holds = holds.trim_start_matches("about ");
        format!("{name} should have room then: {level} of {holds} will be taken.")
    })
}

/// The slip for whoever looks after it: what to do, then what to leave.
pub(crate) fn slip(a: &AwayAnswer, tongue: Tongue) -> Vec<String> {
    let s = &a.sitter;
    let mut said = Vec::new();
    if s.needed {
        said.push("Please come by once a week.".into());
    } else {
        said.push("Nothing has to be done. The drum may stand alone.".into());
    }
    if s.turn_weekly {
        said.push(
            "Turn it once a week, unless it is frozen. Keep fingers and sleeves clear of the door."
                .into(),
        );
    }
    match &s.tip_into {
        Some(chamber) => {
            let browns: Vec<String> = s
                .browns
                .iter()
                .map(|d| {
                    format!(
                        "{} of {}",
                        amount(d, s.caddy_l, tongue),
                        super::lower(&d.name)
                    )
                })
                .collect();
            let with = if browns.is_empty() {
                "torn card or dry leaves".into()
            } else {
                list(&browns)
            };
            said.push(format!(
                "Scraps of your own may go into {chamber}. With a full caddy: {with}."
            ));
        }
        None if nearly_full(a) => said.push(
            "Please put nothing in: it is nearly full. Freeze your scraps, or use your own bin."
                .into(),
        ),
        None => said.push("Please put nothing in: no chamber takes scraps.".into()),
    }
    if let Some(chamber) = &s.leave_shut {
        said.push(format!(
            "Leave {chamber} shut. It is finishing, and takes nothing."
        ));
    }
    said.push("No meat, fish, dairy, cooked food, oil, ash or pet litter.".into());
    said.push(
        "Does it smell? Add two handfuls of torn card and turn it. It cannot wait? Ring us.".into(),
    );
    said.push("Wear gloves, keep your face out of the door, and wash your hands after.".into());
    said
}
