//! The drawings of the cage: every joint and every bar with its number.

use crate::documents::chapters::{Block, Chapters};
use crate::documents::teller::Teller as _;
use crate::domain::derived::findings::Findings;
use crate::domain::words::ids::Kind;
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::{Numbers, Shown, draw_cage};
use crate::drawing::car::view::View;
use crate::quantity::{Length, Show as _, Units};

/// How large a drawing is, mm.
const FRAME: (Length, Length) = (Length::from_mm(240.0), Length::from_mm(150.0));
/// What is drawn: from where, and which parts have their numbers.
const VIEWS: [(View, Kind); 5] = [
    (View::Isometric, Kind::Joint),
    (View::Front, Kind::Joint),
    (View::Side, Kind::Joint),
    (View::Plan, Kind::Joint),
    (View::Isometric, Kind::Member),
];

pub(super) fn tell(chapters: &mut Chapters<'_>, found: &Findings, units: Units) {
    chapters.chapter("The cage", "cage");
    let (cage, around) = (&found.worked.cage, &found.worked.around);
    if cage.members.is_empty() {
        return chapters.strong("The cage is not set up yet.");
    }
    chapters.soft("Drawn from what was measured and chosen. A number leads to its part.");
    for (view, kind) in VIEWS {
        let shown = Shown { view, numbers: Numbers::Of(kind), hidden: true };
        let drawn = draw_cage(cage, &beside(cage, around, false), shown, FRAME);
        let (name, kind) = (view.name().to_lowercase(), kind.word());
        let left_out = drawn.left_out.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
        let left_out = if left_out.is_empty() { left_out } else { format!(" No room for: {left_out}.") };
        let shows = format!("The cage drawn in one view, {name}; each {kind} with its number.{left_out}");
        let svg = chapters.svg(&drawn.marks, FRAME);
        chapters.put(Block::Drawing(shows, svg));
    }
    for fault in found.worked.cage_faults() {
        chapters.strong(&fault.why);
    }
    let measures = &found.worked.record.measures;
    if measures.is_empty() {
        return chapters.said("Nothing of it was measured.");
    }
    chapters.subheading("As measured");
    let structure = found.worked.record.structure;
    let rows = measures
        .iter()
        .map(|(measure, typed)| vec![measure.word_in(structure), typed.value.show(units), typed.text.clone()]);
    let rows = rows.collect();
    chapters.grid(&["What", "How much", "As typed"], rows);
}
