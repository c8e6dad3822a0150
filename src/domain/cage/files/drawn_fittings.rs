//! The plates and gussets of a cage file, put where its bars stand and meet.

use glam::{DVec2, DVec3};

use super::cage_file::{File, FileGusset, FilePlate, Unit};
use crate::domain::cage::parts::{Cage, End, Gusset, Plate};
use crate::domain::cage::record::fittings::{Arm, Fixing, Foot};
use crate::domain::cage::record::measures::Hand;
use crate::domain::cage::solve::angles::leaving;
use crate::domain::cage::solve::gussets::{Piece, fitted};
use crate::domain::steel::tube::STEEL_KG_PER_MM3;
use crate::quantity::{Length, Mass, Typed};

/// A plate that a bar stands on and whose size is given.
pub(in crate::domain::cage) fn plate_of(file: &File, cage: &Cage, plate: &FilePlate) -> Option<Plate> {
    let [along, across] = plate.sides?.map(|side| typed(file.unit, side));
    let thickness = typed(file.unit, plate.thickness?);
    let ends_on = End::OnPlate(plate.balloon);
    let bar = cage.members.iter().find(|member| member.ends.contains(&ends_on))?;
    let [first, _] = bar.ends;
    let (start, finish) = (bar.line.points().first()?, bar.line.points().last()?);
    let (centre, other) = if first == ends_on { (start, finish) } else { (finish, start) };
    let holes: Vec<(DVec2, Length)> = plate
        .holes
        .iter()
        .map(|hole| (DVec2::from_array(hole.at.map(|at| file.unit.length(at).mm())), file.unit.length(hole.diameter)))
        .collect();
    let area = along.value.times(across.value);
    let open: f64 = holes.iter().map(|hole| hole.1.mm().powi(2) * std::f64::consts::FRAC_PI_4).sum();
    Some(Plate {
        balloon: plate.balloon,
        foot: Foot::of(bar.role, centre.x < other.x),
        hand: if centre.y < 0.0 { Hand::Right } else { Hand::Left },
        under: bar.balloon,
        centre: *centre,
        fixed: if holes.is_empty() { Fixing::Welded } else { Fixing::Bolted },
        normal: upward(plate),
        holes,
        area,
        mass: Mass::from_kg((area.mm2() - open).max(0.0) * thickness.value.mm() * STEEL_KG_PER_MM3),
        sides: (along, across),
        thickness,
    })
}

/// Square to a plate's top: straight up where the file does not say.
pub(in crate::domain::cage) fn upward(plate: &FilePlate) -> DVec3 {
    plate.normal.and_then(|normal| DVec3::from_array(normal).try_normalize()).unwrap_or(DVec3::Z)
}

fn typed(unit: Unit, value: f64) -> Typed<Length> {
    Typed::of(unit.length(value), format!("{value} {}", unit.word()))
}

/// A gusset at the joint where both its bars leave as it says.
pub(in crate::domain::cage) fn gusset_of(file: &File, cage: &Cage, gusset: &FileGusset) -> Result<Gusset, String> {
    let [one, other] = &gusset.between;
    for joint in &cage.joints {
        let leaving = leaving(&cage.members, joint);
        let find = |arm: &Arm| leaving.iter().find(|leaving| leaving.is_exactly(arm));
        let (Some(first), Some(second)) = (find(one), find(other)) else { continue };
        let thinner = [first, second].map(|arm| arm.member.tube.outside.mm()).into_iter().fold(f64::INFINITY, f64::min);
        let piece = Piece {
            balloon: gusset.balloon,
            kind: gusset.kind,
            leg: file.unit.length(gusset.leg),
            thickness: file.unit.length(gusset.thickness),
            hole: gusset.hole.map(|hole| file.unit.length(hole)),
            outside: gusset.outside.map_or(Length::from_mm(thinner), |outside| file.unit.length(outside)),
        };
        return fitted(joint, [first, second], &piece);
    }
    Err(format!("{} and {} meet at no joint from which both leave as it says.", one.member, other.member))
}
