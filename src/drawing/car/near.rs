//! A part near, from its own side of the car: where to stand to see it, and the whole cage small in the corner.

use glam::{DVec2, DVec3, dvec2};

use super::cage::{bars_of, belonging};
use super::fit::Fit;
use super::scene::{Scene, Spot, View};
use super::view::{Scale, balloon_radius, balloons, draw_bars};
use crate::domain::cage::Cage;
use crate::domain::judge::shots::place;
use crate::domain::words::ids::Balloon;
use crate::drawing::{Ink, Mark, Pen};
use crate::quantity::Length;

/// So many times larger than the whole cage would be.
const TIMES: f64 = 2.4;
/// The ring about the part, and the corner's share of the frame.
const RING: Length = Length::from_mm(8.0);
const CORNER: f64 = 0.3;
/// What lies less far from the middle, or behind the main hoop, is of neither side or of the front, mm.
const MIDDLE: f64 = 120.0;
const BEHIND: f64 = -150.0;

/// From where a point is seen best, and where one stands for it.
fn seen_from(at: DVec3) -> (View, &'static str) {
    match (at.y < -MIDDLE, at.x < BEHIND) {
        (false, false) => (View::Isometric, if at.y > MIDDLE { "at the left, in front" } else { "in front" }),
        (true, false) => (View::Turned(90), "at the right, in front"),
        (true, true) => (View::Turned(180), "at the right, behind"),
        (false, true) => (View::Turned(270), if at.y > MIDDLE { "at the left, behind" } else { "behind" }),
    }
}

/// Where one stands to see a part; none for what is not on the cage.
pub fn stand(cage: &Cage, part: Balloon) -> Option<&'static str> {
    Some(seen_from(place(cage, part)?).1)
}

/// Draws a part near; none for what is not on the cage. What lies outside the frame is drawn as well: whoever shows the
/// marks cuts it off.
pub fn near(cage: &Cage, part: Balloon, frame: (Length, Length)) -> Option<Vec<Mark>> {
    let at = place(cage, part)?;
    let (view, _) = seen_from(at);
    let room = dvec2(frame.0.mm(), frame.1.mm());
    let (bars, darkened) = (bars_of(cage), belonging(cage, part));
    let spots = [Spot { balloon: part, at }];
    let scene = Scene { bars: &bars, spots: &spots, darkened: &darkened, pale: &[], hidden: false };
    let bare = Scene { spots: &[], ..scene };
    let whole = Fit::of(&bare, view, room, Scale::Fit, 0.0);
    let fit = whole.nearer(whole.on_page(view, at), TIMES, room);
    let target = fit.on_page(view, at);
    let mut marks = draw_bars(&bare, view, &fit);
    marks.push(Mark::Circle { centre: target, radius: RING, pen: Some(Pen::Marked), fill: None });
    let radius = balloon_radius(&spots);
    // Away from the corner with the whole cage in it.
    let toward = if target.x < room.x * 0.65 { dvec2(0.8, -0.6) } else { dvec2(-0.3, -0.95) };
    let seat = target + toward * (RING.mm() + radius + 5.0);
    let seat = seat.clamp(DVec2::splat(radius + 0.5), room - (radius + 0.5));
    marks.extend(balloons(&scene, &[target], &[Some(seat)], radius));
    marks.extend(corner(&bare, view, &fit, room));
    Some(marks)
}

/// The whole cage small in the frame's upper left corner, a frame in the accent about what is seen near.
fn corner(scene: &Scene, view: View, near: &Fit, room: DVec2) -> Vec<Mark> {
    let size = room * CORNER;
    let small = Fit::of(scene, view, size, Scale::Fit, 0.0);
    let mut marks = vec![Mark::rectangle(DVec2::ZERO, size, Some(Pen::Narrow), Some(Ink::White))];
    marks.extend(draw_bars(scene, view, &small));
    let (low, high) = (small.same_place(near, DVec2::ZERO), small.same_place(near, room));
    let (low, high) = (low.clamp(DVec2::ZERO, size), high.clamp(DVec2::ZERO, size));
    marks.push(Mark::rectangle(low, high - low, Some(Pen::Marked), None));
    marks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;

    const FRAME: (Length, Length) = (Length::from_mm(100.0), Length::from_mm(66.0));

    #[test]
    fn every_part_lies_in_its_own_picture_and_says_where_to_stand() {
        let cage = solve(&example_record(), &TUBES);
        let joints = cage.joints.iter().map(|joint| joint.balloon);
        let plates = cage.plates.iter().map(|plate| plate.balloon);
        for part in joints.chain(plates).chain(cage.members.iter().map(|member| member.balloon)) {
            let (marks, stand) = (near(&cage, part, FRAME).unwrap(), stand(&cage, part).unwrap());
            let ring = marks.iter().find_map(|mark| match mark {
                Mark::Circle { centre, radius, .. } if *radius == RING => Some(*centre),
                _ => None,
            });
            let ring = ring.unwrap();
            assert!(ring.cmpge(DVec2::ZERO).all() && ring.cmple(dvec2(100.0, 66.0)).all(), "{part}: {ring}");
            let side = place(&cage, part).unwrap().y;
            assert_eq!(stand.contains("left"), side > MIDDLE, "{part}: {stand}");
            assert_eq!(stand.contains("right"), side < -MIDDLE, "{part}: {stand}");
        }
        assert!(super::near(&cage, "K1".parse().unwrap(), FRAME).is_none());
    }
}
