//! The cage seen from one side: bars as double lines, nearer ones over farther ones, balloons beside them.

use glam::{DVec2, DVec3, dvec2};

use super::beside::Beside;
use super::fit::Fit;
pub use super::fit::{DrawnScale, SCALES, Scale, fitting};
use super::hiding::{Strip, edges, stretches};
use super::placing::Room;
pub use super::scene::{Bar, Scene, Spot, View};
use crate::domain::words::ids::Balloon;
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::Length;

/// A drawn view.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// The marks, from the frame's top left corner.
    pub marks: Vec<Mark>,
    /// The scale they are drawn at.
    pub scale: DrawnScale,
    /// Balloons for which the frame had no room: a larger frame is needed, or fewer spots.
    pub left_out: Vec<Balloon>,
}

/// Height of the line under the drawing that says what is seen.
const CAPTION: f64 = 6.0;
/// Size of the type in balloons and captions: 10 pt, whose capitals are 2.5 mm (ISO 3098).
const TYPE: Length = Length::from_mm(25.4 / 72.0 * 10.0);

/// Draws the scene into a frame of this width and height.
pub fn draw(scene: &Scene, view: View, frame: (Length, Length), scale: Scale) -> Drawn {
    draw_with(scene, &[], view, frame, scale)
}

/// The same with what is beside the bars.
pub fn draw_with(scene: &Scene, beside: &[Beside], view: View, frame: (Length, Length), scale: Scale) -> Drawn {
    draw_fitted(scene, beside, view, frame, scale).0
}

/// The same, and how the car became the page, for what is drawn over it.
pub(in crate::drawing) fn draw_fitted(
    scene: &Scene,
    beside: &[Beside],
    view: View,
    frame: (Length, Length),
    scale: Scale,
) -> (Drawn, Fit) {
    draw_first(First { scene, shown: scene.spots.len() }, beside, view, frame, scale)
}

/// A scene of whose spots the first so many carry their balloons.
pub(in crate::drawing) struct First<'a> {
    pub(in crate::drawing) scene: &'a Scene<'a>,
    pub(in crate::drawing) shown: usize,
}

/// The same with balloons at the first so many spots alone; the room leaves place for one of any other.
pub(in crate::drawing) fn draw_first(
    First { scene, shown }: First<'_>,
    beside: &[Beside],
    view: View,
    frame: (Length, Length),
    scale: Scale,
) -> (Drawn, Fit) {
    let room = without_caption(frame);
    let radius = balloon_radius(scene.spots);
    let fit = Fit::of_all(scene, beside, (view, room), scale, radius);
    let mut marks = draw_bars(scene, view, &fit);
    marks.extend(beside.iter().flat_map(|one| one.marks(view, &fit)));
    let (_, standing) = seated(scene, shown, view, &fit, frame);
    let targets: Vec<DVec2> = standing.iter().map(|one| one.0).collect();
    let seats: Vec<Option<DVec2>> = standing.iter().map(|one| one.1).collect();
    marks.extend(balloons(scene, &targets, &seats, radius));
    marks.push(Mark::Text {
        at: dvec2(room.x / 2.0, room.y + CAPTION - 1.5),
        size: TYPE,
        words: format!("{}, {}", view.name(), fit.scale),
        weight: Weight::Regular,
        anchor: Anchor::Middle,
        ink: Ink::Grey,
    });
    let left_out = scene.spots.iter().zip(&seats).filter(|(_, seat)| seat.is_none()).map(|(spot, _)| spot.balloon);
    let left_out = left_out.collect();
    (Drawn { marks, scale: fit.scale, left_out }, fit)
}

fn without_caption(frame: (Length, Length)) -> DVec2 {
    dvec2(frame.0.mm(), frame.1.mm() - CAPTION)
}

