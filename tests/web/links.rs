//! Reading links: one round, shown to whoever has the link, answered in a typed name, dead with the next request once withdrawn.

use axum::http::StatusCode;
use sqlx::Connection as _;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::recorded::rounds::Came;
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::house::{Answer, House};
use crate::reviews::{contents, hold, issued, value};

const ROUNDS: &str = "/builds/pine-coupe/rounds";

/// Makes a link as the office does, and gives its address without the host.
pub(crate) async fn made(house: &House, round: u32, reader: &str, days: &str) -> String {
    let office = house.browser("office").await;
    let made = office.post(&format!("{ROUNDS}/{round}/links"), &[("reader", reader), ("days", days)]).await;
    assert_eq!(made.status, StatusCode::OK, "{}", made.text);
    assert!(made.text.contains("mailto:?subject=Pine%20Coupe") && made.text.contains("<svg"), "{}", made.text);
    assert_eq!(made.header("cache-control"), "no-store");
    let from = made.text.find("/read/").unwrap();
    made.text[from..from + "/read/".len() + 64].to_owned()
}

fn gone(answer: &Answer) -> bool {
    answer.status == StatusCode::GONE && answer.text.contains("This link leads nowhere any more")
}

#[tokio::test]
async fn whoever_has_the_link_answers_the_round_without_a_sign_in_and_keeps_a_receipt() {
    let house = House::new().await;
    let build = issued(&house).await;
    let link = made(&house, 1, "M. Alder", "14").await;
    let reader = house.stranger();
    let entries = house.store.log(500).await.unwrap().len();
    // Looking records nothing, however often, and shows no way to anything else.
    let asked = contents(&house, build, 1).await.asked();
    let front = reader.get(&link).await;
    for words in ["<b>Round 1 of Pine Coupe</b>", "for M. Alder", "may the cage, tacked as shown, be fully welded?"] {
        assert!(front.text.contains(words), "{words}: {}", front.text);
    }
    for path in ["", "/review", "/review?part=J7", "/review/sign", "/packet.pdf"] {
        let seen = reader.get(&format!("{link}{path}")).await;
        assert_eq!(seen.status, StatusCode::OK, "{path}");
        assert!(!seen.text.contains("href=\"/\"") && !seen.text.contains("/builds/"), "{path}: {}", seen.text);
        let told = ["referrer-policy", "cache-control", "x-robots-tag"].map(|name| seen.header(name));
        assert_eq!(told, ["strict-origin", "no-store", "noindex, nofollow"], "{path}");
        assert!(seen.cookie.is_empty(), "{path}");
    }
    let photo = house.store.photos(build).await.unwrap()[0].sha256.clone();
    assert_eq!(reader.get(&format!("{link}/photos/{photo}/screen")).await.status, StatusCode::OK);
    assert_eq!(reader.get(&format!("{link}/receipt")).await.to, link, "nobody has answered yet");
    assert_eq!(house.store.log(500).await.unwrap().len(), entries);
    // Answered part by part, in the link's name until it is signed.
    for part in &asked {
        let part = part.to_string();
        let (answer, remark) = if part == "J3" { ("change wanted", "Pad it here.") } else { ("accepted", "") };
        let pairs = [("part", part.as_str()), ("seen", "0"), ("answer", answer), ("remark", remark)];
        let said = reader.post(&format!("{link}/review"), &pairs).await;
        assert_eq!(said.status, StatusCode::SEE_OTHER, "{part}: {}", said.text);
        assert!(said.to.starts_with(&link), "{}", said.to);
    }
    let sign = format!("{link}/review/sign");
    let seen = value(&reader.get(&sign).await, "seen");
    // A press alone is no answer: the name and the licence are typed, and nothing typed is lost.
    let bare = reader.post(&sign, &[("seen", &seen), ("decision", "not yet"), ("words", "Soon.")]).await;
    assert_eq!(bare.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["Type your name.", "Type your licence, or your role.", ">Soon.</textarea>"] {
        assert!(bare.text.contains(words), "{words}: {}", bare.text);
    }
    assert!(house.store.replies(build).await.unwrap().is_empty());
    let signed = [("name", "Mara Alder"), ("licence", "scrutineer, 4471"), ("words", "Soon."), ("decision", "not yet")];
    let given = reader.post(&sign, &[signed.as_slice(), &[("seen", &seen)]].concat()).await;
    assert_eq!(given.to, format!("{link}/receipt"), "{}", given.text);
    assert_eq!(hold(&house, build).await, Hold::NotYet(1));
    let reply = house.store.replies(build).await.unwrap().remove(0);
    assert_eq!((reply.given_by.as_str(), reply.licence.as_str()), ("Mara Alder", "scrutineer, 4471"));
    assert_eq!((reply.came, reply.by.as_str()), (Some(Came::Link), "M. Alder, by reading link"));
    assert_eq!(house.store.questions(build).await.unwrap()[0].text, "Change asked: Pad it here.");
    // The receipt says what was recorded, and its last line is the SHA-256 of those above, as any program works it out.
    assert!(reader.get(&given.to).await.text.contains("Your answer is recorded."));
    let file = reader.get(&format!("{link}/receipt.txt")).await;
    assert!(file.header("content-disposition").starts_with("attachment"));
    for words in ["Answer: not yet", "Given by: Mara Alder", "scrutineer, 4471", "J3: change wanted: Pad it here."] {
        assert!(file.text.contains(words), "{words}: {}", file.text);
    }
    let (above, sum) = file.text.split_once("SHA-256 of the lines above: ").unwrap();
    assert_eq!(Fingerprint::of(above.as_bytes()).text(), sum.trim_end());
    // Somebody else's link shows it to nobody as their own.
    let other = made(&house, 1, "N. Birch", "14").await;
    assert_eq!(reader.get(&format!("{other}/receipt")).await.to, other);
    assert!(!reader.get(&other).await.text.contains("Receipt of the answer"));
    let office = house.browser("office").await.get(ROUNDS).await.text;
    assert!(office.contains("Mara Alder (scrutineer, 4471), reading link"), "{office}");
}

#[tokio::test]
async fn a_link_shows_one_round_and_is_dead_with_the_next_request_once_it_is_withdrawn_or_over() {
    let mut house = House::new().await;
    let build = issued(&house).await;
    let (one, other) = (made(&house, 1, "M. Alder", "3").await, made(&house, 1, "N. Birch", "60").await);
    let office = house.browser("office").await;
    assert_eq!(house.stranger().get(&format!("/read/{}", "0".repeat(64))).await.status, StatusCode::NOT_FOUND);
    let withdraw = |text: &str, reader: &str| {
        let row = text.split(&format!("<b>{reader}</b>")).nth(1).unwrap().to_owned();
        row.split("action=\"").nth(1).unwrap().split('"').next().unwrap().to_owned()
    };
    let sheet = office.get(ROUNDS).await.text;
    let of_birch = withdraw(&sheet, "N. Birch");
    assert_eq!(house.browser("fabricator").await.post(&of_birch, &[]).await.status, StatusCode::NOT_FOUND);
    assert_eq!(office.post(&of_birch, &[]).await.status, StatusCode::SEE_OTHER);
    for path in ["", "/review", "/review/sign", "/packet.pdf", "/receipt"] {
        assert!(gone(&house.stranger().get(&format!("{other}{path}")).await), "{path}");
        let lives = house.stranger().get(&format!("{one}{path}")).await.status;
        assert_eq!((lives.is_success(), lives.is_redirection()), (path != "/receipt", path == "/receipt"), "{path}");
    }
    let late = house.stranger().post(&format!("{other}/review"), &[("part", "J7"), ("answer", "accepted")]).await;
    assert!(gone(&late));
    // Another round: the old link says so, and answers nothing any more.
    let next = office.post(ROUNDS, &[("key", "two")]).await;
    assert_eq!(next.status, StatusCode::SEE_OTHER, "{}", next.text);
    let seen = house.stranger().get(&format!("{one}/review")).await.text;
    assert!(seen.contains("Round 2 has followed this one. Ask the shop for a link to it."), "{seen}");
    assert!(!seen.contains("name=\"answer\""), "{seen}");
    let late =
        house.stranger().post(&format!("{one}/review"), &[("part", "J7"), ("seen", "0"), ("answer", "accepted")]).await;
    assert_eq!(late.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(house.store.reviewed(house.store.rounds(build).await.unwrap()[1].id).await.unwrap().is_empty());
    // Its days are over.
    house.set_clock("2026-05-07T09:29:59Z");
    assert_eq!(house.stranger().get(&one).await.status, StatusCode::OK);
    house.set_clock("2026-05-07T09:30:00Z");
    assert!(gone(&house.stranger().get(&one).await));
    let sheet = house.browser("office").await.get(ROUNDS).await.text;
    assert!(
        sheet.contains("over since 2026-05-07 09:30") && sheet.contains("withdrawn 2026-05-04 09:30 by office"),
        "{sheet}"
    );
}

/// The secret stands in no file of the shop, so in no backup either: not in the records, not in the log, not in the program's lines.
#[tokio::test]
async fn the_secret_is_kept_nowhere_and_a_link_never_changes_but_once() {
    let house = House::new().await;
    issued(&house).await;
    let link = made(&house, 1, "M. Alder", "14").await;
    let secret = link.strip_prefix("/read/").unwrap();
    house.stranger().get(&link).await;
    let mut folders = vec![house.folder.0.clone()];
    while let Some(folder) = folders.pop() {
        for file in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if file.is_dir() {
                folders.push(file);
                continue;
            }
            let bytes = std::fs::read(&file).unwrap();
            assert!(!bytes.windows(64).any(|window| window == secret.as_bytes()), "{}", file.display());
        }
    }
    let mut records =
        sqlx::SqliteConnection::connect(&format!("sqlite://{}/tackbook.db", house.folder.0.display())).await.unwrap();
    for change in ["DELETE FROM reading_links", "UPDATE reading_links SET ends = '2099-01-01T00:00:00Z'"] {
        assert!(sqlx::query(sqlx::AssertSqlSafe(change)).execute(&mut records).await.is_err(), "{change}");
    }
}

#[tokio::test]
async fn a_link_for_nobody_is_refused_and_so_is_one_too_many() {
    let house = House::new().await;
    issued(&house).await;
    let office = house.browser("office").await;
    let links = format!("{ROUNDS}/1/links");
    let nobody = office.post(&links, &[("reader", " "), ("days", "60")]).await;
    assert_eq!(nobody.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(nobody.text.contains("This must not be empty.") && nobody.text.contains("value=\"60\" selected"));
    assert_eq!(office.post(&format!("{ROUNDS}/9/links"), &[("reader", "A")]).await.status, StatusCode::NOT_FOUND);
    for number in 0..20 {
        assert_eq!(office.post(&links, &[("reader", &format!("Reader {number}"))]).await.status, StatusCode::OK);
    }
    let more = office.post(&links, &[("reader", "One more")]).await;
    assert_eq!(more.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(more.text.contains("20 links are good already. Withdraw one first.") && more.text.contains("One more"));
}
