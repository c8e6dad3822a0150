//! A cage and its mirror image: what is cut and bent by is the same but for the hand. Turns and clockings go the other way,
//! each cut is the other's with its places counted backwards; nothing else differs.

use std::f64::consts::TAU;

use proptest::prelude::*;
use serde_json::{Value, json};
use tackbook::domain::cage::files::solved;
use tackbook::domain::cage::record::example::{TUBES, example_record};
use tackbook::domain::cage::record::measures::{Hand, TapeMeasure};
use tackbook::domain::cage::solve;
use tackbook::domain::cage::{Cage, End, Member};
use tackbook::domain::work::fabrication::{BarSheet, Bench, EndCut};
use tackbook::quantity::{Angle, Length, Typed};

/// A cage as a file of points, `across` being 1 as it is and -1 mirrored left for right.
fn file(cage: &Cage, across: f64) -> Value {
    let end = |end: &End| match end {
        End::OnPlate(plate) => json!({ "plate": plate }),
        // The offset is plus along carrier x branch, which a mirror turns round.
        End::Onto { carrier, offset, .. } => json!({ "onto": carrier, "offset": across * offset.mm() }),
        End::Free => json!({ "free": true }),
    };
    let bar = |bar: &Member| {
        let points: Vec<[f64; 3]> = bar.line.points().iter().map(|at| [at.x, across * at.y, at.z]).collect();
        json!({
            "balloon": bar.balloon, "role": bar.role.word(), "points": points, "bend_radius": bar.line.radius().mm(),
            "tube": { "outside": bar.tube.outside.mm(), "wall": bar.tube.wall.mm() },
            "ends": bar.ends.each_ref().map(end),
        })
    };
    json!({ "tackbook_cage": 1, "unit": "mm", "members": cage.members.iter().map(bar).collect::<Vec<_>>() })
}

fn opposite(one: Angle, other: Angle) -> bool {
    let sum = (one + other).radians().rem_euclid(TAU);
    sum < 1e-6 || TAU - sum < 1e-6
}

/// Why the cuts of two ends are not each other's mirror images.
fn cuts_differ(one: &EndCut, other: &EndCut) -> Option<String> {
    let near = |one: Length, other: Length| (one - other).abs() < Length::from_mm(1e-5);
    if one.onto != other.onto || one.round != other.round {
        return Some(format!("{} {:?}, {} {:?}", one.onto, one.round, other.onto, other.round));
    }
    let (cope, mirror) = (&one.cope, &other.cope);
    // A square cut has no place 0 of its own.
    let square = cope.short_point() - cope.long_point() < Length::from_mm(1e-3);
    for step in 0..24 {
        let phi = Angle::from_degrees(15.0 * f64::from(step) + 0.3);
        if !square && !near(cope.cut_at(phi), mirror.cut_at(-phi)) {
            return Some(format!("at {}: {:?}, {:?}", phi.degrees(), cope.cut_at(phi), mirror.cut_at(-phi)));
        }
    }
    let clocked = one.clocking.zip(other.clocking);
    if !square && clocked.is_some_and(|(one, other)| !opposite(one, other)) {
        return Some(format!("clocked {clocked:?}"));
    }
    let shares = (cope.faces_down() - mirror.faces_down()).abs();
    (!near(cope.seam(), mirror.seam()) || shares > 1e-6).then(|| format!("seam {:?} {:?}", cope.seam(), mirror.seam()))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn a_mirrored_cage_is_cut_and_bent_by_mirrored_sheets(
        lean in 0.0..4.0_f64, forward in -2.0..3.0_f64, out in -1.0..1.5_f64,
    ) {
        let mut record = example_record();
        let moved = [
            (TapeMeasure::HoopLean, lean),
            (TapeMeasure::FrontFootForward(Hand::Left), 45.0 + forward),
            (TapeMeasure::KneeOut(Hand::Right), 25.75 + out),
        ];
        for (measure, inches) in moved {
            record.measures.insert(measure, Typed::of(Length::from_inches(inches), format!("{inches} in")));
        }
        let cage = solve(&record, &TUBES);
        let cages = [1.0, -1.0].map(|across| solved(&file(&cage, across).to_string()).unwrap());
        let [here, there] = &cages;
        let mut cut = 0;
        for (bar, mirror) in here.members.iter().zip(&there.members) {
            let one = BarSheet::of(here, bar, &Bench::default());
            let other = BarSheet::of(there, mirror, &Bench::default());
            prop_assert!((bar.cut_length - mirror.cut_length).abs() < Length::from_mm(1e-5), "{}", bar.balloon);
            for (bend, turned) in one.bends.iter().zip(&other.bends) {
                prop_assert!((bend.mark - turned.mark).abs() < Length::from_mm(1e-5), "{}", bar.balloon);
                prop_assert!((bend.angle - turned.angle).degrees().abs() < 1e-6 && opposite(bend.turn, turned.turn));
            }
            for ends in one.ends.iter().zip(&other.ends) {
                let (Some(end), Some(its)) = ends else {
                    let faults = (&here.faults, &there.faults);
                    prop_assert!(ends.0.is_none() && ends.1.is_none(), "{}: {faults:?}", bar.balloon);
                    continue;
                };
                let differ = cuts_differ(end, its);
                prop_assert!(differ.is_none(), "{} onto {}: {}", bar.balloon, end.onto, differ.unwrap_or_default());
                cut += 1;
            }
        }
        prop_assert!(cut > 40, "{cut}");
    }
}
