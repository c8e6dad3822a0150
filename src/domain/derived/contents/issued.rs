//! A round as it was issued, part by part: what its contents list froze of each, and which parts are answered one by one.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value};

use super::frozen::Thing;
use super::leaves::{Leaf, Leaves, leaves};
use super::sorts::Sort;
use super::{CAR, Contents};
use crate::domain::cage::{Cage, CageRecord};
use crate::domain::judge::shots;
use crate::domain::judge::verdicts::Word;
use crate::domain::measure::amounts::Amount;
use crate::domain::recorded::photos::Photo;
use crate::domain::recorded::reviews::{PartAnswer, Reviewed};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, Kind};

/// What one rule said of a part when the round was issued.
#[derive(Debug, Clone, PartialEq)]
pub struct IssuedVerdict {
    /// The rule's id in the book.
    pub rule_id: String,
    /// The clause; empty of a round that did not keep it.
    pub clause: String,
    /// What was measured, where the rule is a limit on a figure.
    pub measure: String,
    /// The word; none of a round that kept its sentence alone.
    pub word: Option<Word>,
    /// The word with its figure, as it was frozen, in metric.
    pub line: String,
    /// The figure.
    pub figure: Option<Amount>,
    /// How far the figure is from the limit.
    pub margin: Option<Amount>,
    /// The limit as the book prints it.
    pub limit: String,
}

/// A photograph that the round shows of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IssuedPhoto<'f> {
    /// Its row.
    pub photo: &'f Photo,
    /// The shot it stood at then: "wide".
    pub view: String,
    /// What stood drawn over it, in words, each with its number.
    pub drawn: Vec<(u32, String)>,
}

/// The order in which parts are answered: what is welded first.
const ORDER: [Kind; 8] =
    [Kind::Joint, Kind::Gusset, Kind::Plate, Kind::Kit, Kind::Member, Kind::Stick, Kind::WeighIn, Kind::Car];

impl Contents {
    /// Every part that can be answered, in the order of answering.
    pub fn shown(&self) -> Vec<Balloon> {
        let named = self.parts.keys().chain(self.photos.keys()).chain(self.missing.keys()).map(String::as_str);
        let judged = self.verdicts.keys().filter_map(|key| Some(of_rest(key.split_once(' ')?.1)));
        let parts: BTreeSet<Balloon> = named
            .chain(judged)
            .filter_map(|name| name.parse().ok())
            .chain(self.early.keys().copied())
            .chain([CAR])
            .collect();
        let of_kind = |kind: Kind| parts.iter().copied().filter(move |part| part.kind == kind).collect::<Vec<_>>();
        ORDER.into_iter().flat_map(of_kind).collect()
    }

    /// The parts that are answered one by one. Of a round that asks for single joints, these and the bars welded there; else
    /// every joint, gusset, plate, item of kit, weigh-in and the car, and whatever other part has a photograph or a rule that
    /// is not met.
    pub fn asked(&self) -> Vec<Balloon> {
        let (early, unmet) = (self.early_parts(), self.unmet());
        let asked = |part: &Balloon| {
            if !early.is_empty() {
                return early.contains(part);
            }
            !matches!(part.kind, Kind::Member | Kind::Stick) || self.has_photos(*part) || unmet.contains(part)
        };
        self.shown().into_iter().filter(asked).collect()
    }

    /// The joints of an early round and the bars that are named with them: "M2 onto M1".
    pub fn early_parts(&self) -> Vec<Balloon> {
        let bars = self.early.values().flat_map(|welds| welds.split(' ')).filter_map(|word| word.parse().ok());
        self.early.keys().copied().chain(bars).collect()
    }

