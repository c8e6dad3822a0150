//! The contents list of a round: what was put before the scrutineer, part by part, so that a later change shows.

mod carried;
mod frozen;
mod issued;
mod leaves;
mod since;
mod sorts;
mod describe;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::worked::Worked;
use crate::domain::cage::{Cage, End, GussetHole};
use crate::domain::judge::shots;
use crate::domain::judge::verdicts::Verdict;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::photos::Photo;
use crate::domain::recorded::rounds::{Early, Round};
use crate::domain::recorded::welds::is_of_a_line;
use crate::domain::shop::stock::Stick;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};
use crate::quantity::{Show as _, Units};

pub use carried::{Accepted, Earlier};
pub use frozen::Record;
pub use issued::{IssuedPhoto, IssuedVerdict};
pub use leaves::{Leaf, Leaves};
pub use sorts::{Apart, apart};

/// What was put before the scrutineer. Lengths are printed in metric: a reader's units must not look like a change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Contents {
    /// Counts up when this format changes: 1 kept no record, and of verdicts the word and the figure alone.
    pub tackbook_round: u32,
    /// The build's name in addresses.
    pub build: String,
    /// The round.
    pub round: u32,
    /// The build's last log entry when this was gathered.
    pub as_of: i64,
    /// That entry's hash: it stands for everything logged before it.
    pub log_head: String,
    /// The rule book, its edition and its text's SHA-256.
    pub book: Option<[String; 3]>,
    /// What was welded while it was held, by joint; not there where nothing was.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub welded_held: BTreeMap<String, Vec<String>>,
    /// What is said of each part, by balloon; C1 is the car.
    pub parts: BTreeMap<String, Vec<String>>,
    /// The SHA-256 of each part's photographs, by balloon.
    pub photos: BTreeMap<String, Vec<String>>,
    /// What is drawn over those photographs, by balloon; not there before anything was drawn.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub drawn: BTreeMap<String, Vec<String>>,
    /// The photographs that are asked for and not there, by the part they would be of.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub missing: BTreeMap<String, Vec<String>>,
    /// Each rule's word with its figure, by rule and balloon.
    pub verdicts: BTreeMap<String, String>,
    /// Each verdict whole, by the same.
    #[serde(default)]
    pub judged: BTreeMap<String, Leaves>,
    /// The whole record, thing by thing.
    #[serde(default)]
    pub record: Record,
    /// The questions, each with its answers.
    pub questions: BTreeMap<String, Vec<String>>,
    /// The joints whose release for welding while lowered is asked, and what is welded there; none where the whole cage
    /// is asked about.
    #[serde(default, skip_serializing_if = "Early::is_empty")]
    pub early: Early,
}

/// Something that is not as it was put before the scrutineer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Which part.
    pub at: Balloon,
    /// What, in a sentence.
    pub what: String,
    /// Whether something was only added, and all that was shown still stands.
    pub adds: bool,
}

/// What a round asks, by its contents list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asks {
    /// May the whole cage be fully welded?
    WholeCage,
    /// May just these joints be welded while the cage is lowered?
    Joints(Early),
    /// This program cannot read what: it must not be taken for anything.
    Unreadable,
}

impl Asks {
    /// What a round asks.
    pub fn of(round: &Round) -> Self {
        match Contents::read(&round.contents) {
            None => Self::Unreadable,
            Some(contents) if contents.early.is_empty() => Self::WholeCage,
            Some(contents) => Self::Joints(contents.early),
        }
    }

    /// The joints that it asks for by themselves; none where it asks about the whole cage, or cannot be read.
    pub fn joints(self) -> Early {
        if let Self::Joints(early) = self { early } else { Early::new() }
    }
}

/// The format that is written.
pub(in crate::domain) const FORMAT: u32 = 2;

const CAR: Balloon = Balloon::new(Kind::Car, 1);

impl Contents {
    /// What would be put before the scrutineer now.
    pub fn of(facts: &BuildFacts, worked: &Worked, round: u32) -> Self {
        Self {
            tackbook_round: FORMAT,
            build: facts.build.slug.clone(),
            round,
            as_of: facts.as_of,
            log_head: facts.log_head.clone(),
            book: facts.book.as_ref().map(|book| {
                let text = Fingerprint::of(book.toml.as_bytes()).text().to_owned();
                [book.name.clone(), book.edition.clone(), text]
            }),
            welded_held: welded_held(facts),
            parts: parts(facts, worked),
            photos: photos(facts, worked),
            drawn: drawn(facts),
            missing: missing(worked),
            verdicts: judged(worked, line),
            judged: judged(worked, whole),
            record: frozen::record(facts, worked),
            questions: questions(facts),
            early: Early::new(),
        }
    }

