//! The lowering plan drawn: the cage let down through its floor, from the side, and the holes from above.

use glam::{DVec2, DVec3, dvec2};

use super::car::cage::bars_of;
use super::car::fit::{Fit, Scale};
use super::car::placing::Room;
use super::car::view::{Bar, Scene, Spot, View, balloon_radius, balloons, draw_bars};
use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::cage::{Cage, Plate};
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::work::lowering::{Hole, Plan};
use crate::quantity::{Length, Units};

/// Points of a hole's outline.
const OUTLINE: u32 = 48;

/// How it is drawn: the frame's width and height, the size of type, the reader's units.
#[derive(Debug, Clone, Copy)]
pub struct Drawing {
    /// Width and height.
    pub frame: (Length, Length),
    /// Of the type.
    pub size: Length,
    /// The reader's.
    pub units: Units,
}

impl Drawing {
    fn room(&self) -> DVec2 {
        dvec2(self.frame.0.mm(), self.frame.1.mm() - self.size.mm() * 1.8)
    }

    fn said(&self, at: DVec2, words: &str, anchor: Anchor, ink: Ink) -> Mark {
        let words = words.to_owned();
        Mark::Text { at, size: self.size, words, weight: Weight::Regular, anchor, ink }
    }

    fn caption(&self, words: &str) -> Mark {
        let at = dvec2(self.frame.0.mm() / 2.0, self.frame.1.mm() - self.size.mm() * 0.4);
        self.said(at, words, Anchor::Middle, Ink::Grey)
    }

    /// A length between two heights of the page, marked at a place along it, its words beside it.
    fn between(&self, x: f64, (from, to): (f64, f64), words: &str) -> Vec<Mark> {
        let tick = self.size.mm() * 0.5;
        let mut marks = vec![Mark::Line { from: dvec2(x, from), to: dvec2(x, to), pen: Pen::Marked }];
        for y in [from, to] {
            marks.push(Mark::Line { from: dvec2(x - tick, y), to: dvec2(x + tick, y), pen: Pen::Marked });
        }
        let at = dvec2(x + tick * 1.6, f64::midpoint(from, to) + self.size.mm() * 0.35);
        marks.push(self.said(at, words, Anchor::Start, Ink::Black));
        marks
    }
}

fn corner(x: f64, y: f64, z: f64) -> Spot {
    Spot { balloon: Balloon::new(Kind::Car, 1), at: DVec3::new(x, y, z) }
}

/// The bars that are tacked before, as far down as the plan lets them; floor and roof as lines, and the shop's floor as
/// far below as the legs need; the joints welded then with their balloons.
pub fn side(cage: &Cage, plan: &Plan, drawing: Drawing) -> Vec<Mark> {
    let down = DVec3::Z * plan.drop.mm();
    let first = |bar: &Bar| plan.first.iter().any(|placed| placed.bar == bar.balloon);
    let lowered: Vec<Bar> = bars_of(cage)
        .into_iter()
        .filter(first)
        .map(|bar| Bar { polyline: bar.polyline.into_iter().map(|at| at - down).collect(), ..bar })
        .collect();
    let welded: Vec<Spot> = plan
        .welds
        .iter()
        .filter_map(|weld| Some(Spot { balloon: weld.joint, at: cage.joint(weld.joint)?.at - down }))
        .collect();
    let levels = Levels::of(plan, &lowered, drawing);
    let spots: Vec<Spot> = welded.iter().copied().chain(levels.corners()).collect();
    let (room, radius) = (drawing.room(), balloon_radius(&welded));
    let whole = Scene { bars: &lowered, spots: &spots, darkened: &[], pale: &[], hidden: false };
    let fit = Fit::of(&whole, View::Side, room, Scale::Fit, radius);
    let page = |x: f64, z: f64| fit.on_page(View::Side, DVec3::new(x, 0.0, z));
    let scene = Scene { bars: &lowered, spots: &welded, darkened: &[], pale: &[], hidden: false };
    let standing = |bar: &Bar| Mark::Path {
        points: bar.polyline.iter().map(|at| fit.on_page(View::Side, *at + down)).collect(),
        closed: false,
        pen: Some(Pen::Faint),
        fill: None,
    };
    let mut marks: Vec<Mark> = lowered.iter().map(standing).collect();
    marks.extend(draw_bars(&scene, View::Side, &fit));
    marks.extend(levels.drawn(plan, drawing, &page));
    let targets: Vec<DVec2> = welded.iter().map(|spot| fit.on_page(View::Side, spot.at)).collect();
    let seats = Room { frame: room, drawn: fit.drawn, radius }.place(&targets);
    marks.extend(balloons(&scene, &targets, &seats, radius));
    marks.push(drawing.caption(&format!("{}, let down, {}", View::Side.name(), fit.scale)));
    marks
}

