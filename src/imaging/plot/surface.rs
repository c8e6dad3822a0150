//! The surfaces of tubes and plates, cut into small flat facets where they can be seen.

use std::f64::consts::TAU;

use glam::DVec3;

use super::camera::Camera;
use super::scene::Scene;

/// Width of the dark ring of a seam, in millimetres.
pub(super) const SEAM: f64 = 1.7;
/// Facets around a tube that fills the picture, and around one far away.
const AROUND: (u32, u32) = (72, 20);
/// Length of a facet far from a joint, in millimetres.
const LONG: f64 = 14.0;
/// Length of a facet near a joint, in millimetres.
const SHORT: f64 = 2.0;
/// How near to another tube's skin facets are short, in millimetres.
const NEAR_JOINT: f64 = 24.0;
/// Side of a plate's facet, in millimetres.
const PLATE: f64 = 5.0;

/// A small flat piece of a surface.
pub(super) struct Facet {
    /// Its corners in order, in millimetres.
    pub(super) corners: Vec<DVec3>,
    /// Its middle.
    pub(super) middle: DVec3,
    /// The direction it faces; of length one.
    pub(super) normal: DVec3,
    /// The direction of the tube; none on a plate.
    pub(super) along: Option<DVec3>,
    /// Which tube or plate of the scene.
    pub(super) part: u64,
    /// Where around the tube, in turns.
    pub(super) turn: f64,
    /// How far along the tube, in millimetres.
    pub(super) run: f64,
    /// Distance to the nearest skin of another tube, in millimetres.
    pub(super) to_joint: f64,
    /// True where the piece ends on that other tube, so that its seam is its own.
    pub(super) coped: bool,
}

/// A straight piece of a tube.
struct Straight {
    tube: usize,
    from: DVec3,
    to: DVec3,
    radius: f64,
}

/// All facets of the scene that face the camera and lie in no tube.
pub(super) fn facets(scene: &Scene, camera: &Camera) -> Vec<Facet> {
    let straights: Vec<Straight> = scene
        .tubes
        .iter()
        .enumerate()
        .flat_map(|(tube, (line, radius))| {
            line.iter().zip(line.iter().skip(1)).map(move |(from, to)| Straight {
                tube,
                from: *from,
                to: *to,
                radius: radius.mm(),
            })
        })
        .collect();
    let mut facets = Vec::new();
    for (tube, (line, radius)) in scene.tubes.iter().enumerate() {
        let inside =
            |end: Option<&DVec3>| end.is_some_and(|end| to_other_skin(*end, tube, &straights) < -0.2 * radius.mm());
        let coped = (inside(line.first()), inside(line.last()));
        let length = line.iter().zip(line.iter().skip(1)).map(|(from, to)| from.distance(*to)).sum();
        let others = straights.iter().filter(|straight| straight.tube != tube).collect();
        let skin = Skin { tube, radius: radius.mm(), coped, length, others, camera };
        skin.along(line, &mut facets);
    }
    for (number, corners) in scene.gussets.iter().enumerate() {
        plate(corners, scene.tubes.len() + number, (&straights, camera), &mut facets);
    }
    facets
}

/// Distance from a point to the nearest skin of any tube but `own`; below zero inside it.
fn to_other_skin(point: DVec3, own: usize, straights: &[Straight]) -> f64 {
    straights
        .iter()
        .filter(|straight| straight.tube != own)
        .map(|straight| to_line(point, straight.from, straight.to) - straight.radius)
        .fold(f64::INFINITY, f64::min)
}

fn to_line(point: DVec3, from: DVec3, to: DVec3) -> f64 {
    let run = to - from;
    let share = ((point - from).dot(run) / run.length_squared().max(1e-12)).clamp(0.0, 1.0);
    point.distance(from + run * share)
}

/// What is needed to cut one tube's skin into facets.
struct Skin<'a> {
    tube: usize,
    radius: f64,
    /// Whether its first and last end lie in another tube.
    coped: (bool, bool),
    length: f64,
    others: Vec<&'a Straight>,
    camera: &'a Camera,
}

/// Distance from a point to the nearest skin of these; below zero inside one.
fn to_skin(point: DVec3, straights: &[&Straight]) -> f64 {
    let to = |straight: &&Straight| to_line(point, straight.from, straight.to) - straight.radius;
    straights.iter().map(to).fold(f64::INFINITY, f64::min)
}

