//! The cage from the side with the middle of its mass, and the axles where they are known.

use std::f64::consts::FRAC_PI_2;

use glam::{DVec2, DVec3, dvec2};

use super::car::cage::bars_of;
use super::car::fit::{Fit, Scale};
use super::car::view::{Scene, Spot, View, draw_bars};
use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::cage::Cage;
use crate::domain::weight::balance::Wheels;
use crate::domain::words::ids::{Balloon, Kind};
use crate::quantity::Length;

/// Straight pieces of a quarter of the mark's round.
const STEPS: u32 = 8;

/// The mark of a centre of mass: a circle, two opposite quarters of it filled.
pub fn centre_mark(at: DVec2, radius: Length) -> Vec<Mark> {
    let quarter = |begins: f64| {
        let round = (0..=STEPS).map(|step| {
            let angle = begins + FRAC_PI_2 * f64::from(step) / f64::from(STEPS);
            at + dvec2(angle.cos(), angle.sin()) * radius.mm()
        });
        let points = std::iter::once(at).chain(round).collect();
        Mark::Path { points, closed: true, pen: None, fill: Some(Ink::Accent) }
    };
    let ground = Mark::Circle { centre: at, radius, pen: None, fill: Some(Ink::White) };
    let ring = Mark::Circle { centre: at, radius, pen: Some(Pen::Marked), fill: None };
    vec![ground, quarter(0.0), quarter(2.0 * FRAC_PI_2), ring]
}

/// The cage from its left side in a frame, its centre of mass marked, type of this size; the axles as upright chain
/// lines where the wheels are known.
pub fn balance(
    cage: &Cage,
    centre: DVec3,
    wheels: Option<&Wheels>,
    (frame, size): ((Length, Length), Length),
) -> Vec<Mark> {
    let bars = bars_of(cage);
    let top = bars.iter().flat_map(|bar| &bar.polyline).map(|at| at.z).fold(0.0, f64::max);
    let axles = wheels.map(|wheels| {
        let front = wheels.hoop_behind.value.mm();
        [("front axle", front), ("rear axle", front - wheels.wheelbase.value.mm())]
    });
    let corner = |x: f64, z: f64| Spot { balloon: Balloon::new(Kind::Car, 1), at: DVec3::new(x, 0.0, z) };
    let ends = axles.iter().flatten().flat_map(|(_, x)| [corner(*x, 0.0), corner(*x, top)]);
    let spots: Vec<Spot> = ends.chain([corner(0.0, 0.0)]).collect();
    let room = dvec2(frame.0.mm(), frame.1.mm() - size.mm() * 2.8);
    let fit = Fit::of(
        &Scene { bars: &bars, spots: &spots, darkened: &[], pale: &[], hidden: false },
        View::Side,
        room,
        Scale::Fit,
        0.0,
    );
    let page = |x: f64, z: f64| fit.on_page(View::Side, DVec3::new(x, 0.0, z));
    let mut marks =
        draw_bars(&Scene { bars: &bars, spots: &[], darkened: &[], pale: &[], hidden: false }, View::Side, &fit);
    let floor = page(0.0, 0.0).y;
    marks.push(Mark::Line { from: dvec2(0.0, floor), to: dvec2(room.x, floor), pen: Pen::Narrow });
    let said = |at: DVec2, words: &str, ink: Ink| Mark::Text {
        at,
        size,
        words: words.to_owned(),
        weight: Weight::Regular,
        anchor: Anchor::Middle,
        ink,
    };
    for (words, x) in axles.into_iter().flatten() {
        let (from, to) = (page(x, top), page(x, 0.0));
        marks.push(Mark::Line { from, to, pen: Pen::CentreChain });
        let half = super::paper::text::width(words, size, Weight::Regular).mm() / 2.0;
        let along = to.x.clamp(half, (room.x - half).max(half));
        marks.push(said(dvec2(along, floor + size.mm() * 1.3), words, Ink::Black));
    }
    let middle = fit.on_page(View::Side, centre);
    marks.extend(centre_mark(middle, size * 0.8));
    let caption = format!("{}, {}", View::Side.name(), fit.scale);
    marks.push(said(dvec2(room.x / 2.0, frame.1.mm() - size.mm() * 0.4), &caption, Ink::Grey));
    marks
}
