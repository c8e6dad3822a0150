//! Kit: read off labels, judged for the event day, changed by two people at once.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;

use crate::camera::{Phone, jpeg};
use crate::house::{Browser, House};
use crate::main_job::begun;
use crate::paper::words;

const PAGE: &str = "/builds/pine-coupe/kit";

const BELTS: [(&str, &str); 4] =
    [("item", "belts"), ("standard", "LSL-B6"), ("serial", "<b>00417</b>"), ("made", "2022")];

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
    // The demo book's belts are good until the last day of the fourth year after that of their making; its extinguisher
    // to the end of the month three years after the filling. The event is on 2026-09-12: 2026-12-31 is 110 days later, the end of
    // September 18 days, the end of August 12 days too early.
    for checked in ["2023-09-12", "2023-08-02"] {
        browser.post(PAGE, &[("item", "extinguisher"), ("checked", checked)]).await;
    }
    let sheet = browser.get(PAGE).await.text;
    for words in ["2026-09-12", "good through 2026-12-31", "110 days are left then", "&#60;b&#62;00417"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    assert!(sheet.contains("18 days are left then") && sheet.contains("That is 12 days too late."), "{sheet}");
    assert!(sheet.contains("/walk?shot=K1%20kit-label"), "{sheet}");
    let table = browser.get(&format!("{PAGE}.csv")).await.text;
    assert!(table.contains("K1,belts,1,LSL-B6,<b>00417</b>,2022,,,"), "{table}");
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
    assert!(
        answer.text.contains("id=\"w-second_ends_printed\">It says that it ends 2026, before it was made, 2027."),
        "{}",
        answer.text
    );
    assert_eq!(browser.post(PAGE, &[("item", "")]).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let long = "x".repeat(4_001);
    let answer = browser.post(PAGE, &[("item", "seat"), ("note", &long)]).await;
    assert!(answer.text.contains("This has 4001 characters; 4000 fit.") && answer.text.contains(&long));
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert!(house.store.facts(build).await.unwrap().kit.is_empty());
}

/// The shop's clock stands at 2026-05-04, the event is on 2026-09-12.
#[tokio::test]
async fn a_date_that_cannot_have_been_yet_is_told_where_it_was_typed() {
    let house = House::new().await;
    begun(&house).await;
    let browser = house.browser("office").await;
    for (field, date, told) in [
        ("made", "2026-06", "It says made 2026-06, which is after 2026-05-04. Look at the label again."),
        ("checked", "2026-05-05", "It says checked 2026-05-05, which is after 2026-05-04."),
        ("second_made", "2027", "It says made 2027, which is after 2026-05-04."),
    ] {
        let answer = browser.post(PAGE, &[("item", "extinguisher"), ("serial", "88"), (field, date)]).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}");
        assert!(answer.text.contains(&format!("id=\"w-{field}\">{told}")), "{field}: {}", answer.text);
        assert!(answer.text.contains(&format!("value=\"{date}\"")) && answer.text.contains("value=\"88\""), "{field}");
    }
    let car = browser.post("/builds/pine-coupe/car", &[("registered", "2011"), ("log_book", "2026-06")]).await;
    assert_eq!(car.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["This is still to come. Look at the paper again.", "value=\"2026-06\"", "value=\"2011\""] {
        assert!(car.text.contains(words), "{words}: {}", car.text);
    }
    // A year alone counts from its first day, and the sheet says so.
    let added = browser.post(PAGE, &[("item", "extinguisher"), ("checked", "2023")]).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER);
    let sheet = browser.get(PAGE).await.text;
    assert!(
        sheet.contains("Checked 2023, counted from its first day, 2023-01-01") && sheet.contains("does not meet"),
        "{sheet}"
    );
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
        let typed = [("item", "belts"), ("standard", standard), ("serial", serial), ("made", "2022"), ("note", note)];
        typed.into_iter().map(|(name, text)| (name.to_owned(), text.to_owned())).collect::<Vec<_>>()
    };
    let post = async |browser: &Browser<'_>, mut pairs: Vec<(String, String)>, version: &str, before: &str| {
        pairs.extend([("version".to_owned(), version.to_owned()), ("before".to_owned(), before.to_owned())]);
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
        browser.post(&format!("{PAGE}/K1"), &pairs).await
    };
    let theirs = post(&floor, send("LSL-B4", "<b>00417</b>", "as delivered"), &version, &before).await;
    assert_eq!(theirs.status, StatusCode::SEE_OTHER, "{}", theirs.text);
    let mine = post(&office, send("LSL-B5", "<b>00417</b>", ""), &version, &before).await;
    assert_eq!(mine.status, StatusCode::CONFLICT);
    for words in [
        "Somebody else saved this",
        // Both changed the standard: mine is chosen until I say otherwise.
        "name=\"standard\" value=\"LSL-B5\" checked><span><small>yours</small>LSL-B5",
        "name=\"standard\" value=\"LSL-B4\"><span><small>theirs</small>LSL-B4",
        "<small>before</small>LSL-B6",
        // I did not touch the note: theirs stands unless I say otherwise.
        "name=\"note\" value=\"as delivered\" checked",
        "name=\"serial\" type=\"text\" value=\"&#60;b&#62;00417",
    ] {
        assert!(mine.text.contains(words), "{words}: {}", mine.text);
    }
    let (version, before) = (hidden(&mine.text, "version"), hidden(&mine.text, "before"));
    let chosen = post(&office, send("LSL-B5", "<b>00417</b>", "as delivered"), &version, &before).await;
    assert_eq!(chosen.status, StatusCode::SEE_OTHER, "{}", chosen.text);
    let sheet = office.get(PAGE).await.text;
    assert!(sheet.contains("LSL-B5") && sheet.contains("as delivered") && !sheet.contains("LSL-B4<"), "{sheet}");
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

