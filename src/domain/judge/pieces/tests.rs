//! Each mark of a part: what of it may change, and what makes another piece of it.

use uuid::Uuid;

use super::*;
use crate::domain::cage::record::example::{TUBES, example_record};
use crate::domain::cage::record::seats::SeatRecord;
use crate::domain::cage::solve;
use crate::domain::cage::{Fixing, Foot, GussetHole, GussetKind, GussetRecord, Hand, Joint, PlateRecord, TapeMeasure};
use crate::domain::derived::build_file::BuildFile;
use crate::domain::recorded::facts::EarlierCage;
use crate::domain::shop::stock::Cut;
use crate::domain::words::fingerprint::Fingerprint;
use crate::quantity::{Length, Show as _, Typed, Units};

fn hour(hour: u32) -> Timestamp {
    format!("2026-05-04T{hour:02}:00:00Z").parse().unwrap()
}

fn typed(mm: f64) -> Typed<Length> {
    Typed::of(Length::from_mm(mm), format!("{mm} mm"))
}

/// A build whose cage is this since ten, and was that from eight on.
fn facts(was: &CageRecord, is: &CageRecord) -> BuildFacts {
    let text = |record: &CageRecord, version| CageText { json: serde_json::to_string(record).unwrap(), version };
    let bare = BuildFile::read(r#"{"tackbook_build": 1, "name": "Pine Coupe"}"#).unwrap().facts("");
    let span = |version, from, until| InForce { version, from, until };
    let earlier = vec![
        EarlierCage { cage: None, while_it_was: span(0, None, hour(8)) },
        EarlierCage { cage: Some(text(was, 1)), while_it_was: span(1, Some(hour(8)), hour(10)) },
    ];
    BuildFacts { cage: Some(text(is, 2)), earlier_cages: earlier, ..bare }
}

fn pieces(facts: &BuildFacts) -> Pieces {
    let record = facts.cage.as_ref().unwrap().record().unwrap();
    Pieces::of(facts, (&record, &solve(&record, &TUBES)), &TUBES)
}

/// What became of a part since it was photographed in that hour.
fn photographed(facts: &BuildFacts, part: Balloon, at: u32) -> Option<String> {
    let mut facts = facts.clone();
    let photo = Photo {
        capture: Uuid::from_u128(7).into(),
        build: facts.build.id,
        shot: format!("{part} seen/wide"),
        note: String::new(),
        sha256: Fingerprint::of(b"7"),
        size: 1,
        camera_size: None,
        taken_claim: None,
        declared: hour(at),
        by: "fabricator".to_owned(),
        received: None,
        withdrawn: None,
    };
    facts.photos.push(photo.clone());
    pieces(&facts).photo(&photo).map(|since| since.describe(Units::Metric))
}

/// What became of a part since that was read off it in that hour.
fn measured(facts: &BuildFacts, (measure, part): (Measure, Balloon), at: u32) -> Option<String> {
    let mut facts = facts.clone();
    let amount = measure.dimension().of_base_unit(1.0);
    let (text, by) = ("1".to_owned(), "fabricator".to_owned());
    facts.measured.push(Measured { measure, of: part, amount, text, at: hour(at), by, tool: None });
    pieces(&facts).figure(measure, part).map(|since| since.describe(Units::Metric))
}

fn number(key: &str) -> Balloon {
    *example_record().numbers.get(key).unwrap()
}

fn changed(change: impl Fn(&mut CageRecord)) -> BuildFacts {
    let mut is = example_record();
    change(&mut is);
    facts(&example_record(), &is.numbered_for(&TUBES))
}

#[test]
fn a_gusset_is_another_by_its_kind_and_sizes() {
    let first = example_record().gussets.first().unwrap().clone();
    let (gusset, other) = (number(&first.key()), number(&example_record().gussets.get(1).unwrap().key()));
    let check = |change: fn(&mut GussetRecord), want: Option<&str>| {
        let facts = changed(|record| record.gussets.first_mut().into_iter().for_each(change));
        assert_eq!(photographed(&facts, gusset, 9).as_deref(), want);
        assert_eq!(photographed(&facts, gusset, 10), None, "taken of the gusset as it is");
        assert_eq!(photographed(&facts, other, 9), None, "another gusset is as it was");
    };
    assert_ne!(first.kind, GussetKind::Tube);
    check(|gusset| gusset.leg = Typed::written(gusset.leg.value), None);
    let kind = format!("its kind was changed from {} to {}", first.kind.word(), GussetKind::Tube.word());
    check(|gusset| gusset.kind = GussetKind::Tube, Some(&kind));
    let describe = |what: &str, was: &str, is: &str| format!("its {what} was changed from {was} to {is}");
    let leg = first.leg.value.show(Units::Metric);
    check(|gusset| gusset.leg = typed(61.0), Some(&describe("leg", &leg, "61 mm")));
    let sheet = first.thickness.value.show(Units::Metric);
    check(|gusset| gusset.thickness = typed(7.0), Some(&describe("thickness", &sheet, "7 mm")));
    check(|gusset| gusset.hole = GussetHole::Across(typed(33.0)), Some(&describe("hole", &hole(&first), "33 mm")));
}

fn hole(gusset: &GussetRecord) -> String {
    gusset.hole.as_ref().answer(|hole| hole.value.show(Units::Metric))
}

#[test]
fn a_plate_is_another_by_its_sides_thickness_fixing_and_place() {
    let (plate, other) = (number("plate/front/left"), number("plate/main_hoop/left"));
    let check = |change: fn(&mut PlateRecord), want: &str| {
        let facts = changed(|record| record.plates.get_mut(&Foot::Front).into_iter().for_each(change));
        assert_eq!(photographed(&facts, plate, 9).unwrap(), want);
        assert_eq!(measured(&facts, (Measure::BoltCount, plate), 9).unwrap(), want);
        assert_eq!((photographed(&facts, other, 9), photographed(&facts, plate, 11)), (None, None));
    };
    check(|plate| plate.fixed = Fixing::Bolted, "its fixing was changed from welded to bolted");
    check(|plate| plate.side_a = typed(130.0), "its side along was changed from 120.7 mm to 130 mm");
    check(|plate| plate.thickness = typed(6.0), "its thickness was changed from 4.8 mm to 6 mm");
    let out = TapeMeasure::FrontFootOut(Hand::Left);
    let moved = changed(|record| drop(record.measures.insert(out, typed(25.5 * 25.4 + 8.0))));
    assert_eq!(photographed(&moved, plate, 9).unwrap(), "it moved by 8 mm");
}

/// Every joint against its two places by the whole working out: told to have moved from 1 mm on.
#[test]
fn a_joint_that_moved_by_a_millimetre_is_another() {
    let before = solve(&example_record(), &TUBES);
    for by in [0.4, 1.3, 12.0] {
        let roof = TapeMeasure::HoopRoofHeight;
        let facts = changed(|record| drop(record.measures.insert(roof, typed(43.625 * 25.4 - by))));
        let after = solve(&facts.cage.as_ref().unwrap().record().unwrap(), &TUBES);
        let (mut moved, mut stayed) = (0, 0);
        for joint in &before.joints {
            let far = after.joint(joint.balloon).unwrap().at.distance(joint.at);
            let description = photographed(&facts, joint.balloon, 9);
            if far >= 1.0 {
                moved += 1;
                assert!(description.unwrap().starts_with("it moved by "), "{} by {far}", joint.balloon);
            } else if let Some(description) = description {
                assert!(
                    description.ends_with("was turned to another angle") && by > 1.0,
                    "{}: {description}",
                    joint.balloon
                );
            } else {
                stayed += 1;
            }
            assert_eq!(photographed(&facts, joint.balloon, 10), None);
        }
        assert!(stayed > 0 && (moved > 0) == (by > 1.0), "{by}: {moved} moved, {stayed} stayed");
    }
}

#[test]
fn a_joint_at_which_another_bar_lands_is_another() {
    let without = |record: &mut CageRecord| record.options.pillar_struts = false;
    let with = example_record();
    let mut was = example_record();
    without(&mut was);
    let facts = facts(&was.numbered_for(&TUBES), &with);
    let strut = number("pillar-strut/left");
    let cage = solve(&with, &TUBES);
    let shared = cage
        .joints
        .iter()
        .find(|joint| joint.incoming.len() > 1 && joint.incoming.iter().any(|(bar, _)| *bar == strut));
    if let Some(joint) = shared {
        assert_eq!(photographed(&facts, joint.balloon, 9).unwrap(), "other bars came to meet there");
    }
    let own = cage.joints.iter().find(|joint| joint.incoming.first().is_some_and(|(bar, _)| *bar == strut)).unwrap();
    let description = photographed(&facts, own.balloon, 9).unwrap();
    assert!(
        description == "it stood in the cage's record" || description == "other bars came to meet there",
        "{description}"
    );
    assert_eq!(photographed(&facts, strut, 9).unwrap(), "it stood in the cage's record");
}

/// What lies in the metal goes by the cuts alone, what goes by the place by the line too, what is the body's by neither.
#[test]
fn figures_of_a_bar_go_by_its_cuts_and_its_line() {
    let hoop = number("main-hoop");
    let roof = TapeMeasure::HoopRoofHeight;
    let mut moved = changed(|record| drop(record.measures.insert(roof, typed(43.625 * 25.4 - 12.0))));
    assert_eq!(measured(&moved, (Measure::Roundness, hoop), 9), None);
    assert!(measured(&moved, (Measure::BodyGap, hoop), 9).unwrap().starts_with("it moved by 12"));
    assert_eq!(measured(&moved, (Measure::BodyGap, hoop), 10), None);
    let cut =
        |at| Cut { member: hoop, stick: Uuid::from_u128(1).into(), at: hour(at), by: "f".to_owned(), taken: None };
    for (cuts, want) in [
        (vec![8], None),
        (vec![9], None),
        (vec![10], Some("its cut was recorded")),
        (vec![8, 10], Some("it was cut again")),
        (vec![10, 11], Some("it was cut again")),
    ] {
        moved.cuts = cuts.iter().copied().map(cut).collect();
        for measure in [Measure::Roundness, Measure::InspectionHole, Measure::WallMeasured] {
            assert_eq!(measured(&moved, (measure, hoop), 9).as_deref(), want, "{cuts:?}");
        }
        assert!(measured(&moved, (Measure::BodyGap, hoop), 9).is_some());
        assert_eq!(measured(&moved, (Measure::OpeningHeight, hoop), 9), None, "{cuts:?}");
        assert_eq!(measured(&moved, (Measure::Roundness, number("header")), 9), None);
    }
}

/// A joint is another when a bar of it was cut again. A first cut recorded later is paper work: the bar was there.
#[test]
fn a_joint_of_a_bar_that_was_cut_again_is_another() {
    let (record, hoop) = (example_record(), number("main-hoop"));
    let mut facts = facts(&record, &record);
    let cut =
        |at| Cut { member: hoop, stick: Uuid::from_u128(1).into(), at: hour(at), by: "f".to_owned(), taken: None };
    let cage = solve(&record, &TUBES);
    let has = |joint: &&Joint| joint.carrier == hoop || joint.incoming.iter().any(|(bar, _)| *bar == hoop);
    let own = cage.joints.iter().find(has).unwrap().balloon;
    let other = cage.joints.iter().find(|joint| !has(joint)).unwrap().balloon;
    facts.cuts = vec![cut(11)];
    assert_eq!(photographed(&facts, own, 10), None);
    facts.cuts.push(cut(12));
    assert_eq!(photographed(&facts, own, 10).unwrap(), format!("{hoop} was cut again"));
    assert_eq!(photographed(&facts, own, 11).unwrap(), format!("{hoop} was cut again"));
    assert_eq!((photographed(&facts, own, 12), photographed(&facts, other, 10)), (None, None));
    assert_eq!(photographed(&facts, hoop, 10).unwrap(), "it was cut again");
}

#[test]
fn a_gap_to_a_helmet_goes_by_the_seat_too() {
    let hoop = number("main-hoop");
    let seat = |up: f64| SeatRecord {
        number: 1,
        name: "driver".to_owned(),
        left: typed(350.0),
        hips_forward: typed(300.0),
        hips_up: typed(150.0),
        shoulder_forward: typed(250.0),
        shoulder_up: typed(600.0),
        helmet_forward: typed(260.0),
        helmet_up: typed(up),
        helmet_radius: None,
        reach: None,
    };
    let with = |up: f64| {
        let mut record = example_record();
        record.seats.push(seat(up));
        record
    };
    let facts_of = |was: &CageRecord, up| facts(was, &with(up));
    let read = |facts: &BuildFacts, measure| measured(facts, (measure, hoop), 9);
    assert_eq!(read(&facts_of(&with(850.0), 870.0), Measure::HeadGap).unwrap(), "a seat moved by 20 mm");
    assert_eq!(read(&facts_of(&with(850.0), 870.0), Measure::BodyGap), None);
    assert_eq!(read(&facts_of(&with(850.0), 850.5), Measure::HeadGap), None);
    // A seat that is recorded later moves nobody.
    assert_eq!(read(&facts_of(&example_record(), 850.0), Measure::HeadGap), None);
}

#[test]
fn what_is_not_known_is_not_of_the_piece_and_what_is_no_part_always_counts() {
    let record = example_record();
    let (hoop, joint) = (number("main-hoop"), solve(&record, &TUBES).joints.first().unwrap().balloon);
    let mut facts = facts(&record, &record);
    assert_eq!(photographed(&facts, joint, 7).unwrap(), "it stood in the cage's record");
    assert_eq!((photographed(&facts, joint, 8), photographed(&facts, joint, 10)), (None, None));
    for earlier in &mut facts.earlier_cages {
        earlier.cage = Some(CageText { json: "{\"wings\": 2}".to_owned(), version: 1 });
    }
    assert_eq!(photographed(&facts, hoop, 9).unwrap(), "the cage was saved so that this program reads it");
    for kind in [Kind::Stick, Kind::Kit, Kind::WeighIn, Kind::Car] {
        assert_eq!(photographed(&facts, Balloon::new(kind, 1), 9), None, "{kind:?}");
    }
    assert_eq!(measured(&facts, (Measure::Carbon, Balloon::new(Kind::Stick, 1)), 9), None);
    assert_eq!(photographed(&facts, Balloon::new(Kind::Joint, 999), 9), None, "a part that is not there any more");
}

/// Put back as it was, the old evidence is of the piece again, and what was seen in between is not.
#[test]
fn what_is_put_back_is_the_piece_again() {
    let mut between = example_record();
    let roof = TapeMeasure::HoopRoofHeight;
    between.measures.insert(roof, typed(43.625 * 25.4 - 12.0));
    let facts = facts(&between, &example_record());
    let cage = solve(&example_record(), &TUBES);
    let top = cage.joints.iter().max_by(|one, two| one.at.z.total_cmp(&two.at.z)).unwrap().balloon;
    assert!(photographed(&facts, top, 9).unwrap().starts_with("it moved by"));
    assert_eq!(photographed(&facts, top, 11), None);
    // The save that stood before it says what stands now, so nothing is kept of it.
    let mut before = facts.clone();
    before.earlier_cages.remove(0);
    assert_eq!(photographed(&before, top, 7), None);
}

/// A clock that was set back leaves two records in force at once: what counts is as it was in both.
#[test]
fn of_two_records_in_force_at_once_both_must_agree() {
    let text = |version| (version, hour(7 + u32::try_from(version).unwrap()));
    let saves = [text(1), text(3), (3, hour(9)), (4, hour(12))];
    let in_force = |at| InForce::at_any(&saves, &[hour(at)]).iter().map(|one| one.version).collect::<Vec<_>>();
    assert_eq!(in_force(7), [0]);
    assert_eq!(in_force(8), [1]);
    assert_eq!(in_force(9), [1, 3]);
    assert_eq!(in_force(11), [3]);
    assert_eq!(in_force(12), Vec::<i64>::new(), "the one that stands");
    let mut facts = changed(|record| record.gussets.first_mut().unwrap().kind = GussetKind::Tube);
    let gusset = number(&example_record().gussets.first().unwrap().key());
    let same = EarlierCage {
        cage: facts.cage.clone(),
        while_it_was: InForce { version: 3, from: Some(hour(9)), until: hour(12) },
    };
    facts.earlier_cages.push(same);
    assert!(photographed(&facts, gusset, 9).is_some());
    assert_eq!(photographed(&facts, gusset, 10), None);
}
