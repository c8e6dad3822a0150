//! Rule books written on screen: rule by rule and as text, told wrong where it was typed, used only when the office says so.

use axum::http::StatusCode;
use tackbook::domain::book::read;

use crate::house::{Browser, House};

const DEMO: &str = include_str!("../../src/demo/book.toml");
/// The words of its first limit.
const WORDS: &str = "text_ours = \"Tube is bent round a centre line of at least 2.5 diameters.\"";

/// Saves a draft with words in its first limit that name no figure, so that any figure may stand in its field.
async fn wordless(browser: &Browser<'_>, house: &House, draft: &str) {
    let toml = text_of(house).await.replacen(WORDS, "text_ours = \"Tube is bent wide.\"", 1);
    let saved = browser.post(&format!("{draft}/text"), &[("version", "1"), ("toml", &toml)]).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
}

/// A shop with the demo's book and a draft of its next edition: the book's address, and the draft's.
async fn with_draft(office: &Browser<'_>, house: &House) -> (String, String) {
    office.post("/books", &[("toml", DEMO)]).await;
    let book = format!("/books/{}", house.store.books().await.unwrap().first().unwrap().id);
    let begun = office.post(&format!("{book}/draft"), &[("edition", "third issue")]).await;
    assert_eq!(begun.status, StatusCode::SEE_OTHER, "{}", begun.text);
    (book, begun.to)
}

/// The form of a rule as a browser would send it back, with some fields typed anew.
async fn sent(browser: &Browser<'_>, page: &str, typed: &[(&str, &str)]) -> Vec<(String, String)> {
    let sheet = browser.get(page).await;
    assert_eq!(sheet.status, StatusCode::OK, "{page}");
    let mut pairs = crate::forms::sent_back(&sheet.text, page);
    for (name, text) in typed {
        pairs.retain(|pair| pair.0 != *name);
        pairs.push(((*name).to_owned(), (*text).to_owned()));
    }
    pairs
}

async fn post(browser: &Browser<'_>, page: &str, pairs: &[(String, String)]) -> crate::house::Answer {
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    browser.post(page, &pairs).await
}

async fn text_of(house: &House) -> String {
    house.store.open_drafts().await.unwrap().remove(0).toml
}

#[tokio::test]
async fn a_rule_is_written_on_its_form_and_the_edition_it_came_from_stays() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (book, draft) = with_draft(&office, &house).await;
    let begun = text_of(&house).await;
    let head: Vec<_> = DEMO.lines().zip(begun.lines()).filter(|(one, other)| one != other).collect();
    assert_eq!(head, [("edition = \"second issue\"", "edition = \"third issue\"")]);
    let sheet = office.get(&draft).await.text;
    assert!(sheet.contains("<b>DRAFT.</b>") && sheet.contains("No build is judged by it"), "{sheet}");
    assert!(!office.get("/builds/new").await.text.contains("third issue"), "a draft is no book to build to");
    assert!(office.get("/books").await.text.contains("DRAFT: Lanternfell Stage League Build Rules"));
    let rule = format!("{draft}/rules/limit-1");
    // Nothing typed, nothing changed.
    let same = post(&office, &rule, &sent(&office, &rule, &[]).await).await;
    assert_eq!((same.status, text_of(&house).await), (StatusCode::SEE_OTHER, begun.clone()), "{}", same.text);
    let wrong =
        sent(&office, &rule, &[("rule.least", "about four"), ("rule.clause", ""), ("rule.text_ours", "Wider.")]);
    let told = post(&office, &rule, &wrong.await).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "value=\"about four\"",
        ">Wider.</textarea>",
        "“At least” is a text. Write a number from 0 to 1000000, with a point before the decimals.",
        "“Clause” is missing from a limit. Fill it in.",
        "Keep it with its mistakes",
    ] {
        assert!(told.text.contains(words), "{words}: {}", told.text);
    }
    assert_eq!(text_of(&house).await, begun, "what has mistakes is not saved unasked");
    // The words must say what the fields hold.
    let apart = post(&office, &rule, &sent(&office, &rule, &[("rule.least", "4")]).await).await;
    assert_eq!(apart.status, StatusCode::UNPROCESSABLE_ENTITY);
    let told = "The words say “at least 2.5 diameters”; the fields of this rule hold at least 4 diameters.";
    assert!(apart.text.contains(told) && apart.text.contains("value=\"4\""), "{}", apart.text);
    let both = [("rule.least", "4"), ("rule.text_ours", "Wide bends: at least 4 diameters.")];
    let right = post(&office, &rule, &sent(&office, &rule, &both).await).await;
    assert_eq!(right.status, StatusCode::SEE_OTHER, "{}", right.text);
    let written = text_of(&house).await;
    let changed: Vec<_> = begun.lines().zip(written.lines()).filter(|(one, other)| one != other).collect();
    assert_eq!(changed, [(WORDS, "text_ours = \"Wide bends: at least 4 diameters.\""), ("least = 2.5", "least = 4")]);
    let used = office.post(&format!("{draft}/use"), &[("version", "2")]).await;
    assert_eq!(used.status, StatusCode::SEE_OTHER, "{}", used.text);
    let books = house.store.books().await.unwrap();
    assert_eq!(books.iter().map(|book| book.toml.as_str()).collect::<Vec<_>>(), [DEMO, written.as_str()]);
    assert_eq!(used.to, format!("/books/{}", books.last().unwrap().id));
    assert!(office.get("/builds/new").await.text.contains("third issue"));
    assert!(office.get(&book).await.text.contains("at least 2.5 diameters"));
    // It is an edition now: nobody writes on it, and no other edition may be called the same.
    assert_eq!(post(&office, &rule, &[("rule.least".to_owned(), "5".to_owned())]).await.status, StatusCode::CONFLICT);
    let again = office.post(&format!("{book}/draft"), &[("edition", "third issue")]).await.to;
    let taken = office.post(&format!("{again}/use"), &[("version", "1")]).await;
    assert_eq!(taken.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(taken.text.contains("This edition of this book is here already"), "{}", taken.text);
}