#[tokio::test]
#[expect(clippy::too_many_lines, reason = "one item through two cars and back")]
async fn an_item_moved_to_another_car_keeps_its_history_and_is_judged_for_its_event() {
    let house = House::new().await;
    begun(&house).await;
    let office = house.browser("office").await;
    belts(&office).await;
    let first = house.store.builds().await.unwrap().remove(0);
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    let shots = Findings::of(&house.store.facts(first.id).await.unwrap(), house.clock.today()).worked.shots;
    let label = shots.iter().find(|shot| shot.of.to_string() == "K1").unwrap().name();
    phone.keep(&jpeg(1), &label).await;
    let book = house.store.books().await.unwrap().remove(0).id.to_string();
    // The label is good through 2026-12-31: for the one car's event, not for the other's.
    for (name, day) in [("Elm Saloon", "2026-10-03"), ("Oak Estate", "2027-01-01")] {
        office.post("/builds/new", &[("name", name), ("book", &book), ("event_day", day)]).await;
    }
    let builds = house.store.builds().await.unwrap();
    let id = |name: &str| builds.iter().find(|build| build.name == name).unwrap().id.to_string();
    let (elm, oak, pine) = (id("Elm Saloon"), id("Oak Estate"), id("Pine Coupe"));
    let item = format!("{PAGE}/K1");
    let sheet = office.get(&item).await.text;
    for words in [
        "Elm Saloon</a>",
        "2026-10-03",
        "good through 2026-12-31, ",
        "89 days are left",
        "does not meet. The event ends on 2027-01-01. That is 1 day too late.",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let to = |car: &str, day: &'static str, more: &[(&'static str, &'static str)]| {
        let mut pairs = vec![("version".to_owned(), "1".to_owned()), ("move_to".to_owned(), car.to_owned())];
        pairs.extend(
            [("move_day", day), ("move_why", "lent <for> one event")].map(|(a, b)| (a.to_owned(), b.to_owned())),
        );
        pairs.extend(more.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())));
        pairs
    };
    let post = async |page: &str, pairs: Vec<(String, String)>| {
        let pairs: Vec<(&str, &str)> = pairs.iter().map(|(a, b)| (a.as_str(), b.as_str())).collect();
        office.post(page, &pairs).await
    };
    let go = format!("{item}/move");
    for (pairs, told) in [
        (to("", "2026-05-04", &[]), "Choose a car of the list."),
        (to(&pine, "2026-05-04", &[]), "It is in this car already."),
        (to(&elm, "2031-05-04", &[]), "This day is still to come."),
        (to(&elm, "2020-05-04", &[]), "it cannot leave before"),
        (to(&elm, "4 May", &[]), "does not read as a day"),
        (to(&oak, "2026-05-04", &[]), "By the book of Oak Estate it would not do there: good through 2026-12-31"),
    ] {
        let answer = post(&go, pairs).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{told}");
        assert!(
            answer.text.contains(told) && answer.text.contains("lent &#60;for&#62; one event"),
            "{told}: {}",
            answer.text
        );
    }
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.post(&go, &[("move_to", &elm)]).await.status, StatusCode::NOT_FOUND);
    let moved = post(&go, to(&elm, "2026-05-04", &[])).await;
    assert_eq!((moved.status, moved.to.as_str()), (StatusCode::SEE_OTHER, PAGE), "{}", moved.text);
    assert_eq!(post(&go, to(&elm, "2026-05-04", &[])).await.status, StatusCode::NOT_FOUND, "it is gone");

    // It is no longer judged here, and all that was recorded of it stays to be read.
    let here = house.store.facts(first.id).await.unwrap();
    assert!(here.kit.is_empty());
    let list = office.get(PAGE).await.text;
    assert!(list.contains("Went to another car") && list.contains("now K1 in Elm Saloon, since 2026-05-04"), "{list}");
    let gone = office.get(&item).await.text;
    assert!(gone.contains("It went on to another car.") && gone.contains("&#60;b&#62;00417"), "{gone}");
    let there = office.get("/builds/elm-saloon/kit/K1").await.text;
    for words in [
        "K1 in Pine Coupe, from 2026-05-04 to 2026-05-04",
        "went on: lent &#60;for&#62; one event",
        "Photographed there: <a href=\"/builds/pine-coupe/photos/",
        "good through 2026-12-31",
    ] {
        assert!(there.contains(words), "{words}: {there}");
    }
    assert!(
        office.get("/builds/pine-coupe/log").await.text.contains("K1, belts, went to Elm Saloon on 2026-05-04, as K1")
    );
    assert!(
        office
            .get("/builds/elm-saloon/log")
            .await
            .text
            .contains("K1, belts, came from Pine Coupe on 2026-05-04, as K1")
    );
    let packet = words(&office.get("/builds/elm-saloon/packet.pdf").await.bytes);
    let packet = packet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        packet.contains("K1, belts: was K1 in Pine Coupe, from 2026-05-04 to 2026-05-04, 1 photograph."),
        "{packet}"
    );

    // On to where it is not good only when that is wanted; then home under a new number, its whole way told.
    let on = post("/builds/elm-saloon/kit/K1/move", to(&oak, "2026-05-04", &[("move_sure", "yes")])).await;
    assert_eq!(on.status, StatusCode::SEE_OTHER, "{}", on.text);
    let home = post("/builds/oak-estate/kit/K1/move", to(&pine, "2026-05-04", &[])).await;
    assert_eq!(home.status, StatusCode::SEE_OTHER, "{}", home.text);
    let back = house.store.facts(first.id).await.unwrap();
    assert_eq!(back.kit.iter().map(|item| item.number).collect::<Vec<_>>(), [2]);
    let way = back.kit_ways.iter().find(|way| way.item == back.kit[0].id).unwrap();
    assert_eq!(
        way.stays.iter().map(|stay| (stay.car.as_str(), stay.item.number)).collect::<Vec<_>>(),
        [("Pine Coupe", 1), ("Elm Saloon", 1), ("Oak Estate", 1), ("Pine Coupe", 2)]
    );
    assert_eq!(way.stays[0].photos.len(), 1);
}

