//! The basic structures, each a function from tape measurements to bars.

mod front_hoop;
mod half_hoops;
mod lateral_hoops;
mod legs;

use super::draft::Draft;
use crate::domain::cage::record::basic_structure::BasicStructure;

/// Lays out the bars of the structure that the record names.
pub(in crate::domain::cage) fn lay(draft: &mut Draft<'_>) {
    match draft.record.structure {
        BasicStructure::FrontHoop => front_hoop::lay(draft),
        BasicStructure::HalfHoops => half_hoops::lay(draft),
        BasicStructure::LateralHoops => lateral_hoops::lay(draft),
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::domain::cage::parts::{Cage, End};
    use crate::domain::cage::record::CageRecord;
    use crate::domain::cage::record::example::{TUBES, example_on};
    use crate::domain::cage::record::measures::{Hand, TapeMeasure};
    use crate::domain::cage::record::options::{Diagonal, DoorBars, Options, RoofDiagonal};
    use crate::domain::cage::solve;
    use crate::domain::words::ids::Balloon;
    use crate::domain::words::roles::MemberRole as R;
    use crate::quantity::{Length, Typed};

    fn bare(structure: BasicStructure) -> Cage {
        let record = CageRecord { options: Options::default(), gussets: Vec::new(), ..example_on(structure) };
        solve(&record.numbered_for(&TUBES), &TUBES)
    }

    /// The article's three alternatives, bar by bar, each on six feet (FIA Appendix J, Article 253, chapter 8, basic
    /// structure; gathered from memory as a main hoop, a front hoop and two longitudinal members; a main hoop, two half
    /// hoops and one transverse member; two lateral hoops and two transverse members; always two backstays).
    #[test]
    fn each_structure_has_the_bars_and_feet_of_the_article() {
        let article = [
            (BasicStructure::FrontHoop, vec![(R::MainHoop, 1), (R::FrontHoop, 1), (R::RoofBar, 2), (R::Backstay, 2)]),
            (
                BasicStructure::HalfHoops,
                vec![(R::MainHoop, 1), (R::LateralHalfHoop, 2), (R::WindscreenHeader, 1), (R::Backstay, 2)],
            ),
            (
                BasicStructure::LateralHoops,
                vec![(R::LateralHoop, 2), (R::WindscreenHeader, 1), (R::RearTransverseBar, 1), (R::Backstay, 2)],
            ),
        ];
        for (structure, bars) in article {
            let cage = bare(structure);
            assert_eq!(cage.faults, [], "{structure:?}");
            let mut count: BTreeMap<R, usize> = BTreeMap::new();
            for member in &cage.members {
                *count.entry(member.role).or_default() += 1;
            }
            assert_eq!(count, bars.into_iter().collect(), "{structure:?}");
            let feet = cage.members.iter().flat_map(|member| member.ends);
            assert_eq!(feet.filter(|end| matches!(end, End::OnPlate(_))).count(), 6, "{structure:?}");
            assert_eq!(cage.plates.len(), 6, "{structure:?}");
            assert_eq!(cage.structure(), Some(structure));
        }
    }

    /// Hoops are one piece that follows what was measured: the bends' corners are the measured points.
    #[test]
    fn hoops_bend_where_the_tape_was_held() {
        let corners = |structure, key: &str| -> Vec<[i64; 3]> {
            let cage = bare(structure);
            let line = &cage.member_called(key).unwrap().line;
            #[expect(clippy::cast_possible_truncation, reason = "hundredths of an inch of a car")]
            let rounded = |at: f64| (at / 25.4 * 100.0).round() as i64;
            line.bends().iter().map(|bend| bend.corner.to_array().map(rounded)).collect()
        };
        // Knees at 42, 25 3/4, 26 1/8 in, screen corners at 27, 18 7/8, 41 1/2 in.
        let want = [[4200, 2575, 2613], [2700, 1888, 4150], [2700, -1888, 4150], [4200, -2575, 2613]];
        assert_eq!(corners(BasicStructure::FrontHoop, "front-hoop"), want);
        // Shoulder 19 1/2 in up, 50 1/4 in wide; roof 43 5/8 in up, 38 3/4 in wide, 1 1/2 in back.
        let want = [[-67, -2513, 1950], [-150, -1938, 4363], [2700, -1888, 4150], [4200, -2575, 2613]];
        assert_eq!(corners(BasicStructure::LateralHoops, "lateral-hoop/right"), want);
    }

    /// The whole set of bracing stands on each structure, gussets and all.
    #[test]
    fn the_example_is_a_whole_cage_on_each_structure() {
        for structure in BasicStructure::ALL {
            let cage = solve(&example_on(structure), &TUBES);
            assert_eq!(cage.faults, [], "{structure:?}");
            assert_eq!((cage.members.len(), cage.gussets.len()), (29, 6), "{structure:?}");
            for member in &cage.members {
                assert!(!member.ends.contains(&End::Free), "{structure:?} {}", member.key);
            }
        }
    }

    /// Every form of bracing is laid on each structure, and roof diagonals end on what lies across the roof there.
    #[test]
    fn every_form_of_bracing_is_laid_on_each_structure() {
        let roofs = [
            (RoofDiagonal::One, 1),
            (RoofDiagonal::Cross, 3),
            (RoofDiagonal::VForward, 2),
            (RoofDiagonal::VRearward, 2),
        ];
        let doors = [(DoorBars::One, 1), (DoorBars::Two, 2), (DoorBars::Cross, 3), (DoorBars::None, 0)];
        let frames = [(Diagonal::One, 1), (Diagonal::Cross, 3), (Diagonal::None, 0), (Diagonal::One, 1)];
        for structure in BasicStructure::ALL {
            let across = match structure {
                BasicStructure::FrontHoop => [R::MainHoop, R::FrontHoop],
                BasicStructure::HalfHoops => [R::MainHoop, R::WindscreenHeader],
                BasicStructure::LateralHoops => [R::RearTransverseBar, R::WindscreenHeader],
            };
            for ((roof, door), frame) in roofs.iter().zip(doors).zip(frames) {
                let example = example_on(structure);
                let options = Options {
                    roof_diagonal: roof.0,
                    hoop_diagonal: frame.0,
                    backstay_diagonal: frame.0,
                    door_left: door.0,
                    door_right: door.0,
                    through: Hand::Right,
                    ..example.options.clone()
                };
                let record = CageRecord { options, gussets: Vec::new(), ..example };
                let cage = solve(&record.numbered_for(&TUBES), &TUBES);
                assert_eq!(cage.faults, [], "{structure:?} {roof:?}");
                let count = |role| cage.members.iter().filter(|member| member.role == role).count();
                assert_eq!((count(R::RoofDiagonal), count(R::DoorBar)), (roof.1, 2 * door.1), "{structure:?}");
                assert_eq!((count(R::HoopDiagonal), count(R::BackstayDiagonal)), (frame.1, frame.1), "{structure:?}");
                let once = [R::HarnessBar, R::DashBar, R::HoopCrossBar].map(|role| count(role) > 0);
                assert_eq!((once, count(R::PillarStrut), count(R::SillBar)), ([true; 3], 2, 2), "{structure:?}");
                for bar in cage.members.iter().filter(|member| member.role == R::RoofDiagonal) {
                    let onto = |end: &End| match end {
                        End::Onto { carrier, .. } => cage.member(*carrier).map(|carrier| carrier.role),
                        _ => None,
                    };
                    let [rear, front] = bar.ends.each_ref().map(|end| onto(end).unwrap());
                    let [behind, over] = across;
                    assert!([behind, R::RoofDiagonal].contains(&rear), "{structure:?} {roof:?}: {rear:?}");
                    assert!([over, R::RoofDiagonal].contains(&front), "{structure:?} {roof:?}: {front:?}");
                }
            }
        }
    }

    /// One measurement moves what hangs on it and nothing else. A hoop is one piece: where a front hoop's top turns, both
    /// roof bars follow it, and a lateral hoop's roof turns with both its bends.
    #[test]
    fn one_measurement_moves_what_hangs_on_it() {
        for (structure, moved) in [
            (BasicStructure::FrontHoop, vec!["front-hoop", "roof-bar/left", "roof-bar/right"]),
            (BasicStructure::HalfHoops, vec!["half-hoop/left", "header"]),
            (BasicStructure::LateralHoops, vec!["lateral-hoop/left", "header", "rear-transverse-bar", "backstay/left"]),
        ] {
            let plain = CageRecord { options: Options::default(), gussets: Vec::new(), ..example_on(structure) };
            let mut changed = plain.clone();
            // The right side keeps its own figure.
            let right = plain.measures[&TapeMeasure::ScreenCornerForward(Hand::Left)].clone();
            changed.measures.insert(TapeMeasure::ScreenCornerForward(Hand::Right), right);
            let further = Typed::of(Length::from_inches(28.0), "28 in");
            changed.measures.insert(TapeMeasure::ScreenCornerForward(Hand::Left), further);
            let (before, after) = (solve(&plain, &TUBES), solve(&changed, &TUBES));
            let differ = before.members.iter().zip(&after.members).filter(|(one, other)| one.line != other.line);
            let keys: Vec<&str> = differ.map(|(one, _)| one.key.as_str()).collect();
            assert_eq!(keys, moved, "{structure:?}");
        }
    }

    /// Changing the structure and back gives each bar the number it had.
    #[test]
    fn numbers_stay_when_the_structure_is_changed_and_changed_back() {
        let first = example_on(BasicStructure::HalfHoops);
        let other = CageRecord { structure: BasicStructure::LateralHoops, ..first.clone() }.numbered_for(&TUBES);
        let back = CageRecord { structure: BasicStructure::HalfHoops, ..other.clone() }.numbered_for(&TUBES);
        assert_eq!(back.numbers, other.numbers);
        for (key, balloon) in &first.numbers {
            assert_eq!(back.numbers.get(key), Some(balloon), "{key}");
        }
        let mut given: Vec<&Balloon> = back.numbers.values().collect();
        given.sort();
        given.dedup();
        assert_eq!(given.len(), back.numbers.len());
    }
}