/// The first so many spots on the page, each with where its balloon stands, and the room that they stand in.
pub(in crate::drawing) fn seated(
    scene: &Scene,
    shown: usize,
    view: View,
    fit: &Fit,
    frame: (Length, Length),
) -> (Room, Vec<(DVec2, Option<DVec2>)>) {
    let room = Room { frame: without_caption(frame), drawn: fit.drawn, radius: balloon_radius(scene.spots) };
    let targets: Vec<DVec2> = scene.spots.iter().take(shown).map(|spot| fit.on_page(view, spot.at)).collect();
    let seats = room.place(&targets);
    (room, targets.into_iter().zip(seats).collect())
}

/// A small isometric view without a caption, one point's balloon beside it: it says where on the car something is.
pub fn locator(scene: &Scene, spot: Option<Spot>, frame: (Length, Length)) -> Vec<Mark> {
    let room = dvec2(frame.0.mm(), frame.1.mm());
    let fit = Fit::of(&Scene { spots: &[], ..*scene }, View::Isometric, room, Scale::Fit, 0.0);
    let mut marks = draw_bars(scene, View::Isometric, &fit);
    if let Some(spot) = spot {
        let radius = balloon_radius(&[spot]);
        let target = fit.on_page(View::Isometric, spot.at);
        let away = (target - room / 2.0).normalize_or(DVec2::NEG_Y) * (radius + 3.0);
        let inside = |at: DVec2| at.clamp(DVec2::splat(radius + 0.3), room - (radius + 0.3));
        // At the frame's edge the balloon goes to the other side of its point rather than over it.
        let outward = inside(target + away);
        let seat = if outward.distance(target) > radius + 1.0 { outward } else { inside(target - away) };
        let spots = [spot];
        marks.extend(balloons(&Scene { spots: &spots, ..*scene }, &[target], &[Some(seat)], radius));
    }
    marks
}

/// A small isometric view without a caption, with what is beside the bars.
pub fn small_with(scene: &Scene, beside: &[Beside], frame: (Length, Length)) -> Vec<Mark> {
    let room = dvec2(frame.0.mm(), frame.1.mm());
    let fit = Fit::of_all(scene, beside, (View::Isometric, room), Scale::Fit, 0.0);
    let mut marks = draw_bars(scene, View::Isometric, &fit);
    marks.extend(beside.iter().flat_map(|one| one.marks(View::Isometric, &fit)));
    marks
}

/// One size for all balloons of a view: about twice the height of figures, wide enough for the longest number.
pub(in crate::drawing) fn balloon_radius(spots: &[Spot]) -> f64 {
    let widths =
        spots.iter().map(|spot| crate::drawing::paper::text::width(&spot.balloon.to_string(), TYPE, Weight::Bold).mm());
    widths.fold(6.0_f64, f64::max) / 2.0 + 1.0
}

fn strips(scene: &Scene, view: View, fit: &Fit) -> Vec<Strip> {
    let mut strips = Vec::new();
    for (index, bar) in scene.bars.iter().enumerate() {
        let half = bar.outside.mm() / 2.0 * fit.factor;
        let axis: Vec<DVec3> = bar.polyline.iter().map(|at| fit.axis(view, *at)).collect();
        let flat: Vec<DVec2> = axis.iter().map(|at| at.truncate()).collect();
        let sides = edges(&flat, half);
        for ((from, to), (start, end)) in
            axis.iter().zip(axis.iter().skip(1)).zip(sides.iter().zip(sides.iter().skip(1)))
        {
            let corners = [start.0, start.1, end.0, end.1];
            strips.push(Strip { bar: index, corners, axis: (*from, *to), half });
        }
    }
    strips
}

