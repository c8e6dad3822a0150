//! A car's page: the whole record of a car on one page that needs no shop and no network, for whoever has the car. The same
//! facts give the same page, byte for byte.

mod drawn;
mod judged;
mod parts;
mod said;
mod seen;

use std::collections::{BTreeMap, BTreeSet};

use askama::Template;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::chapters::{Block, Chapter, Chapters, Place, plain};
use super::error::DocumentError;
use super::hand_over::{self, HandOver};
use super::packet::{kit, tube};
use super::teller::{Beside, Told};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};
use crate::quantity::Units;

pub use super::hand_over::RoundFile;

/// What a car's page is made of.
pub struct CarPage<'a> {
    /// What is recorded.
    pub facts: &'a BuildFacts,
    /// What follows from it on `day`; findings of another day are refused.
    pub findings: &'a Findings,
    /// The build's log, oldest first.
    pub log: &'a [LogLine<'a>],
    /// Where in the file each photograph is, by its SHA-256, as `photos/…`. One that is not here is said to be lost.
    pub photos: &'a BTreeMap<Fingerprint, String>,
    /// Where in the file each round's papers are, as `rounds/…`.
    pub rounds: &'a [RoundFile],
    /// What replies were typed from and is in the file, each at `mails/…` under its SHA-256.
    pub mails: &'a BTreeSet<Fingerprint>,
    /// The day it is of: that of the last log entry, by UTC.
    pub day: Date,
    /// The units it is read in.
    pub units: Units,
}

/// An entry of the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LogLine<'a> {
    /// Its number.
    pub number: i64,
    /// When.
    pub at: Timestamp,
    /// By whom.
    pub by: &'a str,
    /// Which room it is of.
    pub room: &'a str,
    /// What was done.
    pub what: &'a str,
}

/// The page.
#[derive(Template)]
#[template(path = "car_page/index.html")]
struct Index {
    name: String,
    said_by: String,
    hold: String,
    cautions: [&'static str; 3],
    units: &'static str,
    chapters: Vec<Chapter>,
}

/// The page as one HTML file without a script, which asks nothing of any network.
pub fn index(page: &CarPage<'_>) -> Result<String, DocumentError> {
    if page.findings.worked.day != page.day {
        let why = format!("the page is of {} and its findings are of {}", page.day, page.findings.worked.day);
        return Err(DocumentError::Writer(why));
    }
    let there = there(page);
    let leads = |part: Balloon| there.contains(&part).then(|| format!("#{part}"));
    let shown = Index {
        name: plain(&page.facts.build.name),
        said_by: hand_over::said_by(page.day),
        hold: plain(&hand_over::describe_hold(page.facts, page.findings)),
        cautions: hand_over::said_once(),
        units: match page.units {
            Units::Inch => "inch, pound",
            Units::Metric => "metric",
        },
        chapters: chapters(page, &leads),
    };
    shown.render().map_err(|error| DocumentError::Writer(error.to_string()))
}

/// Which day a moment was, by UTC: the page is the same in every zone.
fn day_of(at: Timestamp) -> Date {
    at.to_zoned_datetime(TimeZone::UTC).date()
}

/// A moment to the second, UTC.
fn second_of(at: Timestamp) -> String {
    at.to_zoned_datetime(TimeZone::UTC).strftime("%Y-%m-%d %H:%M:%S").to_string()
}

/// The parts that have a place on the page.
fn there(page: &CarPage<'_>) -> BTreeSet<Balloon> {
    let (cage, facts) = (&page.findings.worked.cage, page.facts);
    let of_cage = cage.members.iter().map(|bar| bar.balloon);
    let of_cage = of_cage.chain(cage.joints.iter().map(|joint| joint.balloon));
    let of_cage = of_cage.chain(cage.gussets.iter().map(|gusset| gusset.balloon));
    let of_cage = of_cage.chain(cage.plates.iter().map(|plate| plate.balloon));
    let sticks = facts.sticks.iter().map(|stick| Balloon::new(Kind::Stick, stick.number));
    let kit = facts.kit.iter().map(|item| Balloon::new(Kind::Kit, item.number));
    of_cage.chain(sticks).chain(kit).collect()
}

/// A path inside the file, and nothing else: under this folder, of letters that mean nothing in an address.
fn within<'p>(path: &'p str, folder: &str) -> Option<&'p str> {
    let rest = path.strip_prefix(folder)?;
    let usual = |letter: char| letter.is_ascii_alphanumeric() || matches!(letter, '/' | '.' | '-' | '_');
    (rest.chars().all(usual) && !rest.contains("..") && !rest.starts_with('/')).then_some(path)
}

fn chapters(page: &CarPage<'_>, leads: &dyn Fn(Balloon) -> Option<String>) -> Vec<Chapter> {
    let (facts, found) = (page.facts, page.findings);
    let kept = |photo: &Fingerprint| Some(within(page.photos.get(photo)?, "photos/")?.to_owned());
    let packet_at = |number: u32| {
        let round = page.rounds.iter().find(|round| round.number == number)?;
        Some(within(&round.packet, "rounds/")?.to_owned())
    };
    let mut all = hand_over::chapters(&HandOver {
        facts,
        found,
        units: page.units,
        day: page.day,
        day_of: &day_of,
        leads,
        rounds: page.rounds,
        packet_at: &packet_at,
        keys: None,
    });
    let beside = Beside::of(facts, found);
    let packet = beside.packet(&Told { facts, found, day: page.day, units: page.units, day_of: &day_of });
    let mut chapters = Chapters::new(leads, Some(&kept));
    drawn::tell(&mut chapters, found, page.units);
    judged::tell(&mut chapters, &packet);
    seen::weighings(&mut chapters, &packet);
    tube::add(&mut chapters, &packet);
    kit::add(&mut chapters, &packet);
    parts::tell(&mut chapters, &packet);
    said::rounds(&mut chapters, page, &packet_at);
    said::rulings(&mut chapters, &packet);
    said::welds(&mut chapters, &packet);
    said::questions(&mut chapters, &packet);
    said::notes(&mut chapters, page);
    seen::measured(&mut chapters, &packet);
    seen::photographs(&mut chapters, &packet, &kept, leads);
    said::log(&mut chapters, page.log);
    all.extend(chapters.done());
    all
}

#[cfg(test)]
mod tests {
    use super::within;

    #[test]
    fn only_a_path_inside_the_file_is_led_to() {
        for path in ["photos/ab12.jpg", "photos/a-b_c.heic"] {
            assert_eq!(within(path, "photos/"), Some(path));
        }
        for path in [
            "rounds/1/packet.pdf",
            "photos/../x",
            "photos//x",
            "https://photos/",
            "photos/a b",
            "photos/\"x",
            "photos/a:b",
        ] {
            assert_eq!(within(path, "photos/"), None, "{path}");
        }
    }
}