#[tokio::test]
async fn rules_and_their_rows_are_added_and_taken_out() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (_, draft) = with_draft(&office, &house).await;
    let class = format!("{draft}/rules/weight_class-1");
    let row = [
        ("rule.tube.2.use", "other"),
        ("rule.tube.2.outside", "42.4"),
        ("rule.tube.2.wall", "2"),
        ("rule.tube.2.unit", "mm"),
    ];
    let more = post(&office, &class, &sent(&office, &class, &row).await).await;
    assert_eq!(more.status, StatusCode::SEE_OTHER, "{}", more.text);
    let book = read(&text_of(&house).await).unwrap();
    let sizes: Vec<String> =
        book.weight_classes.first().unwrap().other.iter().map(|row| row.size.to_string()).collect();
    assert_eq!(sizes, ["38 × 2.3 mm", "42.4 × 2 mm"]);
    let new = format!("{draft}/new/member_needed");
    let typed = [
        ("rule.id", "need-dash-bar"),
        ("rule.clause", "3.99"),
        ("rule.text_ours", "A dash bar joins the pillars."),
        ("rule.force", "should"),
        ("rule.evidence", "figure"),
        ("rule.sure", "from memory"),
        ("rule.role", "dash bar"),
        ("rule.needed_if.fitted", "main hoop"),
    ];
    let added = post(&office, &new, &sent(&office, &new, &typed).await).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.text);
    let place = added.to.split_once('#').unwrap().1.to_owned();
    let text = text_of(&house).await;
    assert!(read(&text).unwrap().rules().any(|rule| rule.id == "need-dash-bar" && rule.needed_if.is_some()), "{text}");
    // Somebody who looked at an older draft does not take out what stands there now.
    let old = office.post(&format!("{draft}/rules/{place}/take-out"), &[("version", "1")]).await;
    assert_eq!(old.status, StatusCode::CONFLICT);
    let out = office.post(&format!("{draft}/rules/{place}/take-out"), &[("version", "3")]).await;
    assert_eq!(out.status, StatusCode::SEE_OTHER, "{}", out.text);
    assert!(!text_of(&house).await.contains("need-dash-bar"));
    let none = office.get(&format!("{draft}/rules/limit-999")).await;
    assert_eq!(none.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn two_people_at_one_draft_lose_nothing_of_each_others() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let other = house.browser("office").await;
    let (_, draft) = with_draft(&office, &house).await;
    wordless(&office, &house, &draft).await;
    let (first, second) = (format!("{draft}/rules/limit-1"), format!("{draft}/rules/limit-2"));
    let mine = sent(&office, &first, &[("rule.least", "4")]).await;
    let theirs = sent(&other, &first, &[("rule.least", "5")]).await;
    let elsewhere = sent(&other, &second, &[("rule.clause", "4.22")]).await;
    assert_eq!(post(&office, &first, &mine).await.status, StatusCode::SEE_OTHER);
    // Another rule of the same draft is written into what the first saved.
    let both = post(&other, &second, &elsewhere).await;
    assert_eq!(both.status, StatusCode::SEE_OTHER, "{}", both.text);
    let text = text_of(&house).await;
    assert!(text.contains("least = 4\n") && text.contains("clause = \"4.22\""));
    // The same rule is not: yours and theirs are shown, and what stood before.
    let told = post(&other, &first, &theirs).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(told.text.contains("Somebody else saved this"), "{}", told.text);
    for value in ["value=\"5\" checked", "value=\"4\""] {
        assert!(told.text.contains(value), "{value}: {}", told.text);
    }
    assert!(text_of(&house).await.contains("least = 4\n"), "nothing of theirs was overwritten");
    let mut settled = crate::forms::sent_back(&told.text, &first);
    settled.retain(|pair| pair.0 != "rule.least");
    settled.push(("rule.least".to_owned(), "5".to_owned()));
    assert_eq!(post(&other, &first, &settled).await.status, StatusCode::SEE_OTHER);
    assert!(text_of(&house).await.contains("least = 5\n"));
    // A rule that was taken out meanwhile is not written over the one that stands in its place now.
    let late = sent(&other, &first, &[("rule.least", "6")]).await;
    let out = office.post(&format!("{first}/take-out"), &[("version", "5")]).await;
    assert_eq!(out.status, StatusCode::SEE_OTHER, "{}", out.text);
    let without = text_of(&house).await;
    let told = post(&other, &first, &late).await;
    assert_eq!((told.status, text_of(&house).await), (StatusCode::CONFLICT, without));
    let new = format!("{draft}/new/limit");
    assert!(told.text.contains("took this rule out") && told.text.contains("value=\"6\""), "{}", told.text);
    let anew = post(&other, &new, &crate::forms::sent_back(&told.text, &new)).await;
    assert_eq!(anew.status, StatusCode::SEE_OTHER, "{}", anew.text);
    let book = read(&text_of(&house).await).unwrap();
    assert!(
        book.limits
            .last()
            .is_some_and(|limit| limit.rule.id == "bend-radius" && limit.text() == "at least 6 diameters")
    );
}

