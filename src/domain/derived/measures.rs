//! What a person reads off the car because the book sets a limit on it: which part, within which limits, what was read last.

use std::cmp::Ordering::Equal;

use super::findings::Findings;
use crate::domain::book::kinds::Limit;
use crate::domain::book::terms::bound::Bound;
use crate::domain::cage::figures::opening_beside;
use crate::domain::judge::pieces::Since;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::measure::amounts::{Amount, Dimension};
use crate::domain::measure::bolts;
use crate::domain::measure::bolts::BoltGrade;
use crate::domain::measure::figures::Measured;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::domain::words::limits;
use crate::quantity::{Angle, Area, FromTyped, Length, Mass, Show, Stress, Units, Unreadable, with_unit};

/// A figure that is to be read off one part.
#[derive(Debug, Clone, PartialEq)]
pub struct ToMeasure {
    /// What is measured.
    pub measure: Measure,
    /// Of which part.
    pub of: Balloon,
    /// What each rule says of it, with its limit in words.
    pub asked: Vec<RuleLimit>,
    /// What was read last; of another stick where it is a share of the steel that they have in common.
    pub last: Option<Measured>,
    /// What became of the part since; then that figure is of the earlier piece, and counts for nothing.
    pub earlier: Option<Since>,
}

impl ToMeasure {
    /// Whether there is a figure that counts.
    pub const fn known(&self) -> bool {
        self.last.is_some() && self.earlier.is_none()
    }
}

/// One rule that asks for it.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleLimit {
    /// The rule's clause.
    pub clause: String,
    /// Its limit in the reader's units.
    pub limit: String,
    /// As the book prints it, where that is in other units; else empty.
    pub printed: String,
    /// What the rule says of the last figure.
    pub word: Word,
    /// The same with the margin.
    pub description: String,
}

/// Everything to be read off the car, measure by measure, parts in order.
pub fn to_measure(facts: &BuildFacts, found: &Findings, units: Units) -> Vec<ToMeasure> {
    let mut all: Vec<ToMeasure> = Vec::new();
    for verdict in &found.worked.verdicts {
        let own = verdict.measure.zip(verdict.of);
        let read = own.into_iter().chain(verdict.also.iter().copied()).filter(|(measure, _)| measure.measured());
        if verdict.word == Word::NotAsked {
            continue;
        }
        for (measure, of) in read {
            let asked = asked(verdict, found, of, units);
            if let Some(there) = all.iter_mut().find(|there| there.measure == measure && there.of == of) {
                if !there.asked.contains(&asked) {
                    there.asked.push(asked);
                }
            } else {
                if known_for_the_cage(found, measure, of)
                    && !facts.measured.iter().any(|read| (read.measure, read.of) == (measure, of))
                {
                    continue;
                }
                let own = facts.measured.iter().rev().find(|read| read.measure == measure && read.of == of);
                let last = own.or_else(|| facts.of_heat(measure, of)).cloned();
                let earlier = found.worked.pieces.figure(measure, of).cloned();
                all.push(ToMeasure { measure, of, asked: vec![asked], last, earlier });
            }
        }
    }
    all.sort_by_key(|one| (Measure::ALL.iter().position(|measure| *measure == one.measure), one.of));
    all
}

/// Whether the cage's tape measurements hold it already: nobody is asked for one thing twice.
fn known_for_the_cage(found: &Findings, measure: Measure, of: Balloon) -> bool {
    let opening = found.worked.cage.member(of).and_then(opening_beside);
    measure == Measure::OpeningHeight && opening.is_some_and(|it| found.worked.record.taped(it).is_some())
}

fn asked(verdict: &Verdict, found: &Findings, of: Balloon, units: Units) -> RuleLimit {
    let printed = verdict.limit.as_ref().map(|limit| limit.text.clone()).unwrap_or_default();
    let mut limits = found.worked.rules.iter().flat_map(|rules| &rules.limits);
    let diameter = found.worked.cage.member(of).map(|bar| bar.tube.outside);
    let own = limits.find(|limit| limit.rule.id == verdict.rule_id);
    let (limit, printed) = match own {
        Some(own) if !readers(own, units) => (in_units(own, diameter.unwrap_or_default(), units), printed),
        Some(own) => (in_units(own, diameter.unwrap_or_default(), units), String::new()),
        None => (printed, String::new()),
    };
    let (word, description) = (verdict.state(), verdict.describe_state(units));
    RuleLimit { clause: verdict.clause.clone(), limit, printed, word, description }
}

