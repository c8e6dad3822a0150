//! Rows that rest on a certificate, on bolts, on two figures of one part, or on the car's age: C04, C05, C12, C16, C17, C21,
//! C25. The source stands beside each.

use std::cell::Cell;

use jiff::civil::date;
use tackbook::domain::book::{RuleBook, read};
use tackbook::domain::cage::Side;
use tackbook::domain::judge::verdicts::{Bar, Known, Verdict, Word, judge};
use tackbook::domain::measure::amounts::Amount;
use tackbook::domain::measure::bolts::BoltGrade;
use tackbook::domain::measure::figures::Figure;
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::measure::tools::Tool;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::words::basis::Basis;
use tackbook::domain::words::car_dates::CarDates;
use tackbook::domain::words::ids::{Balloon, Kind};
use tackbook::domain::words::roles::MemberRole;
use tackbook::quantity::{Angle, Area, Length, Stress, Units};

use crate::known::{self, nothing};

const STICK: Balloon = Balloon::new(Kind::Stick, 1);
const HOOP_PLATE: Balloon = Balloon::new(Kind::Plate, 1);
const STAY_PLATE: Balloon = Balloon::new(Kind::Plate, 2);
const BAR: Balloon = Balloon::new(Kind::Member, 1);

const HEAD: &str = "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n";
const WORDS: &str = "clause = \"1\"\ntext_ours = \"x\"\nforce = \"must\"\nsure = \"text seen\"\n";

fn book(rules: &str) -> RuleBook {
    read(&format!("{HEAD}{rules}")).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"))
}

fn rule(kind: &str, id: &str, fields: &str) -> String {
    let evidence = if fields.contains("evidence") { "" } else { "evidence = \"figure\"\n" };
    format!("[[{kind}]]\nid = \"{id}\"\n{WORDS}{evidence}{fields}\n")
}

fn figure(measure: Measure, of: Balloon, role: Option<MemberRole>, amount: Amount) -> Figure {
    known::figure(measure, of, role, Length::from_mm(45.0), amount)
}

/// What is known of a car; nothing, to begin with.
#[derive(Default)]
struct Car {
    figures: Vec<Figure>,
    members: Vec<Bar>,
    welded: Vec<Balloon>,
    dates: CarDates,
    photographed: bool,
    looked: Cell<u32>,
}

impl Car {
    fn judged(&self, book: &RuleBook) -> Vec<Verdict> {
        let known = Known {
            figures: &self.figures,
            members: &self.members,
            parts: &[STICK],
            welded: &self.welded,
            photographed: &|_, _| {
                self.looked.set(self.looked.get() + 1);
                self.photographed
            },
            ..nothing(&self.dates, date(2026, 6, 1))
        };
        judge(book, &known).verdicts
    }

    fn words(&self, book: &RuleBook) -> Vec<Word> {
        self.judged(book).into_iter().map(|verdict| verdict.word).collect()
    }
}

fn certified(figures: &[(Measure, Amount)]) -> Car {
    let figures = figures.iter().map(|(measure, amount)| figure(*measure, STICK, None, *amount)).collect();
    Car { figures, photographed: true, ..Car::default() }
}