#[tokio::test]
async fn the_text_is_edited_plainly_with_its_mistakes_by_line() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (_, draft) = with_draft(&office, &house).await;
    let page = format!("{draft}/text");
    let broken = text_of(&house).await.replacen("clause = \"4.1\"", "claus = \"4.1\"", 1);
    let line = broken.lines().position(|line| line == "claus = \"4.1\"").unwrap() + 1;
    let as_sent = broken.replace('\n', "\r\n");
    let told = office.post(&page, &[("version", "1"), ("toml", &as_sent)]).await;
    assert_eq!(told.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(told.text.contains(&format!("book.toml:{line}:1: “claus” is no field of a limit.")), "{}", told.text);
    assert!(told.text.contains("claus = &#34;4.1&#34;\r\n"), "what was typed is given back");
    let kept = office.post(&page, &[("version", "1"), ("toml", &as_sent), ("keep", "yes")]).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
    assert_eq!(text_of(&house).await, broken);
    let sheet = office.get(&draft).await.text;
    assert!(sheet.contains(&format!("book.toml:{line}:1")) && sheet.contains("/rules/limit-1\">Mend it in its form"));
    assert!(!sheet.contains(">Release edition<"), "with mistakes it cannot be used");
    assert_eq!(
        office.post(&format!("{draft}/use"), &[("version", "2")]).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    // The form shows the field that is not known, to be left or taken out.
    let rule = format!("{draft}/rules/limit-1");
    let mended = sent(&office, &rule, &[("rule.claus", ""), ("rule.clause", "4.1")]).await;
    assert_eq!(post(&office, &rule, &mended).await.status, StatusCode::SEE_OTHER);
    assert!(read(&text_of(&house).await).is_ok());
    // Somebody who began before that is told what is new and what is gone.
    let late = office.post(&page, &[("version", "2"), ("toml", "[book]\n"), ("keep", "yes")]).await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    for words in ["Somebody else saved this draft", ">[book]", "New in what office saved:", "clause = &#34;4.1&#34;"] {
        assert!(late.text.contains(words), "{words}: {}", late.text);
    }
    assert!(read(&text_of(&house).await).is_ok(), "nothing of theirs was overwritten");
    // A text that is no TOML is kept as well, and has no forms.
    let raw = office.post("/books/drafts", &[("toml", "[book\n")]).await;
    assert_eq!(raw.status, StatusCode::SEE_OTHER);
    assert!(office.get(&raw.to).await.text.contains("cannot be shown as forms"));
    assert_eq!(office.get(&format!("{}/rules/book-1", raw.to)).await.status, StatusCode::NOT_FOUND);
    assert_eq!(
        office.post(&format!("{}/set-aside", raw.to), &[("why", "")]).await.status,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert_eq!(office.post(&format!("{}/set-aside", raw.to), &[("why", "A slip")]).await.status, StatusCode::SEE_OTHER);
    assert_eq!(house.store.open_drafts().await.unwrap().len(), 1);
}

#[tokio::test]
async fn who_runs_no_shop_reads_a_draft_and_writes_none() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (book, draft) = with_draft(&office, &house).await;
    let fabricator = house.browser("fabricator").await;
    let sheet = fabricator.get(&draft).await;
    assert!(sheet.status == StatusCode::OK && !sheet.text.contains(">Write<"), "{}", sheet.text);
    for page in ["rules/limit-1", "new/limit", "text"] {
        assert_eq!(fabricator.get(&format!("{draft}/{page}")).await.status, StatusCode::NOT_FOUND, "{page}");
    }
    for page in ["rules/limit-1", "new/limit", "text", "use", "set-aside", "rules/limit-1/take-out"] {
        assert_eq!(fabricator.post(&format!("{draft}/{page}"), &[]).await.status, StatusCode::NOT_FOUND, "{page}");
    }
    assert_eq!(fabricator.post(&format!("{book}/draft"), &[("edition", "x")]).await.status, StatusCode::NOT_FOUND);
    assert_eq!(fabricator.post("/books/drafts", &[("toml", "x")]).await.status, StatusCode::NOT_FOUND);
    assert_eq!(house.browser("scrutineer").await.get(&draft).await.status, StatusCode::NOT_FOUND);
}
