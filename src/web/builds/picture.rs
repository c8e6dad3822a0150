//! The cage on a build's own sheet: the parts of the lines that stand beside it have their balloons, the first stands out.

use super::lines::Line;
use crate::domain::cage::Member;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::shots::place;
use crate::domain::words::ids::Balloon;
use crate::drawing::car::beside::beside;
use crate::drawing::car::view::{Bar, Scale, Scene, Spot, View, draw_with};
use crate::quantity::Length;
use crate::web::gate::Seen;
use crate::web::page::part_address;
use crate::web::svg::Svg;

/// Most balloons at once: more of them tangle.
const BALLOONS: usize = 8;
/// Its frame: the balloons' type stays readable beside a list.
const FRAME: (Length, Length) = (Length::from_mm(140.0), Length::from_mm(140.0));

/// The cage with the numbers of these lines; none while it is not laid out.
pub(super) fn of<'l>(seen: &Seen, found: &Findings, lines: impl Iterator<Item = &'l Line>) -> Option<Svg> {
    let (cage, around) = (&found.worked.cage, &found.worked.around);
    if cage.members.is_empty() {
        return None;
    }
    let bar = |member: &Member| Bar {
        balloon: member.balloon,
        polyline: member.line.chords(Length::from_mm(1.0)),
        outside: member.tube.outside,
    };
    let bars: Vec<Bar> = cage.members.iter().map(bar).collect();
    let mut wanted: Vec<Balloon> = Vec::new();
    for balloon in lines.flat_map(|line| line.named().0) {
        if !wanted.contains(balloon) && wanted.len() < BALLOONS {
            wanted.push(*balloon);
        }
    }
    let spot = |balloon: &Balloon| Some(Spot { balloon: *balloon, at: place(cage, *balloon)? });
    let spots: Vec<Spot> = wanted.iter().filter_map(spot).collect();
    let first = spots.first().map(|spot| spot.balloon);
    let scene = Scene { bars: &bars, spots: &spots, darkened: first.as_slice(), hidden: false, pale: &[] };
    let drawn = draw_with(&scene, &beside(cage, around, false), View::Isometric, FRAME, Scale::Fit);
    Some(Svg::of(&drawn.marks, FRAME, |part| Some(seen.address(&part_address(*part)))))
}
