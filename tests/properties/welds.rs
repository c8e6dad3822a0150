//! The weld log: what is held is told until the scrutineer knows of it, a joint's word rests on its lines, the order spreads heat.

use jiff::civil::{Date, date};
use proptest::prelude::*;
use serde_json::json;
use tackbook::domain::cage::record::example::{TUBES, example_record};
use tackbook::domain::cage::{Cage, solve};
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::derived::open_items;
use tackbook::domain::derived::worked::Worked;
use tackbook::domain::judge::shots::place;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::recorded::notes::Struck;
use tackbook::domain::recorded::welds::Weld;
use tackbook::domain::recorded::welds::stage::Stage;
use tackbook::domain::words::ids::Balloon;
use tackbook::domain::work::weld_order::{alike, all, suggested};
use tackbook::quantity::Units;

use crate::full_build;
use crate::hold::approved_round;

const DAY: Date = date(2026, 5, 4);
const AT: jiff::Timestamp = jiff::Timestamp::UNIX_EPOCH;

fn line(line: u32, joint: &str, did: &str, held: Option<&str>) -> Weld {
    let run = json!({"welder": {"name": "A. Welder", "qualification": "", "expires": null}, "process": "135", "positions": ["PA", "PE"],
        "filler": "", "batch": "", "gas": "", "volts": null, "amperes": null, "wire_speed": null, "travel": null, "stick_out": null,
        "preheat": null, "photo": null});
    let did = match did {
        "accepted" | "repair" => json!({"inspected": {"level": "C", "outcome": did, "inspector": "office"}}),
        kind => json!({kind: run}),
    };
    serde_json::from_value(
        json!({"line": line, "joint": joint, "day": DAY, "did": did, "note": "", "held": held, "at": AT,
        "by": "fabricator", "struck": null}),
    )
    .unwrap()
}

fn struck(weld: Weld) -> Weld {
    Weld { struck: Some(Struck { why: "the other car".to_owned(), at: AT, by: "office".to_owned() }), ..weld }
}

fn bare() -> BuildFacts {
    BuildFacts { rounds: Vec::new(), replies: Vec::new(), welds: Vec::new(), ..full_build::facts() }
}

/// With a round that shows what is there now, approved.
fn approved(facts: BuildFacts) -> BuildFacts {
    let number = u32::try_from(facts.rounds.len() + 1).unwrap();
    let text = Contents::of(&facts, &Worked::of(&facts, DAY), number).canonical();
    approved_round(facts, number, &text)
}

fn open(facts: &BuildFacts) -> Vec<String> {
    let found = Findings::of(facts, DAY);
    open_items::of(facts, &found, Units::Metric, &|_| DAY).into_iter().map(|item| item.what).collect()
}

fn told(facts: &BuildFacts) -> bool {
    open(facts).iter().any(|what| what.starts_with("Welded while held"))
}

fn why(facts: &BuildFacts, day: Date) -> Option<String> {
    Findings::of(facts, DAY).why_held(facts, "J1".parse().unwrap(), day, &|_| date(2026, 5, 3))
}

#[test]
fn what_is_welded_while_held_stands_first_until_a_round_that_told_of_it_is_approved() {
    let mut facts = bare();
    assert_eq!(why(&facts, DAY).as_deref(), Some("held, no round yet"));
    facts.welds.push(line(1, "J1", "welded", why(&facts, DAY).as_deref()));
    assert!(
        open(&facts)[0].starts_with("Welded while held: J1, 2026-05-04, by A. Welder (held, no round yet)."),
        "{:?}",
        open(&facts)
    );
    let contents = Contents::of(&facts, &Worked::of(&facts, DAY), 1);
    assert_eq!(contents.welded_held["J1"].len(), 1);
    // the next round tells of it; approved, it is settled and nothing has changed
    let settled = approved(facts.clone());
    assert!(!told(&settled) && matches!(Findings::of(&settled, DAY).hold, Hold::Released { .. }));
    // a round that is only out settles nothing
    let out = BuildFacts { replies: Vec::new(), ..settled };
    assert!(told(&out));
    // struck through it says nothing any more
    facts.welds = vec![struck(facts.welds[0].clone())];
    assert!(!told(&facts) && Contents::of(&facts, &Worked::of(&facts, DAY), 1).welded_held.is_empty());
}

#[test]
fn welding_on_a_released_cage_is_neither_held_nor_a_change() {
    let mut facts = approved(bare());
    assert_eq!(why(&facts, DAY), None);
    assert_eq!(why(&facts, date(2026, 5, 2)).as_deref(), Some("released on 2026-05-03 only"));
    facts.welds.push(line(1, "J1", "welded", why(&facts, DAY).as_deref()));
    let found = Findings::of(&facts, DAY);
    assert!(!told(&facts) && found.changes.is_empty() && matches!(found.hold, Hold::Released { .. }));
    // welded before the release and written down after it: the scrutineer approved another cage
    facts.welds.push(line(2, "J2", "welded", Some("released on 2026-05-03 only")));
    let found = Findings::of(&facts, DAY);
    assert!(told(&facts) && matches!(found.hold, Hold::Lapsed { .. }), "{:?}", found.hold);
    assert!(found.changes.iter().any(|change| change.what.starts_with("welded while held")), "{:?}", found.changes);
    // without a book nothing is held
    let bookless = BuildFacts { book: None, ..bare() };
    assert_eq!(why(&bookless, DAY), None);
}