#[test]
fn c04_a_steels_chemistry() {
    // MSUK App. 3, 20.1: C at most 0.30, Mn at most 1.7, each other at most 0.6 per cent; the edges are in
    let book = book(&rule(
        "steel",
        "chemistry",
        "evidence = \"paper\"\ncarbon_upto = 0.30\nmanganese_upto = 1.7\nother_upto = 0.6",
    ));
    let words = |carbon, manganese, other| {
        let [carbon, manganese, other] = [carbon, manganese, other].map(Amount::Percent);
        certified(&[(Measure::Carbon, carbon), (Measure::Manganese, manganese), (Measure::OtherElement, other)])
            .words(&book)
    };
    let (meets, over) = (Word::Meets, Word::OverBy);
    assert_eq!(words(0.22, 1.60, 0.55), [meets; 3]);
    assert_eq!(words(0.30, 1.7, 0.6), [meets; 3]);
    assert_eq!(words(0.31, 1.60, 0.55), [over, meets, meets]);
    assert_eq!(words(0.22, 1.75, 0.55), [meets, over, meets]);
    assert_eq!(words(0.22, 1.60, 0.65), [meets, meets, over]);
    // Nothing typed is nothing known, and a figure without its certificate's photograph is not shown.
    let bare = certified(&[(Measure::Carbon, Amount::Percent(0.2))]);
    assert_eq!(bare.words(&book), [meets, Word::NotMeasured, Word::NotMeasured]);
    let unseen = Car { photographed: false, ..certified(&[(Measure::Carbon, Amount::Percent(0.2))]) };
    assert_eq!(unseen.words(&book).first(), Some(&Word::NoPhoto));
}

#[test]
fn c05_a_steels_strength_is_tensile_or_yield_as_the_book_says() {
    // MSUK App. 3, 20.1 and FIA 2009 print 350 N/mm² as yield, MSUK 19 as tensile; the edge is in
    let (tear, bend) = (Measure::Tensile, Measure::Yield);
    for (says, measure, strength, wanted) in [
        ("tensile", tear, 420.0, Word::Meets),
        ("yield", bend, 350.0, Word::Meets),
        ("tensile", tear, 349.0, Word::ShortBy),
        ("yield", bend, 340.0, Word::ShortBy),
        ("yield", tear, 420.0, Word::NotMeasured),
    ] {
        let fields = format!("strength = 350\nstrength_is = \"{says}\"\nunit = \"N/mm²\"");
        let car = certified(&[(measure, Amount::Stress(Stress::from_mpa(strength)))]);
        assert_eq!(car.words(&book(&rule("steel", "r", &fields))), [wanted], "{says} {strength}");
    }
    // 50.76 ksi is 350 N/mm²: a certificate in the other unit says the same
    let ksi = rule("steel", "r", "strength = 50\nstrength_is = \"yield\"\nunit = \"ksi\"");
    let car = certified(&[(bend, Amount::Stress(Stress::from_mpa(350.0)))]);
    assert_eq!(car.words(&book(&ksi)), [Word::Meets]);
}

#[test]
fn c12_a_pillar_bar_is_needed_over_200_mm() {
    // FIA 253, pillar, from memory: needed where A is more than 200 mm
    let book = book(&rule(
        "member_needed",
        "r",
        "role = \"pillar strut\"\nneeded_if = { measure = \"pillar dimension A\", of = \"lateral half hoop\", \
         compare = \"more than\", value = 200, unit = \"mm\" }",
    ));
    let half_hoop = MemberRole::LateralHalfHoop;
    let bar = known::bar(BAR, half_hoop, Some(Side::Left), TubeSize::metric(45.0, 2.5));
    let with = |mm: Option<f64>| Car {
        figures: mm
            .map(|mm| figure(Measure::PillarDimension, BAR, Some(half_hoop), Amount::Length(Length::from_mm(mm))))
            .into_iter()
            .collect(),
        members: vec![bar.clone()],
        ..Car::default()
    };
    assert_eq!(with(Some(200.0)).words(&book), [Word::NotAsked]);
    assert_eq!(with(Some(201.0)).words(&book), [Word::ShortBy]);
    let unknown = with(None).judged(&book);
    assert_eq!(unknown[0].word, Word::NotMeasured);
    assert_eq!(unknown[0].also, [(Measure::PillarDimension, BAR)], "and it is asked for on the measures' sheet");
}

