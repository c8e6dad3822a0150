//! A cage file: the bars given by points, the joints worked out. Our own JSON, version 1.

use glam::DVec3;

use super::cage_file::{File, FileEnd, FileMember, Onto};
use super::drawn_fittings::{gusset_of, plate_of, upward};
use super::slips::slip;
use crate::domain::cage::lay::joints::{mean, together};
use crate::domain::cage::parts::{Cage, End, Joint, Member, Plate, Side, Uncut, weld};
use crate::domain::cage::solve::fitting::{EndsOn, Fitting, Standing, into_its_bend};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::roles::MemberRole;
use crate::geometry::centre_line::SAME_POINT;
use crate::geometry::{CentreLine, Cope};
use crate::quantity::Length;

/// An end's point may lie this far from where its carrier and offset say (own choice).
const OFF: Length = Length::from_mm(0.5);
/// Farther from the origin than this no bar of a car is.
const FAR: f64 = 20_000.0;

struct Bar {
    balloon: Balloon,
    role: MemberRole,
    tube: TubeSize,
    line: CentreLine,
    ends: [FileEnd; 2],
}

/// Reads a cage file and works out its joints, copes, lengths and masses. What is wrong with the file comes back as
/// faults, by line and column or by balloon; what cannot be cut is named among the cage's own faults.
pub(in crate::domain::cage) fn read(text: &str) -> Result<Cage, Vec<Fault>> {
    let file: File = serde_json::from_str(text).map_err(|error| vec![slip(&error)])?;
    let faults = file.faults();
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut faults = Vec::new();
    let bars: Vec<Bar> = file.members.iter().filter_map(|member| bar(&file, member, &mut faults)).collect();
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut cage = Cage::default();
    members(&bars, &file, &mut cage);
    cage.joints = joints(&cage);
    let plates: Vec<Plate> = file.plates.iter().filter_map(|plate| plate_of(&file, &cage, plate)).collect();
    cage.plates = plates;
    for gusset in &file.gussets {
        match gusset_of(&file, &cage, gusset) {
            Ok(gusset) => cage.gussets.push(gusset),
            Err(why) => cage.faults.push(Fault::new(gusset.balloon.to_string(), why)),
        }
    }
    Ok(cage)
}

fn bar(file: &File, member: &FileMember, faults: &mut Vec<Fault>) -> Option<Bar> {
    let at = member.balloon.to_string();
    let (outside, wall) = (file.unit.length(member.tube.outside), file.unit.length(member.tube.wall));
    let tube = TubeSize { outside, wall, printed: file.unit.units() };
    let before = faults.len();
    faults.extend(tube.faults_at(&at));
    let points: Vec<DVec3> = member.points.iter().map(|point| file.unit.point(*point)).collect();
    if points.iter().any(|point| !point.is_finite() || point.abs().max_element() > FAR) {
        faults.push(Fault::new(&at, "A point lies more than 20 m from the origin, or is no number."));
    }
    if faults.len() > before {
        return None;
    }
    match CentreLine::new(points, file.unit.length(member.bend_radius)) {
        Ok(line) => Some(Bar { balloon: member.balloon, role: member.role, tube, line, ends: member.ends.clone() }),
        Err(fault) => {
            faults.push(Fault::new(at, fault.to_string()));
            None
        }
    }
}

/// Where an end stands, for the cage and for its cut; or why it stands nowhere.
type Placed = Result<(End, EndsOn), String>;