/// Whether a limit is printed in units that this reader reads.
fn readers(limit: &Limit, units: Units) -> bool {
    let own: &[&str] = match units {
        Units::Inch => &[" in", " ft", " lb", " in²", " ksi", " degrees", " %"],
        Units::Metric => &[" mm", " cm", " m", " kg", " mm²", " cm²", " N/mm²", " MPa", " degrees", " %"],
    };
    let reads = |bound: &Bound| {
        if bound.value.share_of().is_some() {
            return true;
        }
        let bare = bound.printed.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        bare || own.iter().any(|unit| bound.printed.ends_with(unit))
    };
    limit.least.iter().chain(&limit.most).all(reads)
}

fn in_units(limit: &Limit, diameter: Length, units: Units) -> String {
    let edge = |bound: &Bound, included: &str, excluded: &str| {
        // What has no unit, or is a share of another figure, has nothing to turn: the book's own digits say it best.
        let shown = match bound.value.at(diameter) {
            None | Some(Amount::Ratio(_) | Amount::Percent(_) | Amount::Count(_)) => bound.printed.clone(),
            Some(amount) => amount.show(units),
        };
        format!("{} {shown}", if bound.included { included } else { excluded })
    };
    let least = limit.least.as_ref().map(|bound| edge(bound, "at least", "more than"));
    let most = limit.most.as_ref().map(|bound| edge(bound, "at most", "less than"));
    least.into_iter().chain(most).collect::<Vec<_>>().join(", ")
}

/// How a measure is taken, in a sentence for who holds the tool (*common practice*); empty for what follows from the model.
pub const fn how(measure: Measure) -> &'static str {
    match measure {
        Measure::Roundness => {
            "Caliper at the middle of the bend, the smallest and the largest outside diameter; of several bends the worst. Write both, as 1.42 / 1.5, or the quotient, as 0.95."
        }
        Measure::WallMeasured => {
            "Ultrasonic gauge, or caliper at the drilled hole, at the outside of the bend where there is one."
        }
        Measure::BodyGap => "The widest gap between the bar and the body beside it; feeler or tape.",
        Measure::HeadGap => "Driver belted in, helmet on: from the helmet to the nearest bar.",
        Measure::InspectionHole => "Caliper across the drilled hole.",
        Measure::Carbon | Measure::Manganese | Measure::OtherElement => {
            "From the mill certificate of this heat, in per cent of the mass, as 0.22. Of the other elements write the largest share."
        }
        Measure::Tensile | Measure::Yield => {
            "From the mill certificate of this heat; the grade's least value is not the stick's. As 420 N/mm², or 65 ksi."
        }
        Measure::BoltCount => "Count the bolts through this plate.",
        Measure::BoltSize => "As printed or by caliper over the thread: M8, or 3/8 in.",
        Measure::BoltGrade => "As marked on the head: 8.8, 10.9, or grade 5. An unmarked bolt has no grade.",
        Measure::BoltSpread => "Seen from the tube's middle, the smallest angle between two bolts beside each other.",
        Measure::BoltShear => "1 for a plain bolt; 2 where it goes through a welded bush between two cheeks.",
        Measure::DoorBarHeight => {
            "Tape from the opening's lower edge straight up to the middle of the bar's higher end."
        }
        Measure::OpeningHeight => "Tape from the door opening's lower edge straight up to its upper edge.",
        Measure::PillarDimension => "Tape as the book's drawing of the screen pillar shows dimension A.",
        _ => "",
    }
}

/// A figure as it was read off the car and the text it was typed as, which names its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadOff {
    amount: Amount,
    text: String,
}

