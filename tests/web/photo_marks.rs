//! Pointing at a photograph of a round: by whoever has a reading link, without script, kept with the answer and shown where
//! what was asked is shown.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::open_items::of;
use tackbook::domain::recorded::reviews::{PartAnswer, PhotoMark, Reviewed};
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::quantity::Units;

use crate::camera::{Phone, jpeg};
use crate::car_file::{ZIP, load, saved};
use crate::house::{Answer, House};
use crate::links::made;
use crate::paper::words;
use crate::reviews::{contents, issued, value};

const ASKED: &str = "Grind <this> edge.";

async fn reviewed(house: &House, build: BuildId) -> Vec<Reviewed> {
    let round = house.store.rounds(build).await.unwrap().remove(0).id;
    house.store.reviewed(round).await.unwrap()
}

/// What an answer to a part sends, with these marks.
fn answer<'a>(part: &'a str, word: &'a str, remark: &'a str, marks: &'a [String]) -> Vec<(&'a str, &'a str)> {
    let mut pairs = vec![("part", part), ("seen", "0"), ("answer", word), ("remark", remark)];
    pairs.extend(marks.iter().map(|mark| ("mark", mark.as_str())));
    pairs
}

/// The marks that a sheet's form holds.
fn held(sheet: &Answer) -> Vec<String> {
    let after = sheet.text.split("name=\"mark\" value=\"").skip(1);
    after.map(|rest| rest.split('"').next().unwrap().to_owned()).collect()
}

/// What stands open, in lines.
async fn open_items(house: &House, build: BuildId) -> String {
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    let items = of(&facts, &found, Units::Metric, &|at| house.clock.day_of(at));
    items.into_iter().map(|item| item.what).collect::<Vec<_>>().join("\n")
}

/// Answers every other part, and signs that it is not yet released.
async fn signed(house: &House, build: BuildId, link: &str) {
    let reader = house.stranger();
    let done = reviewed(house, build).await;
    for part in contents(house, build, 1).await.asked() {
        if done.iter().any(|one| one.part == part) {
            continue;
        }
        let part = part.to_string();
        let said = reader.post(&format!("{link}/review"), &answer(&part, "accepted", "", &[])).await;
        assert_eq!(said.status, StatusCode::SEE_OTHER, "{part}: {}", said.text);
    }
    let sign = format!("{link}/review/sign");
    let seen = value(&reader.get(&sign).await, "seen");
    let pairs = [("name", "Mara Alder"), ("licence", "4471"), ("decision", "not yet"), ("seen", seen.as_str())];
    let given = reader.post(&sign, &pairs).await;
    assert_eq!(given.status, StatusCode::SEE_OTHER, "{}", given.text);
}

/// A round that is out, a photograph that it shows, and a link to it.
async fn linked(house: &House) -> (BuildId, Fingerprint, String) {
    (issued(house).await, Fingerprint::of(&jpeg(1)), made(house, 1, "M. Alder", "14").await)
}