/// A plate with its foot's bar and these bolts.
fn bolted(of: Balloon, role: MemberRole, count: u32, size: f64, grade: &str) -> Vec<Figure> {
    let grade = BoltGrade::read(grade).unwrap();
    [
        (Measure::PlateArea, Amount::Area(Area::from_cm2(120.0))),
        (Measure::BoltCount, Amount::Count(count)),
        (Measure::BoltSize, Amount::Length(Length::from_mm(size))),
        (Measure::BoltGrade, Amount::Grade(grade)),
        (Measure::BoltSpread, Amount::Angle(Angle::from_degrees(90.0))),
    ]
    .map(|(measure, amount)| figure(measure, of, Some(role), amount))
    .to_vec()
}

#[test]
fn c16_a_hoop_foots_bolts() {
    // FIA 253, restated by an event: at least 3 bolts of M8, ISO class 8.8; the angle between two from memory
    let book = book(&rule(
        "plate",
        "r",
        "under = \"main hoop\"\nunit = \"mm\"\nbolts = 3\nbolt_size = \"M8\"\nbolt_grade = \"8.8\"\nbolt_spread_deg = 60",
    ));
    let words = |count, size, grade| {
        let figures = bolted(HOOP_PLATE, MemberRole::MainHoop, count, size, grade);
        Car { figures, ..Car::default() }.words(&book)
    };
    let (meets, short) = (Word::Meets, Word::ShortBy);
    assert_eq!(words(3, 8.0, "8.8"), [meets; 4]);
    assert_eq!(words(4, 10.0, "10.9"), [meets; 4]);
    assert_eq!(words(2, 10.0, "8.8"), [short, meets, meets, meets]);
    assert_eq!(words(3, 8.0, "6.8"), [meets, meets, short, meets]);
    assert_eq!(words(3, 8.0, "grade 5")[2], Word::NotMeasured, "grades of two standards are not compared");
    let figures = bolted(HOOP_PLATE, MemberRole::MainHoop, 2, 6.0, "4.6");
    let welded = Car { figures, welded: vec![HOOP_PLATE], ..Car::default() };
    assert_eq!(welded.words(&book), [Word::NotAsked], "a welded plate has none");
}

#[test]
fn c17_a_backstays_bolts_against_a_hoop_foots() {
    // MSUK App. 3, 8.2: together at least 2/3 of the section at a hoop foot; the edge is in
    let share = "under = \"backstay\"\nunit = \"mm\"\nbolt_section_share = \"2/3\"\nbolt_section_of = \"main hoop\"\n\
                 double_shear_counts_twice = true";
    let book = book(&rule("plate", "r", share));
    let car =
        |own: u32, planes: Option<u32>| {
            let mut figures = bolted(HOOP_PLATE, MemberRole::MainHoop, 3, 8.0, "8.8");
            figures.extend(bolted(STAY_PLATE, MemberRole::Backstay, own, 8.0, "8.8"));
            figures.extend(planes.map(|planes| {
                figure(Measure::BoltShear, STAY_PLATE, Some(MemberRole::Backstay), Amount::Count(planes))
            }));
            Car { figures, ..Car::default() }
        };
    assert_eq!(car(2, None).words(&book), [Word::Meets]);
    assert_eq!(car(1, None).words(&book), [Word::ShortBy]);
    assert_eq!(car(1, Some(1)).words(&book), [Word::ShortBy]);
    assert_eq!(car(1, Some(2)).words(&book), [Word::Meets], "double shear with a welded bush");
    let short = car(1, None).judged(&book).remove(0);
    // 64 π/4 mm² short of 2/3 of three times as much
    assert_eq!(short.margin, Some(Amount::Area(Area::from_mm2(64.0 * std::f64::consts::FRAC_PI_4))));
    let mut unknown = car(2, None);
    unknown.figures.retain(|figure| figure.of == STAY_PLATE || figure.measure != Measure::BoltCount);
    assert_eq!(unknown.words(&book), [Word::NotMeasured]);
}

