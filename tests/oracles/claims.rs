//! What may be said to meet a rule: only what is recorded, measured or seen, of the very thing that the rule speaks of. One
//! row for each way in which a build looked right and was not. The expected words follow from the rules' own sentences.

use jiff::civil::{Date, date};
use tackbook::domain::cage::{BasicStructure, CageRecord, Diagonal, Foot, GussetKind, Hand, TapeMeasure};
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::{Verdict, Word};
use tackbook::domain::recorded::facts::{BuildFacts, CageText};
use tackbook::domain::shop::stock::Stick;
use tackbook::domain::weight::weigh_in::Loads;
use tackbook::domain::words::basis::Basis;
use tackbook::domain::words::roles::MemberRole;
use tackbook::quantity::{Length, Mass, Typed};

use crate::full_build;

const DAY: Date = date(2026, 5, 4);
const WORDS: &str = "clause = \"1\"\ntext_ours = \"x\"\nforce = \"must\"\nevidence = \"figure\"\nsure = \"invented\"\n";

fn rule(kind: &str, id: &str, fields: &str) -> String {
    format!("[[{kind}]]\nid = \"{id}\"\n{WORDS}{fields}\n")
}

fn book(rules: &str) -> String {
    format!("[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n{rules}")
}

/// Two classes with their edge at so many kilograms; all bars of one size in each.
fn classes(edge: u32) -> String {
    let class = |name: &str, side: &str, outside: u32| {
        let tube =
            |of: &str| format!("[[weight_class.tube]]\nuse = \"{of}\"\noutside = {outside}\nwall = 2\nunit = \"mm\"\n");
        let (hoop, other) = (tube("hoop"), tube("other"));
        rule("weight_class", name, &format!("name = \"{name}\"\n{side} = {edge}\nunit = \"kg\"\n{hoop}{other}"))
    };
    format!(
        "[weight]\nid = \"weighing\"\n{WORDS}edge_belongs_to = \"heavier\"\nhoop_bars = [\"main hoop\"]\n{}{}",
        class("light", "upto", 30),
        class("heavy", "over", 60)
    )
}

/// The full build, judged by these rules, with its record changed.
fn build(rules: &str, change: impl FnOnce(&mut CageRecord)) -> BuildFacts {
    let mut facts = full_build::facts();
    let mut record = full_build::record();
    change(&mut record);
    facts.cage = Some(CageText { json: serde_json::to_string(&record).unwrap(), version: 1 });
    facts.book.as_mut().unwrap().toml = book(rules);
    facts.rulings.clear();
    facts.weigh_ins.truncate(1);
    facts.foreseen.clear();
    facts
}

/// A build with every bar cut from one stick of this size, in millimetres.
fn cut(mut facts: BuildFacts, outside: f64) -> BuildFacts {
    let stick: &mut Stick = facts.sticks.first_mut().unwrap();
    stick.size = Typed::written(tackbook::domain::steel::tube::TubeSize {
        outside: Length::from_mm(outside),
        ..stick.size.value
    });
    let cut = facts.cuts.first().unwrap().clone();
    let members = Findings::of(&facts, DAY).worked.cage.members;
    let cuts = members.iter().map(|bar| tackbook::domain::shop::stock::Cut { member: bar.balloon, ..cut.clone() });
    facts.cuts = cuts.collect();
    facts
}

fn judged(facts: &BuildFacts) -> Vec<Verdict> {
    assert_eq!(facts.rules().unwrap().err(), None);
    Findings::of(facts, DAY).worked.verdicts
}

fn words(verdicts: &[Verdict], rule: &str) -> Vec<Word> {
    verdicts.iter().filter(|verdict| verdict.rule_id == rule).map(|verdict| verdict.word).collect()
}

fn basis(verdicts: &[Verdict], rule: &str) -> Vec<Basis> {
    verdicts.iter().filter(|verdict| verdict.rule_id == rule).flat_map(|verdict| verdict.rests_on().clone()).collect()
}

