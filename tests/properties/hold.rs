//! The hold point has one word, which follows from the newest round, its reply and what is not as it was shown.

use jiff::civil::{Date, date};
use serde_json::{Value, json};
use tackbook::domain::cage::{CageRecord, Fixing, GussetKind, TapeMeasure};
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::derived::release::Release;
use tackbook::domain::derived::worked::Worked;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::recorded::rounds::{Decision, Reply, Round};
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::work::lowering::Plan;
use tackbook::quantity::{Length, Typed};

use crate::full_build;

const DAY: Date = date(2026, 5, 4);
const AT: jiff::Timestamp = jiff::Timestamp::UNIX_EPOCH;

/// The full build before any round.
fn begun() -> BuildFacts {
    BuildFacts { rounds: Vec::new(), replies: Vec::new(), ..full_build::facts() }
}

/// With a round of this number whose contents list this is, approved; of an early round, with all joints it asks for.
pub(crate) fn approved_round(mut facts: BuildFacts, number: u32, text: &str) -> BuildFacts {
    let round: Round = serde_json::from_value(json!({
        "id": format!("00000000-0000-4000-8000-00000000008{number}"), "build": facts.build.id, "number": number, "issue_key": "k",
        "contents": text, "contents_sha256": Fingerprint::of(b"c"), "packet_sha256": Fingerprint::of(b"p"), "as_of": 1,
        "issued": AT, "by": "office",
    }))
    .unwrap();
    let contents: Option<Value> = serde_json::from_str(text).ok();
    let joints = contents.as_ref().and_then(|contents| contents.get("early")?.as_object()).into_iter().flatten();
    let reply = Reply {
        id: number.to_string(),
        round: round.id,
        decision: Decision::Approved,
        released: joints.map(|(joint, _)| joint.parse().unwrap()).collect(),
        despite: None,
        answers: None,
        words: String::new(),
        given_by: "scrutineer A".to_owned(),
        licence: String::new(),
        came: None,
        received: AT,
        by: "office".to_owned(),
        mails: Vec::new(),
    };
    facts.rounds.push(round);
    facts.replies.push(reply);
    facts
}

/// Approved as it stands, its contents list altered as an older or another program would have written it.
fn approved(facts: BuildFacts, alter: impl Fn(&mut Value)) -> BuildFacts {
    let contents = Contents::of(&facts, &Worked::of(&facts, DAY), 1);
    let mut value: Value = serde_json::from_str(&contents.canonical()).unwrap();
    alter(&mut value);
    let text = value.to_string();
    approved_round(facts, 1, &text)
}

fn cage(facts: &mut BuildFacts, change: impl Fn(&mut CageRecord)) {
    let cage = facts.cage.as_mut().unwrap();
    let mut record = cage.record().unwrap();
    change(&mut record);
    cage.json = serde_json::to_string(&record).unwrap();
}

#[test]
fn a_release_lapses_with_any_change_and_says_which() {
    let facts = approved(begun(), |_| {});
    let released = Findings::of(&facts, DAY);
    assert!(matches!(released.hold, Hold::Released { round: 1, .. }), "{:?}", released.changes);
    assert!(released.describe_hold().starts_with("Released: scrutineer A approved round 1."));
    assert_eq!((released.hold_short(), released.release), ("released by round 1".to_owned(), Release::WholeCage));
    let lapsed = |change: &dyn Fn(&mut BuildFacts), told: &str| {
        let mut facts = facts.clone();
        change(&mut facts);
        let found = Findings::of(&facts, DAY);
        assert!(matches!(&found.hold, Hold::Lapsed { round: 1, changes, .. } if *changes == found.changes), "{told}");
        assert!(
            found.hold.held() && found.describe_hold().starts_with("HELD: tacks only. "),
            "{}",
            found.describe_hold()
        );
        assert_eq!(found.hold_short(), "held, changed since round 1");
        let changes: Vec<String> =
            found.changes.iter().map(|change| format!("{}: {}", change.at, change.what)).collect();
        assert!(changes.iter().any(|change| change == told), "{told}: {changes:#?}");
        assert!(!changes.iter().any(|change| change.contains('_') || change.contains("C1: C1")), "{changes:#?}");
    };
    let first = |facts: &mut BuildFacts| {
        cage(facts, |record| record.gussets.iter_mut().take(1).for_each(|gusset| gusset.kind = GussetKind::Flat));
    };
    lapsed(&first, "G1: was bent-sheet saddle; now flat plate");
    let bolted = |facts: &mut BuildFacts| {
        cage(facts, |record| record.plates.values_mut().for_each(|plate| plate.fixed = Fixing::Bolted));
    };
    lapsed(&bolted, "P1: was welded; now bolted");
    lapsed(&|facts| facts.build.event_day = Some(date(2027, 1, 2)), "C1: event day: was 2026-09-01; now 2027-01-02");
    lapsed(&|facts| facts.build.event_day = None, "C1: event day: was 2026-09-01; now not set");
    lapsed(
        &|facts| facts.car.registered = Some("2004".parse().unwrap()),
        "C1: first registered for the road: was 1999; now 2004",
    );
    let seat = |facts: &mut BuildFacts| {
        cage(facts, |record| record.seats.iter_mut().for_each(|seat| seat.hips_up = typed(160.0)));
    };
    lapsed(&seat, "C1: seat 1: hips up: was 150 mm; now 160 mm");
    let roof = |facts: &mut BuildFacts| {
        cage(facts, |record| drop(record.measures.insert(TapeMeasure::RoofInside, typed(1150.0))));
    };
    lapsed(&roof, "C1: roof: height inside, at the hoop: was 44 7/8 in; now 1150 mm");
    lapsed(&|facts| facts.kit.clear(), "K1: item is not there any more");
}

