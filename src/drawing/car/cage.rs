//! Views of a whole cage, with the balloons and the part that a reader is to look at.

use glam::{DVec2, DVec3, dvec2};

use super::beside::{Beside, beside, parted};
use super::touched::{by_themselves, touched};
use super::view::{Bar, Drawn, First, Scale, Scene, Spot, View, draw_first, draw_with, locator, small_with};
use crate::domain::cage::{Around, Cage, Member};
use crate::domain::judge::shots::place;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::paper::svg::Touched;
use crate::drawing::paper::text::width;
use crate::drawing::{Anchor, Ink, Mark, Pen, Weight};
use crate::quantity::Length;

/// How far a drawn bend may be from the true one: less than a pen's width at any scale used.
const SAGITTA: Length = Length::from_mm(1.0);

/// Which balloons a view carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Numbers {
    /// Those of one kind of part.
    Of(Kind),
    /// None.
    Without,
}

/// The cage small and without a number, for a choice between cages: what tells them apart stands out.
pub fn small(cage: &Cage, apart: &[Balloon], frame: (Length, Length)) -> Vec<Mark> {
    locator(&Scene { bars: &bars_of(cage), spots: &[], darkened: apart, pale: &[], hidden: false }, None, frame)
}

/// How a whole cage is shown.
#[derive(Debug, Clone, Copy)]
pub struct Shown {
    /// From where.
    pub view: View,
    /// With which balloons.
    pub numbers: Numbers,
    /// Whether what lies behind a bar is drawn in dashes; else it is left out.
    pub hidden: bool,
}

/// The cage, and this beside its bars, in a frame of this width and height.
pub fn draw_cage(cage: &Cage, beside: &[Beside], shown: Shown, frame: (Length, Length)) -> Drawn {
    let (bars, spots) = (bars_of(cage), spots_of(cage, shown.numbers));
    let scene = Scene { bars: &bars, spots: &spots, darkened: &[], pale: &[], hidden: shown.hidden };
    draw_with(&scene, beside, shown.view, frame, Scale::Fit)
}

/// The cage from the corner with the numbers of these parts, which stand out; what is hidden is left out.
pub fn draw_parts(cage: &Cage, beside: &[Beside], parts: &[Balloon], frame: (Length, Length)) -> Drawn {
    let spots: Vec<Spot> =
        parts.iter().filter_map(|part| Some(Spot { balloon: *part, at: place(cage, *part)? })).collect();
    let scene = Scene { bars: &bars_of(cage), spots: &spots, darkened: parts, pale: &[], hidden: false };
    draw_with(&scene, beside, View::Isometric, frame, Scale::Fit)
}

fn spots_of(cage: &Cage, numbers: Numbers) -> Vec<Spot> {
    let wanted: Vec<Balloon> = match numbers {
        Numbers::Of(Kind::Joint) => cage.joints.iter().map(|joint| joint.balloon).collect(),
        Numbers::Of(Kind::Gusset) => cage.gussets.iter().map(|gusset| gusset.balloon).collect(),
        Numbers::Of(Kind::Plate) => cage.plates.iter().map(|plate| plate.balloon).collect(),
        Numbers::Of(_) => cage.members.iter().map(|member| member.balloon).collect(),
        Numbers::Without => Vec::new(),
    };
    let spot = |balloon: Balloon| Some(Spot { balloon, at: place(cage, balloon)? });
    wanted.into_iter().filter_map(spot).collect()
}

/// A cage that is being measured: its bars, those that rest on guesses pale, and each measurement's dimension as marks of
/// its own over the same place.
pub struct Measuring<'a> {
    /// The cage, with its guesses.
    pub cage: &'a Cage,
    /// The bars that rest on one.
    pub guessed: &'a [Balloon],
    /// Where each measurement is taken, and its figure as it is read; empty where nobody took it.
    pub dimensions: &'a [((DVec3, DVec3), String)],
    /// The parts that carry their balloon, the first of them where there are many.
    pub listed: &'a [Balloon],
    /// The parts that carry theirs where they are touched.
    pub others: &'a [Balloon],
}

/// A cage that is being measured, as it is drawn.
pub struct DrawnMeasuring {
    /// The cage.
    pub drawn: Drawn,
    /// Over it each dimension, in their order.
    pub dimensions: Vec<Vec<Mark>>,
    /// Over it the balloon of each part that carries none by itself.
    pub touched: Vec<Touched>,
}

/// The cage in a frame of this width and height, what is behind a bar left out.
pub fn draw_measuring(of: &Measuring<'_>, beside: &[Beside], view: View, frame: (Length, Length)) -> DrawnMeasuring {
    let bars = bars_of(of.cage);
    let spot = |part: &Balloon| Some(Spot { balloon: *part, at: place(of.cage, *part)? });
    let (mut spots, others): (Vec<Spot>, Vec<Spot>) =
        (of.listed.iter().filter_map(spot).collect(), of.others.iter().filter_map(spot).collect());
    let shown = by_themselves(spots.len() + others.len()).min(spots.len());
    spots.extend(others);
    let scene = Scene { bars: &bars, spots: &spots, darkened: &[], pale: of.guessed, hidden: false };
    let (drawn, fit) = draw_first(First { scene: &scene, shown }, beside, view, frame, Scale::Fit);
    let page = |at: DVec3| fit.on_page(view, at);
    let dimensions = of.dimensions.iter().map(|((from, to), words)| dimension(page(*from), page(*to), words, frame));
    DrawnMeasuring { drawn, dimensions: dimensions.collect(), touched: touched(&scene, shown, view, &fit, frame) }
}