#[test]
fn a_bar_without_a_stick_meets_no_rule_of_its_tube() {
    let rules = [
        classes(3_000),
        rule("limit", "wall", "measure = \"tube wall\"\nof = \"every bar\"\nleast = 1\nunit = \"mm\""),
        rule("limit", "bend", "measure = \"bend radius\"\nof = \"main hoop\"\nleast = 1\ntimes_diameter = true"),
        rule("limit", "leg", "measure = \"gusset leg\"\nof = \"gusset\"\nleast = 1\ntimes_diameter = true"),
    ]
    .concat();
    let mut bare = build(&rules, |_| ());
    bare.sticks.clear();
    bare.cuts.clear();
    let verdicts = judged(&bare);
    for id in ["light", "wall", "bend", "leg"] {
        let said = words(&verdicts, id);
        assert!(!said.is_empty() && said.iter().all(|word| *word == Word::NotMeasured), "{id}: {said:?}");
    }
    assert!(verdicts.iter().any(|verdict| verdict.basis().contains("no stick is recorded that it is cut from")));
    let verdicts = judged(&cut(bare_with_stick(&rules), 40.0));
    for id in ["light", "wall", "bend", "leg"] {
        let said = words(&verdicts, id);
        assert!(!said.is_empty() && said.iter().all(|word| *word == Word::Meets), "{id}: {said:?}");
    }
    assert!(basis(&verdicts, "light").iter().all(|basis| *basis == Basis::Recorded));
    assert!(basis(&verdicts, "bend").contains(&Basis::Drawn));
    // What is only planned and too thin already falls short.
    let mut thin = bare_with_stick(&classes(1));
    thin.cuts.clear();
    assert!(words(&judged(&thin), "heavy").iter().all(|word| *word == Word::NotMeasured), "planned in the class's own");
}

fn bare_with_stick(rules: &str) -> BuildFacts {
    build(rules, |record| record.tubes.clear())
}

#[test]
fn a_gusset_counts_at_the_angle_that_the_rule_names() {
    let at = |bars: &str, either: &str| {
        let verdicts = judged(&build(&rule("gusset", "r", &format!("at = {bars}\n{either}")), |_| ()));
        words(&verdicts, "r")
    };
    // Its two gussets stand where the hoop's diagonals cross.
    assert_eq!(at("[\"hoop diagonal\", \"hoop diagonal\"]", ""), [Word::Meets]);
    assert_eq!(at("[\"hoop diagonal\", \"hoop diagonal\"]", "count_least = 2"), [Word::Meets]);
    assert_eq!(at("[\"hoop diagonal\", \"hoop diagonal\"]", "count_least = 3"), [Word::ShortBy]);
    assert_eq!(at("[\"hoop diagonal\", \"hoop diagonal\"]", "either = [\"tube\"]"), [Word::ShortBy], "they are sheet");
    // One of another angle of the same joint does not do: every joint of hoop and half hoop is without.
    let elsewhere = at("[\"main hoop\", \"lateral half hoop\"]", "");
    assert!(elsewhere.len() == 2 && elsewhere.iter().all(|word| *word == Word::ShortBy), "{elsewhere:?}");
}

#[test]
fn a_flat_gussets_own_thickness_is_judged_by_the_flat_gussets_limit() {
    let rules = [
        rule("limit", "flat", "measure = \"gusset thickness\"\nof = \"gusset\"\nleast = 3\nunit = \"mm\"\ngusset_kinds = [\"flat plate\"]"),
        rule("limit", "any", "measure = \"gusset thickness\"\nof = \"gusset\"\nleast = 1\nunit = \"mm\""),
    ]
    .concat();
    let with = |kind: GussetKind| {
        judged(&build(&rules, |record| record.gussets.iter_mut().for_each(|gusset| gusset.kind = kind)))
    };
    let sheet = with(GussetKind::Saddle);
    assert_eq!((words(&sheet, "flat"), words(&sheet, "any")), (vec![Word::NotAsked], vec![Word::Meets; 2]));
    let flat = with(GussetKind::Flat);
    assert_eq!((words(&flat, "flat"), words(&flat, "any")), (vec![Word::ShortBy; 2], vec![Word::Meets; 2]));
}

