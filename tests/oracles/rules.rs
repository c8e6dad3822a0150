//! Rows of published rule books, restated: each passes and fails where the book's text says so. The source stands beside each.

use jiff::civil::date;
use tackbook::domain::book::{RuleBook, read};
use tackbook::domain::cage::Side;
use tackbook::domain::judge::verdicts::{Bar, Finished, Known, Weighed, Word, judge};
use tackbook::domain::measure::amounts::Amount;
use tackbook::domain::measure::figures::Figure;
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::words::car_dates::CarDates;
use tackbook::domain::words::ids::{Balloon, Kind};
use tackbook::domain::words::roles::MemberRole;
use tackbook::quantity::{Angle, Area, Length, Mass};

use crate::known::{self, nothing};

const BAR: Balloon = Balloon::new(Kind::Member, 1);
const PLATE: Balloon = Balloon::new(Kind::Plate, 1);
const GUSSET: Balloon = Balloon::new(Kind::Gusset, 1);

const WORDS: &str =
    "clause = \"1\"\ntext_ours = \"x\"\nforce = \"must\"\nevidence = \"figure\"\nsure = \"text seen\"\n";

fn book(rules: &str) -> RuleBook {
    let head = "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n";
    read(&format!("{head}{rules}")).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"))
}

fn rule(kind: &str, fields: &str) -> RuleBook {
    book(&format!("[[{kind}]]\nid = \"r\"\n{WORDS}{fields}\n"))
}

fn bar(role: MemberRole, tube: TubeSize) -> Bar {
    known::bar(BAR, role, Some(Side::Left), tube)
}

fn figure(measure: Measure, of: Balloon, role: MemberRole, diameter: Length, amount: Amount) -> Figure {
    known::figure(measure, of, Some(role), diameter, amount)
}

fn words(book: &RuleBook, figures: &[Figure], members: &[Bar], class: Option<&Weighed>) -> Vec<Word> {
    let car = CarDates::default();
    let known = Known { figures, members, class, ..nothing(&car, date(2026, 6, 1)) };
    judge(book, &known).verdicts.into_iter().map(|verdict| verdict.word).collect()
}

/// The word on one figure of a bar.
fn of_bar(book: &RuleBook, measure: Measure, role: MemberRole, diameter: Length, amount: Amount) -> Word {
    let figures = [figure(measure, BAR, role, diameter, amount)];
    words(book, &figures, &[bar(role, TubeSize::metric(45.0, 2.5))], None)[0]
}

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

fn inch(value: f64) -> Length {
    Length::from_inches(value)
}

/// A book with one class for all weights and these tubes, and the word on one bar.
fn tube_word(rows: &[(&str, f64, f64, &str)], role: MemberRole, tube: TubeSize) -> Word {
    let rows: String = rows
        .iter()
        .map(|(use_, outside, wall, unit)| {
            format!("[[weight_class.tube]]\nuse = \"{use_}\"\noutside = {outside}\nwall = {wall}\nunit = \"{unit}\"\n")
        })
        .collect();
    let book = book(&format!(
        "[weight]\nid = \"w\"\n{WORDS}edge_belongs_to = \"each class says\"\nhoop_bars = [\"main hoop\"]\n\
         [[weight_class]]\nid = \"c\"\nname = \"all\"\n{WORDS}{rows}",
    ));
    let now = book.class(Mass::from_kg(1200.0), Mass::from_kg(1.0), &[]).unwrap();
    let class = Weighed { now, finished: Finished::OnTheScale };
    words(&book, &[], &[bar(role, tube)], Some(&class))[1]
}

#[test]
fn c01_c03_tubes_reach_one_printed_pair() {
    // FIA 253 and MSUK 20.1; inch figures are alternatives, not conversions
    let metric =
        [("hoop", 45.0, 2.5, "mm"), ("hoop", 50.0, 2.0, "mm"), ("other", 38.0, 2.5, "mm"), ("other", 40.0, 2.0, "mm")];
    let inches = [
        ("hoop", 1.75, 0.095, "in"),
        ("hoop", 2.0, 0.083, "in"),
        ("other", 1.5, 0.095, "in"),
        ("other", 1.6, 0.083, "in"),
    ];
    let hoop = MemberRole::MainHoop;
    for (outside, wall, wanted) in [
        (45.0, 2.5, Word::Meets),
        (50.0, 2.0, Word::Meets),
        (50.0, 2.5, Word::Meets),
        (48.3, 2.4, Word::ShortBy),
        (44.5, 3.0, Word::ShortBy),
    ] {
        assert_eq!(tube_word(&metric, hoop, TubeSize::metric(outside, wall)), wanted, "C01 {outside} × {wall}");
    }
    for (outside, wall, wanted) in [
        (1.75, 0.095, Word::Meets),
        (2.0, 0.095, Word::Meets),
        (1.75, 0.083, Word::ShortBy),
        (1.625, 0.120, Word::ShortBy),
    ] {
        assert_eq!(tube_word(&inches, hoop, TubeSize::inch(outside, wall)), wanted, "C02 {outside} × {wall}");
    }
    let bar = MemberRole::DoorBar;
    assert_eq!(tube_word(&metric, bar, TubeSize::metric(38.0, 2.5)), Word::Meets, "C03");
    assert_eq!(tube_word(&inches, bar, TubeSize::inch(1.5, 0.095)), Word::Meets, "C03");
    assert_eq!(tube_word(&metric, bar, TubeSize::metric(38.0, 2.0)), Word::ShortBy, "C03");
    assert_eq!(tube_word(&inches, bar, TubeSize::inch(1.5, 0.083)), Word::ShortBy, "C03");
}

