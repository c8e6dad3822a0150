//! The lowering plan drawn: the cage let down through its floor, from the side, and the holes from above.

use glam::{DVec2, DVec3, dvec2};

use super::cage::bars_of;
use super::fit::{Fit, Scale};
use super::placing::Room;
use super::view::{Bar, Scene, Spot, View, balloon_radius, balloons, draw_bars};
use super::{Anchor, Ink, Mark, Pen, Weight};
use crate::domain::cage::{Cage, Plate};
use crate::domain::ids::{Balloon, Kind};
use crate::domain::lowering::{Hole, Plan};
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
    let ground = -plan.under.mm().max(drawing.size.mm());
    let over = plan.roof.map_or(0.0, Length::mm);
    let reach = lowered.iter().flat_map(|bar| &bar.polyline).map(|at| at.x);
    let (back, front) = reach.fold((0.0_f64, 0.0_f64), |(low, high), x| (low.min(x), high.max(x)));
    let extent = [corner(back - 350.0, 0.0, ground), corner(front + 350.0, 0.0, over)];
    let spots: Vec<Spot> = welded.iter().copied().chain(extent).collect();
    let (room, radius) = (drawing.room(), balloon_radius(&welded));
    let whole = Scene { bars: &lowered, spots: &spots, darkened: &[], hidden: false };
    let fit = Fit::of(&whole, View::Side, room, Scale::Fit, radius);
    let page = |x: f64, z: f64| fit.on_page(View::Side, DVec3::new(x, 0.0, z));
    let scene = Scene { bars: &lowered, spots: &welded, darkened: &[], hidden: false };
    let mut marks = draw_bars(&scene, View::Side, &fit);
    marks.extend(levels(plan, drawing, &page, (ground, back, front)));
    let targets: Vec<DVec2> = welded.iter().map(|spot| fit.on_page(View::Side, spot.at)).collect();
    let seats = Room { frame: room, drawn: fit.drawn, radius }.place(&targets);
    marks.extend(balloons(&scene, &targets, &seats, radius));
    marks.push(drawing.caption(&format!("{}, let down, {}", View::Side.name(), fit.scale)));
    marks
}

/// The floor, the roof and the shop's floor, with what lies between them.
fn levels(
    plan: &Plan,
    drawing: Drawing,
    page: &dyn Fn(f64, f64) -> DVec2,
    (ground, back, front): (f64, f64, f64),
) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut level = |z: f64, (from, to): (f64, f64), words: &str, pen: Pen| {
        let (left, right) = (page(to, z), page(from, z));
        marks.push(Mark::Line { from: left, to: right, pen });
        let at = left - dvec2(0.0, drawing.size.mm() * 0.35);
        marks.push(drawing.said(at, words, Anchor::Start, Ink::Black));
    };
    let wide = (back - 350.0, front + 350.0);
    level(0.0, wide, "the car's floor", Pen::Wide);
    level(ground, wide, "the shop's floor, at least so far below", Pen::CentreChain);
    if let Some(roof) = plan.roof {
        level(roof.mm(), (back - 200.0, 250.0), "the roof, at the hoop", Pen::Wide);
    }
    let below = (page(0.0, 0.0).y, page(0.0, ground).y);
    marks.extend(drawing.between(page(back - 250.0, 0.0).x, below, &plan.under.by_tape(drawing.units)));
    let x = page(f64::midpoint(back, front), 0.0).x;
    let lifted = (page(0.0, 0.0).y, page(0.0, -plan.drop.mm()).y);
    let told = format!("down {}", plan.drop.by_tape(drawing.units));
    marks.extend(drawing.between(x, lifted, &told));
    marks
}

/// The floor from above, nose to the left: the holes with their plates' outlines and balloons, the bars as thin lines.
pub fn from_above(cage: &Cage, plan: &Plan, drawing: Drawing) -> Vec<Mark> {
    let bars = bars_of(cage);
    let spots: Vec<Spot> = plan.holes.iter().map(|hole| Spot { balloon: hole.plate, at: hole.foot }).collect();
    let (room, radius) = (drawing.room(), balloon_radius(&spots));
    let scene = Scene { bars: &bars, spots: &spots, darkened: &[], hidden: false };
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
    let foot = page(hole.foot.truncate());
    for arm in [dvec2(1.5, 0.0), dvec2(0.0, 1.5)] {
        marks.push(Mark::Line { from: foot - arm, to: foot + arm, pen: Pen::Narrow });
    }
    let told = format!("{}: {} by {}", hole.plate, hole.long.by_tape(drawing.units), hole.wide.by_tape(drawing.units));
    marks.push(drawing.caption(&told));
    marks
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