#[test]
fn a_bar_that_is_cut_at_a_crossing_is_one_bar() {
    let rules = [
        rule("member_needed", "two", "role = \"hoop diagonal\"\ncount = 2"),
        rule("member_needed", "three", "role = \"hoop diagonal\"\ncount = 3"),
        rule("gusset", "cross", "at = [\"hoop diagonal\", \"hoop diagonal\"]"),
    ]
    .concat();
    let with = |diagonal: Diagonal| {
        judged(&build(&rules, |record| {
            record.options.hoop_diagonal = diagonal;
            record.gussets.clear();
        }))
    };
    let cross = with(Diagonal::Cross);
    assert_eq!(
        (words(&cross, "two"), words(&cross, "three")),
        (vec![Word::Meets], vec![Word::ShortBy]),
        "three pieces"
    );
    let one = with(Diagonal::One);
    assert_eq!((words(&one, "two"), words(&one, "cross")), (vec![Word::ShortBy], vec![Word::NotAsked]));
}

#[test]
fn every_foot_of_the_cage_is_named() {
    let rules = rule("plate", "r", "under = \"every foot\"\nunit = \"mm\"\nthick_least = 2");
    let all = judged(&build(&rules, |_| ()));
    assert_eq!(words(&all, "r"), vec![Word::Meets; 6]);
    let without = judged(&build(&rules, |record| drop(record.plates.remove(&Foot::Front))));
    let said = words(&without, "r");
    assert_eq!(said.iter().filter(|word| **word == Word::Meets).count(), 4);
    assert_eq!(said.iter().filter(|word| **word == Word::NotMeasured).count(), 2);
    for name in ["left front foot", "right front foot"] {
        assert!(without.iter().any(|verdict| verdict.basis().contains(name)), "{name}");
    }
}

/// The class of a car that was weighed without its cage is that of the car it becomes.
#[test]
fn a_class_goes_by_the_finished_car() {
    let finished = |edge: u32, weighed: f64, cage_in: bool, laid_out: bool| {
        let mut facts = build(&classes(edge), |record| {
            if !laid_out {
                record.measures.clear();
            }
        });
        let reading = &mut facts.weigh_ins.first_mut().unwrap().reading;
        reading.loads = Loads::Whole(Typed::of(Mass::from_kg(weighed), format!("{weighed} kg")));
        (reading.again, reading.paper, reading.cage_in) = (Vec::new(), None, cage_in);
        Findings::of(&facts, DAY)
    };
    let word = |edge, weighed, cage_in, laid_out| {
        words(&finished(edge, weighed, cage_in, laid_out).worked.verdicts, "weighing").remove(0)
    };
    assert_eq!(word(1_300, 1_100.0, true, true), Word::Meets);
    assert_eq!(word(1_300, 1_299.9, true, true), Word::TooClose);
    let cage = finished(1_300, 1_100.0, false, true).worked.cage.mass().kg();
    assert!((20.0..120.0).contains(&cage), "{cage}");
    assert_eq!(word(1_300, 1_100.0, false, true), Word::Meets);
    assert_eq!(word(1_300, 1_300.0 - cage, false, true), Word::TooClose);
    assert_eq!(word(1_300, 1_299.0, false, true), Word::OverBy);
    // How much it becomes is not known before its cage is laid out, unless no more can lead out of the class.
    assert_eq!(word(1_300, 1_100.0, false, false), Word::NotMeasured);
    assert_eq!(word(1_300, 1_400.0, false, false), Word::Meets);
    // The tube follows the class that it finishes in, and where either may be, the one of more steel is planned.
    let planned = |weighed, cage_in| finished(1_300, weighed, cage_in, true).worked.tubes.hoop.outside.mm().round();
    assert_eq!((planned(1_100.0, false), planned(1_299.0, false), planned(1_300.0 - cage, false)), (30.0, 60.0, 60.0));
    let close = finished(1_300, 1_300.0 - cage, false, true);
    assert!(
        close
            .worked
            .weighed
            .unwrap()
            .describe(tackbook::quantity::Units::Metric)
            .contains("too close to call when finished")
    );
}

