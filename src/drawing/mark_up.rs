//! Marks over a photograph: drawn in the accent with the paper's white round them, so that they show on dark and light.

use std::f64::consts::TAU;

use glam::{DVec2, dvec2};

use super::paper::text::{CAPITAL, width};
use super::{Anchor, Ink, Mark, Weight};
use crate::domain::recorded::mark_ups::{Drawn, Place, Shape};
use crate::quantity::Length;

/// The long side of a picture that is drawn over on a screen, mm.
const ON_SCREEN: f64 = 160.0;
/// Corners of a ring.
const CORNERS: u32 = 60;

/// A picture by its address with marks over it, and the size of the whole.
pub fn over(address: &str, caption: &str, dots: (u32, u32), drawn: &[Drawn]) -> (Vec<Mark>, (Length, Length)) {
    let size = on_screen(dots);
    let picture = Mark::Picture { at: DVec2::ZERO, size, name: address.to_owned(), caption: caption.to_owned() };
    let marks = std::iter::once(picture).chain(marks(drawn, DVec2::ZERO, size)).collect();
    (marks, (Length::from_mm(size.x), Length::from_mm(size.y)))
}

/// The marks alone, to lie over a picture of so many dots, and the size of the whole.
pub fn layer(dots: (u32, u32), drawn: &[Drawn]) -> (Vec<Mark>, (Length, Length)) {
    let size = on_screen(dots);
    (marks(drawn, DVec2::ZERO, size), (Length::from_mm(size.x), Length::from_mm(size.y)))
}

fn on_screen(dots: (u32, u32)) -> DVec2 {
    let dots = dvec2(f64::from(dots.0.max(1)), f64::from(dots.1.max(1)));
    dots * (ON_SCREEN / dots.max_element())
}

/// The marks over a picture that fills this rectangle, mm; nothing reaches beyond it.
pub fn marks(drawn: &[Drawn], at: DVec2, size: DVec2) -> Vec<Mark> {
    let frame = Frame { at, size, unit: size.max_element() / 100.0 };
    drawn.iter().map(|one| Mark::Group { balloon: one.of, marks: frame.one(one) }).collect()
}

/// The rectangle of the picture, and the hundredth part of its long side.
struct Frame {
    at: DVec2,
    size: DVec2,
    unit: f64,
}

impl Frame {
    fn point(&self, place: Place) -> DVec2 {
        self.at + self.size * dvec2(place.across.ratio(), place.down.ratio())
    }

    fn area(&self, points: Vec<DVec2>, ink: Ink) -> Mark {
        let inside = |point: DVec2| point.clamp(self.at, self.at + self.size);
        Mark::Path { points: points.into_iter().map(inside).collect(), closed: true, pen: None, fill: Some(ink) }
    }

    fn one(&self, drawn: &Drawn) -> Vec<Mark> {
        let (from, to) = (self.point(drawn.from), self.point(drawn.to));
        match drawn.shape {
            Shape::Arrow => vec![
                self.area(arrow(from, to, self.unit, 0.45 * self.unit), Ink::White),
                self.area(arrow(from, to, self.unit, 0.0), Ink::Accent),
            ],
            Shape::Circle => {
                let radius = from.distance(to);
                vec![
                    self.area(ring(from, radius, 0.85 * self.unit), Ink::White),
                    self.area(ring(from, radius, 0.42 * self.unit), Ink::Accent),
                ]
            }
            Shape::Balloon => self.balloon(drawn, from, to),
        }
    }

    /// A number in its ring, and a line to what it names when that lies outside the ring.
    fn balloon(&self, drawn: &Drawn, from: DVec2, to: DVec2) -> Vec<Mark> {
        let words = drawn.of.map(|of| of.to_string()).unwrap_or_default();
        let size = Length::from_mm((3.4 * self.unit).max(2.2));
        let radius = (width(&words, size, Weight::Bold).mm() / 2.0 + 0.25 * size.mm()).max(size.mm() * 0.8);
        let centre = from.clamp(self.at + radius, (self.at + self.size - radius).max(self.at + radius));
        let mut marks = Vec::new();
        if centre.distance(to) > radius {
            for (half, ink) in [(0.6 * self.unit, Ink::White), (0.25 * self.unit, Ink::Accent)] {
                marks.push(self.area(bar(centre, to, half), ink));
                marks.push(self.area(disc(to, half * 2.0), ink));
            }
        }
        marks.push(self.area(disc(centre, radius + 0.3 * self.unit), Ink::White));
        marks.push(self.area(ring(centre, radius, 0.25 * self.unit), Ink::Accent));
        marks.push(Mark::Text {
            at: centre + dvec2(0.0, size.mm() * CAPITAL / 2.0),
            size,
            words,
            weight: Weight::Bold,
            anchor: Anchor::Middle,
            ink: Ink::Accent,
        });
        marks
    }
}

