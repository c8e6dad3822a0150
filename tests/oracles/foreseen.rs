//! The finished weight foreseen: sums by hand, doubts by GUM 5.1.2 and 4.3.7, chances by JCGM 106 (sources in the data file).

use jiff::Timestamp;
use tackbook::domain::book::{RuleBook, read};
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::cage::solve;
use tackbook::domain::cage::{Cage, CageRecord, MainBars, Tubes};
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::weight::carried::{Listed, Spread, SpreadIs, Thing, Way};
use tackbook::domain::weight::foreseen::{CagePart, Foreseen, Outlook, normal};
use tackbook::domain::weight::weigh_in::{Loads, Reading, WeighIn};
use tackbook::quantity::{FromTyped as _, Mass, Typed};

use crate::oracle::oracles;

fn typed(text: &str) -> Typed<Mass> {
    Typed::of(Mass::from_typed(text).unwrap(), text)
}

fn book() -> RuleBook {
    read(include_str!("../../src/demo/book.toml")).unwrap()
}

fn weighed(total: &str, cage_in: bool) -> WeighIn {
    let conditions = book().weight.unwrap().conditions.into_iter().map(|condition| condition.key).collect();
    WeighIn {
        id: uuid::Uuid::nil().into(),
        number: 1,
        reading: Reading { cage_in, ..Reading::of(Loads::Whole(typed(total)), typed("1 lb"), conditions) },
        day: "2026-05-04".parse().unwrap(),
        by: "office".to_owned(),
    }
}

fn listed(way: Way, mass: &str, spread: Option<(&str, SpreadIs)>) -> Listed {
    let spread = spread.map(|(text, is)| Spread { mass: typed(text), is });
    let thing = Thing { name: "a thing".to_owned(), way, mass: typed(mass), spread };
    Listed { place: 1, thing, weigh_in: Some(1), added: Timestamp::UNIX_EPOCH, by: "office".to_owned() }
}

fn bare() -> (CageRecord, Cage) {
    (CageRecord::default(), Cage::default())
}

fn foreseen(total: &str, cage_in: bool, list: &[Listed]) -> Foreseen {
    let (record, cage) = bare();
    Foreseen::of(&weighed(total, cage_in), list, Some(&book()), (&record, &cage))
}

fn near(got: f64, want: f64) {
    assert!((got - want).abs() < 1e-6, "got {got}, expected {want}");
}

/// By hand: 2600 - 62 + 52 + 9 = 2599 lb. Doubts: the scale's one display read and zeroed, 1 lb x sqrt(2/12) = 0.408248 lb;
/// limits of 3 lb, 3/sqrt(3) = 1.732051 lb (GUM 4.3.7); a stated deviation of 2 lb. Together sqrt(1/6 + 3 + 4) =
/// 2.677063 lb (GUM 5.1.2).
#[test]
fn masses_add_with_their_signs_and_doubts_in_quadrature() {
    let list = [
        listed(Way::Out, "62 lb", Some(("3 lb", SpreadIs::Limits))),
        listed(Way::In, "52 lb", Some(("2 lb", SpreadIs::Deviation))),
        listed(Way::In, "9 lb", None),
    ];
    let found = foreseen("2600 lb", true, &list);
    near(found.finished.lb(), 2599.0);
    near(found.doubt.lb(), (1.0_f64 / 6.0 + 3.0 + 4.0).sqrt());
    near(found.doubt.lb(), 2.677_063);
    assert_eq!((found.unspread, found.cage, found.outlook), (1, CagePart::Weighed, Outlook::Stays));
}

