//! Judging limits on figures, and whether a rule is asked of this car at all.

use std::cmp::Ordering;

use crate::domain::figures::{Amount, Figure, Measure};
use crate::domain::guard::{self, Stands};
use crate::domain::ids::{Balloon, Kind};
use crate::domain::rule_books::bound::{Bound, Check, Value, edges_text};
use crate::domain::rule_books::kinds::Limit;
use crate::domain::rule_books::{Compare, NeededIf, Of, Rule};
use crate::domain::tools::{self, Tool};

use super::known::Known;
use super::verdict::{LimitText, Verdict, Word};

/// Whether a rule's own condition holds: none when the figure that decides it is missing.
fn condition(rule: &Rule, known: &Known<'_>) -> Option<bool> {
    match &rule.needed_if {
        None => Some(true),
        Some(NeededIf::Fitted(role)) => {
            let fitted = known.members.iter().any(|bar| bar.role == *role);
            (!known.members.is_empty()).then_some(fitted)
        }
        Some(NeededIf::Figure { measure, of, compare, value, .. }) => {
            let parts = parts_of(*measure, *of, known);
            let figures = parts.iter().flat_map(|part| known.of_part(*measure, *part));
            let holds = |figure: &Figure| {
                let order = figure.amount.compare(value.beside(figure, known.figures)?)?;
                Some(match compare {
                    Compare::MoreThan => order == Ordering::Greater,
                    Compare::AtLeast => order != Ordering::Less,
                    Compare::LessThan => order == Ordering::Less,
                    Compare::AtMost => order != Ordering::Greater,
                })
            };
            let answers: Vec<bool> = figures.filter_map(holds).collect();
            if answers.contains(&true) {
                return Some(true);
            }
            let unmeasured = parts
                .iter()
                .any(|part| known.of_part(*measure, *part).next().is_none() && !straight(*measure, *part, known));
            // A bar that a laid out cage does not have has no figure that could ask for anything.
            let absent = matches!(of, Of::Role(_)) && !of_part_of_bar(*measure) && !known.members.is_empty();
            if unmeasured || (parts.is_empty() && !absent) { None } else { Some(false) }
        }
    }
}

/// The verdict of a rule that is not asked, or of which it is not known whether it is.
pub(super) fn unasked(rule: &Rule, known: &Known<'_>) -> Option<Verdict> {
    let not_asked = |because: String| Some(Verdict::new(rule, None, Word::NotAsked).because(because));
    if let Some(other) = rule.exempt_with.iter().find(|other| known.met.borrow().contains(*other)) {
        return not_asked(format!("The rule “{other}” stands in for it and is met."));
    }
    if let Some(when) = &rule.applies_when {
        // A date that is still to come is a slip of whoever wrote it down: it decides nothing.
        let to_come = known.car.of(when.car).filter(|date| date.surely_after(known.today));
        let holds = if to_come.is_some() { None } else { when.holds(known.car) };
        match (holds, known.car.of(when.car)) {
            (Some(true), _) => {}
            (Some(false), Some(date)) => {
                return not_asked(format!("It is asked of cars {}; this one has {date}.", when.text()));
            }
            (_, date) => {
                let told = date.map_or_else(
                    || format!("“{}” is not recorded for this car.", when.car.asked()),
                    |date| {
                        let why = if to_come.is_some() { "is still to come" } else { "does not say" };
                        format!("“{}” is recorded as {date}, which {why}.", when.car.asked())
                    },
                );
                let asked = format!("It is asked of cars {}. {told}", when.text());
                let verdict = Verdict::new(rule, None, Word::NotMeasured).because(asked);
                return Some(Verdict { car_date: Some(when.car), ..verdict });
            }
        }
    }
    match condition(rule, known) {
        Some(true) => None,
        Some(false) => not_asked("Its condition does not hold here.".to_owned()),
        None => {
            let (missing, also) = match &rule.needed_if {
                Some(NeededIf::Figure { measure, of, .. }) => {
                    let parts = parts_of(*measure, *of, known).into_iter().map(|part| (*measure, part));
                    (format!("{} of {}", measure.word(), of.word()), parts.collect())
                }
                Some(NeededIf::Fitted(role)) => (format!("whether there is a {}", role.word()), Vec::new()),
                None => ("its condition".to_owned(), Vec::new()),
            };
            let because = format!("Whether this is asked depends on what is not known yet: {missing}.");
            let verdict = Verdict::new(rule, None, Word::NotMeasured).because(because);
            Some(Verdict { also, ..verdict })
        }
    }
}

/// True for a measure that only a bent bar has.
fn of_bends(measure: Measure) -> bool {
    matches!(measure, Measure::BendRadius | Measure::BendAngle | Measure::Roundness)
}