#[test]
fn a_worked_out_figure_carries_the_doubt_of_the_tape() {
    let angle = |least: f64| {
        let fields = format!("measure = \"angle to vertical\"\nof = \"backstay\"\nleast = {least}\nunit = \"degrees\"");
        judged(&build(&rule("limit", "r", &fields), |_| ()))
    };
    let found = angle(10.0).remove(0);
    let Some(tackbook::domain::measure::amounts::Amount::Angle(stands)) = found.figure else { panic!("{found:?}") };
    let stands = stands.degrees();
    assert!(found.doubt.is_none(), "far from its limit no doubt matters");
    let near = |off: f64| angle(stands + off).remove(0);
    assert_eq!((near(-0.001).word, near(0.001).word), (Word::TooClose, Word::TooClose));
    assert_eq!((near(-1.0).word, near(1.0).word), (Word::Meets, Word::ShortBy));
    assert!(near(-1.0).doubt.is_some() && near(-0.001).basis().contains("tape measurements it follows from"));
    // A condition near its value is too close to call as well: whether the rule is asked cannot be told.
    let condition = |value: f64| {
        let fields = format!(
            "role = \"sill bar\"\nneeded_if = {{ measure = \"angle to vertical\", of = \"backstay\", compare = \"more than\", \
             value = {value}, unit = \"degrees\" }}"
        );
        judged(&build(&rule("member_needed", "r", &fields), |_| ())).remove(0).word
    };
    assert_eq!(condition(stands - 2.0), Word::ShortBy);
    assert_eq!(condition(stands - 0.001), Word::TooClose);
    assert_eq!(condition(stands + 2.0), Word::NotAsked);
}

#[test]
fn what_decides_whether_a_rule_is_asked_is_asked_for_itself() {
    let needed = |of: &str| {
        rule(
            "member_needed",
            "r",
            &format!(
                "role = \"pillar strut\"\nneeded_if = {{ measure = \"pillar dimension A\", of = \"{of}\", compare = \"more than\", \
                 value = 200, unit = \"mm\" }}"
            ),
        )
    };
    // The pillar is there, whichever bars were chosen.
    let of = |structure: BasicStructure, role: &str| {
        let facts = build(&needed(role), |record| {
            record.structure = structure;
            record.gussets.clear();
            record.hand_bars.clear();
            record.body.clear();
        });
        judged(&facts).remove(0).word
    };
    assert_eq!(of(BasicStructure::FrontHoop, "front hoop"), Word::NotMeasured);
    assert_eq!(of(BasicStructure::FrontHoop, "lateral half hoop"), Word::NotMeasured);
    // A bar that was chosen and cannot be laid out yet is not known to be absent.
    let fitted = rule(
        "limit",
        "r",
        "measure = \"upper end to joint\"\nof = \"roof diagonal\"\nmost = 100\nunit = \"mm\"\nneeded_if = { fitted = \"roof diagonal\" }",
    );
    assert_eq!(words(&judged(&build(&fitted, |_| ())), "r"), [Word::NotAsked], "none is chosen");
    let unlaid = build(&fitted, |record| {
        record.options.roof_diagonal = tackbook::domain::cage::RoofDiagonal::VForward;
        record.gussets.clear();
        for hand in Hand::BOTH {
            record.measures.remove(&TapeMeasure::ScreenCornerUp(hand));
        }
    });
    let found = Findings::of(&unlaid, DAY);
    assert!(
        !found.worked.cage.whole && !found.worked.cage.members.iter().any(|bar| bar.role == MemberRole::RoofDiagonal)
    );
    assert_eq!(words(&found.worked.verdicts, "r"), [Word::NotMeasured]);
}