fn members(bars: &[Bar], file: &File, cage: &mut Cage) {
    let placed: Vec<[Placed; 2]> = bars.iter().map(|bar| [0, 1].map(|number| place(bar, bars, file, number))).collect();
    let ends_on = |placed: &Placed| placed.as_ref().map_or(EndsOn::Free, |placed| placed.1.clone());
    let standing = bars.iter().zip(&placed).map(|(bar, placed)| Standing {
        balloon: Some(bar.balloon),
        outside: bar.tube.outside,
        line: &bar.line,
        ends: placed.each_ref().map(ends_on),
    });
    let fitting = Fitting::new(standing.collect());
    cage.order = fitting.order();
    for (at, (bar, placed)) in bars.iter().zip(placed).enumerate() {
        let mut copes = [None, None];
        let mut round = [Vec::new(), Vec::new()];
        let mut ends = [End::Free, End::Free];
        let all = copes.iter_mut().zip(&mut round).zip(&mut ends).zip(placed).enumerate();
        for (number, (((cope, round), end), placed)) in all {
            let found = placed.and_then(|(ends_on, _)| {
                let cut = match (fitting.cut(at, number), ends_on) {
                    (Some(cut), _) => cut.map(|cut| {
                        round.extend(cut.round().filter_map(|other| bars.get(other)).map(|other| other.balloon));
                        Some(cut.fitted.cope)
                    }),
                    (None, End::OnPlate(plate)) => {
                        let normal = file.plates.iter().find(|known| known.balloon == plate).map_or(DVec3::Z, upward);
                        Cope::on_plate(normal, bar.line.into_bar(number), bar.tube.outside).map(Some)
                    }
                    (None, _) => Ok(None),
                };
                Ok((ends_on, cut.map_err(|fault| fault.to_string())?))
            });
            match found {
                Ok(found) => {
                    let bent = found.1.as_ref().and_then(|cope| into_its_bend(&bar.line, number, cope));
                    cage.faults.extend(bent.map(|why| Fault::new(bar.balloon.to_string(), why)));
                    (*end, *cope) = found;
                }
                Err(why) => cage.faults.push(Fault::new(bar.balloon.to_string(), why)),
            }
        }
        let middle = bar.line.point_at(bar.line.developed_length() / 2.0).0;
        let (key, side, line) = (bar.balloon.to_string(), Side::at(middle), bar.line.clone());
        let Bar { balloon, role, tube, .. } = *bar;
        cage.members.push(Uncut { key, balloon, role, side, tube, grade: None, line, ends, copes, round }.cut());
    }
}

/// What an end stands on, and where.
fn place(bar: &Bar, bars: &[Bar], file: &File, number: usize) -> Placed {
    let said = bar.ends.get(number).ok_or("It has no such end.")?;
    let point = if number == 0 { bar.line.points().first() } else { bar.line.points().last() };
    let (branch, point) = (bar.line.into_bar(number), *point.ok_or("It has no points.")?);
    if let Some(plate) = said.plate {
        return Ok((End::OnPlate(plate), EndsOn::OnPlate));
    }
    let carriers = match &said.onto {
        None => return Ok((End::Free, EndsOn::Free)),
        Some(Onto::One(carrier)) => vec![*carrier],
        Some(Onto::Corner(carriers)) => carriers.clone(),
    };
    // In a corner each carrier's axis passes the node; only a single carrier can be met beside its axis.
    let corner = carriers.len() > 1;
    let beside = if corner { Length::default() } else { file.unit.length(said.offset) };
    let mut places = Vec::new();
    let mut ends_on = None;
    for balloon in carriers {
        let found = bars.iter().position(|other| other.balloon == balloon);
        let (index, carrier) =
            found.and_then(|index| Some((index, bars.get(index)?))).ok_or("Its carrier is not there.")?;
        let (along, at, off) = carrier.line.nearest(point);
        if (off - beside.abs()).abs() > OFF {
            return Err(format!(
                "Its end lies {:.1} mm from the axis of {balloon}; by its offset it should be {:.1} mm.",
                off.mm(),
                beside.mm().abs()
            ));
        }
        let aside = carrier.line.point_at(along).1.cross(branch).normalize_or_zero();
        if beside.abs() > OFF && (point - at).dot(aside) * beside.mm() < 0.0 {
            return Err(format!("Its offset from {balloon} has the wrong sign: positive is along carrier × bar."));
        }
        // What is written is rounded: the end is cut where its offset says it is.
        ends_on.get_or_insert((balloon, along, if corner { point } else { at + aside * beside.mm() }));
        places.push(index);
    }
    let (carrier, along, node) = ends_on.ok_or("It names no carrier.")?;
    let may_miss = if corner { OFF } else { SAME_POINT };
    Ok((End::Onto { carrier, along, offset: beside }, EndsOn::Onto { carriers: places, along, node, may_miss }))
}

/// Ends that land on the same carrier within one carrier diameter of each other are one joint.
fn joints(cage: &Cage) -> Vec<Joint> {
    let mut found = Vec::new();
    for carrier in &cage.members {
        let mut endings: Vec<(Length, &Member, usize)> = Vec::new();
        for member in &cage.members {
            for (number, end) in member.ends.iter().enumerate() {
                if let End::Onto { carrier: on, along, .. } = end
                    && *on == carrier.balloon
                {
                    endings.push((*along, member, number));
                }
            }
        }
        endings.sort_by(|one, other| one.0.mm().total_cmp(&other.0.mm()));
        for together in together(&endings, carrier.tube.outside, |ending| ending.0) {
            found.push(joint(found.len(), carrier, together));
        }
    }
    found
}

