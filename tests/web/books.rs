//! Rule books on screen: read rule by rule, and added without typing where they come with the program.

use axum::http::StatusCode;
use tackbook::domain::book::reading::shipped::SHIPPED;
use tackbook::domain::book::{Rule, read};
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::Word;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::weight::foreseen::Outlook;
use tackbook::store::book::rule_books::Book;
use tackbook::store::{Entry, StoreError};

use crate::cage::{save, typed};
use crate::house::House;

#[tokio::test]
async fn a_book_that_comes_with_the_program_is_added_once_and_read() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let offered = office.get("/books").await.text;
    assert!(
        offered.contains("Comes with the program") && offered.contains("/books/shipped/cage-article-253"),
        "{offered}"
    );
    let fabricator = house.browser("fabricator").await;
    assert!(!fabricator.get("/books").await.text.contains("Add this book"));
    let post = "/books/shipped/cage-article-253";
    assert_eq!(fabricator.post(post, &[]).await.status, StatusCode::NOT_FOUND);
    assert!(house.store.books().await.unwrap().is_empty());
    let added = office.post(post, &[]).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.text);
    assert!(!office.get("/books").await.text.contains("Add this book"));
    assert_eq!(office.post(post, &[]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(office.post("/books/shipped/another", &[]).await.status, StatusCode::NOT_FOUND);
    let sheet = fabricator.get(&added.to).await;
    assert_eq!(sheet.status, StatusCode::OK);
    for words in [
        "bend radius of every bar: at least 3 diameters",
        "at least 1 lateral half hoop on each side",
        "under backstay feet: plate area at least 60 cm²",
        "Main bars 45 × 2.5 mm or 50 × 2 mm or 1.75 × .095 in or 2 × .083 in",
        "less than 100 mm",
        "○ from memory",
        "scrutineer decides",
        "asked where a pillar strut is fitted",
        "compare each ○ with the body's own current text",
    ] {
        assert!(sheet.text.contains(words), "{words}: {}", sheet.text);
    }
}

#[tokio::test]
async fn a_books_sheet_shows_every_rule_of_it_and_the_list_leads_there() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let toml = include_str!("../../src/demo/book.toml");
    office.post("/books", &[("toml", toml)]).await;
    let id = house.store.books().await.unwrap().remove(0).id;
    let to = format!("/books/{id}");
    assert!(office.get("/books").await.text.contains(&format!("href=\"{to}\"")));
    let sheet = office.get(&to).await.text;
    let book = read(toml).unwrap();
    let plain = sheet.replace("&#39;", "'");
    for rule in book.rules() {
        assert!(plain.contains(&rule.words), "{}: {}", rule.id, rule.words);
        assert!(plain.contains(&format!("<th scope=\"row\">{}</th>", rule.clause)), "{}", rule.clause);
    }
    assert_eq!(book.chapters().iter().map(|chapter| chapter.rules.len()).sum::<usize>(), book.rules().count());
    assert!(!sheet.contains('○'), "an invented book has nothing to confirm");
    assert!(sheet.contains("in force from 2026-01-01"));
    assert_eq!(house.browser("scrutineer").await.get(&to).await.status, StatusCode::NOT_FOUND);
    for wrong in ["/books/1", "/books/00000000-0000-0000-0000-000000000000"] {
        assert_eq!(office.get(wrong).await.status, StatusCode::NOT_FOUND, "{wrong}");
    }
}

/// What an earlier program wrote down of a change.
pub(crate) fn earlier_entry(room: &'static str, at: jiff::Timestamp) -> Entry {
    let what = "An earlier program did this.".to_owned();
    Entry { build: None, by: "the program".to_owned(), at, room, what, detail: serde_json::json!({}) }
}

