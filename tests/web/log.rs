//! The log: searched, filtered by counts that are links, paged over ten thousand entries, handed out; a wrong line struck
//! through with a trace.

use axum::http::StatusCode;
use sqlx::{Connection as _, SqliteConnection};
use tackbook::domain::words::ids::BuildId;

use crate::house::{Browser, House};

const LOG: &str = "/builds/pine-coupe/log";

async fn begun(house: &House) -> BuildId {
    house.browser("office").await.post("/builds/new", &[("name", "Pine Coupe")]).await;
    house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id
}

pub(crate) async fn behind_its_back(house: &House) -> SqliteConnection {
    SqliteConnection::connect(&format!("sqlite://{}", house.folder.0.join("tackbook.db").display())).await.unwrap()
}

async fn write(browser: &Browser<'_>, text: &str, more: &[(&str, &str)]) {
    let mut pairs = vec![("day", "2026-05-04"), ("text", text)];
    pairs.extend(more);
    assert_eq!(browser.post(LOG, &pairs).await.status, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn ten_thousand_entries_come_a_page_at_a_time_with_counts_that_are_the_ways_to_them() {
    let house = House::new().await;
    let build = begun(&house).await;
    let own = house.store.log_of_build(build, 100).await.unwrap().len();
    // Entries as a busy build has them; that they do not follow from one another is no matter here.
    let many = "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 10000)
        INSERT INTO log (number, build, by, at, room, what, detail, hash)
        SELECT 1000 + i, $1, CASE WHEN i % 4 = 0 THEN 'Ann' ELSE 'Bob' END, '2026-05-04T09:30:00.000000Z',
            CASE WHEN i % 10 = 0 THEN 'weigh_in' ELSE 'photos' END, 'Thing ' || i || ' was done.',
            CASE WHEN i = 77 THEN '{\"text\":\"100 % Cut_short!\"}' ELSE '{}' END, printf('%064d', i) FROM n";
    let mut behind = behind_its_back(&house).await;
    sqlx::query(many).bind(build.to_string()).execute(&mut behind).await.unwrap();
    let office = house.browser("office").await;
    let get = async |last: &str| office.get(&format!("{LOG}{last}")).await.text;
    let all = 10_000 + own;
    let first = get("").await;
    assert!(
        first.contains(&format!("Noted by the program: {all}"))
            && first.contains(&format!("Entries 1 to 100 of {all}"))
    );
    assert!(first.len() < 200_000, "a page is a page: {}", first.len());
    for (count, words, to) in
        [("2500", "Ann", "by=Ann"), ("7500", "Bob", "by=Bob"), ("1000", "weigh in", "room=weigh_in")]
    {
        assert!(first.contains(&format!("<b>{count}</b> {words}")) && first.contains(to), "{count} {words}");
    }
    // The last page has the rest, and a chosen count is what it leads to.
    let last = get(&format!("?entries={}", all.div_ceil(100))).await;
    assert!(last.contains(&format!("to {all} of {all}")));
    let of_ann = get("?by=Ann").await;
    assert!(of_ann.contains("Noted by the program: 2500") && of_ann.contains("Entries 1 to 100 of 2500"));
    assert!(
        of_ann.contains("by=Ann&#38;entries=2") || of_ann.contains("by=Ann&amp;entries=2"),
        "the way on keeps what is chosen"
    );
    assert!(of_ann.contains("<b>500</b> weigh in"), "every fourth and every tenth are every twentieth");
    // Words are found in the sentence and in the figures, as they are written.
    for (asked, count) in
        [("?q=thing+77+was", 1), ("?q=THING+9999", 1), ("?q=100+%25+cut_SHORT!", 1), ("?q=Thing%25done", 0)]
    {
        let found = get(asked).await;
        assert!(found.contains(&format!("Noted by the program: {count}<")), "{asked}");
    }
    for bad in ["?entries=0", "?entries=x", "?lines=-1"] {
        assert_eq!(office.get(&format!("{LOG}{bad}")).await.status, StatusCode::NOT_FOUND, "{bad}");
    }
    // Handed out whole: just what is found, the newest first.
    let csv = get(".csv?by=Ann&room=weigh_in").await;
    assert_eq!(csv.lines().count(), 501);
    assert!(
        csv.starts_with(
            "number,at,by,room,what,detail,rows,hash\r\n11000,2026-05-04T09:30:00Z,Ann,weigh_in,Thing 10000 was done."
        ),
        "{}",
        &csv[..200]
    );
    let json: serde_json::Value = serde_json::from_str(&get(".json").await).unwrap();
    assert_eq!(json.as_array().unwrap().len(), all);
    assert!(json[0]["hash"].as_str().unwrap().len() == 64 && json[9923]["detail"]["text"] == "100 % Cut_short!");
}

#[tokio::test]
async fn a_wrong_line_is_struck_through_stays_readable_and_the_chain_holds() {
    let house = House::new().await;
    let build = begun(&house).await;
    let (office, fabricator) = (house.browser("office").await, house.browser("fabricator").await);
    write(&fabricator, "Welded the <hoop>.", &[("hours", "2.5"), ("cost", "48.20"), ("waiting_on", "bushes")]).await;
    write(&fabricator, "Cut the sills.", &[("hours", "1")]).await;
    let note =
        house.store.notes(build).await.unwrap().into_iter().find(|note| note.text.starts_with("Welded")).unwrap();
    let to = format!("{LOG}/{}/strike", note.id);
    let field = format!("why_{}", note.id);
    let before = office.get(LOG).await.text;
    assert!(before.contains("3 h 30 min") && before.contains("Waiting on: 1") && !before.contains("<s>"), "{before}");
    // Without a reason nothing is struck, and what is wrong is told at its line.
    let bare = office.post(&to, &[(&field, " ")]).await;
    assert_eq!(bare.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(bare.text.contains("Say what is wrong with the line."), "{}", bare.text);
    assert!(house.store.notes(build).await.unwrap().iter().all(|note| note.struck.is_none()));
    let entries = house.store.verify_log().await.unwrap().entries;
    assert_eq!(office.post(&to, &[(&field, "Another car.")]).await.status, StatusCode::SEE_OTHER);
    let after = office.get(LOG).await.text;
    assert!(after.contains("<s>Welded the &#60;hoop&#62;.</s>"), "the line stays readable");
    assert!(after.contains("<b>Struck through</b> by office, 2026-05-04 09:30: Another car."), "{after}");
    // It counts for nothing any more: no hours, no cost, no wait.
    assert!(!after.contains("3 h 30 min") && !after.contains("Waiting on: 1"), "{after}");
    // A new entry, no change of the old one; struck again, the first stands.
    let check = house.store.verify_log().await.unwrap();
    assert_eq!((check.broken_at, check.entries), (None, entries + 1));
    assert_eq!(fabricator.post(&to, &[(&field, "No, this one.")]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(house.store.verify_log().await.unwrap().entries, entries + 1);
    let stands = house.store.notes(build).await.unwrap().into_iter().find(|one| one.id == note.id).unwrap();
    assert_eq!((stands.text.as_str(), stands.struck.unwrap().why.as_str()), ("Welded the <hoop>.", "Another car."));
    let mut behind = behind_its_back(&house).await;
    for change in ["DELETE FROM notes_struck", "UPDATE notes_struck SET why = ''"] {
        assert!(sqlx::query(change).execute(&mut behind).await.is_err(), "{change}");
    }
    // Found by its words, and by who wrote it.
    assert!(office.get(&format!("{LOG}?q=HOOP")).await.text.contains("<s>Welded"));
    assert!(!office.get(&format!("{LOG}?q=sills")).await.text.contains("<s>Welded"));
    assert!(!office.get(&format!("{LOG}?by=office")).await.text.contains("<s>Welded"));
}