/// A ring around the tube: its middle, and two directions across.
#[derive(Clone, Copy)]
struct Ring {
    centre: DVec3,
    along: DVec3,
    across: (DVec3, DVec3),
    run: f64,
}

impl Skin<'_> {
    fn along(&self, line: &[DVec3], facets: &mut Vec<Facet>) {
        let rings = self.rings(line);
        for (one, next) in rings.iter().zip(rings.iter().skip(1)) {
            if self.camera.may_show(one.centre, self.radius + LONG) {
                let reach = self.radius + 2.0 * LONG + NEAR_JOINT;
                let near = |other: &&Straight| to_line(one.centre, other.from, other.to) - other.radius < reach;
                let near: Vec<&Straight> = self.others.iter().copied().filter(near).collect();
                self.ring_of_facets(*one, *next, &near, facets);
            }
        }
    }

    fn rings(&self, line: &[DVec3]) -> Vec<Ring> {
        let mut rings: Vec<Ring> = Vec::new();
        let mut run = 0.0;
        let directions: Vec<DVec3> =
            line.iter().zip(line.iter().skip(1)).map(|(from, to)| (*to - *from).normalize_or(DVec3::X)).collect();
        let mut across = directions.first().map_or(DVec3::Y, |first| first.any_orthonormal_vector());
        for (number, (from, to)) in line.iter().zip(line.iter().skip(1)).enumerate() {
            let here = directions.get(number).copied().unwrap_or(DVec3::X);
            let before = number.checked_sub(1).and_then(|last| directions.get(last)).copied().unwrap_or(here);
            let after = directions.get(number + 1).copied().unwrap_or(here);
            let length = from.distance(*to);
            let mut done = 0.0;
            loop {
                let share = if length > 0.0 { (done / length).min(1.0) } else { 1.0 };
                // turned little by little, so that a bend drawn as short straights is round
                let turned = if share < 0.5 { before.lerp(here, 0.5 + share) } else { here.lerp(after, share - 0.5) };
                let along = turned.normalize_or(here);
                across = (across - along * across.dot(along)).normalize_or(along.any_orthonormal_vector());
                let centre = from.lerp(*to, share);
                rings.push(Ring { centre, along, across: (across, along.cross(across)), run: run + length * share });
                if share >= 1.0 {
                    break;
                }
                done += self.step(centre);
            }
            run += length;
        }
        rings
    }

    /// Short near a joint that shows, long elsewhere.
    fn step(&self, centre: DVec3) -> f64 {
        if !self.camera.may_show(centre, self.radius + LONG) {
            return LONG * 2.0;
        }
        // from afar nobody sees a seam
        let near = self.camera.dots(self.radius, centre) > 12.0;
        if near && to_skin(centre, &self.others) - self.radius < NEAR_JOINT { SHORT } else { LONG }
    }

    /// Whether a seam this far along the tube is its own, and not that of a tube which ends on it.
    fn cut_at(&self, run: f64) -> bool {
        let near = 6.0 * self.radius;
        (self.coped.0 && run < near) || (self.coped.1 && self.length - run < near)
    }

    fn ring_of_facets(&self, one: Ring, next: Ring, near: &[&Straight], facets: &mut Vec<Facet>) {
        let outward = |ring: &Ring, turn: f64| {
            let (sine, cosine) = (turn * TAU).sin_cos();
            ring.across.0 * cosine + ring.across.1 * sine
        };
        let around = if self.camera.dots(self.radius, one.centre) > 16.0 { AROUND.0 } else { AROUND.1 };
        for number in 0..around {
            let (begin, end) = (f64::from(number) / f64::from(around), f64::from(number + 1) / f64::from(around));
            let turn = f64::midpoint(begin, end);
            let normal = outward(&one, turn);
            let middle = one.centre.midpoint(next.centre) + normal * self.radius;
            if normal.dot(self.camera.eye - middle) <= 0.0 {
                continue;
            }
            let corner = |ring: &Ring, turn: f64| ring.centre + outward(ring, turn) * self.radius;
            let whole = Facet {
                corners: vec![corner(&one, begin), corner(&one, end), corner(&next, end), corner(&next, begin)],
                middle,
                normal,
                along: Some(one.along),
                part: self.tube as u64,
                turn,
                run: one.run,
                to_joint: to_skin(middle, near),
                coped: self.cut_at(one.run),
            };
            split_at_seam(whole, |point| to_skin(point, near), facets);
        }
    }
}