/// The floor, the roof and the shop's floor, and how far the lowered bars reach, mm of the car.
struct Levels {
    ground: f64,
    roof: Option<f64>,
    /// The lowered cage's top.
    top: f64,
    back: f64,
    front: f64,
}

/// Room left behind and in front of the cage, for what is written there, mm of the car.
const BESIDE: f64 = 420.0;
/// Room left over the roof's line and under the shop's floor for their names, mm of the car.
const NAMED: f64 = 110.0;

impl Levels {
    fn of(plan: &Plan, lowered: &[Bar], drawing: Drawing) -> Self {
        let points = || lowered.iter().flat_map(|bar| &bar.polyline);
        let half = lowered.iter().map(|bar| bar.outside.mm() / 2.0).fold(0.0, f64::max);
        let (back, front) = points().fold((0.0_f64, 0.0_f64), |(low, high), at| (low.min(at.x), high.max(at.x)));
        Self {
            ground: -plan.under.mm().max(drawing.size.mm()),
            roof: plan.roof.map(Length::mm),
            top: points().map(|at| at.z).fold(0.0, f64::max) + half,
            back,
            front,
        }
    }

    fn corners(&self) -> [Spot; 2] {
        let over = self.roof.unwrap_or(self.top).max(self.top);
        [corner(self.back - BESIDE, 0.0, self.ground - NAMED), corner(self.front + BESIDE / 2.0, 0.0, over + NAMED)]
    }

    fn drawn(&self, plan: &Plan, drawing: Drawing, page: &dyn Fn(f64, f64) -> DVec2) -> Vec<Mark> {
        let (left, right) = (self.front + BESIDE / 2.0, self.back - BESIDE);
        let (above, below) = (-drawing.size.mm() * 0.4, drawing.size.mm() * 1.1);
        let mut marks = Vec::new();
        let mut level = |z: f64, from: f64, (words, shift): (&str, f64), pen: Pen| {
            let ends = (page(from, z), page(right, z));
            marks.push(Mark::Line { from: ends.0, to: ends.1, pen });
            marks.push(drawing.said(page(left, z) + dvec2(0.0, shift), words, Anchor::Start, Ink::Black));
        };
        level(0.0, left, ("the car's floor", above), Pen::Wide);
        level(self.ground, left, ("the shop's floor, at least so far below", below), Pen::CentreChain);
        if let Some(roof) = self.roof {
            let at = page(right, roof) + dvec2(0.0, above);
            marks.push(Mark::Line { from: page(self.back + BESIDE, roof), to: page(right, roof), pen: Pen::Wide });
            marks.push(drawing.said(at, "the roof, at the hoop", Anchor::End, Ink::Black));
        }
        let under = (page(0.0, 0.0).y, page(0.0, self.ground).y);
        marks.extend(drawing.between(
            page(self.back - BESIDE * 0.45, 0.0).x,
            under,
            &plan.under.by_tape_at_least(drawing.units),
        ));
        let down = (page(0.0, self.top + plan.drop.mm()).y, page(0.0, self.top).y);
        let description = format!("down {}", plan.drop.by_tape_at_least(drawing.units));
        marks.extend(drawing.between(page(self.back - BESIDE * 0.25, 0.0).x, down, &description));
        marks
    }
}

