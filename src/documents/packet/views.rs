//! The numbered views: joints and bars, from four sides.

use glam::dvec2;

use super::Packet;
use super::flow::{Flow, SMALL, TYPE};
use crate::domain::words::ids::Kind;
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::{Numbers, Shown, draw_cage};
use crate::drawing::car::view::{Drawn, View};
use crate::drawing::{Ink, Mark, Tag, Weight};
use crate::quantity::{Length, Show as _};

/// The views' pages.
pub(super) fn add(flow: &mut Flow, packet: &Packet<'_>) {
    flow.begin("The cage, joints numbered", Some("views"));
    if packet.found.worked.cage.members.is_empty() {
        return flow.words("The cage is not set up yet.", TYPE, Weight::Bold, Ink::Black);
    }
    two(flow, packet, [View::Isometric, View::Front], Kind::Joint);
    flow.begin("The cage, joints numbered, side and plan", None);
    two(flow, packet, [View::Side, View::Plan], Kind::Joint);
    flow.begin("The cage, bars numbered", Some("bars"));
    let height = 96.0;
    let frame = (Length::from_mm(flow.width()), Length::from_mm(height));
    let drawn = shown(packet, View::Isometric, Kind::Member, frame);
    flow.put(vec![figure(View::Isometric, Kind::Member, drawn.marks)], height + 2.0);
    bars(flow, packet);
}

fn two(flow: &mut Flow, packet: &Packet<'_>, views: [View; 2], kind: Kind) {
    let height = flow.left() / 2.0 - 2.0;
    let frame = (Length::from_mm(flow.width()), Length::from_mm(height));
    for view in views {
        let drawn = shown(packet, view, kind, frame);
        flow.put(vec![figure(view, kind, drawn.marks)], height + 1.0);
    }
}

fn figure(view: View, kind: Kind, marks: Vec<Mark>) -> Mark {
    let view = view.name().to_lowercase();
    Mark::figure(format!("The cage drawn in one view, {view}; each {} with its number.", kind.word()), marks)
}

/// Every bar's number, role, size and length, three beside each other.
fn bars(flow: &mut Flow, packet: &Packet<'_>) {
    let members = &packet.found.worked.cage.members;
    let column = flow.width() / 2.0;
    let rows = members.len().div_ceil(2);
    for row in 0..rows {
        let mut marks = Vec::new();
        for (at, index) in [(0.0, row), (column, row + rows)] {
            let Some(bar) = members.get(index) else { continue };
            let words = [
                Mark::words(dvec2(0.0, 3.4), TYPE, Weight::Bold, bar.balloon.to_string()),
                super::flow::line(dvec2(10.0, 3.4), SMALL, Weight::Regular, bar.role.word(), 36.0),
                Mark::words(dvec2(46.0, 3.4), SMALL, Weight::Regular, bar.tube.to_string()),
                Mark::words(dvec2(68.0, 3.4), SMALL, Weight::Regular, bar.developed.show(packet.units)),
            ];
            let bar = Mark::Tagged { tag: Tag::Paragraph, marks: words.to_vec() };
            marks.push(bar.moved(dvec2(at, 0.0)));
        }
        flow.put(marks, 4.6);
    }
    flow.words("Lengths from node to node along the centre line.", SMALL, Weight::Regular, Ink::Grey);
}

/// The cage from one side, with the numbers of these parts.
fn shown(packet: &Packet<'_>, view: View, numbered: Kind, frame: (Length, Length)) -> Drawn {
    let (cage, around) = (&packet.found.worked.cage, &packet.found.worked.around);
    draw_cage(cage, &beside(cage, around, false), Shown { view, numbers: Numbers::Of(numbered), hidden: true }, frame)
}
