//! Photographs at the desk: sorted, guessed, put elsewhere, held beside one another, printed small.

use axum::http::StatusCode;
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::camera::{Phone, asked_for, jpeg, new_capture};
use crate::house::House;
use crate::paper;

const WIDE: &str = "J7 joint-tacked/wide";
const CLOSE: &str = "J7 joint-tacked/close";

fn name(bytes: &[u8]) -> String {
    Fingerprint::of(bytes).to_string()
}

#[tokio::test]
async fn a_photo_at_no_shot_is_guessed_with_its_reason_and_put_there_by_a_person() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let (placed, loose) = (jpeg(1), jpeg(2));
    phone.keep(&placed, WIDE).await;
    phone.keep(&loose, "").await;
    let list = phone.browser.get("/builds/elm-saloon/photos/unplaced").await.text;
    let why = "Less than a minute after J7 joint-tacked/wide, as the shop was told, by the same person";
    for words in [why, "A guess.", "Put it at J7", "list=\"shots\""] {
        assert!(list.contains(words), "{words}: {list}");
    }
    // Nothing was done by guessing; pressing does it.
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    assert!(house.store.photos(build).await.unwrap()[1].shot.is_empty());
    let guess = list.split("<button name=\"shot\" value=\"").nth(1).unwrap().split('"').next().unwrap();
    assert!(guess.starts_with("J7 "), "{guess}");
    let capture = house.store.photos(build).await.unwrap()[1].capture.to_string();
    let place = format!("/builds/elm-saloon/photos/{}/place", name(&loose));
    let pairs = [("capture", capture.as_str()), ("shot", guess), ("back", "unplaced")];
    let done = phone.browser.post(&place, &pairs).await;
    assert_eq!((done.status, done.to.as_str()), (StatusCode::SEE_OTHER, "/builds/elm-saloon/photos/unplaced"));
    assert!(phone.browser.get(&done.to).await.text.contains("Every photograph is at its shot"));
    assert_eq!(house.store.photos(build).await.unwrap()[1].shot, guess);
    let by_day = phone.browser.get("/builds/elm-saloon/photos/days").await.text;
    assert!(by_day.contains("2026-05-04: 2") && by_day.contains(&name(&placed)), "{by_day}");
}

#[tokio::test]
async fn a_shots_history_keeps_what_was_there_and_who_moved_it() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let (first, second) = (jpeg(1), jpeg(2));
    let capture = new_capture();
    phone.tell(&capture, &first, WIDE).await;
    phone.send(&first, 0, first.len(), true).await;
    phone.keep(&second, WIDE).await;
    let office = house.browser("office").await;
    let place = format!("/builds/elm-saloon/photos/{}/place", name(&first));
    office.post(&place, &[("capture", &capture), ("shot", CLOSE)]).await;
    let history = office.get("/builds/elm-saloon/photos/shot?name=J7+joint-tacked%2Fwide").await.text;
    for words in [
        "A photo was taken.",
        "A photo was received.",
        "A photo was placed at J7 joint-tacked/close.",
        ">office<",
        "Now at",
    ] {
        assert!(history.contains(words), "{words}: {history}");
    }
    let here = history.split("<h2>Not any more</h2>").next().unwrap();
    assert!(here.contains(&name(&second)) && !here.contains(&name(&first)));
    let path = "/builds/elm-saloon/photos/shot?name=J7+joint-tacked%2Fwide";
    assert_eq!(house.browser("scrutineer").await.get(path).await.status, StatusCode::NOT_FOUND);
    let nothing = office.get("/builds/elm-saloon/photos/shot?name=J7+cats").await;
    assert_eq!(nothing.status, StatusCode::NOT_FOUND);
    // Any other photograph of the build is chosen for it by looking.
    let own = office.get(&format!("/builds/elm-saloon/photos/{}", name(&first))).await.text;
    let choosing = format!("/builds/elm-saloon/photos/days?beside={}", name(&first));
    assert!(own.contains(&format!("href=\"{choosing}\"")), "{own}");
    let chosen = format!("/builds/elm-saloon/photos/compare?one={}&#38;other=", name(&first));
    let offered = office.get(&choosing).await.text;
    assert!(offered.contains(&format!("{chosen}{}", name(&second))), "{offered}");
    assert!(!offered.contains(&format!("{chosen}{}", name(&first))), "not beside itself");
    for nothing in ["0".repeat(64), "cats".to_owned()] {
        let answer = office.get(&format!("/builds/elm-saloon/photos/days?beside={nothing}")).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{nothing}");
    }
    // Both can be held beside one another at the same zoom, and each at full size.
    let both = format!("/builds/elm-saloon/photos/compare?one={}&other={}", name(&first), name(&second));
    let whole = office.get(&both).await.text;
    assert!(whole.contains("data-zoom=\"1\"") && whole.matches("/screen\" data-screen").count() == 2, "{whole}");
    let large = office.get(&format!("{both}&zoom=4")).await.text;
    assert!(large.contains("data-zoom=\"4\"") && large.matches("src=\"/builds/elm-saloon/photos/").count() == 2);
    assert!(large.contains(&format!("src=\"/builds/elm-saloon/photos/{}/original\"", name(&first))));
    let one = office.get(&format!("/builds/elm-saloon/photos/{}/large?zoom=99", name(&first))).await;
    assert!(one.status == StatusCode::OK && one.text.contains("data-zoom=\"1\""));
    let foreign = office.get(&both.replace("elm-saloon", "pine-coupe")).await;
    assert_eq!(foreign.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_contact_sheet_has_every_photograph_that_counts_with_number_name_and_time() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    assert_eq!(phone.browser.get("/builds/elm-saloon/photos/contact.pdf").await.status, StatusCode::NOT_FOUND);
    assert!(!phone.browser.get("/builds/elm-saloon/photos").await.text.contains("Contact sheet"));
    let photos = [jpeg(1), jpeg(2), jpeg(3)];
    for (bytes, shot) in photos.iter().zip([WIDE, CLOSE, ""]) {
        phone.keep(bytes, shot).await;
    }
    let list = phone.browser.get("/builds/elm-saloon/photos").await.text;
    assert!(list.contains("\"/builds/elm-saloon/photos/contact.pdf?part=1\""), "{list}");
    let pdf = phone.browser.get("/builds/elm-saloon/photos/contact.pdf").await.bytes;
    paper::check(&pdf);
    paper::keep(&pdf);
    assert_eq!(paper::pictures(&pdf), 3);
    let words = paper::words(&pdf);
    for word in
        ["1 J7 wide", "joint tacked", "2 J7 close", "3 extra photograph", "2026-05-04 09:30, fabricator", "HELD"]
    {
        assert!(words.contains(word), "{word}: {words}");
    }
    assert_eq!(phone.browser.get("/builds/elm-saloon/photos/contact.pdf?part=2").await.status, StatusCode::NOT_FOUND);
    let mut one_less =
        house.store.photos(house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id).await.unwrap();
    let gone = one_less.remove(0);
    let office = house.browser("office").await;
    let withdraw = format!("/builds/elm-saloon/photos/{}/withdraw", gone.sha256);
    office.post(&withdraw, &[("capture", &gone.capture.to_string()), ("why", "the wrong car")]).await;
    assert_eq!(paper::pictures(&office.get("/builds/elm-saloon/photos/contact.pdf").await.bytes), 2);
}