/// The floor from above, nose to the left: the holes with their plates' outlines and balloons, the bars as thin lines.
pub fn from_above(cage: &Cage, plan: &Plan, drawing: Drawing) -> Vec<Mark> {
    let bars = bars_of(cage);
    let spots: Vec<Spot> = plan.holes.iter().map(|hole| Spot { balloon: hole.plate, at: hole.foot }).collect();
    let (room, radius) = (drawing.room(), balloon_radius(&spots));
    let scene = Scene { bars: &bars, spots: &spots, darkened: &[], pale: &[], hidden: false };
    let fit = Fit::of(&scene, View::Plan, room, Scale::Fit, radius);
    let page = |at: DVec2| fit.on_page(View::Plan, at.extend(0.0));
    let line = |bar: &Bar| Mark::Path {
        points: bar.polyline.iter().map(|at| page(at.truncate())).collect(),
        closed: false,
        pen: Some(Pen::Faint),
        fill: None,
    };
    let mut marks: Vec<Mark> = bars.iter().map(line).collect();
    for hole in &plan.holes {
        if let Some(plate) = cage.plate(hole.plate) {
            marks.push(closed(outline(plate).map(page).to_vec(), None, Pen::Narrow));
        }
        marks.push(closed(hole.outline(OUTLINE).into_iter().map(page).collect(), Some(Ink::White), Pen::Marked));
    }
    let targets: Vec<DVec2> = spots.iter().map(|spot| fit.on_page(View::Plan, spot.at)).collect();
    let seats = Room { frame: room, drawn: fit.drawn, radius }.place(&targets);
    marks.extend(balloons(&scene, &targets, &seats, radius));
    marks.push(drawing.caption(&format!("{}, the holes, {}", View::Plan.name(), fit.scale)));
    marks
}

/// One hole alone, nose to the left, as large as it fits: the plate, the hole, and how long and wide it is.
pub fn hole(cage: &Cage, hole: &Hole, drawing: Drawing) -> Vec<Mark> {
    let outline_points = hole.outline(OUTLINE);
    let plate = cage.plate(hole.plate).map(outline);
    let all = outline_points.iter().chain(plate.iter().flatten());
    let most = all.map(|point| (*point - hole.centre).abs()).fold(DVec2::ONE, DVec2::max);
    let room = drawing.room();
    let factor = (room.x / 2.0 / most.x).min(room.y / 2.0 / most.y) * 0.92;
    let page = |at: DVec2| {
        // As seen from above with the nose to the left: the car's left is below.
        let page = View::Plan.project((at - hole.centre).extend(0.0)) * factor;
        room / 2.0 + dvec2(page.x, -page.y)
    };
    let mut marks = Vec::new();
    marks.extend(plate.map(|plate| closed(plate.map(page).to_vec(), None, Pen::Narrow)));
    marks.push(closed(outline_points.into_iter().map(page).collect(), None, Pen::Marked));
    marks.extend(axis(hole, &page));
    let foot = page(hole.foot.truncate());
    for arm in [dvec2(1.5, 0.0), dvec2(0.0, 1.5)] {
        marks.push(Mark::Line { from: foot - arm, to: foot + arm, pen: Pen::Narrow });
    }
    let way = hole.heading().map(|way| format!(", {} from ahead", way.turn().abs().to_the_tenth())).unwrap_or_default();
    let description = format!(
        "{}: {} by {}{way}",
        hole.plate,
        hole.long.by_tape_at_least(drawing.units),
        hole.wide.by_tape_at_least(drawing.units)
    );
    marks.push(drawing.caption(&description));
    marks
}

/// The hole's own length as a centre line, and straight ahead from its middle, to read the one from the other.
fn axis(hole: &Hole, page: &dyn Fn(DVec2) -> DVec2) -> Vec<Mark> {
    if hole.heading().is_none() {
        return Vec::new();
    }
    let long = hole.toward * hole.long.mm() * 0.62;
    let line = |from: DVec2, to: DVec2, pen| Mark::Line { from: page(from), to: page(to), pen };
    vec![
        line(hole.centre - long, hole.centre + long, Pen::CentreChain),
        line(hole.centre, hole.centre + DVec2::X * hole.long.mm() * 0.62, Pen::Narrow),
    ]
}

fn closed(points: Vec<DVec2>, fill: Option<Ink>, pen: Pen) -> Mark {
    Mark::Path { points, closed: true, pen: Some(pen), fill }
}

/// A plate's corners on the floor, mm.
fn outline(plate: &Plate) -> [DVec2; 4] {
    let half = dvec2(plate.sides.0.value.mm(), plate.sides.1.value.mm()) / 2.0;
    let at = plate.centre.truncate();
    [at + half, at + dvec2(half.x, -half.y), at - half, at + dvec2(-half.x, half.y)]
}
