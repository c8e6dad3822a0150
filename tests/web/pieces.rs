//! What was photographed or measured of a part counts while the part is that piece: not after it was cut again, moved or
//! made otherwise, and again when it is put back.

use axum::http::StatusCode;
use tackbook::domain::derived::build_file::BuildFile;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::open_items;
use tackbook::domain::judge::verdicts::{Verdict, Word};
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::words::ids::{Balloon, Kind};
use tackbook::quantity::Units;

use crate::cage::{save, typed};
use crate::camera::{Phone, jpeg};
use crate::house::{Browser, House};
use crate::main_job::begun;
use crate::paper;

const HOOP: Balloon = Balloon::new(Kind::Member, 1);
const GUSSETS: [Balloon; 2] = [Balloon::new(Kind::Gusset, 1), Balloon::new(Kind::Gusset, 2)];
const HERE: &str = "/builds/pine-coupe";

/// The build as it stands, with what follows.
async fn looked(house: &House) -> (BuildFacts, Findings) {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    (facts, found)
}

fn verdict<'f>(found: &'f Findings, rule: &str, of: Balloon) -> &'f Verdict {
    found.worked.verdicts.iter().find(|verdict| verdict.rule_id == rule && verdict.of == Some(of)).unwrap()
}

fn photo_word(found: &Findings, of: Balloon) -> Word {
    let rule = if of.kind == Kind::Joint { "joint-tacked" } else { "gusset-fitted" };
    verdict(found, rule, of).word
}

fn figure_word(found: &Findings, measure: Measure) -> Word {
    found.worked.verdicts_of(HOOP).find(|verdict| verdict.measure == Some(measure)).unwrap().word
}

fn open(facts: &BuildFacts, found: &Findings) -> Vec<String> {
    let day = found.worked.day;
    let items = open_items::of(facts, found, Units::Metric, &move |_| day);
    items.into_iter().map(|item| item.what).collect()
}

/// The file of the build, judged by itself: the words that a judging without the shop gives.
fn in_the_file(facts: &BuildFacts, found: &Findings) -> Vec<(String, Option<Balloon>, Word)> {
    let text = BuildFile::of(facts, found.worked.standing(facts)).text();
    let back = BuildFile::read(&text).unwrap().facts(&facts.book.as_ref().unwrap().toml);
    words(&Findings::of(&back, found.worked.day))
}

fn words(found: &Findings) -> Vec<(String, Option<Balloon>, Word)> {
    found.worked.verdicts.iter().map(|verdict| (verdict.rule_id.clone(), verdict.of, verdict.word)).collect()
}

async fn roof_height(floor: &Browser<'_>, version: &str, text: &str) {
    let mut pairs = typed(version);
    let height = pairs.iter_mut().find(|pair| pair.0 == "hoop_roof_height").unwrap();
    text.clone_into(&mut height.1);
    // The sheet of a cage with gussets keeps them.
    let saved = save(floor, &pairs).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
}

