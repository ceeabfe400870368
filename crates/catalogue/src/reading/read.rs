//! The way from a text to a look.

use super::words::{Meaning, Topic, denies, meanings};
use super::{Look, Sighting, Unread, Value};
use crate::Catalogue;
use crate::entry::number::number;
use crate::entry::tokens::{Kind, Token, tokens};
use crate::entry::when::when;
use crate::entry::{Day, Hands, MOST_BYTES, TooLong, When};

const HINT_WORDS: &str = "say it as: squeeze drips, level 7 fingers, card some, 41 C";
const HINT_SQUEEZE: &str = "squeeze a handful and say: dusty, crumbles, holds, drips or runs";
const HINT_SMELL: &str = "say the smell as: nothing, earthy, sour, rotten, ammonia or musty";
pub(super) const HINT_LEVEL: &str = "say the level as: 7 fingers below the rim, half full or 60 %";
const HINT_SHARE: &str = "say how much is left as: none, few, some or most";
const HINT_TWICE: &str = "that was said twice, in two ways; say it once";
const HINT_DENIED: &str = "say what it is, not what it is not";
const HINT_ENTRY: &str = "what went in belongs to Add, or to: loamwright add";
const HINT_OUTSIDE: &str = "only what is inside the chamber counts here";
pub(super) const HINT_WATER: &str = "say how much, as: watered 2 L";
pub(super) const HINT_NUMBER: &str = "say what the number is of, as: 41 C, level 60 % or 31 kg";
pub(super) const HINT_RANGE: &str = "that number cannot be";
const HINT_WHEN: &str = "another time was said before; say one";

impl Catalogue {
    /// Reads a look inside: "squeeze drips, level 7 fingers, card some, 41 C, yesterday".
    ///
    /// # Errors
    /// [`TooLong`] above 4,096 bytes. Anything shorter is read; what is not understood is in [`Look::unknown`].
    pub fn read_look(&self, text: &str, hands: &Hands) -> Result<Look, TooLong> {
        if text.len() > MOST_BYTES {
            return Err(TooLong {
                bytes: text.len(),
                most: MOST_BYTES,
            });
        }
        let all = tokens(text);
        let mut reader = Reader {
            text,
            t: &all,
            hands,
            look: Look::default(),
            waiting: None,
        };
        let mut from = 0;
        for at in 0..=all.len() {
            if at == all.len() || parts(&all, at) {
                if at > from {
                    reader.part(from, at);
                }
                from = at + 1;
            }
        }
        reader.twice();
        Ok(reader.look)
    }
}

/// Whether a new part begins behind this token.
fn parts(t: &[Token], at: usize) -> bool {
    let token = &t[at];
    let Kind::Mark(mark) = token.kind else {
        // "one and a half" and "not hot and not cold" are cut too: what is left of them is flagged.
        return matches!(token.norm(), "and" | "but" | "then" | "plu") && !fraction_follows(t, at);
    };
    matches!(mark, ',' | ';' | '.' | '+' | '&')
}

/// "two and a half fingers".
fn fraction_follows(t: &[Token], at: usize) -> bool {
    at > 0 && number(t, at - 1).is_some_and(|(_, next)| next > at + 1)
}

pub(super) struct Reader<'a> {
    pub(super) text: &'a str,
    t: &'a [Token],
    pub(super) hands: &'a Hands,
    look: Look,
    /// A topic that stood alone: it is about the part that follows.
    waiting: Option<Topic>,
}

