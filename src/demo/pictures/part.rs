//! The pictures of gussets, plates, bars and the end of a stick, each with something to judge the size by.

use glam::DVec3;

use super::joint::blocked;
use super::{Subject, shell};
use crate::domain::cage::Member;
use crate::domain::judge::shots::Shot;
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::measures::Measure;
use crate::imaging::plot::{Caliper, Panel, Scene, Tape};
use crate::quantity::Length;

/// Roundness at a bend where nobody has measured it (*common practice*).
const ROUNDNESS: f64 = 0.96;

/// A gusset, square on, with a tape along a leg.
pub(super) fn gusset(subject: Subject<'_>, shot: &Shot) -> Option<Scene> {
    let cage = &subject.found.worked.cage;
    let gusset = cage.gusset(shot.of)?;
    let [corner, one, other] = gusset.corners;
    let normal = (one - corner).cross(other - corner).try_normalize()?;
    let middle = (corner + one + other) / 3.0;
    let own = [gusset.between.0, gusset.between.1];
    let inward = if normal.dot(DVec3::new(middle.x, 0.0, 600.0) - middle) < 0.0 { -normal } else { normal };
    let face = if blocked(cage, &own, middle, middle + inward * 340.0) { -inward } else { inward };
    let away = (face + DVec3::Z * 0.22).normalize_or(face);
    let mut scene = shell::seen(subject, middle + away * 340.0, middle);
    // sheets on both sides of the tubes, the near one seen
    let lift = face * cage.member(gusset.between.0).map_or(19.0, |bar| bar.tube.outside.mm() / 2.0);
    let sheet = [corner, one, other].map(|point| point + lift);
    scene.gussets.extend([sheet.to_vec(), [corner, one, other].map(|point| point - lift).to_vec()]);
    let outward = (one - other).normalize_or(DVec3::X) * 2.0;
    scene.tapes = vec![Tape { from: corner + lift + outward, to: one + lift + outward, face }];
    Some(scene)
}

/// A plate with a tape both ways, or its edge.
pub(super) fn plate(subject: Subject<'_>, shot: &Shot) -> Option<Scene> {
    let cage = &subject.found.worked.cage;
    let plate = cage.plate(shot.of)?;
    let (long, wide) = (plate.sides.0.value.mm() / 2.0, plate.sides.1.value.mm() / 2.0);
    let at = plate.centre;
    let corner = |x: f64, y: f64| at + DVec3::new(x * long, y * wide, 0.0);
    let inward = if at.y > 0.0 { -1.0 } else { 1.0 };
    let edge = shot.view.as_deref() == Some("edge");
    let away = if edge { DVec3::new(0.25, inward, 0.22) } else { DVec3::new(0.3, inward * 0.75, 1.05) };
    let far = if edge { 210.0 } else { 300.0 };
    let mut scene = shell::seen(subject, at + away.normalize() * far, at + DVec3::Z * 8.0);
    // the far end of the inner long side is where both tapes begin
    let (from, near) = (corner(-1.0, inward), inward * (wide + 2.0));
    let along = at + DVec3::new(-long, near, 0.0);
    scene.tapes.push(Tape { from: along, to: along + DVec3::X * (long * 2.0), face: DVec3::Z });
    if !edge {
        let to = from - DVec3::Y * inward * wide * 2.0;
        scene.tapes.push(Tape { from: from - DVec3::X * 20.0, to: to - DVec3::X * 20.0, face: DVec3::Z });
    }
    Some(scene)
}

/// A bar: at its first bend with the caliper, or half way along it.
pub(super) fn bar(subject: Subject<'_>, shot: &Shot) -> Option<Scene> {
    let bar = subject.found.worked.cage.member(shot.of)?;
    if shot.key.contains("caliper")
        && let Some(scene) = bend(subject, bar)
    {
        return Some(scene);
    }
    let (at, along) = bar.line.point_at(bar.developed * 0.55);
    let inward = DVec3::new(0.0, -at.y, 500.0 - at.z).normalize_or(DVec3::Z);
    let away = (inward + along * 0.5).normalize_or(inward);
    let mut scene = shell::seen(subject, at + away * 360.0, at);
    let radius = bar.tube.outside.mm() / 2.0;
    // a tape from the tube out to the body
    let outward = (-inward - along * (-inward).dot(along)).normalize_or(DVec3::Z);
    let from = at + outward * radius + along * 4.0;
    scene.tapes.push(Tape { from, to: from + outward * 60.0, face: along });
    Some(scene)
}

fn bend(subject: Subject<'_>, bar: &Member) -> Option<Scene> {
    let bend = bar.line.bends().first()?;
    let (at, along) = bar.line.point_at(bend.start + bend.arc() / 2.0);
    let inner = (at - bend.corner).try_normalize()?;
    let normal = along.cross(inner).try_normalize()?;
    let inward = DVec3::new(at.x * 0.6, 0.0, 600.0) - at;
    let face = if normal.dot(inward) < 0.0 { -normal } else { normal };
    let measured = subject
        .found
        .worked
        .figures
        .iter()
        .find(|figure| figure.measure == Measure::Roundness && figure.of == bar.balloon);
    let round = match measured.map(|figure| figure.amount) {
        Some(Amount::Ratio(ratio)) => ratio,
        _ => ROUNDNESS,
    };
    let gap = bar.tube.outside * round;
    let mut scene = shell::seen(subject, at + face * 330.0, at + along * 10.0);
    let down = if along.z < 0.0 { along } else { -along };
    let reading = format!("{:.3} in", gap.inches());
    scene.caliper = Some(Caliper { at: at + face * (gap.mm() / 2.0), across: inner, down, gap, reading });
    Some(scene)
}

/// A stick's end, its wall between the caliper's jaws.
pub(super) fn wall(subject: Subject<'_>, shot: &Shot) -> Option<Scene> {
    let stick = subject.facts.sticks.iter().find(|stick| stick.number == shot.of.number)?;
    let size = stick.size.value;
    let (outer, inner) = (size.outside.mm() / 2.0, size.outside.mm() / 2.0 - size.wall.mm());
    let ring = |radius: f64, turn: u32| {
        let turn = f64::from(turn) / 24.0 * std::f64::consts::TAU;
        DVec3::new(0.0, radius * turn.cos(), radius * turn.sin())
    };
    let disc = |radius: f64| (0..24).map(|turn| ring(radius, turn)).collect();
    let reading = format!("{:.3} in", size.wall.inches());
    let middle = DVec3::Z * (outer - size.wall.mm() / 2.0);
    let caliper = Caliper { at: middle + DVec3::X, across: DVec3::Z, down: -DVec3::Y, gap: size.wall, reading };
    let floor = [(-3e3, -3e3), (3e3, -3e3), (3e3, 3e3), (-3e3, 3e3)];
    let bench = |(x, y): (f64, f64)| DVec3::new(x, y, -outer - 2.0);
    Some(Scene {
        tubes: vec![(vec![DVec3::ZERO, DVec3::X * -900.0], Length::from_mm(outer))],
        panels: vec![
            Panel { corners: floor.map(bench).to_vec(), colour: [136, 112, 86] },
            Panel { corners: disc(outer), colour: [196, 199, 204] },
            Panel { corners: disc(inner), colour: [38, 38, 40] },
        ],
        caliper: Some(caliper),
        from: DVec3::new(230.0, 40.0, 60.0),
        at: DVec3::new(0.0, 24.0, 18.0),
        ..Scene::default()
    })
}
