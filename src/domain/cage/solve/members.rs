//! The bars of the cage with their ends cut, each to all that it meets.

use glam::DVec3;

use super::ends::end_of;
use super::fitting::{EndsOn, Fitting, Standing, into_its_bend};
use crate::domain::cage::lay::draft::{Bar, Draft, Label, Landing};
use crate::domain::cage::lay::numbers::Numbers;
use crate::domain::cage::parts::{Member, Uncut};
use crate::domain::cage::record::key_words::words;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::geometry::Cope;
use crate::geometry::centre_line::SAME_POINT;
use crate::quantity::Angle;

/// Bars that meet at less than this cannot be coped and welded round (*common practice*).
const SHARPEST: Angle = Angle::from_degrees(15.0);

/// The bars as they come out, and the places in the draft of those that are fitted to each other, the later one first.
pub(in crate::domain::cage) struct Cut {
    pub(in crate::domain::cage) members: Vec<Member>,
    /// The bars' numbers in the order of fitting.
    pub(in crate::domain::cage) order: Vec<Balloon>,
    pub(in crate::domain::cage) fitted: Vec<(usize, usize)>,
}

/// All bars that have a number, their ends cut.
pub(in crate::domain::cage) fn members(draft: &Draft<'_>, numbers: &Numbers, faults: &mut Vec<Fault>) -> Cut {
    let place_of = |key: &str| draft.bars.iter().position(|bar| bar.label.key == key);
    let standing = |bar: &'_ Bar, end: usize| match bar.ends.get(end) {
        None => EndsOn::Free,
        Some(Landing::Plate(..)) => EndsOn::OnPlate,
        Some(Landing::Onto(place)) => {
            let carriers = std::iter::once(&place.carrier).chain(&place.corner_with);
            let carriers = carriers.filter_map(|key| place_of(key)).collect();
            EndsOn::Onto { carriers, along: place.along, node: place.point, may_miss: SAME_POINT }
        }
    };
    let bars = draft.bars.iter().map(|bar| Standing {
        balloon: numbers.of(&bar.label.key),
        outside: bar.tube.outside,
        line: &bar.line,
        ends: [standing(bar, 0), standing(bar, 1)],
    });
    let fitting = Fitting::new(bars.collect());
    let mut cut = Cut { members: Vec::new(), order: fitting.order(), fitted: Vec::new() };
    for (at, bar) in draft.bars.iter().enumerate() {
        let (made, beside) = member((draft, numbers, &fitting), (at, bar), faults);
        cut.members.extend(made);
        cut.fitted.extend(beside.into_iter().map(|other| (at, other)));
    }
    cut
}

/// A bar, and the places of those that its ends were cut to besides their carriers.
fn member(
    (draft, numbers, fitting): (&Draft<'_>, &Numbers, &Fitting<'_>),
    (at, bar): (usize, &Bar),
    faults: &mut Vec<Fault>,
) -> (Option<Member>, Vec<usize>) {
    let mut beside = Vec::new();
    let Some(balloon) = numbers.of(&bar.label.key) else { return (None, beside) };
    let mut copes = [None, None];
    let mut round = [Vec::new(), Vec::new()];
    for (end, ((cope, round), landing)) in copes.iter_mut().zip(&mut round).zip(&bar.ends).enumerate() {
        let found = match fitting.cut(at, end) {
            None => Cope::on_plate(DVec3::Z, bar.line.into_bar(end), bar.tube.outside),
            Some(cut) => cut.map(|cut| {
                let key = |other: usize| draft.bars.get(other).map(|bar| &bar.label.key);
                round.extend(cut.round().filter_map(|other| numbers.of(key(other)?)));
                beside.extend(&cut.beside);
                cut.fitted.cope
            }),
        };
        match found {
            Ok(found) => {
                if let Landing::Onto(place) = landing
                    && found.angle() < SHARPEST
                {
                    faults.push(Fault::new(&bar.label.key, too_sharp(&place.carrier, found.angle())));
                }
                faults.extend(into_its_bend(&bar.line, end, &found).map(|why| Fault::new(&bar.label.key, why)));
                *cope = Some(found);
            }
            Err(fault) => faults.push(Fault::new(&bar.label.key, fault.to_string())),
        }
    }
    let ends = bar.ends.each_ref().map(|landing| end_of(landing, numbers));
    let Label { key, role, side } = bar.label.clone();
    let (tube, line) = (bar.tube, bar.line.clone());
    let grade = draft.record.tubes.get(&key).and_then(|own| own.grade.clone());
    (Some(Uncut { key, balloon, role, side, tube, grade, line, ends, copes, round }.cut()), beside)
}

fn too_sharp(carrier: &str, angle: Angle) -> String {
    let onto = words(carrier);
    let (got, least) = (angle.degrees(), SHARPEST.degrees());
    format!("It meets the {onto} at {got:.1} degrees, too sharp to cope and weld round; {least:.0} is the least.")
}