async fn gusset(floor: &Browser<'_>, kind: &str, mirror: bool) {
    let sheet = floor.get(&format!("{HERE}/gussets?joint=J1")).await.text;
    let from = sheet.find(r#"<option value="main-hoop"#).unwrap() + r#"<option value=""#.len();
    let angle =
        sheet[from..].split('"').next().unwrap().replace("&#43;", "+").replace("&#62;", ">").replace("&#60;", "<");
    let mut pairs =
        vec![("joint", "J1"), ("angle", angle.as_str()), ("kind", kind), ("leg", "3 1/4"), ("thickness", "1/8")];
    if mirror {
        pairs.push(("mirror", "yes"));
    }
    let answer = floor.post(&format!("{HERE}/gussets"), &pairs).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
}

/// Two sticks given to the build, by id.
async fn sticks(house: &House, floor: &Browser<'_>) -> [String; 2] {
    for heat in ["one", "two"] {
        let stick = [("size", "1 1/2 x .095"), ("grade", "grade A"), ("length", "20 ft"), ("heat", heat)];
        assert_eq!(floor.post("/stock", &stick).await.status, StatusCode::SEE_OTHER);
    }
    let ids: Vec<String> = house.store.sticks().await.unwrap().iter().map(|stick| stick.id.to_string()).collect();
    for id in &ids {
        floor.post(&format!("{HERE}/tube/give"), &[("stick", id)]).await;
    }
    ids.try_into().unwrap()
}

/// At 9:30 laid out and the hoop cut, at 11 two joints and two gussets photographed and the hoop measured. Gives the
/// fabricator's cookie, the sticks, and a joint of the hoop's top and one near the floor that is not the hoop's.
async fn evidence(house: &mut House) -> (String, [String; 2], [Balloon; 2]) {
    begun(house).await;
    let cookie = house.browser("fabricator").await.cookie;
    let floor = house.with_cookie(cookie.clone());
    assert_eq!(save(&floor, &typed("0")).await.status, StatusCode::SEE_OTHER);
    gusset(&floor, "saddle", true).await;
    let [one, two] = sticks(house, &floor).await;
    let cut = floor.post(&format!("{HERE}/tube"), &[("M1", one.as_str()), ("was_M1", "")]).await;
    assert_eq!(cut.status, StatusCode::SEE_OTHER, "{}", cut.text);
    let (_, found) = looked(house).await;
    let hoops = |joint: &tackbook::domain::cage::Joint| {
        joint.carrier == HOOP || joint.incoming.iter().any(|(bar, _)| *bar == HOOP)
    };
    let height =
        |one: &&tackbook::domain::cage::Joint, two: &&tackbook::domain::cage::Joint| one.at.z.total_cmp(&two.at.z);
    let top = found.worked.cage.joints.iter().filter(|joint| hoops(joint)).max_by(height).unwrap().balloon;
    let low = found.worked.cage.joints.iter().filter(|joint| !hoops(joint)).min_by(height).unwrap().balloon;
    house.set_clock("2026-05-04T11:00:00Z");
    let phone = Phone { house, browser: house.with_cookie(cookie.clone()), build: "pine-coupe" };
    let parts = [top, low, GUSSETS[0], GUSSETS[1]];
    let asked =
        found.worked.shots.iter().filter(|shot| parts.contains(&shot.of) && !shot.key.starts_with("joint-finished"));
    for (seed, shot) in (1..).zip(asked) {
        phone.keep(&jpeg(seed), &shot.name()).await;
    }
    let figures = [
        ("roundness-at-the-bend-M1", "0.97"),
        ("inspection-hole-M1", "4 mm"),
        ("helmet-to-the-nearest-bar-M1", "90 mm"),
    ];
    assert_eq!(phone.browser.post(&format!("{HERE}/measures"), &figures).await.status, StatusCode::SEE_OTHER);
    (cookie, [one, two], [top, low])
}

#[tokio::test]
async fn a_joint_that_moved_was_photographed_where_it_was_and_put_back_it_is_the_joint_again() {
    let mut house = House::new().await;
    let (cookie, _, [top, low]) = evidence(&mut house).await;
    let (facts, before) = looked(&house).await;
    assert_eq!(facts.earlier_cages, []);
    for part in [top, low, GUSSETS[0], GUSSETS[1]] {
        assert_eq!(photo_word(&before, part), Word::Meets, "{part}");
    }
    for measure in [Measure::Roundness, Measure::InspectionHole, Measure::HeadGap] {
        assert_eq!(figure_word(&before, measure), Word::Meets, "{measure:?}");
    }
    let office = house.browser("office").await;
    assert_eq!(office.post(&format!("{HERE}/rounds"), &[("key", "one")]).await.status, StatusCode::SEE_OTHER);
    let pictures = paper::pictures(&office.get(&format!("{HERE}/rounds/1/packet.pdf")).await.bytes);

    house.set_clock("2026-05-04T12:00:00Z");
    let floor = house.with_cookie(cookie.clone());
    roof_height(&floor, "2", "43 1/8").await;
    let (facts, found) = looked(&house).await;
    assert_eq!(facts.earlier_cages.len(), 1, "one record was in force when all of it was seen");
    assert_eq!((photo_word(&found, top), photo_word(&found, low)), (Word::NoPhoto, Word::Meets));
    assert_eq!(figure_word(&found, Measure::HeadGap), Word::NotMeasured);
    assert_eq!(figure_word(&found, Measure::Roundness), Word::Meets, "the metal is the same");
    let told = verdict(&found, "joint-tacked", top).evidence.join(" ");
    assert!(
        told.contains("Of the earlier piece and not counted: a photograph, wide, taken before it moved by"),
        "{told}"
    );
    let open = open(&facts, &found);
    let has = |begins: &str, ends: &str| open.iter().any(|what| what.starts_with(begins) && what.contains(ends));
    assert!(has(&format!("{top} was photographed before it moved by"), ": photograph it again"), "{open:#?}");
    assert!(
        has("M1: its helmet to the nearest bar was measured on the earlier piece", "measure it again"),
        "{open:#?}"
    );
    assert!(!has(&format!("{low} was photographed"), ""), "{open:#?}");
    // On every sheet, with these words; never hidden.
    let sheet = floor.get(&format!("{HERE}/joints/{top}")).await.text;
    assert!(sheet.contains("Of the earlier piece: taken before it moved by") && sheet.contains("<img"), "{sheet}");
    assert!(sheet.contains("photographed, but of the earlier piece"), "{sheet}");
    assert!(!floor.get(&format!("{HERE}/joints/{low}")).await.text.contains("earlier piece"));
    let sheet = floor.get(&format!("{HERE}/measures")).await.text;
    assert!(sheet.contains("Of the earlier piece: measured before it moved by") && sheet.contains("90 mm"), "{sheet}");
    let table = floor.get(&format!("{HERE}/measures.csv")).await.text;
    assert!(table.contains("Of the earlier piece: measured before it moved by"), "{table}");
    let sheet = floor.get(&format!("{HERE}/members/M1")).await.text;
    assert!(sheet.contains("of the earlier piece: measured by fabricator, “90 mm”, before it moved by"), "{sheet}");
    // The packet does not print it as evidence, and what a round froze is told to be another.
    let draft = office_packet(&house).await;
    assert!(paper::pictures(&draft) < pictures);
    assert!(paper::words(&draft).contains("taken only before it moved"));
    let changes: Vec<String> = found.changes.iter().map(|change| change.what.clone()).collect();
    assert!(
        changes.iter().any(|what| what.starts_with("photographs withdrawn or of the earlier piece: ")),
        "{changes:?}"
    );
    assert_eq!(in_the_file(&facts, &found), words(&found));

    house.set_clock("2026-05-04T13:00:00Z");
    roof_height(&house.with_cookie(cookie), "3", "43 5/8").await;
    let (_, found) = looked(&house).await;
    assert_eq!(words(&found), words(&before));
    assert_eq!(found.worked.pieces, before.worked.pieces);
}

async fn office_packet(house: &House) -> Vec<u8> {
    house.browser("office").await.get(&format!("{HERE}/packet.pdf")).await.bytes
}

#[tokio::test]
async fn a_gusset_of_another_kind_and_a_bar_cut_again_are_other_pieces() {
    let mut house = House::new().await;
    let (cookie, [one, two], [top, low]) = evidence(&mut house).await;
    house.set_clock("2026-05-04T12:00:00Z");
    let floor = house.with_cookie(cookie.clone());
    assert_eq!(floor.post(&format!("{HERE}/gussets/G1/remove"), &[]).await.status, StatusCode::SEE_OTHER);
    gusset(&floor, "flat", false).await;
    let (facts, found) = looked(&house).await;
    assert_eq!(GUSSETS.map(|gusset| photo_word(&found, gusset)), [Word::NoPhoto, Word::Meets]);
    assert_eq!((photo_word(&found, top), photo_word(&found, low)), (Word::Meets, Word::Meets));
    let told = open(&facts, &found);
    let why = "G1 was photographed before its kind was changed from ";
    assert!(told.iter().any(|what| what.starts_with(why)), "{told:#?}");
    assert_eq!(in_the_file(&facts, &found), words(&found));

    // Cut again from the other stick: what lay in the metal, and every joint of the bar.
    house.set_clock("2026-05-04T13:00:00Z");
    let floor = house.with_cookie(cookie.clone());
    let again = [("M1", two.as_str()), ("was_M1", one.as_str())];
    assert_eq!(floor.post(&format!("{HERE}/tube"), &again).await.status, StatusCode::SEE_OTHER);
    let (facts, found) = looked(&house).await;
    for measure in [Measure::Roundness, Measure::InspectionHole, Measure::HeadGap] {
        assert_eq!(figure_word(&found, measure), Word::NotMeasured, "{measure:?}");
    }
    assert_eq!((photo_word(&found, top), photo_word(&found, low)), (Word::NoPhoto, Word::Meets));
    assert_eq!(photo_word(&found, GUSSETS[1]), Word::NoPhoto, "it sat on the bar that was cut out");
    let told = open(&facts, &found);
    for what in [
        "M1: its roundness at the bend was measured on the earlier piece, before it was cut again: measure it again"
            .to_owned(),
        format!("{top} was photographed before M1 was cut again: photograph it again"),
    ] {
        assert!(told.iter().any(|open| open.starts_with(&what)), "{what}: {told:#?}");
    }
    assert_eq!(in_the_file(&facts, &found), words(&found));
    // Done again, it counts: the newest is of the piece that is there.
    house.set_clock("2026-05-04T14:00:00Z");
    let phone = Phone { house: &house, browser: house.with_cookie(cookie), build: "pine-coupe" };
    for (seed, shot) in (90..).zip(found.worked.shots.iter().filter(|shot| shot.of == top && shot.earlier.is_some())) {
        phone.keep(&jpeg(seed), &shot.name()).await;
    }
    let figures = [("roundness-at-the-bend-M1", "0.96")];
    assert_eq!(phone.browser.post(&format!("{HERE}/measures"), &figures).await.status, StatusCode::SEE_OTHER);
    let (facts, found) = looked(&house).await;
    assert_eq!((photo_word(&found, top), figure_word(&found, Measure::Roundness)), (Word::Meets, Word::Meets));
    assert!(!open(&facts, &found).iter().any(|what| what.contains("roundness at the bend was measured on")));
}