/// True when a bar is known to be straight, and the measure is one of bends: the model speaks of it, but of no bend.
fn straight(measure: Measure, part: Balloon, known: &Known<'_>) -> bool {
    let modelled = known.figures.iter().any(|figure| figure.of == part && !figure.measure.measured());
    of_bends(measure) && modelled && !known.bent(part)
}

/// The parts that a limit is of.
fn parts_of(measure: Measure, of: Of, known: &Known<'_>) -> Vec<Balloon> {
    match of {
        Of::Plate => known.balloons(Kind::Plate),
        Of::Gusset => known.balloons(Kind::Gusset),
        Of::Stick => known.balloons(Kind::Stick),
        Of::EveryBar => bars(known, |_| true),
        Of::Role(role) => {
            let mut parts = if of_part_of_bar(measure) { Vec::new() } else { bars(known, |bar| bar.role == role) };
            let figures = known.figures.iter();
            let others = figures.filter(|figure| figure.measure == measure && figure.role == Some(role));
            parts.extend(others.map(|figure| figure.of));
            parts.sort();
            parts.dedup();
            parts
        }
    }
}

fn bars(known: &Known<'_>, wanted: impl Fn(&super::Bar) -> bool) -> Vec<Balloon> {
    known.members.iter().filter(|bar| wanted(bar)).map(|bar| bar.balloon).collect()
}

/// True for a measure of a plate or gusset, which a bar itself does not have.
fn of_part_of_bar(measure: Measure) -> bool {
    matches!(
        measure,
        Measure::PlateArea
            | Measure::PlateShortSide
            | Measure::PlateLongSide
            | Measure::PlateThickness
            | Measure::BoltCount
            | Measure::BoltSize
            | Measure::BoltGrade
            | Measure::BoltSpread
            | Measure::BoltShear
            | Measure::BoltSection
            | Measure::GussetLeg
            | Measure::GussetThickness
            | Measure::GussetHole
    )
}

/// Judges one limit: a verdict for each figure, and for each part without one.
pub(super) fn judge(limit: &Limit, known: &Known<'_>) -> Vec<Verdict> {
    if let Some(verdict) = unasked(&limit.rule, known) {
        return vec![verdict];
    }
    let parts = parts_of(limit.measure, limit.of, known);
    if parts.is_empty() {
        // every cage has feet, and a bar that is there has plates; but a role or a gusset may rightly be absent
        let absent = match limit.of {
            Of::Role(_) => !of_part_of_bar(limit.measure),
            Of::Gusset => true,
            Of::EveryBar | Of::Plate | Of::Stick => false,
        };
        let word = if absent && !known.members.is_empty() { Word::NotAsked } else { Word::NotMeasured };
        let because = format!("Nothing of this build is known as {}.", limit.of.word());
        return vec![Verdict::new(&limit.rule, None, word).limited(LimitText::words(limit.text())).because(because)];
    }
    let edges = Edges { least: limit.least.as_ref(), most: limit.most.as_ref() };
    parts.into_iter().flat_map(|part| of_one(&limit.rule, limit.measure, &edges, part, known)).collect()
}

/// The two edges of a check.
pub(super) struct Edges<'a> {
    pub(super) least: Option<&'a Bound>,
    pub(super) most: Option<&'a Bound>,
}

impl Edges<'_> {
    fn text(&self) -> String {
        edges_text(self.least, self.most)
    }

    /// The other figures of the part that an edge is a share of.
    fn also(&self, part: Balloon) -> Vec<(Measure, Balloon)> {
        let bounds = self.least.iter().chain(self.most.iter());
        let mut also: Vec<_> = bounds.filter_map(|bound| Some((bound.value.share_of()?, part))).collect();
        also.dedup();
        also
    }
}

/// Judges each asked figure of one part.
pub(super) fn checks(rule: &Rule, asked: &[Check], part: Balloon, known: &Known<'_>) -> Vec<Verdict> {
    let judged = |check: &Check| {
        let edges = Edges { least: check.least.as_ref(), most: check.most.as_ref() };
        of_one(rule, check.measure, &edges, part, known)
    };
    asked.iter().flat_map(judged).collect()
}

