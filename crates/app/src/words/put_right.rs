//! What is wrong, in sentences: the act first, the reason second, the doubt third.

use desk::{CauseFacts, DoseLine, PutRightAmount, PutRightAnswer, Rests, SpeaksFor};

use super::inside::degrees;
use super::{Tongue, amount, capital, list, lower};

/// A family of things to notice, as a heading.
pub(crate) fn family(id: &str) -> &'static str {
    match id {
        "smell" => "It smells",
        "look" => "It looks or feels wrong",
        "warmth" => "Warmth",
        "animals" => "Animals",
        "caddy" => "The kitchen caddy",
        _ => "Other",
    }
}

/// A cause: its name, why it does what is noticed, and what a hand or an eye finds if it is that.
#[rustfmt::skip]
const CAUSES: &[(&str, &str, &str, &str)] = &[
    ("wet", "Too wet", "Water fills the gaps, so no air gets in.", "A squeezed handful drips or runs."),
    ("dry", "Too dry", "Without a film of water nothing rots.", "A squeezed handful is dusty or crumbles."),
    ("low_cn", "Too many greens", "The nitrogen that is not used goes off as ammonia.", "Little card can be seen; much grass, coffee or peel went in."),
    ("high_cn", "Too few greens", "Card alone feeds nothing that rots it.", "It holds when squeezed, and it is mostly card and leaves."),
    ("hot_alkaline", "Hot, or ash in it", "Heat and ash drive nitrogen off.", "The core is over 55 °C, or ash or lime went in."),
    ("dry_hot", "Dry and hot", "There is too little water to hold the ammonia, or to rot on.", "The core is hot, and a handful from it is dusty."),
    ("urine", "Litter with urine", "Urine turns to ammonia within days.", "Pet litter went in this month."),
    ("overfull", "Too full", "A full drum cannot fall as it turns, so it gets no air.", "It stands over three quarters full; turning only slides it."),
    ("matted", "Matted in clods", "Grass and food press into mats that shut out air.", "There are flat, slimy mats or clods in it."),
    ("airless", "Short of air", "What rots fast uses its air up.", "It warms again the day after a turn."),
    ("condensation", "Drops from the wall", "Warm damp air meets a cold wall, and the drops fall back.", "Lid and wall are wet; the middle holds when squeezed."),
    ("rain", "Rain gets in", "A hatch that faces up takes rain in.", "It is wetter after rain, most of all under the hatch."),
    ("juicy_load", "The last load", "Juicy scraps let go of their water in the first days.", "The mix holds when squeezed; only the new scraps are wet."),
    ("coarse", "Pieces too large", "Whole sheets and coated card rot from the rim only.", "Damp enough, but sheets lie whole or have a shine."),
    ("cold", "Only cold", "Below about 10 °C everything slows down; that harms nothing.", "It holds when squeezed and smells of earth; the air is cold."),
    ("small", "Only small", "A batch of this size loses its warmth as fast as it makes it.", "It holds when squeezed, sinks week by week, and is lukewarm at most."),
    ("finished", "Done", "What is easy to rot is used up.", "It is dark and crumbly, smells of earth, and shows no card."),
    ("spent", "The usual cooling", "The easy food is used up. It ripens now.", "A turn does not warm it again; it has sunk by a third."),
    ("rich_load", "A rich fresh load", "Much grass or manure at once rots in a rush.", "It was still hot at dawn, in the middle."),
    ("sun", "Sun on the drum", "A dark wall in the sun heats what lies behind it.", "At dawn it is cool; the heat follows the sun."),
    ("probe", "The probe in the wrong place", "Wall and sunshine are hotter than the batch.", "Fifteen centimetres deep, in the shade, it reads less."),
    ("wet_fines", "Wet crumbs rolling up", "Fine wet matter rolls into balls as the drum turns.", "The balls are dark and wet inside."),
    ("over_turned", "Turned too long", "Many rounds at a time roll balls.", "They came after long turning; they are not wet."),
    ("exposed", "Fruit lying open", "Flies lay their eggs on fruit they can reach.", "They rise from the top as you open the hatch."),
    ("caddy_source", "Flies from the caddy", "They hatch in the kitchen and come out with the scraps.", "There are flies in the kitchen too."),
    ("soldier_fly", "Soldier flies: harmless", "Their larvae eat fast, and the flies neither bite nor stay.", "Flat, ringed, cream to brown, one to two centimetres."),
    ("house_fly", "House flies", "They breed in meat, dairy and foul scraps.", "Smooth, white, thin at one end; it smells foul."),
    ("residues", "Sweet dirt on the frame", "Ants follow sugar.", "They run along the frame, not inside."),
    ("nest", "A nest inside", "A chamber left in peace makes a good nest.", "There are white eggs in the mix."),
    ("cooked", "Cooked food or meat", "Its smell carries far.", "Cooked food, bread, meat or cheese went in."),
    ("gaps", "Gaps in the drum", "A rat needs little more than a centimetre.", "There are gnawed edges, or gaps wider than a finger."),
    ("spilled", "Scraps lying about", "What lies under the drum feeds them first.", "There are scraps or bird seed on the ground."),
    ("normal_mould", "The usual fungi", "Threads and grey bloom rot wood and card. They belong there.", "White or grey threads through damp card, and a smell of earth."),
    ("mouldy_food", "Mouldy food on top", "Food in the air grows blue and green mould.", "Blue or green fur on bread, fruit or leftovers."),
    ("kept_seed", "Food seed that lived", "Tomato and squash seed lives through a cool batch.", "The first leaves are long and smooth, like tomato or squash."),
    ("weed_seed", "Weed seed", "Seed heads went in, and it was not hot enough.", "The seedlings are those of your beds."),
    ("blown_in", "Seed blown in", "What lies open takes in seed.", "They grow at the very top only, late in its rest."),
    ("eggshell", "Eggshell", "Shell takes years. It does no harm.", "White, thin, bent pieces."),
    ("stones", "Stones and nutshells", "Hard wood of stones and nuts takes many batches.", "Hard, brown or round pieces."),
    ("ice_block", "A wet block of ice", "Wet matter freezes to one lump.", "It dripped before the frost."),
    ("steady_feeding", "New feed hides it", "It sinks as fast as you fill it.", "Mark the level, feed nothing for a week: it falls."),
    ("wet_scraps", "Juicy scraps on a bare floor", "Cut fruit and peel give up their water.", "There is juice a day after emptying."),
    ("held_long", "Kept too long", "After three days scraps begin to rot where they are.", "It was emptied more than three days ago."),
    ("caddy_shut", "Sweat under a shut lid", "Warm wet scraps steam, and the lid catches it.", "Drops hang on the lid within hours."),
    ("fishy", "Meat, fish or dairy", "They smell within a day.", "It smells a day after such scraps went in."),
    ("caddy_wet", "Standing in its juice", "Juice without air turns sour.", "The smell sits at the bottom, in the juice."),
    ("caddy_dirty", "A film on the wall", "What clings to the wall goes on rotting.", "Empty, it still smells."),
    ("caddy_open", "An open lid", "A fly needs a minute to lay her eggs.", "The lid stands open, or has holes."),
    ("came_with_fruit", "Eggs that came with the fruit", "Fruit brings the eggs of its flies along.", "They came with one bowl of fruit."),
];

