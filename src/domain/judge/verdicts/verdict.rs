//! One verdict: a rule, what it is of, the word, and what the word rests on.

use std::collections::BTreeSet;
use std::fmt;

use serde::{Deserialize, Serialize};

use crate::domain::book::{Evidence, Force, Rule};
use crate::domain::measure::amounts::{Amount, LimitText};
use crate::domain::measure::measures::Measure;
use crate::domain::recorded::rulings::{Lapsed, Ruled};
use crate::domain::words::basis::Basis;
use crate::domain::words::car_dates::CarDate;
use crate::domain::words::ids::Balloon;
use crate::quantity::{Show as _, Units};

use super::known::{CAR, Known};

/// The word of a verdict. None of them is an approval: the scrutineer decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Word {
    /// What is known keeps to the rule.
    Meets,
    /// It falls short.
    ShortBy,
    /// It is over.
    OverBy,
    /// There is no figure.
    NotMeasured,
    /// There is no photograph.
    NoPhoto,
    /// The doubt of the scale, or of what a figure was read with, reaches over the edge.
    TooClose,
    /// The scrutineer decides in each case.
    ScrutineerDecides,
    /// The rule is not asked of this car.
    NotAsked,
}

impl Word {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Meets,
        Self::ShortBy,
        Self::OverBy,
        Self::NotMeasured,
        Self::NoPhoto,
        Self::TooClose,
        Self::ScrutineerDecides,
        Self::NotAsked,
    ];

    /// As it is printed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Meets => "meets",
            Self::ShortBy => "short by",
            Self::OverBy => "over by",
            Self::NotMeasured => "not measured",
            Self::NoPhoto => "no photo",
            Self::TooClose => "too close to call",
            Self::ScrutineerDecides => "scrutineer decides",
            Self::NotAsked => "not asked of this car",
        }
    }

    /// True when the rule is broken by what is known.
    pub const fn fails(self) -> bool {
        matches!(self, Self::ShortBy | Self::OverBy)
    }
}

/// What is found of a rule before it becomes a verdict's word: nothing can be found to meet it without what that rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Answer {
    /// What is known keeps to the rule, by this.
    Meets(Basis),
    /// It falls short.
    ShortBy,
    /// It is over.
    OverBy,
    /// There is no figure.
    NotMeasured,
    /// There is no photograph.
    NoPhoto,
    /// The doubt reaches over the edge.
    TooClose,
    /// The scrutineer decides in each case.
    ScrutineerDecides,
    /// The rule is not asked of this car.
    NotAsked,
}

impl Answer {
    const fn word(self) -> Word {
        match self {
            Self::Meets(_) => Word::Meets,
            Self::ShortBy => Word::ShortBy,
            Self::OverBy => Word::OverBy,
            Self::NotMeasured => Word::NotMeasured,
            Self::NoPhoto => Word::NoPhoto,
            Self::TooClose => Word::TooClose,
            Self::ScrutineerDecides => Word::ScrutineerDecides,
            Self::NotAsked => Word::NotAsked,
        }
    }
}

impl fmt::Display for Word {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// What one rule says of one part, or of the car.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Verdict {
    /// The rule's id in the book.
    pub rule_id: String,
    /// The clause.
    pub clause: String,
    /// The rule in our own words.
    pub words: String,
    /// The part it is of; none when it is of the car.
    pub of: Option<Balloon>,
    /// What was measured, where the rule is a limit on a figure.
    pub measure: Option<Measure>,
    /// The word.
    pub word: Word,
    /// What was found before the scrutineer decides, where the word is the scrutineer's.
    pub found: Option<Word>,
    /// The figure it rests on.
    pub figure: Option<Amount>,
    /// The limit.
    pub limit: Option<LimitText>,
    /// How far the figure is from the edge, without a sign: the word says on which side.
    pub margin: Option<Amount>,
    /// One standard deviation of the figure, where what it was read with is known.
    pub doubt: Option<Amount>,
    /// What the word rests on: drawn, recorded, measured, seen. Only a judging can say so.
    pub(super) rests_on: BTreeSet<Basis>,
    /// What the word rests on, and what is missing, one sentence each.
    pub evidence: Vec<String>,
    /// Other figures that the word rests on or waits for, each of its part.
    pub also: Vec<(Measure, Balloon)>,
    /// What the scrutineer ruled, where a ruling stands.
    pub ruling: Option<Ruled>,
    /// What the scrutineer ruled of another figure or under another edition; it has no force here.
    pub lapsed: Option<Lapsed>,
    /// Whether the word waits for nothing but the stick that a bar is cut from.
    #[serde(skip)]
    pub uncut: bool,
    /// The date of the car that the word waits for.
    #[serde(skip)]
    pub car_date: Option<CarDate>,
    /// The photographs that it looked for, by their keys and parts.
    #[serde(skip)]
    pub(super) looked_for: Vec<(String, Balloon)>,
    /// How hard the rule binds.
    #[serde(serialize_with = "force_word")]
    pub force: Force,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "as serde calls it")]