/// 18 m of 42.4 x 3.2 mm weigh (D - T) x T x 0.0246615 kg/m (EN 10220, mass per length) x 18 = 55.68 kg, so that a car with
/// 30 kg of margin weighs in under the demo book's edge of 1360 kg and finishes over it.
#[test]
fn a_car_that_weighs_in_under_the_edge_and_finishes_over_it_is_caught() {
    let tube = TubeSize::metric(42.4, 3.2).mass(tackbook::quantity::Length::from_mm(18_000.0));
    let want = (42.4 - 3.2) * 3.2 * 0.024_661_5 * 18.0;
    assert!((tube.kg() - want).abs() < 0.01 && (want - 55.68).abs() < 0.01, "{}", tube.kg());
    let found = foreseen("1330 kg", true, &[listed(Way::In, "55.7 kg", None)]);
    assert_eq!(found.now.as_ref().unwrap().as_ref().unwrap().class, "middle");
    assert_eq!(found.then.as_ref().unwrap().as_ref().unwrap().class, "heavy");
    assert_eq!(found.outlook, Outlook::Crosses);
    assert!(found.chance.unwrap() > 0.999_999);
    let other = found.other.unwrap();
    assert_eq!(other.tubes.first().unwrap().hoop.to_string(), "48.3 × 3.2 mm");
    assert!(other.cage.is_none(), "it stood on the scale");
    // Doubt of two deviations: 2 x sqrt((1 lb)² / 6 + (1.5 kg)² / 3) = 1.77 kg (GUM 4.3.7, 5.1.2). 1357 kg is 3 kg in;
    // 1359.5 kg and the edge itself, which is the lighter class's, are too close; 1360.5 kg is over.
    let spread = Some(("1.5 kg", SpreadIs::Limits));
    for (mass, outlook) in [
        ("27 kg", Outlook::Stays),
        ("29.5 kg", Outlook::TooClose),
        ("30 kg", Outlook::TooClose),
        ("30.5 kg", Outlook::Crosses),
    ] {
        assert_eq!(foreseen("1330 kg", true, &[listed(Way::In, mass, spread)]).outlook, outlook, "{mass}");
    }
    // What comes out brings it back, and a heavy car may finish lighter: that is told as well.
    let both = [listed(Way::In, "55.7 kg", None), listed(Way::Out, "30 kg", None)];
    assert_eq!(foreseen("1330 kg", true, &both).outlook, Outlook::Stays);
    assert_eq!(foreseen("1385 kg", true, &[listed(Way::Out, "30 kg", None)]).outlook, Outlook::Crosses);
}

#[test]
fn the_cages_own_tube_gussets_and_plates_count_until_it_stood_on_the_scale() {
    let main = MainBars::these(&book().weight.unwrap().hoop_bars);
    let middle = Tubes { main, ..Tubes::new(TubeSize::metric(42.4, 3.2), TubeSize::metric(38.0, 2.6)) };
    let heavy = Tubes { main, ..Tubes::new(TubeSize::metric(48.3, 3.2), TubeSize::metric(42.4, 2.6)) };
    let record = example_record();
    let cage = solve(&record, &middle);
    let sum: Mass = cage.members.iter().map(|bar| bar.mass).sum::<Mass>()
        + cage.gussets.iter().map(|gusset| gusset.mass).sum::<Mass>()
        + cage.plates.iter().map(|plate| plate.mass).sum::<Mass>();
    let of = |cage_in| Foreseen::of(&weighed("1330 kg", cage_in), &[], Some(&book()), (&record, &cage));
    let found = of(false);
    near((found.finished - found.weighed).kg(), sum.kg());
    // 5 % either way, anywhere alike: 0.05 x m / sqrt(3) (GUM 4.3.7), beside the scale's 1 lb x sqrt(2/12).
    let scale = Mass::from_lb((1.0_f64 / 6.0).sqrt()).kg();
    near(found.doubt.kg(), (scale.powi(2) + (sum.kg() * 0.05).powi(2) / 3.0).sqrt());
    assert_eq!(found.outlook, Outlook::Crosses, "{}", found.finished.lb());
    let other = found.other.as_ref().unwrap();
    near(other.cage.unwrap().kg(), solve(&record, &heavy).mass().kg());
    near((other.finished - found.weighed).kg(), other.cage.unwrap().kg());
    assert!(other.finished > found.finished);
    let stood = of(true);
    assert_eq!((stood.cage, stood.outlook), (CagePart::Weighed, Outlook::Stays));
    near(stood.finished.kg(), 1330.0);
    let none = foreseen("1330 kg", false, &[]);
    assert_eq!(none.cage, CagePart::NotLaidOut);
    assert!(!none.tells());
}