    /// What forbids to approve, by these answers: every part that is asked and not accepted, and every other of which something
    /// is wanted. Of a round that asks for single joints, those that are to be released and are not accepted.
    pub fn not_accepted(&self, answers: &BTreeMap<Balloon, &Reviewed>, released: &[Balloon]) -> Vec<Balloon> {
        let accepted = |part: &Balloon| answers.get(part).is_some_and(|one| one.answer == Some(PartAnswer::Accepted));
        if !self.early.is_empty() {
            return released.iter().copied().filter(|part| !accepted(part)).collect();
        }
        let asked: BTreeSet<Balloon> = self.asked().into_iter().collect();
        let wanted = |part: &Balloon| answers.get(part).is_some_and(|one| one.wants());
        self.shown()
            .into_iter()
            .filter(|part| if asked.contains(part) { !accepted(part) } else { wanted(part) })
            .collect()
    }

    fn has_photos(&self, part: Balloon) -> bool {
        self.photos.get(&part.to_string()).is_some_and(|photos| !photos.is_empty())
    }

    /// The parts of which a rule is not plainly met: each verdict's line begins with its word.
    fn unmet(&self) -> BTreeSet<Balloon> {
        let quiet = |line: &str| [Word::Meets, Word::NotAsked].iter().any(|word| line.starts_with(word.word()));
        let open = self.verdicts.iter().filter(|(_, line)| !quiet(line));
        open.filter_map(|(key, _)| of_rest(key.split_once(' ')?.1).parse().ok()).collect()
    }

    /// What was said of a part, in lines, in metric.
    pub fn lines_of(&self, part: Balloon) -> &[String] {
        self.parts.get(&part.to_string()).map(Vec::as_slice).unwrap_or_default()
    }

    /// What each rule said of a part.
    pub fn verdicts_of(&self, part: Balloon) -> Vec<IssuedVerdict> {
        let part = part.to_string();
        let of_part = |key: &&String| key.split_once(' ').is_some_and(|(_, rest)| of_rest(rest) == part);
        let verdict = |key: &String| {
            let (rule, rest) = key.split_once(' ').unwrap_or((key, ""));
            let nothing = Leaves::new();
            let whole = self.judged.get(key).unwrap_or(&nothing);
            let text = |path: &str| whole.get(path).map(|leaf| leaf.describe().to_owned()).unwrap_or_default();
            let line = self.verdicts.get(key).cloned().unwrap_or_default();
            let word = serde_json::from_value(Value::String(text("word"))).ok();
            IssuedVerdict {
                rule_id: rule.to_owned(),
                clause: text("clause"),
                measure: rest.split_once(", ").map(|(_, measure)| measure.to_owned()).unwrap_or_default(),
                // A round that kept sentences alone: the word begins its line.
                word: word.or_else(|| Word::ALL.into_iter().find(|word| line.starts_with(word.word()))),
                line,
                figure: amount(whole, "figure/"),
                margin: amount(whole, "margin/"),
                limit: text("limit/text"),
            }
        };
        self.verdicts.keys().filter(of_part).map(verdict).collect()
    }

