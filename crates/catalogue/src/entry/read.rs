//! The way from a text to an entry.

use thiserror::Error;

use super::assemble::Assembler;
use super::segment::Scanner;
use super::settle::Settler;
use super::tokens::tokens;
use super::{Entry, Hands, nouns, place, spell};
use crate::Catalogue;

/// Longest entry read, bytes: two pages of talk (choice).
pub const MOST_BYTES: usize = 4096;

/// An entry longer than can be read.
#[derive(Debug, Error, Clone, Copy, PartialEq, Eq)]
#[error("the entry has {bytes} bytes; at most {most} are read. Split it into several entries.")]
pub struct TooLong {
    /// Bytes it has.
    pub bytes: usize,
    /// Bytes it may have.
    pub most: usize,
}

impl Catalogue {
    /// Reads one entry: "full caddy, coffee, 3 handfuls card, yesterday evening".
    ///
    /// # Errors
    /// [`TooLong`] above 4,096 bytes. Anything shorter is read; what is not understood is in
    /// [`Entry::unknown`].
    pub fn read(&self, text: &str, hands: &Hands) -> Result<Entry, TooLong> {
        if text.len() > MOST_BYTES {
            return Err(TooLong {
                bytes: text.len(),
                most: MOST_BYTES,
            });
        }
        let mut all = tokens(text);
        let chamber_at = place::chambers(self, &all, &hands.chambers);
        let mut keep = vec![false; all.len()];
        for (at, named) in chamber_at.iter().enumerate() {
            if let Some((_, to)) = named {
                keep[at..*to].fill(true);
            }
        }
        let alternatives = spell::correct(self, &mut all, &keep);
        let scanner = Scanner {
            catalogue: self,
            hands,
            tokens: &all,
            alternatives: &alternatives,
            chamber_at: &chamber_at,
        };
        let parts = nouns::doubt(&all, scanner.parts());
        let sheet = Assembler::new(self, text, &all, &parts).run();
        Ok(Settler {
            catalogue: self,
            hands,
            text,
            tokens: &all,
        }
        .entry(sheet))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::entry::Entry;

    fn read(text: &str) -> Entry {
        let hands = Hands {
            chambers: vec!["Near".into(), "Far".into()],
            ..Hands::default()
        };
        Catalogue::load().unwrap().read(text, &hands).unwrap()
    }

    fn kilograms(entry: &Entry, at: usize) -> f64 {
        entry.items[at].kg.unwrap().mid
    }

    #[test]
    fn the_usual_evening() {
        let entry = read("full caddy, coffee, 3 handfuls torn card, Near, yesterday evening");
        let ids: Vec<&str> = entry.items.iter().map(|i| i.material.as_str()).collect();
        assert_eq!(
            ids,
            [
                "mixed-kitchen-scraps",
                "coffee-grounds",
                "cardboard-corrugated"
            ]
        );
        assert_eq!(entry.items[2].text, "3 handfuls torn card");
        assert_eq!(entry.items[0].litres.unwrap().mid, 6.0);
        assert!(entry.items[1].assumed.is_some() && entry.items[0].assumed.is_none());
        assert!((entry.items[2].litres.unwrap().mid - 1.05).abs() < 1e-9);
        assert_eq!(entry.chamber.as_deref(), Some("Near"));
        assert_eq!(entry.when.unwrap().time, Some((19, 0)));
        assert!(entry.unknown.is_empty());
    }

    #[test]
    fn amounts_before_and_behind() {
        let entry =
            read("sawdust 2 handfuls, egg shells x4, 500g coffee grounds and 7,5 L dry leaves");
        assert_eq!(entry.items.len(), 4, "{entry:?}");
        assert!((kilograms(&entry, 1) - 0.0272).abs() < 1e-6);
        assert!((kilograms(&entry, 2) - 0.5).abs() < 1e-9);
        assert_eq!(entry.items[3].litres.unwrap().mid, 7.5);
    }

    #[test]
    fn nothing_is_dropped_in_silence() {
        let entry = read("two doodahs, coffee, -3 kg grass, no turkey");
        let unknown: Vec<&str> = entry.unknown.iter().map(|u| u.text.as_str()).collect();
        assert_eq!(unknown, ["doodahs", "-3 kg grass", "no turkey"]);
        assert_eq!(entry.items.len(), 1);
    }

    #[test]
    fn slips_of_the_finger() {
        let entry = read("avacado skins x3 and a bananna peel, lst night");
        let ids: Vec<&str> = entry.items.iter().map(|i| i.material.as_str()).collect();
        assert_eq!(ids, ["avocado-skin", "banana-peel"]);
    }

    #[test]
    fn a_vessel_shared() {
        let entry = read("a bucket of dry leaves and grass");
        assert!(entry.items.iter().all(|i| i.assumed.is_some()));
        assert!((entry.items[0].litres.unwrap().mid - 5.0).abs() < 1e-9);
    }

    #[test]
    fn a_caddy_that_was_weighed() {
        let hands = Hands {
            caddy_kg: Some(3.0),
            ..Hands::default()
        };
        let entry = Catalogue::load()
            .unwrap()
            .read("half a caddy", &hands)
            .unwrap();
        assert!((kilograms(&entry, 0) - 1.5).abs() < 1e-9);
    }

    fn ids(text: &str) -> Vec<String> {
        read(text).items.into_iter().map(|i| i.material).collect()
    }

    #[test]
    fn cooked_food_leaves_its_scraps() {
        // SR28: a quarter of a potato as bought is peel, 11 % of a carrot trimmings.
        let entry = read("I cooked 2 kg of potatoes and peeled 1.2 kg carrots");
        assert_eq!(entry.items[0].material, "potato-peel");
        assert!((kilograms(&entry, 0) - 0.5).abs() < 1e-9);
        assert!((kilograms(&entry, 1) - 0.132).abs() < 1e-9);
        let plain = read("1.2 kg carrots");
        assert!((kilograms(&plain, 0) - 1.2).abs() < 1e-9);
        assert!((kilograms(&read("the peel of 4 carrots"), 0) - 4.0 * 0.069 * 0.11).abs() < 1e-4);
    }

    #[test]
    fn caddies_with_contents() {
        let shared = read("full caddy with coffee, apple cores and card in it");
        assert_eq!(shared.items.len(), 3);
        assert!(
            shared
                .items
                .iter()
                .all(|i| (i.litres.unwrap().mid - 2.0).abs() < 1e-9)
        );
        let mixed = ids("caddy of peelings, coffee, egg shells");
        assert_eq!(
            mixed,
            ["mixed-kitchen-scraps", "coffee-grounds", "eggshell"]
        );
        assert_eq!(ids("onion and garlic skins 2 handfuls"), ["onion-skin"]);
    }

    #[test]
    fn a_correction_takes_the_later_number() {
        let entry = read("two tomatoes no wait three");
        assert_eq!(entry.items.len(), 1);
        assert!((kilograms(&entry, 0) - 0.369).abs() < 1e-9);
    }

    #[test]
    fn a_dish_is_not_its_ingredient() {
        for text in ["2 slices of banana bread", "chicken soup 1 litre"] {
            let entry = read(text);
            assert!(
                entry.items.is_empty() && entry.unknown.len() == 1,
                "{entry:?}"
            );
        }
    }

    #[test]
    fn a_range_widens_the_spread() {
        let (one, range) = (read("2.5 kg card"), read("2-3 kg card"));
        let width = |e: &Entry| e.items[0].kg.map(|k| k.high - k.low).unwrap();
        assert!(width(&range) > 5.0 * width(&one));
    }

    #[test]
    fn words_around_decide() {
        for (text, id) in [
            ("ash from the log burner, one scoop", "wood-ash"),
            ("ash from the coal fire", "coal-ash"),
            ("2 spoons of lime", "garden-lime"),
            ("2 manky spuds", "potato-raw"),
            ("weeds (no seeds), a bucket", "weeds-green"),
            ("tulips from the vase", "cut-flowers"),
            ("fluff off the hoover", "vacuum-dust"),
        ] {
            assert_eq!(ids(text), [id], "{text}");
        }
        let open = read("a scoop of ashes, a bucket of weeds, spuds");
        assert_eq!((open.items.len(), open.ambiguous.len()), (0, 3));
        let blight = ids("blighted potato tops, and 3 rotten potatoes");
        assert_eq!(blight, ["blighted-haulm", "blighted-tubers-fruit"]);
    }

    #[test]
    fn a_second_mention_is_not_a_second_item() {
        for (text, material) in [
            ("orange peel from 4 oranges", "orange-peel"),
            ("Pumpkins! 4 pumpkins", "pumpkin"),
            ("the privet hedge. 4 bags of clippings", "hedge-mixed"),
            (
                "old potting compost from 4 pots of dead petunias",
                "old-potting-mix",
            ),
        ] {
            let entry = read(text);
            let one = entry.items.first().map(|i| (i.material.as_str(), i.said));
            let said = one.and_then(|(_, said)| said).map(|s| s.count);
            assert_eq!(entry.items.len(), 1, "{entry:?}");
            assert_eq!((one.map(|o| o.0), said), (Some(material), Some(4.0)));
        }
        assert_eq!(
            ids("a barrow of straw and rabbit droppings"),
            ["bedding-rabbit"]
        );
        assert_eq!(ids("crusts from the toast"), ["bread-white"]);
    }

    #[test]
    fn what_was_taken_out_or_left_out_is_shown() {
        for text in [
            "a crisp packet, took it out, coffee",
            "didn't put any salmon in, just coffee",
        ] {
            let entry = read(text);
            assert_eq!(entry.items.len(), 1, "{entry:?}");
            assert_eq!(entry.items[0].material, "coffee-grounds");
            assert_eq!(entry.unknown.len(), 1, "{entry:?}");
        }
    }

    #[test]
    fn plain_english_is_no_slip() {
        for text in [
            "coffee, twice",
            "coffee, later this year",
            "coffee, on the stage",
        ] {
            let entry = read(text);
            assert_eq!(entry.items.len(), 1, "{entry:?}");
            assert_eq!(entry.chamber, None);
        }
        assert_eq!(ids("a colander of pea pods"), ["pea-pods"]);
    }

    #[test]
    fn too_long_says_so() {
        let error = Catalogue::load()
            .unwrap()
            .read(&"a".repeat(5000), &Hands::default())
            .unwrap_err();
        assert!(error.to_string().contains("5000") && error.to_string().contains("4096"));
    }
}