/// First the areas, farthest first, so that the accent is covered where a nearer bar covers it; then the edges.
pub(in crate::drawing) fn draw_bars(scene: &Scene, view: View, fit: &Fit) -> Vec<Mark> {
    let strips = strips(scene, view, fit);
    let balloon_of = |strip: &Strip| scene.bars.get(strip.bar).map(|bar| bar.balloon);
    let mut order: Vec<&Strip> = strips.iter().collect();
    order.sort_by(|one, other| one.middle().total_cmp(&other.middle()));
    let mut marks = Vec::new();
    for strip in order {
        let balloon = balloon_of(strip);
        let fill =
            if balloon.is_some_and(|balloon| scene.darkened.contains(&balloon)) { Ink::Accent } else { Ink::White };
        let area = Mark::Path { points: strip.outline().to_vec(), closed: true, pen: None, fill: Some(fill) };
        marks.push(Mark::Group { balloon, marks: vec![area] });
    }
    for (index, bar) in scene.bars.iter().enumerate() {
        let own: Vec<&Strip> = strips.iter().filter(|strip| strip.bar == index).collect();
        let (Some(first), Some(last)) = (own.first(), own.last()) else { continue };
        let [start, other_start, ..] = first.corners;
        let [.., end, other_end] = last.corners;
        let (mut left, mut right) = (Vec::new(), Vec::new());
        for strip in &own {
            let [from, other_from, to, other_to] = strip.corners;
            left.push((from, to, *strip));
            right.push((other_from, other_to, *strip));
        }
        let mut lines = Vec::new();
        for run in [left, right, vec![(start, other_start, *first)], vec![(end, other_end, *last)]] {
            let pen = if scene.pale.contains(&bar.balloon) { Pen::Faint } else { Pen::Narrow };
            lines.extend(outline(run, &strips, scene.hidden, pen));
        }
        marks.push(Mark::Group { balloon: Some(bar.balloon), marks: lines });
    }
    marks
}

/// One edge of a bar as few paths as may be: seen parts drawn, covered parts dashed or left out.
fn outline(run: Vec<(DVec2, DVec2, &Strip)>, strips: &[Strip], dashed: bool, seen: Pen) -> Vec<Mark> {
    let mut paths: Vec<(bool, Vec<DVec2>)> = Vec::new();
    for (from, to, own) in run {
        for part in stretches(from, to, own, strips) {
            if part.hidden && !dashed {
                continue;
            }
            match paths.last_mut() {
                Some((hidden, points))
                    if *hidden == part.hidden && points.last().is_some_and(|end| end.distance(part.from) < 1e-6) =>
                {
                    points.push(part.to);
                }
                _ => paths.push((part.hidden, vec![part.from, part.to])),
            }
        }
    }
    let drawn = paths.into_iter().map(|(hidden, points)| {
        let pen = if hidden { Pen::HiddenDashed } else { seen };
        Mark::Path { points, closed: false, pen: Some(pen), fill: None }
    });
    drawn.collect()
}