/// Judges the figures of one part; a part without a figure is not measured.
pub(super) fn of_one(
    rule: &Rule,
    measure: Measure,
    edges: &Edges<'_>,
    part: Balloon,
    known: &Known<'_>,
) -> Vec<Verdict> {
    let figures: Vec<&Figure> = known.of_part(measure, part).collect();
    if figures.is_empty() {
        let verdict = if straight(measure, part, known) {
            Verdict::new(rule, Some(part), Word::NotAsked).because("This bar has no bend.")
        } else {
            let because = format!("The {} of {part} is not known.", measure.word());
            Verdict::new(rule, Some(part), Word::NotMeasured).because(because).settled(rule, known)
        };
        let verdict = Verdict { measure: Some(measure), also: edges.also(part), ..verdict };
        return vec![verdict.limited(LimitText::words(edges.text()))];
    }
    figures.into_iter().map(|figure| of_figure(rule, edges, figure, known).settled(rule, known)).collect()
}

/// Compares one figure, unrounded, with the edges.
fn of_figure(rule: &Rule, edges: &Edges<'_>, figure: &Figure, known: &Known<'_>) -> Verdict {
    let amount = figure.amount;
    let stands = |bound: &Bound| bound.value.beside(figure, known.figures);
    let verdict = |word, bound: Option<&Bound>| {
        let edge = bound.and_then(stands);
        let mut verdict = Verdict::new(rule, Some(figure.of), word);
        verdict.measure = Some(figure.measure);
        verdict.also = edges.also(figure.of);
        verdict.figure = Some(amount);
        verdict.limit = Some(LimitText { text: edges.text(), amount: edge });
        verdict.margin = edge.and_then(|edge| amount.apart(edge));
        verdict.because(format!("From {}.", figure.from))
    };
    if !amount.is_finite() {
        return verdict(Word::NotMeasured, None).because("The figure is no number.");
    }
    if let Some((missing, _)) =
        edges.also(figure.of).first().filter(|(other, part)| known.of_part(*other, *part).next().is_none())
    {
        return verdict(Word::NotMeasured, None).because(format!(
            "The {} of {} is not known.",
            missing.word(),
            figure.of
        ));
    }
    let least = edges.least.map(|bound| (bound, stands(bound).and_then(|edge| bound.reached_by(amount, edge))));
    let most = edges.most.map(|bound| (bound, stands(bound).and_then(|edge| bound.kept_by(amount, edge))));
    if [least, most].into_iter().flatten().any(|edge| edge.1.is_none()) {
        return verdict(Word::NotMeasured, None).because("The figure and the limit are not of a kind.");
    }
    let (word, bound) = match (least, most) {
        (Some((bound, Some(false))), _) => (Word::ShortBy, Some(bound)),
        (_, Some((bound, Some(false)))) => (Word::OverBy, Some(bound)),
        (None, None) => return verdict(Word::NotMeasured, None).because("The rule has no limit."),
        _ => (Word::Meets, nearer(edges, figure, known)),
    };
    let told = verdict(word, bound);
    match bound.and_then(|bound| deviation(bound, figure, known)) {
        Some(deviation) => guarded(told, deviation, figure),
        None => told,
    }
}

/// One standard deviation of a figure against an edge, in the figure's base unit: where the edge is a share of another
/// figure that was read too, the doubt of both (GUM 5.1.2); none when nobody said what it was read with.
fn deviation(bound: &Bound, figure: &Figure, known: &Known<'_>) -> Option<f64> {
    let own = tools::doubt(figure)?;
    let Value::Share(share, other) = bound.value else { return Some(own) };
    let other = known.of_part(other, figure.of).last().and_then(tools::doubt).unwrap_or(0.0);
    Some(own.hypot(other * share))
}

/// The word where the doubt of what the figure was read with reaches over the edge.
fn guarded(mut verdict: Verdict, deviation: f64, figure: &Figure) -> Verdict {
    let Some(margin) = verdict.margin.map(Amount::in_base_unit).filter(|_| deviation > 0.0) else { return verdict };
    verdict.doubt = Some(figure.measure.dimension().of_base_unit(deviation));
    let inside = verdict.word == Word::Meets;
    if !Stands::of(margin, deviation, inside).too_close() {
        return verdict;
    }
    verdict.word = Word::TooClose;
    let side = if inside { "Inside" } else { "Outside" };
    let tool = figure.tool.map_or("the tool", Tool::word);
    verdict.because(format!("{side} the limit by less than the {tool} can tell.")).because(guard::RULE)
}

/// The edge that a figure inside is nearer to.
fn nearer<'a>(edges: &Edges<'a>, figure: &Figure, known: &Known<'_>) -> Option<&'a Bound> {
    let (Some(least), Some(most)) = (edges.least, edges.most) else { return edges.least.or(edges.most) };
    let apart = |bound: &Bound| figure.amount.apart(bound.value.beside(figure, known.figures)?);
    match apart(most).zip(apart(least)).and_then(|(most, least)| most.compare(least)) {
        Some(Ordering::Less) => Some(most),
        _ => Some(least),
    }
}
