//! Judging limits on figures.

use std::cmp::Ordering;

use crate::domain::book::kinds::Limit;
use crate::domain::book::terms::bound::{Bound, Check, Value, edges_text};
use crate::domain::book::{Of, Rule};
use crate::domain::measure::amounts::{Amount, LimitText};
use crate::domain::measure::figures::Figure;
use crate::domain::measure::guard;
use crate::domain::measure::guard::Acceptance;
use crate::domain::measure::measures::Measure;
use crate::domain::measure::tools::Tool;
use crate::domain::words::basis::{Basis, Diameter};
use crate::domain::words::ids::Balloon;

use super::asked::unasked;
use super::known::Known;
use super::parts::{of_part_of_bar, parts_of, straight};
use super::verdict::{Answer, Verdict, Word};

/// True for a measure of the tube itself, which only the stick shows that a bar is cut from.
const fn of_stick(measure: Measure) -> bool {
    matches!(measure, Measure::TubeOutside | Measure::TubeWall)
}

/// Judges one limit: a verdict for each figure, and for each part without one.
pub(super) fn judge(limit: &Limit, known: &Known<'_>) -> Vec<Verdict> {
    if let Some(verdict) = unasked(&limit.rule, known) {
        return vec![verdict];
    }
    let edges = Edges { least: limit.least.as_ref(), most: limit.most.as_ref() };
    let mut parts = parts_of(limit.measure, limit.of, known);
    let made = |part: &Balloon| known.gussets.iter().find(|gusset| gusset.balloon == *part).map(|gusset| gusset.kind);
    if !limit.gusset_kinds.is_empty() {
        // A gusset whose kind is not known is judged, not passed over.
        parts.retain(|part| made(part).is_none_or(|kind| limit.gusset_kinds.contains(&kind)));
    }
    if parts.is_empty() {
        // every cage has feet, and a bar that is there has plates; but a role or a gusset may rightly be absent
        let absent = match limit.of {
            Of::Role(_) => !of_part_of_bar(limit.measure) || !limit.gusset_kinds.is_empty(),
            Of::Gusset => true,
            Of::EveryBar | Of::Plate | Of::Stick => false,
        };
        let word = if absent && known.laid_out() { Answer::NotAsked } else { Answer::NotMeasured };
        let because = format!("Nothing of this build is known as {}.", limit.of_words());
        return vec![Verdict::new(&limit.rule, None, word).limited(edges.unmeasured()).because(because)];
    }
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

    /// The limit of a figure that is not known: an edge in diameters, or a share of another figure, is no amount then.
    fn unmeasured(&self) -> LimitText {
        let amount = |bound: Option<&Bound>| match bound?.value {
            Value::Amount(amount) => Some(amount),
            _ => None,
        };
        LimitText { least: amount(self.least), most: amount(self.most), ..LimitText::words(self.text()) }
    }

    /// Whether an edge stands at so many diameters of the tube.
    fn in_diameters(&self) -> bool {
        let by_tube = |bound: &&Bound| matches!(bound.value, Value::Diameters(_) | Value::PerDiameter(_));
        self.least.iter().chain(&self.most).any(by_tube)
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
            Verdict::new(rule, Some(part), Answer::NotAsked).because("This bar has no bend.")
        } else if known.no_hole(measure, part) {
            without_hole(rule, edges, part)
        } else {
            let because = format!("The {} of {part} is not known.", measure.word());
            let verdict = Verdict::new(rule, Some(part), Answer::NotMeasured).because(because);
            let verdict = if of_stick(measure) { verdict.uncut(known.uncut(part)) } else { verdict };
            verdict.settled(rule, known)
        };
        let verdict = Verdict { measure: Some(measure), also: edges.also(part), ..verdict };
        return vec![verdict.limited(edges.unmeasured())];
    }
    figures.into_iter().map(|figure| of_figure(rule, edges, figure, known).settled(rule, known)).collect()
}

/// A gusset that is recorded to have no hole: a largest hole asks nothing of it; whether a least one asks for a hole is the
/// scrutineer's to say.
fn without_hole(rule: &Rule, edges: &Edges<'_>, part: Balloon) -> Verdict {
    let said = format!("{part} has no hole: recorded so.");
    if edges.least.is_none() {
        return Verdict::new(rule, Some(part), Answer::NotAsked).because(said);
    }
    let verdict = Verdict::new(rule, Some(part), Answer::ScrutineerDecides).because(said);
    verdict.because("Whether the rule asks for one where there is none is not written in it.")
}