fn row(cause: &str) -> (&'static str, &'static str, &'static str) {
    CAUSES
        .iter()
        .find(|(id, ..)| *id == cause)
        .map_or(("Not known", "", ""), |(_, name, why, sign)| {
            (*name, *why, *sign)
        })
}

/// "Too wet".
pub(crate) fn cause(id: &str) -> &'static str {
    row(id).0
}

/// Why the cause does what is noticed.
pub(crate) fn reason(id: &str, tongue: Tongue) -> String {
    tongue.warm(row(id).1)
}

/// What a hand finds if it is that.
pub(crate) fn sign(id: &str, tongue: Tongue) -> String {
    tongue.warm(row(id).2)
}

/// An amount in the measure a hand would use, "about 2 caddies (12 L) of torn cardboard".
fn said(line: &DoseLine, caddy_l: f64, tongue: Tongue) -> String {
    format!("{} of {}", amount(line, caddy_l, tongue), lower(&line.name))
}

/// Less than half a handful is none, L (choice).
const NONE_L: f64 = 0.15;

/// What to do, in one or two sentences.
pub(crate) fn act(c: &CauseFacts, caddy_l: f64, tongue: Tongue) -> String {
    if let Some(a) = &c.amount {
        return with_amount(c, a, caddy_l, tongue);
    }
    let said = match (c.act, c.cause) {
        ("add_card" | "add_coarse" | "cover", _) => "Mix in dry torn card until a handful holds.",
        ("add_water", _) => "Sprinkle water in as you turn it, until a handful holds.",
        ("add_greens", _) => "Mix in some coffee grounds or fresh peelings.",
        ("turn", "nest") => "Turn it five times round, every day for a week.",
        ("turn", _) => "Turn it five times round today, and again every other day.",
        ("break_clumps", _) => {
            "Break the mats and clods to a walnut’s size. Mix torn card between them."
        }
        ("open_up", _) => "Clear the vents. Prop the hatch open for two hours on a dry day.",
        ("keep_rain_out", _) => "Turn the hatch to the side, away from the rain. Cover the drum.",
        ("stop_feeding", "spent") => "Add nothing more. Let it ripen.",
        ("stop_feeding", cause) => return stop_feeding(cause, c.feed_instead.as_deref()),
        ("wait", "cold") => "Leave it. It goes on by itself once the days are above 10 °C.",
        ("wait", "small") => "Leave it. It rots cool, in months rather than weeks.",
        ("wait", "soldier_fly") => "Leave them. They fly off within weeks.",
        ("wait", "normal_mould") => "Leave it. Damp it before you turn it, if it is dusty.",
        ("wait", _) => "Add nothing new, for it is closed. Turn it, keep it damp, and wait.",
        ("test_it", _) => {
            "Seal a damp handful in a bag for three days. If it smells of earth, use it."
        }
        ("tear_smaller", _) => "Tear the sheets to a palm’s size. Take glossy and waxed card out.",
        ("no_ash", _) => "Leave ash and lime out. Turn it, and mix in damp leaves.",
        ("litter_out", _) => "Keep litter out, and rest this batch three weeks longer.",
        ("shade", _) => "Shade the drum at midday. Read the warmth at dawn.",
        ("measure_core", _) => {
            "Measure again: in the middle, fifteen centimetres deep, out of the sun."
        }
        ("turn_less", _) => "Turn it three to five times round, twice a week. No more.",
        ("empty_caddy", _) => "Empty the caddy today, then every two days while it is warm.",
        ("meat_out", _) => {
            "Take meat and dairy out. Mix in torn card, and turn it daily for a week."
        }
        ("rinse_frame", _) => "Rinse the frame. Put a ring of grease round its legs.",
        ("cooked_out", _) => {
            "Keep cooked food, bread, meat and cheese out. Bury what is in there in card."
        }
        ("mesh_gaps", _) => {
            "Close every gap with steel mesh of 6 mm. Stand the drum off the ground."
        }
        ("clear_spill", _) => "Clear up scraps and bird seed round the drum today.",
        ("bury_mould", _) => "Turn the mouldy food under, and lay dry card on top.",
        ("pull_seedlings", _) => "Pull the seedlings and put them back in as greens.",
        ("use_covered", _) => "Use it under five centimetres of mulch, not as a seed bed.",
        ("cover_resting", _) => "Pull what grows, and cover the compost while it rests.",
        ("crush_shells", _) => "Leave it. Crush the next shells to crumbs before they go in.",
        ("screen_out", _) => "Screen them out, and put them into the next batch.",
        ("leave_frozen", _) => "Leave it until it thaws. Then mix in torn card.",
        ("line_caddy", _) => "Lay a handful of torn card on the floor of the caddy each time.",
        ("cool_first", _) => "Let hot grounds cool first. Wipe the lid dry.",
        ("freeze", _) => "Keep such scraps out of the drum. Freeze them until they are collected.",
        ("rinse_caddy", _) => "Rinse it with cold water, and let it dry with the lid off.",
        ("shut_lid", _) => "Keep the lid shut. Lay a sheet of paper over the scraps.",
        ("rinse_fruit", _) => "Rinse fruit when it comes home. Freeze its peel for a day.",
        _ => "Ask a neighbour who composts to have a look.",
    };
    tongue.warm(said)
}