fn typed(mm: f64) -> Typed<Length> {
    Typed::of(Length::from_mm(mm), format!("{mm} mm"))
}

#[test]
fn the_log_other_units_and_a_day_that_passes_change_nothing() {
    let mut facts = begun();
    facts.build.event_day = None;
    let mut facts = approved(facts, |_| {});
    facts.notes.clear();
    facts.as_of += 5;
    facts.questions.iter_mut().for_each(|question| question.text.push_str(", again"));
    cage(&mut facts, |record| {
        for typed in record.measures.values_mut() {
            *typed = Typed::of(Length::from_mm(typed.value.mm()), format!("{} mm", typed.value.mm()));
        }
    });
    let found = Findings::of(&facts, DAY.tomorrow().unwrap());
    assert!(matches!(found.hold, Hold::Released { .. }), "{:#?}", found.changes);
}

#[test]
fn a_round_from_before_the_record_was_kept_says_that_it_cannot_tell() {
    let facts = approved(begun(), |contents| {
        contents["tackbook_round"] = json!(1);
        contents.as_object_mut().unwrap().remove("record");
        contents.as_object_mut().unwrap().remove("judged");
    });
    let found = Findings::of(&facts, DAY);
    let Hold::Lapsed { changes, .. } = &found.hold else { panic!("{:?}", found.hold) };
    assert!(matches!(changes.as_slice(), [only] if only.what.contains("round 1 was issued before")), "{changes:?}");
    assert!(found.describe_hold().contains("cannot be told"), "{}", found.describe_hold());
}

#[test]
fn a_round_that_cannot_be_read_releases_nothing() {
    let good = Contents::of(&begun(), &Worked::of(&begun(), DAY), 1).canonical();
    for text in
        [String::new(), "{}".to_owned(), good.replace("\"tackbook_round\":2", "\"tackbook_round\":3"), good + "x"]
    {
        let found = Findings::of(&approved_round(begun(), 1, &text), DAY);
        assert_eq!(found.hold, Hold::Unreadable(1), "{text}");
        assert!(found.hold.held() && found.describe_hold().contains("releases nothing"), "{}", found.describe_hold());
        assert_eq!(found.release, Release::Unreadable(1));
        assert!(found.release.blocks() && found.release.released().is_none());
    }
}

/// Joints that were released for welding while lowered stand until something of them is otherwise; strip, list and the
/// lowering plan say the same.
#[test]
fn single_joints_lapse_with_their_bars_and_every_place_says_so() {
    let facts = begun();
    let early = Findings::of(&facts, DAY).worked.lowering.as_ref().map(Plan::asks).unwrap();
    assert!(!early.is_empty());
    let facts = approved(facts, |contents| contents["early"] = serde_json::to_value(&early).unwrap());
    let found = Findings::of(&facts, DAY);
    let first = early.keys().next().unwrap().to_string();
    assert_eq!(found.hold, Hold::JointsOnly(1));
    let told = found.describe_hold();
    assert!(told.contains("scrutineer A released J") && told.contains(&first), "{told}");
    assert!(!found.release.blocks() && found.hold.held());
    // A figure that was not there before is no change of the weld.
    let mut more = facts.clone();
    let mut read = more.measured[0].clone();
    read.of = first.parse().unwrap();
    more.measured.push(read);
    assert!(!Findings::of(&more, DAY).release.blocks());
    for change in [
        (|facts: &mut BuildFacts| {
            cage(facts, |record| {
                record.measures.values_mut().for_each(|typed| *typed = Typed::written(typed.value * 1.01));
            });
        }) as fn(&mut BuildFacts),
        |facts| facts.lowering.as_mut().unwrap().wanted = false,
        |facts| facts.lowering.as_mut().unwrap().settings.room = typed(1.0),
    ] {
        let mut facts = facts.clone();
        change(&mut facts);
        let found = Findings::of(&facts, DAY);
        let Release::Lapsed { round: 1, what } = &found.release else { panic!("{:?}", found.release) };
        assert!(!what.is_empty() && found.release.released().is_none() && found.release.blocks());
        assert!(!found.describe_hold().contains("A released"), "{}", found.describe_hold());
        assert!(found.describe_hold().contains("is held again"), "{}", found.describe_hold());
        assert_eq!(found.hold_short(), "held, changed since round 1");
    }
}
