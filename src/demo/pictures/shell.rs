//! The shell around the cage and the bars in front of it, as far as a camera there would see them.

use glam::DVec3;

use super::Subject;
use crate::domain::cage::Foot;
use crate::domain::cage::{Cage, Plate};
use crate::imaging::plot::{Panel, Scene, Tube};
use crate::quantity::Length;

/// How near a bend's chords follow its arc.
const SAGITTA: Length = Length::from_mm(0.5);
/// How far the body is from the bars, in millimetres.
const GAP: f64 = 45.0;
/// The shop's floor below the car's, in millimetres.
const SHOP_FLOOR: f64 = -320.0;

/// A camera in the shop: bars, shell and floor as they would be seen.
pub(super) fn seen(subject: Subject<'_>, from: DVec3, at: DVec3) -> Scene {
    let cage = &subject.found.worked.cage;
    let gussets = cage.plates.iter().flat_map(plate_faces).collect();
    Scene { tubes: tubes(cage), gussets, panels: panels(subject, from), from, at, ..Scene::default() }
}

/// A foot plate's top and edges.
fn plate_faces(plate: &Plate) -> Vec<Vec<DVec3>> {
    let (long, wide) = (plate.sides.0.value.mm() / 2.0, plate.sides.1.value.mm() / 2.0);
    let thick = DVec3::Z * plate.thickness.value.mm();
    let corner = |x: f64, y: f64| plate.centre + DVec3::new(x * long, y * wide, 0.0);
    let top = vec![corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
    let edges = top.iter().zip(top.iter().cycle().skip(1));
    let edges: Vec<Vec<DVec3>> = edges.map(|(from, to)| vec![*from, *to, *to - thick, *from - thick]).collect();
    std::iter::once(top).chain(edges).collect()
}

fn tubes(cage: &Cage) -> Vec<Tube> {
    cage.members.iter().map(|bar| (bar.line.chords(SAGITTA), bar.tube.outside / 2.0)).collect()
}

/// How far the cage reaches: rear, front, half its width, top.
pub(super) fn reach(cage: &Cage) -> (f64, f64, f64, f64) {
    let points = || cage.members.iter().flat_map(|bar| bar.line.points());
    let most = |of: fn(&DVec3) -> f64| points().map(of).fold(0.0, f64::max);
    let rear = points().map(|point| point.x).fold(0.0, f64::min);
    (rear, most(|point| point.x), most(|point| point.y.abs()), most(|point| point.z))
}

/// The inner faces of the shell that this camera looks at from inside: the near side is left out, as on a doll's house.
fn panels(subject: Subject<'_>, from: DVec3) -> Vec<Panel> {
    let (rear, front, half, top) = reach(&subject.found.worked.cage);
    let (rear, front, half, top) = (rear - 300.0, front + 220.0, half + GAP, top + GAP);
    let paint = subject.paint;
    let dull = paint.map(|part| part / 2 + 24);
    let mut panels = Vec::new();
    let mut add = |corners: [(f64, f64, f64); 4], colour| {
        panels.push(Panel { corners: corners.map(|(x, y, z)| DVec3::new(x, y, z)).to_vec(), colour });
    };
    if from.z > 0.0 {
        let shop = [(-9e3, -9e3), (9e3, -9e3), (9e3, 9e3), (-9e3, 9e3)];
        add(shop.map(|(x, y)| (x, y, SHOP_FLOOR)), [128, 127, 124]);
        add([(rear, -half, 0.0), (front, -half, 0.0), (front, half, 0.0), (rear, half, 0.0)], dull);
        // the tunnel's two edges and the seat's cross member
        add([(rear, -130.0, 2.0), (front, -130.0, 2.0), (front, 130.0, 2.0), (rear, 130.0, 2.0)], dull.map(dimmer));
    }
    for side in [1.0, -1.0] {
        if from.y * side < half {
            let y = half * side;
            add([(-250.0, y, 0.0), (front, y, 0.0), (front, y, 190.0), (-250.0, y, 190.0)], paint);
            add([(-250.0, y, 0.0), (rear, y, 0.0), (rear, y, top * 0.62), (-250.0, y, top * 0.7)], paint);
            add([(-250.0, y, 0.0), (-40.0, y, 0.0), (-70.0, y * 0.86, top), (-250.0, y * 0.86, top)], paint);
        }
    }
    if from.x < front {
        add([(front, -half, 0.0), (front, half, 0.0), (front, half, top * 0.6), (front, -half, top * 0.6)], dull);
    }
    if from.x > rear {
        add([(rear, -half, 0.0), (rear, half, 0.0), (rear, half, top * 0.58), (rear, -half, top * 0.58)], dull);
    }
    if from.z < top && from.y.abs() < half && (rear..front).contains(&from.x) {
        let (back, screen, wide) = (-320.0, front * 0.58, half * 0.8);
        add([(back, -wide, top), (screen, -wide, top), (screen, wide, top), (back, wide, top)], paint.map(dimmer));
    }
    for plate in subject.found.worked.cage.plates.iter().filter(|plate| plate.foot == Foot::Backstay) {
        // what the stay stands on: the wheel arch
        let (at, z) = (plate.centre, plate.centre.z - plate.thickness.value.mm());
        let inner = at.y - at.y.signum() * 140.0;
        let (back, near, outer) = (rear, at.x + 150.0, half * at.y.signum());
        let inside = if at.y > 0.0 { from.y < inner } else { from.y > inner };
        if inside {
            add([(back, inner, 0.0), (near, inner, 0.0), (near, inner, z), (back, inner, z)], paint.map(dimmer));
        }
        if from.x > near {
            add([(near, inner, 0.0), (near, outer, 0.0), (near, outer, z), (near, inner, z)], dull);
        }
        if from.z > z {
            add([(back, inner, z), (near, inner, z), (near, outer, z), (back, outer, z)], paint);
        }
    }
    panels
}

pub(super) fn dimmer(part: u8) -> u8 {
    part / 4 * 3
}