/// A book that an earlier program took in, with a rule of a kind that this one does not know.
#[tokio::test]
async fn a_book_that_no_longer_reads_is_told_on_every_sheet_of_its_builds() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let toml = include_str!("../../src/demo/book.toml").replacen("[hold]", "[brake]", 1);
    let line = toml.lines().position(|line| line == "[brake]").unwrap() + 1;
    let id = uuid::Uuid::from_u128(7).into();
    let (name, edition) = ("Car Book".to_owned(), "first".to_owned());
    let book = Book { id, name, edition, toml, added: "2026-01-02T08:00:00Z".parse().unwrap() };
    let entry = earlier_entry("books", book.added);
    let added: Result<(), StoreError> = house
        .store
        .change(move |write| Box::pin(async move { write.add_book(&book).await.map(|()| ((), Some(entry))) }))
        .await;
    added.unwrap();
    office.post("/builds/new", &[("name", "Pine Coupe"), ("book", &id.to_string())]).await;
    for sheet in ["", "/verdicts", "/walk", "/rounds", "/cage"] {
        let text = office.get(&format!("/builds/pine-coupe{sheet}")).await.text;
        assert!(text.contains("rule book does not read with this program"), "{sheet}: {text}");
    }
    let open = office.get("/open").await.text;
    assert!(open.contains(&format!("Line {line}: “brake” is no field of a rule book.")), "{open}");
    let sheet = office.get(&format!("/books/{id}")).await.text;
    assert!(sheet.contains(&format!("book.toml:{line}:2: “brake”")), "{sheet}");
    assert_eq!(office.post("/books", &[("toml", "[book]")]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[test]
fn every_book_that_comes_with_the_program_passes_its_own_check() {
    for shipped in SHIPPED {
        let book = read(shipped.toml).unwrap_or_else(|mistakes| panic!("{}: {mistakes:#?}", shipped.key));
        assert!(book.rules().any(Rule::unconfirmed), "{} says what is not confirmed", shipped.key);
        assert!(book.hold.is_some() && !book.book.source_note.is_empty());
        let file = format!("{}/src/domain/book/reading/{}.toml", env!("CARGO_MANIFEST_DIR"), shipped.key);
        let said =
            std::process::Command::new(env!("CARGO_BIN_EXE_tackbook")).args(["book", "check", &file]).output().unwrap();
        assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stdout));
        let told = format!("reads without a mistake: {} rules", book.rules().count());
        assert!(String::from_utf8_lossy(&said.stdout).contains(&told));
    }
}

/// Where the article's figures are known its rules are judged by them: a build of this book gets its tube from the table.
#[tokio::test]
async fn a_build_is_judged_by_the_book_that_comes_with_the_program() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let to = office.post("/books/shipped/cage-article-253", &[]).await.to;
    let id = to.rsplit('/').next().unwrap();
    office.post("/builds/new", &[("name", "Pine Coupe"), ("book", id)]).await;
    let weighed = office.post("/builds/pine-coupe/weigh-in", &[("total", "1180 kg"), ("resolution", "1 kg")]).await;
    assert_eq!(weighed.status, StatusCode::SEE_OTHER, "{}", weighed.text);
    assert_eq!(save(&office, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let build = house.store.builds().await.unwrap().remove(0).id;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    assert_eq!(found.worked.tubes.hoop, TubeSize::metric(45.0, 2.5));
    assert_eq!(found.worked.tubes.other, TubeSize::metric(38.0, 2.5));
    let book = found.worked.rules.as_ref().unwrap();
    let judged = |id: &str| found.worked.verdicts.iter().any(|verdict| verdict.rule_id == id);
    for rule in book.rules().filter(|rule| rule.id != "hold-full-welding") {
        assert!(judged(&rule.id), "{}", rule.id);
    }
    let word = |id: &str| found.worked.verdicts.iter().find(|verdict| verdict.rule_id == id).unwrap().word;
    assert_eq!((word("need-main-hoop"), word("need-pillar-struts")), (Word::Meets, Word::NotMeasured));
    // Which cars it is asked of goes by a date of the car, and by a figure after that.
    office.post("/builds/pine-coupe/car", &[("homologated", "2004")]).await;
    let facts = house.store.facts(build).await.unwrap();
    let found = Findings::of(&facts, house.clock.today());
    let word = |id: &str| found.worked.verdicts.iter().find(|verdict| verdict.rule_id == id).unwrap().word;
    let words = (word("need-pillar-struts"), word("need-roof"), word("need-hoop-diagonals"));
    assert_eq!(words, (Word::NotAsked, Word::NotAsked, Word::Meets));
    // One table for all weights has no edge to finish over.
    let foreseen = found.worked.foreseen.as_ref().unwrap();
    assert_eq!((foreseen.outlook, foreseen.chance), (Outlook::Stays, Some(0.0)));
}
