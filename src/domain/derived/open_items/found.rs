//! What is open by what follows from the records: measurements, bars that cannot be built, sticks, rules, shots.

use super::named::{ONE_BY_ONE, asked, named};
use super::pieces::again;
use super::{OpenItem, Place, Sort, Waits};
use crate::domain::book::Force;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::Shot;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::wording::capital;
use crate::domain::work::cut_list::{CutLine, cut_list};
use crate::quantity::Units;

/// Measurements still to take, and what cannot be built.
pub(super) fn cage(found: &Findings) -> Vec<OpenItem> {
    let item = |what: String| OpenItem::missing(what, Waits::Fabricator, Place::Cage);
    if !found.worked.cage_reads {
        let what = "The cage was saved by a later program and cannot be read by this one; nothing of it is judged";
        return vec![item(what.to_owned()).sort(Sort::Fails)];
    }
    let missing = found.worked.record.missing();
    let mut open = Vec::new();
    if let Some(first) = missing.first() {
        let first = first.word_in(found.worked.record.structure);
        let what = match missing.len() - 1 {
            0 => format!("Measure the car for the cage: {first}"),
            1 => format!("Measure the car for the cage: {first} and 1 more"),
            more => format!("Measure the car for the cage: {first} and {more} more"),
        };
        open.push(item(what));
    }
    let fault = |fault: &crate::domain::words::faults::Fault| {
        let at: Option<Balloon> = fault.at.parse().ok();
        let which = if at.is_some() { String::new() } else { format!("{}: ", fault.at.replace(['_', '/'], " ")) };
        OpenItem { at, ..item(format!("{which}{}", fault.why)).sort(Sort::Fails) }
    };
    // What is only not measured yet is told once, above.
    let unmeasured = |fault: &&crate::domain::words::faults::Fault| missing.iter().any(|left| left.key() == fault.at);
    open.extend(found.worked.cage.faults.iter().filter(|fault| !unmeasured(fault)).map(fault));
    open
}

/// Bars without a stick: their heat is not known.
pub(super) fn tube(facts: &BuildFacts, found: &Findings) -> Option<OpenItem> {
    let uncut = found.worked.cage.members.iter().filter(|bar| !facts.cuts.iter().any(|cut| cut.member == bar.balloon));
    let bars: Vec<Balloon> = uncut.map(|bar| bar.balloon).collect();
    let what = match bars.as_slice() {
        [] => return None,
        [only] => format!("Say which stick {only} is cut from"),
        many => format!("Say which sticks {} bars are cut from: {}", many.len(), named(many)),
    };
    let item = OpenItem::missing(what, Waits::Fabricator, Place::Tube);
    Some(match bars.as_slice() {
        [only] => item.at(*only),
        _ => item,
    })
}

/// Bars that are cut from another tube than they were worked out for: their sheets' figures do not hold for them.
fn other_tube(list: &[CutLine]) -> impl Iterator<Item = OpenItem> {
    let mut alike: Vec<(TubeSize, TubeSize, Vec<Balloon>)> = Vec::new();
    for line in list {
        let Some(cut) = line.other_size else { continue };
        match alike.iter_mut().find(|known| known.0 == cut && known.1 == line.size) {
            Some(known) => known.2.push(line.member),
            None => alike.push((cut, line.size, vec![line.member])),
        }
    }
    let item = |(cut, drawn, bars): (TubeSize, TubeSize, Vec<Balloon>)| {
        let (is, their) = if bars.len() == 1 { ("is", "its") } else { ("are", "their") };
        let what = format!(
            "{} {is} cut from {cut} but worked out for {drawn}: {their} marks, copes and gussets do not hold for that tube",
            named(&bars)
        );
        let item = OpenItem::missing(what, Waits::Office, Place::Tube).sort(Sort::Fails);
        if let [only] = bars.as_slice() { item.at(*only) } else { item }
    };
    alike.into_iter().map(item)
}

/// Bars that are cut from another size or grade than they have to be.
pub(super) fn cut_otherwise(facts: &BuildFacts, found: &Findings) -> Vec<OpenItem> {
    let list = cut_list(facts, &found.worked.cage);
    let of_grade = |line: &CutLine| {
        let (has, wants) = (line.other_grade.as_ref()?, line.grade.as_ref()?);
        let what = format!("{} has to be of {wants} and is cut from {has}", line.member);
        Some(OpenItem::missing(what, Waits::Office, Place::Tube).sort(Sort::Fails).at(line.member))
    };
    other_tube(&list).chain(list.iter().filter_map(of_grade)).collect()
}

/// Bars whose model has changed since they were cut: by how much the piece that is there does not fit any more.
pub(super) fn fits_no_more(facts: &BuildFacts, found: &Findings, units: Units) -> Vec<OpenItem> {
    let item = |line: CutLine| {
        let what = format!("{} does not fit any more: {}", line.member, line.describe_misfit(units)?);
        Some(OpenItem::missing(what, Waits::Fabricator, Place::Tube).sort(Sort::Fails).at(line.member))
    };
    cut_list(facts, &found.worked.cage).into_iter().filter_map(item).collect()
}

