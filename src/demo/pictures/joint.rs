//! The picture of a joint: from where its bars part best and no other bar stands in the way.

use glam::DVec3;

use super::{Subject, shell};
use crate::domain::cage::{Cage, Joint};
use crate::domain::judge::shots::Shot;
use crate::domain::words::ids::Balloon;
use crate::imaging::plot::Scene;
use crate::quantity::Length;

/// How far the camera is, in millimetres.
const CLOSE: f64 = 330.0;
const WIDE: f64 = 900.0;
/// Nothing nearer to the line of sight than this, in millimetres.
const CLEAR: f64 = 70.0;
/// Directions tried round the joint, and heights.
const ROUND: u32 = 24;

pub(super) fn scene(subject: Subject<'_>, shot: &Shot) -> Option<Scene> {
    let cage = &subject.found.worked.cage;
    let joint = cage.joint(shot.of)?;
    let view = shot.view.as_deref().unwrap_or_default();
    let far = if view.contains("wide") { WIDE } else { CLOSE };
    let mut away = best(cage, joint, far);
    if view.contains("far") {
        away = -away;
    }
    Some(shell::seen(subject, joint.at + away * far, joint.at))
}

/// The direction from which to look: each bar across the sight, inside the car, nothing before it.
fn best(cage: &Cage, joint: &Joint, far: f64) -> DVec3 {
    let arms = arms(cage, joint);
    let (rear, front, half, top) = shell::reach(cage);
    let own: Vec<Balloon> = std::iter::once(joint.carrier).chain(joint.incoming.iter().map(|end| end.0)).collect();
    let inside = (DVec3::new(joint.at.x * 0.6, 0.0, 620.0) - joint.at).normalize_or(DVec3::X);
    let tried = (0..ROUND).flat_map(|turn| {
        let turn = f64::from(turn) / f64::from(ROUND) * std::f64::consts::TAU;
        [-0.35_f64, 0.0, 0.35, 0.7].map(|up| DVec3::new(turn.cos() * up.cos(), turn.sin() * up.cos(), up.sin()))
    });
    let worth = |away: DVec3| {
        let spread = arms.iter().map(|arm| 1.0 - arm.dot(away).abs().powi(2)).fold(1.0, f64::min);
        let eye = joint.at + away * far;
        let out = eye.z < 120.0 || eye.z > top || eye.y.abs() > half || eye.x < rear - 250.0 || eye.x > front + 150.0;
        let blocked = f64::from(u8::from(blocked(cage, &own, joint.at, eye)));
        spread * 1.4 + away.dot(inside) * 0.8 - f64::from(u8::from(out)) * 1.6 - blocked * 2.0
    };
    let rated = tried.map(|away| (worth(away), away));
    rated.max_by(|one, other| one.0.total_cmp(&other.0)).map_or(inside, |best| best.1)
}

/// The directions in which bars leave the joint.
fn arms(cage: &Cage, joint: &Joint) -> Vec<DVec3> {
    let through = cage.member(joint.carrier).map(|bar| bar.line.point_at(joint.along).1);
    let ending = joint.incoming.iter().filter_map(|(balloon, end)| Some(cage.member(*balloon)?.line.into_bar(*end)));
    through.into_iter().chain(ending).collect()
}

/// Whether another bar stands between the camera and a point, or at the camera itself.
pub(super) fn blocked(cage: &Cage, own: &[Balloon], at: DVec3, eye: DVec3) -> bool {
    let others = || cage.members.iter().filter(|bar| !own.contains(&bar.balloon));
    (2..=10_u32).any(|step| {
        let point = at.lerp(eye, f64::from(step) / 10.0);
        let room = if step == 10 { CLEAR * 1.6 } else { CLEAR };
        let near = Length::from_mm(room);
        others().any(|bar| bar.line.nearest(point).2 < near)
            || (step > 3 && cage.members.iter().any(|bar| bar.line.nearest(point).2 < near))
    })
}
