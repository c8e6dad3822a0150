//! One piece of a tube as the lines along a branch's wall meet it: a line comes from outside and touches it somewhere first.

use glam::DVec3;

use crate::geometry::carrier::Place;
use crate::geometry::piece::Piece;

/// Neighbouring pieces overlap by this much, so that no line slips between them, mm.
const OVERLAP: f64 = 1e-7;
/// A line that passes outside by no more than this touches, mm: one that touches without cutting must not miss by rounding.
const TOUCHING: f64 = 5e-7;
/// A touch is known when the next step would be shorter than this share of the tube's radius.
const KNOWN: f64 = 1e-11;
/// Steps toward a touch; each is the whole way on a straight, and three to six do on a bend.
const STEPS: u32 = 64;

/// The end of a branch: the point its distances count from, the unit direction into it, and two more square to it and to
/// each other. Places are counted from `toward` to `aside`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Frame {
    pub(crate) node: DVec3,
    pub(crate) branch: DVec3,
    pub(crate) toward: DVec3,
    pub(crate) aside: DVec3,
}

impl Frame {
    /// From the branch's axis to a place around it, a unit direction.
    pub(crate) fn around(&self, place: Place) -> DVec3 {
        self.toward * place.cosine + self.aside * place.sine
    }

    /// A point on the wall.
    pub(crate) fn on_wall(&self, place: Place, reach: f64, cut: f64) -> DVec3 {
        self.node + self.around(place) * reach + self.branch * cut
    }
}

/// A number that grows evenly in space, as the branch's wall sees it: its value on the axis at the node, and how it changes
/// along each of the branch's three directions.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Even {
    fixed: f64,
    toward: f64,
    aside: f64,
    along: f64,
}

impl Even {
    /// How far along `way` a point lies from `from`.
    fn new(frame: &Frame, from: DVec3, way: DVec3) -> Self {
        Self {
            fixed: (frame.node - from).dot(way),
            toward: frame.toward.dot(way),
            aside: frame.aside.dot(way),
            along: frame.branch.dot(way),
        }
    }

    /// Its value on a line of the wall where that starts.
    fn at(&self, place: Place, reach: f64) -> f64 {
        self.fixed + reach * (self.toward * place.cosine + self.aside * place.sine)
    }
}

/// Where a line comes to touch a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Hit {
    /// Along the branch from its node, mm.
    pub(crate) cut: f64,
    pub(crate) face: Face,
}

/// How a tube ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TubeEnd {
    /// It goes on straight, as far as is asked: beyond a plate is no place to be cut.
    RunsOn,
    /// Square, with nothing behind.
    Square,
    /// On another tube that is looked at as well, and wide enough to have the whole end within.
    Joined,
    /// It goes on where nobody looks: a line that comes from there within the tube runs along it.
    Unseen,
}

/// What a line touches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Face {
    /// The tube's round wall.
    Wall,
    /// The flat end where the piece begins, or ends.
    Start,
    /// See above.
    End,
    /// Nothing: where the line was begun it was within the tube already.
    Within,
}

/// A straight or an arc of a tube, ended square at both its ends, or at one or none.
///
/// A point at `d` from a point of the centre circle, with `n` out from the bend's centre there and `z` the bend's axis, lies
/// on the tube of radius r round the circle of radius R where (n·d + (d·d - r²)/2R)² + (z·d)² = r²: the equation of the
/// torus, (|p|² + R² - r²)² = 4R²(p·p - (z·p)²), counted from the circle instead of from its centre, so that it loses no
/// digits however large R is, and is the cylinder's where 1/R is 0.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Seen {
    piece: Piece,
    radius: f64,
    out: Even,
    up: Even,
    /// From the point of the circle to the node: its square, and its share along the branch's three directions.
    from: Even,
    /// Half of the bend's curvature, 1/mm.
    curve: f64,
    /// How far over its start, backward, and over its end a point lies; none where it runs on.
    gates: [Option<Even>; 2],
    ends: [TubeEnd; 2],
}

/// u = a + b s + c s² and v = v0 + v1 s along a line.
struct Path {
    a: f64,
    b: f64,
    c: f64,
    v0: f64,
    v1: f64,
    square: f64,
}

impl Path {
    /// u² + v² - r² and its slope.
    fn over(&self, s: f64) -> (f64, f64) {
        let u = (self.c * s + self.b) * s + self.a;
        let v = self.v1 * s + self.v0;
        (u * u + v * v - self.square, 2.0 * (u * (2.0 * self.c * s + self.b) + v * self.v1))
    }

    /// Half of the least second slope between two places.
    fn least_bend(&self, low: f64, high: f64) -> f64 {
        let fixed = self.b * self.b + 2.0 * self.c * self.a + self.v1 * self.v1;
        if self.c == 0.0 {
            return fixed;
        }
        let s = (-self.b / (2.0 * self.c)).clamp(low, high);
        6.0 * self.c * s * (self.c * s + self.b) + fixed
    }

