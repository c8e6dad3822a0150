//! What the scrutineer ruled on a rule: while what it was given of stays as it was it stands in the verdict's place, and
//! never becomes "meets"; after that it is history beside the verdict.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::faults::Fault;
use super::measures::Measure;
use super::ids::{Balloon, CaptureId};
use super::limits;
use super::verdicts::{Verdict, Word};
use crate::quantity::Units;

/// What a ruling is, as it is entered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NewRuling {
    /// The rule's id in the book.
    pub rule: String,
    /// The part it is of; all that the rule speaks of, when none.
    pub of: Option<Balloon>,
    /// Of which figure, where the rule asks for several; all of them, when none.
    pub measure: Option<Measure>,
    /// Whether it may stay as it is; else it is to be changed.
    pub stays: bool,
    /// The scrutineer's words.
    pub words: String,
    /// Who gave it.
    pub given_by: String,
    /// On which day.
    pub given: Date,
    /// A photograph of it, or of what it is about.
    pub capture: Option<CaptureId>,
    /// The round it came with.
    pub round: Option<u32>,
    /// The letter or mail it came in, by its date or mark; empty when it was said.
    pub letter: String,
}

impl NewRuling {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("rule", &self.rule);
        faults.extend(limits::title_faults("given_by", &self.given_by));
        if self.words.trim().is_empty() {
            faults.push(Fault::new("words", "Write the scrutineer's words."));
        }
        faults.extend(limits::text_faults("words", &self.words));
        if self.letter.chars().count() > limits::TITLE {
            faults.extend(limits::title_faults("letter", &self.letter));
        }
        faults
    }
}

/// A ruling as it was recorded.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ruling {
    /// 1, 2 … in the build.
    pub place: u32,
    /// What was ruled.
    pub ruled: NewRuling,
    /// The book and edition it was given under.
    pub edition: String,
    /// What was found when it was recorded: its verdicts' words with their figures, in metric.
    pub found: String,
    /// When it was recorded.
    pub recorded: Timestamp,
    /// Who recorded it.
    pub by: String,
    /// When, by whom and why it was taken back; none while it stands.
    pub taken_back: Option<(Timestamp, String, String)>,
}

/// A ruling that stands in its verdict's place: it was given of what is found now, under the edition that is judged by now.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Ruled {
    /// Its place in the build's list.
    pub place: u32,
    /// Whether it may stay as it is.
    pub stays: bool,
    /// The ruling in a sentence.
    pub told: String,
}

/// A ruling that was given of another figure, or under another edition: told beside its verdict, and of no force there.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Lapsed {
    /// Its place in the build's list.
    pub place: u32,
    /// Whether it might stay as it was.
    pub stays: bool,
    /// What was ruled, of what, and what has changed since, in sentences.
    pub told: String,
}

/// What has become of a ruling, for one verdict.
enum Carried {
    Stands(Ruled),
    Lapsed(Lapsed),
}

impl NewRuling {
    /// True when a verdict is one of those it speaks of.
    pub fn speaks_of(&self, verdict: &Verdict) -> bool {
        self.rule == verdict.rule_id
            && verdict.word != Word::NotAsked
            && (self.of.is_none() || self.of == verdict.of)
            && (self.measure.is_none() || self.measure == verdict.measure)
    }

    /// What is found of what it speaks of, for the record: in metric, so that a reader's units are no difference.
    pub fn found(&self, verdicts: &[Verdict]) -> String {
        let spoken_of = verdicts.iter().filter(|verdict| self.speaks_of(verdict));
        spoken_of.map(found_of).collect::<Vec<_>>().join(APART)
    }

    /// What was decided, in words.
    pub const fn decided(&self) -> &'static str {
        if self.stays { "it may stay" } else { "it is to be changed" }
    }

    /// What it came with: round, letter.
    pub fn came_with(&self) -> String {
        let round = self.round.map(|round| format!(", with round {round}")).unwrap_or_default();
        let letter = if self.letter.is_empty() { String::new() } else { format!(", in {}", self.letter) };
        format!("{round}{letter}")
    }
}

/// Told beside a ruling that was not taken back and yet is in no verdict's place.
pub const NO_MORE: &str =
    "It stands in no verdict now: what it was given of has changed, or the edition, or it was ruled on again.";

/// Between what was found of one part and of the next.
const APART: &str = "; ";

/// What is found of one part.
fn found_of(verdict: &Verdict) -> String {
    let of = verdict.of.map(|of| format!("{of} ")).unwrap_or_default();
    let measure = verdict.measure.map(|measure| format!("{} ", measure.word())).unwrap_or_default();
    let (told, figure) = (verdict.state_told(Units::Metric), verdict.figure_told(Units::Metric));
    format!("{of}{measure}{told} {figure}").trim().to_owned()
}

impl Ruling {
    /// Who gave it, when, with which round or letter, under which edition.
    fn given(&self) -> String {
        let Self { ruled, edition, .. } = self;
        format!("{}, {}{}, under {edition}", ruled.given_by, ruled.given, ruled.came_with())
    }

    /// In a sentence: what, by whom, when, with which round or letter, under which edition.
    pub fn told(&self) -> String {
        format!("Scrutineer decides: {}, “{}” ({}).", self.ruled.decided(), self.ruled.words, self.given())
    }

    /// Whether it stands in the place of a verdict as things are now.
    pub fn stands_in(&self, verdicts: &[Verdict]) -> bool {
        verdicts.iter().any(|verdict| verdict.ruling.as_ref().is_some_and(|ruled| ruled.place == self.place))
    }

    /// As a verdict carries it: a figure or an edition that is not the one ruled on takes its place away.
    fn carried(&self, verdict: &Verdict, edition: &str) -> Carried {
        let (place, stays) = (self.place, self.ruled.stays);
        let same = self.found.split(APART).any(|was| was == found_of(verdict));
        if same && self.edition == edition {
            return Carried::Stands(Ruled { place, stays, told: self.told() });
        }
        let of = if same { String::new() } else { format!(" of another figure, {}", self.found) };
        let now = if self.edition == edition { String::new() } else { format!(" It is judged by {edition} now.") };
        let told = format!(
            "Ruling {place} was{of}: {}, “{}” ({}).{now} Ask the scrutineer again.",
            self.ruled.decided(),
            self.ruled.words,
            self.given()
        );
        Carried::Lapsed(Lapsed { place, stays, told })
    }
}

/// Puts each ruling that still holds in its verdicts' place, the newest of each, what was found beside it; one that holds no
/// more is told beside the verdict, whose word is what is found. `edition` is the book judged by.
pub(super) fn apply(rulings: &[Ruling], edition: &str, verdicts: &mut [Verdict]) {
    for verdict in verdicts {
        let speaks = |ruling: &&Ruling| ruling.taken_back.is_none() && ruling.ruled.speaks_of(verdict);
        if let Some(ruling) = rulings.iter().rfind(speaks) {
            *verdict = match ruling.carried(verdict, edition) {
                Carried::Stands(ruled) => verdict.clone().ruled(ruled),
                Carried::Lapsed(lapsed) => verdict.clone().ruled_before(lapsed),
            };
        }
    }
}
