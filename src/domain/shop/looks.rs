//! What is seen in a photograph, as figures, and what there is to say of it by bounds that the shop can set.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::words::faults::Fault;
use crate::quantity::Share;

/// Long side under which a card in the frame may not be readable on paper: 85 mm at 200 dots an inch, and the card a
/// third of the frame.
const SMALL: u32 = 1_000;
/// A hash with fewer set or unset bits than this holds next to nothing: a flat picture looks like no other.
const TOO_FLAT: u32 = 8;

/// What was seen in a photograph.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Seen {
    /// Dots across, upright.
    pub width: u32,
    /// Dots down, upright.
    pub height: u32,
    /// When the camera says it was taken: `2026-05-04 10:11:12 +02:00`, the offset only where it knew it. A claim.
    pub taken: Option<String>,
    /// Variance of the Laplacian of the whole frame, brought to 1024 dots; the more, the sharper.
    pub sharpness: f64,
    /// Mean of the middle of the frame, 0 black to 255 white.
    pub mean: f64,
    /// Share of the middle that is black (at most 5 of 255).
    pub dark_share: f64,
    /// Share of the middle that is white (at least 250 of 255).
    pub bright_share: f64,
    /// The difference hash, to find pictures that look alike.
    pub difference_hash: u64,
}

/// From when on a photograph is called blurred, dark, washed out or nearly the same as another.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Bounds {
    /// Sharpness below which it is called blurred.
    pub blurred: f64,
    /// Mean of the middle below which it is called very dark, 0 to 255.
    pub dark: f64,
    /// Share of black in the middle above which it is called very dark.
    pub black: Share,
    /// Share of white in the middle above which it is called washed out.
    pub washed_out: Share,
    /// Most of the 64 bits of two pictures' hashes that may differ for them to be called nearly the same.
    pub alike: u32,
}

impl Default for Bounds {
    /// Between the good and the spoilt pictures of the measured sets (`tests/oracles/looks.rs`): sharpness 260 and more
    /// against under 2, white under 0.1 % against 20 % and more; nearer to the spoilt, for a warning too many is soon read
    /// no more.
    fn default() -> Self {
        Self { blurred: 40.0, dark: 45.0, black: Share::from_ratio(0.5), washed_out: Share::from_ratio(0.15), alike: 6 }
    }
}

impl Bounds {
    /// What is wrong with them, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let mut within = |at: &str, value: f64, most: f64, unit: &str| {
            if !(0.0..=most).contains(&value) {
                faults.push(Fault::new(at, format!("From 0{unit} to {most}{unit}.")));
            }
        };
        within("blurred", self.blurred, 2_000.0, "");
        within("dark", self.dark, 255.0, "");
        within("black", self.black.ratio() * 100.0, 100.0, " %");
        within("washed_out", self.washed_out.ratio() * 100.0, 100.0, " %");
        within("alike", f64::from(self.alike), 20.0, "");
        faults
    }
}

/// What there is to say about a photograph as evidence: each a sentence; they tell, and refuse nothing.
pub fn remarks(seen: &Seen, bounds: &Bounds) -> Vec<String> {
    let mut remarks = Vec::new();
    let dark = seen.mean < bounds.dark || seen.dark_share > bounds.black.ratio();
    if dark {
        remarks.push("Very dark in the middle. Bring a lamp and take it again if the seam cannot be seen.".to_owned());
    }
    if seen.bright_share > bounds.washed_out.ratio() {
        remarks.push("Washed out white in the middle. Turn the lamp or the flash aside and take it again.".to_owned());
    }
    if seen.sharpness < bounds.blurred && !dark {
        let hint = "This looks blurred, or shows little but smooth paint. Look at the seam before you leave the joint.";
        remarks.push(hint.to_owned());
    }
    if seen.width.max(seen.height) < SMALL {
        remarks.push(format!(
            "A small picture ({} × {} dots): small letters may not be readable on paper.",
            seen.width, seen.height
        ));
    }
    remarks
}

