//! Which way a bar moves, and how far, so that it clears another that it runs into.

use glam::DVec3;

use crate::geometry::distance::nearest_of_chords;
use crate::quantity::{Length, Units};

/// The ways a bar can be moved, in the words of the car, each with the axis that it lies on (ISO 8855).
const WAYS: [(&str, usize, DVec3); 6] = [
    ("up", 2, DVec3::Z),
    ("down", 2, DVec3::NEG_Z),
    ("forward", 0, DVec3::X),
    ("rearward", 0, DVec3::NEG_X),
    ("to the left", 1, DVec3::Y),
    ("to the right", 1, DVec3::NEG_Y),
];
/// Farther than this is no move but another place for the bar (own choice).
const FARTHEST: Length = Length::from_mm(75.0);
/// Bars overlap by less than this where they are said to clear each other, mm (own choice).
const TOUCH: f64 = 0.01;
/// So often a bar is moved on by what still overlaps; each move leaves a share of it that the angle between the bars says.
const ROUNDS: usize = 60;

/// A way out: in words, its axis, and how far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::domain::cage) struct Way {
    pub(in crate::domain::cage) word: &'static str,
    axis: usize,
    pub(in crate::domain::cage) toward: DVec3,
    pub(in crate::domain::cage) by: Length,
}

/// The ways on which a line of chords clears another whose axis must stay `reach` away, the shortest first.
pub(in crate::domain::cage) fn ways(moved: &[DVec3], other: &[DVec3], reach: Length) -> Vec<Way> {
    let ways = WAYS.iter().filter_map(|(word, axis, toward)| {
        let by = far_enough(moved, other, reach, *toward)?;
        Some(Way { word, axis: *axis, toward: *toward, by })
    });
    let mut ways: Vec<Way> = ways.collect();
    ways.sort_by(|one, next| one.by.mm().total_cmp(&next.by.mm()));
    ways
}

/// A line moved bodily comes nearer to no other by more than it is moved: moved on by what still overlaps, it never goes
/// past the place where the two come clear.
fn far_enough(moved: &[DVec3], other: &[DVec3], reach: Length, toward: DVec3) -> Option<Length> {
    let mut by = 0.0_f64;
    for _ in 0..ROUNDS {
        let there: Vec<DVec3> = moved.iter().map(|at| *at + toward * by).collect();
        let overlap = (reach - nearest_of_chords(&there, other)?.distance).mm();
        if overlap < TOUCH {
            return Some(Length::from_mm(by + TOUCH));
        }
        by += overlap;
        if by > FARTHEST.mm() {
            return None;
        }
    }
    None
}

/// Which way to move it, in a sentence: the shortest way, and the shortest along another axis.
pub(in crate::domain::cage) fn describe(moved: &[DVec3], other: &[DVec3], reach: Length) -> String {
    let ways = ways(moved, other, reach);
    let Some(first) = ways.first() else {
        return "Neither up, down nor sideways clears it within 150 mm (5.9 in): give one of them another place."
            .to_owned();
    };
    let second = ways.iter().find(|way| way.axis != first.axis);
    let second = second.map(|way| format!(", or {} by {}", way.word, at_least(way.by))).unwrap_or_default();
    format!("Move both its ends {} by {}{second}, and it clears.", first.word, at_least(first.by))
}

/// Never less than it is: up to the next millimetre, and the next sixteenth.
fn at_least(by: Length) -> String {
    format!("{} ({})", by.by_tape_at_least(Units::Metric), by.by_tape_at_least(Units::Inch))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn way(ways: &[Way], word: &str) -> Option<f64> {
        ways.iter().find(|way| way.word == word).map(|way| way.by.mm())
    }

    /// By hand: a tube along the car passes 10 mm over one across it, both of 40 mm: their axes must be 40 mm apart, so up by
    /// 30, down by 50; moved along either bar nothing changes.
    #[test]
    fn level_bars_that_cross_clear_up_or_down() {
        let along = [DVec3::new(-500.0, 0.0, 10.0), DVec3::new(500.0, 0.0, 10.0)];
        let across = [DVec3::new(0.0, -500.0, 0.0), DVec3::new(0.0, 500.0, 0.0)];
        let ways = ways(&along, &across, Length::from_mm(40.0));
        assert!((way(&ways, "up").unwrap() - 30.0).abs() < 0.1 && (way(&ways, "down").unwrap() - 50.0).abs() < 0.1);
        assert_eq!(ways.len(), 2, "{ways:?}");
        assert_eq!(ways[0].word, "up");
    }

    /// By hand: of two bars that cross, one rises at 45 degrees in the plane square to the other. The distance of the lines
    /// changes by sin 45 of a move up or forward: to clear 20 mm takes 20 √2 = 28.28 either way. The mirror picture turns
    /// left and right.
    #[test]
    fn a_rising_bar_clears_by_the_sine_of_its_angle_and_its_mirror_picture_the_other_way() {
        let rising = [DVec3::new(-500.0, 0.0, -500.0), DVec3::new(500.0, 0.0, 500.0)];
        let across = [DVec3::new(0.0, -500.0, 0.0), DVec3::new(0.0, 500.0, 0.0)];
        let found = ways(&rising, &across, Length::from_mm(20.0));
        for word in ["up", "down", "forward", "rearward"] {
            assert!((way(&found, word).unwrap() - 20.0 * 2.0_f64.sqrt()).abs() < 0.1, "{word} {found:?}");
        }
        assert!(describe(&rising, &across, Length::from_mm(20.0)).contains("29 mm (1 1/8 in), or "));
        let beside = |y: f64| [DVec3::new(-500.0, y, 0.0), DVec3::new(500.0, y, 0.0)];
        let upright = [DVec3::new(0.0, 0.0, -300.0), DVec3::new(0.0, 0.0, 300.0)];
        let (left, right) =
            (ways(&beside(8.0), &upright, Length::from_mm(38.0)), ways(&beside(-8.0), &upright, Length::from_mm(38.0)));
        assert!((way(&left, "to the left").unwrap() - 30.0).abs() < 0.1);
        assert!((way(&right, "to the right").unwrap() - 30.0).abs() < 0.1);
        assert_eq!((left[0].word, right[0].word), ("to the left", "to the right"));
    }

    /// Whatever way is told, the bars stand clear when one is moved so, and not when it is moved a millimetre less.
    #[test]
    fn what_is_told_clears_and_no_less_does() {
        for (x, y, z) in [(3.0, 5.0, 9.0), (-20.0, 2.0, 4.0), (0.0, 0.0, 0.0), (1.0, -30.0, 12.0)] {
            let one = [DVec3::new(-400.0 + x, -200.0, -100.0), DVec3::new(400.0, 200.0 + y, 150.0 + z)];
            let other = [DVec3::new(-100.0, 300.0, -50.0), DVec3::new(120.0, -300.0, 60.0)];
            let reach = Length::from_mm(41.0);
            let gap = |by: DVec3| {
                let moved = one.map(|at| at + by);
                nearest_of_chords(&moved, &other).unwrap().distance.mm() - reach.mm()
            };
            if gap(DVec3::ZERO) >= 0.0 {
                continue;
            }
            for way in ways(&one, &other, reach) {
                assert!(gap(way.toward * way.by.mm()) > -TOUCH, "{way:?}");
                assert!(gap(way.toward * (way.by.mm() - 1.0)) < 0.0, "{way:?}");
            }
        }
    }
}