    /// As it is kept and hashed: JSON, keys in order.
    pub fn canonical(&self) -> String {
        // Strings, numbers and ordered maps: nothing in it can fail to be written.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// A contents list as it was kept; none where it does not read, or a later program wrote it.
    pub fn read(text: &str) -> Option<Self> {
        serde_json::from_str(text).ok().filter(|contents: &Self| (1..=FORMAT).contains(&contents.tackbook_round))
    }
}

impl Change {
    fn otherwise(at: Balloon, what: impl Into<String>) -> Self {
        Self { at, what: what.into(), adds: false }
    }
}

/// The book and edition that a round was issued under; none without a book, or where its contents cannot be read.
pub fn edition_of(round: &Round) -> Option<String> {
    let [name, edition, _] = Contents::read(&round.contents)?.book?;
    Some(format!("{name}, {edition}"))
}

/// What changed since a round, by what would be put before the scrutineer now; a round that cannot be read says so.
pub fn changes(now: &Contents, since: &Round) -> Vec<Change> {
    if let Some(before) = Contents::read(&since.contents) {
        now.changes_since(&before)
    } else {
        let what = format!(
            "what round {} showed cannot be read by this program; what changed since cannot be told",
            since.number
        );
        vec![Change::otherwise(CAR, what)]
    }
}

fn parts(facts: &BuildFacts, worked: &Worked) -> BTreeMap<String, Vec<String>> {
    let metric = Units::Metric;
    let mut parts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut say = |of: Balloon, lines: Vec<String>| parts.entry(of.to_string()).or_default().extend(lines);
    if let Some(weigh_in) = facts.weigh_ins.first() {
        let at = Balloon::new(Kind::WeighIn, weigh_in.number);
        say(at, vec![format!("weighed {} on {}", weigh_in.reading.total().show(metric), weigh_in.day)]);
    }
    if let Some(Ok(class)) = &worked.class {
        say(CAR, vec![format!("class {}", class.class)]);
    }
    for (part, lines) in lines_of_cage(&worked.cage) {
        say(part, lines);
        let from = |stick: &Stick| format!("from S{} {}, heat {}", stick.number, stick.grade, stick.heat);
        say(part, facts.stick_of(part).map(from).into_iter().collect());
    }
    for item in &facts.kit {
        let label = &item.label;
        let named = format!("{}, {} no. {}", item.item, label.standard, label.serial);
        let way = facts.kit_ways.iter().find(|way| way.item == item.id);
        let came = way.and_then(|way| Some((way.before().last()?, way.here()?.came?)));
        let came = came.map(|(before, day)| format!("came from {} on {day}", before.car));
        let description: Vec<String> = std::iter::once(named).chain(label.dates()).chain(came).collect();
        say(Balloon::new(Kind::Kit, item.number), vec![description.join(", ")]);
    }
    for measured in worked.standing(facts).measured() {
        say(measured.of, vec![format!("{} {}", measured.measure.word(), measured.amount.show(metric))]);
    }
    parts
}

/// What a cage says of each of its parts, in metric.
fn lines_of_cage(cage: &Cage) -> BTreeMap<Balloon, Vec<String>> {
    let metric = Units::Metric;
    let mut lines = BTreeMap::new();
    for bar in &cage.members {
        let of_bar = vec![
            format!("{} of {}", bar.role.word(), bar.describe_tube()),
            format!("{} from node to node", bar.developed.show(metric)),
            ends(cage, &bar.ends),
        ];
        lines.insert(bar.balloon, of_bar);
    }
    for joint in &cage.joints {
        let bars: Vec<String> = joint.incoming.iter().map(|end| end.0.to_string()).collect();
        lines.insert(joint.balloon, vec![format!("{} onto {}", bars.join(" and "), joint.carrier)]);
    }
    for gusset in &cage.gussets {
        // Nothing said stands as nothing, as rounds froze it before "no hole" could be said.
        let hole = match gusset.hole {
            GussetHole::NotStated => String::new(),
            stated => format!(", {}", stated.clause(|hole| hole.show(metric))),
        };
        let (leg, sheet) = (gusset.leg.show(metric), gusset.thickness.show(metric));
        let between = format!("between {} and {}", gusset.between.0, gusset.between.1);
        lines.insert(gusset.balloon, vec![format!("{between}, leg {leg}, sheet {sheet}{hole}")]);
    }
    for plate in &cage.plates {
        let [one, other, thick] =
            [plate.sides.0.value, plate.sides.1.value, plate.thickness.value].map(|length| length.show(metric));
        lines.insert(plate.balloon, vec![format!("{one} by {other} by {thick} under {}", plate.under)]);
    }
    lines
}

fn ends(cage: &Cage, ends: &[End; 2]) -> String {
    let description = ends.map(|end| match end {
        End::OnPlate(plate) => format!("on {plate}"),
        End::Onto { carrier, along, .. } => {
            let at = cage.member(carrier).map_or_else(String::new, |_| format!(" at {}", along.show(Units::Metric)));
            format!("onto {carrier}{at}")
        }
        End::Free => "free".to_owned(),
    });
    description.join(", ")
}

/// The part that a photograph is of; the car, where it answers no shot.
fn of_shot(photo: &Photo) -> Balloon {
    shots::of_name(&photo.shot).map_or(CAR, |(of, _)| of)
}

/// The photographs that count, by the part they are of; one that answers no shot is the car's. One of an earlier piece does
/// not, nor one of a line of the weld log: welding is what a release is for.
fn photos(facts: &BuildFacts, worked: &Worked) -> BTreeMap<String, Vec<String>> {
    let mut photos: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let counts = worked.standing(facts).photos().filter(|photo| photo.kept() && !is_of_a_line(photo, &facts.welds));
    for photo in counts {
        let there = photos.entry(of_shot(photo).to_string()).or_default();
        let sha256 = photo.sha256.text().to_owned();
        if !there.contains(&sha256) {
            there.push(sha256);
        }
    }
    for there in photos.values_mut() {
        there.sort();
    }
    photos
}

/// The shots that are asked for and not taken, by their parts.
fn missing(worked: &Worked) -> BTreeMap<String, Vec<String>> {
    let mut missing: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for shot in worked.shots.iter().filter(|shot| !shot.taken()) {
        let view = shot.view.clone().unwrap_or_else(|| shot.what.trim_end_matches('.').to_owned());
        missing.entry(shot.of.to_string()).or_default().push(view);
    }
    missing
}

/// What stands drawn over the photographs that count, by the part they are of.
fn drawn(facts: &BuildFacts) -> BTreeMap<String, Vec<String>> {
    let mut drawn: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for mark in facts.mark_ups.iter().filter(|mark| mark.is_shown()) {
        let of_it = |photo: &&Photo| photo.kept() && photo.sha256 == mark.sha256 && !is_of_a_line(photo, &facts.welds);
        let Some(photo) = facts.photos.iter().find(of_it) else { continue };
        let line = format!("{} {}: {}", mark.sha256, mark.number, mark.drawn.words());
        drawn.entry(of_shot(photo).to_string()).or_default().push(line);
    }
    drawn
}

/// Every verdict by rule, part and measure, as it is told here; two of one name are both kept.
fn judged<T>(worked: &Worked, describe: impl Fn(&Verdict) -> T) -> BTreeMap<String, T> {
    let mut judged = BTreeMap::new();
    for verdict in &worked.verdicts {
        let of = verdict.of.unwrap_or(CAR);
        let measure = verdict.measure.map(|measure| format!(", {}", measure.word())).unwrap_or_default();
        let mut key = format!("{} {of}{measure}", verdict.rule_id);
        while judged.contains_key(&key) {
            key.push_str(", again");
        }
        judged.insert(key, describe(verdict));
    }
    judged
}

/// A verdict's word with its figure and its ruling.
fn line(verdict: &Verdict) -> String {
    let figure = verdict.describe_figure(Units::Metric);
    let ruled = verdict.ruling.as_ref().map(|ruled| format!(", ruling {}", ruled.place)).unwrap_or_default();
    format!("{} {figure}{ruled}", verdict.describe(Units::Metric)).trim().to_owned()
}

/// A verdict whole, but for what is made of the rest of it.
fn whole(verdict: &Verdict) -> Leaves {
    let mut whole = leaves::leaves(verdict);
    for (path, _) in SENTENCES {
        whole.retain(|at, _| at != path && !at.starts_with(&format!("{path}/")));
    }
    whole
}

/// What of a verdict is not frozen, each with the reason.
const SENTENCES: [(&str, &str); 3] = [
    ("words", "the book's own sentence; its text is frozen"),
    ("doubt", "how finely a figure was read; where that decides anything, the word is too close to call"),
    ("evidence", "sentences made of the figures, the record and the day, which are frozen or judged by themselves"),
];

/// What was welded while it was held, line by line.
fn welded_held(facts: &BuildFacts) -> BTreeMap<String, Vec<String>> {
    let mut welded: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for weld in &facts.welds {
        if let Some(line) = weld.describe_held() {
            welded.entry(weld.joint.to_string()).or_default().push(line);
        }
    }
    welded
}

fn questions(facts: &BuildFacts) -> BTreeMap<String, Vec<String>> {
    let lines = |question: &crate::domain::recorded::questions::Question| {
        let about = question.about.map(|about| format!("{about}: ")).unwrap_or_default();
        let mut lines = vec![format!("{about}{}", question.text)];
        lines.extend(question.answers.iter().map(|answer| format!("{}: {}", answer.by, answer.text)));
        lines.push(if question.settled.is_some() { "settled" } else { "open" }.to_owned());
        (format!("Q{}", question.number), lines)
    };
    facts.questions.iter().map(lines).collect()
}
