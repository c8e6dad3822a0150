//! The whole cage through the openings, and the car on the scale.

use glam::DVec3;

use super::Subject;
use super::shell::{dimmer, reach, seen};
use crate::domain::judge::shots::Shot;
use crate::imaging::plot::{Panel, Scene};

/// The whole cage from one of the places the book names.
pub(super) fn cage(subject: Subject<'_>, shot: &Shot) -> Scene {
    let (from, at) = match shot.view.as_deref() {
        Some("left door") => ((420.0, 2_150.0, 980.0), (120.0, 0.0, 520.0)),
        Some("right door") => ((420.0, -2_150.0, 980.0), (120.0, 0.0, 520.0)),
        Some("rear") => ((-2_500.0, 240.0, 1_050.0), (100.0, 0.0, 520.0)),
        Some("screen") => ((2_700.0, -160.0, 1_180.0), (200.0, 0.0, 560.0)),
        _ => ((130.0, 60.0, 160.0), (330.0, 0.0, 1_080.0)),
    };
    let place = |(x, y, z): (f64, f64, f64)| DVec3::new(x, y, z);
    seen(subject, place(from), place(at))
}

/// The car on the scale's four pads, from the front left.
pub(super) fn car_on_pads(subject: Subject<'_>) -> Scene {
    let (rear, front, half, top) = reach(&subject.found.worked.cage);
    let (tail, nose, half, top) =
        (rear.min(-700.0) - 450.0, front.max(1_000.0) + 900.0, half.max(640.0) + 90.0, top.max(1_050.0) + 60.0);
    let (belt, sill) = (top * 0.58, 40.0);
    let glass = [44, 50, 56];
    let paint = subject.paint;
    let mut panels = vec![flat(-310.0, (tail - 4e3, nose + 4e3), 6e3, [132, 131, 128])];
    let mut add = |corners: Vec<(f64, f64, f64)>, colour| {
        panels.push(Panel { corners: corners.into_iter().map(|(x, y, z)| DVec3::new(x, y, z)).collect(), colour });
    };
    let roof = half * 0.72;
    let (a, b) = (front * 0.55, -330.0);
    add(
        vec![(nose, -half, sill), (nose, half, sill), (nose, half, belt * 0.82), (nose, -half, belt * 0.82)],
        paint.map(dimmer),
    );
    add(vec![(nose, -half, belt * 0.82), (nose, half, belt * 0.82), (front, half, belt), (front, -half, belt)], paint);
    add(vec![(front, -half, belt), (front, half, belt), (a, roof, top), (a, -roof, top)], glass);
    add(vec![(a, -roof, top), (a, roof, top), (b, roof, top), (b, -roof, top)], paint);
    add(
        vec![
            (nose, half, sill),
            (tail, half, sill),
            (tail, half, belt),
            (front, half, belt),
            (nose, half, belt * 0.82),
        ],
        paint.map(|part| part / 8 * 7),
    );
    add(vec![(front, half, belt), (a, roof, top), (b, roof, top), (tail + 250.0, half, belt)], glass);
    for x in [front + 200.0, tail + 520.0] {
        let pad = [(-230.0, -330.0), (230.0, -330.0), (230.0, 130.0), (-230.0, 130.0)];
        add(pad.map(|(dx, dy)| (x + dx, half + dy, -300.0)).to_vec(), [58, 60, 64]);
        for (out, radius, colour) in
            [(4.0, 300.0, [34, 34, 36]), (8.0, 190.0, [150, 153, 158]), (12.0, 50.0, [60, 62, 66])]
        {
            let turn = |step: u32| f64::from(step) / 28.0 * std::f64::consts::TAU;
            let rim = |step: u32| (x + turn(step).cos() * radius, half + out, turn(step).sin() * radius);
            add((0..28).map(rim).collect(), colour);
        }
    }
    Scene {
        panels,
        from: DVec3::new(nose + 1_500.0, 4_300.0, 1_350.0),
        at: DVec3::new(f64::midpoint(nose, tail) + 100.0, 0.0, 330.0),
        ..Scene::default()
    }
}

fn flat(z: f64, (back, front): (f64, f64), half: f64, colour: [u8; 3]) -> Panel {
    let corners = [(back, -half), (front, -half), (front, half), (back, half)];
    Panel { corners: corners.map(|(x, y)| DVec3::new(x, y, z)).to_vec(), colour }
}