#[test]
fn c21_a_door_bar_against_half_the_opening() {
    // FIA 253, door bars, from memory: upper attachment not above half the door opening height
    let limit = "measure = \"upper end over the sill\"\nof = \"door bar\"\nmost = 0.5\n\
                 share_of = \"door opening height\"";
    let book = book(&rule("limit", "r", limit));
    let role = MemberRole::DoorBar;
    let bar = known::bar(BAR, role, Some(Side::Left), TubeSize::metric(38.0, 2.5));
    let car = |height: Option<f64>, opening: Option<f64>| {
        let of = |measure, mm: Option<f64>| {
            mm.map(|mm| figure(measure, BAR, Some(role), Amount::Length(Length::from_mm(mm))))
        };
        let figures = [of(Measure::DoorBarHeight, height), of(Measure::OpeningHeight, opening)];
        Car { figures: figures.into_iter().flatten().collect(), members: vec![bar.clone()], ..Car::default() }
    };
    assert_eq!(car(Some(300.0), Some(620.0)).words(&book), [Word::Meets]);
    assert_eq!(car(Some(310.0), Some(620.0)).words(&book), [Word::Meets]);
    assert_eq!(car(Some(320.0), Some(620.0)).words(&book), [Word::OverBy]);
    assert_eq!(car(Some(300.0), None).words(&book), [Word::NotMeasured]);
    assert_eq!(car(None, Some(620.0)).words(&book), [Word::NotMeasured]);
    let over = car(Some(320.0), Some(620.0)).judged(&book).remove(0);
    assert_eq!(over.margin, Some(Amount::Length(Length::from_mm(10.0))));
}

#[test]
fn c25_a_rule_of_younger_cars() {
    // GCR 2006: plates at most 100 in²; a car registered before 1 October 1995 is exempt
    let applies = "applies_when = { car = \"registered\", from = 1995-10-01 }";
    let book = book(&rule("plate", "r", &format!("under = \"every foot\"\nunit = \"in\"\narea_most = 100\n{applies}")));
    let word = |registered: &str| {
        let area = Amount::Area(Area::from_square_inches(144.0));
        let dates = CarDates { registered: registered.parse().ok(), ..CarDates::default() };
        let figures = vec![figure(Measure::PlateArea, HOOP_PLATE, Some(MemberRole::MainHoop), area)];
        Car { figures, dates, ..Car::default() }.words(&book)
    };
    assert_eq!(word("1995-09-30"), [Word::NotAsked]);
    assert_eq!(word("1995-10-01"), [Word::OverBy]);
    assert_eq!(word("1994"), [Word::NotAsked], "the year alone decides");
    assert_eq!(word("1995-10"), [Word::OverBy], "and so does the month");
    assert_eq!(word("1995"), [Word::NotMeasured], "the year of the edge does not say");
    assert_eq!(word(""), [Word::NotMeasured]);
}

#[test]
fn a_rule_that_is_met_stands_in_for_another() {
    // ours: a certificate of the body in place of the tube's gauged wall
    let paper = "what = \"the certificate\"\nper = \"car\"\nbefore = \"tack\"";
    let wall =
        "measure = \"wall as measured\"\nof = \"every bar\"\nleast = 3\nunit = \"mm\"\nexempt_with = [\"paper\"]";
    let chained = format!("{}{}", rule("limit", "wall", wall), rule("shot", "paper", paper));
    let book = book(&chained);
    let bar = known::bar(BAR, MemberRole::MainHoop, None, TubeSize::metric(45.0, 2.5));
    let thin = figure(Measure::WallMeasured, BAR, None, Amount::Length(Length::from_mm(2.5)));
    let car =
        |photographed| Car { figures: vec![thin.clone()], members: vec![bar.clone()], photographed, ..Car::default() };
    assert_eq!(car(false).words(&book), [Word::ShortBy, Word::NoPhoto]);
    assert_eq!(car(true).words(&book), [Word::NotAsked, Word::Meets]);
    let met = car(true);
    assert_eq!((met.judged(&book).len(), met.looked.get()), (2, 1), "what stands in is judged once");
}