/// Rules that are broken, cannot be told, or lack a figure.
pub(super) fn verdicts(found: &Findings, units: Units) -> Vec<OpenItem> {
    let mut open = Vec::new();
    for verdicts in found.worked.by_rule() {
        open.extend(to_be_changed(verdicts, units));
        let changed = |verdict: &Verdict| {
            let lapsed = verdict.lapsed.as_ref().is_some_and(|lapsed| !lapsed.stays);
            verdict.ruling.as_ref().is_some_and(|ruling| !ruling.stays) || lapsed
        };
        let of_rule =
            || verdicts.iter().filter(move |verdict| asked(verdict.force) && !verdict.may_stay() && !changed(verdict));
        open.extend(of_rule().filter(|verdict| verdict.state().fails()).map(|verdict| broken(verdict, units)));
        let close = of_rule().filter(|verdict| verdict.state() == Word::TooClose && verdict.of.is_some());
        open.extend(close.map(|verdict| unclear(verdict, units)));
        // What waits for a bar's stick alone is asked for once, with the sticks; what was measured on an earlier piece with
        // the pieces.
        let of_earlier = |verdict: &Verdict| {
            verdict
                .measure
                .zip(verdict.of)
                .is_some_and(|(measure, of)| found.worked.pieces.figure(measure, of).is_some())
        };
        let missing =
            |verdict: &&Verdict| verdict.state() == Word::NotMeasured && !verdict.uncut && !of_earlier(verdict);
        let unmeasured: Vec<&Verdict> = of_rule().filter(missing).collect();
        open.extend(without_figure(&unmeasured));
        let unasked = of_rule().filter(|verdict| verdict.state() == Word::NoPhoto && verdict.of.is_none());
        let shotless =
            unasked.filter(|verdict| !found.worked.shots.iter().any(|shot| of_the_rule(shot, &verdict.rule_id)));
        open.extend(shotless.map(|verdict| {
            OpenItem::missing(format!("{}{}", because(verdict), clause(verdict)), Waits::Fabricator, place(verdict))
        }));
    }
    open
}

/// What the scrutineer ruled to be changed: until it is, and then until the scrutineer has seen it or the ruling is taken
/// back, whatever the figures say.
fn to_be_changed(verdicts: &[Verdict], units: Units) -> Vec<OpenItem> {
    let one = |verdict: &Verdict| {
        let stands = verdict.ruling.as_ref().filter(|ruling| !ruling.stays).map(|ruling| ruling.place);
        let lapsed = verdict.lapsed.as_ref().filter(|lapsed| !lapsed.stays).map(|lapsed| lapsed.place);
        let (ruled, waits) = match (stands, lapsed) {
            (Some(place), _) => (format!("Ruling {place}: it is to be changed."), Waits::Fabricator),
            (None, Some(place)) => {
                (format!("Ruling {place} was of another figure: it was to be changed."), Waits::Office)
            }
            (None, None) => return None,
        };
        let what = verdict.measure.map_or_else(String::new, |measure| {
            format!("{} {}. ", capital(measure.word()), verdict.describe_figure(units))
        });
        let what = format!("{what}{ruled} {}{}", verdict.to_do(), clause(verdict));
        let item = OpenItem::missing(what, waits, Place::Rulings).sort(Sort::Fails);
        Some(OpenItem { at: verdict.of, ..item })
    };
    verdicts.iter().filter_map(one).collect()
}

fn of_the_rule(shot: &Shot, rule: &str) -> bool {
    shot.key.split('/').next() == Some(rule)
}

fn because(verdict: &Verdict) -> String {
    verdict.reasons().join(" ")
}

fn clause(verdict: &Verdict) -> String {
    let recommended = if verdict.force == Force::Should { ", recommended" } else { "" };
    format!(" (clause {}{recommended})", verdict.clause)
}

/// The sheet on which a verdict's figure is set right.
fn place(verdict: &Verdict) -> Place {
    if verdict.car_date.is_some() {
        return Place::Car;
    }
    if verdict.state() == Word::NotMeasured && !verdict.also.is_empty() {
        return Place::Measures;
    }
    match (verdict.measure, verdict.of.map(|of| of.kind)) {
        (Some(measure), _) if measure.measured() => Place::Measures,
        (_, Some(Kind::Kit)) => Place::Kit,
        (None, Some(Kind::Joint)) => Place::Gussets(verdict.of),
        (_, Some(Kind::Gusset)) => Place::Gussets(None),
        (Some(_), _) | (_, Some(Kind::Plate | Kind::Member)) => Place::Cage,
        (None, _) => Place::Verdicts,
    }
}

fn waits(place: &Place) -> Waits {
    if matches!(place, Place::Kit | Place::Verdicts | Place::Car) { Waits::Office } else { Waits::Fabricator }
}