#[test]
fn c06_bend_radius_is_at_least_three_diameters() {
    // MSUK 20.3, FIA 253 of 2009
    let book = rule("limit", "measure = \"bend radius\"\nof = \"every bar\"\nleast = 3\ntimes_diameter = true");
    for (diameter, radius, wanted) in [
        (inch(1.75), inch(5.25), Word::Meets),
        (mm(45.0), mm(135.0), Word::Meets),
        (inch(1.75), inch(4.5), Word::ShortBy),
    ] {
        let got = of_bar(&book, Measure::BendRadius, MemberRole::MainHoop, diameter, Amount::Length(radius));
        assert_eq!(got, wanted, "{radius:?}");
    }
}

#[test]
fn c07_roundness_is_at_least_nine_tenths() {
    // MSUK 20.3
    let book = rule("limit", "measure = \"roundness at the bend\"\nof = \"every bar\"\nleast = 0.9");
    for (minor, major, wanted) in [(40.5, 45.0, Word::Meets), (42.0, 46.5, Word::Meets), (41.0, 45.6, Word::ShortBy)] {
        let amount = Amount::Ratio(minor / major);
        let got = of_bar(&book, Measure::Roundness, MemberRole::MainHoop, mm(45.0), amount);
        assert_eq!(got, wanted, "{minor}/{major}");
    }
}

#[test]
fn c08_c09_c13_angles() {
    // MSUK 8.1: backstay at least 30°; FIA 253 from memory: hoop within 10°, pillar bar bend at most 20°
    let backstay = rule("limit", "measure = \"angle to vertical\"\nof = \"backstay\"\nleast = 30\nunit = \"degrees\"");
    for (back, wanted) in [(600.0_f64, Word::Meets), (570.0, Word::ShortBy)] {
        let angle = Amount::Angle(Angle::from_radians((back / 1000.0).atan()));
        assert_eq!(of_bar(&backstay, Measure::AngleToVertical, MemberRole::Backstay, mm(38.0), angle), wanted, "C08");
    }
    let hoop = rule("limit", "measure = \"angle to vertical\"\nof = \"main hoop\"\nmost = 10\nunit = \"degrees\"");
    for (lean, wanted) in [(10.0, Word::Meets), (4.0, Word::Meets), (10.1, Word::OverBy)] {
        let angle = Amount::Angle(Angle::from_degrees(lean));
        assert_eq!(of_bar(&hoop, Measure::AngleToVertical, MemberRole::MainHoop, mm(45.0), angle), wanted, "C09");
    }
    let strut = rule("limit", "measure = \"bend angle\"\nof = \"pillar strut\"\nmost = 20\nunit = \"degrees\"");
    for (bend, wanted) in [(20.0, Word::Meets), (21.0, Word::OverBy)] {
        let angle = Amount::Angle(Angle::from_degrees(bend));
        assert_eq!(of_bar(&strut, Measure::BendAngle, MemberRole::PillarStrut, mm(38.0), angle), wanted, "C13");
    }
}

#[test]
fn c10_c11_one_hundred_is_in_here_and_out_there() {
    // MSUK 9.3 "not further than 100 mm"; MSUK bulletin 2011 K1.3.5 e "less than 100 mm"
    let foot = rule("limit", "measure = \"lower end to foot\"\nof = \"hoop diagonal\"\nmost = 100\nunit = \"mm\"");
    for (at, wanted) in [(100.0, Word::Meets), (101.0, Word::OverBy)] {
        let amount = Amount::Length(mm(at));
        assert_eq!(of_bar(&foot, Measure::EndToFoot, MemberRole::HoopDiagonal, mm(38.0), amount), wanted, "C10");
    }
    let upper = rule(
        "limit",
        "measure = \"upper end to joint\"\nof = \"pillar strut\"\nmost = 100\nmost_included = false\nunit = \"mm\"",
    );
    for (at, wanted) in [(99.0, Word::Meets), (99.9999, Word::Meets), (100.0, Word::OverBy)] {
        let amount = Amount::Length(mm(at));
        assert_eq!(of_bar(&upper, Measure::EndToJoint, MemberRole::PillarStrut, mm(38.0), amount), wanted, "C11");
    }
}

