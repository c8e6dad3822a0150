//! A tube in its bender, seen from above: which end goes through the die, which way it is swung, which way it is turned.

use glam::{DVec2, dvec2};

use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::steel::dies::{Bender, Swing};
use crate::quantity::Length;

/// Width and height of the picture, mm.
pub const SIZE: (Length, Length) = (Length::from_mm(82.0), Length::from_mm(56.0));

/// Size of its words, 8 pt.
const TYPE: Length = Length::from_mm(2.82);
/// The tube's half width, the die's radius, how far the tube is swung (degrees), and how long its ends are, mm.
const TUBE: f64 = 2.4;
const DIE: f64 = 10.0;
const SWUNG: f64 = 55.0;
const REST: f64 = 44.0;
const FRONT: f64 = 18.0;
/// Steps of a drawn arc.
const STEPS: u32 = 24;

/// The picture for a bender that swings and counts this way.
pub fn drawn(bender: Bender) -> Vec<Mark> {
    let swung = match bender.swing {
        Swing::Left => -1.0,
        Swing::Right => 1.0,
    };
    // The rest lies level, end A to the right; what is swung goes up the page where the bender swings to the left.
    let level = SIZE.1.mm() / 2.0 - swung * 10.0;
    let start = dvec2(REST + 2.0, level);
    let centre = start + dvec2(0.0, swung * (DIE + TUBE));
    let round = |radius: f64, degrees: f64| {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        centre + dvec2(sine, -swung * cosine) * radius
    };
    let (out, front) = (front_way(swung), round(DIE + TUBE, SWUNG));
    let tip = front + out * FRONT;
    let mut marks = vec![Mark::Circle { centre, radius: Length::from_mm(DIE), pen: Some(Pen::Narrow), fill: None }];
    for side in [-1.0, 1.0] {
        let edge = DIE + TUBE + side * TUBE;
        let mut wall = vec![dvec2(2.0, level - swung * side * TUBE), start + dvec2(0.0, -swung * side * TUBE)];
        wall.extend((1..=STEPS).map(|step| round(edge, SWUNG * f64::from(step) / f64::from(STEPS))));
        wall.push(round(edge, SWUNG) + out * FRONT);
        marks.push(open(wall, Pen::Wide));
    }
    let across = out.perp() * TUBE;
    marks.push(Mark::Line { from: tip - across, to: tip + across, pen: Pen::Wide });
    // The bend's beginning, where the die's own mark counts from.
    marks.push(Mark::Line { from: start - dvec2(0.0, 4.5), to: start + dvec2(0.0, 4.5), pen: Pen::Narrow });
    marks.extend(swing_arrow(start, swung));
    marks.extend(turn_arrow(dvec2(22.0, level), if bender.plus_goes_with_the_swing() { swung } else { -swung }));
    marks.push(words(tip + out * 4.0 + dvec2(0.0, 1.0), Anchor::Middle, Weight::Bold, "A"));
    marks.push(words(dvec2(2.0, level - 4.2), Anchor::Start, Weight::Bold, "B"));
    marks.push(words(dvec2(27.0, level + 6.4), Anchor::Start, Weight::Regular, "the straight rest"));
    marks.push(words(centre + dvec2(0.0, 1.0), Anchor::Middle, Weight::Regular, "die"));
    let foot = format!("From above, end A first; swung to the {}. Arrows: swing, turn +", bender.swing.word());
    marks.push(words(dvec2(SIZE.0.mm() / 2.0, SIZE.1.mm() - 1.0), Anchor::Middle, Weight::Regular, &foot));
    marks
}

/// The way the swung end points.
fn front_way(swung: f64) -> DVec2 {
    let (sine, cosine) = SWUNG.to_radians().sin_cos();
    dvec2(cosine, swung * sine)
}

/// From where the front end would lie unbent to where it is swung.
fn swing_arrow(start: DVec2, swung: f64) -> Vec<Mark> {
    let at = |degrees: f64| {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        start + dvec2(cosine, swung * sine) * (DIE + FRONT)
    };
    let straight = Mark::Line { from: start, to: at(0.0) + dvec2(2.0, 0.0), pen: Pen::CentreChain };
    let run = (0..=STEPS).map(|step| at(2.0 + (SWUNG - 26.0) * f64::from(step) / f64::from(STEPS))).collect();
    std::iter::once(straight).chain(arrow(run, dvec2(0.0, swung))).collect()
}

/// Over the tube, the way its upper side goes when it is turned by plus: `toward` is plus down the page.
fn turn_arrow(at: DVec2, toward: f64) -> Vec<Mark> {
    let run: Vec<DVec2> = (0..=STEPS)
        .map(|step| {
            let (sine, cosine) = (std::f64::consts::PI * f64::from(step) / f64::from(STEPS)).sin_cos();
            at + dvec2(-4.0 * sine, -toward * cosine * (TUBE + 4.0))
        })
        .collect();
    arrow(run, dvec2(0.0, toward))
}

/// A run with a head at its end.
fn arrow(run: Vec<DVec2>, rather: DVec2) -> Vec<Mark> {
    let Some((tip, before)) = run.last().zip(run.iter().rev().nth(2)) else { return Vec::new() };
    let (tip, way) = (*tip, (*tip - *before).try_normalize().unwrap_or(rather));
    let head = vec![tip - way * 2.6 + way.perp() * 1.2, tip, tip - way * 2.6 - way.perp() * 1.2];
    vec![
        open(run, Pen::Narrow),
        Mark::Path { points: head, closed: true, pen: Some(Pen::Narrow), fill: Some(Ink::Black) },
    ]
}

fn open(points: Vec<DVec2>, pen: Pen) -> Mark {
    Mark::Path { points, closed: false, pen: Some(pen), fill: None }
}

fn words(at: DVec2, anchor: Anchor, weight: Weight, words: &str) -> Mark {
    Mark::Text { at, size: TYPE, words: words.to_owned(), weight, anchor, ink: Ink::Black }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::steel::dies::Plus;

    /// The last point of the turn's arrow against its first: which way over the tube it goes, plus up the page.
    fn turned(bender: Bender) -> f64 {
        let mut runs = drawn(bender).into_iter().filter_map(|mark| match mark {
            Mark::Path { points, closed: false, pen: Some(Pen::Narrow), .. } => Some(points),
            _ => None,
        });
        let run = runs.next_back().unwrap();
        run[0].y - run[run.len() - 1].y
    }

    /// Where the tube's front end is against its rest, plus up the page.
    fn swung(bender: Bender) -> f64 {
        let mut walls = drawn(bender).into_iter().filter_map(|mark| match mark {
            Mark::Path { points, closed: false, pen: Some(Pen::Wide), .. } => Some(points),
            _ => None,
        });
        let wall = walls.next_back().unwrap();
        wall[0].y - wall[wall.len() - 1].y
    }

    /// End A is to the right and the eye above. Looking from A along the tube is looking to the left of the page, up being
    /// toward the reader: the right hand is then up the page, and the upper side of a tube that turns clockwise goes there.
    #[test]
    fn the_picture_shows_the_bender_as_it_is() {
        for swing in Swing::ALL {
            for plus in Plus::ALL {
                let bender = Bender { swing, plus };
                let (up, front) = (turned(bender), swung(bender));
                assert_eq!(up > 0.0, plus == Plus::Clockwise, "{bender:?}");
                // Who stands at the rest and looks to the right has the left hand up the page.
                assert_eq!(front > 0.0, swing == Swing::Left, "{bender:?}");
                assert_eq!((up > 0.0) == (front > 0.0), bender.plus_goes_with_the_swing(), "{bender:?}");
            }
        }
    }
}
