//! Everything else, and what is good to know about the caddy and the drum.

use axum::extract::State;
use axum::response::Html;
use maud::{Markup, html};

use super::_frame::{Site, Tab};

const LINKS: [(&str, &str, &str); 13] = [
    (
        "/put-right",
        "Put right",
        "What is wrong, and what is the smallest thing that fixes it?",
    ),
    ("/when", "When", "When can I use it, and for what?"),
    ("/ready", "Ready?", "May I use it now? Note a test."),
    ("/heat", "Heat record", "What heat was logged; to print."),
    (
        "/check",
        "Check",
        "What did you see inside? What does it mean?",
    ),
    (
        "/season",
        "Season",
        "Will there be room, and compost when beds want it?",
    ),
    ("/away", "Going away", "What to do before, and a slip."),
    (
        "/handover",
        "Handing over",
        "What the next person needs to know; to print.",
    ),
    ("/stock", "Browns at hand", "Are there enough?"),
    (
        "/log",
        "Log",
        "What happened; undo; catch up; take it with you.",
    ),
    ("/household", "Household", "Caddy, hand, place, chambers."),
    (
        "/start",
        "How to begin",
        "From nothing, or half-way through.",
    ),
    ("/workings", "Workings", "Where each number comes from."),
];

pub(crate) async fn page(State(site): State<Site>) -> Html<String> {
    site.page(Tab::More, "More", &view())
}

fn view() -> Markup {
    html! {
        h1 { "What else?" }
        ul.plain {
            @for (place, name, what) in LINKS {
                li { a.row href=(place) { b { (name) } span.quiet { (what) } } }
            }
        }
        div.columns {
            section {
                h2 { "The caddy" }
                (care())
            }
            section {
                h2 { "Dust, spores and germs" }
                p { "Damp a dry heap before you open or turn it. Compost dust carries mould spores." }
                p { "Wear gloves. Stand with the wind behind you, and keep your face out of the door." }
                p { "Weak lungs or a weak immune system? Let somebody else turn and empty it." }
                p { "Wash your hands after. Rinse a cut and cover it. Ask a doctor if a fever follows." }
                p { "Bagged compost can carry Legionella too. Open the bag in fresh air, away from your face." }
                p.quiet { "Common practice. Where your council has a rule, its rule goes first." }
            }
            section {
                h2 { "The drum" }
                p { "Keep fingers, sleeves and hair clear of doors and hinges. A full drum swings on by itself." }
                p { "Keep children back while it turns. Latch the door before the first turn." }
                p { "Leave about a fifth of it empty, so that the mix can fall as it turns (common practice)." }
                p { "Rats or flies? Keep cooked food, meat and dairy out, and cover fresh scraps with browns." }
            }
            section {
                h2 { "What is kept, and where" }
                p { "Your log stays on this machine. These pages ask nobody else for anything." }
            }
        }
    }
}

fn care() -> Markup {
    html! {
        dl {
            dt { "Juice at the bottom" }
            dd { "Lay a handful of torn card in first. Tip what juice there is into the drum, with card after it." }
            dt { "Lid shut or lid with holes?" }
            dd { "A shut lid holds smell and flies, but it sweats. Holes keep it drier. Both work if it is emptied in time." }
            dt { "Under the sink" }
            dd { "It is warm there, so it turns sooner. In summer stand it somewhere cool, or freeze the peelings." }
            dt { "Empty it by" }
            dd { "Every three days when it is warm, every week when it is cold. Sooner if it smells." }
            dt { "Rinsing" }
            dd { "Rinse with cold water each time and let it dry with the lid off. The rinse water may go in the drum." }
            dt { "Liners" }
            dd { "Newspaper works. Take bags only if they say home compostable, and tear them open." }
            dt { "Dogs and mouldy scraps" }
            dd { "Keep the caddy out of a dog’s reach. Mouldy food can make it very ill; ring a vet if it ate some." }
        }
        p.quiet { "Common practice." }
    }
}
