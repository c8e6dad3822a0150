//! Balloons of the parts that carry none while nobody touches them: each beside its part, clear of those that stand already.

use glam::DVec2;

use super::fit::Fit;
use super::scene::{Scene, Spot, View};
use super::view::{balloon_radius, balloons, seated};
use crate::drawing::paper::svg::Touched;
use crate::quantity::Length;

/// Most balloons on a drawing at once (own choice: more are not read at a glance).
pub const AT_ONCE: usize = 8;

/// So many of this many parts carry their balloon by themselves: all of a few; of more, one place is left for the part that is
/// touched.
pub const fn by_themselves(parts: usize) -> usize {
    if parts > AT_ONCE { AT_ONCE - 1 } else { parts }
}

/// Along a bar its leader may end at these shares of its line, the middle first.
const ALONG: [f64; 5] = [0.5, 0.35, 0.65, 0.2, 0.8];

/// What the spots after the first `shown` of a scene carry where they are touched: a balloon beside those that stand; where none
/// of its places keeps clear of them and their leaders, one that stands alone.
pub(in crate::drawing) fn touched(
    scene: &Scene,
    shown: usize,
    view: View,
    fit: &Fit,
    frame: (Length, Length),
) -> Vec<Touched> {
    let radius = balloon_radius(scene.spots);
    let (room, standing) = seated(scene, shown, view, fit, frame);
    let of = |spot: &Spot| {
        let bar = scene.bars.iter().find(|bar| bar.balloon == spot.balloon);
        let line: Vec<DVec2> = bar.iter().flat_map(|bar| &bar.polyline).map(|at| fit.on_page(view, *at)).collect();
        let middle = fit.on_page(view, spot.at);
        let ends = std::iter::once(middle).chain(ALONG.iter().filter_map(|share| along(&line, *share)));
        let beside = ends.into_iter().find_map(|end| Some((end, room.one_more(end, &standing)?)));
        let alone = beside.is_none();
        let (end, seat) = beside.or_else(|| Some((middle, room.one_more(middle, &[])?)))?;
        let own = Scene { spots: &[*spot], ..*scene };
        let marks = balloons(&own, &[end], &[Some(seat)], radius);
        let reach = if line.is_empty() { vec![middle] } else { line };
        Some(Touched { balloon: spot.balloon, reach, marks, alone })
    };
    scene.spots.iter().skip(shown).filter_map(of).collect()
}