/// The finished car read 2,658 lb with all in it that was listed at W1: it weighs that, and only what is listed after it is
/// added. By hand: 2658 + 12 = 2670 lb.
#[test]
fn what_a_finished_car_stood_on_the_scale_with_is_not_applied_again() {
    let (record, cage) = bare();
    let newest = |cage_in| WeighIn { number: 2, ..weighed("2658 lb", cage_in) };
    let at = |number, listed: Listed| Listed { weigh_in: number, ..listed };
    let before = [
        at(Some(1), listed(Way::Out, "180 lb", Some(("3 lb", SpreadIs::Limits)))),
        at(Some(1), listed(Way::In, "60 lb", None)),
        at(None, listed(Way::In, "2 lb", None)),
    ];
    let of = |cage_in, list: &[Listed]| Foreseen::of(&newest(cage_in), list, Some(&book()), (&record, &cage));
    let weighed = of(true, &before);
    near(weighed.finished.lb(), 2658.0);
    near(weighed.doubt.lb(), (1.0_f64 / 6.0).sqrt());
    assert_eq!((weighed.unspread, weighed.tells()), (0, false));
    near(weighed.goes_in.lb() + weighed.comes_out.lb(), 0.0);
    let after = [before.as_slice(), &[at(Some(2), listed(Way::In, "12 lb", None))]].concat();
    near(of(true, &after).finished.lb(), 2670.0);
    assert_eq!(of(true, &after).unspread, 1);
    // A car weighed again without its cage still waits for all of it.
    near(of(false, &before).finished.lb(), 2658.0 - 180.0 + 62.0);
}

#[test]
fn the_chance_is_that_of_the_normal_distribution() {
    for case in oracles(include_str!("data/weigh.json"), "weigh.edge.") {
        let [measured, doubt, limit] = ["measured", "u", "limit"].map(|name| case.inputs[name].as_f64().unwrap());
        let inside = if case.inputs["limit_is"] == "max" { limit - measured } else { measured - limit };
        let want = case.expected["probability_conforming"].as_f64().unwrap();
        let got = normal(inside / doubt);
        assert!((got - want).abs() <= 1e-8, "{}: {got}, expected {want}", case.id);
    }
    // The table's own ends (Abramowitz and Stegun, table 26.1): 0.5, 0.84134 47461, 0.99865 01020.
    for (z, want) in [(0.0, 0.5), (1.0, 0.841_344_746_1), (3.0, 0.998_650_102_0), (-1.0, 0.158_655_253_9)] {
        assert!((normal(z) - want).abs() < 1e-10, "{z}: {}", normal(z));
    }
    assert!((normal(-20.0), normal(20.0), normal(f64::NEG_INFINITY)) == (0.0, 1.0, 0.0));
}

#[test]
fn without_a_class_there_is_a_weight_and_no_verdict() {
    let mut unticked = weighed("2600 lb", true);
    unticked.reading.conditions.clear();
    let (record, cage) = bare();
    let list = [listed(Way::In, "106 lb", None)];
    let found = Foreseen::of(&unticked, &list, Some(&book()), (&record, &cage));
    assert_eq!((found.outlook, found.chance), (Outlook::NoClass, None));
    near(found.finished.lb(), 2706.0);
    assert!(found.describe(tackbook::quantity::Units::Inch).is_none());
    assert_eq!(Foreseen::of(&unticked, &list, None, (&record, &cage)).outlook, Outlook::NoClass);
}