#[test]
fn c12_a_strut_is_needed_only_beyond_the_figure() {
    // FIA 253, from memory: needed when dimension A is more than 200 mm. A is no measure of ours; the gap of the half
    // hoop to the body stands in for it, to hold the comparison.
    let book = rule(
        "member_needed",
        "role = \"pillar strut\"\nneeded_if = { measure = \"gap to the body\", of = \"lateral half hoop\", \
         compare = \"more than\", value = 200, unit = \"mm\" }",
    );
    let half_hoop = bar(MemberRole::LateralHalfHoop, TubeSize::metric(38.0, 2.5));
    let word = |figures: &[Figure]| words(&book, figures, std::slice::from_ref(&half_hoop), None)[0];
    let at = |gap: f64| figure(Measure::BodyGap, BAR, MemberRole::LateralHalfHoop, mm(38.0), Amount::Length(mm(gap)));
    assert_eq!(word(&[at(200.0)]), Word::NotAsked);
    assert_eq!(word(&[at(201.0)]), Word::ShortBy);
    assert_eq!(word(&[]), Word::NotMeasured, "without the figure it is not known whether it is asked");
}

/// The words on a plate of two sides and a thickness, each in the same unit.
fn plate_words(book: &RuleBook, diameter: Length, sides: (Length, Length), thick: Length) -> Vec<Word> {
    let (short, long) = if sides.0 < sides.1 { sides } else { (sides.1, sides.0) };
    let of = |measure, amount| figure(measure, PLATE, MemberRole::MainHoop, diameter, amount);
    let figures = [
        of(Measure::PlateArea, Amount::Area(short.times(long))),
        of(Measure::PlateShortSide, Amount::Length(short)),
        of(Measure::PlateLongSide, Amount::Length(long)),
        of(Measure::PlateThickness, Amount::Length(thick)),
    ];
    words(book, &figures, &[bar(MemberRole::MainHoop, TubeSize::metric(45.0, 2.5))], None)
}

#[test]
fn c14_c15_plates_by_least_area_and_thickness() {
    // FIA 253 restated by an event's rules: 120 cm² and 3 mm; MSUK 8.2: 60 cm²
    let hoop = rule("plate", "under = \"main hoop\"\nunit = \"cm\"\narea_least = 120\nthick_least = 0.3");
    let word = |long: f64, thick: f64| plate_words(&hoop, mm(45.0), (mm(100.0), mm(long)), mm(thick));
    assert_eq!(word(120.0, 3.0), [Word::Meets, Word::Meets], "C14");
    assert_eq!(word(119.0, 3.0), [Word::ShortBy, Word::Meets], "C14");
    assert_eq!(word(120.0, 2.9), [Word::Meets, Word::ShortBy], "C14");
    let stay = rule("plate", "under = \"backstay\"\nunit = \"cm\"\narea_least = 60");
    let word = |under: MemberRole, short: f64| {
        let area = Amount::Area(mm(short).times(mm(100.0)));
        let figures = [figure(Measure::PlateArea, PLATE, under, mm(38.0), area)];
        words(&stay, &figures, &[bar(under, TubeSize::metric(38.0, 2.5))], None)
    };
    assert_eq!(word(MemberRole::Backstay, 60.0), [Word::Meets], "C15");
    assert_eq!(word(MemberRole::Backstay, 59.0), [Word::ShortBy], "C15");
    assert_eq!(word(MemberRole::MainHoop, 59.0), [Word::NotMeasured], "C15 speaks of the backstays' feet alone");
}

#[test]
fn c18_c19_c20_gussets_of_bent_sheet() {
    // FIA 253-34, from memory
    let book = book(&format!(
        "[[limit]]\nid = \"leg\"\n{WORDS}measure = \"gusset leg\"\nof = \"gusset\"\nleast = 2\nmost = 4\ntimes_diameter = true\n\
         [[limit]]\nid = \"sheet\"\n{WORDS}measure = \"gusset thickness\"\nof = \"gusset\"\nleast = 1.0\nunit = \"mm\"\n\
         [[limit]]\nid = \"hole\"\n{WORDS}measure = \"gusset hole\"\nof = \"gusset\"\nmost = 1\ntimes_diameter = true\n",
    ));
    let word = |leg: f64, sheet: f64, hole: f64| {
        let of = |measure, value| figure(measure, GUSSET, MemberRole::MainHoop, mm(45.0), Amount::Length(mm(value)));
        let figures = [of(Measure::GussetLeg, leg), of(Measure::GussetThickness, sheet), of(Measure::GussetHole, hole)];
        words(&book, &figures, &[bar(MemberRole::MainHoop, TubeSize::metric(45.0, 2.5))], None)
    };
    assert_eq!(word(90.0, 1.0, 45.0), [Word::Meets, Word::Meets, Word::Meets]);
    assert_eq!(word(180.0, 1.5, 45.0), [Word::Meets, Word::Meets, Word::Meets]);
    assert_eq!(word(89.0, 0.9, 46.0), [Word::ShortBy, Word::ShortBy, Word::OverBy]);
    assert_eq!(word(181.0, 1.0, 45.0)[0], Word::OverBy);
}

