//! Kit: read off labels, judged for the event day, changed by two people at once.

use axum::http::StatusCode;

use crate::house::{Browser, House};
use crate::main_job::begun;

const PAGE: &str = "/builds/pine-coupe/kit";

const BELTS: [(&str, &str); 4] =
    [("item", "belts"), ("standard", "FIA 8853-2016"), ("serial", "<b>00417</b>"), ("ends_printed", "2026")];

async fn belts(browser: &Browser<'_>) {
    let added = browser.post(PAGE, &BELTS).await;
    assert_eq!((added.status, added.to.as_str()), (StatusCode::SEE_OTHER, PAGE), "{}", added.text);
}

/// The hidden fields of a sheet's form, as a browser sends them back.
pub(crate) fn hidden(page: &str, name: &str) -> String {
    let (_, rest) = page.split_once(&format!("type=\"hidden\" name=\"{name}\" value=\"")).unwrap();
    let (value, _) = rest.split_once('"').unwrap();
    ["&#34;\"", "&#60;<", "&#62;>", "&#39;'", "&#38;&"].iter().fold(value.to_owned(), |text, pair| {
        let (coded, plain) = pair.split_at(5);
        text.replace(coded, plain)
    })
}

#[tokio::test]
async fn an_item_is_judged_for_the_event_day_by_its_label() {
    let house = House::new().await;
    begun(&house).await;
    let browser = house.browser("fabricator").await;
    belts(&browser).await;
    // The demo book's belts are good until the last day of the printed year; its extinguisher two years from the filling.
    // The event is on 2026-09-12: 2026-12-31 is 110 days later, 2026-09-11 one day too early.
    for checked in ["2024-09-12", "2024-09-11"] {
        browser.post(PAGE, &[("item", "extinguisher"), ("checked", checked)]).await;
    }
    let sheet = browser.get(PAGE).await.text;
    for words in ["2026-09-12", "good through 2026-12-31", "110 days are left then", "&#60;b&#62;00417"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    assert!(sheet.contains("That is its last day.") && sheet.contains("That is 1 day too late."), "{sheet}");
    assert!(sheet.contains("/walk?shot=K1%20kit-label"), "{sheet}");
    let table = browser.get(&format!("{PAGE}.csv")).await.text;
    assert!(table.contains("K1,belts,1,FIA 8853-2016,<b>00417</b>,,2026,,"), "{table}");
}

#[tokio::test]
async fn a_date_that_reads_two_ways_is_asked_about_and_nothing_typed_is_lost() {
    let house = House::new().await;
    begun(&house).await;
    let browser = house.browser("office").await;
    let typed = [
        ("item", "belts"),
        ("standard", "<script>"),
        ("made", "2027"),
        ("ends_printed", "03/04/2026"),
        ("second_serial", "77-B"),
        ("note", "left side"),
    ];
    let answer = browser.post(PAGE, &typed).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["day and month or as month and day", r#"value="03/04/2026""#, r#"value="77-B""#, "left side"] {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    assert!(answer.text.contains("value=\"&#60;script&#62;\"") && !answer.text.contains("<script>"));
    assert!(answer.text.contains("<option value=\"belts\" selected>") && answer.text.contains("<details open>"));
    let backward = [("other_item", "net"), ("second_made", "2027"), ("second_ends_printed", "2026")];
    let answer = browser.post(PAGE, &backward).await;
    assert!(answer.text.contains("id=\"w-second_ends_printed\">This ends before it was made."), "{}", answer.text);
    assert_eq!(browser.post(PAGE, &[("item", "")]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let long = "x".repeat(4_001);
    let answer = browser.post(PAGE, &[("item", "seat"), ("note", &long)]).await;
    assert!(answer.text.contains("This has 4001 characters; 4000 fit.") && answer.text.contains(&long));
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert!(house.store.facts(build).await.unwrap().kit.is_empty());
}

#[tokio::test]
async fn two_people_changing_one_item_see_yours_theirs_and_before() {
    let house = House::new().await;
    begun(&house).await;
    let (office, floor) = (house.browser("office").await, house.browser("fabricator").await);
    belts(&office).await;
    let opened = office.get(&format!("{PAGE}/K1")).await.text;
    let (version, before) = (hidden(&opened, "version"), hidden(&opened, "before"));
    let send = |standard: &'static str, serial: &'static str, note: &'static str| {
        let typed =
            [("item", "belts"), ("standard", standard), ("serial", serial), ("ends_printed", "2026"), ("note", note)];
        typed.into_iter().map(|(name, text)| (name.to_owned(), text.to_owned())).collect::<Vec<_>>()
    };
    let post = async |browser: &Browser<'_>, mut pairs: Vec<(String, String)>, version: &str, before: &str| {
        pairs.extend([("version".to_owned(), version.to_owned()), ("before".to_owned(), before.to_owned())]);
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        browser.post(&format!("{PAGE}/K1"), &pairs).await
    };
    let theirs = post(&floor, send("SFI 16.1", "<b>00417</b>", "as delivered"), &version, &before).await;
    assert_eq!(theirs.status, StatusCode::SEE_OTHER, "{}", theirs.text);
    let mine = post(&office, send("SFI 16.5", "<b>00417</b>", ""), &version, &before).await;
    assert_eq!(mine.status, StatusCode::CONFLICT);
    for words in [
        "Somebody else saved this",
        // Both changed the standard: mine is chosen until I say otherwise.
        "name=\"standard\" value=\"SFI 16.5\" checked><span><small>yours</small>SFI 16.5",
        "name=\"standard\" value=\"SFI 16.1\"><span><small>theirs</small>SFI 16.1",
        "<small>before</small>FIA 8853-2016",
        // I did not touch the note: theirs stands unless I say otherwise.
        "name=\"note\" value=\"as delivered\" checked",
        "name=\"serial\" type=\"text\" value=\"&#60;b&#62;00417",
    ] {
        assert!(mine.text.contains(words), "{words}: {}", mine.text);
    }
    let (version, before) = (hidden(&mine.text, "version"), hidden(&mine.text, "before"));
    let chosen = post(&office, send("SFI 16.5", "<b>00417</b>", "as delivered"), &version, &before).await;
    assert_eq!(chosen.status, StatusCode::SEE_OTHER, "{}", chosen.text);
    let sheet = office.get(PAGE).await.text;
    assert!(sheet.contains("SFI 16.5") && sheet.contains("as delivered") && !sheet.contains("SFI 16.1<"), "{sheet}");
}

#[tokio::test]
async fn who_may_not_see_the_build_may_not_touch_its_kit() {
    let house = House::new().await;
    begun(&house).await;
    belts(&house.browser("office").await).await;
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.post(PAGE, &BELTS).await.status, StatusCode::NOT_FOUND);
    assert_eq!(scrutineer.post(&format!("{PAGE}/K1"), &BELTS).await.status, StatusCode::NOT_FOUND);
    let office = house.browser("office").await;
    for nothing in ["K2", "J1", "K", "x"] {
        assert_eq!(office.get(&format!("{PAGE}/{nothing}")).await.status, StatusCode::NOT_FOUND, "{nothing}");
    }
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert_eq!(house.store.facts(build).await.unwrap().kit.len(), 1);
}
