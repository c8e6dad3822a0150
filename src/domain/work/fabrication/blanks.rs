//! What is cut of sheet and short tube: the blank of each gusset and of each plate under a foot.

use glam::{DVec2, DVec3, dvec2};

use crate::domain::cage::{Cage, Fixing, Gusset, GussetCut, GussetHole, GussetKind, Plate};
use crate::domain::words::ids::Balloon;
use crate::geometry::gusset::{INSIDE_RADIUS, ROOT};
use crate::geometry::sheet_blank::neutral_share;
use crate::geometry::{Cope, Hole, SheetBlank};
use crate::quantity::{Area, Length, Mass, Show as _, Units};

/// Points of a tube's footprint on its plate.
const FOOTPRINT: u32 = 72;
/// Least metal round a hole, in thicknesses of the sheet (own choice).
const ROUND_A_HOLE: f64 = 1.5;

/// Wings that stand off a tube by less than this lie on it (own choice).
const OFF: Length = Length::from_mm(0.1);

/// One blank.
#[derive(Debug, Clone, PartialEq)]
pub struct Blank {
    /// The part's number.
    pub balloon: Balloon,
    /// What it is: `bent-sheet saddle gusset between M2 and M1`.
    pub words: String,
    /// How it is cut.
    pub cut: GussetCut,
    /// Of the sheet, or the tube's wall.
    pub thickness: Length,
    /// Along each tube, of a gusset.
    pub leg: Option<Length>,
    /// The hole in a gusset's flat side, as far as anybody said; not read for a plate.
    pub hole: GussetHole<Length>,
    /// As cut, holes taken out.
    pub mass: Mass,
    /// The words at its left and right edge, and at its upper one.
    pub edges: [String; 3],
    /// Of a bent one: the inside radius, what each bend takes, and the neutral fibre as a share of the thickness.
    pub bend: Option<Bend>,
    /// The thinner of a saddle's two tubes, and how far the wings stand off its flanks.
    pub wings_off: Option<(Balloon, Length)>,
}

/// How a saddle's bends are reckoned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Of the bend's inner face.
    pub inside: Length,
    /// Taken of the flat sheet.
    pub allowance: Length,
    /// Where the fibre that keeps its length lies, as a share of the thickness.
    pub neutral: f64,
}

impl Blank {
    /// The blank of a gusset; none where one of its bars is not there or it cannot be cut.
    pub fn of_gusset(cage: &Cage, gusset: &Gusset) -> Option<Self> {
        let (one, other) = (cage.member(gusset.between.0)?, cage.member(gusset.between.1)?);
        let outside = [one.tube.outside, other.tube.outside];
        let cut = gusset.cut(outside).ok()?;
        let inside = gusset.thickness * INSIDE_RADIUS;
        let bend = (gusset.kind == GussetKind::Saddle).then(|| Bend {
            inside,
            allowance: gusset.seat(outside).saddle_bend(gusset.thickness),
            neutral: neutral_share(inside, gusset.thickness),
        });
        let wings_off = [one, other].into_iter().zip(gusset.seat(outside).wings_off());
        let wings_off = wings_off.filter(|(_, off)| gusset.kind == GussetKind::Saddle && *off > OFF);
        Some(Self {
            wings_off: wings_off.map(|(bar, off)| (bar.balloon, off)).next(),
            balloon: gusset.balloon,
            words: format!("{} gusset between {} and {}", gusset.kind.word(), one.balloon, other.balloon),
            thickness: gusset.thickness,
            leg: Some(gusset.leg),
            hole: gusset.hole,
            mass: cut.mass(gusset.thickness),
            cut,
            edges: [format!("to {}", one.balloon), format!("to {}", other.balloon), String::new()],
            bend,
        })
    }

    /// The blank of a plate, seen from above with the nose of the car upward; none without an area.
    pub fn of_plate(cage: &Cage, plate: &Plate) -> Option<Self> {
        let (along, across) = (plate.sides.0.value, plate.sides.1.value);
        let mut blank = SheetBlank::rectangle(across, along).ok()?;
        blank.holes =
            plate.holes.iter().map(|(at, diameter)| Hole { centre: dvec2(-at.y, at.x), diameter: *diameter }).collect();
        let half = dvec2(across.mm(), along.mm()) / 2.0;
        blank.scribed = vec![
            vec![dvec2(-half.x, 0.0), dvec2(half.x, 0.0)],
            vec![dvec2(0.0, -half.y), dvec2(0.0, half.y)],
            footprint(cage, plate),
        ];
        blank.scribed.retain(|run| !run.is_empty());
        let bar = cage.member(plate.under).map_or("foot of", |bar| bar.role.word());
        let held = if plate.fixed == Fixing::Bolted { "bolted plate" } else { "plate" };
        Some(Self {
            balloon: plate.balloon,
            words: format!("{held} under the {bar} {}", plate.under),
            thickness: plate.thickness.value,
            leg: None,
            hole: GussetHole::NotStated,
            mass: plate.mass,
            cut: GussetCut::Sheet(blank),
            edges: ["left".to_owned(), "right".to_owned(), "forward".to_owned()],
            bend: None,
            wings_off: None,
        })
    }

