//! What may be typed.

use std::path::PathBuf;

use clap::{Parser, Subcommand};
use clap_complete::Shell;

/// How much of which browns goes with tonight's caddy, and why.
#[derive(Debug, Parser)]
#[command(
    name = "loamwright",
    version,
    max_term_width = 100,
    before_help = "Examples:\n  loamwright dose \"full caddy, coffee, 3 handfuls card\"\n  loamwright look \"egg shells\"\n  loamwright add \"half a caddy of peelings, yesterday\" --to Near\n  loamwright demo"
)]
pub(crate) struct Args {
    /// Folder that holds your journal [default: $LOAMWRIGHT_DATA, or loamwright in your data folder]
    #[arg(long, global = true, value_name = "DIR")]
    pub(crate) data: Option<PathBuf>,
    /// Answer in JSON
    #[arg(long, global = true)]
    pub(crate) json: bool,
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Can this go in, and as what?
    #[command(before_help = "Example: loamwright look \"tea bags\"")]
    Look {
        /// What it is, in your words
        #[arg(required = true, num_args = 1.., value_name = "WORDS")]
        words: Vec<String>,
        /// Your own figures
        #[arg(long, value_name = "FILE.csv")]
        own: Option<PathBuf>,
    },
    /// What is this mix?
    #[command(before_help = "Example: loamwright mix \"2 kg potato peel, 1 bucket dry leaves\"")]
    Mix {
        /// What is in it, in your words
        #[arg(allow_hyphen_values = true)]
        entry: String,
        /// Your own figures
        #[arg(long, value_name = "FILE.csv")]
        own: Option<PathBuf>,
    },
    /// How much of what goes with this?
    #[command(
        before_help = "Examples:\n  loamwright dose \"full caddy\" --with \"torn card 20 L, dry leaves\"\n  loamwright dose \"10 kg grass\" --with \"dry leaves\" --target water=60"
    )]
    Dose {
        /// What comes from the caddy, in your words
        #[arg(allow_hyphen_values = true)]
        entry: String,
        /// What is at hand, with amounts if they are limited
        #[arg(long, value_name = "STOCK")]
        with: Option<String>,
        /// Count what is in this chamber too
        #[arg(long, value_name = "NAME")]
        chamber: Option<String>,
        /// Exact targets, as water=60,cn=30
        #[arg(long, value_name = "TARGETS")]
        target: Option<String>,
        /// Say what the card buys in days too; that takes some seconds
        #[arg(long)]
        days: bool,
        /// Your own figures
        #[arg(long, value_name = "FILE.csv")]
        own: Option<PathBuf>,
    },
    /// This went in
    #[command(
        before_help = "Example: loamwright add \"full caddy, 2 caddies torn card, yesterday evening\""
    )]
    Add {
        /// What went in, in your words
        #[arg(allow_hyphen_values = true)]
        entry: String,
        /// Chamber
        #[arg(long, value_name = "CHAMBER")]
        to: Option<String>,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// It was turned
    #[command(before_help = "Examples:\n  loamwright turned\n  loamwright turned Near")]
    Turned {
        /// Chamber; else all that hold something, as a drum turns as one
        chamber: Option<String>,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// Water was poured in
    #[command(
        before_help = "Examples:\n  loamwright watered Near 2 L\n  loamwright watered Near half a bucket"
    )]
    Watered {
        /// Chamber
        chamber: String,
        /// How much, in your words; a bare number is litres
        #[arg(required = true, num_args = 1.., allow_negative_numbers = true)]
        amount: Vec<String>,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// A chamber takes no more
    #[command(before_help = "Example: loamwright close Near")]
    Close {
        /// Chamber
        chamber: String,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// A chamber was emptied
    #[command(before_help = "Example: loamwright empty Far --litres 60 --fit-for planted_bed")]
    Empty {
        /// Chamber
        chamber: String,
        /// How much came out
        #[arg(long, value_name = "LITRES", allow_negative_numbers = true)]
        litres: Option<f64>,
        /// What it was fit for: mulch, resting_bed, planted_bed, pots or seed_trays
        #[arg(long, value_name = "RUNG")]
        fit_for: Option<String>,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// Some of what is in a chamber went into another
    #[command(
        before_help = "Examples:\n  loamwright move Near Far half\n  loamwright move Near Bin 30 L"
    )]
    Move {
        /// Chamber it left
        from: String,
        /// Chamber it went into
        to: String,
        /// How much: half, a third, a quarter, all, 40 %, 30 L
        #[arg(required = true, num_args = 1.., allow_negative_numbers = true)]
        amount: Vec<String>,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// This was the weather: measured days, out of a file
    #[command(before_help = "Example: loamwright weather garden.csv")]
    Weather {
        /// A table with a date and temperatures, or a station's file
        file: PathBuf,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// What did I just see, and what does it mean?
    #[command(
        before_help = "Examples:\n  loamwright check Far \"squeeze drips, level 7 fingers, card some, 41 C, yesterday\"\n  loamwright check Near \"smells sour, turned\""
    )]
    Check {
        /// Chamber
        chamber: String,
        /// What was seen, in your words
        #[arg(allow_hyphen_values = true)]
        seen: String,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// Anything to do now?
    Today,
    /// When is it fit for what, and how sure is that?
    #[command(before_help = "Examples:\n  loamwright forecast\n  loamwright forecast Far --json")]
    Forecast {
        /// Chamber; else the one closed longest
        chamber: Option<String>,
        /// How many members the ensemble has
        #[arg(long, default_value_t = 1000, value_name = "N", value_parser = clap::value_parser!(u32).range(20..=20_000))]
        members: u32,
        /// Seed: the same seed gives the same answer
        #[arg(long, value_name = "S")]
        seed: Option<u64>,
    },
    /// What is wrong, and what is the smallest thing that fixes it?
    #[command(
        before_help = "Examples:\n  loamwright fix\n  loamwright fix \"it smells of ammonia\"\n  loamwright fix not heating --chamber Near"
    )]
    Fix {
        /// What you notice, in your words; without it, what is known
        #[arg(num_args = 0.., value_name = "SYMPTOM")]
        symptom: Vec<String>,
        /// Chamber; else the one filling
        #[arg(long, value_name = "NAME")]
        chamber: Option<String>,
    },
    /// May I use it now? Notes a test too
    #[command(
        before_help = "Examples:\n  loamwright ready Far\n  loamwright ready Far \"seeds 17 of 20, control 19 of 20\"\n  loamwright ready Far \"flask rose 12 K in 5 days\"\n  loamwright ready Far \"bag earthy\""
    )]
    Ready {
        /// Chamber; else the one closed longest
        chamber: Option<String>,
        /// A test in your words
        #[arg(allow_hyphen_values = true)]
        test: Option<String>,
    },
    /// What heat was logged in a batch?
    #[command(before_help = "Example: loamwright heat Far --json")]
    Heat {
        /// Chamber; else the one closed longest
        chamber: Option<String>,
    },
    /// Will there be room, and compost when beds want it?
    #[command(before_help = "Examples:\n  loamwright season\n  loamwright season --day 2027-04-15")]
    Season {
        /// When compost is wanted: says when to close for it
        #[arg(long, value_name = "YYYY-MM-DD")]
        day: Option<jiff::civil::Date>,
    },
    /// What to do before going away, and a slip for whoever looks after it
    #[command(before_help = "Example: loamwright away 2027-08-05 2027-08-15")]
    Away {
        /// First day away
        #[arg(value_name = "YYYY-MM-DD")]
        from: jiff::civil::Date,
        /// Day of return
        #[arg(value_name = "YYYY-MM-DD")]
        to: jiff::civil::Date,
    },
    /// What does the next person need to know? For stopping or handing over
    Handover,
    /// What do you know about us? Notes your local rules too
    #[command(
        before_help = "Examples:\n  loamwright household\n  loamwright household --chamber Bin --size 200 --upright\n  loamwright household --cooked-food no --apart 3 --largest 400"
    )]
    Household {
        /// A chamber to add, or to change
        #[arg(long, value_name = "NAME")]
        chamber: Option<String>,
        /// Size of that chamber
        #[arg(
            long,
            value_name = "LITRES",
            requires = "chamber",
            allow_negative_numbers = true
        )]
        size: Option<f64>,
        /// That chamber stands on the ground: a bin, box or heap
        #[arg(long, requires = "chamber")]
        upright: bool,
        /// May cooked food and meat go in, by your local rule?
        #[arg(long, value_name = "yes|no", value_parser = ["yes", "no"])]
        cooked_food: Option<String>,
        /// How far the bin must stand from a neighbour or a window
        #[arg(long, value_name = "METRES", allow_negative_numbers = true)]
        apart: Option<f64>,
        /// How large a chamber may be
        #[arg(long, value_name = "LITRES", allow_negative_numbers = true)]
        largest: Option<f64>,
        /// One-time key: a repeat with the same key is one entry
        #[arg(long, value_name = "KEY")]
        key: Option<String>,
    },
    /// What happened?
    Log {
        /// How many entries
        #[arg(long, default_value_t = 20, value_name = "N")]
        most: u32,
    },
    /// Take the last entry back, or the one named
    Undo {
        /// Id of the entry
        id: Option<String>,
    },
    /// Where does this number come from?
    #[command(before_help = "Example: loamwright why coffee-grounds.nitrogen_pct_dry")]
    Why {
        /// The id printed beside the number
        id: String,
        /// Your own figures
        #[arg(long, value_name = "FILE.csv")]
        own: Option<PathBuf>,
    },
    /// What becomes of a batch described in a file?
    #[command(before_help = "Example: loamwright simulate examples/cases/drum-spring.toml")]
    Simulate {
        /// The case; docs/simulate.md describes it
        #[arg(value_name = "CASE.toml")]
        case: PathBuf,
        /// How many runs, each with its own luck [default: 1000]
        #[arg(long, value_name = "N")]
        members: Option<u64>,
        /// Seed of the luck [default: 1]
        #[arg(long, value_name = "S")]
        seed: Option<u64>,
    },
    /// Pages on this machine
    Serve {
        /// Port; 0 takes any free one
        #[arg(long, default_value_t = 4180, value_name = "PORT")]
        port: u16,
    },
    /// The invented demo household: tonight's answer, then its pages
    Demo {
        /// Print the answer and end
        #[arg(long)]
        print_only: bool,
        /// Port; 0 takes any free one
        #[arg(long, default_value_t = 4180, value_name = "PORT")]
        port: u16,
    },
    /// Completions for your shell, on standard output
    Completions {
        /// Which shell
        shell: Shell,
    },
}