impl ReadOff {
    /// Reads a figure as a reader of these units means it, the unit of a bare number put behind it.
    pub fn read(measure: Measure, text: &str, units: Units) -> Result<Self, Unreadable> {
        // What does not read is told in the very words that were typed.
        read(measure, text, units)?;
        let text = match measure.dimension() {
            Dimension::Length if bolts::metric(text).is_some() => text.trim().to_owned(),
            Dimension::Length => with_unit::<Length>(text, units)?,
            Dimension::Mass => with_unit::<Mass>(text, units)?,
            Dimension::Angle => with_unit::<Angle>(text, units)?,
            Dimension::Area => with_unit::<Area>(text, units)?,
            Dimension::Stress => with_unit::<Stress>(text, units)?,
            Dimension::Percent if !text.trim_end().ends_with('%') => format!("{} %", text.trim()),
            Dimension::Ratio => match text.split_once('/') {
                Some((smaller, larger)) => {
                    format!("{} / {}", with_unit::<Length>(smaller, units)?, with_unit::<Length>(larger, units)?)
                }
                None => text.trim().to_owned(),
            },
            _ => text.trim().to_owned(),
        };
        Ok(Self { amount: read(measure, &text, units)?, text })
    }

    /// A figure that is recorded with its text. A text without its unit gets the one in which it reads as this figure; one
    /// that reads as it in none keeps its words, with the figure behind them.
    pub fn of(measure: Measure, amount: Amount, text: &str) -> Self {
        let reads =
            |units| Self::read(measure, text, units).ok().filter(|read| read.amount.compare(amount) == Some(Equal));
        let said = || Self { amount, text: format!("{text} ({})", amount.show(Units::Metric)) };
        reads(Units::Metric).or_else(|| reads(Units::Inch)).unwrap_or_else(said)
    }

    /// The figure.
    pub const fn amount(&self) -> Amount {
        self.amount
    }

    /// As typed, with its unit.
    pub fn text(&self) -> &str {
        &self.text
    }
}

/// Reads a figure of this measure; a ratio as 0.95, 95 %, or two lengths as 1.42 / 1.5; a bolt's size also as M8.
fn read(measure: Measure, text: &str, units: Units) -> Result<Amount, Unreadable> {
    let unreadable =
        |wanted, example| Unreadable { typed: text.trim().chars().take(40).collect(), wanted, example, because: None };
    match measure.dimension() {
        Dimension::Length if measure == Measure::BoltSize => {
            bolts::size(text, units).map(Amount::Length).ok_or_else(|| unreadable("a bolt's size", "M8, or 3/8 in"))
        }
        Dimension::Stress => FromTyped::from_typed_as(text, units).map(Amount::Stress),
        Dimension::Count => text.trim().parse().map(Amount::Count).map_err(|_| unreadable("a whole number", "3")),
        Dimension::Percent => {
            percent(text).map(Amount::Percent).ok_or_else(|| unreadable("a share", "0.22, or 0.22 %"))
        }
        Dimension::Grade => {
            let wanted = "a bolt's grade by ISO 898-1 or SAE J429";
            BoltGrade::read(text).map(Amount::Grade).ok_or_else(|| unreadable(wanted, "8.8, or grade 5"))
        }
        Dimension::Length => FromTyped::from_typed_as(text, units).map(Amount::Length),
        Dimension::Mass => FromTyped::from_typed_as(text, units).map(Amount::Mass),
        Dimension::Angle => FromTyped::from_typed_as(text, units).map(Amount::Angle),
        Dimension::Area => FromTyped::from_typed_as(text, units).map(Amount::Area),
        Dimension::Ratio => {
            ratio(text, units).map(Amount::Ratio).ok_or_else(|| unreadable("a ratio", "0.95, 95 %, or 1.42 / 1.5"))
        }
    }
}

/// What stands as an example in the field of a measure.
pub const fn example(measure: Measure, units: Units) -> &'static str {
    match (measure.dimension(), units) {
        (Dimension::Ratio, _) => "0.95, or 1.42 / 1.5",
        (Dimension::Percent, _) => "0.22",
        (Dimension::Count, _) => "3",
        (Dimension::Grade, _) => "8.8, or grade 5",
        (Dimension::Angle, _) => "90",
        (Dimension::Stress, Units::Inch) => "65, or 450 N/mm²",
        (Dimension::Stress, Units::Metric) => "450, or 65 ksi",
        (_, Units::Inch) => "1/2, or 12.7 mm",
        (_, Units::Metric) => "12.7, or 1/2 in",
    }
}

/// A share in hundredths; the sign behind it may be left out.
fn percent(text: &str) -> Option<f64> {
    let number = text.trim().trim_end_matches('%').trim_end();
    let plain = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    number.parse::<f64>().ok().filter(|number| plain && number.is_finite())
}