    /// The blanks of all plates and gussets, plates first.
    pub fn all(cage: &Cage) -> Vec<Self> {
        let plates = cage.plates.iter().filter_map(|plate| Self::of_plate(cage, plate));
        plates.chain(cage.gussets.iter().filter_map(|gusset| Self::of_gusset(cage, gusset))).collect()
    }

    /// The blank of the plate or gusset with this number.
    pub fn of(cage: &Cage, balloon: Balloon) -> Option<Self> {
        let plate = || cage.plate(balloon).and_then(|plate| Self::of_plate(cage, plate));
        cage.gusset(balloon).map_or_else(plate, |gusset| Self::of_gusset(cage, gusset))
    }

    /// The sheet's area, holes taken out; none of a tube.
    pub fn area(&self) -> Option<Area> {
        match &self.cut {
            GussetCut::Sheet(blank) => Some(blank.net()),
            GussetCut::Tube(..) => None,
        }
    }

    /// What its maker must know beyond the figures, in sentences; the first ones are about what does not fit.
    pub fn notes(&self, units: Units) -> Vec<String> {
        let mut notes = Vec::new();
        match &self.cut {
            GussetCut::Sheet(blank) => {
                if let Some(left) = blank.round_holes().filter(|left| *left < self.thickness * ROUND_A_HOLE) {
                    notes.push(if left > Length::default() {
                        let left = left.show(units);
                        format!("LOOK: the hole leaves only {left} of metal beside it. Choose a smaller hole.")
                    } else {
                        "LOOK: the hole breaks out of the blank. Choose a smaller hole.".to_owned()
                    });
                }
                notes.extend(self.describe_wings(units));
                if let Some(bend) = self.bend {
                    notes.push(format!(
                        "Bend square along both dashed lines, inside radius {}; each bend takes {} of the flat \
sheet, K {:.3} (DIN 6935, from memory). Bend a test strip of the same sheet first. Edges are where the inner face \
meets the tubes; the outer face leaves a groove for the weld.",
                        bend.inside.show(units),
                        bend.allowance.show(units),
                        bend.neutral
                    ));
                }
                if self.leg.is_some() {
                    notes.extend(match self.hole {
                        GussetHole::NotStated => {
                            Some("LOOK: nobody said whether it has a hole; it is drawn without one.".to_owned())
                        }
                        GussetHole::NoHole => Some("It has no hole.".to_owned()),
                        GussetHole::Across(_) => None,
                    });
                    notes.push(format!(
                        "Legs count from the corner where the tubes' surfaces meet; the corner is cut back {} along \
each tube to clear the joint's weld (common practice).",
                        ROOT.show(units)
                    ));
                } else {
                    notes.push(
                        "Seen from above. The chain lines are the middle; the round line is where the tube stands."
                            .to_owned(),
                    );
                    if blank.holes.is_empty() {
                        notes.push("No holes are known for it: where it is bolted, the book says how many.".to_owned());
                    }
                }
            }
            GussetCut::Tube(piece, _) => {
                let turned = piece.copes.each_ref().map(Cope::place_zero);
                let way = if turned[0].dot(turned[1]) > 0.0 { "on the same side" } else { "on opposite sides" };
                notes.push(format!(
                    "Both copes lie in one plane: scribe one line along the tube; the long points of the two ends are {way} \
of it as each template shows."
                ));
            }
        }
        notes
    }
}

impl Blank {
    /// How far the wings stand off the thinner tube; a weld does not close a gap wider than the sheet is thick.
    fn describe_wings(&self, units: Units) -> Option<String> {
        let (bar, off) = self.wings_off?;
        let look = if off > self.thickness { "LOOK: " } else { "" };
        Some(format!(
            "{look}The wings lie on the flanks of the wider tube. Off {bar}, the thinner one, they stand {} on each side: pack \
both gaps with sheet so thick before you weld, and let the welder say how (common practice).",
            off.show(units)
        ))
    }
}