#[test]
fn a_joints_word_rests_on_its_lines() {
    let at: Balloon = "J1".parse().unwrap();
    let lines =
        |all: &[&str]| -> Vec<Weld> { (1..).zip(all).map(|(number, did)| line(number, "J1", did, None)).collect() };
    for (all, stage) in [
        (&[][..], Stage::NotWelded),
        (&["coupon"], Stage::NotWelded),
        (&["welded"], Stage::Welded),
        (&["welded", "accepted"], Stage::Accepted),
        (&["welded", "repair"], Stage::RepairWanted),
        (&["welded", "repair", "repaired"], Stage::Repaired),
        (&["welded", "repair", "repaired", "accepted"], Stage::Accepted),
    ] {
        assert_eq!(Stage::of(&lines(all), at), stage, "{all:?}");
    }
    // each line taken away takes its word away
    let whole = lines(&["welded", "repair", "repaired", "accepted"]);
    let without = |place: usize| {
        let mut welds = whole.clone();
        welds[place] = struck(welds[place].clone());
        Stage::of(&welds, at)
    };
    assert_eq!((without(0), without(3)), (Stage::NotWelded, Stage::Repaired));
}

#[test]
fn overhead_wants_a_coupon_of_its_welder_first() {
    let mut facts = approved(bare());
    facts.welds.push(line(1, "J1", "welded", None));
    let asked = |facts: &BuildFacts| open(facts).iter().any(|what| what.contains("no practice coupon of A. Welder"));
    assert!(asked(&facts));
    facts.welds.push(line(2, "J1", "coupon", None));
    assert!(!asked(&facts));
    facts.welds[1].day = date(2026, 5, 5);
    assert!(asked(&facts));
}

fn cage() -> Cage {
    solve(&example_record(), &TUBES)
}

proptest! {
    /// Every seam that is left stands in the order once, and none that is welded.
    #[test]
    fn the_order_is_of_all_that_is_left(welded in proptest::collection::vec(any::<prop::sample::Index>(), 0..12)) {
        let cage = cage();
        let seams = all(&cage, &[]);
        let welds: Vec<Weld> = (1..).zip(&welded)
            .map(|(number, index)| line(number, &index.get(&seams).at.to_string(), "welded", None))
            .collect();
        let order: Vec<Balloon> = suggested(&cage, &welds, &[]).iter().map(|seam| seam.at).collect();
        let mut sorted = order.clone();
        sorted.sort();
        sorted.dedup();
        prop_assert_eq!(sorted.len(), order.len());
        for seam in &seams {
            let done = welds.iter().any(|weld| weld.joint == seam.at);
            prop_assert_eq!(order.contains(&seam.at), !done);
        }
        let whole: f64 = seams.iter().map(|seam| seam.length.mm()).sum();
        prop_assert!((whole - cage.seam().mm()).abs() < 1e-6);
    }
}

/// Within a turn the next is the farthest from the last: measured here by the joints' own places.
#[test]
fn heat_is_spread() {
    let cage = cage();
    let joints: Vec<Balloon> = cage.joints.iter().map(|joint| joint.balloon).collect();
    let order: Vec<Balloon> =
        suggested(&cage, &[], &joints).iter().map(|seam| seam.at).filter(|at| joints.contains(at)).collect();
    assert_eq!(order.len(), joints.len());
    let far = |one: Balloon, other: Balloon| place(&cage, one).unwrap().distance(place(&cage, other).unwrap());
    for (step, pair) in order.windows(2).enumerate() {
        let farthest = order[step + 1..].iter().map(|one| far(pair[0], *one)).fold(0.0, f64::max);
        assert!(far(pair[0], pair[1]) > farthest - 1e-3, "{pair:?}");
    }
    // what is welded while the cage is let down comes first
    let last = *order.last().unwrap();
    assert_eq!(suggested(&cage, &[], &[last])[0].at, last);
}

/// The settings offered are of a joint of the same tubes, and of the process asked for.
#[test]
fn an_alike_joint_has_the_same_tubes() {
    let cage = cage();
    let joints: Vec<Balloon> = cage.joints.iter().map(|joint| joint.balloon).collect();
    let welds = [line(1, &joints[0].to_string(), "welded", None)];
    let found: Vec<Balloon> = joints.iter().copied().filter(|at| alike(&cage, &welds, *at, None).is_some()).collect();
    assert!(!found.is_empty() && !found.contains(&joints[0]));
    let tungsten = tackbook::domain::recorded::welds::process::WeldProcess::Gtaw;
    assert!(alike(&cage, &welds, found[0], Some(tungsten)).is_none());
    assert!(alike(&cage, &[struck(welds[0].clone())], found[0], None).is_none());
}
