//! What is drawn with the bars though it is none: places of the body, seats and helmets, where padding is needed.

use glam::{DVec2, DVec3, dvec2};

use super::fit::Fit;
use super::scene::View;
use crate::domain::cage::around::body::BodyAt;
use crate::domain::cage::around::seats::SeatAt;
use crate::domain::cage::{Around, Cage};
use crate::drawing::{Anchor, Mark, Pen, Weight};
use crate::quantity::Length;

/// Half an arm of the cross on a place of the body, on paper.
const ARM: f64 = 0.9;
/// Size of the number beside it.
const TYPE: Length = Length::from_mm(25.4 / 72.0 * 10.0);
/// A padded stretch is drawn through points so far apart on the car.
const APART: f64 = 10.0;

/// One thing. Points in millimetres on the car's axes.
#[derive(Debug, Clone, PartialEq)]
pub enum Beside {
    /// A place of the body: a cross, and a line from the tube to it.
    Body {
        /// Where the line begins.
        from: DVec3,
        /// The place.
        at: DVec3,
        /// What stands beside it; empty without.
        words: String,
        /// The pen for both.
        pen: Pen,
    },
    /// A ball: its ring, and in dashes how far it reaches.
    Ball {
        /// Its middle.
        at: DVec3,
        /// Its radius.
        radius: Length,
        /// How far beyond it reaches.
        reach: Length,
    },
    /// A run of straight lines.
    Run(Vec<DVec3>, Pen),
}

/// All that a cage has beside its bars.
pub fn beside(cage: &Cage, around: &Around, numbered: bool) -> Vec<Beside> {
    let body = around.body.iter().map(|at| of_body(cage, at, numbered));
    body.chain(around.seats.iter().flat_map(|seat| of_seat(cage, seat))).collect()
}

/// Places of the body that a view shows in one spot, mm on the car, share a number's place.
const ONE_SPOT: f64 = 40.0;

/// The same with numbers that would lie on one another in this view together beside the first of them.
pub(in crate::drawing) fn parted(all: Vec<Beside>, view: View) -> Vec<Beside> {
    let mut parted: Vec<Beside> = Vec::new();
    for mut one in all {
        if let Beside::Body { at, words, .. } = &mut one {
            let here = view.project(*at);
            let first = parted.iter_mut().find_map(|there| match there {
                Beside::Body { at, words, .. } if !words.is_empty() => {
                    (view.project(*at).distance(here) < ONE_SPOT).then_some(words)
                }
                _ => None,
            });
            if let Some(first) = first {
                *first = format!("{first}, {words}");
                words.clear();
            }
        }
        parted.push(one);
    }
    parted
}

/// A place of the body.
pub fn of_body(cage: &Cage, at: &BodyAt, numbered: bool) -> Beside {
    let radius = cage.member(at.bar).map_or(0.0, |bar| bar.tube.outside.mm() / 2.0);
    let from = at.on_axis + (at.point - at.on_axis).normalize_or_zero() * radius;
    let words = if numbered { at.number.to_string() } else { String::new() };
    Beside::Body { from, at: at.point, words, pen: Pen::Narrow }
}

/// A seat from the hips over the shoulder to the helmet, the helmet, the strap to the harness bar, the padding.
pub fn of_seat(cage: &Cage, seat: &SeatAt) -> Vec<Beside> {
    let knees = seat.hips + DVec3::X * 420.0;
    let mut drawn = vec![
        Beside::Run(vec![knees, seat.hips, seat.shoulder], Pen::Wide),
        Beside::Ball { at: seat.helmet, radius: seat.radius, reach: seat.reach },
    ];
    if let Some(harness) = &seat.harness {
        let bar = seat.shoulder - DVec3::X * harness.behind.mm();
        drawn.push(Beside::Run(vec![seat.shoulder, DVec3::new(bar.x, bar.y, harness.height.mm())], Pen::CentreChain));
    }
    for padding in &seat.padding {
        let Some(bar) = cage.member(padding.bar) else { continue };
        let steps = (padding.length().mm() / APART).ceil().clamp(1.0, 500.0);
        let share = std::iter::successors(Some(0.0), |step| Some(step + 1.0)).take_while(|step| *step <= steps);
        let at = |step: f64| bar.line.point_at(padding.from + padding.length() * (step / steps)).0;
        drawn.push(Beside::Run(share.map(at).collect(), Pen::Marked));
    }
    drawn
}

impl Beside {
    /// The points that are to be in the frame.
    pub(in crate::drawing) fn points(&self) -> Vec<DVec3> {
        match self {
            Self::Body { from, at, .. } => vec![*from, *at],
            Self::Ball { at, radius, .. } => [DVec3::X, DVec3::Y, DVec3::Z]
                .iter()
                .flat_map(|way| [1.0, -1.0].map(|to| *at + *way * (to * radius.mm())))
                .collect(),
            Self::Run(points, _) => points.clone(),
        }
    }

    /// Its marks in a view.
    pub(in crate::drawing) fn marks(&self, view: View, fit: &Fit) -> Vec<Mark> {
        let page = |at: &DVec3| fit.on_page(view, *at);
        match self {
            Self::Body { from, at, words, pen } => {
                let middle = page(at);
                let arm = |arm: DVec2| Mark::Line { from: middle - arm, to: middle + arm, pen: *pen };
                let mut marks = vec![
                    Mark::Line { from: page(from), to: middle, pen: *pen },
                    arm(dvec2(ARM, ARM)),
                    arm(dvec2(ARM, -ARM)),
                ];
                if !words.is_empty() {
                    marks.push(Mark::Text {
                        at: middle + dvec2(ARM * 1.5, -ARM),
                        size: TYPE,
                        words: words.clone(),
                        weight: Weight::Regular,
                        anchor: Anchor::Start,
                        ink: pen.ink(),
                    });
                }
                marks
            }
            Self::Ball { at, radius, reach } => {
                let ring = |radius: Length, pen: Pen| Mark::Circle {
                    centre: page(at),
                    radius: radius * fit.factor,
                    pen: Some(pen),
                    fill: None,
                };
                vec![ring(*radius, Pen::Wide), ring(*radius + *reach, Pen::HiddenDashed)]
            }
            Self::Run(points, pen) => {
                vec![Mark::Path {
                    points: points.iter().map(page).collect(),
                    closed: false,
                    pen: Some(*pen),
                    fill: None,
                }]
            }
        }
    }
}