/// Nothing more goes in: where the scraps go meanwhile.
fn stop_feeding(cause: &str, instead: Option<&str>) -> String {
    match (cause, instead) {
        ("steady_feeding", Some(other)) => {
            format!("Mark the level, and feed {other} for two weeks.")
        }
        ("steady_feeding", None) => {
            "Mark the level, and add nothing for a week. Freeze the scraps meanwhile.".into()
        }
        (_, Some(other)) => {
            format!("Add nothing more here. Feed {other} until this one has sunk to two thirds.")
        }
        (_, None) => "Add nothing more until it has sunk to two thirds. Freeze the scraps meanwhile, or set up one more container.".into(),
    }
}

fn with_amount(c: &CauseFacts, a: &PutRightAmount, caddy_l: f64, tongue: Tongue) -> String {
    let litres = a.line.litres.unwrap_or(0.0);
    if litres < NONE_L {
        return match a.bound_by {
            "room" => "Take a bucket out first. There is no room for anything dry.".into(),
            _ => "Add nothing yet. Squeeze a handful first.".into(),
        };
    }
    let what = said(a.today.as_ref().unwrap_or(&a.line), caddy_l, tongue);
    if a.per_bucket {
        let bucket = if tongue.us {
            "each 2½ gallons"
        } else {
            "each bucket (10 L)"
        };
        return format!(
            "For {bucket} that is in there, start with {what}. Squeeze a handful, and go on until it holds."
        );
    }
    let all = match (&a.today, a.bound_by) {
        (Some(_), _) => " today",
        (None, "room") => ", all there is room for",
        _ => "",
    };
    match c.act {
        "add_water" => {
            let water = amount(&a.line, caddy_l, tongue);
            format!("Sprinkle in {water} of water as you turn it.")
        }
        "add_coarse" => format!("Break the balls by hand. Then mix in {what}{all}."),
        "cover" => format!("Turn the fruit under. Then lay {what} on top."),
        _ => format!("Mix in {what}{all}."),
    }
}

