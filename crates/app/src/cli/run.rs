//! From arguments to an answer on standard output and an exit code.
//!
//! 0 done (also with some words not understood), 1 failed, 2 wrong usage, 3 nothing understood or
//! ambiguous, 4 refused as unsafe.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::CommandFactory as _;
use desk::{Desk, DoseAsk, Error, HouseholdChange, Reading};
use serde_json::Value;

use super::args::{Args, Command};
use super::progress::Progress;
use super::{check, fix, forecast, handover, heat, household, ready, season, show, simulate, tend};
use crate::json;
use crate::words::{self, Tongue};

/// An answer in both tongues, with its exit code.
struct Answer {
    text: String,
    json: Value,
    code: u8,
}

/// Why a command gave no answer.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failed {
    #[error(transparent)]
    Desk(#[from] Error),
    #[error("{}: {source}", path.display())]
    File {
        path: PathBuf,
        source: std::io::Error,
    },
    #[error("no place to keep the journal; name one with --data DIR")]
    NoPlace,
    #[error("{} is a file; the journal needs a folder: name one with --data DIR", _0.display())]
    NoFolder(PathBuf),
    #[error(
        "--with names nothing; say what is at hand, as `torn card 20 L, dry leaves`, or leave it out"
    )]
    NoStock,
    #[error("say what it is, as: loamwright look \"egg shells\"")]
    NoWords,
    #[error("{}", simulate::said(path, source))]
    Case {
        path: PathBuf,
        source: desk::CaseError,
    },
    #[error(transparent)]
    Serve(#[from] crate::serve::Failed),
}

impl Failed {
    fn code(&self) -> u8 {
        match self {
            Self::Desk(
                Error::NothingUnderstood { .. }
                | Error::NoSymptom { .. }
                | Error::NothingSeen { .. },
            ) => 3,
            Self::Desk(Error::Refused { .. }) => 4,
            Self::Desk(Error::BadTarget { .. } | Error::Range(_)) => 2,
            Self::NoStock | Self::NoWords => 3,
            Self::Case { source, .. } => simulate::code(source),
            _ => 1,
        }
    }
}

/// Runs a command.
pub(crate) fn run(args: Args) -> ExitCode {
    let as_json = args.json;
    match answer(args) {
        Ok(Some(answer)) => {
            let text = if as_json {
                format!("{}\n", answer.json)
            } else {
                answer.text
            };
            match std::io::stdout().lock().write_all(text.as_bytes()) {
                Ok(()) => ExitCode::from(answer.code),
                // A reader that has seen enough (`| head`) is no failure.
                Err(e) if e.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::from(answer.code),
                Err(_) => ExitCode::from(1),
            }
        }
        Ok(None) => ExitCode::SUCCESS,
        Err(failed) => {
            let code = failed.code();
            if as_json {
                let value = match &failed {
                    Failed::NoStock | Failed::NoWords => {
                        json::failure("nothing_understood", &failed.to_string())
                    }
                    Failed::Desk(e) => {
                        let mut value = json::error(e);
                        value["error"]["message"] = words::refusal(e, Tongue::default()).into();
                        value
                    }
                    Failed::Case { source, .. } => {
                        json::failure(simulate::kind(source), &failed.to_string())
                    }
                    other => json::failure("failed", &other.to_string()),
                };
                _ = writeln!(std::io::stdout().lock(), "{value}");
            } else {
                let said = match &failed {
                    Failed::Desk(e) => words::refusal(e, Tongue::default()),
                    other => other.to_string(),
                };
                _ = writeln!(std::io::stderr().lock(), "loamwright: {said}");
            }
            ExitCode::from(code)
        }
    }
}