/// A dimension between two points of the page: an arrow at each end and the figure beside its middle (ISO 129-1).
pub(in crate::drawing) fn dimension(from: DVec2, to: DVec2, words: &str, frame: (Length, Length)) -> Vec<Mark> {
    let along = (to - from).normalize_or(DVec2::X);
    let aside = along.perp();
    let arrow = |tip: DVec2, way: DVec2| Mark::Path {
        points: vec![tip, tip - way * ARROW.0 + aside * ARROW.1, tip - way * ARROW.0 - aside * ARROW.1],
        closed: true,
        pen: None,
        fill: Some(Ink::Accent),
    };
    let mut marks = vec![Mark::Line { from, to, pen: Pen::Marked }, arrow(from, -along), arrow(to, along)];
    if !words.is_empty() {
        let half = width(words, FIGURE, Weight::Bold).mm() / 2.0;
        let middle = (from + to) / 2.0;
        // Beside a line that rises, over one that lies; within the frame.
        let at = if along.y.abs() > along.x.abs() { middle + dvec2(half + 3.0, 2.0) } else { middle - dvec2(0.0, 3.0) };
        let at = within(at, half, FIGURE, frame);
        let (low, high) = (at - dvec2(half + 0.8, FIGURE.mm() * 0.85), at + dvec2(half + 0.8, FIGURE.mm() * 0.25));
        marks.push(Mark::rectangle(low, high - low, None, Some(Ink::White)));
        marks.push(Mark::Text {
            at,
            size: FIGURE,
            words: words.to_owned(),
            weight: Weight::Bold,
            anchor: Anchor::Middle,
            ink: Ink::Accent,
        });
    }
    marks
}

/// Where words of this half width and size stand within the frame, as near as may be to where they are wanted.
pub(in crate::drawing) fn within(at: DVec2, half: f64, size: Length, frame: (Length, Length)) -> DVec2 {
    let least = dvec2(half + 1.0, size.mm());
    at.clamp(least, (dvec2(frame.0.mm(), frame.1.mm()) - dvec2(half + 1.0, 1.0)).max(least))
}

/// Length and half the width of a dimension's arrow, and the size of its figure, mm.
const ARROW: (f64, f64) = (3.2, 0.9);
const FIGURE: Length = Length::from_mm(6.0);

/// The cage from one side without balloons, every place of the body with its number.
pub fn draw_with_body(cage: &Cage, around: &Around, view: View, frame: (Length, Length)) -> Vec<Mark> {
    view_beside(cage, &parted(beside(cage, around, true), view), view, frame)
}

/// The cage from one side without balloons, with this beside its bars.
pub fn view_beside(cage: &Cage, beside: &[Beside], view: View, frame: (Length, Length)) -> Vec<Mark> {
    let scene = Scene { bars: &bars_of(cage), spots: &[], darkened: &[], pale: &[], hidden: false };
    draw_with(&scene, beside, view, frame, Scale::Fit).marks
}

/// The cage small, some bars standing out, with this beside them.
pub fn small_beside(cage: &Cage, darkened: &[Balloon], beside: &[Beside], frame: (Length, Length)) -> Vec<Mark> {
    small_with(&Scene { bars: &bars_of(cage), spots: &[], darkened, pale: &[], hidden: false }, beside, frame)
}

/// Where on the car a part is: the cage small, what belongs to the part standing out.
pub fn locate(cage: &Cage, part: Balloon, frame: (Length, Length)) -> Vec<Mark> {
    let (bars, darkened) = (bars_of(cage), belonging(cage, part));
    let scene = Scene { bars: &bars, spots: &[], darkened: &darkened, pale: &[], hidden: false };
    locator(&scene, place(cage, part).map(|at| Spot { balloon: part, at }), frame)
}

pub(in crate::drawing) fn bars_of(cage: &Cage) -> Vec<Bar> {
    let bar = |member: &Member| Bar {
        balloon: member.balloon,
        polyline: member.line.chords(SAGITTA),
        outside: member.tube.outside,
    };
    cage.members.iter().map(bar).collect()
}

/// The part itself, and of a joint the bars that end there, of a gusset those it stands between, of a plate the one
/// that stands on it.
pub(in crate::drawing) fn belonging(cage: &Cage, at: Balloon) -> Vec<Balloon> {
    let mut parts = vec![at];
    match at.kind {
        Kind::Joint => parts.extend(cage.joint(at).iter().flat_map(|joint| &joint.incoming).map(|end| end.0)),
        Kind::Gusset => {
            parts.extend(cage.gusset(at).iter().flat_map(|gusset| [gusset.between.0, gusset.between.1]));
        }
        Kind::Plate => parts.extend(cage.plate(at).map(|plate| plate.under)),
        _ => {}
    }
    parts
}