impl Reader<'_> {
    fn quote(&self, from: usize, to: usize) -> String {
        self.text[self.t[from].start..self.t[to - 1].end].to_owned()
    }

    fn flag(&mut self, from: usize, to: usize, hint: &'static str) {
        let text = self.quote(from, to);
        self.look.unknown.push(Unread { text, hint });
    }

    /// The topic a token stands under: the last one named, else the first to come.
    pub(super) fn topic(&self, topics: &[(Topic, usize)], at: usize) -> Option<Topic> {
        let mut before = topics.iter().filter(|(t, _)| *t != Topic::Entry);
        let first = before.clone().next();
        let before = before.rfind(|(_, place)| *place <= at);
        before.or(first).map(|(topic, _)| *topic).or(self.waiting)
    }

    fn part(&mut self, from: usize, to: usize) {
        let t = &self.t[..to];
        let mut topics: Vec<(Topic, usize)> = Vec::new();
        for at in from..to {
            let topic = meanings(t, at).into_iter().find_map(|(m, _)| match m {
                Meaning::Topic(topic) => Some(*topic),
                _ => None,
            });
            topics.extend(topic.map(|topic| (topic, at)));
        }
        let has = |topic| topics.iter().any(|(other, _)| *other == topic);
        // "watered" and "added 2 L of water" are acts; anything else that went in is an entry.
        if has(Topic::Entry) && !has(Topic::Water) {
            return self.flag(from, to, HINT_ENTRY);
        }
        if has(Topic::Outside) {
            return self.flag(from, to, HINT_OUTSIDE);
        }
        let known = self.look.seen.len();
        let unread = self.look.unknown.len();
        let mut strange: Vec<(usize, usize, &'static str)> = Vec::new();
        let mut at = from;
        let (mut anything, mut unsure) = (false, false);
        while at < to {
            if denies(t[at].low()) {
                // What is denied is no reading; "no smell" and the like are phrases of their own.
                if let Some(next) = self.phrase(t, at, &topics) {
                    (at, anything) = (next, true);
                    continue;
                }
                strange.push((at, to, HINT_DENIED));
                break;
            }
            if let Some(next) = self.chamber(at, to) {
                (at, anything) = (next, true);
                continue;
            }
            if let Some(next) = self.phrase(t, at, &topics) {
                (at, anything) = (next, true);
                continue;
            }
            match self.number(t, at, &topics) {
                Some(Ok(next)) => {
                    (at, anything) = (next, true);
                    continue;
                }
                Some(Err((next, hint))) => {
                    strange.push((at, next, hint));
                    at = next;
                    continue;
                }
                None => {}
            }
            if let Some((time, next)) = when(t, at, self.hands.us) {
                self.time(time.day, time.clock, at, next);
                (at, anything) = (next, true);
                continue;
            }
            let meant = meanings(t, at);
            let topic = meant.iter().find(|(m, _)| matches!(m, Meaning::Topic(_)));
            let filler = meant.iter().find(|(m, _)| matches!(m, Meaning::Filler));
            if let Some((_, next)) = topic.or(filler) {
                at = *next;
            } else if matches!(t[at].kind, Kind::Mark(_)) {
                at += 1;
            } else {
                unsure |= !t[at].norm().is_empty();
                // A word that would mean something under its topic says which topic is missing.
                let under = meant.iter().find_map(|(m, _)| match m {
                    Meaning::Under(topic, _) => Some(self.wanting(*topic)),
                    _ => None,
                });
                strange.push((at, at + 1, under.unwrap_or(HINT_WORDS)));
                at += 1;
            }
        }
        self.acts(t, from, to, &topics, known);
        let read = self.look.seen.len() > known;
        // A value without its topic, among words that mean nothing here, may be about anything: "a hot day".
        if unsure && topics.is_empty() && read {
            self.look.seen.truncate(known);
            self.look.unknown.truncate(unread);
            self.flag(from, to, HINT_WORDS);
            self.waiting = None;
            return;
        }
        self.strange(&strange);
        if read || anything || !strange.is_empty() {
            let left_over = topics.last().filter(|_| !read && strange.is_empty());
            self.waiting = None;
            if let Some((topic, place)) = left_over {
                self.flag(*place, to, self.wanting(*topic));
            }
        } else if let Some((topic, place)) = topics.last() {
            // A topic alone is about the next part, if there is one.
            if to < self.t.len() {
                self.waiting = Some(*topic);
            } else {
                self.flag(*place, to, self.wanting(*topic));
            }
        }
    }

    /// Flags what was not understood; neighbours are one.
    fn strange(&mut self, all: &[(usize, usize, &'static str)]) {
        let mut run: Option<(usize, usize, &'static str)> = None;
        for &(from, to, hint) in all {
            match &mut run {
                Some((_, end, same)) if *end == from && *same == hint => *end = to,
                _ => {
                    if let Some((from, to, hint)) = run.replace((from, to, hint)) {
                        self.flag(from, to, hint);
                    }
                }
            }
        }
        if let Some((from, to, hint)) = run {
            self.flag(from, to, hint);
        }
    }

    fn wanting(&self, topic: Topic) -> &'static str {
        match topic {
            Topic::Squeeze => HINT_SQUEEZE,
            Topic::Smell => HINT_SMELL,
            Topic::Level => HINT_LEVEL,
            Topic::Card | Topic::Peel => HINT_SHARE,
            Topic::Water => HINT_WATER,
            Topic::Weight | Topic::Degrees => HINT_NUMBER,
            _ => HINT_WORDS,
        }
    }

    pub(super) fn push(
        &mut self,
        from: usize,
        to: usize,
        value: Value,
        assumed: Option<&'static str>,
    ) {
        let text = self.quote(from, to);
        self.look.seen.push(Sighting {
            text,
            value,
            assumed,
        });
    }

    fn chamber(&mut self, at: usize, to: usize) -> Option<usize> {
        let mut best: Option<(usize, &String)> = None;
        for name in &self.hands.chambers {
            let words = tokens(name);
            let end = at + words.len();
            let same = !words.is_empty()
                && end <= to
                && words.iter().zip(&self.t[at..end]).all(|(a, b)| {
                    a.low() == b.low() && (a.low() != "" || a.number() == b.number())
                });
            if same && best.is_none_or(|(known, _)| end > known) {
                best = Some((end, name));
            }
        }
        let (end, name) = best?;
        match &self.look.chamber {
            Some(known) if known != name => self.flag(at, end, "another chamber was named before"),
            _ => self.look.chamber = Some(name.clone()),
        }
        Some(end)
    }

    /// A phrase that means something here.
    fn phrase(&mut self, t: &[Token], at: usize, topics: &[(Topic, usize)]) -> Option<usize> {
        let topic = self.topic(topics, at);
        for (meaning, next) in meanings(t, at) {
            match meaning {
                Meaning::Alone(value) => {
                    self.push(at, next, value.clone(), None);
                    return Some(next);
                }
                Meaning::Under(of, value) if topic == Some(*of) => {
                    self.push(at, next, value.clone(), None);
                    return Some(next);
                }
                Meaning::NoDrip => {
                    // Said behind the grade it goes with.
                    let last = self.look.seen.last().map(|s| &s.value);
                    if !matches!(last, Some(Value::Squeeze(1..=3))) {
                        self.flag(at, next, HINT_SQUEEZE);
                    }
                    return Some(next);
                }
                Meaning::Creature(name) => {
                    self.push(at, next, Value::Creature(name, true), None);
                    return Some(next);
                }
                Meaning::Share(class) => {
                    if let Some(end) = self.share(t, at, next, *class, topics) {
                        return Some(end);
                    }
                }
                _ => {}
            }
        }
        None
    }

    /// "some card", "card: some", "no worms".
    fn share(
        &mut self,
        t: &[Token],
        at: usize,
        next: usize,
        class: usize,
        topics: &[(Topic, usize)],
    ) -> Option<usize> {
        let mut ahead = next;
        while ahead < t.len() {
            let meant = meanings(t, ahead);
            if let Some((Meaning::Creature(name), end)) = meant
                .iter()
                .find(|(m, _)| matches!(m, Meaning::Creature(_)))
            {
                self.push(at, *end, Value::Creature(name, class > 0), None);
                return Some(*end);
            }
            let topic = meant.iter().find_map(|(m, end)| match m {
                Meaning::Topic(topic) => Some((*topic, *end)),
                _ => None,
            });
            match topic {
                Some((Topic::Card, end)) => {
                    self.push(at, end, Value::Card(class), None);
                    return Some(end);
                }
                Some((Topic::Peel, end)) => {
                    self.push(at, end, Value::Peel(class), None);
                    return Some(end);
                }
                Some(_) => break,
                None => {}
            }
            match meant.iter().find(|(m, _)| matches!(m, Meaning::Filler)) {
                Some((_, end)) => ahead = *end,
                None => break,
            }
        }
        let value = match self.topic(topics, at)? {
            Topic::Card => Value::Card(class),
            Topic::Peel => Value::Peel(class),
            _ => return None,
        };
        self.push(at, next, value, None);
        Some(next)
    }

    /// "turned", without a number, is once.
    fn acts(
        &mut self,
        t: &[Token],
        from: usize,
        to: usize,
        topics: &[(Topic, usize)],
        known: usize,
    ) {
        let turned = |s: &Sighting| matches!(s.value, Value::Turned(_));
        let Some((_, place)) = topics.iter().find(|(topic, _)| *topic == Topic::Turn) else {
            return;
        };
        let denied = t[from..to]
            .iter()
            .any(|x| denies(x.low()) || x.low() == "no");
        if denied || self.look.seen[known..].iter().any(turned) {
            return;
        }
        self.push(*place, place + 1, Value::Turned(1.0), None);
    }

    fn time(&mut self, day: Option<Day>, clock: Option<(u8, u8)>, from: usize, to: usize) {
        let quoted = self.quote(from, to);
        match &mut self.look.when {
            None => {
                self.look.when = Some(When {
                    text: quoted,
                    day: day.unwrap_or(Day::Ago(0)),
                    time: clock,
                });
            }
            Some(said) if day.is_none() && said.time.is_none() => {
                said.time = clock;
                said.text = format!("{} {quoted}", said.text);
            }
            Some(said) if said.day == Day::Ago(0) && said.time.is_some() && clock.is_none() => {
                said.day = day.unwrap_or(said.day);
                said.text = format!("{} {quoted}", said.text);
            }
            Some(_) => self.flag(from, to, HINT_WHEN),
        }
    }

    /// What was said twice in two ways is told by neither.
    fn twice(&mut self) {
        let seen = std::mem::take(&mut self.look.seen);
        let mut kept: Vec<Sighting> = Vec::new();
        let mut apart: Vec<(u8, &'static str)> = Vec::new();
        for one in &seen {
            let kind = one.value.kind();
            let differs = |s: &&Sighting| s.value.kind() == kind && s.value != one.value;
            if seen.iter().any(|s| differs(&s)) && !apart.contains(&kind) {
                apart.push(kind);
            }
        }
        for one in seen {
            let kind = one.value.kind();
            if apart.contains(&kind) {
                self.look.unknown.push(Unread {
                    text: one.text,
                    hint: HINT_TWICE,
                });
            } else if kept.iter().all(|s| s.value.kind() != kind) {
                kept.push(one);
            }
        }
        self.look.seen = kept;
    }
}
