//! How large a scene is drawn and where on the page it stands.

use std::fmt;

use glam::{DVec2, DVec3, dvec2};

use super::beside::Beside;
use super::hiding::bounds;
use super::scene::{Scene, View};

/// The scale asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// The largest of the series that fits.
    Fit,
    /// One to this many.
    Given(u32),
}

/// The scale drawn at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawnScale {
    /// One to this many.
    OneTo(u32),
    /// Just as large as there was room for.
    NotToScale,
}

impl fmt::Display for DrawnScale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OneTo(many) => write!(f, "1:{many}"),
            Self::NotToScale => f.write_str("not to scale"),
        }
    }
}

/// Full size and the recommended reductions (ISO 5455, from memory).
pub const SCALES: [u32; 7] = [1, 2, 5, 10, 20, 50, 100];

/// The largest scale of the series at which an object fits a box, both width by height in millimetres.
pub fn fitting(object: DVec2, room: DVec2) -> Option<u32> {
    SCALES.into_iter().find(|many| (object / f64::from(*many)).cmple(room + 1e-9).all())
}

/// How millimetres of the car become millimetres of the page.
pub(in crate::drawing) struct Fit {
    /// Page millimetres for one of the car.
    pub(in crate::drawing) factor: f64,
    shift: DVec2,
    /// What that scale is called.
    pub(in crate::drawing) scale: DrawnScale,
    /// Top left and bottom right corner of what is drawn.
    pub(in crate::drawing) drawn: (DVec2, DVec2),
}

impl Fit {
    /// The scale that fits the scene into this room, leaving a ring for balloons of this radius.
    pub(in crate::drawing) fn of(scene: &Scene, view: View, room: DVec2, wanted: Scale, radius: f64) -> Self {
        Self::of_all(scene, &[], (view, room), wanted, radius)
    }

    /// The same with what is beside the bars.
    pub(in crate::drawing) fn of_all(
        scene: &Scene,
        beside: &[Beside],
        (view, room): (View, DVec2),
        wanted: Scale,
        radius: f64,
    ) -> Self {
        let half = scene.bars.iter().map(|bar| bar.outside.mm() / 2.0).fold(0.0, f64::max);
        let points: Vec<DVec2> = scene
            .bars
            .iter()
            .flat_map(|bar| bar.polyline.iter().copied())
            .chain(scene.spots.iter().map(|spot| spot.at))
            .chain(beside.iter().flat_map(Beside::points))
            .map(|at| view.project(at))
            .collect();
        let (low, high) = bounds(&points);
        let (low, high) = (low - half, high + half);
        let object = (high - low).max(DVec2::splat(1.0));
        let edge = if scene.spots.is_empty() { 1.0 } else { 2.0 * radius + 3.0 };
        let free = (room - 2.0 * edge).max(DVec2::splat(1.0));
        let largest = (free / object).min_element();
        let (factor, scale) = match (view, wanted) {
            (View::Isometric | View::Turned(_), _) => (largest, DrawnScale::NotToScale),
            (_, Scale::Given(many)) => (1.0 / f64::from(many.max(1)), DrawnScale::OneTo(many.max(1))),
            (_, Scale::Fit) => fitting(object, free)
                .map_or((largest, DrawnScale::NotToScale), |many| (1.0 / f64::from(many), DrawnScale::OneTo(many))),
        };
        let middle = (low + high) / 2.0 * factor;
        let shift = room / 2.0 - dvec2(middle.x, -middle.y);
        let drawn = (room / 2.0 - object * factor / 2.0, room / 2.0 + object * factor / 2.0);
        Self { factor, shift, scale, drawn }
    }

    /// So many times larger about a point of the page, which comes to the middle of the room as far as the drawing goes on
    /// beyond it.
    pub(in crate::drawing) fn nearer(&self, about: DVec2, times: f64, room: DVec2) -> Self {
        let (low, high) = (self.drawn.0 + room / 2.0 / times, self.drawn.1 - room / 2.0 / times);
        let middle = (self.drawn.0 + self.drawn.1) / 2.0;
        let along = |at: f64, low: f64, high: f64, middle: f64| if low < high { at.clamp(low, high) } else { middle };
        let about = dvec2(along(about.x, low.x, high.x, middle.x), along(about.y, low.y, high.y, middle.y));
        let place = |at: DVec2| (at - about) * times + room / 2.0;
        Self {
            factor: self.factor * times,
            shift: place(self.shift),
            scale: DrawnScale::NotToScale,
            drawn: (place(self.drawn.0), place(self.drawn.1)),
        }
    }

    /// Where a place of another drawing of the same scene, from the same side, lies in this one.
    pub(in crate::drawing) fn same_place(&self, other: &Self, at: DVec2) -> DVec2 {
        (at - other.shift) / other.factor * self.factor + self.shift
    }

    /// A point of the car on the page, y downward.
    pub(in crate::drawing) fn on_page(&self, view: View, at: DVec3) -> DVec2 {
        let page = view.project(at) * self.factor;
        dvec2(page.x, -page.y) + self.shift
    }

    /// The same with its nearness on the same scale.
    pub(in crate::drawing) fn axis(&self, view: View, at: DVec3) -> DVec3 {
        self.on_page(view, at).extend(view.nearness(at) * self.factor)
    }
}