/// A season ends with the book's last day; an item that is good for the event and not until then is told.
#[tokio::test]
async fn an_item_that_runs_out_within_the_season_is_told_before() {
    let house = House::new().await;
    begun(&house).await;
    let office = house.browser("office").await;
    // The demo book names no last day, so that the season ends with the year of the event, 2026-09-12; a bottle is good to
    // the end of the month three years after its filling.
    office.post(PAGE, &[("item", "extinguisher"), ("checked", "2023-10-15")]).await;
    office.post(PAGE, &[("item", "extinguisher"), ("checked", "2023-12-31")]).await;
    let told = "Runs out on 2026-10-31, within the season, which ends on 2026-12-31";
    let sheet = office.get(PAGE).await.text;
    assert_eq!(sheet.matches("within the season").count(), 1, "{sheet}");
    assert!(sheet.contains(told), "{sheet}");
    let open = office.get("/builds/pine-coupe?see=all").await.text;
    assert!(open.contains("Extinguisher: runs out on 2026-10-31, within the season"), "{open}");
}

/// The demo book names one standard for belts and two for seats, none for an extinguisher, of which it asks the filling.
#[tokio::test]
async fn a_new_item_is_asked_for_in_the_books_words_with_its_standards_and_label_fields() {
    let house = House::new().await;
    begun(&house).await;
    let browser = house.browser("fabricator").await;
    let sheet = browser.get(PAGE).await.text;
    for words in [
        "belts, none recorded</a>",
        "<option value=\"belts\" selected>",
        "<option value=\"LSL-B6\">LSL-B6 (clause 7.2)</option>",
        "The book asks for it (clause 7.2). As printed: 2026,",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    assert!(!sheet.contains("LSL-S2 (clause"), "another item's standard: {sheet}");
    // What the book does not ask of belts stands folded: their serial number, another standard.
    let folded =
        sheet.split_once("<summary>What else its label shows</summary>").unwrap().1.split_once("</details>").unwrap().0;
    assert!(
        folded.contains("name=\"serial\"") && folded.contains("name=\"standard\"") && !folded.contains("name=\"made\"")
    );
    // Chosen, not typed; the date is the label's own.
    let belts = [("item", "belts"), ("book_standard", "LSL-B6"), ("made", "2022")];
    assert_eq!(browser.post(PAGE, &belts).await.to, PAGE);
    let build = house.store.builds().await.unwrap().remove(0).id;
    let kit = house.store.facts(build).await.unwrap().kit;
    assert_eq!((kit[0].item.as_str(), kit[0].label.standard.as_str()), ("belts", "LSL-B6"));
    // The next that nobody recorded is proposed, with what the book asks of it.
    let sheet = browser.get(PAGE).await.text;
    assert!(
        sheet.contains("belts, 1 recorded</a>") && sheet.contains("<option value=\"extinguisher\" selected>"),
        "{sheet}"
    );
    assert!(
        !sheet.contains("name=\"book_standard\"") && sheet.contains("The book asks for it (clause 7.3). For bottles"),
        "{sheet}"
    );
    let sheet = browser.get(&format!("{PAGE}?item=seat")).await.text;
    assert!(sheet.contains("LSL-S2 (clause 7.1)") && sheet.contains("LSL-S3 (clause 7.1)"), "{sheet}");
    // What does not go together is told where it was chosen, and nothing is recorded.
    for (standard, typed, told) in [
        ("LSL-B6", "", "For this item the book does not name LSL-B6. Choose again."),
        ("LSL-S2", "LSL-S3", "Two standards are given here."),
    ] {
        let seat = [("item", "seat"), ("book_standard", standard), ("standard", typed), ("serial", "88")];
        let answer = browser.post(PAGE, &seat).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(answer.text.contains(&format!("id=\"w-book_standard\">{told}")), "{told}: {}", answer.text);
        assert!(answer.text.contains("value=\"88\""), "{}", answer.text);
    }
    // A standard that the book does not name is typed as printed, and is judged as such.
    let other = [("item", "seat"), ("standard", "XYZ-1"), ("serial", "88"), ("made", "2022")];
    assert_eq!(browser.post(PAGE, &other).await.to, PAGE);
    let kit = house.store.facts(build).await.unwrap().kit;
    assert_eq!((kit.len(), kit[1].label.standard.as_str()), (2, "XYZ-1"));
    // What the book has no word for is named.
    let sheet = browser.get(&format!("{PAGE}?item=")).await.text;
    assert!(sheet.contains("choose, or name it below</option>") && !sheet.contains("book_standard"), "{sheet}");
}