    /// The first place below `high`, where the line is outside, at which it touches. Each step goes no further than the
    /// least second slope lets the value fall to nothing, so that no touch is passed by.
    fn first_below(&self, low: f64, high: f64, radius: f64) -> Option<f64> {
        let touching = 2.0 * radius * TOUCHING;
        let mut s = high;
        let (mut over, mut slope) = self.over(s);
        for _ in 0..STEPS {
            let bend = self.least_bend(low, s);
            let spare = slope * slope - 4.0 * bend * over;
            let step = if spare >= 0.0 {
                2.0 * over / (slope + spare.sqrt())
            } else if over - slope * slope / (4.0 * bend) <= touching {
                // It may pass by so near that it touches: on to where it would pass nearest.
                slope / (2.0 * bend)
            } else {
                return None;
            };
            // No number, or none ahead, where the line leads away.
            if !(step >= 0.0 && step.is_finite()) {
                break;
            }
            // A touch without a cut is known to the root of rounding only: past the piece's end by that much it is at the end.
            let ended = s - step < low;
            s = if ended { low } else { s - step };
            (over, slope) = self.over(s);
            if ended || over <= 0.0 || step < KNOWN * radius {
                break;
            }
        }
        (over <= touching).then_some(s)
    }
}

impl Seen {
    /// A piece of a tube of this radius.
    pub(crate) fn new(frame: &Frame, piece: Piece, radius: f64, ends: [TubeEnd; 2]) -> Self {
        let (start, forward) = piece.at(0.0);
        let (end, onward) = piece.at(piece.length());
        let (at, out, up, curve) = match piece {
            Piece::Straight { direction, .. } => {
                let (one, other) = direction.any_orthonormal_pair();
                (start, one, other, 0.0)
            }
            Piece::Arc { centre, outward, forward, radius: of_bend, .. } => {
                let up = outward.cross(forward);
                let flat = frame.node - centre;
                let out = (flat - up * flat.dot(up)).try_normalize().unwrap_or(outward);
                (centre + out * of_bend, out, up, 0.5 / of_bend)
            }
        };
        let d = frame.node - at;
        let from = Even {
            fixed: d.length_squared(),
            toward: d.dot(frame.toward),
            aside: d.dot(frame.aside),
            along: d.dot(frame.branch),
        };
        let gate = |end: TubeEnd, at: DVec3, way: DVec3| {
            (end != TubeEnd::RunsOn).then(|| Even::new(frame, at + way * OVERLAP, way))
        };
        let [first, last] = ends;
        let gates = [gate(first, start, -forward), gate(last, end, onward)];
        Self { piece, radius, out: Even::new(frame, at, out), up: Even::new(frame, at, up), from, curve, gates, ends }
    }

    /// True for a bend.
    pub(crate) fn bent(&self) -> bool {
        self.curve > 0.0
    }

    fn path(&self, place: Place, reach: f64) -> Path {
        let square = self.radius * self.radius;
        let beside = 2.0 * reach * (self.from.toward * place.cosine + self.from.aside * place.sine);
        let far = self.from.fixed + reach * reach + beside - square;
        Path {
            a: self.out.at(place, reach) + far * self.curve,
            b: self.out.along + 2.0 * self.from.along * self.curve,
            c: self.curve,
            v0: self.up.at(place, reach),
            v1: self.up.along,
            square,
        }
    }

    /// Where the wall's line at this place, coming down the branch from the greater of two distances to the lesser, first
    /// touches the piece.
    pub(crate) fn touch(&self, place: Place, reach: f64, (mut low, mut high): (f64, f64)) -> Option<Hit> {
        let mut face = Some(Face::Within);
        let faces = self.ends.iter().zip([Face::Start, Face::End]);
        for (gate, (end, face_of_end)) in self.gates.iter().zip(faces) {
            let Some(gate) = gate else { continue };
            let end = match end {
                TubeEnd::Square => Some(face_of_end),
                TubeEnd::Unseen => Some(Face::Within),
                TubeEnd::RunsOn | TubeEnd::Joined => None,
            };
            let over = gate.at(place, reach);
            if gate.along.abs() < f64::EPSILON {
                if over > 0.0 {
                    return None;
                }
            } else if gate.along < 0.0 {
                low = low.max(-over / gate.along);
            } else if -over / gate.along < high {
                (high, face) = (-over / gate.along, end);
            }
        }
        if low > high {
            return None;
        }
        let path = self.path(place, reach);
        if path.over(high).0 <= 0.0 {
            // A line that comes through a joined end has touched what it is joined to.
            return face.map(|face| Hit { cut: high, face });
        }
        path.first_below(low, high, self.radius).map(|cut| Hit { cut, face: Face::Wall })
    }

    /// Square to what is touched, out of the tube, a unit direction.
    pub(crate) fn normal(&self, point: DVec3, face: Face) -> DVec3 {
        let along = match face {
            Face::Start => return -self.piece.at(0.0).1,
            Face::End => return self.piece.at(self.piece.length()).1,
            Face::Wall | Face::Within => self.along_to(point),
        };
        (point - self.piece.at(along).0).normalize_or_zero()
    }

    /// How far outside the tube's wall a point lies, mm; below zero it is within.
    pub(crate) fn off(&self, point: DVec3) -> f64 {
        self.piece.at(self.along_to(point)).0.distance(point) - self.radius
    }

    /// The place along the piece nearest to a point, beyond its ends where it runs on.
    fn along_to(&self, point: DVec3) -> f64 {
        let Piece::Straight { from, direction, length } = self.piece else { return self.piece.nearest(point) };
        let [first, last] = self.gates.each_ref().map(Option::is_none);
        let least = if first { f64::NEG_INFINITY } else { 0.0 };
        let most = if last { f64::INFINITY } else { length };
        (point - from).dot(direction).clamp(least, most)
    }
}