fn answer(args: Args) -> Result<Option<Answer>, Failed> {
    let (data, as_json) = (args.data, args.json);
    let done = |text: String, json: Value| {
        Ok(Some(Answer {
            text,
            json,
            code: 0,
        }))
    };
    match args.command {
        Command::Look { words, own } => {
            let desk = desk(data, own)?;
            let asked = words.join(" ");
            if asked.trim().is_empty() {
                return Err(Failed::NoWords);
            }
            let a = desk.look_up(&asked)?;
            let code = if a.matches.len() == 1 { 0 } else { 3 };
            Ok(Some(Answer {
                text: Tongue::of(&desk).say(&desk, show::look(&a)),
                json: json::look(&a),
                code,
            }))
        }
        Command::Mix { entry, own } => {
            let desk = desk(data, own)?;
            let tongue = Tongue::of(&desk);
            let a = desk.mix(&entry)?;
            Ok(Some(Answer {
                text: tongue.say(&desk, show::mix(&a, tongue)),
                json: json::mix(&a),
                code: code(&a.read),
            }))
        }
        Command::Dose {
            entry,
            with,
            chamber,
            target,
            days,
            own,
        } => {
            if with.as_ref().is_some_and(|with| with.trim().is_empty()) {
                return Err(Failed::NoStock);
            }
            let desk = desk(data, own)?;
            let tongue = Tongue::of(&desk);
            let a = desk.dose(&DoseAsk {
                text: entry,
                with,
                chamber,
                target,
            })?;
            let card = if days {
                let mut progress = Progress::new();
                let card = desk.card_worked_out(&mut |done, all| {
                    progress.tell(done as u64, all as u64);
                });
                progress.end();
                card?
            } else {
                None
            };
            Ok(Some(Answer {
                text: tongue.say(&desk, show::dose(&a, card.as_ref(), tongue)),
                json: json::dose_with(&a, card.as_ref()),
                code: code(&a.read),
            }))
        }
        Command::Add { entry, to, key } => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let a = desk.add(&entry, to.as_deref(), key.as_deref())?;
            done(tongue.say(&desk, show::add(&a, tongue)), json::add(&a))
        }
        Command::Turned { chamber, key } => {
            let desk = journal(data)?;
            let a = desk.turned(chamber.as_deref(), key.as_deref())?;
            done(tend::tended(&a), json::tended("turned", &a))
        }
        Command::Watered {
            chamber,
            amount,
            key,
        } => {
            let desk = journal(data)?;
            let a = desk.watered(&chamber, &amount.join(" "), key.as_deref())?;
            done(tend::tended(&a), json::tended("watered", &a))
        }
        Command::Close { chamber, key } => {
            let desk = journal(data)?;
            let id = desk.close(&chamber, key.as_deref())?;
            done(
                tend::noted(&chamber, "closed", &id),
                json::noted("close", &id),
            )
        }
        Command::Empty {
            chamber,
            litres,
            fit_for,
            key,
        } => {
            let desk = journal(data)?;
            let id = desk.empty(&chamber, litres, fit_for.as_deref(), key.as_deref())?;
            done(
                tend::noted(&chamber, "emptied", &id),
                json::noted("empty", &id),
            )
        }
        Command::Move {
            from,
            to,
            amount,
            key,
        } => {
            let desk = journal(data)?;
            let a = desk.move_some(&from, &to, &amount.join(" "), key.as_deref())?;
            let text = Tongue::of(&desk).say(&desk, tend::moved(&a));
            done(text, json::moved(&a))
        }
        Command::Weather { file, key } => {
            let desk = journal(data)?;
            let a = tend::weather(&desk, &file, key.as_deref())?;
            let text = Tongue::of(&desk).say(&desk, tend::measured(&a));
            done(text, json::weather(&a))
        }
        Command::Check { chamber, seen, key } => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let started = std::time::Instant::now();
            let a = desk.check(Some(&chamber), &seen, key.as_deref())?;
            let took = started.elapsed().as_millis();
            done(
                tongue.say(&desk, check::text(&a, tongue)),
                check::value(&a, took),
            )
        }
        Command::Today => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let a = desk.today()?;
            done(tongue.say(&desk, show::today(&a, tongue)), json::today(&a))
        }
        Command::Forecast {
            chamber,
            members,
            seed,
        } => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let started = std::time::Instant::now();
            let usual = desk::ForecastAsk::default();
            let ask = desk::ForecastAsk {
                chamber,
                members: members as usize,
                seed: seed.unwrap_or(usual.seed),
                ..usual.clone()
            };
            let mut progress = Progress::new();
            let a = desk.forecast_told(&ask, &mut |done, all| {
                progress.tell(done as u64, all as u64);
            });
            progress.end();
            let a = a?;
            let took = started.elapsed().as_millis();
            // One drawn with another seed or another number of members is a trial, not a forecast given.
            if members as usize == usual.members && seed.is_none() {
                desk.keep_as_given(&a)?;
            }
            done(
                tongue.say(&desk, forecast::text(&a, tongue)),
                forecast::value(&a, took),
            )
        }
        Command::Fix { symptom, chamber } => {
            let symptom = symptom.join(" ");
            if symptom.trim().is_empty() {
                let all = Desk::symptoms();
                return done(fix::list_text(&all), fix::list_value(&all));
            }
            let desk = desk(data, None)?;
            let tongue = Tongue::of(&desk);
            let a = desk.put_right(&desk::PutRightAsk {
                symptom,
                chamber,
                wait: true,
            })?;
            done(tongue.say(&desk, fix::text(&a, tongue)), fix::value(&a))
        }
        Command::Ready { chamber, test } => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let a = ready::ask(&desk, chamber.as_deref(), test.as_deref())?;
            done(tongue.say(&desk, ready::text(&a, tongue)), ready::value(&a))
        }
        Command::Heat { chamber } => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let a = desk.heat(chamber.as_deref())?;
            done(tongue.say(&desk, heat::text(&a, tongue)), heat::value(&a))
        }
        Command::Season { day } => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let started = std::time::Instant::now();
            let a = desk.season(day)?;
            let took = started.elapsed().as_millis();
            done(
                tongue.say(&desk, season::text(&a, tongue)),
                season::value(&a, took),
            )
        }
        Command::Away { from, to } => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let a = desk.away(from, to, true)?;
            done(
                tongue.say(&desk, season::away_text(&a, tongue)),
                season::away_value(&a),
            )
        }
        Command::Handover => {
            let desk = journal(data)?;
            let tongue = Tongue::of(&desk);
            let a = desk.handover(Some(desk::ForecastAsk::default().members))?;
            done(
                tongue.say(&desk, handover::text(&a, tongue)),
                handover::value(&a),
            )
        }
        Command::Household {
            chamber,
            size,
            upright,
            cooked_food,
            apart,
            largest,
            key,
        } => {
            let desk = journal(data)?;
            if let Some(name) = chamber {
                let change = HouseholdChange::Chamber {
                    name,
                    litres: size,
                    length_cm: None,
                    across_cm: None,
                    upright: upright.then_some(true),
                };
                let key = key.as_deref().map(|key| format!("{key}.chamber"));
                desk.change_household(change, key.as_deref())?;
            }
            let food = cooked_food.map(|said| said == "yes");
            let a = household::ask(&desk, (food, apart, largest), key.as_deref())?;
            let tongue = Tongue::of(&desk);
            done(
                tongue.say(&desk, household::text(&a, tongue)),
                household::value(&a),
            )
        }
        Command::Log { most } => {
            let desk = journal(data)?;
            let lines = desk.log(most, None)?;
            let tongue = Tongue::of(&desk);
            let own = |text: String| tongue.say(&desk, text);
            done(show::log(&lines, tongue, own), json::log(&lines))
        }
        Command::Undo { id } => {
            let desk = journal(data)?;
            let line = desk.undo(id.as_deref(), None)?;
            let tongue = Tongue::of(&desk);
            let own = |text: String| tongue.say(&desk, text);
            done(show::undo(&line, tongue, own), json::undo(&line))
        }
        Command::Why { id, own } => {
            let desk = desk(data, own)?;
            let a = desk.why(&id)?;
            let text = Tongue::of(&desk).say(&desk, show::why(&a));
            done(text, json::why(&a))
        }
        Command::Simulate {
            case,
            members,
            seed,
        } => {
            let a = simulate::run(&case, members, seed)?;
            if as_json {
                simulate::warn(&a);
            }
            done(simulate::text(&a), simulate::json(&a))
        }
        Command::Serve { port } => {
            crate::serve::run(Arc::new(journal(data)?), port)?;
            Ok(None)
        }
        Command::Demo { print_only, port } => {
            let desk = Desk::demo()?;
            let ask = DoseAsk {
                text: desk::TONIGHT.into(),
                ..DoseAsk::default()
            };
            let a = desk.dose(&ask)?;
            let text = show::demo(&desk, &a);
            if print_only {
                return done(text, json::dose(&a));
            }
            _ = std::io::stdout().lock().write_all(text.as_bytes());
            crate::serve::run(Arc::new(desk), port)?;
            Ok(None)
        }
        Command::Completions { shell } => {
            let mut out = Vec::new();
            clap_complete::generate(shell, &mut Args::command(), "loamwright", &mut out);
            let text = String::from_utf8_lossy(&out).into_owned();
            let script = serde_json::json!({
                "schema": "loamwright/completions/1", "shell": shell.to_string(), "script": text,
            });
            done(text, script)
        }
    }
}