/// What helps the amount along, where it needs saying.
pub(crate) fn besides(
    c: &CauseFacts,
    state: Option<&str>,
    caddy_l: f64,
    tongue: Tongue,
) -> Option<String> {
    if let Some(a) = c.amount.as_ref().filter(|a| a.today.is_some()) {
        let room = if a.bound_by == "room" {
            "all there is room for"
        } else {
            "in all"
        };
        let all = amount(&a.line, caddy_l, tongue);
        return Some(format!(
            "Then squeeze a handful before each further bucket: {all}, {room}. Tear it to a palm’s size, and turn five times round."
        ));
    }
    let text = match c.act {
        "add_water" => "Half today, half tomorrow: dry card takes water up slowly.",
        "add_card" if c.cause == "rich_load" => {
            "Turn it every day and leave the hatch open until it is below 60 °C."
        }
        "add_card" if state == Some("closed") => {
            "Card only, nothing that rots: it is closed. Tear it, and turn it five times round."
        }
        "add_card" => {
            "Tear it to a palm’s size. Turn five times round, and nothing juicy for a week."
        }
        _ => return None,
    };
    Some(tongue.warm(text))
}

/// "about 12 chances in 20".
pub(crate) fn chance(in_twenty: usize) -> String {
    match in_twenty {
        0 => "less than 1 chance in 20".into(),
        1 => "about 1 chance in 20".into(),
        20 => "more than 19 chances in 20".into(),
        n => format!("about {n} chances in 20"),
    }
}