fn ratio(text: &str, units: Units) -> Option<f64> {
    let text = text.trim();
    if let Some((smaller, larger)) = text.split_once('/') {
        let [smaller, larger] = [smaller, larger].map(|part| Length::from_typed_as(part, units).ok());
        let ratio = smaller? / larger.filter(|larger| larger.mm() > 0.0)?;
        return ratio.is_finite().then_some(ratio);
    }
    let (number, whole) = text.strip_suffix('%').map_or((text, 1.0), |number| (number.trim_end(), 100.0));
    let plain = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    number.parse::<f64>().ok().filter(|number| plain && number.is_finite()).map(|number| number / whole)
}

/// A figure as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewMeasured {
    /// What was measured.
    pub measure: Measure,
    /// Of which part.
    pub of: Balloon,
    /// The figure, and as it was typed.
    pub read: ReadOff,
    /// What it was read with; none when nobody said.
    pub tool: Option<Tool>,
}

impl NewMeasured {
    /// What is wrong with it, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = limits::title_faults("text", self.read.text());
        if !self.measure.measured() {
            let why = format!("The {} follows from the model; it is not read off the car.", self.measure.word());
            faults.push(Fault::new("measure", why));
        }
        if self.read.amount().dimension() != self.measure.dimension() {
            faults.push(Fault::new("amount", "This figure is of another kind than what was measured."));
        } else if self.tool.is_some_and(|tool| !Tool::of(self.measure, Units::Inch).contains(&tool)) {
            faults.push(Fault::new("tool", "This is not read with such a tool."));
        } else if let Some(why) = self.out_of_bounds() {
            faults.push(Fault::new("amount", why));
        }
        faults
    }

    /// A gap may be nothing; a wall, a hole and a share may not.
    fn out_of_bounds(&self) -> Option<&'static str> {
        let value = self.read.amount().in_base_unit();
        let gap = matches!(self.measure, Measure::BodyGap | Measure::HeadGap);
        if self.measure.dimension() == Dimension::Percent && value == 0.0 {
            return None;
        }
        if !value.is_finite() || value < 0.0 || (value == 0.0 && !gap) {
            return Some(if gap { "A gap is not less than nothing." } else { "This is more than nothing." });
        }
        match self.read.amount() {
            Amount::Length(length) if length > limits::CAR => Some("A length on a car is at most 8 m (26 ft)."),
            Amount::Ratio(ratio) if ratio > 1.0 => {
                Some("The smaller diameter over the larger is at most 1. Are the two the wrong way round?")
            }
            Amount::Percent(share) if share > 100.0 => Some("A share of the steel is at most 100 %."),
            Amount::Stress(stress) if stress > limits::STRENGTH => {
                Some("A tube's steel has at most 3000 N/mm² (435 ksi).")
            }
            Amount::Angle(angle) if angle > Angle::from_degrees(360.0) => Some("An angle is at most 360°."),
            Amount::Count(3..) if self.measure == Measure::BoltShear => {
                Some("A bolt is sheared in 1 plane, or in 2 with a welded bush.")
            }
            Amount::Count(101..) => Some("A plate has at most 100 bolts."),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ratio_reads_as_number_share_or_two_diameters() {
        for (text, expected) in [
            ("0.95", Some(0.95)),
            ("95 %", Some(0.95)),
            ("1.42 / 1.5", Some(1.42 / 1.5)),
            ("36.1 mm / 38 mm", Some(0.95)),
            ("0.9.5", None),
            ("-1", None),
            ("1e400", None),
            ("1.5 / 0", None),
            ("inf", None),
            ("", None),
        ] {
            let got = read(Measure::Roundness, text, Units::Inch).ok();
            assert!(
                match (got, expected) {
                    (Some(Amount::Ratio(got)), Some(expected)) => (got - expected).abs() < 1e-12,
                    (got, expected) => got.is_none() && expected.is_none(),
                },
                "{text}: {got:?}"
            );
        }
        assert!(read(Measure::Roundness, "1 1/2 x 3", Units::Inch).is_err());
    }

    #[test]
    fn whatever_is_measured_says_how() {
        for measure in Measure::ALL {
            assert_eq!(measure.measured(), !how(*measure).is_empty(), "{}", measure.word());
        }
    }
}