fn broken(verdict: &Verdict, units: Units) -> OpenItem {
    let limit = verdict.limit.as_ref().map(|limit| limit.text.as_str()).unwrap_or_default();
    let what = match (verdict.measure, verdict.of) {
        (Some(measure), _) => {
            let description = verdict.describe_state(units);
            let again = if verdict.lapsed.is_some() { ". What was ruled no longer holds: ask again" } else { "" };
            let figure = verdict.describe_figure(units);
            format!("{} {figure}, {limit}: {description}{again}{}", capital(measure.word()), clause(verdict))
        }
        (None, None) if !limit.is_empty() => format!("{}: {}{}", capital(limit), because(verdict), clause(verdict)),
        _ if !limit.is_empty() => format!("{}. {}{}", capital(limit), because(verdict), clause(verdict)),
        _ => format!("{}{}", because(verdict), clause(verdict)),
    };
    let place = place(verdict);
    let item = OpenItem::missing(what, waits(&place), place).sort(Sort::Fails);
    OpenItem { at: verdict.of, ..item }
}

fn unclear(verdict: &Verdict, units: Units) -> OpenItem {
    if let Some(measure) = verdict.measure {
        let limit = verdict.limit.as_ref().map(|limit| limit.text.as_str()).unwrap_or_default();
        let (figure, margin) = (verdict.describe_figure(units), verdict.describe_margin(units));
        let description = format!("{} {figure}, {limit}: too close to call, {margin}", capital(measure.word()));
        let what = format!("{description}. {}{}", verdict.to_do(), clause(verdict));
        let item = OpenItem::missing(what, Waits::Fabricator, Place::Measures).sort(Sort::TooClose);
        return OpenItem { at: verdict.of, ..item };
    }
    let what = format!("{}{}", because(verdict), clause(verdict));
    let item = OpenItem::missing(what, Waits::Office, Place::WeighIn).sort(Sort::TooClose);
    OpenItem { at: verdict.of, ..item }
}

/// The parts of one rule whose figure is missing: one by one where they are few.
fn without_figure(verdicts: &[&Verdict]) -> Vec<OpenItem> {
    let one = |verdict: &&Verdict| {
        let place = place(verdict);
        let what = match (verdict.measure.filter(|measure| measure.measured()), &verdict.limit) {
            (Some(measure), Some(limit)) => format!("Measure the {}, {}", measure.word(), limit.text),
            _ => because(verdict),
        };
        let what = format!("{what}{}", clause(verdict));
        OpenItem { at: verdict.of, ..OpenItem::missing(what, waits(&place), place) }
    };
    let parts: Vec<Balloon> = verdicts.iter().filter_map(|verdict| verdict.of).collect();
    match (verdicts.first(), verdicts.first().and_then(|verdict| verdict.measure)) {
        (Some(first), Some(measure)) if verdicts.len() > ONE_BY_ONE => {
            let what =
                format!("Measure the {} of {} parts: {}{}", measure.word(), parts.len(), named(&parts), clause(first));
            let place = place(first);
            vec![OpenItem::missing(what, waits(&place), place)]
        }
        _ => verdicts.iter().map(one).collect(),
    }
}

/// Photographs still to take, those of an earlier piece aside: of a rule that asks for many, one line; else one for each part.
pub(super) fn shots(found: &Findings) -> Vec<OpenItem> {
    let mut open = Vec::new();
    let mut rules: Vec<&str> = found.worked.shots.iter().filter_map(|shot| shot.key.split('/').next()).collect();
    rules.sort_unstable();
    rules.dedup();
    // In walking order, by the first shot of each rule.
    rules.sort_by_key(|rule| found.worked.shots.iter().position(|shot| of_the_rule(shot, rule)));
    for rule in rules {
        let of_rule: Vec<&Shot> =
            found.worked.shots.iter().filter(|shot| of_the_rule(shot, rule) && asked(shot.force)).collect();
        let left = |shot: &&&Shot| !shot.taken() && !again(shot);
        let mut parts: Vec<Balloon> = of_rule.iter().filter(left).map(|shot| shot.of).collect();
        parts.dedup();
        let mut all: Vec<Balloon> = of_rule.iter().map(|shot| shot.of).collect();
        all.dedup();
        let Some(first) = of_rule.iter().find(left) else { continue };
        if parts.len() > ONE_BY_ONE {
            let (left, of) = (parts.len(), all.len());
            let what = format!("Photograph {left} of {of} parts: {} {}", first.what, named(&parts));
            open.push(OpenItem::missing(what + &ends(first), Waits::Fabricator, Place::Shot(Some(first.name()))));
            continue;
        }
        for part in parts {
            let left: Vec<&&Shot> = of_rule.iter().filter(|shot| shot.of == part).filter(left).collect();
            let views: Vec<&str> = left.iter().filter_map(|shot| shot.view.as_deref()).collect();
            let Some(first) = left.first() else { continue };
            let view = if views.is_empty() { String::new() } else { format!(" ({})", views.join(", ")) };
            let what = format!("Photograph {}{view}: {}", first.part, first.what);
            let item = OpenItem::missing(what + &ends(first), Waits::Fabricator, Place::Shot(Some(first.name())));
            open.push(if part.kind == Kind::Car { item } else { item.at(part) });
        }
    }
    open
}

fn ends(shot: &Shot) -> String {
    let recommended = if shot.force == Force::Should { ", recommended" } else { "" };
    format!(" (clause {}{recommended})", shot.clause)
}
