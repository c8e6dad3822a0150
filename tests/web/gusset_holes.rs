//! A gusset without a hole is a full answer: by form, in the rule's verdict, on the blank, in a round and on the packet; a
//! gusset of which nobody said anything stays an open question.

use axum::http::StatusCode;
use tackbook::domain::cage::GussetHole;
use tackbook::domain::derived::build_file::BuildFile;
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::Word;
use tackbook::domain::words::ids::{Balloon, Kind};

use crate::cage::{save, typed};
use crate::house::{Browser, House};
use crate::main_job::{begun, weigh};
use crate::paper;

const GUSSETS: &str = "/builds/pine-coupe/gussets";

async fn add(floor: &Browser<'_>, more: &[(&str, &str)]) -> (StatusCode, String) {
    let sheet = floor.get(&format!("{GUSSETS}?joint=J1")).await.text;
    let from = sheet.find(r#"<option value="main-hoop"#).unwrap() + r#"<option value=""#.len();
    let angle =
        sheet[from..].split('"').next().unwrap().replace("&#43;", "+").replace("&#62;", ">").replace("&#60;", "<");
    let own = [("joint", "J1"), ("angle", angle.as_str()), ("kind", "saddle"), ("leg", "3 1/4"), ("thickness", "1/16")];
    let answer = floor.post(GUSSETS, &[own.as_slice(), more].concat()).await;
    (answer.status, answer.text)
}

/// What is known of the hole of each gusset, and what the rule on holes says of it.
async fn said(house: &House) -> Vec<(GussetHole, Word)> {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    // The file of the build says the same of every part.
    let file = BuildFile::read(&BuildFile::of(&facts, found.worked.standing(&facts)).text()).unwrap();
    let again = Findings::of(&file.facts(&facts.book.as_ref().unwrap().toml), found.worked.day);
    assert_eq!(again.worked.record.gussets, found.worked.record.gussets);
    let word = |number| {
        let of = Some(Balloon::new(Kind::Gusset, number));
        found.worked.verdicts.iter().find(|one| one.rule_id == "gusset-hole" && one.of == of).unwrap().word
    };
    let holes = found.worked.record.gussets.iter().map(|gusset| gusset.hole.clone());
    holes.zip((1..).map(word)).collect()
}

async fn frozen(house: &House, round: usize, part: &str) -> String {
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let rounds = house.store.rounds(build).await.unwrap();
    let contents = Contents::read(&rounds.get(round - 1).unwrap().contents).unwrap();
    contents.parts.get(part).unwrap().join("; ")
}

#[tokio::test]
async fn no_hole_is_one_press_and_answers_the_rule_and_nothing_said_stays_open() {
    let house = House::new().await;
    begun(&house).await;
    weigh(&house.browser("fabricator").await, "740", "").await;
    let floor = house.browser("fabricator").await;
    assert_eq!(save(&floor, &typed("0")).await.status, StatusCode::SEE_OTHER);
    // Typed and denied in one: asked which, nothing lost.
    let (status, both) = add(&floor, &[("no_hole", "yes"), ("hole", "20 mm")]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(both.contains("which is it?") && both.contains(r#"value="20 mm""#), "{both}");
    let (status, text) = add(&floor, &[("mirror", "yes")]).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{text}");
    let open = [(GussetHole::NotStated, Word::NotMeasured), (GussetHole::NotStated, Word::NotMeasured)];
    assert_eq!(said(&house).await, open);
    let listed = floor.get(GUSSETS).await.text;
    assert_eq!(listed.matches("Hole not stated").count(), 2, "{listed}");
    let office = house.browser("office").await;
    assert_eq!(office.post("/builds/pine-coupe/rounds", &[("key", "one")]).await.status, StatusCode::SEE_OTHER);
    assert!(!frozen(&house, 1, "G1").await.contains("hole"), "nothing said freezes nothing");
    // One press.
    let pressed = floor.post(&format!("{GUSSETS}/G1/hole"), &[("hole_G1", ""), ("no_hole", "yes")]).await;
    assert_eq!((pressed.status, pressed.to.as_str()), (StatusCode::SEE_OTHER, GUSSETS), "{}", pressed.text);
    let one = [(GussetHole::NoHole, Word::NotAsked), (GussetHole::NotStated, Word::NotMeasured)];
    assert_eq!(said(&house).await, one);
    assert_eq!(office.post("/builds/pine-coupe/rounds", &[("key", "two")]).await.status, StatusCode::SEE_OTHER);
    assert!(frozen(&house, 2, "G1").await.contains(", no hole"));
    let review = |part: &str| format!("/builds/pine-coupe/rounds/2/review?part={part}");
    let scrutineer = house.browser("scrutineer").await;
    assert!(scrutineer.get(&review("G2")).await.text.contains("not stated"));
    assert!(!scrutineer.get(&review("G1")).await.text.contains("not stated"));
    let packet = paper::words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    let packet = packet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(packet.matches(", no hole").count(), 1, "{packet}");
    assert_eq!(packet.matches(", hole not stated").count(), 1, "{packet}");
    let blank = floor.get("/builds/pine-coupe/sheets.pdf").await;
    let blank = paper::words(&blank.bytes).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(blank.contains("It has no hole.") && blank.contains("nobody said whether it has a hole"), "{blank}");
    // The form that says neither is asked again; a diameter is read, and said of the other too.
    let nothing = floor.post(&format!("{GUSSETS}/G2/hole"), &[("hole_G2", "")]).await;
    assert_eq!(nothing.status, StatusCode::UNPROCESSABLE_ENTITY);
    let wrong = floor.post(&format!("{GUSSETS}/G2/hole"), &[("hole_G2", "3 kg")]).await;
    assert!(wrong.text.contains(r#"value="3 kg""#) && wrong.text.contains("w-hole_G2"), "{}", wrong.text);
    let wide = floor.post(&format!("{GUSSETS}/G2/hole"), &[("hole_G2", "900 mm")]).await;
    assert!(wide.text.contains("w-hole_G2"), "{}", wide.text);
    let across = floor.post(&format!("{GUSSETS}/G2/hole"), &[("hole_G2", "20 mm")]).await;
    assert_eq!(across.status, StatusCode::SEE_OTHER, "{}", across.text);
    let [_, two] = said(&house).await.try_into().unwrap();
    // The limit goes by the tube's diameter and no stick is cut yet: the hole is known, the tube is not.
    assert_eq!((two.0.across().unwrap().text.as_str(), two.1), ("20 mm", Word::NotMeasured));
    let verdicts = floor.get("/builds/pine-coupe/verdicts?rule=gusset-hole").await.text;
    assert!(!verdicts.contains("gusset hole of G2 is not known") && verdicts.contains("G1 has no hole"), "{verdicts}");
    for nowhere in ["G9", "J1", "x"] {
        let answer = floor.post(&format!("{GUSSETS}/{nowhere}/hole"), &[("no_hole", "yes")]).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{nowhere}");
    }
}
