//! What the scrutineer ruled on a rule: it is shown in the verdict's place, and never becomes "meets".

use jiff::Timestamp;
use jiff::civil::Date;

use super::faults::Fault;
use super::figures::Measure;
use super::ids::{Balloon, CaptureId};
use super::limits;
use super::verdicts::{Verdict, Word};
use crate::quantity::Units;

/// What a ruling is, as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
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
        faults
    }
}

/// A ruling as it was recorded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ruling {
    /// 1, 2 … in the build.
    pub place: u32,
    /// What was ruled.
    pub ruled: NewRuling,
    /// What was found when it was recorded: its verdicts' words with their figures, in metric.
    pub found: String,
    /// When it was recorded.
    pub recorded: Timestamp,
    /// Who recorded it.
    pub by: String,
    /// When, by whom and why it was taken back; none while it stands.
    pub taken_back: Option<(Timestamp, String, String)>,
}

/// A ruling as its verdict carries it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Ruled {
    /// Its place in the build's list.
    pub place: u32,
    /// Whether it may stay as it is.
    pub stays: bool,
    /// The ruling in a sentence.
    pub told: String,
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
        let one = |verdict: &Verdict| {
            let of = verdict.of.map(|of| format!("{of} ")).unwrap_or_default();
            format!("{of}{} {}", verdict.state_told(Units::Metric), verdict.figure_told(Units::Metric))
                .trim()
                .to_owned()
        };
        verdicts.iter().filter(|verdict| self.speaks_of(verdict)).map(one).collect::<Vec<_>>().join("; ")
    }

    /// In a sentence: what, by whom, when, with which round.
    fn told(&self) -> String {
        let decided = if self.stays { "it may stay" } else { "it is to be changed" };
        let round = self.round.map(|round| format!(", with round {round}")).unwrap_or_default();
        format!("Scrutineer decides: {decided}, “{}” ({}, {}{round}).", self.words, self.given_by, self.given)
    }
}

/// Puts each standing ruling in its verdicts' place, the newest of each; what was found stays beside it.
pub(super) fn apply(rulings: &[Ruling], verdicts: &mut [Verdict]) {
    let before: Vec<String> = rulings.iter().map(|ruling| ruling.ruled.found(verdicts)).collect();
    for verdict in verdicts {
        let speaks = |entry: &&(&Ruling, &String)| entry.0.taken_back.is_none() && entry.0.ruled.speaks_of(verdict);
        let pairs: Vec<(&Ruling, &String)> = rulings.iter().zip(&before).collect();
        let Some((ruling, now)) = pairs.iter().rfind(speaks) else { continue };
        let mut told = ruling.ruled.told();
        if **now != ruling.found {
            told += &format!(" Since then what is found has changed; it was: {}.", ruling.found);
        }
        let ruled = Ruled { place: ruling.place, stays: ruling.ruled.stays, told };
        *verdict = verdict.clone().ruled(ruled);
    }
}
