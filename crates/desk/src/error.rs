//! What can go wrong at the desk, as facts.

use thiserror::Error;

/// Why a use case gave no answer.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum Error {
    /// The compiled-in tables do not hold.
    #[error("the built-in tables are damaged: {0}")]
    Catalogue(#[from] catalogue::BadData),
    /// A row of own figures cannot be used.
    #[error("own figures, {0}")]
    Own(#[from] catalogue::OwnError),
    /// The journal refused.
    #[error(transparent)]
    Journal(#[from] journal::Error),
    /// The entry is too long.
    #[error(transparent)]
    TooLong(#[from] catalogue::entry::TooLong),
    /// A number is out of its range.
    #[error(transparent)]
    Range(#[from] units::OutOfRange),
    /// This desk remembers nothing.
    #[error("nothing is kept here; name a place with --data DIR")]
    NoJournal,
    /// Nothing in the entry was understood.
    #[error("nothing understood in `{text}`{}", near_text(.near))]
    NothingUnderstood {
        /// The entry.
        text: String,
        /// Near material names.
        near: Vec<String>,
    },
    /// A thing that stays out of any compost.
    #[error(
        "{name} stays out: {caution} Nothing was recorded; leave it out and send the rest again"
    )]
    Refused {
        /// Its name.
        name: String,
        /// Why.
        caution: String,
    },
    /// No chamber of that name.
    #[error("no chamber called `{name}`; there {}", chambers_text(.known))]
    NoChamber {
        /// The name given.
        name: String,
        /// Names there are.
        known: Vec<String>,
    },
    /// Every chamber is closed.
    #[error("every chamber is closed ({}); empty one, or say which one it went into", known.join(", "))]
    NoRoom {
        /// Names there are.
        known: Vec<String>,
    },
    /// A date that does not exist or lies ahead.
    #[error("`{0}` is not a day up to today; say it as `3 Sept` or `2 days ago`")]
    BadDay(String),
    /// Something needed for a target is not known.
    #[error(
        "{material}: its {what} is not known, so the target cannot be computed; give it in your own figures"
    )]
    Unknown {
        /// Material name.
        material: String,
        /// Property.
        what: String,
    },
    /// A target or option that does not read.
    #[error("`{given}` is not a target; write water=60, cn=30 or both with a comma")]
    BadTarget {
        /// As given.
        given: String,
    },
    /// Nothing in there that rots, so there is nothing to forecast.
    #[error("{}", nothing_text(.chamber.as_deref()))]
    NothingToForecast {
        /// The chamber, if one was meant.
        chamber: Option<String>,
    },
    /// A batch too old to follow from its first day.
    #[error(
        "{chamber} was begun {years:.1} years ago and not emptied since; three years are followed at most. Empty it, or note the emptying"
    )]
    TooOld {
        /// The chamber.
        chamber: String,
        /// Years since its first feed.
        years: f64,
    },
    /// A climate that cannot be.
    #[error(
        "the place of this household has no usable climate: {0}; set a town or a latitude on the household page"
    )]
    BadPlace(String),
    /// The simulation does not add up: our fault, never the user's.
    #[error("{0}. This is a fault of the program; the journal is unharmed")]
    OpenBalance(engine::batch::balance::Open),
    /// A weather file that cannot be used.
    #[error("weather file: {0}")]
    Weather(#[from] engine::climate::file::FileError),
    /// Nothing that is noticed goes by these words, or several things do.
    #[error("`{text}` is not a thing to notice here{}", symptoms_text(.near))]
    NoSymptom {
        /// The words.
        text: String,
        /// What they may have meant.
        near: Vec<&'static str>,
    },
    /// Nothing in a look was understood.
    #[error("nothing understood in `{text}`; {}", hint.unwrap_or("say it as: squeeze drips, level 7 fingers, card some, 41 C"))]
    NothingSeen {
        /// The words.
        text: String,
        /// How to say it.
        hint: Option<&'static str>,
    },
    /// Readings that nothing could be learnt from.
    #[error("the readings of {chamber} could not be learnt from: {cause}; the log undoes them")]
    Unlearnt {
        /// The chamber.
        chamber: String,
        /// Why.
        cause: engine::assimilate::NotLearnt,
    },
    /// A token that belongs to another probe.
    #[error(
        "this token belongs to {token_of}, the reading to {sensor}; each probe has its own token"
    )]
    OtherSensor {
        /// Whose token it is.
        token_of: String,
        /// The probe named.
        sensor: String,
    },
    /// Work that broke off while it held something.
    #[error("the work before broke off; start the program again")]
    Busy,
    /// Nothing to undo.
    #[error("nothing to undo")]
    NothingToUndo,
    /// No number or entry has that id.
    #[error(
        "nothing here has the id `{0}`; ids stand beside numbers, as coffee-grounds.nitrogen_pct_dry"
    )]
    NoSuchId(String),
    /// A setting that cannot be.
    #[error("{field}: {reason}")]
    BadSetting {
        /// Which.
        field: String,
        /// Why, and the way out.
        reason: String,
    },
}

fn near_text(near: &[String]) -> String {
    if near.is_empty() {
        "; say a thing and an amount, as `full caddy, 3 handfuls card`".into()
    } else {
        format!("; did you mean {}?", near.join(", "))
    }
}

fn nothing_text(chamber: Option<&str>) -> String {
    match chamber {
        Some(name) => format!("{name} is empty; put something in, and there will be a forecast"),
        None => {
            "no chamber holds anything yet; put something in, and there will be a forecast".into()
        }
    }
}

fn chambers_text(known: &[String]) -> String {
    match known {
        [] => "is none yet; name one on the household page".into(),
        [one] => format!("is {one}"),
        many => format!("are {}", many.join(" and ")),
    }
}

fn symptoms_text(near: &[&str]) -> String {
    if near.is_empty() {
        "; `loamwright fix` lists what is known".into()
    } else {
        format!("; did you mean: {}?", near.join(" / "))
    }
}