/// Compares one figure, unrounded, with the edges.
fn of_figure(rule: &Rule, edges: &Edges<'_>, figure: &Figure, known: &Known<'_>) -> Verdict {
    let amount = figure.amount;
    let stands = |bound: &Bound| bound.value.beside(figure, known.figures);
    let verdict = |answer, bound: Option<&Bound>| {
        let edge = bound.and_then(stands);
        let mut verdict = Verdict::new(rule, Some(figure.of), answer).on(figure.basis);
        verdict.measure = Some(figure.measure);
        verdict.also = edges.also(figure.of);
        verdict.figure = Some(amount);
        let [least, most] = [edges.least, edges.most].map(|bound| bound.and_then(stands));
        verdict.limit = Some(LimitText { text: edges.text(), amount: edge, least, most });
        verdict.margin = edge.and_then(|edge| amount.apart(edge));
        verdict.because(format!("From {}.", figure.from))
    };
    if !amount.is_finite() {
        return verdict(Answer::NotMeasured, None).because("The figure is no number.");
    }
    if let Some((missing, _)) =
        edges.also(figure.of).first().filter(|(other, part)| known.of_part(*other, *part).next().is_none())
    {
        if known.no_hole(*missing, figure.of) {
            let because = format!("The limit goes by the gusset's hole, and {} has none.", figure.of);
            return verdict(Answer::NotAsked, None).because(because);
        }
        let because = format!("The {} of {} is not known.", missing.word(), figure.of);
        return verdict(Answer::NotMeasured, None).because(because);
    }
    let least = edges.least.map(|bound| (bound, stands(bound).and_then(|edge| bound.reached_by(amount, edge))));
    let most = edges.most.map(|bound| (bound, stands(bound).and_then(|edge| bound.kept_by(amount, edge))));
    if [least, most].into_iter().flatten().any(|edge| edge.1.is_none()) {
        return verdict(Answer::NotMeasured, None).because("The figure and the limit are not of a kind.");
    }
    let (answer, bound) = match (least, most) {
        (Some((bound, Some(false))), _) => (Answer::ShortBy, Some(bound)),
        (_, Some((bound, Some(false)))) => (Answer::OverBy, Some(bound)),
        (None, None) => return verdict(Answer::NotMeasured, None).because("The rule has no limit."),
        _ => (Answer::Meets(figure.basis), nearer(edges, figure, known)),
    };
    if edges.in_diameters() && matches!(figure.diameter, Diameter::Planned(_)) {
        return by_drawing(verdict(Answer::NotMeasured, bound), answer, known);
    }
    let description = verdict(answer, bound);
    match bound.and_then(|bound| deviation(bound, figure, known)) {
        Some(deviation) => guarded(description, deviation, figure),
        None => description,
    }
}

/// A limit in diameters of a tube that nobody is known to have cut: what the drawing says of it is told, and is no verdict.
fn by_drawing(mut verdict: Verdict, answer: Answer, known: &Known<'_>) -> Verdict {
    let would = if matches!(answer, Answer::Meets(_)) { "inside" } else { "outside" };
    let uncut = verdict.of.map(|part| known.uncut(part)).unwrap_or_default();
    verdict.margin = None;
    let description = format!("The limit goes by the tube's diameter. {uncut} By the drawing it would be {would}.");
    verdict.uncut(description)
}

/// One standard deviation of a figure against an edge, in the figure's base unit: where the edge is a share of another
/// figure that was read too, the doubt of both (GUM 5.1.2); none when nobody said what it was read with.
fn deviation(bound: &Bound, figure: &Figure, known: &Known<'_>) -> Option<f64> {
    let own = figure.doubt()?;
    let Value::Share(share, other) = bound.value else { return Some(own) };
    let other = known.of_part(other, figure.of).last().and_then(Figure::doubt).unwrap_or(0.0);
    Some(own.hypot(other * share))
}

/// The word where the doubt of what the figure was read with reaches over the edge.
fn guarded(mut verdict: Verdict, deviation: f64, figure: &Figure) -> Verdict {
    let Some(margin) = verdict.margin.map(Amount::in_base_unit).filter(|_| deviation > 0.0) else { return verdict };
    verdict.doubt = Some(figure.measure.dimension().of_base_unit(deviation));
    let inside = verdict.word == Word::Meets;
    if !Acceptance::of(margin, deviation, inside).too_close() {
        return verdict;
    }
    verdict.word = Word::TooClose;
    let side = if inside { "Inside" } else { "Outside" };
    let tool = figure.taken_as().map_or("tape measurements it follows from", Tool::word);
    let unsaid = figure.tool.is_none() && figure.basis == Basis::Measured;
    let description = verdict.because(format!("{side} the limit by less than the {tool} can tell."));
    let unsaid = unsaid.then_some("Nobody said what it was read with, so the coarsest tool is taken.");
    unsaid.into_iter().fold(description, Verdict::because).because(guard::RULE)
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
