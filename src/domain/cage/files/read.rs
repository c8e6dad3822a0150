//! Cage files, our own JSON: the bars drawn by points, or the cage measured by tape; which of the two a text is.

use serde_json::{Map, Value};

use super::drawn;
use super::measured_file;
use super::measured_file::Brought;
use super::measured_file::OWN;
use super::slips::slip;
use crate::domain::cage::parts::Cage;
use crate::domain::cage::solve;
use crate::domain::words::faults::Fault;
use crate::domain::words::near_word::nearest;

/// Fields that the drawn form has, alone or too.
const OF_BARS: [&str; 5] = ["members", "plates", "gussets", "unit", "tackbook_cage"];

/// How the bars of a file are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    Drawn,
    Measured,
}

fn form_of(text: &str) -> Result<Form, Vec<Fault>> {
    let fields: Map<String, Value> = serde_json::from_str(text).map_err(|error| vec![slip(&error)])?;
    // A mistyped name counts for the form it was meant for, so that the fault names what was meant.
    let meant = |name: &String| nearest(name, OWN.into_iter().chain(OF_BARS));
    let measured = fields.keys().filter_map(meant).any(|name| OWN.contains(&name));
    match (fields.contains_key("members"), measured) {
        (true, true) => {
            let why = "The bars are given by points (members) and by measurements as well: leave one of the two out.";
            Err(vec![Fault::new("members", why)])
        }
        (false, true) => Ok(Form::Measured),
        _ => Ok(Form::Drawn),
    }
}

/// Reads a cage file of either form and works out its bars, joints, copes, lengths and masses. What is wrong with the file
/// comes back as faults, by line and column, by balloon or by the figure's name; what cannot be built is named among the
/// cage's own faults.
pub fn solved(text: &str) -> Result<Cage, Vec<Fault>> {
    match form_of(text)? {
        Form::Drawn => drawn::read(text),
        Form::Measured => {
            let Brought { record, tubes } = measured_file::read(text)?;
            let why = "Say the tube of the main bars (hoop) and of the others (other), each with outside and wall.";
            let tubes = tubes.ok_or_else(|| vec![Fault::new("tubes", why)])?;
            Ok(solve(&record, &tubes))
        }
    }
}