/// In how many of their 64 bits two difference hashes differ.
pub fn hash_distance(one: u64, other: u64) -> u32 {
    (one ^ other).count_ones()
}

/// Whether two pictures look alike: at most `most` bits of their hashes differ. Flat pictures look like no other. Joints
/// look alike by nature: tell it, decide nothing by it.
pub fn look_alike(one: u64, other: u64, most: u32) -> bool {
    let holds = |hash: u64| hash.count_ones() >= TOO_FLAT && hash.count_zeros() >= TOO_FLAT;
    holds(one) && holds(other) && hash_distance(one, other) <= most
}

/// The sentence that says a picture is nearly the same as one at another shot, the nearest of them; none where none is.
/// `others` are the shots of other photographs that count, each with its hash.
pub fn nearly_the_same(seen: &Seen, shot: &str, others: &[(String, u64)], bounds: &Bounds) -> Option<String> {
    let alike = others
        .iter()
        .filter(|(at, hash)| at != shot && bounds.alike > 0 && look_alike(seen.difference_hash, *hash, bounds.alike));
    let (at, _) = alike.min_by_key(|(_, hash)| hash_distance(seen.difference_hash, *hash))?;
    let place = if at.is_empty() { "an extra one".to_owned() } else { format!("the one at {at}") };
    Some(format!("Nearly the same picture as {place}. Look whether it shows the right place."))
}

/// How far a claimed time lies from the one that counts, in words.
pub fn apart(claim: Timestamp, counts: Timestamp) -> String {
    let seconds = claim.as_second() - counts.as_second();
    let way = if seconds < 0 { "before" } else { "after" };
    let minutes = seconds.abs() / 60;
    let long = match minutes {
        0 => return "within a minute of it".to_owned(),
        1..60 => format!("{minutes} min"),
        60..2_880 => format!("{} h {} min", minutes / 60, minutes % 60),
        _ => format!("{} days", minutes / 1_440),
    };
    format!("{long} {way} it")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flat_pictures_look_like_no_other_and_the_nearest_is_named() {
        assert!(!look_alike(0, 0, 10) && !look_alike(u64::MAX, u64::MAX, 10));
        let seen = Seen { difference_hash: 0x0f0f_0f0f_0f0f_0f0f, ..Seen::default() };
        let others = [("J7 wide".to_owned(), 0x0f0f_0f0f_0f0f_0f00), ("J8 wide".to_owned(), 0x0f0f_0f0f_0f0f_0f0e)];
        let said = nearly_the_same(&seen, "J9 wide", &others, &Bounds::default());
        assert!(said.is_some_and(|said| said.contains("at J8 wide")));
        assert_eq!(nearly_the_same(&seen, "J8 wide", &others[1..], &Bounds::default()), None);
        assert_eq!(nearly_the_same(&seen, "J9 wide", &others, &Bounds { alike: 0, ..Bounds::default() }), None);
    }

    #[test]
    fn a_claim_is_told_by_how_far_it_lies_from_what_counts() {
        let at = |text: &str| text.parse::<Timestamp>().unwrap();
        let counts = at("2026-05-04T09:30:00Z");
        for (claim, words) in [
            ("2026-05-04T09:30:40Z", "within a minute of it"),
            ("2026-05-04T09:18:00Z", "12 min before it"),
            ("2026-05-04T11:35:00Z", "2 h 5 min after it"),
            ("2024-05-04T11:35:00Z", "729 days before it"),
        ] {
            assert_eq!(apart(at(claim), counts), words);
        }
    }

    #[test]
    fn bounds_that_make_no_sense_are_refused() {
        assert!(Bounds::default().faults().is_empty());
        let wrong = Bounds { blurred: -1.0, dark: f64::NAN, alike: 65, ..Bounds::default() };
        let at: Vec<String> = wrong.faults().into_iter().map(|fault| fault.at).collect();
        assert_eq!(at, ["blurred", "dark", "alike"]);
    }
}
