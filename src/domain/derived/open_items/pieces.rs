//! What was photographed or measured, and is of an earlier piece by now: to be done again.

use std::collections::BTreeMap;

use super::named::{ONE_BY_ONE, asked, named};
use super::{OpenItem, Place, Waits};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::pieces::Since;
use crate::domain::judge::shots::Shot;
use crate::domain::judge::verdicts::Word;
use crate::domain::measure::measures::Measure;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::ids::Balloon;
use crate::quantity::Units;

/// The shots whose only photographs are of the earlier piece: of many parts one line, else one for each.
pub(super) fn photographed(found: &Findings, units: Units) -> Vec<OpenItem> {
    let mut parts: Vec<(Balloon, &Since, Vec<&Shot>)> = Vec::new();
    for shot in found.worked.shots.iter().filter(|shot| again(shot) && asked(shot.force)) {
        let Some(since) = &shot.earlier else { continue };
        match parts.iter_mut().find(|(of, _, _)| *of == shot.of) {
            Some((_, _, shots)) => shots.push(shot),
            None => parts.push((shot.of, since, vec![shot])),
        }
    }
    let item = |what: String, shots: &[&Shot]| {
        OpenItem::missing(what, Waits::Fabricator, Place::Shot(shots.first().map(|shot| shot.name())))
    };
    if parts.len() > ONE_BY_ONE {
        let all: Vec<Balloon> = parts.iter().map(|(of, _, _)| *of).collect();
        let what = format!(
            "{} parts were photographed before they were cut again, moved or made otherwise: photograph them again: {}",
            all.len(),
            named(&all)
        );
        return parts.first().map(|(_, _, shots)| item(what, shots)).into_iter().collect();
    }
    let one = |(of, since, shots): (Balloon, &Since, Vec<&Shot>)| {
        let views: Vec<&str> = shots.iter().filter_map(|shot| shot.view.as_deref()).collect();
        let views = if views.is_empty() { String::new() } else { format!(" ({})", views.join(", ")) };
        let what = format!("{of} was photographed before {}: photograph it again{views}", since.describe(units));
        item(what, &shots).at(of)
    };
    parts.into_iter().map(one).collect()
}

/// Whether a shot was taken, and only of the earlier piece.
pub(super) fn again(shot: &Shot) -> bool {
    !shot.taken() && shot.earlier.is_some()
}

/// The figures that some rule asks for and that were last read off the earlier piece.
pub(super) fn measured(facts: &BuildFacts, found: &Findings, units: Units) -> Vec<OpenItem> {
    let mut by_measure: BTreeMap<Measure, Vec<(Balloon, &Since)>> = BTreeMap::new();
    for read in &facts.measured {
        let Some(since) = found.worked.pieces.figure(read.measure, read.of) else { continue };
        if is_asked(found, read.measure, read.of) {
            by_measure.entry(read.measure).or_default().push((read.of, since));
        }
    }
    let item = |what: String| OpenItem::missing(what, Waits::Fabricator, Place::Measures);
    let of_measure = |(measure, parts): (Measure, Vec<(Balloon, &Since)>)| -> Vec<OpenItem> {
        let word = measure.word();
        if parts.len() > ONE_BY_ONE {
            let all: Vec<Balloon> = parts.iter().map(|(of, _)| *of).collect();
            let what = format!(
                "The {word} of {} parts was measured before they were cut again, moved or made otherwise: measure it again: {}",
                all.len(),
                named(&all)
            );
            return vec![item(what)];
        }
        let one = |(of, since): (Balloon, &Since)| {
            let since = since.describe(units);
            item(format!("{of}: its {word} was measured on the earlier piece, before {since}: measure it again")).at(of)
        };
        parts.into_iter().map(one).collect()
    };
    by_measure.into_iter().flat_map(of_measure).collect()
}

fn is_asked(found: &Findings, measure: Measure, of: Balloon) -> bool {
    found.worked.verdicts.iter().filter(|verdict| verdict.word != Word::NotAsked && asked(verdict.force)).any(
        |verdict| (verdict.measure, verdict.of) == (Some(measure), Some(of)) || verdict.also.contains(&(measure, of)),
    )
}
