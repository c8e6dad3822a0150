//! Cope templates at full size: printed, cut out, wrapped round the tube.

use super::full_size::{FullSize, bold, pages as full_size, plain};
use super::{Fabrication, Page};
use crate::domain::cage::solve::fitting::ORDER_OF_FITTING;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::cautions;
use crate::domain::words::wording::listed;
use crate::domain::work::fabrication::{BarSheet, EndCut, Tool};
use crate::drawing::wrap::{Wall, Wrap};
use crate::geometry::Cope;
use crate::quantity::{Angle, Units};

/// How a template is used.
const SAID: &str = "Wrap round the outside of the tube, straight edge square across it, the point LONG on the mark of the blank's \
end; cut along the curve.";

/// How a template is used, and what to mind at it.
pub(super) fn said() -> String {
    format!("{SAID} {}", cautions::COPED_ENDS)
}

/// The template pages of one bar: both ends on one sheet where they fit.
pub(super) fn pages(of: &Fabrication<'_>, bar: &BarSheet<'_>) -> Vec<Page> {
    let member = bar.member;
    let title = format!("{} {}: copes at full size", member.balloon, member.role.word());
    let place = format!("copes-{}", member.balloon);
    let ends = ["A", "B"].into_iter().zip(&bar.ends);
    let drawings = ends.filter_map(|(letter, end)| {
        let end = end.as_ref()?;
        let mut words = vec![bold(format!("End {letter} to {}: {}", end.describe(), saw(of.units, end)))];
        words.extend(order(end).map(plain));
        words.push(plain(cut(of, &end.cope, &member.tube)));
        words.push(plain(clock(bar, end)));
        Some(drawn(of, &end.cope, &member.tube, words))
    });
    full_size(of, &title, &place, &said(), drawings.collect())
}

/// A cope's template under these words.
pub(super) fn drawn(
    of: &Fabrication<'_>,
    cope: &Cope,
    tube: &TubeSize,
    mut words: Vec<(super::Style, String)>,
) -> FullSize {
    let wrap = Wrap { cope, outside: tube.outside, bore: tube.inside(), wall: of.wall };
    if of.wall == Wall::Inner {
        words.push(plain(
            "The curve is for the inner wall and the outer, cut square to the tube's axis: hold the cut toward the axis. Nowhere \
from bore to outside does the wall then run into what it is fitted to; where one edge lies on it, the other stands off.",
        ));
    }
    let (marks, size) = wrap.marks();
    FullSize { words, marks, size }
}

/// The angle, and what makes the cut.
fn saw(units: Units, end: &EndCut) -> String {
    let angle = end.cope.angle();
    let between = match &end.tool {
        Tool::Flat => "to the plate",
        Tool::HoleSaw(_) | Tool::Template(_) if end.round.is_empty() => "between the tubes",
        Tool::HoleSaw(_) | Tool::Template(_) => "to the first of them",
    };
    let tilt = Angle::from_degrees(90.0) - angle;
    format!("{:.1}° {between}; {}", angle.degrees(), end.tool.describe(tilt, units))
}

/// The bars to fit before this end, and which way to read the template's lines.
fn order(end: &EndCut) -> Option<String> {
    (!end.round.is_empty()).then(|| {
        let before = listed(&end.round);
        format!("Fit {before} first: this end is coped round {before}. {ORDER_OF_FITTING}")
    })
}

/// How deep the cut is, where its long point lies, and how wide the template is.
pub(super) fn cut(of: &Fabrication<'_>, cope: &Cope, tube: &TubeSize) -> String {
    let depth = (cope.short_point() - cope.long_point()).by_tape_exactly(of.units);
    let reach = cope.long_point().by_tape_exactly(of.units);
    let wrap = match of.units {
        Units::Inch => format!("{:.3} in round the tube", tube.outside.inches() * std::f64::consts::PI),
        Units::Metric => format!("{:.1} mm round the tube", tube.outside.mm() * std::f64::consts::PI),
    };
    format!("The cut is {depth} deep; its long point is {reach} from the node. {wrap}.")
}

/// How line 0 is turned.
fn clock(bar: &BarSheet<'_>, end: &EndCut) -> String {
    match (end.clocking, bar.bends.is_empty()) {
        (None, _) => "Line 0° is where you scribe it: carry it along the tube to the other end.".to_owned(),
        (Some(turned), true) => format!("Line 0° is turned {} from line 0° of end A.", turn(turned)),
        (Some(turned), false) => format!("Line 0° is turned {} from the inside of the bend next to it.", turn(turned)),
    }
}

/// A turn seen from end A looking along the tube.
fn turn(angle: Angle) -> String {
    let degrees = angle.degrees();
    let way = if degrees < 0.0 { "anticlockwise" } else { "clockwise" };
    format!("{:.1}° {way}, seen from end A along the tube,", degrees.abs())
}