/// The point at this share of a line's length; none of what is no line.
fn along(line: &[DVec2], share: f64) -> Option<DVec2> {
    let pieces = || line.iter().zip(line.iter().skip(1));
    let mut left = pieces().map(|(from, to)| from.distance(*to)).sum::<f64>() * share;
    for (from, to) in pieces() {
        let length = from.distance(*to);
        if left <= length && length > 0.0 {
            return Some(from.lerp(*to, left / length));
        }
        left -= length;
    }
    line.last().copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_on};
    use crate::domain::cage::{BasicStructure, Cage, solve};
    use crate::domain::words::ids::{Balloon, Kind};
    use crate::drawing::car::cage::{Measuring, draw_measuring};
    use crate::drawing::{Mark, Pen};
    use proptest::prelude::*;

    const FRAME: (Length, Length) = (Length::from_mm(226.0), Length::from_mm(128.0));

    /// Each balloon: its middle and radius, and its leader's end at the part.
    fn seats(marks: &[Mark]) -> Vec<(DVec2, f64, DVec2)> {
        let leaders = marks.iter().filter_map(|mark| match mark {
            Mark::Group { balloon: None, marks } => Some(marks.iter().filter_map(|mark| match mark {
                Mark::Line { to, .. } => Some(*to),
                _ => None,
            })),
            _ => None,
        });
        let circle = |mark: &Mark| match mark {
            Mark::Circle { centre, radius, pen: Some(Pen::Narrow), .. } => Some((*centre, radius.mm())),
            _ => None,
        };
        let circles = marks.iter().filter_map(|mark| match mark {
            Mark::Group { balloon: Some(_), marks } => marks.iter().find_map(circle),
            _ => None,
        });
        circles.zip(leaders.flatten()).map(|((centre, radius), to)| (centre, radius, to)).collect()
    }

    fn cross(a: (DVec2, DVec2), b: (DVec2, DVec2)) -> bool {
        let side = |line: (DVec2, DVec2), point: DVec2| (line.1 - line.0).perp_dot(point - line.0);
        side(a, b.0) * side(a, b.1) < -1e-6 && side(b, a.0) * side(b, a.1) < -1e-6
    }

    fn parts(cage: &Cage, kind: Kind) -> Vec<Balloon> {
        match kind {
            Kind::Joint => cage.joints.iter().map(|joint| joint.balloon).collect(),
            _ => cage.members.iter().map(|bar| bar.balloon).collect(),
        }
    }

    /// Of one drawing as it stands, or with one part touched.
    fn check(all: &[(DVec2, f64, DVec2)], bars: &[DVec2]) -> Result<(), TestCaseError> {
        prop_assert!(all.len() <= AT_ONCE, "{}", all.len());
        let low = bars.iter().copied().fold(DVec2::MAX, DVec2::min);
        let high = bars.iter().copied().fold(DVec2::MIN, DVec2::max);
        for (index, (centre, radius, to)) in all.iter().enumerate() {
            let frame = DVec2::new(FRAME.0.mm(), FRAME.1.mm());
            prop_assert!(centre.cmpge(DVec2::splat(*radius)).all() && centre.cmple(frame - *radius).all(), "{centre}");
            let beside = centre.x + radius < low.x || centre.x - radius > high.x;
            let outside = beside || centre.y + radius < low.y || centre.y - radius > high.y;
            prop_assert!(outside, "{centre} lies on the cage, {low} to {high}");
            for (other, reach, end) in all.iter().skip(index + 1) {
                prop_assert!(centre.distance(*other) > radius + reach);
                prop_assert!(!cross((*centre, *to), (*other, *end)), "{centre} {to} crosses {other} {end}");
            }
        }
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn at_most_eight_balloons_stand_apart_outside_the_cage_whichever_part_is_touched(
            structure in prop::sample::select(BasicStructure::ALL.to_vec()),
            kind in prop::sample::select(vec![Kind::Member, Kind::Joint]),
            chosen in prop::collection::vec(any::<prop::sample::Index>(), 0..12),
            turn in 0..360_i16,
            flat in 0..4_u8,
        ) {
            let view = match flat {
                0 => View::Front,
                1 => View::Side,
                2 => View::Plan,
                _ => View::Turned(turn),
            };
            let cage = solve(&example_on(structure), &TUBES);
            let all = parts(&cage, kind);
            let mut listed: Vec<Balloon> = chosen.iter().map(|index| *index.get(&all)).collect();
            listed.sort_unstable();
            listed.dedup();
            let others: Vec<Balloon> = all.iter().copied().filter(|part| !listed.contains(part)).collect();
            let of = Measuring { cage: &cage, guessed: &[], dimensions: &[], listed: &listed, others: &others };
            let drawn = draw_measuring(&of, &[], view, FRAME);
            let mut bars = Vec::new();
            for mark in &drawn.drawn.marks {
                if let Mark::Group { balloon: Some(_), marks } = mark {
                    bars.extend(marks.iter().flat_map(|mark| match mark {
                        Mark::Path { points, closed: true, .. } => points.clone(),
                        _ => Vec::new(),
                    }));
                }
            }
            let standing = seats(&drawn.drawn.marks);
            let whole = listed.len() + others.len();
            let expected = if whole > AT_ONCE { listed.len().min(AT_ONCE - 1) } else { listed.len() };
            prop_assert_eq!(standing.len(), expected);
            check(&standing, &bars)?;
            prop_assert_eq!(drawn.touched.len() + standing.len(), whole, "each part has its balloon");
            let alone = drawn.touched.iter().filter(|one| one.alone).count();
            prop_assert!(alone * 5 <= whole * 2, "{alone} of {whole} hide the others");
            for one in &drawn.touched {
                let beside: &[_] = if one.alone { &[] } else { &standing };
                let with: Vec<_> = beside.iter().copied().chain(seats(&one.marks)).collect();
                prop_assert_eq!(with.len(), beside.len() + 1);
                check(&with, &bars)?;
            }
        }
    }
}