/// Something known, as a phrase.
fn known(b: &SpeaksFor, tongue: Tongue) -> Option<String> {
    let days = |text: &str| {
        let n = b.value.round().max(0.0);
        let s = if n == 1.0 { "" } else { "s" };
        format!("{text} {n:.0} day{s} ago")
    };
    let fives = super::inside::fives(b.value);
    let phrase = match b.what {
        "water_pct" if b.measured => format!("your squeeze, about {fives:.0} % water"),
        "water_pct" => format!("about {fives:.0} % water"),
        "cn" => format!("C:N about {:.0}", b.value),
        "air_space_pct" if b.value < 2.5 => "hardly any air in it".into(),
        "air_space_pct" => format!("about {fives:.0} % air in it"),
        "oxygen_pct" if b.value < 1.0 => "under 1 % oxygen at its lowest".into(),
        "oxygen_pct" => format!("{:.0} % oxygen at its lowest", b.value),
        "clumped_pct" => format!("about {fives:.0} % in wet clumps"),
        "core_c" => format!("{} in the middle", degrees(b.value, tongue)),
        "air_c" => format!("{} outside", degrees(b.value, tongue)),
        "rise_k" => "a middle warmer than the air".into(),
        "litres" => format!("only {} in all", tongue.size(b.value)),
        "level_pct" => format!("about {fives:.0} % full"),
        "days_ge_40" if b.value < 1.0 => "no hot days so far".into(),
        "days_ge_40" => format!("about {:.0} hot days behind it", b.value),
        "days_since_turn" => days("turned"),
        "days_since_feed" => days("fed"),
        "filled_over_days" => format!("filled over {:.0} days", b.value),
        "recognisable_pct" => format!("about {fives:.0} % of the card still to be seen"),
        "grass" | "coffee" | "manure" | "bread" | "meat" | "fruit" | "ash" | "weeds"
            if b.value >= 1.0 =>
        {
            format!("{} in what went in lately", b.what)
        }
        "cooked" if b.value >= 1.0 => "cooked food in what went in lately".into(),
        "juicy" => "juicy scraps in what went in lately".into(),
        _ => return None,
    };
    Some(phrase)
}

/// What speaks for a cause, at most three things.
pub(crate) fn because(c: &CauseFacts, tongue: Tongue) -> Option<String> {
    let all: Vec<String> = c
        .because
        .iter()
        .filter_map(|b| known(b, tongue))
        .take(3)
        .collect();
    (!all.is_empty()).then(|| format!("It fits: {}.", list(&all)))
}

/// What speaks against the first cause: look before you act.
pub(crate) fn against(c: &CauseFacts, tongue: Tongue) -> Option<String> {
    let of_level = |what: &str| what == "level_pct";
    let b = c
        .against
        .as_ref()
        .filter(|b| c.amount.is_some() || of_level(b.what))?;
    let said = known(b, tongue)?;
    let look = match b.what {
        "water_pct" => "Trust the squeeze.",
        "level_pct" => "Look at the level before you stop feeding.",
        _ => "Look before you add any.",
    };
    Some(if b.measured {
        format!(
            "But you noted {}. {look}",
            said.trim_start_matches("your squeeze, ")
        )
    } else {
        format!("But arithmetic has {said}. {look}")
    })
}

/// What the chances rest on.
pub(crate) fn rests(a: &PutRightAnswer) -> String {
    let chamber = a.chamber.as_deref().unwrap_or("the chamber");
    match (a.rests, a.state) {
        (Rests::Forecast, _) => format!(
            "Weighed with the log of {chamber}, what you measured, and arithmetic for the rest."
        ),
        (Rests::Log, _) => {
            format!("Weighed with the log of {chamber} only. Its inside is still being worked out.")
        }
        (Rests::Nothing, Some(_)) => {
            format!("{chamber} is empty in the log, so these are the usual chances alone.")
        }
        (Rests::Nothing, None) => {
            "No chamber is known here, so these are the usual chances alone.".into()
        }
        (Rests::Caddy, _) => "Weighed with the season and the log of what went in.".into(),
    }
}