fn force_word<S: serde::Serializer>(force: &Force, out: S) -> Result<S::Ok, S::Error> {
    out.serialize_str(force.word())
}

impl Verdict {
    /// A verdict of a rule, with nothing yet to rest on.
    pub(super) fn new(rule: &Rule, of: Option<Balloon>, answer: Answer) -> Self {
        let rests_on = if let Answer::Meets(basis) = answer { BTreeSet::from([basis]) } else { BTreeSet::new() };
        Self {
            rule_id: rule.id.clone(),
            clause: rule.clause.clone(),
            words: rule.words.clone(),
            of,
            measure: None,
            word: answer.word(),
            found: None,
            figure: None,
            limit: None,
            margin: None,
            doubt: None,
            rests_on,
            evidence: Vec::new(),
            also: Vec::new(),
            ruling: None,
            lapsed: None,
            uncut: false,
            car_date: None,
            looked_for: Vec::new(),
            force: rule.force,
        }
    }

    /// With one more sentence of what it rests on.
    pub(super) fn because(mut self, sentence: impl Into<String>) -> Self {
        self.evidence.push(sentence.into());
        self
    }

    /// With a sentence of what it does not rest on, before what is said of the scrutineer's deciding.
    pub(in crate::domain) fn rests_not_on(&mut self, sentence: String) {
        self.evidence.insert(self.reasons().len(), sentence);
    }

    /// Having looked for these photographs of a part.
    pub(super) fn looked_for(mut self, keys: impl IntoIterator<Item = String>, part: Balloon) -> Self {
        self.looked_for.extend(keys.into_iter().map(|key| (key, part)));
        self
    }

    /// Waiting for the stick that its tube is cut from, and saying so.
    pub(super) fn uncut(self, sentence: impl Into<String>) -> Self {
        Self { uncut: true, ..self.because(sentence) }
    }

    /// Resting on this too.
    pub(super) fn on(mut self, basis: Basis) -> Self {
        self.rests_on.insert(basis);
        self
    }

    /// With a limit in words.
    pub(super) fn limited(mut self, limit: LimitText) -> Self {
        self.limit = Some(limit);
        self
    }

    /// As the rule's evidence and force leave it: what is to be shown by a photograph or a paper needs one, and what
    /// is the scrutineer's stays the scrutineer's.
    pub(super) fn settled(mut self, rule: &Rule, known: &Known<'_>) -> Self {
        if self.word == Word::Meets && rule.evidence != Evidence::Figure {
            let part = self.of.unwrap_or(CAR);
            let thing = if rule.evidence == Evidence::Paper { "paper" } else { "part" };
            self.looked_for.push((rule.id.clone(), part));
            if (known.photographed)(&rule.id, &part) {
                self.rests_on.insert(Basis::Seen);
                self.evidence.push(format!("There is a photograph of the {thing}."));
            } else {
                self.word = Word::NoPhoto;
                self.evidence.push(format!("A photograph of the {thing} is asked for and is not there."));
            }
        }
        self.decided(rule)
    }

    /// What is the scrutineer's stays the scrutineer's.
    pub(super) fn decided(self, rule: &Rule) -> Self {
        if rule.force == Force::Scrutineer && self.word != Word::NotAsked {
            self.left_to_the_scrutineer()
        } else {
            self
        }
    }

    fn left_to_the_scrutineer(mut self) -> Self {
        if self.found.is_none() {
            self.evidence.push(format!("Found before the scrutineer decides: {}.", self.word));
            self.found = Some(self.word);
            self.word = Word::ScrutineerDecides;
        }
        self
    }

    /// With the scrutineer's ruling in its place.
    pub(in crate::domain) fn ruled(self, ruling: Ruled) -> Self {
        Self { ruling: Some(ruling), ..self.left_to_the_scrutineer() }
    }

    /// With a ruling that holds no more told beside it: the word stays what is found.
    pub(in crate::domain) fn ruled_before(self, lapsed: Lapsed) -> Self {
        Self { lapsed: Some(lapsed), ..self }
    }
}

#[cfg(test)]
impl Verdict {
    /// A verdict of the car by the demo's first rule, nothing found: for drawings of verdicts.
    pub(crate) fn unfound() -> Self {
        let book = crate::domain::book::read(include_str!("../../../demo/book.toml")).unwrap();
        Self::new(book.rules().next().unwrap(), None, Answer::NotMeasured)
    }
}

impl Verdict {
    /// What was found, the scrutineer's deciding aside.
    pub fn state(&self) -> Word {
        self.found.unwrap_or(self.word)
    }

