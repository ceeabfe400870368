//! The smallest act for a cause, and when to look again.

use super::cause::Cause;
use super::evidence::Evidence;

named! {
    /// What to do.
    Act {
        /// Mix in torn card.
        AddCard = "add_card",
        /// Sprinkle water while turning.
        AddWater = "add_water",
        /// Mix in greens.
        AddGreens = "add_greens",
        /// Mix in something coarse and dry.
        AddCoarse = "add_coarse",
        /// Turn it.
        Turn = "turn",
        /// Break clumps by hand.
        BreakClumps = "break_clumps",
        /// Prop the hatch open in dry weather, clear the vents.
        OpenUp = "open_up",
        /// Keep the rain out.
        KeepRainOut = "keep_rain_out",
        /// Feed the other chamber.
        StopFeeding = "stop_feeding",
        /// Nothing: wait.
        Wait = "wait",
        /// Test whether it is done.
        TestIt = "test_it",
        /// Tear pieces, take coated card out.
        TearSmaller = "tear_smaller",
        /// No ash or lime; turn.
        NoAsh = "no_ash",
        /// Litter out.
        LitterOut = "litter_out",
        /// Shade it in the middle of the day.
        Shade = "shade",
        /// Measure in the core.
        MeasureCore = "measure_core",
        /// Turn less at a time.
        TurnLess = "turn_less",
        /// Turn fruit under and cover with dry card.
        Cover = "cover",
        /// Empty the caddy often.
        EmptyCaddy = "empty_caddy",
        /// Take meat and dairy out, turn daily.
        MeatOut = "meat_out",
        /// Rinse the frame.
        RinseFrame = "rinse_frame",
        /// Leave cooked food out, bury the rest.
        CookedOut = "cooked_out",
        /// Mesh over gaps.
        MeshGaps = "mesh_gaps",
        /// Clear up what lies about.
        ClearSpill = "clear_spill",
        /// Turn mouldy food under.
        BuryMould = "bury_mould",
        /// Pull seedlings.
        PullSeedlings = "pull_seedlings",
        /// Use it under a cover.
        UseCovered = "use_covered",
        /// Cover it while it rests.
        CoverResting = "cover_resting",
        /// Crush shells before they go in.
        CrushShells = "crush_shells",
        /// Screen them out.
        ScreenOut = "screen_out",
        /// Leave a frozen block until it thaws.
        LeaveFrozen = "leave_frozen",
        /// Card or paper on the floor of the caddy.
        LineCaddy = "line_caddy",
        /// Let hot scraps cool, wipe the lid.
        CoolFirst = "cool_first",
        /// Freeze them until it is emptied.
        Freeze = "freeze",
        /// Rinse the caddy and let it dry.
        RinseCaddy = "rinse_caddy",
        /// Keep the lid shut, paper on top.
        ShutLid = "shut_lid",
        /// Rinse or freeze fruit scraps.
        RinseFruit = "rinse_fruit",
    }
}

/// What to do about a cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Plan {
    /// The act.
    pub act: Act,
    /// Days until it is worth looking again (judged).
    pub look_again: u32,
}

/// The smallest act for a cause. A closed chamber takes nothing new that rots: it is not topped up.
#[must_use]
pub fn plan(cause: Cause, evidence: &Evidence) -> Plan {
    let (act, look_again) = match cause {
        Cause::Wet => (Act::AddCard, 3),
        Cause::Dry | Cause::DryHot => (Act::AddWater, 2),
        Cause::LowCn => (Act::AddCard, 3),
        Cause::HighCn if evidence.closed => (Act::Wait, 28),
        Cause::HighCn => (Act::AddGreens, 5),
        Cause::HotAlkaline => (Act::NoAsh, 3),
        Cause::Urine => (Act::LitterOut, 21),
        Cause::Overfull => (Act::StopFeeding, 7),
        Cause::Matted => (Act::BreakClumps, 4),
        Cause::Airless => (Act::Turn, 3),
        Cause::Condensation => (Act::OpenUp, 3),
        Cause::Rain => (Act::KeepRainOut, 5),
        Cause::JuicyLoad => (Act::AddCard, 2),
        Cause::Coarse => (Act::TearSmaller, 14),
        Cause::Cold | Cause::Small => (Act::Wait, 28),
        Cause::Finished => (Act::TestIt, 7),
        Cause::Spent => (Act::StopFeeding, 28),
        Cause::RichLoad => (Act::AddCard, 1),
        Cause::Sun => (Act::Shade, 1),
        Cause::Probe => (Act::MeasureCore, 0),
        Cause::WetFines => (Act::AddCoarse, 4),
        Cause::OverTurned => (Act::TurnLess, 7),
        Cause::Exposed => (Act::Cover, 3),
        Cause::CaddySource => (Act::EmptyCaddy, 7),
        Cause::SoldierFly | Cause::NormalMould => (Act::Wait, 14),
        Cause::HouseFly => (Act::MeatOut, 7),
        Cause::Residues => (Act::RinseFrame, 7),
        Cause::Nest => (Act::Turn, 7),
        Cause::Cooked => (Act::CookedOut, 3),
        Cause::Gaps => (Act::MeshGaps, 3),
        Cause::Spilled => (Act::ClearSpill, 1),
        Cause::MouldyFood => (Act::BuryMould, 3),
        Cause::KeptSeed => (Act::PullSeedlings, 7),
        Cause::WeedSeed => (Act::UseCovered, 14),
        Cause::BlownIn => (Act::CoverResting, 14),
        Cause::Eggshell => (Act::CrushShells, 90),
        Cause::Stones => (Act::ScreenOut, 90),
        Cause::IceBlock => (Act::LeaveFrozen, 14),
        Cause::SteadyFeeding => (Act::StopFeeding, 14),
        Cause::WetScraps | Cause::CaddyWet => (Act::LineCaddy, 3),
        Cause::HeldLong => (Act::EmptyCaddy, 3),
        Cause::CaddyShut => (Act::CoolFirst, 3),
        Cause::Fishy => (Act::Freeze, 2),
        Cause::CaddyDirty => (Act::RinseCaddy, 2),
        Cause::CaddyOpen => (Act::ShutLid, 7),
        Cause::CameWithFruit => (Act::RinseFruit, 7),
    };
    Plan { act, look_again }
}