#[test]
fn what_cannot_be_asked_is_refused_at_its_line() {
    let told = |rules: &str| {
        let mistakes = read(&format!("{HEAD}{rules}")).err().unwrap_or_default();
        mistakes.into_iter().map(|mistake| (mistake.line, mistake.what)).collect::<Vec<_>>()
    };
    let limit = "measure = \"tube wall\"\nof = \"every bar\"\nleast = 3\nunit = \"mm\"\n";
    // A rule of a kind has twelve lines here: id, four words, evidence, four of the limit, and the one in question.
    let exempt = |id: &str, other: &str| rule("limit", id, &format!("{limit}exempt_with = [\"{other}\"]"));
    let circle = format!("{}{}{}", exempt("a", "b"), exempt("b", "c"), exempt("c", "a"));
    let lines: Vec<usize> =
        circle.lines().enumerate().filter(|line| line.1.contains("exempt")).map(|line| line.0 + 6).collect();
    let found = told(&circle);
    assert_eq!(found.iter().map(|found| found.0).collect::<Vec<_>>(), lines, "{found:?}");
    assert!(found.iter().all(|found| found.1.contains("stand in for each other")), "{found:?}");
    let itself = told(&exempt("a", "a"));
    assert_eq!(itself.len(), 1, "{itself:?}");
    let unknown = told(&exempt("a", "z"));
    assert!(unknown.len() == 1 && unknown[0].1.contains("called “z”"), "{unknown:?}");
    // the one beside the circle is no part of it
    let beside = format!("{circle}{}", exempt("d", "a"));
    assert_eq!(told(&beside).len(), 3);
    for (kind, fields, part) in [
        (
            "limit",
            "measure = \"tube wall\"\nof = \"every bar\"\nleast = 3\nunit = \"furlong\"",
            "knows no word “furlong”",
        ),
        ("limit", "measure = \"bolt grade\"\nof = \"plate\"\nleast = 8.8", "asked for by its plate"),
        (
            "limit",
            "measure = \"tube wall\"\nof = \"every bar\"\nleast = 3\nshare_of = \"plate area\"",
            "is no share of",
        ),
        ("steel", "strength = 350\nunit = \"N/mm²\"", "“strength_is” is missing"),
        ("steel", "strength_is = \"yield\"\ncarbon_upto = 0.3", "no strength that this speaks of"),
        ("steel", "", "asks for nothing"),
        ("plate", "under = \"backstay\"\nunit = \"mm\"\nbolt_size = \"8 furlongs\"", "does not read here"),
        (
            "plate",
            "under = \"backstay\"\nunit = \"mm\"\nbolt_section_share = \"2/0\"\nbolt_section_of = \"main hoop\"",
            "is no share",
        ),
        (
            "plate",
            "under = \"backstay\"\nunit = \"mm\"\nbolts = 2\nbolt_section_of = \"main hoop\"",
            "no share of a section",
        ),
        ("limit", &format!("{limit}applies_when = {{ car = \"registered\" }}"), "No day is given"),
        (
            "limit",
            &format!("{limit}applies_when = {{ car = \"registered\", from = 2005-01-01, before = 2005-01-01 }}"),
            "No day lies between",
        ),
    ] {
        let found = told(&rule(kind, "r", fields));
        assert!(found.iter().any(|found| found.1.contains(part) && found.0 > 5), "{part}: {found:?}");
    }
}