/// Keeps what lies outside the other tubes, the ring of the seam as a facet of its own, so that both edges are clean.
fn split_at_seam(whole: Facet, to_skin: impl Fn(DVec3) -> f64, facets: &mut Vec<Facet>) {
    if whole.to_joint > 2.0 * SHORT + SEAM + LONG {
        facets.push(whole);
        return;
    }
    let corners: Vec<(DVec3, f64)> = whole.corners.iter().map(|corner| (*corner, to_skin(*corner))).collect();
    for (least, most) in [(0.0, SEAM), (SEAM, f64::INFINITY)] {
        let kept = clipped(&clipped(&corners, |skin| skin - least), |skin| most.min(1e9) - skin);
        let count = kept.iter().fold(0.0, |count, _| count + 1.0);
        if count >= 3.0 {
            let to_joint = kept.iter().map(|corner| corner.1).sum::<f64>() / count;
            let corners: Vec<DVec3> = kept.iter().map(|corner| corner.0).collect();
            let middle = corners.iter().sum::<DVec3>() / count;
            facets.push(Facet { corners, middle, to_joint, ..whole });
        }
    }
}

/// The part of a facet where `inside` of the distance to the skin is not below zero.
fn clipped(corners: &[(DVec3, f64)], inside: impl Fn(f64) -> f64) -> Vec<(DVec3, f64)> {
    let mut kept = Vec::new();
    for (one, next) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let (here, there) = (inside(one.1), inside(next.1));
        if here >= 0.0 {
            kept.push(*one);
        }
        if (here >= 0.0) != (there >= 0.0) {
            let share = here / (here - there);
            kept.push((one.0.lerp(next.0, share), one.1 + (next.1 - one.1) * share));
        }
    }
    kept
}

/// Cuts a plate into facets: a fan of triangles around its middle, each cut into small ones.
fn plate(corners: &[DVec3], part: usize, (straights, camera): (&[Straight], &Camera), facets: &mut Vec<Facet>) {
    let count = corners.iter().fold(0.0, |count, _| count + 1.0);
    if count < 3.0 {
        return;
    }
    let middle = corners.iter().sum::<DVec3>() / count;
    let reach = corners.iter().map(|corner| corner.distance(middle)).fold(0.0, f64::max);
    if !camera.may_show(middle, reach) {
        return;
    }
    let near =
        |straight: &&Straight| to_line(middle, straight.from, straight.to) - straight.radius < reach + NEAR_JOINT;
    let straights: Vec<&Straight> = straights.iter().filter(near).collect();
    // a facet of a plate far away is a few dots wide all the same
    let side = PLATE.max(PLATE / camera.dots(PLATE, middle).max(0.1) * 5.0);
    let edges = || corners.iter().zip(corners.iter().cycle().skip(1));
    for (from, to) in edges() {
        let normal = (*from - middle).cross(*to - middle).normalize_or(DVec3::Z);
        let facing = if normal.dot(camera.eye - middle) < 0.0 { -normal } else { normal };
        let longest = from.distance(*to).max(from.distance(middle)).max(to.distance(middle));
        let steps = (1..=60_u32).find(|steps| longest / f64::from(*steps) <= side).unwrap_or(60);
        let place = |down: u32, over: u32| {
            let (down, over) = (f64::from(down) / f64::from(steps), f64::from(over) / f64::from(steps));
            middle + (*from - middle) * (down - over) + (*to - middle) * over
        };
        for down in 0..steps {
            for over in 0..=down {
                let mut triangles = vec![[place(down, over), place(down + 1, over), place(down + 1, over + 1)]];
                if over < down {
                    triangles.push([place(down, over), place(down + 1, over + 1), place(down, over + 1)]);
                }
                for triangle in triangles {
                    let centre = triangle.iter().sum::<DVec3>() / 3.0;
                    if !camera.may_show(centre, PLATE) {
                        continue;
                    }
                    let whole = Facet {
                        corners: triangle.to_vec(),
                        middle: centre,
                        normal: facing,
                        along: None,
                        part: part as u64,
                        turn: 0.0,
                        run: centre.distance(middle),
                        to_joint: to_skin(centre, &straights),
                        coped: true,
                    };
                    split_at_seam(whole, |point| to_skin(point, &straights), facets);
                }
            }
        }
    }
}
