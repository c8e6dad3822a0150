//! The files inside the packet: what the round froze, the cage for other programs, and the tube's certificates as pictures.

use std::collections::BTreeSet;

use super::Packet;
use crate::documents::pdf::{Attached, Jpeg, Sort, attached};
use crate::domain::cage::files::written;
use crate::domain::derived::contents::Contents;
use crate::domain::judge::shots::Area;
use crate::domain::recorded::facts::CageText;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::work::fabrication::{Bench, numbers::numbers};
use crate::domain::work::seams::Rates;

/// What the file of the frozen contents is called.
pub const CONTENTS: &str = "contents.json";
/// A contents list of more bytes is not read.
const LIST: usize = 100_000_000;
/// Most photographs of certificates and labels that are put in (own choice: a packet is mailed); others are printed alone.
const MOST: usize = 40;
/// Longest name of such a file without its ending, in letters (own choice: every system takes it).
const LONGEST: usize = 60;

/// The contents list inside a packet, and its SHA-256; none where there is none that this program can read.
pub fn contents_in(packet: &[u8]) -> Option<(Contents, Fingerprint)> {
    let list = attached(packet, CONTENTS, LIST)?;
    let contents = Contents::read(std::str::from_utf8(&list).ok()?)?;
    Some((contents, Fingerprint::of(&list)))
}

fn json(name: &str, describes: &str, text: String) -> Attached {
    Attached { name: name.to_owned(), describes: describes.to_owned(), sort: Sort::Json, bytes: text.into_bytes() }
}

/// All of them; none in a draft, which would read as the round it is not. The numbers go by no die of the shop: the packet freezes none.
pub(super) fn all(packet: &Packet<'_>) -> Vec<Attached> {
    if packet.draft {
        return Vec::new();
    }
    let frozen = "The contents list: everything this round froze. Its SHA-256 stands on every sheet.";
    let mut files = vec![json(CONTENTS, frozen, packet.contents.canonical())];
    let worked = &packet.found.worked;
    if let Some(Ok(record)) = packet.facts.cage.as_ref().map(CageText::record) {
        let describes = "The cage as it was measured, as a cage file.";
        files.push(json("cage.json", describes, written(&record, &worked.tubes)));
    }
    if !worked.cage.members.is_empty() {
        let describes = "The cage's numbers, worked out without the shop's dies: millimetres, degrees, kilograms.";
        let text = format!("{:#}\n", numbers(&worked.cage, &Bench::default(), &Rates::usual()));
        files.push(json("numbers.json", describes, text));
    }
    let picture = |one: Certificate<'_>| Attached {
        name: one.name,
        describes: format!("{} The copy printed here, without notes of the camera.", one.what),
        sort: Sort::Jpeg,
        bytes: one.jpeg.bytes.clone(),
    };
    files.extend(certificates(packet).into_iter().map(picture));
    files
}

/// A photograph of a certificate or of a stick's label, as a file.
pub(super) struct Certificate<'a> {
    /// Its name, by stick: `S3-tube-mark-mark.jpg`.
    pub(super) name: String,
    what: String,
    jpeg: &'a Jpeg,
}

/// The newest photograph of each shot at the tube rack, and those that a stick names as its certificate.
pub(super) fn certificates<'a>(packet: &Packet<'a>) -> Vec<Certificate<'a>> {
    let (facts, worked) = (packet.facts, &packet.found.worked);
    let at_rack = worked.shots.iter().filter(|shot| shot.area == Area::Rack);
    let of_shots = at_rack.filter_map(|shot| Some((shot.of, shot.key.as_str(), shot.words(), shot.photos.first()?)));
    let of_sticks = facts.sticks.iter().filter_map(|stick| {
        let photo = facts.photos.iter().find(|photo| Some(photo.capture) == stick.certificate)?;
        let of = Balloon::new(Kind::Stick, stick.number);
        Some((of, "certificate", format!("The certificate of {of}, {}", stick.describe_heat()), &photo.sha256))
    });
    let mut wanted: Vec<(Balloon, &str, String, &Fingerprint)> = of_shots.chain(of_sticks).collect();
    wanted.sort_by(|one, other| (one.0, one.1).cmp(&(other.0, other.1)));
    let (mut names, mut seen) = (BTreeSet::new(), BTreeSet::new());
    let mut found = Vec::new();
    for (of, key, what, sha256) in wanted {
        let Some(jpeg) = packet.pictures.get(sha256).filter(|_| found.len() < MOST && seen.insert((of, sha256))) else {
            continue;
        };
        let name = (1..=99).map(|time| named(of, key, time)).find(|name| !names.contains(name)).unwrap_or_default();
        names.insert(name.clone());
        found.push(Certificate { name, what: format!("{what}."), jpeg });
    }
    found
}

/// A name of plain letters: by the stick; by what it shows where that is the tube of the whole car.
fn named(of: Balloon, key: &str, time: u32) -> String {
    let whose = if of.kind == Kind::Stick { of.to_string() } else { "tube".to_owned() };
    let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    let key: String = key.chars().map(plain).take(LONGEST).collect();
    let again = if time == 1 { String::new() } else { format!("-{time}") };
    format!("{whose}-{key}{again}.jpg")
}

#[cfg(test)]
mod tests {
    use super::named;
    use crate::domain::words::ids::{Balloon, Kind};

    #[test]
    fn names_are_of_plain_letters_by_stick_and_never_long() {
        let stick = Balloon::new(Kind::Stick, 3);
        assert_eq!(named(stick, "tube-mark/mark", 1), "S3-tube-mark-mark.jpg");
        assert_eq!(named(stick, "tube-mark/the wall ½", 2), "S3-tube-mark-the-wall---2.jpg");
        assert_eq!(named(Balloon::new(Kind::Car, 1), "class-middle/made", 1), "tube-class-middle-made.jpg");
        let long = named(stick, &"../".repeat(400), 1);
        assert!(long.len() < 80 && !long.contains('/'), "{long}");
    }
}