    /// What the rule's own word rests on: the evidence, without what is said of the scrutineer's deciding.
    pub fn reasons(&self) -> &[String] {
        let decided = usize::from(self.found.is_some());
        self.evidence.get(..self.evidence.len().saturating_sub(decided)).unwrap_or_default()
    }

    /// What it rests on: drawn, recorded, measured, seen; nothing where nothing is known.
    pub const fn rests_on(&self) -> &BTreeSet<Basis> {
        &self.rests_on
    }

    /// The same in words: "Drawn and seen."; empty where nothing is known.
    pub fn rests_on_words(&self) -> String {
        let words: Vec<&str> = self.rests_on.iter().map(|basis| basis.word()).collect();
        let description = words.join(" and ");
        let mut letters = description.chars();
        letters.next().map(|first| format!("{}{}.", first.to_uppercase(), letters.as_str())).unwrap_or_default()
    }

    /// What it rests on as one text: a ruling that stands first, then by what kind of evidence, then each sentence, and last a
    /// ruling that holds no more.
    pub fn basis(&self) -> String {
        let (ruling, rests) = (self.ruling.iter().map(|ruling| ruling.description.clone()), self.rests_on_words());
        let rests = (!rests.is_empty()).then_some(rests);
        let lapsed = self.lapsed.iter().map(|lapsed| lapsed.description.clone());
        ruling.chain(rests).chain(self.evidence.iter().cloned()).chain(lapsed).collect::<Vec<_>>().join(" ")
    }

    /// True when the scrutineer ruled that it may stay as it is, and it still is so.
    pub fn may_stay(&self) -> bool {
        self.ruling.as_ref().is_some_and(|ruling| ruling.stays)
    }

    /// The word with its margin, as it is read: "short by 18 mm", "meets".
    pub fn describe(&self, units: Units) -> String {
        self.describe_as(self.word, units)
    }

    /// The same of what was found.
    pub fn describe_state(&self, units: Units) -> String {
        self.describe_as(self.state(), units)
    }

    fn describe_as(&self, word: Word, units: Units) -> String {
        match (word.fails(), self.margin) {
            (true, Some(margin)) => format!("{word} {}", margin.show(units)),
            (true, None) => "does not meet".to_owned(),
            _ => word.to_string(),
        }
    }

    /// How far inside or outside the figure is, in its own unit and in standard deviations of what it was read with; empty
    /// without a margin, and for what is only counted.
    pub fn describe_margin(&self, units: Units) -> String {
        let Some(margin) = self.margin.filter(|margin| !matches!(margin, Amount::Count(_))) else {
            return String::new();
        };
        let side = match self.state() {
            Word::Meets => "inside by ",
            Word::ShortBy | Word::OverBy => "outside by ",
            _ => "off the limit by ",
        };
        let times = self.doubt.map(Amount::in_base_unit).filter(|doubt| *doubt > 0.0);
        let times = times.map(|doubt| margin.in_base_unit() / doubt).filter(|times| *times < 100.0);
        let times = times.map(|times| format!(", {times:.1} u")).unwrap_or_default();
        format!("{side}{}{times}", margin.show(units))
    }

    /// What is to be done about it, in a sentence; empty when nothing is.
    pub fn to_do(&self) -> &'static str {
        if let Some(ruling) = &self.ruling {
            return if ruling.stays { "" } else { "Change it as the scrutineer ruled." };
        }
        // What might stay as it was and keeps the rule by now needs nobody's leave.
        if self.lapsed.as_ref().is_some_and(|lapsed| !(lapsed.stays && self.word == Word::Meets)) {
            return "Ask the scrutineer again; record the ruling.";
        }
        match (self.word, self.state()) {
            (Word::ScrutineerDecides, Word::Meets | Word::ScrutineerDecides) => {
                "Ask the scrutineer; record the ruling."
            }
            (_, Word::Meets | Word::NotAsked | Word::ScrutineerDecides) => "",
            (_, Word::ShortBy | Word::OverBy) => "Change it; only the scrutineer can let it be.",
            (_, Word::NotMeasured) if self.uncut => "Say which stick it is cut from.",
            (_, Word::NotMeasured) if self.measure == Some(Measure::GussetHole) => {
                "Say how far across it is, or that it has none."
            }
            (_, Word::NotMeasured) => "Measure and record it.",
            (_, Word::NoPhoto) => "Photograph it.",
            (_, Word::TooClose) => "Measure with a finer tool, or bring it clear of the limit.",
        }
    }

    /// The figure as it is read beside its limit; empty without one.
    pub fn describe_figure(&self, units: Units) -> String {
        let edge = self.limit.as_ref().and_then(|limit| limit.amount);
        let Some(figure) = self.figure else { return String::new() };
        edge.map_or_else(|| figure.show(units), |edge| figure.show_against(&edge, units))
    }
}