/// A bar of this half width from one point to another.
fn bar(from: DVec2, to: DVec2, half: f64) -> Vec<DVec2> {
    let side = (to - from).normalize_or_zero().perp() * half;
    vec![from + side, to + side, to - side, from - side]
}

fn disc(centre: DVec2, radius: f64) -> Vec<DVec2> {
    (0..CORNERS).map(|step| round(centre, radius, step)).collect()
}

/// A ring as one run of corners: round on the outside, back round on the inside.
fn ring(centre: DVec2, radius: f64, half: f64) -> Vec<DVec2> {
    let outside = (0..=CORNERS).map(|step| round(centre, radius + half, step));
    let inside = (0..=CORNERS).rev().map(|step| round(centre, (radius - half).max(0.0), step));
    outside.chain(inside).collect()
}

fn round(centre: DVec2, radius: f64, step: u32) -> DVec2 {
    centre + DVec2::from_angle(TAU * f64::from(step) / f64::from(CORNERS)) * radius
}

/// An arrow as an area, `more` mm larger all round.
fn arrow(from: DVec2, to: DVec2, unit: f64, more: f64) -> Vec<DVec2> {
    let along = (to - from).normalize_or_zero();
    let side = along.perp();
    let long = from.distance(to);
    let head = (4.5 * unit).min(long * 0.6);
    let (shaft, wide) = (0.42 * unit + more, head * 0.38 + 1.6 * more);
    let neck = to - along * (head + more);
    let (tail, tip) = (from - along * more, to + along * (2.2 * more));
    vec![
        tail + side * shaft,
        neck + side * shaft,
        neck + side * wide,
        tip,
        neck - side * wide,
        neck - side * shaft,
        tail - side * shaft,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Share;

    fn place(across: f64, down: f64) -> Place {
        Place { across: Share::from_ratio(across), down: Share::from_ratio(down) }
    }

    fn corners(marks: &[Mark]) -> Vec<DVec2> {
        let run = |mark: &Mark| match mark {
            Mark::Group { marks, .. } => corners(marks),
            Mark::Path { points, .. } => points.clone(),
            _ => Vec::new(),
        };
        marks.iter().flat_map(run).collect()
    }

    #[test]
    fn an_arrow_ends_where_it_points_and_nothing_reaches_beyond_the_picture() {
        let (at, size) = (dvec2(10.0, 20.0), dvec2(80.0, 60.0));
        let drawn = Drawn { shape: Shape::Arrow, from: place(0.1, 0.1), to: place(0.5, 0.75), of: None };
        let points = corners(&marks(&[drawn], at, size));
        assert!(points.iter().any(|point| point.distance(dvec2(50.0, 65.0)) < 1e-9), "{points:?}");
        let large = Drawn { shape: Shape::Circle, from: place(0.9, 0.5), to: place(0.1, 0.5), of: None };
        for point in corners(&marks(&[large, drawn], at, size)) {
            assert!(point.cmpge(at - 1e-9).all() && point.cmple(at + size + 1e-9).all(), "{point}");
        }
    }

    #[test]
    fn a_circle_is_round_whatever_the_picture_is() {
        let drawn = Drawn { shape: Shape::Circle, from: place(0.5, 0.5), to: place(0.75, 0.5), of: None };
        let points = corners(&marks(&[drawn], DVec2::ZERO, dvec2(80.0, 60.0)));
        let far = points.iter().map(|point| point.distance(dvec2(40.0, 30.0)));
        assert!(far.clone().all(|far| (far - 20.0).abs() < 1.0), "{:?}", far.collect::<Vec<_>>());
    }
}