/// 3 when nothing but alternatives is left of an entry, otherwise 0.
fn code(read: &Reading) -> u8 {
    if read.items.is_empty() {
        if read.refused.is_empty() { 3 } else { 4 }
    } else {
        0
    }
}

fn place(data: Option<PathBuf>) -> Option<PathBuf> {
    data.or_else(|| std::env::var_os("LOAMWRIGHT_DATA").map(PathBuf::from))
        .or_else(|| {
            let base = std::env::var_os("XDG_DATA_HOME")
                .map(PathBuf::from)
                .filter(|p| p.is_absolute())
                .or_else(|| {
                    std::env::var_os("HOME").map(|home| PathBuf::from(home).join(".local/share"))
                })?;
            Some(base.join("loamwright"))
        })
}

fn file_of(dir: &Path) -> PathBuf {
    dir.join("journal.db")
}

/// A desk for looking and computing: with the journal if there is one, never making one.
fn desk(data: Option<PathBuf>, own: Option<PathBuf>) -> Result<Desk, Failed> {
    let own = own
        .map(|path| std::fs::read_to_string(&path).map_err(|source| Failed::File { path, source }))
        .transpose()?;
    match place(data)
        .map(|dir| file_of(&dir))
        .filter(|file| file.exists())
    {
        Some(file) => Ok(Desk::open(&file, own.as_deref())?),
        None => Ok(Desk::without_journal(own.as_deref())?),
    }
}

/// A desk with a journal, made if it is not there.
fn journal(data: Option<PathBuf>) -> Result<Desk, Failed> {
    let dir = place(data).ok_or(Failed::NoPlace)?;
    if dir.exists() && !dir.is_dir() {
        return Err(Failed::NoFolder(dir));
    }
    std::fs::create_dir_all(&dir).map_err(|source| Failed::File {
        path: dir.clone(),
        source,
    })?;
    Ok(Desk::open(&file_of(&dir), None)?)
}
