//! How near points, segments and lines of chords come to each other.

use glam::DVec3;

use crate::quantity::Length;

/// A straight piece between two points, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Where it begins.
    pub from: DVec3,
    /// Where it ends.
    pub to: DVec3,
}

/// Where two things come nearest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// How far apart they are there.
    pub distance: Length,
    /// The place on the first.
    pub on_first: DVec3,
    /// The place on the second.
    pub on_second: DVec3,
}

impl Nearest {
    fn between(on_first: DVec3, on_second: DVec3) -> Self {
        Self { distance: Length::from_mm(on_first.distance(on_second)), on_first, on_second }
    }

    /// The clear space between two tubes of these outside diameters whose centre lines come this near; below zero they
    /// overlap.
    pub fn gap(&self, first_outside: Length, second_outside: Length) -> Length {
        self.distance - (first_outside + second_outside) / 2.0
    }
}

impl Segment {
    /// The place on the segment nearest to a point. A segment without length is its point.
    pub fn nearest_to(&self, point: DVec3) -> DVec3 {
        let along = self.to - self.from;
        let square = along.length_squared();
        if square <= 0.0 {
            return self.from;
        }
        self.from + along * ((point - self.from).dot(along) / square).clamp(0.0, 1.0)
    }

    /// How far a point is from the segment.
    pub fn distance_to(&self, point: DVec3) -> Length {
        Length::from_mm(self.nearest_to(point).distance(point))
    }

    /// Where two segments come nearest.
    pub fn nearest_of(&self, other: &Self) -> Nearest {
        // The nearest places are inside both, or one of them is an end: try every case and keep the best. Parallel
        // segments have an end among their nearest places, so they need no case of their own.
        let mut best = Nearest::between(self.from, other.nearest_to(self.from));
        let mut keep = |found: Nearest| {
            if found.distance.mm() < best.distance.mm() {
                best = found;
            }
        };
        keep(Nearest::between(self.to, other.nearest_to(self.to)));
        keep(Nearest::between(self.nearest_to(other.from), other.from));
        keep(Nearest::between(self.nearest_to(other.to), other.to));
        let (along, across) = (self.to - self.from, other.to - other.from);
        let normal = along.cross(across);
        let square = normal.length_squared();
        if square > 0.0 {
            let between = other.from - self.from;
            let on_first = between.cross(across).dot(normal) / square;
            let on_second = between.cross(along).dot(normal) / square;
            if (0.0..=1.0).contains(&on_first) && (0.0..=1.0).contains(&on_second) {
                keep(Nearest::between(self.from + along * on_first, other.from + across * on_second));
            }
        }
        best
    }
}

/// The segments of a line of chords.
pub fn segments(chords: &[DVec3]) -> impl Iterator<Item = Segment> {
    chords.iter().zip(chords.iter().skip(1)).map(|(from, to)| Segment { from: *from, to: *to })
}

/// Where two lines of chords come nearest; `None` when either has fewer than two points.
pub fn nearest_of_chords(first: &[DVec3], second: &[DVec3]) -> Option<Nearest> {
    segments(first)
        .flat_map(|one| segments(second).map(move |other| one.nearest_of(&other)))
        .min_by(|one, other| one.distance.mm().total_cmp(&other.distance.mm()))
}