#[tokio::test]
async fn a_photograph_is_pressed_without_script_and_the_mark_goes_with_the_answer_to_the_office_and_the_next_packet() {
    let house = House::new().await;
    let (build, photo, link) = linked(&house).await;
    let (reader, to) = (house.stranger(), format!("{link}/review"));
    // the photograph by itself, held to a size that the press is reckoned by; what was typed goes along
    let go = format!("on:{photo}");
    let sent = [answer("J7", "change wanted", ASKED, &[]), vec![("go", go.as_str())]].concat();
    let sheet = reader.post(&to, &sent).await;
    assert_eq!(sheet.status, StatusCode::OK, "{}", sheet.text);
    for words in ["type=\"image\" name=\"at\"", "width=\"340\" height=\"255\"", "value=\"Grind &#60;this&#62; edge.\""]
    {
        assert!(sheet.text.contains(words), "{words}: {}", sheet.text);
    }
    assert!(sheet.text.contains(&format!("src=\"{link}/photos/{photo}/screen\"")) && !sheet.text.contains("/builds/"));
    // pressed: in the form, and recorded nowhere yet
    let on = photo.to_string();
    let press = [("on", on.as_str()), ("width", "340"), ("at.x", "170"), ("at.y", "51")];
    let back = reader.post(&to, &[answer("J7", "change wanted", ASKED, &[]), press.to_vec()].concat()).await;
    let mark = PhotoMark { sha256: photo.clone(), across: 500, down: 200 };
    assert_eq!((back.status, held(&back)), (StatusCode::OK, vec![mark.to_string()]), "{}", back.text);
    for words in ["data-unsaved", "50.0 % from the left, 20.0 % from the top", ">Grind &#60;this&#62; edge.</textarea>"]
    {
        assert!(back.text.contains(words), "{words}: {}", back.text);
    }
    assert!(reviewed(&house, build).await.is_empty(), "nothing is recorded before it is saved");
    // once more, larger, by the fields; and back without one
    let fields = [("on", on.as_str()), ("go", "place"), ("across", "35 %"), ("down", "12.5 %")];
    let marks = held(&back);
    let back = reader.post(&to, &[answer("J7", "change wanted", ASKED, &marks), fields.to_vec()].concat()).await;
    let marks = held(&back);
    assert_eq!(marks.get(1), Some(&format!("{photo}:350:125")), "{}", back.text);
    let larger = [("go", go.as_str()), ("width", "960")];
    let sheet = reader.post(&to, &[answer("J7", "change wanted", ASKED, &marks), larger.to_vec()].concat()).await;
    assert!(sheet.text.contains("width=\"960\" height=\"720\"") && held(&sheet).starts_with(&marks), "{}", sheet.text);
    let back = reader.post(&to, &[answer("J7", "change wanted", ASKED, &marks), vec![("go", "back")]].concat()).await;
    assert_eq!(held(&back), marks);
    // saved with the answer, in one change
    let entries = house.store.log(500).await.unwrap().len();
    assert_eq!(reader.post(&to, &answer("J7", "change wanted", ASKED, &marks)).await.status, StatusCode::SEE_OTHER);
    let one = reviewed(&house, build).await.remove(0);
    assert_eq!((one.answer, one.marks.len(), &one.marks[0]), (Some(PartAnswer::ChangeWanted), 2, &mark));
    assert_eq!(house.store.log(500).await.unwrap().len(), entries + 1);
    let again = reader.get(&format!("{to}?part=J7")).await;
    assert!(held(&again) == marks && again.text.contains("class=\"over\"") && !again.text.contains("data-unsaved"));
    // a mark that is taken off is a new answer; the first stays in the records
    let seen = one.number.to_string();
    let pairs = [("part", "J7"), ("seen", &seen), ("answer", "change wanted"), ("remark", ASKED), ("mark", &marks[0])];
    assert_eq!(reader.post(&to, &pairs).await.status, StatusCode::SEE_OTHER);
    let all = reviewed(&house, build).await;
    assert_eq!(all.iter().map(|one| one.marks.len()).collect::<Vec<_>>(), [2, 1]);
}

#[tokio::test]
async fn what_is_pointed_at_is_shown_to_the_office_and_in_the_next_packet_and_goes_with_the_car() {
    let house = House::new().await;
    let (build, photo, link) = linked(&house).await;
    let (reader, to) = (house.stranger(), format!("{link}/review"));
    let mark = [PhotoMark { sha256: photo.clone(), across: 500, down: 200 }.to_string()];
    assert_eq!(reader.post(&to, &answer("J7", "change wanted", ASKED, &mark)).await.status, StatusCode::SEE_OTHER);
    signed(&house, build, &link).await;
    // the office sees it at what is open, and the next packet prints it; so does the receipt
    let office = house.browser("office").await;
    let told = "50.0 % from the left, 20.0 % from the top";
    let sheet = office.get("/builds/pine-coupe/questions").await.text;
    assert!(sheet.contains(told) && sheet.contains(&format!("/builds/pine-coupe/photos/{photo}/screen")), "{sheet}");
    assert!(open_items(&house, build).await.contains(&format!("{ASKED} (1 mark on a photograph)")));
    assert!(reader.get(&format!("{link}/receipt.txt")).await.text.contains(told));
    let part = office.get("/builds/pine-coupe/rounds/1/review?part=J7").await.text;
    assert!(part.contains("1 mark on a photograph") && !part.contains("Mark a place on it"), "{part}");
    let draft = words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    assert!(
        draft.contains("What you marked on photographs: 1") && draft.contains("Q1, J7: Change asked: Grind"),
        "{draft}"
    );
    // the car takes it along
    let (bytes, there) = (saved(&house, ZIP).await, House::new().await);
    assert_eq!(load(&there, &bytes).await.status, StatusCode::SEE_OTHER);
    assert_eq!(
        reviewed(&there, build).await.iter().map(|one| one.marks.clone()).collect::<Vec<_>>(),
        reviewed(&house, build).await.iter().map(|one| one.marks.clone()).collect::<Vec<_>>()
    );
    assert!(saved(&there, ZIP).await == bytes);
}