fn joint(before: usize, carrier: &Member, together: &[(Length, &Member, usize)]) -> Joint {
    let number = u32::try_from(before).unwrap_or(u32::MAX).saturating_add(1);
    let (seam, overhead) = weld(together.iter().map(|(_, member, end)| (*member, *end)));
    let along = mean(together.iter().map(|ending| ending.0));
    Joint {
        balloon: Balloon::new(Kind::Joint, number),
        key: format!("joint/{}/{number}", carrier.key),
        carrier: carrier.balloon,
        incoming: together.iter().map(|(_, member, end)| (member.balloon, *end)).collect(),
        at: carrier.line.point_at(along).0,
        along,
        seam,
        overhead,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use serde_json::json;

    /// The example's cage as a file.
    fn file() -> (Cage, serde_json::Value) {
        let cage = solve(&example_record(), &TUBES);
        let members = cage.members.iter().map(|member| {
            let points: Vec<[f64; 3]> = member.line.points().iter().map(DVec3::to_array).collect();
            let ends = member.ends.map(|end| match end {
                End::OnPlate(plate) => json!({ "plate": plate }),
                End::Onto { carrier, .. } => json!({ "onto": carrier, "offset": 0.0 }),
                End::Free => json!({ "free": true }),
            });
            json!({
                "balloon": member.balloon, "role": member.role, "points": points, "ends": ends,
                "tube": { "outside": member.tube.outside.mm(), "wall": member.tube.wall.mm() },
                "bend_radius": member.line.radius().mm(),
            })
        });
        let members: Vec<serde_json::Value> = members.collect();
        let plates = cage.plates.iter().map(|plate| {
            let sides = [plate.sides.0.value.mm(), plate.sides.1.value.mm()];
            json!({ "balloon": plate.balloon, "sides": sides, "thickness": plate.thickness.value.mm() })
        });
        let gussets = cage.gussets.iter().map(|gusset| {
            let bars = [(gusset.between.0, gusset.corners[1]), (gusset.between.1, gusset.corners[2])];
            let between = bars.map(|(bar, tip)| {
                let along = |point: DVec3| cage.member(bar).unwrap().line.nearest(point).0;
                let toward = if along(tip) > along(gusset.corners[0]) { "end" } else { "start" };
                json!({ "member": bar, "toward": toward })
            });
            json!({
                "balloon": gusset.balloon, "between": between, "kind": gusset.kind, "leg": gusset.leg.mm(),
                "thickness": gusset.thickness.mm(), "hole": gusset.hole.map(Length::mm),
            })
        });
        let (plates, gussets): (Vec<_>, Vec<_>) = (plates.collect(), gussets.collect());
        let file = json!({
            "tackbook_cage": 1, "unit": "mm", "members": members, "plates": plates, "gussets": gussets,
        });
        (cage, file)
    }

    /// A cage written out by points and read again has the same cuts, seams, masses and joints.
    #[test]
    fn what_is_written_out_reads_back_to_the_same_numbers() {
        let (cage, file) = file();
        let again = read(&file.to_string()).unwrap();
        assert!(again.faults.is_empty(), "{:?}", again.faults);
        assert_eq!(again.members.len(), cage.members.len());
        for (one, other) in cage.members.iter().zip(&again.members) {
            assert!((one.cut_length - other.cut_length).abs() < Length::from_mm(0.01), "{}", one.key);
            assert!((one.mass.kg() - other.mass.kg()).abs() < 1e-5, "{}", one.key);
            for (seam, again) in one.seams.iter().zip(other.seams) {
                assert!((*seam - again).abs() < Length::from_mm(0.1), "{}", one.key);
            }
        }
        assert_eq!(again.joints.len(), cage.joints.len());
        assert!((again.seam() - cage.seam()).abs() < Length::from_mm(1.0));
        assert_eq!((again.plates.len(), again.gussets.len()), (cage.plates.len(), cage.gussets.len()));
        for (one, other) in cage.plates.iter().zip(&again.plates) {
            assert_eq!((one.foot, one.hand, one.under), (other.foot, other.hand, other.under), "{}", one.balloon);
            assert!((one.mass.kg() - other.mass.kg()).abs() < 1e-9 && one.centre.distance(other.centre) < 1e-9);
        }
        for (one, other) in cage.gussets.iter().zip(&again.gussets) {
            assert_eq!((one.between, one.kind), (other.between, other.kind), "{}", one.balloon);
            assert!((one.mass.kg() - other.mass.kg()).abs() < 1e-5, "{}", one.balloon);
            for (corner, again) in one.corners.iter().zip(&other.corners) {
                // The two lines of a crossing pass within a fraction of a millimetre.
                assert!(corner.distance(*again) < 0.5, "{}", one.balloon);
            }
        }
    }

    /// Onto a plate at 45 degrees a level tube of 38.1 mm is cut 38.1 mm deep (oracle `cope.plate.38.1.45`); holes are
    /// out of the plate's mass, not of its area.
    #[test]
    fn a_leaning_plate_cuts_its_tube_and_keeps_its_holes() {
        let file = json!({
            "tackbook_cage": 1, "unit": "mm",
            "members": [{
                "balloon": "M1", "role": "backstay", "tube": { "outside": 38.1, "wall": 2.413 },
                "points": [[0, -400, 0], [-500, -400, 0]], "ends": [{ "plate": "P1" }, { "free": true }],
            }],
            "plates": [{
                "balloon": "P1", "sides": [120, 120], "thickness": 3, "normal": [-1, 0, 1],
                "holes": [{ "at": [-40, -40], "diameter": 8 }, { "at": [40, 40], "diameter": 8 }],
            }],
        });
        let cage = read(&file.to_string()).unwrap();
        let cope = cage.members[0].copes[0].as_ref().unwrap();
        assert!((cope.short_point() - cope.long_point() - Length::from_mm(38.1)).abs() < Length::from_mm(1e-6));
        assert!((cope.seam() - Length::from_mm(145.549_535_762)).abs() < Length::from_mm(1e-6));
        let plate = &cage.plates[0];
        assert!((plate.area.mm2() - 14_400.0).abs() < 1e-9);
        assert!((plate.mass.kg() - (14_400.0 - 32.0 * std::f64::consts::PI) * 3.0 * 7.85e-6).abs() < 1e-9);
        let mut off = file;
        off["plates"][0]["holes"][0]["at"][0] = json!(58);
        assert!(read(&off.to_string()).unwrap_err()[0].to_string().contains("P1: A hole does not lie inside"));
    }

    #[test]
    fn what_is_wrong_is_named_by_line_or_balloon() {
        let (_, good) = file();
        let refused = |change: &dyn Fn(&mut serde_json::Value)| {
            let mut file = good.clone();
            change(&mut file);
            match read(&file.to_string()) {
                Ok(cage) => cage.faults.into_iter().map(|fault| fault.to_string()).collect::<Vec<_>>().join(" "),
                Err(faults) => faults.into_iter().map(|fault| fault.to_string()).collect::<Vec<_>>().join(" "),
            }
        };
        assert!(refused(&|file| file["colour"] = json!("red")).contains("line 1"));
        assert!(refused(&|file| file["tackbook_cage"] = json!(2)).contains("reads version 1"));
        assert!(refused(&|file| file["members"][3]["ends"][0] = json!({})).starts_with("M4: An end is on a plate"));
        assert!(
            refused(&|file| file["members"][3]["ends"][0] = json!({ "onto": "M99" })).contains("no such other bar")
        );
        assert!(refused(&|file| file["members"][0]["points"][1] = json!([1e9, 0, 0])).contains("20 m"));
        let gusset = |arm: &str| {
            json!([{ "balloon": "G1", "between": [{ "member": "M1", "toward": "end" }, { "member": arm, "toward": "end" }],
                "kind": "flat", "leg": 60.0, "thickness": 3.0 }])
        };
        assert!(refused(&|file| file["gussets"] = gusset("M99")).contains("G1: It cannot sit on M99"));
        assert!(refused(&|file| file["gussets"] = gusset("M1")).contains("G1: The two bars leave"));
        assert!(refused(&|file| file["gussets"] = json!([{ "balloon": "G1", "colour": 1 }])).contains("line 1"));
        let plate = json!([{ "balloon": "P1", "sides": [100.0, 120.0] }]);
        assert!(refused(&|file| file["plates"] = plate.clone()).contains("P1: A plate has sides and a thickness"));
        assert!(refused(&|file| file["members"][0]["tube"]["wall"] = json!(-1.0)).starts_with("M1: A wall"));
        let moved = refused(&|file| file["members"][3]["points"][0][2] = json!(900.0));
        assert!(moved.contains("M4: Its end lies"), "{moved}");
        assert!(read("").is_err() && read("[]").is_err() && read("{\"tackbook_cage\":1}").is_err());
    }
}
