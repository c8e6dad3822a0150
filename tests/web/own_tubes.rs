//! What is chosen beside the basic structure, and a tube of its own for a single bar.

use axum::http::StatusCode;
use tackbook::actions::shop::stock;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::shop::stock::{BarCut, NewStick};
use tackbook::domain::steel::tube::TubeSize;
use tackbook::quantity::{Length, Typed};

use crate::cage::{save, typed};
use crate::house::House;

const SHEET: &str = "/builds/pine-coupe/own-tubes";

async fn found(house: &House) -> Findings {
    let build = house.store.builds().await.unwrap().remove(0).id;
    Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today())
}

#[tokio::test]
async fn which_bar_of_a_cross_runs_through_and_the_seat_cross_bars_are_chosen_on_the_sheet() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    // A sheet from before these were on it keeps what stands.
    save(&browser, &typed("0")).await;
    let old = found(&house).await.worked.record;
    assert_eq!((old.options.seat_cross_bars, old.options.sill_bars), (0, true));
    let mut chosen = typed("1");
    for (name, value) in [("through", "right"), ("door_through", "low_at_hoop"), ("seat_cross_bars", "2")] {
        chosen.push((name.to_owned(), value.to_owned()));
    }
    assert_eq!(save(&browser, &chosen).await.status, StatusCode::SEE_OTHER);
    let now = found(&house).await;
    for (key, there) in [
        ("hoop-diagonal/right", true),
        ("hoop-diagonal/left/1", true),
        ("hoop-diagonal/left", false),
        ("door-bar/left/low", true),
        ("door-bar/right/high/2", true),
        ("seat-cross-bar/2", true),
        ("seat-cross-bar/3", false),
    ] {
        assert_eq!(now.worked.cage.member_called(key).is_some(), there, "{key}");
    }
    assert_eq!(now.worked.record.options.seat_cross_bars, 2);
    let sheet = browser.get("/builds/pine-coupe/cage").await.text;
    for words in ["value=\"low_at_hoop\" selected", "value=\"right\" selected", "value=\"2\" selected"] {
        assert!(sheet.contains(words), "{words}");
    }
    // One picture for each choice and each measurement.
    assert_eq!(sheet.matches("<div class=\"measure\"><svg").count(), sheet.matches("<div class=\"measure\">").count());
    chosen.iter_mut().filter(|pair| pair.0 == "seat_cross_bars").for_each(|pair| "9".clone_into(&mut pair.1));
    chosen.iter_mut().filter(|pair| pair.0 == "version").for_each(|pair| "2".clone_into(&mut pair.1));
    let wrong = save(&browser, &chosen).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.text.contains("Choose one of the list."), "{}", wrong.text);
}

#[tokio::test]
async fn a_bar_has_a_tube_of_its_own_and_the_size_of_its_kind_is_told_beside_it() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert!(browser.get(SHEET).await.text.contains("Measure the cage first"));
    save(&browser, &typed("0")).await;
    let bar = found(&house).await.worked.record.numbers.get("dash-bar").unwrap().to_string();
    let sheet = browser.get(&format!("{SHEET}?bar={bar}")).await.text;
    assert!(sheet.contains(&format!("<h3>{bar} dash bar, across</h3>")) && sheet.contains("1.5 × .095 in"), "{sheet}");
    let wrong = browser.post(SHEET, &[("bar", &bar), ("tube", "45 x 30"), ("reason", "")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["value=\"45 x 30 in\"", "An outside diameter is 10 to 100 mm (0.394 to 3.937 in).", "w-reason"] {
        assert!(wrong.text.contains(words), "{words}: {}", wrong.text);
    }
    let given =
        [("bar", bar.as_str()), ("tube", "1 3/4 x .095"), ("grade", "4130 N"), ("reason", "carries the column")];
    assert_eq!(browser.post(SHEET, &given).await.status, StatusCode::SEE_OTHER);
    let sheet = browser.get(SHEET).await.text;
    assert!(sheet.contains("1.75 × .095 in, 4130 N: carries the column"), "{sheet}");
    let cage = browser.get("/builds/pine-coupe/cage").await.text;
    assert_eq!(cage.matches("its own 1.75 × .095 in, not 1.5 × .095 in").count(), 1);
    // Cut from steel of another grade it is told; the same grade written otherwise is the same.
    let build = house.store.builds().await.unwrap().remove(0).id;
    for (grade, told) in [("1020 DOM", true), ("4130  n", false)] {
        let size = Typed::of(TubeSize::inch(1.75, 0.095), "1 3/4 x .095");
        let length = Typed::of(Length::from_inches(240.0), "20 ft");
        let new = NewStick { size, grade: grade.to_owned(), heat: String::new(), length, certificate: None };
        let stick = stock::add_stick(&house.office, new).await.unwrap();
        stock::give(&house.office, stick.id, Some(build)).await.unwrap();
        stock::cut_bars(
            &house.office,
            build,
            &[BarCut { member: bar.parse().unwrap(), stick: stick.id, again: false }],
        )
        .await
        .unwrap();
        let tube = browser.get("/builds/pine-coupe/tube").await.text;
        let words = format!("The stick is {grade}, the bar 1.75 × .095 in, 4130 N.");
        assert_eq!(tube.contains(&words), told, "{grade}: {tube}");
    }
    assert_eq!(browser.post(&format!("{SHEET}/{bar}/remove"), &[]).await.status, StatusCode::SEE_OTHER);
    assert!(browser.get(SHEET).await.text.contains("Every bar has the size of its kind"));
    assert_eq!(browser.post(&format!("{SHEET}/{bar}/remove"), &[]).await.status, StatusCode::NOT_FOUND);
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.post(SHEET, &given).await.status, StatusCode::NOT_FOUND);
}
