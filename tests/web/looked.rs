//! Photographs in the office: filtered by counts, looked at one after the other, by the camera's day, and files that were not
//! taken, named.

use axum::http::StatusCode;
use sqlx::Connection as _;
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::camera::{Phone, asked_for, jpeg, new_capture};
use crate::house::{Browser, House};
use crate::walk::send;

const WIDE: &str = "J7 joint-tacked/wide";
const CLOSE: &str = "J7 joint-tacked/close";

fn page(bytes: &[u8]) -> String {
    format!("/builds/elm-saloon/photos/{}", Fingerprint::of(bytes))
}

async fn look(browser: &Browser<'_>, bytes: &[u8], capture: &str) -> crate::house::Answer {
    browser.post(&format!("{}/looked", page(bytes)), &[("capture", capture)]).await
}

#[tokio::test]
async fn the_office_looks_at_one_after_the_other_and_at_another_shot_it_is_looked_at_anew() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let (one, two, three) = (jpeg(1), jpeg(2), jpeg(3));
    for (bytes, shot) in [(&one, WIDE), (&two, CLOSE), (&three, "")] {
        phone.keep(bytes, shot).await;
    }
    let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
    let photos = house.store.photos(build).await.unwrap();
    let captures: Vec<String> = photos.iter().map(|photo| photo.capture.to_string()).collect();
    let office = house.browser("office").await;
    let list = async |last: &str| office.get(&format!("/builds/elm-saloon/photos{last}")).await.text;
    // The counts are the ways.
    let all = list("").await;
    for words in ["<b>2</b> photographed", "<b>2</b> not looked at", "photos?state=taken", "photos?state=unlooked"] {
        assert!(all.contains(words), "{words}: {all}");
    }
    let taken = list("?state=taken").await;
    assert!(taken.contains(&format!("{}/thumbnail", page(&one))) && !taken.contains("Take it</a>"), "{taken}");
    assert!(!taken.contains(&format!("{}/thumbnail", page(&three))), "what nobody asked for is in no state of a shot");
    assert!(!list("?state=asked").await.contains(&format!("{}/thumbnail", page(&one))));
    // One after the other, each with the way back.
    let first = office.get(&page(&one)).await.text;
    assert!(
        first.contains("Photograph 1 of 3")
            && first.contains("Next photograph")
            && !first.contains("Photograph before")
    );
    let middle = office.get(&page(&two)).await.text;
    assert!(middle.contains(&format!("href=\"{}\" rel=\"prev\"", page(&one))));
    assert!(middle.contains(&format!("href=\"{}\" rel=\"next\"", page(&three))));
    // Only the office says so; saying it leads to the next, and twice is once.
    assert_eq!(look(&phone.browser, &one, &captures[0]).await.status, StatusCode::NOT_FOUND);
    assert!(phone.browser.get(&page(&one)).await.text.contains("The office has not looked at it yet."));
    assert_eq!(look(&office, &one, &captures[0]).await.to, page(&two));
    assert_eq!(look(&office, &one, &captures[0]).await.to, page(&two));
    assert_eq!(house.store.photos_looked(build).await.unwrap().len(), 1);
    let said = house.store.log(1).await.unwrap().remove(0);
    assert_eq!(said.what, "The photo at J7 joint-tacked/wide was looked at.");
    assert!(office.get(&page(&one)).await.text.contains("<b>Looked at</b> by office, 2026-05-04 09:30"));
    assert!(list("").await.contains("<b>1</b> not looked at"));
    assert!(!list("?state=unlooked").await.contains(&format!("{}/thumbnail", page(&one))));
    // Put elsewhere it shows something else: the word is gone.
    let moved = [("capture", captures[0].as_str()), ("shot", "J9 joint-tacked/wide")];
    assert_eq!(office.post(&format!("{}/place", page(&one)), &moved).await.status, StatusCode::SEE_OTHER);
    assert!(!office.get(&page(&one)).await.text.contains("<b>Looked at</b>"));
    assert!(list("").await.contains("<b>2</b> not looked at"));
    // All looked at, it leads to the list.
    for (bytes, capture) in [(&one, &captures[0]), (&two, &captures[1])] {
        look(&office, bytes, capture).await;
    }
    assert!(look(&office, &three, &captures[2]).await.to.ends_with("/photos?state=unlooked"));
    assert!(list("?state=unlooked").await.contains("No shot is in this state."));
    let records = format!("sqlite://{}", house.folder.0.join("tackbook.db").display());
    let mut behind = sqlx::SqliteConnection::connect(&records).await.unwrap();
    for change in ["DELETE FROM photos_looked", "UPDATE photos_looked SET by = 'x'"] {
        assert!(sqlx::query(change).execute(&mut behind).await.is_err(), "{change}");
    }
}

#[tokio::test]
async fn by_day_is_the_cameras_day_with_the_day_of_receiving_beside_it() {
    let mut house = House::new().await;
    let bytes = jpeg(1);
    Phone::new(&house).await.browser.get("/").await;
    house.set_clock("2026-05-06T08:00:00Z");
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    phone.keep(&bytes, "").await;
    let plain = send(&phone, &new_capture(), "", &[("2.jpg", &jpeg(2))]).await;
    assert_eq!(plain.status, StatusCode::SEE_OTHER, "{}", plain.text);
    let days = phone.browser.get("/builds/pine-coupe/photos/days").await.text;
    // The phone told of one that it was taken two days before; of the other nobody says when.
    for words in [
        "<h2>2026-05-04: 1</h2>",
        "phone 2026-05-04 11:29; received 2026-05-06",
        "<h2>2026-05-06: 1</h2>",
        "no camera&#39;s day; received 2026-05-06",
    ] {
        assert!(days.contains(words), "{words}: {days}");
    }
    assert!(days.find("2026-05-06: 1") < days.find("2026-05-04: 1"), "the newest day first");
}

#[tokio::test]
async fn files_of_a_folder_that_were_not_taken_are_named_with_the_reason() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let good = jpeg(1);
    let sent = send(
        &phone,
        &new_capture(),
        "",
        &[
            ("car/a.jpg", &good),
            ("car/notes <1>.txt", b"remember the gusset\n"),
            ("car/b.mov", b"\x1a\x45\xdf\xa3movie"),
        ],
    )
    .await;
    assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["notes &#60;1&#62;.txt: ", "looks like a text file", "b.mov: ", "video"] {
        assert!(sent.text.contains(words), "{words}: {}", sent.text);
    }
    assert!(!sent.text.contains("a.jpg: "), "what was taken is not among them");
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert_eq!(house.store.photos(build).await.unwrap().len(), 1);
    // More than go at a time: those left are named too.
    let names: Vec<String> = (0..125).map(|number| format!("f{number}.txt")).collect();
    let many: Vec<(&str, &[u8])> = names.iter().map(|name| (name.as_str(), &b"a text file\n"[..])).collect();
    let sent = send(&phone, &new_capture(), "", &many).await;
    for words in
        ["f99.txt: ", "Not taken, for at most 100 go at a time: f100.txt, ", "f119.txt and 5 more. Send them again."]
    {
        assert!(sent.text.contains(words), "{words}");
    }
}