    /// The photographs that the round shows of a part, as they were received, by the names that their captures had.
    pub fn photos_of<'f>(&self, part: Balloon, photos: &'f [Photo]) -> Vec<IssuedPhoto<'f>> {
        let shown = self.photos.get(&part.to_string()).map(Vec::as_slice).unwrap_or_default();
        let drawn = self.drawn.get(&part.to_string()).map(Vec::as_slice).unwrap_or_default();
        let frozen = |photo: &&Photo| {
            let thing = Thing { at: part, sort: Sort::Photo, which: photo.capture.to_string() };
            self.record.get(&thing.to_string()).map(|leaves| leaves.get("shot").map(Leaf::is).unwrap_or_default())
        };
        let mut found: Vec<IssuedPhoto<'f>> = Vec::new();
        for name in shown {
            let Ok(sha256) = name.parse::<Fingerprint>() else { continue };
            let mut of_content = photos.iter().filter(|photo| photo.sha256 == sha256 && photo.received.is_some());
            // One that is at two shots stands where the round had it.
            let Some(photo) = of_content.clone().find(|photo| frozen(photo).is_some()).or_else(|| of_content.next())
            else {
                continue;
            };
            let shot = frozen(&photo).unwrap_or(&photo.shot);
            let key = shots::of_name(shot).map_or(shot, |(_, key)| key);
            let over = drawn.iter().filter_map(|line| line.strip_prefix(name.as_str())?.trim_start().split_once(": "));
            found.push(IssuedPhoto {
                photo,
                view: key.rsplit('/').next().unwrap_or(key).to_owned(),
                drawn: over.filter_map(|(number, words)| Some((number.parse().ok()?, words.to_owned()))).collect(),
            });
        }
        found.sort_by_key(|one| (one.view.clone(), one.photo.declared));
        found
    }

    /// Whether it shows a photograph of this content.
    pub fn shows_photo(&self, sha256: &Fingerprint) -> bool {
        self.photos.values().flatten().any(|name| name == sha256.text())
    }

    /// The photographs of a part that were asked for and not there.
    pub fn missing_of(&self, part: Balloon) -> &[String] {
        self.missing.get(&part.to_string()).map(Vec::as_slice).unwrap_or_default()
    }

    /// What was asked of a part before it was issued, each with its answers, and whether it was settled.
    pub fn questions_of(&self, part: Balloon) -> Vec<(&str, &[String])> {
        let begins = format!("{part}: ");
        let of_part = |lines: &[String]| {
            lines.first().is_some_and(|text| text.starts_with(&begins) || part == CAR && no_part(text))
        };
        let all = self.questions.iter().filter(|(_, lines)| of_part(lines));
        all.map(|(number, lines)| (number.as_str(), lines.as_slice())).collect()
    }

    /// Whether a cage's record is the one that it was issued with, as far as a drawing of it goes.
    pub fn drawn_from(&self, record: &CageRecord) -> bool {
        let frozen =
            |which: &str, sort: Sort| self.record.get(&Thing { at: CAR, sort, which: which.to_owned() }.to_string());
        let is = |which: &str, sort: Sort, now: &Leaves| frozen(which, sort).is_some_and(|then| then == now);
        let by_hand = |key: &&String| Thing::of(key).is_some_and(|thing| thing.sort == Sort::HandBar);
        let hand: BTreeSet<&Leaves> =
            self.record.iter().filter(|(key, _)| by_hand(key)).map(|(_, leaves)| leaves).collect();
        let now: Vec<Leaves> = record.hand_bars.iter().map(leaves).collect();
        is("", Sort::Measures, &leaves(&record.measures))
            && is("structure", Sort::Cage, &leaves(&record.structure))
            && is("options", Sort::Cage, &leaves(&record.options))
            && hand == now.iter().collect()
    }

    /// Whether a cage says of a part what the list froze of it: then its figures are those that were put before the scrutineer.
    pub fn agrees_of(&self, cage: &Cage, part: Balloon) -> bool {
        let now = super::lines_of_cage(cage);
        let Some(now) = now.get(&part) else { return false };
        let then = self.lines_of(part);
        !now.is_empty() && now.iter().all(|line| then.contains(line))
    }
}

/// The part in what follows a rule's id: "J7, gap".
pub(super) fn of_rest(rest: &str) -> &str {
    rest.split_once(", ").map_or(rest, |(of, _)| of)
}

/// Whether a question's text begins with no part.
fn no_part(text: &str) -> bool {
    text.split_once(": ").is_none_or(|(of, _)| of.parse::<Balloon>().is_err())
}

/// An amount among a verdict's values, by the kind it stands under.
fn amount(whole: &Leaves, under: &str) -> Option<Amount> {
    let (kind, leaf) = whole.iter().find_map(|(path, leaf)| Some((path.strip_prefix(under)?, leaf)))?;
    let text = leaf.is();
    let value = |value: Value| serde_json::from_value(Value::Object(Map::from_iter([(kind.to_owned(), value)]))).ok();
    let number = serde_json::from_str(text).ok().and_then(value);
    number.or_else(|| value(Value::String(text.to_owned())))
}