/// Reads a cage file that a build can take in: one in the measured form.
pub fn measured(text: &str) -> Result<Brought, Vec<Fault>> {
    match form_of(text)? {
        Form::Measured => measured_file::read(text),
        Form::Drawn => {
            let why = "This file gives its bars by points. A build's cage is given by measurements; a file with bars by points is for the sheets on the command line.";
            Err(vec![Fault::new("members", why)])
        }
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::domain::cage::files::written;
    use crate::domain::cage::hole::GussetHole;
    use crate::domain::cage::record::CageRecord;
    use crate::domain::cage::record::basic_structure::BasicStructure;
    use crate::domain::cage::record::body::{BodyPart, BodyPlace, Taken};
    use crate::domain::cage::record::by_hand::{At, Axis, HandBar, Stand, next_number};
    use crate::domain::cage::record::example::{TUBES, example_on, example_record};
    use crate::domain::cage::record::fittings::{MainBars, Toward, TubeOverride, Tubes};
    use crate::domain::cage::record::measures::{Hand, TapeMeasure};
    use crate::domain::cage::record::seats::SeatRecord;
    use crate::domain::steel::tube::TubeSize;
    use crate::domain::words::roles::MemberRole;
    use crate::quantity::{Length, Typed, Units};

    /// Typed by two people: one reads inches, one millimetres.
    fn by_two() -> CageRecord {
        let mut record = example_record();
        let typed = |text: &str, units| Typed::read_as(text, units).unwrap();
        record.measures.insert(TapeMeasure::KneeUp(Hand::Right), typed("664", Units::Metric));
        record.measures.insert(TapeMeasure::HoopLean, typed("1 1/2", Units::Inch));
        record.measures.insert(TapeMeasure::HoopRoofHeight, typed("1108,1 mm", Units::Metric));
        let own = TubeOverride {
            tube: TubeSize::metric(40.0, 2.5),
            grade: Some("E355 +N".to_owned()),
            reason: "What was “on” the rack".to_owned(),
        };
        record.tubes.insert("dash-bar".to_owned(), own);
        let said = [GussetHole::NoHole, GussetHole::NotStated];
        record.gussets.iter_mut().zip(said).for_each(|(gusset, hole)| gusset.hole = hole);
        record
    }

    /// The example with bars that a person added: one for each way to say where, both sides alike.
    fn with_bars_by_hand() -> CageRecord {
        let mut record = example_record();
        let typed = |text: &str| Typed::<Length>::read(text).unwrap();
        let cage = solve(&record, &TUBES);
        let mut add = |name: &str, role, ends| {
            let number = next_number(&record.hand_bars, record.numbers.keys());
            let bar = HandBar { number, name: name.to_owned(), role, ends, cut_at_crossings: number == 1 };
            let twin = bar.mirrored(&cage).unwrap();
            record.hand_bars.extend(std::iter::once(bar).chain(twin));
        };
        let stand = |on: &str, at| Stand::new(on, at);
        let (start, end) = (Toward::Start, Toward::End);
        let corner = Stand {
            corner_with: Some("half-hoop/left".to_owned()),
            ..stand("main-hoop", At::Meets { bar: "half-hoop/left".to_owned(), from: None })
        };
        let low = At::OverPlate { end, by: typed("16 in") };
        add("hoop to pillar", MemberRole::OtherBar, [corner, stand("half-hoop/left", low)]);
        let beside = Stand {
            offset: Some(typed("1/8 in")),
            ..stand("main-hoop", At::Passing { axis: Axis::Up, at: typed("14 in"), from: start })
        };
        let before = At::FromEnd { end, by: typed("6 in") };
        add("low stay", MemberRole::OtherBar, [stand("backstay/left", before), beside]);
        let past = At::Bend { bend: 1, past: Some(typed("3 in")) };
        add("rear stay", MemberRole::OtherBar, [stand("backstay/left", At::Middle), stand("main-hoop", past)]);
        for key in ["by-hand/3", "by-hand/4"] {
            let own = TubeOverride {
                tube: TubeSize::inch(1.25, 0.095),
                grade: None,
                reason: "lies beside the hoop's axis".to_owned(),
            };
            record.tubes.insert(key.to_owned(), own);
        }
        let at = At::FromEnd { end: start, by: typed("8 in") };
        let taken = Taken::Gap { on: "half-hoop/left".to_owned(), at, gap: typed("1 1/4 in") };
        record.body.push(BodyPlace { number: 1, part: BodyPart::RoofRail, taken });
        let [forward, left, up] = ["27 in", "20 1/2 in", "43 1/4 in"].map(typed);
        record.body.push(BodyPlace { number: 2, part: BodyPart::ScreenTop, taken: Taken::Point { forward, left, up } });
        record.torch_radius = Some(typed("1 in"));
        let figures =
            ["13 1/2 in", "12 in", "5 in", "5 in", "24 in", "7 in", "34 1/2 in"].map(|text| Some(typed(text)));
        record.seats.extend(SeatRecord::of((1, "driver".to_owned()), figures, [Some(typed("6 in")), None]));
        record.numbered_for(&TUBES)
    }

    /// Everything of a cage that is cut, bent and welded, to a thousandth of a millimetre.
    fn describe(cage: &Cage) -> Vec<String> {
        let bars = cage.members.iter().map(|bar| {
            let (cut, [one, other]) = (bar.cut_length.mm(), bar.seams.map(Length::mm));
            format!("{} {} {} {cut:.3} {one:.3} {other:.3} {:.6}", bar.balloon, bar.key, bar.tube, bar.mass.kg())
        });
        let joints = cage.joints.iter().map(|joint| format!("{} {} {:.3}", joint.balloon, joint.key, joint.seam.mm()));
        let gussets = cage.gussets.iter().map(|gusset| format!("{} {:.6}", gusset.balloon, gusset.mass.kg()));
        let plates = cage.plates.iter().map(|plate| format!("{} {:.6}", plate.balloon, plate.mass.kg()));
        bars.chain(joints).chain(gussets).chain(plates).collect()
    }

    #[test]
    fn out_and_in_is_the_same_record_and_out_again_the_same_bytes() {
        let mixed = Tubes::new(TubeSize::metric(45.0, 2.5), TubeSize::inch(1.625, 0.095));
        let on = BasicStructure::ALL.map(|structure| (example_on(structure), TUBES));
        let named = Tubes { main: MainBars::these(&[MemberRole::MainHoop, MemberRole::DoorBar]), ..TUBES };
        let more = [
            (by_two(), mixed),
            (with_bars_by_hand(), mixed),
            (CageRecord::default(), TUBES),
            (example_record().numbered_for(&named), named),
        ];
        for (record, tubes) in on.into_iter().chain(more) {
            let out = written(&record, &tubes);
            let Brought { record: again, tubes: said } = measured(&out).unwrap();
            assert_eq!(again, record);
            assert_eq!(said, Some(tubes));
            assert_eq!(written(&again, &tubes), out);
        }
    }

    #[test]
    fn the_example_that_is_shown_is_what_is_written() {
        let shown = include_str!("../../../../static/cage-file-measured.json");
        assert_eq!(shown, written(&example_record(), &TUBES));
        assert_eq!(describe(&solved(shown).unwrap()), describe(&solve(&example_record(), &TUBES)));
        let by_hand = include_str!("../../../../static/cage-file-by-hand.json");
        let record = with_bars_by_hand();
        assert_eq!(by_hand, written(&record, &TUBES));
        let cage = solved(by_hand).unwrap();
        assert_eq!(describe(&cage), describe(&solve(&record, &TUBES)));
        assert_eq!(cage.faults, solve(&example_record(), &TUBES).faults, "every bar by hand is laid out");
        let drawn = solved(include_str!("../../../../static/cage-file-drawn.json")).unwrap();
        assert_eq!((drawn.members.len(), drawn.faults.len()), (2, 0));
    }

    #[test]
    fn what_is_wrong_with_a_bar_by_hand_is_told_by_its_number_and_end() {
        let good = written(&with_bars_by_hand(), &TUBES);
        for (from, to, words) in [
            ("\"16 in\"", "\"a hand\"", "by-hand/1/last_by: “a hand” does not read as a length"),
            ("\"16 in\"", "900", "by-hand/1/last_by: “900 in” is farther than a car is long"),
            ("\"number\": 2", "\"number\": 1", "by-hand/1: Two bars by hand have the number 1"),
            ("\"over_plate\"", "\"over_plat\"", "Did you mean “over_plate”?"),
            ("\"corner_with\"", "\"corner_wth\"", "Did you mean “corner_with”?"),
            ("\"1 1/4 in\"", "\"4 ft\"", "body/1/gap: “4 ft” is no gap beside a bar"),
            ("\"34 1/2 in\"", "\"3 in\"", "seat/1/shoulder_up: The shoulder would be over the helmet"),
            ("\"hips_up\"", "\"hip_up\"", "Did you mean “hips_up”?"),
            ("\"name\": \"rear stay\"", "\"name\": \"\"", "by-hand/5/name:"),
        ] {
            assert!(good.contains(from), "{from}: {good}");
            let said = solved(&good.replacen(from, to, 1)).unwrap_err();
            assert!(said.iter().any(|fault| fault.to_string().contains(words)), "{words}: {said:?}");
        }
    }

    #[test]
    fn numbers_and_texts_and_units_give_the_same_cage() {
        let mut file: Value = serde_json::from_str(&written(&example_record(), &TUBES)).unwrap();
        file["measurements"]["hoop_roof_height"] = json!(43.625);
        file["measurements"]["hoop_lean"] = json!({ "typed": "38.1", "unit": "mm" });
        assert_eq!(describe(&solved(&file.to_string()).unwrap()), describe(&solve(&example_record(), &TUBES)));
    }

    #[test]
    fn what_does_not_read_is_told_by_line_and_name_and_near_word() {
        let good = written(&example_record(), &TUBES);
        let describe = |from: &str, to: &str| {
            assert!(good.contains(from), "{from}");
            let faults = solved(&good.replacen(from, to, 1)).unwrap_err();
            faults.iter().map(Fault::to_string).collect::<Vec<_>>().join(" ")
        };
        let line = |word: &str| {
            let before = good.split(word).next().unwrap();
            format!("line {},", before.lines().count())
        };
        for (from, to, near, at) in [
            ("\"bend_radius\"", "\"bend_radios\"", "Did you mean “bend_radius”?", line("\"bend_radius\"")),
            ("\"knee_up_left\"", "\"kne_up_left\"", "Did you mean “knee_up_left”?", line("\"knee_up_left\"")),
            ("\"hoop_diagonal\": \"cross\"", "\"hoop_diagonal\": \"crss\"", "“cross”", line("\"hoop_diagonal\":")),
            ("\"fixed\"", "\"fixd\"", "Did you mean “fixed”?", line("\"fixed\"")),
            ("\"measurements\"", "\"mesurements\"", "Did you mean “measurements”?", line("\"measurements\"")),
            ("\"hoop_lean\"", "\"hoop_roof_width\"", "hoop_roof_width is given twice", line("\"hoop_lean\"")),
            ("\"1 1/2 in\"", "true", "expected a length", line("\"hoop_lean\"")),
        ] {
            let said = describe(from, to);
            assert!(said.contains(near) && said.contains(&at), "{from}: {said} {at}");
        }
        for (from, to, words) in [
            ("\"tackbook_cage\": 1", "\"tackbook_cage\": 2", "reads version 1"),
            ("\"48 in\"", "\"about forty\"", "hoop_feet_width: “about forty” does not read as a length"),
            ("\"48 in\"", "4.8", "hoop_feet_width: “4.8 in” is out of bounds"),
            ("\"outside\": 1.625", "\"outside\": 16.25", "tubes, hoop: An outside diameter"),
            ("\"tubes\": {", "\"members\": [], \"tubes\": {", "leave one of the two out"),
        ] {
            let said = describe(from, to);
            assert!(said.contains(words), "{from}: {said}");
        }
        let mut bare: Value = serde_json::from_str(&good).unwrap();
        bare.as_object_mut().unwrap().remove("tubes");
        assert_eq!(solved(&bare.to_string()).unwrap_err().first().map(|fault| fault.at.as_str()), Some("tubes"));
        assert!(measured(&bare.to_string()).is_ok_and(|brought| brought.tubes.is_none()));
        assert!(measured("{\"members\": []}").is_err() && measured("[").is_err());
    }
}