/// The lead of an answer: whether anything is wrong, and what to do.
pub(crate) fn lead(c: &CauseFacts, caddy_l: f64, tongue: Tongue) -> String {
    let act = act(c, caddy_l, tongue);
    // What is known says otherwise: the hand goes first, then the amount.
    let denied = c.amount.is_some() && c.against.as_ref().is_some_and(|b| b.what == "water_pct");
    match c.act {
        // Half the chances or more say otherwise: then it is not said flatly.
        _ if c.nothing_wrong && c.in_twenty <= 10 => format!("Perhaps nothing is wrong. {act}"),
        _ if c.nothing_wrong => format!("Nothing is wrong. {act}"),
        "add_water" if denied => {
            format!("Squeeze a handful first. If it crumbles: {}", lower(&act))
        }
        _ if denied => format!("Squeeze a handful first. If it drips: {}", lower(&act)),
        _ => act,
    }
}

/// The cause and how likely it is.
pub(crate) fn likely(c: &CauseFacts) -> String {
    format!("{}: {}.", cause(c.cause), chance(c.in_twenty))
}

/// How to tell the first from the second.
pub(crate) fn apart(a: &PutRightAnswer, tongue: Tongue) -> Option<[String; 2]> {
    match a.causes.as_slice() {
        [first, second, ..] => Some(
            [first, second]
                .map(|c| format!("{}: {}", cause(c.cause), lower(&sign(c.cause, tongue)))),
        ),
        _ => None,
    }
}

/// What can hurt, for the symptom and the act.
pub(crate) fn mind(symptom: &str, c: &CauseFacts) -> Vec<&'static str> {
    let mut all = Vec::new();
    if matches!(symptom, "mould" | "musty_grey") || matches!(c.cause, "dry" | "dry_hot") {
        all.push("Damp a dry heap before you open it; its dust carries mould spores. Stand upwind. Weak lungs? Let somebody else do it.");
    }
    if matches!(symptom, "mould") || c.cause == "mouldy_food" {
        all.push("Keep dogs away: mouldy food can make one very ill. If it ate some, ring a vet at once.");
    }
    if symptom == "rodents" {
        all.push("Wear gloves and wash your hands: rats foul what they touch. Where your council has a rule, it goes first.");
    }
    if symptom == "ammonia" {
        all.push("Keep your face out of the door. Ammonia stings eyes and lungs.");
    }
    if symptom == "too_hot" {
        all.push("Open it slowly, with your face away: steam scalds.");
    }
    if matches!(
        symptom,
        "larvae" | "caddy_flies" | "rotten" | "slimy" | "dripping"
    ) {
        all.push("Wear gloves, and wash your hands after.");
    }
    if symptom == "frozen" {
        all.push("Do not force a frozen drum: it can jam or slip.");
    }
    if matches!(
        c.act,
        "break_clumps" | "add_coarse" | "tear_smaller" | "screen_out" | "meat_out"
    ) {
        all.push("Lock the drum before a hand goes in.");
    } else if matches!(
        c.act,
        "turn"
            | "add_card"
            | "add_water"
            | "add_greens"
            | "no_ash"
            | "turn_less"
            | "cover"
            | "bury_mould"
    ) {
        all.push("Latch the door before you turn it. Keep fingers, hair and children clear.");
    }
    all
}

/// The step that is done now, where it can be counted.
pub(crate) fn step(c: &CauseFacts) -> Option<&DoseLine> {
    let a = c.amount.as_ref().filter(|a| !a.per_bucket)?;
    Some(a.today.as_ref().unwrap_or(&a.line)).filter(|l| l.litres.unwrap_or(0.0) >= NONE_L)
}