#[test]
fn c22_c23_plates_that_grow_with_the_tube() {
    // SCCA rally rules of about 2001, 5.6 C3: area in in² at least ten times the diameter in inches, sides at least 2 D
    let book =
        rule("plate", "under = \"every foot\"\nunit = \"in\"\narea_least_per_diameter = 10\nside_least_diameters = 2");
    let word = |one: f64, two: f64| plate_words(&book, inch(1.75), (inch(one), inch(two)), inch(0.125));
    assert_eq!(word(3.5, 5.0), [Word::Meets, Word::Meets]);
    assert_eq!(word(3.5, 4.9), [Word::ShortBy, Word::Meets], "C22");
    assert_eq!(word(3.4, 6.0), [Word::Meets, Word::ShortBy], "C23");
}

#[test]
fn c24_plates_with_a_most() {
    // GCR 2006
    let book = rule("plate", "under = \"every foot\"\nunit = \"in\"\narea_most = 100\nside_least = 2\nside_most = 12");
    let word = |one: f64, two: f64| plate_words(&book, inch(1.75), (inch(one), inch(two)), inch(0.125));
    let meets = [Word::Meets; 3];
    assert_eq!(word(10.0, 10.0), meets);
    assert_eq!(word(2.0, 12.0), meets);
    assert_eq!(word(9.0, 11.5), [Word::OverBy, Word::Meets, Word::Meets]);
    assert_eq!(word(1.9, 8.0), [Word::Meets, Word::ShortBy, Word::Meets]);
    assert_eq!(word(12.1, 6.0), [Word::Meets, Word::Meets, Word::OverBy]);
}

#[test]
fn c39_an_inspection_holes_least_diameter() {
    // a US open-road event's rules; the distance from welds and bends is no measure of ours
    let book = rule("limit", "measure = \"inspection hole\"\nof = \"main hoop\"\nleast = 0.1875\nunit = \"in\"");
    for (hole, wanted) in [(3.0 / 16.0, Word::Meets), (0.25, Word::Meets), (5.0 / 32.0, Word::ShortBy)] {
        let amount = Amount::Length(inch(hole));
        assert_eq!(of_bar(&book, Measure::InspectionHole, MemberRole::MainHoop, inch(1.5), amount), wanted, "{hole}");
    }
}

#[test]
fn c40_a_wall_is_nominal_and_measured() {
    // Speedway sedans, Australia, 2012: 3.0 mm nominal and 2.7 mm by gauge
    let book = book(&format!(
        "[[limit]]\nid = \"nominal\"\n{WORDS}measure = \"tube wall\"\nof = \"every bar\"\nleast = 3.0\nunit = \"mm\"\n\
         [[limit]]\nid = \"gauged\"\n{WORDS}measure = \"wall as measured\"\nof = \"every bar\"\nleast = 2.7\nunit = \"mm\"\n",
    ));
    let word = |nominal: f64, gauged: f64| {
        let of = |measure, value| figure(measure, BAR, MemberRole::MainHoop, mm(38.0), Amount::Length(mm(value)));
        let figures = [of(Measure::TubeWall, nominal), of(Measure::WallMeasured, gauged)];
        words(&book, &figures, &[bar(MemberRole::MainHoop, TubeSize::metric(38.0, nominal))], None)
    };
    assert_eq!(word(3.0, 2.7), [Word::Meets, Word::Meets]);
    assert_eq!(word(3.0, 2.69), [Word::Meets, Word::ShortBy]);
    assert_eq!(word(2.8, 2.8), [Word::ShortBy, Word::Meets]);
}

#[test]
fn plates_in_square_inches() {
    // an area of our own choice: 15 in² exactly passes, 3 × 4 15/16 in fails
    let book = rule("plate", "under = \"every foot\"\nunit = \"in\"\narea_least = 15");
    let word = |one: f64, two: f64| plate_words(&book, inch(1.5), (inch(one), inch(two)), inch(0.125));
    assert_eq!(word(3.0, 5.0), [Word::Meets]);
    assert_eq!(word(3.0, 4.937_5), [Word::ShortBy]);
    assert_eq!(Area::from_square_inches(15.0), inch(3.0).times(inch(5.0)));
}
