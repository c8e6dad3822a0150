//! A cope unrolled at full size: wrapped round the tube, its curve is the cut.

use glam::{DVec2, dvec2};

use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::geometry::Cope;
use crate::quantity::{Angle, Length};

/// Even steps round the tube: every two degrees.
const STEPS: usize = 180;
/// A square cut is looked at in so many places from the bore to the outside; between them it changes by nothing to tell.
const RINGS: u32 = 5;
/// The straight edge stands this far behind the deepest cut, mm.
const BEHIND: f64 = 14.0;
/// Room over the curve for the long point's word, mm.
const OVER: f64 = 7.0;
/// Size of the words on it, 7.5 pt.
const TYPE: Length = Length::from_mm(2.65);

/// Which edge of the tube's wall the curve is for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Wall {
    /// The outer one: what is seen from outside.
    #[default]
    Outer,
    /// All of it, cut square to the tube's axis: nowhere between bore and outside does it run into the carrier.
    Inner,
}

/// A cope of a tube of this outside diameter and bore, drawn for one edge of its wall.
#[derive(Debug, Clone, Copy)]
pub struct Wrap<'a> {
    /// The cut.
    pub cope: &'a Cope,
    /// The tube's outside diameter: the template is wrapped round it whichever edge it is for.
    pub outside: Length,
    /// The tube's bore.
    pub bore: Length,
    /// The edge it is for.
    pub wall: Wall,
}

impl Wrap<'_> {
    /// The curve: round the tube from line 0, and along it from the outer wall's long point.
    pub fn outline(&self) -> Vec<DVec2> {
        let long = self.cope.long_point();
        let along = |(x, y): (Length, Length)| match self.wall {
            Wall::Outer => dvec2(x.mm(), y.mm()),
            Wall::Inner => {
                let phi = Angle::from_radians(x.mm() * 2.0 / self.outside.mm());
                let within = (0..RINGS).map(|ring| {
                    let share = f64::from(ring) / f64::from(RINGS - 1);
                    (self.cope.cut_within(phi, self.bore * (1.0 - share) + self.outside * share) - long).mm()
                });
                dvec2(x.mm(), within.fold(y.mm(), f64::max))
            }
        };
        self.cope.outline(STEPS).into_iter().map(along).collect()
    }

    /// The closed shape of the template, y downward from the long point: the curve and the straight edge behind it.
    pub fn shape(&self) -> Vec<DVec2> {
        let mut points = self.outline();
        let deep = points.iter().map(|point| point.y).fold(0.0, f64::max) + BEHIND;
        let around = self.around();
        points.extend([dvec2(around, deep), dvec2(0.0, deep)]);
        points
    }

    /// The way round the tube, mm.
    pub fn around(&self) -> f64 {
        self.outside.mm() * std::f64::consts::PI
    }

    /// Where round the tube, mm, a line lies.
    fn at(&self, phi: Angle) -> f64 {
        self.around() * phi.degrees() / 360.0
    }

    /// Its lines along the tube, each a place round it and a word: the quarters from line 0, and where a cope over
    /// several bars passes from one to the next.
    pub fn lines(&self) -> Vec<(f64, String)> {
        let quarters = (0..4_u32).map(|quarter| f64::from(quarter) * 90.0);
        let quarters = quarters.map(|turned| (self.at(Angle::from_degrees(turned)), format!("{turned:.0}°")));
        let crossings =
            self.cope.crossings().into_iter().map(|phi| (self.at(phi), format!("next bar {:.1}°", phi.degrees())));
        quarters.chain(crossings).collect()
    }

    /// Its marks from its own top left corner, and its size, mm.
    pub fn marks(&self) -> (Vec<Mark>, DVec2) {
        let shape = self.shape();
        let bottom = shape.last().map_or(BEHIND, |point| point.y) + OVER;
        let around = self.around();
        let curve = shape.len().saturating_sub(2);
        let points: Vec<DVec2> = shape.into_iter().map(|point| point + dvec2(0.0, OVER)).collect();
        let on_curve = |x: f64| {
            let step = points.iter().take(curve).min_by(|one, other| (one.x - x).abs().total_cmp(&(other.x - x).abs()));
            step.map_or(OVER, |point| point.y)
        };
        let mut marks = Vec::new();
        for (number, (x, words)) in self.lines().into_iter().enumerate() {
            let pen = if number < 4 { Pen::CentreChain } else { Pen::HiddenDashed };
            marks.push(Mark::Line { from: dvec2(x, on_curve(x)), to: dvec2(x, bottom), pen });
            // The words of a crossing stand a line higher than those of the quarters.
            let up = if number < 4 { 1.4 } else { 5.0 };
            marks.push(Mark::words(dvec2(x + 1.2, bottom - up), TYPE, Weight::Regular, words));
        }
        let long = self.at(self.cope.long_point_at());
        marks.push(Mark::Line { from: dvec2(long, OVER - 3.0), to: dvec2(long, OVER), pen: Pen::Wide });
        marks.push(Mark::Text {
            at: dvec2(long.clamp(6.0, (around - 6.0).max(6.0)), OVER - 3.8),
            size: TYPE,
            words: "LONG".to_owned(),
            weight: Weight::Bold,
            anchor: Anchor::Middle,
            ink: Ink::Black,
        });
        marks.push(Mark::Path { points, closed: true, pen: Some(Pen::Wide), fill: None });
        (marks, dvec2(around, bottom))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Meeting;
    use glam::DVec3;

    /// By hand, tubes of 40 mm at right angles, wall 4 mm: half way round a quarter the outer wall is cut sqrt(20² - 200)
    /// = 14.14 mm off the axis, the bore of 32 mm sqrt(20² - 128) = 16.49 mm; both templates are as wide as the outside.
    #[test]
    fn inner_and_outer_wall_differ_as_the_tubes_do() {
        let meeting = Meeting {
            carrier_direction: DVec3::X,
            branch_direction: DVec3::Z,
            offset: Length::default(),
            carrier_outside: Length::from_mm(40.0),
            branch_outside: Length::from_mm(40.0),
        };
        let cope = Cope::of(&meeting).unwrap();
        let of = |wall| Wrap { cope: &cope, outside: Length::from_mm(40.0), bore: Length::from_mm(32.0), wall };
        // Equal tubes: the ears reach the axis, so the curve counts from there. 45 degrees is the 22nd and 23rd step of 2.
        let half_way = |wall: Wall| f64::midpoint(of(wall).outline()[22].y, of(wall).outline()[23].y);
        assert!((half_way(Wall::Outer) - 200.0_f64.sqrt()).abs() < 0.01);
        assert!((half_way(Wall::Inner) - 272.0_f64.sqrt()).abs() < 0.01);
        let (_, size) = of(Wall::Inner).marks();
        assert!((size.x - 40.0 * std::f64::consts::PI).abs() < 1e-9);
        assert_eq!(of(Wall::Outer).lines().len(), 4);
    }
}
