//! The contents list of a round: what was put before the scrutineer, part by part, so that a later change shows.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::cage::{Cage, End};
use super::facts::BuildFacts;
use super::findings::Findings;
use super::fingerprint::Fingerprint;
use super::ids::{Balloon, Kind};
use super::rounds::{Early, Round};
use super::shots;
use super::stock::Stick;
use crate::quantity::{Show as _, Units};

/// What was put before the scrutineer. Lengths are printed in metric: a reader's units must not look like a change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Contents {
    /// Counts up when this format changes.
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
    /// What is said of each part, by balloon; C1 is the car.
    pub parts: BTreeMap<String, Vec<String>>,
    /// The SHA-256 of each part's photographs, by balloon.
    pub photos: BTreeMap<String, Vec<String>>,
    /// What is drawn over those photographs, by balloon; not there before anything was drawn.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub drawn: BTreeMap<String, Vec<String>>,
    /// Each rule's word, by rule and balloon.
    pub verdicts: BTreeMap<String, String>,
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
}

/// So many of a part's first lines say how it is built; the others, what was recorded and measured of it.
pub const BUILT: usize = 3;

const CAR: Balloon = Balloon::new(Kind::Car, 1);

impl Contents {
    /// What would be put before the scrutineer now.
    pub fn of(facts: &BuildFacts, found: &Findings, round: u32) -> Self {
        Self {
            tackbook_round: 1,
            build: facts.build.slug.clone(),
            round,
            as_of: facts.as_of,
            log_head: facts.log_head.clone(),
            book: facts.book.as_ref().map(|book| {
                let text = Fingerprint::of(book.toml.as_bytes()).text().to_owned();
                [book.name.clone(), book.edition.clone(), text]
            }),
            parts: parts(facts, found),
            photos: photos(facts),
            drawn: drawn(facts),
            verdicts: verdicts(found),
            questions: questions(facts),
            early: Early::new(),
        }
    }