/// JCGM 106 on a tape: one step is a rectangle for the reading and one for the tape's beginning, u = d √(2/12) (GUM 4.3.7),
/// so that 1 mm leaves u = 0.408 mm and a band of 0.816 mm.
#[test]
fn a_figure_nearer_to_the_limit_than_its_tool_can_tell_is_too_close() {
    let book = book(&rule("limit", "r", "measure = \"gap to the body\"\nof = \"every bar\"\nmost = 50\nunit = \"mm\""));
    let bar = known::bar(BAR, MemberRole::MainHoop, None, TubeSize::metric(45.0, 2.5));
    let judged = |mm: f64, tool| {
        let gap = figure(Measure::BodyGap, BAR, None, Amount::Length(Length::from_mm(mm)));
        let gap = Figure { tool, basis: Basis::Measured, ..gap };
        Car { figures: vec![gap], members: vec![bar.clone()], ..Car::default() }.judged(&book).remove(0)
    };
    for (mm, tool, wanted) in [
        (49.0, Some(Tool::Tape), Word::Meets),
        (49.5, Some(Tool::Tape), Word::TooClose),
        (50.0, Some(Tool::Tape), Word::TooClose),
        (50.5, Some(Tool::Tape), Word::TooClose),
        (51.0, Some(Tool::Tape), Word::OverBy),
        (49.5, Some(Tool::Caliper), Word::Meets),
        (50.5, Some(Tool::Caliper), Word::OverBy),
        // Nobody said what it was read with: it may have been a tape in sixteenths, whose band is 1.3 mm.
        (48.5, None, Word::Meets),
        (49.0, None, Word::TooClose),
        (51.5, None, Word::OverBy),
    ] {
        assert_eq!(judged(mm, tool).word, wanted, "{mm} {tool:?}");
    }
    let close = judged(49.5, Some(Tool::Tape));
    assert_eq!(close.describe_margin(Units::Metric), "off the limit by 0.5 mm, 1.2 u");
    assert!(close.evidence.iter().any(|said| said == "Inside the limit by less than the tape, 1 mm can tell."));
    assert!(close.evidence.iter().any(|said| said.contains("JCGM 106")), "{:?}", close.evidence);
    assert!(!close.to_do().is_empty() && judged(49.0, Some(Tool::Tape)).to_do().is_empty());
    assert_eq!(judged(49.0, Some(Tool::Tape)).describe_margin(Units::Metric), "inside by 1 mm, 2.4 u");
}

/// A quotient of two diameters has the doubt of both (GUM 5.1.2): at 45 mm a caliper of 0.05 mm leaves u = 0.00061 by 0.9, so
/// that 0.901 is too close to 0.9 and 0.902 is not. A share of another figure has the doubt of both figures too.
#[test]
fn the_doubt_of_two_readings_is_that_of_both() {
    let round = book(&rule("limit", "r", "measure = \"roundness at the bend\"\nof = \"every bar\"\nleast = 0.9"));
    let bar = known::bar(BAR, MemberRole::DoorBar, None, TubeSize::metric(45.0, 2.5));
    let with = |figures| Car { figures, members: vec![bar.clone()], ..Car::default() };
    let bent = |ratio| {
        let read = Figure { tool: Some(Tool::Caliper), ..figure(Measure::Roundness, BAR, None, Amount::Ratio(ratio)) };
        with(vec![read]).words(&round)
    };
    assert_eq!((bent(0.901), bent(0.902), bent(0.898)), (vec![Word::TooClose], vec![Word::Meets], vec![Word::ShortBy]));
    let half = book(&rule(
        "limit",
        "r",
        "measure = \"upper end over the sill\"\nof = \"every bar\"\nmost = 0.5\nshare_of = \"door opening height\"",
    ));
    // u = √(0.408² + (0.408/2)²) = 0.456 mm: the band is 0.913 mm.
    let height = |mm: f64| {
        let of = |measure, mm| Figure {
            tool: Some(Tool::Tape),
            ..figure(measure, BAR, Some(MemberRole::DoorBar), Amount::Length(Length::from_mm(mm)))
        };
        with(vec![of(Measure::DoorBarHeight, mm), of(Measure::OpeningHeight, 620.0)]).words(&half)
    };
    assert_eq!((height(309.08), height(309.1)), (vec![Word::Meets], vec![Word::TooClose]));
}
