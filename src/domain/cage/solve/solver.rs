//! From the record to the cage: bars laid out, ends coped, joints, gussets and plates made of them.

use super::ends::joint;
use super::members;
use super::members::Cut;
use super::plates::{feet, plates};
use super::{clash, gussets};
use crate::domain::cage::lay::joints;
use crate::domain::cage::lay::laid_out::{lay_out, wholly_laid_out};
use crate::domain::cage::lay::numbers::{Numbers, give_out};
use crate::domain::cage::parts::{Cage, Joint};
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::Tubes;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;

/// Works out the whole cage. It never fails: what cannot be built is left out and named among the faults.
pub fn solve(record: &CageRecord, tubes: &Tubes) -> Cage {
    let draft = lay_out(record, tubes);
    let meetings = joints::meetings(&draft);
    let mut numbers = record.numbers.clone();
    give_out(&mut numbers, &draft, &meetings);
    let numbers = Numbers(numbers);

    let mut faults: Vec<Fault> = record.missing().iter().map(|measure| still_missing(*measure)).collect();
    faults.extend(record.faults());
    faults.extend(draft.faults.iter().cloned());
    let Cut { members, order, fitted } = members::members(&draft, &numbers, &mut faults);
    faults.extend(clash::clashes(&draft, &meetings, &fitted));
    let joints: Vec<Joint> = meetings.iter().filter_map(|meeting| joint(meeting, &members, &numbers)).collect();
    let (gussets, gusset_faults) = gussets::gussets(record, tubes, &members, &joints, &numbers);
    faults.extend(gusset_faults);
    let plates = plates(record, &draft, &numbers, &mut faults);
    let feet = feet(&draft, &numbers, &plates);
    let whole = wholly_laid_out(record, &draft, &members);
    for fault in &mut faults {
        if let Some(balloon) = numbers.0.get(&fault.at) {
            fault.at = balloon.to_string();
        }
    }
    Cage { members, order, joints, gussets, plates, feet, whole, faults }
}

impl Cage {
    /// The cage with its bars in the tubes they are cut from, where `cut_from` knows one. Lines, copes and lengths stay.
    #[must_use]
    pub fn in_tubes(&self, cut_from: impl Fn(Balloon) -> Option<TubeSize>) -> Self {
        let mut cage = self.clone();
        for bar in &mut cage.members {
            bar.tube = cut_from(bar.balloon).unwrap_or(bar.tube);
        }
        cage
    }
}