    /// As it is kept and hashed: JSON, keys in order.
    pub fn canonical(&self) -> String {
        // Strings, numbers and ordered maps: nothing in it can fail to be written.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// What of the cage, its tube, kit and photographs is not as it was: the log and the questions go on.
    pub fn changes_since(&self, before: &Self) -> Vec<Change> {
        let mut changes = Vec::new();
        let at = |name: &str| name.parse().unwrap_or(CAR);
        if self.book != before.book {
            changes.push(Change { at: CAR, what: "judged by another rule book or edition".to_owned() });
        }
        let names: BTreeSet<&String> = self.parts.keys().chain(before.parts.keys()).collect();
        for name in names {
            let what = match (before.parts.get(name), self.parts.get(name)) {
                (Some(was), Some(is)) if was != is => told_apart(was, is),
                (None, Some(_)) => "is new".to_owned(),
                (Some(_), None) => "is not there any more".to_owned(),
                _ => continue,
            };
            changes.push(Change { at: at(name), what });
        }
        let names: BTreeSet<&String> = self.photos.keys().chain(before.photos.keys()).collect();
        for name in names {
            let of = |contents: &Self| contents.photos.get(name).cloned().unwrap_or_default();
            let (was, is) = (of(before), of(self));
            let more = is.iter().filter(|photo| !was.contains(photo)).count();
            let fewer = was.iter().filter(|photo| !is.contains(photo)).count();
            let added = (more > 0).then(|| format!("photographed again: {more} more"));
            let gone = (fewer > 0).then(|| format!("photographs withdrawn: {fewer}"));
            changes.extend(added.into_iter().chain(gone).map(|what| Change { at: at(name), what }));
        }
        let names: BTreeSet<&String> = self.drawn.keys().chain(before.drawn.keys()).collect();
        let differ = names.into_iter().filter(|name| self.drawn.get(*name) != before.drawn.get(*name));
        let what = "other marks drawn over its photographs";
        changes.extend(differ.map(|name| Change { at: at(name), what: what.to_owned() }));
        changes.sort_by_key(|change| change.at);
        changes
    }
}

/// The lines that differ, old and new.
fn told_apart(was: &[String], is: &[String]) -> String {
    let gone: Vec<&str> = was.iter().filter(|line| !is.contains(line)).map(String::as_str).collect();
    let new: Vec<&str> = is.iter().filter(|line| !was.contains(line)).map(String::as_str).collect();
    match (gone.is_empty(), new.is_empty()) {
        (false, false) => format!("was {}; now {}", gone.join(", "), new.join(", ")),
        (true, _) => format!("now also {}", new.join(", ")),
        (_, true) => format!("no longer {}", gone.join(", ")),
    }
}

/// The book and edition that a round was issued under; none without a book, or where its contents cannot be read.
pub fn edition_of(round: &Round) -> Option<String> {
    let [name, edition, _] = serde_json::from_str::<Contents>(&round.contents).ok()?.book?;
    Some(format!("{name}, {edition}"))
}

/// What changed since the newest round; a round whose contents cannot be read says so.
pub fn changes(facts: &BuildFacts, found: &Findings, since: &Round) -> Vec<Change> {
    if let Ok(before) = serde_json::from_str::<Contents>(&since.contents) {
        Contents::of(facts, found, since.number).changes_since(&before)
    } else {
        let what = format!("round {} was issued by another program; what changed since cannot be told", since.number);
        vec![Change { at: CAR, what }]
    }
}

fn parts(facts: &BuildFacts, found: &Findings) -> BTreeMap<String, Vec<String>> {
    let metric = Units::Metric;
    let mut parts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut say = |of: Balloon, lines: Vec<String>| parts.entry(of.to_string()).or_default().extend(lines);
    if let Some(weigh_in) = facts.weigh_ins.first() {
        let at = Balloon::new(Kind::WeighIn, weigh_in.number);
        say(at, vec![format!("weighed {} on {}", weigh_in.reading.total().show(metric), weigh_in.day)]);
    }
    if let Some(Ok(class)) = &found.class {
        say(CAR, vec![format!("class {}", class.class)]);
    }
    for bar in &found.cage.members {
        let mut lines = vec![
            format!("{} of {}", bar.role.word(), bar.tube_told()),
            format!("{} from node to node", bar.developed.show(metric)),
            ends(&found.cage, &bar.ends),
        ];
        let from = |stick: &Stick| format!("from S{} {}, heat {}", stick.number, stick.grade, stick.heat);
        lines.extend(facts.stick_of(bar.balloon).map(from));
        say(bar.balloon, lines);
    }
    for joint in &found.cage.joints {
        let bars: Vec<String> = joint.incoming.iter().map(|end| end.0.to_string()).collect();
        say(joint.balloon, vec![format!("{} onto {}", bars.join(" and "), joint.carrier)]);
    }
    for gusset in &found.cage.gussets {
        let hole = gusset.hole.map(|hole| format!(", hole {}", hole.show(metric))).unwrap_or_default();
        let (leg, sheet) = (gusset.leg.show(metric), gusset.thickness.show(metric));
        let between = format!("between {} and {}", gusset.between.0, gusset.between.1);
        say(gusset.balloon, vec![format!("{between}, leg {leg}, sheet {sheet}{hole}")]);
    }
    for plate in &found.cage.plates {
        let [one, other, thick] =
            [plate.sides.0.value, plate.sides.1.value, plate.thickness.value].map(|length| length.show(metric));
        say(plate.balloon, vec![format!("{one} by {other} by {thick} under {}", plate.under)]);
    }
    for item in &facts.kit {
        let label = &item.label;
        let named = format!("{}, {} no. {}", item.item, label.standard, label.serial);
        let way = facts.kit_ways.iter().find(|way| way.item == item.id);
        let came = way.and_then(|way| Some((way.before().last()?, way.here()?.came?)));
        let came = came.map(|(before, day)| format!("came from {} on {day}", before.car));
        let told: Vec<String> = std::iter::once(named).chain(label.dates()).chain(came).collect();
        say(Balloon::new(Kind::Kit, item.number), vec![told.join(", ")]);
    }
    for measured in &facts.measured {
        say(measured.of, vec![format!("{} {}", measured.measure.word(), measured.amount.show(metric))]);
    }
    parts
}

fn ends(cage: &Cage, ends: &[End; 2]) -> String {
    let told = ends.map(|end| match end {
        End::OnPlate(plate) => format!("on {plate}"),
        End::Onto { carrier, along, .. } => {
            let at = cage.member(carrier).map_or_else(String::new, |_| format!(" at {}", along.show(Units::Metric)));
            format!("onto {carrier}{at}")
        }
        End::Free => "free".to_owned(),
    });
    told.join(", ")
}

/// The photographs that count, by the part they are of; one that answers no shot is the car's.
fn photos(facts: &BuildFacts) -> BTreeMap<String, Vec<String>> {
    let mut photos: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let counts = facts.photos.iter().filter(|photo| photo.kept());
    for photo in counts {
        let of = shots::of_name(&photo.shot).map_or(CAR, |(of, _)| of);
        let there = photos.entry(of.to_string()).or_default();
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

/// What stands drawn over the photographs that count, by the part they are of.
fn drawn(facts: &BuildFacts) -> BTreeMap<String, Vec<String>> {
    let mut drawn: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for mark in facts.mark_ups.iter().filter(|mark| mark.stands()) {
        let of_it = |photo: &&super::photos::Photo| photo.kept() && photo.sha256 == mark.sha256;
        let Some(photo) = facts.photos.iter().find(of_it) else { continue };
        let of = shots::of_name(&photo.shot).map_or(CAR, |(of, _)| of);
        let line = format!("{} {}: {}", mark.sha256, mark.number, mark.drawn.words());
        drawn.entry(of.to_string()).or_default().push(line);
    }
    drawn
}

fn verdicts(found: &Findings) -> BTreeMap<String, String> {
    let line = |verdict: &super::verdicts::Verdict| {
        let of = verdict.of.unwrap_or(CAR);
        let measure = verdict.measure.map(|measure| format!(", {}", measure.word())).unwrap_or_default();
        let figure = verdict.figure_told(Units::Metric);
        let ruled = verdict.ruling.as_ref().map(|ruled| format!(", ruling {}", ruled.place)).unwrap_or_default();
        (
            format!("{} {of}{measure}", verdict.rule_id),
            format!("{} {figure}{ruled}", verdict.told(Units::Metric)).trim().to_owned(),
        )
    };
    found.verdicts.iter().map(line).collect()
}

fn questions(facts: &BuildFacts) -> BTreeMap<String, Vec<String>> {
    let lines = |question: &super::questions::Question| {
        let about = question.about.map(|about| format!("{about}: ")).unwrap_or_default();
        let mut lines = vec![format!("{about}{}", question.text)];
        lines.extend(question.answers.iter().map(|answer| format!("{}: {}", answer.by, answer.text)));
        lines.push(if question.settled.is_some() { "settled" } else { "open" }.to_owned());
        (format!("Q{}", question.number), lines)
    };
    facts.questions.iter().map(lines).collect()
}