#[tokio::test]
async fn an_answer_without_a_mark_is_told_without_one() {
    let house = House::new().await;
    let build = issued(&house).await;
    let link = made(&house, 1, "M. Alder", "14").await;
    let said = house.stranger().post(&format!("{link}/review"), &answer("J7", "question", "Why?", &[])).await;
    assert_eq!(said.status, StatusCode::SEE_OTHER);
    signed(&house, build, &link).await;
    let office = house.browser("office").await;
    let sheet = office.get("/builds/pine-coupe/questions").await.text;
    assert!(sheet.contains("Why?") && !sheet.contains("marked on the photograph"), "{sheet}");
    let open = open_items(&house, build).await;
    assert!(open.contains("Why?") && !open.contains("on a photograph)"), "{open}");
    assert!(!words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes).contains("marked on photographs"));
}

#[tokio::test]
async fn a_mark_that_is_none_of_the_rounds_photographs_of_the_part_or_one_too_many_is_refused_where_it_was_put() {
    let house = House::new().await;
    let build = issued(&house).await;
    // kept after the round: it is of the very part, and the round does not show it
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    phone.keep(&jpeg(2), "J7 joint-tacked/close").await;
    let link = made(&house, 1, "M. Alder", "14").await;
    let (reader, to) = (house.stranger(), format!("{link}/review"));
    let on = |bytes: &[u8], place: &str| format!("{}:{place}", Fingerprint::of(bytes));
    let good = on(&jpeg(1), "500:500");
    let later = on(&jpeg(2), "500:500");
    let many: Vec<String> = (0..11).map(|at| on(&jpeg(1), &format!("{at}:5"))).collect();
    for (part, word, marks, why) in [
        ("J7", "question", vec![later.clone()], "round 1 does not show of J7"),
        ("J3", "question", vec![good.clone()], "round 1 does not show of J3"),
        ("J7", "question", many, "at most 10 marks"),
        ("J7", "question", vec![on(&jpeg(1), "1001:5")], "beside its photograph"),
        ("J7", "accepted", vec![good.clone()], "take the mark off"),
        ("J7", "question", vec!["no mark".to_owned()], "does not read"),
    ] {
        let said = reader.post(&to, &answer(part, word, "What is <this>?", &marks)).await;
        assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY, "{why}: {}", said.text);
        assert!(said.text.contains(why) && said.text.contains("What is &#60;this&#62;?"), "{why}: {}", said.text);
    }
    // what is not there is not shown to be pressed, and a press beside it is no mark
    let later = Fingerprint::of(&jpeg(2)).to_string();
    let here = Fingerprint::of(&jpeg(1)).to_string();
    for (part, go) in [("J7", format!("on:{later}")), ("J3", format!("on:{here}")), ("J7", "on:nothing".to_owned())] {
        let said = reader.post(&to, &[answer(part, "question", "", &[]), vec![("go", go.as_str())]].concat()).await;
        assert_eq!(said.status, StatusCode::NOT_FOUND, "{part} {go}: {}", said.text);
    }
    for (field, place) in [("at.y", "256"), ("at.y", "-1"), ("down", "101 %"), ("down", "deep")] {
        let other = if field == "at.y" { ("at.x", "5") } else { ("go", "place") };
        let press = vec![("on", here.as_str()), other, ("across", "5 %"), (field, place)];
        let said = reader.post(&to, &[answer("J7", "question", "", &[]), press].concat()).await;
        assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY, "{field} {place}: {}", said.text);
        assert!(said.text.contains("class=\"why\"") && said.text.contains("type=\"image\""), "{}", said.text);
    }
    // once the link is withdrawn or over, nothing is pressed any more
    let office = house.browser("office").await;
    let links = house.store.rounds(build).await.unwrap().len();
    assert_eq!(links, 1);
    let sheet = office.get("/builds/pine-coupe/rounds").await.text;
    let withdraw = sheet.split("action=\"").find(|part| part.contains("/withdraw\"")).unwrap();
    office.post(withdraw.split('"').next().unwrap(), &[]).await;
    for more in [vec![("go", format!("on:{here}"))], vec![("mark", good.clone())]] {
        let more: Vec<(&str, &str)> = more.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let said = reader.post(&to, &[answer("J7", "question", "Why?", &[]), more].concat()).await;
        assert_eq!(said.status, StatusCode::GONE, "{}", said.text);
    }
    assert!(reviewed(&house, build).await.is_empty());
}

#[tokio::test]
async fn a_link_that_is_over_takes_no_mark() {
    let mut house = House::new().await;
    let build = issued(&house).await;
    let link = made(&house, 1, "M. Alder", "3").await;
    house.set_clock("2026-05-30T10:00:00Z");
    let mark = [format!("{}:5:5", Fingerprint::of(&jpeg(1)))];
    let said = house.stranger().post(&format!("{link}/review"), &answer("J7", "question", "Why?", &mark)).await;
    assert_eq!(said.status, StatusCode::GONE, "{}", said.text);
    assert!(reviewed(&house, build).await.is_empty());
}