fn still_missing(measure: crate::domain::cage::record::measures::TapeMeasure) -> Fault {
    Fault::new(measure.key(), format!("Still to be measured. {}", measure.where_to_hold()))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::domain::cage::parts::End;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::measures::{Hand, TapeMeasure};
    use crate::domain::cage::record::options::{Diagonal, Options};
    use crate::domain::words::ids::Kind;
    use crate::domain::words::roles::MemberRole;
    use crate::quantity::{Length, Typed};

    fn keys(record: &CageRecord) -> Vec<String> {
        solve(record, &TUBES).members.iter().map(|member| format!("{} {}", member.balloon, member.key)).collect()
    }

    #[test]
    fn the_example_is_a_whole_cage() {
        let cage = solve(&example_record(), &TUBES);
        assert_eq!(cage.faults, []);
        assert_eq!((cage.members.len(), cage.joints.len()), (29, 40));
        assert_eq!((cage.gussets.len(), cage.plates.len()), (6, 6));
        // More than 25 m of tube, none of it lighter than the bracing's 0.0246615 (D - t) t kg/m (EN 10220, mass per length).
        let least = 0.024_661_5 * (38.1 - 2.108_2) * 2.108_2 * 25.0;
        assert!(cage.tube_mass().kg() > least, "{}", cage.tube_mass().kg());
        for member in &cage.members {
            assert!(!member.ends.contains(&End::Free), "{}", member.key);
            assert!(member.copes.iter().all(Option::is_some), "{}", member.key);
        }
    }

    #[test]
    fn bars_are_numbered_from_the_structure_outward() {
        let record = CageRecord { options: Options::default(), ..example_record() };
        let plain = CageRecord { gussets: Vec::new(), numbers: BTreeMap::new(), ..record };
        let want = [
            "M1 main-hoop",
            "M2 half-hoop/left",
            "M3 half-hoop/right",
            "M4 header",
            "M5 backstay/left",
            "M6 backstay/right",
        ];
        assert_eq!(keys(&plain), want);
    }

    #[test]
    fn numbers_stay_when_bars_come_and_go() {
        let full = example_record();
        let options = Options { hoop_diagonal: Diagonal::None, ..full.options.clone() };
        let without = CageRecord { options, gussets: Vec::new(), ..full.clone() }.numbered_for(&TUBES);
        let again = CageRecord { options: full.options.clone(), ..without.clone() }.numbered_for(&TUBES);
        for (key, balloon) in &full.numbers {
            assert_eq!(again.numbers.get(key), Some(balloon), "{key}");
        }
        // The harness bar is one piece now: a new bar, a new number.
        let whole = without.numbers.get("harness-bar").copied();
        assert!(whole.is_some_and(|balloon| !full.numbers.values().any(|given| *given == balloon)));
        assert!(again.faults().is_empty());
    }

    #[test]
    fn what_is_not_measured_is_named_and_the_rest_stands() {
        let mut record = example_record();
        record.measures.remove(&TapeMeasure::KneeUp(Hand::Left));
        let cage = solve(&record, &TUBES);
        assert!(cage.member_called("main-hoop").is_some() && cage.member_called("half-hoop/left").is_none());
        for at in ["knee_up_left", "knee_up_right", "M4"] {
            assert!(cage.faults.iter().any(|fault| fault.at == at), "{at}: {:?}", cage.faults);
        }
    }

    #[test]
    fn a_die_too_large_for_its_straights_is_named_by_balloon() {
        let mut record = example_record();
        for radius in record.bend_radius.values_mut() {
            *radius = Typed::written(Length::from_inches(30.0));
        }
        let cage = solve(&record, &TUBES);
        assert!(cage.faults.iter().any(|fault| fault.at == "M1" && fault.why.contains("overlap")), "{:?}", cage.faults);
    }

    /// The rule of one joint: ends on one carrier within one carrier diameter.
    #[test]
    fn ends_within_a_carrier_diameter_are_one_joint() {
        let cage = solve(&example_record(), &TUBES);
        for (number, joint) in cage.joints.iter().enumerate() {
            let carrier = cage.member(joint.carrier).unwrap();
            let places = joint.incoming.iter().map(|(balloon, end)| {
                let End::Onto { carrier, along, .. } = cage.member(*balloon).unwrap().ends[*end] else {
                    panic!("{balloon} is on a plate");
                };
                assert_eq!(carrier, joint.carrier);
                along.mm()
            });
            let places: Vec<f64> = places.collect();
            let spread = places.iter().fold(0.0, |most: f64, place| most.max((place - places[0]).abs()));
            assert!(spread <= carrier.tube.outside.mm() + 1e-9, "{}", joint.key);
            let others = cage.joints.iter().skip(number + 1).filter(|other| other.carrier == joint.carrier);
            for other in others {
                assert!((other.along - joint.along).abs() > carrier.tube.outside / 2.0, "{}", joint.key);
            }
        }
        let ends: usize = cage.joints.iter().map(|joint| joint.incoming.len()).sum();
        let landed = cage.members.iter().flat_map(|member| member.ends).filter(|end| matches!(end, End::Onto { .. }));
        assert_eq!(ends, landed.count());
    }

    #[test]
    fn of_a_cross_one_bar_runs_through_and_the_other_is_two_pieces() {
        let cage = solve(&example_record(), &TUBES);
        let diagonals: Vec<_> = cage.members.iter().filter(|member| member.role == MemberRole::HoopDiagonal).collect();
        assert_eq!(diagonals.len(), 3);
        let node = cage.joints.iter().find(|joint| joint.carrier == diagonals[0].balloon && joint.incoming.len() == 2);
        let node = node.unwrap();
        assert_eq!(node.incoming, vec![(diagonals[1].balloon, 1), (diagonals[2].balloon, 0)]);
        assert_eq!(node.balloon.kind, Kind::Joint);
    }

    #[test]
    fn a_bar_wider_than_its_carrier_is_a_fault() {
        let wide = Tubes { other: TubeSize::inch(1.75, 0.095), ..TUBES };
        let cage = solve(&example_record(), &wide);
        assert!(cage.faults.iter().any(|fault| fault.at == "M12" && fault.why.contains("overhangs")));
    }
}