/// What the log says once it is done.
pub(crate) fn noted(a: &PutRightAnswer, c: &CauseFacts, tongue: Tongue) -> String {
    let what = match step(c) {
        Some(line) => said(line, a.caddy_l, tongue),
        None => lower(act(c, a.caddy_l, tongue).trim_end_matches('.')),
    };
    format!("Put right, {}: {what}", lower(a.symptom.name))
}

/// What the log says once it helped.
pub(crate) fn helped(a: &PutRightAnswer, c: &CauseFacts) -> String {
    format!(
        "{}: it was this, {}",
        capital(a.symptom.name),
        lower(cause(c.cause))
    )
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;
    use desk::{Desk, PutRightAsk};

    fn all() -> Vec<PutRightAnswer> {
        let desk = Desk::without_journal(None).unwrap();
        Desk::symptoms()
            .iter()
            .map(|s| {
                let ask = PutRightAsk {
                    symptom: s.id.into(),
                    ..PutRightAsk::default()
                };
                desk.put_right(&ask).unwrap()
            })
            .collect()
    }

    #[test]
    fn every_cause_and_act_is_said_in_short_sentences() {
        for a in all() {
            for c in &a.causes {
                let told = [
                    act(c, 6.0, Tongue::default()),
                    reason(c.cause, Tongue::default()),
                    sign(c.cause, Tongue::default()),
                ];
                let besides = besides(c, None, 6.0, Tongue::default());
                for text in told
                    .iter()
                    .map(String::as_str)
                    .chain(mind(a.symptom.id, c))
                    .chain(besides.as_deref())
                {
                    assert!(
                        !text.is_empty() && !text.contains("neighbour who"),
                        "{}: {}",
                        c.cause,
                        c.act
                    );
                    assert!(!text.to_lowercase().contains(" safe"), "{text}");
                    for sentence in text.split_inclusive(['.', '?']) {
                        let words = sentence.split_whitespace().count();
                        assert!(words <= 20, "{words} words: {sentence}");
                    }
                }
                assert_ne!(cause(c.cause), "Not known", "{}", c.cause);
            }
            assert!(
                apart(&a, Tongue::default()).is_some(),
                "{} has no runner-up",
                a.symptom.id
            );
        }
    }

    #[test]
    fn no_other_chamber_is_spoken_of_where_there_is_none() {
        for cause in ["overfull", "steady_feeding"] {
            let alone = stop_feeding(cause, None);
            assert!(
                alone.contains("Freeze") && !alone.contains("other"),
                "{alone}"
            );
            assert!(stop_feeding(cause, Some("Far")).contains("eed Far"));
        }
        let full = all()
            .into_iter()
            .find(|a| a.symptom.id == "rotten")
            .unwrap();
        let full = full
            .causes
            .into_iter()
            .find(|c| c.cause == "overfull")
            .unwrap();
        assert!(!act(&full, 6.0, Tongue::default()).contains("other chamber"));
    }

    #[test]
    fn a_bucket_that_nobody_weighed_is_begun_with_a_little() {
        let wet = all().into_iter().find(|a| a.symptom.id == "slimy").unwrap();
        let said = act(&wet.causes[0], 6.0, Tongue::default());
        assert!(
            said.contains("start with") && said.contains("(5 L)"),
            "{said}"
        );
    }

    #[test]
    fn what_can_hurt_is_said_where_it_can() {
        let says = |symptom: &str, word: &str| {
            let a = all().into_iter().find(|a| a.symptom.id == symptom).unwrap();
            mind(symptom, &a.causes[0]).iter().any(|m| m.contains(word))
        };
        assert!(says("mould", "spores") && says("mould", "dogs"));
        assert!(says("rodents", "council"));
        assert!(says("slimy", "fingers"));
        assert!(says("clumps", "Lock the drum"));
        assert!(says("ammonia", "stings"));
    }

    #[test]
    fn chances_are_words_of_twenty() {
        for (n, said) in [
            (0, "less than 1 chance in 20"),
            (1, "about 1 chance in 20"),
            (12, "about 12 chances in 20"),
        ] {
            assert_eq!(chance(n), said);
        }
    }
}