/// Where the bar's wall meets its plate, about the plate's middle: x to the right, y forward, seen from above.
fn footprint(cage: &Cage, plate: &Plate) -> Vec<DVec2> {
    let Some(bar) = cage.member(plate.under) else { return Vec::new() };
    let first = bar.line.points().first().is_some_and(|point| point.distance(plate.centre) < 1.0);
    let way = bar.line.into_bar(usize::from(!first));
    let level = way.dot(plate.normal);
    if level.abs() < 1e-3 {
        return Vec::new();
    }
    // On a plate that stands upright along the car, forward is up.
    let flat = |toward: DVec3| (toward - plate.normal * toward.dot(plate.normal)).try_normalize();
    let upright = plate.normal.x.abs() > 0.999;
    let Some(forward) = flat(if upright { DVec3::Z } else { DVec3::X }) else { return Vec::new() };
    let right = forward.cross(plate.normal);
    let (one, other) = way.any_orthonormal_pair();
    let radius = bar.tube.outside.mm() / 2.0;
    (0..=FOOTPRINT)
        .map(|step| {
            let (sine, cosine) = (f64::from(step) / f64::from(FOOTPRINT) * std::f64::consts::TAU).sin_cos();
            let wall = (one * cosine + other * sine) * radius;
            let on = wall - way * (wall.dot(plate.normal) / level);
            dvec2(on.dot(right), on.dot(forward))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::domain::steel::tube::TubeSize;

    /// Every plate and gusset of the example has a blank of the mass the cage reckons with, and no hole breaks out.
    #[test]
    fn every_part_has_its_blank() {
        let cage = solve(&example_record(), &TUBES);
        let blanks = Blank::all(&cage);
        assert_eq!(blanks.len(), cage.plates.len() + cage.gussets.len());
        let together: Mass = blanks.iter().map(|blank| blank.mass).sum();
        assert!((together.kg() - (cage.mass() - cage.tube_mass()).kg()).abs() < 1e-9);
        for blank in &blanks {
            let notes = blank.notes(Units::Metric);
            assert!(!notes.iter().any(|note| note.starts_with("LOOK")), "{}: {notes:?}", blank.balloon);
            assert_eq!(Blank::of(&cage, blank.balloon).as_ref(), Some(blank));
        }
    }

    /// 1.625 in beside 1.5 in: half of an eighth of an inch on each side, 1.5875 mm. Beside an equal tube nothing is said; a
    /// gap wider than the sheet is looked at.
    #[test]
    fn a_saddle_says_how_far_its_wings_stand_off() {
        let cage = solve(&example_record(), &TUBES);
        let gusset = cage.gussets.iter().find(|gusset| gusset.kind == GussetKind::Saddle).unwrap();
        let wide = TubeSize::inch(1.625, 0.095);
        let describe = |other: TubeSize, thick: f64| {
            let mut cage = cage.clone();
            for bar in &mut cage.members {
                bar.tube = if bar.balloon == gusset.between.1 { other } else { wide };
            }
            let gusset = Gusset { thickness: Length::from_mm(thick), ..gusset.clone() };
            let blank = Blank::of_gusset(&cage, &gusset).unwrap();
            blank.notes(Units::Metric).into_iter().find(|note| note.contains("wings lie"))
        };
        let thin = TubeSize::inch(1.5, 0.083);
        let note = describe(thin, 2.0).unwrap();
        assert!(note.starts_with("The wings") && note.contains(&format!("Off {}", gusset.between.1)), "{note}");
        assert!(note.contains("stand 1.6 mm on each side"), "{note}");
        assert!(describe(thin, 1.0).unwrap().starts_with("LOOK"));
        assert_eq!(describe(wide, 2.0), None);
    }

    /// The footprint is the ellipse of a tube cut by the plate: its area is the tube's over the cosine of its lean.
    #[test]
    fn a_footprint_is_the_tubes_section() {
        let cage = solve(&example_record(), &TUBES);
        for plate in &cage.plates {
            let run = footprint(&cage, plate);
            let bar = cage.member(plate.under).unwrap();
            let doubled: f64 = run.iter().zip(run.iter().skip(1)).map(|(one, other)| one.perp_dot(*other)).sum();
            let first = bar.line.points()[0].distance(plate.centre) < 1.0;
            let way = if first { bar.line.direction_at_start() } else { bar.line.direction_at_end() };
            let want = std::f64::consts::FRAC_PI_4 * bar.tube.outside.mm().powi(2) / way.z.abs();
            assert!((doubled.abs() / 2.0 - want).abs() < want * 2e-3, "{}", plate.balloon);
        }
    }
}