pub(in crate::drawing) fn balloons(
    scene: &Scene,
    targets: &[DVec2],
    seats: &[Option<DVec2>],
    radius: f64,
) -> Vec<Mark> {
    let mut leaders = Vec::new();
    let mut circles = Vec::new();
    for ((spot, target), seat) in scene.spots.iter().zip(targets).zip(seats) {
        let Some(seat) = *seat else { continue };
        let toward = (*target - seat).normalize_or_zero();
        leaders.push(Mark::Line { from: seat + toward * radius, to: *target, pen: Pen::Narrow });
        let dot = Length::from_mm(0.6);
        leaders.push(Mark::Circle { centre: *target, radius: dot, pen: None, fill: Some(Ink::Black) });
        let stands_out = scene.darkened.contains(&spot.balloon);
        let (fill, ink) = if stands_out { (Ink::Accent, Ink::White) } else { (Ink::White, Ink::Black) };
        let circle =
            Mark::Circle { centre: seat, radius: Length::from_mm(radius), pen: Some(Pen::Narrow), fill: Some(fill) };
        let number = Mark::Text {
            at: seat + dvec2(0.0, TYPE.mm() * crate::drawing::paper::text::CAPITAL / 2.0),
            size: TYPE,
            words: spot.balloon.to_string(),
            weight: if stands_out { Weight::Bold } else { Weight::Regular },
            anchor: Anchor::Middle,
            ink,
        };
        circles.push(Mark::Group { balloon: Some(spot.balloon), marks: vec![circle, number] });
    }
    vec![Mark::Group { balloon: None, marks: leaders }].into_iter().chain(circles).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::words::ids::Kind;
    use proptest::prelude::*;

    const FRAME: (Length, Length) = (Length::from_mm(180.0), Length::from_mm(130.0));

    fn bar(number: u32, from: DVec3, to: DVec3) -> Bar {
        let outside = Length::from_inches(1.75);
        Bar { balloon: Balloon::new(Kind::Member, number), polyline: vec![from, to], outside }
    }

    fn circles(marks: &[Mark]) -> Vec<(DVec2, f64)> {
        let mut found = Vec::new();
        for mark in marks {
            if let Mark::Group { balloon: Some(_), marks } = mark {
                found.extend(marks.iter().filter_map(|mark| match mark {
                    Mark::Circle { centre, radius, .. } => Some((*centre, radius.mm())),
                    _ => None,
                }));
            }
        }
        found
    }

    #[test]
    fn a_bar_is_two_lines_its_diameter_apart_at_scale() {
        let bars = [bar(1, DVec3::ZERO, DVec3::new(0.0, 1000.0, 0.0))];
        let scene = Scene { bars: &bars, spots: &[], darkened: &[], pale: &[], hidden: false };
        let drawn = draw(&scene, View::Front, FRAME, Scale::Fit);
        assert_eq!(drawn.scale, DrawnScale::OneTo(10));
        let heights: Vec<f64> = drawn
            .marks
            .iter()
            .filter_map(|mark| match mark {
                Mark::Group { marks, .. } => Some(marks),
                _ => None,
            })
            .flatten()
            .filter_map(|mark| match mark {
                Mark::Path { points, closed: false, .. } if (points[0].y - points[1].y).abs() < 1e-9 => {
                    Some(points[0].y)
                }
                _ => None,
            })
            .collect();
        assert_eq!(heights.len(), 2);
        // 1 3/4 in is 44.45 mm: 4.445 mm at 1:10.
        assert!(((heights[0] - heights[1]).abs() - 4.445).abs() < 1e-9, "{heights:?}");
    }

    #[test]
    fn the_isometric_view_says_it_has_no_scale() {
        let bars = [bar(1, DVec3::ZERO, DVec3::new(0.0, 1000.0, 0.0))];
        let scene = Scene { bars: &bars, spots: &[], darkened: &[], pale: &[], hidden: false };
        let drawn = draw(&scene, View::Isometric, FRAME, Scale::Given(10));
        assert_eq!(drawn.scale, DrawnScale::NotToScale);
        let description =
            drawn.marks.iter().any(|mark| matches!(mark, Mark::Text { words, .. } if words.ends_with("not to scale")));
        assert!(description);
    }

    #[test]
    fn nothing_to_draw_is_an_empty_frame_with_its_caption() {
        let scene = Scene { bars: &[], spots: &[], darkened: &[], pale: &[], hidden: true };
        assert!(draw(&scene, View::Plan, FRAME, Scale::Fit).left_out.is_empty());
    }

    proptest! {
        #[test]
        fn no_two_balloons_overlap_and_all_stay_in_the_frame(
            at in prop::collection::vec((-1500.0..1500.0_f64, -700.0..700.0_f64, 0.0..1300.0_f64), 1..45),
        ) {
            let spots: Vec<Spot> = (1_u32..)
                .zip(at)
                .map(|(number, (x, y, z))| Spot { balloon: Balloon::new(Kind::Joint, number), at: DVec3::new(x, y, z) })
                .collect();
            let scene = Scene { bars: &[], spots: &spots, darkened: &[], pale: &[], hidden: false };
            for view in [View::Front, View::Side, View::Plan, View::Isometric] {
                let drawn = draw(&scene, view, FRAME, Scale::Fit);
                let found = circles(&drawn.marks);
                prop_assert_eq!(found.len() + drawn.left_out.len(), spots.len());
                prop_assert!(drawn.left_out.is_empty());
                for (index, (centre, radius)) in found.iter().enumerate() {
                    prop_assert!(centre.x >= *radius && centre.x <= 180.0 - radius);
                    prop_assert!(centre.y >= *radius && centre.y <= 130.0 - radius);
                    for (other, reach) in found.iter().skip(index + 1) {
                        prop_assert!(centre.distance(*other) > radius + reach);
                    }
                }
            }
        }
    }
}
