//! Marks over a photograph: drawn by fields, shown on screen and in the packet, rubbed out with a trace.

use axum::http::StatusCode;
use tackbook::domain::recorded::mark_ups::MOST_STANDING;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::vault::{Item, View};

use crate::camera::{Phone, asked_for, jpeg};
use crate::house::House;
use crate::kept::kept;
use crate::paper;

const SHOT: &str = "J7 joint-tacked/wide";

fn arrow<'a>(across: &'a str, to: &'a str) -> [(&'a str, &'a str); 5] {
    [("shape", "arrow"), ("across", across), ("down", "20 %"), ("to_across", to), ("to_down", "60 %")]
}

async fn photographed<'h>(house: &'h House, bytes: &[u8]) -> (Phone<'h>, String) {
    let mut phone = Phone::new(house).await;
    asked_for(&mut phone).await;
    phone.keep(bytes, SHOT).await;
    let marks = format!("/builds/elm-saloon/photos/{}/marks", Fingerprint::of(bytes));
    (phone, marks)
}

#[tokio::test]
async fn marks_lie_over_the_photograph_on_screen_and_in_the_packet_and_it_stays_as_it_came() {
    let house = House::new().await;
    let bytes = jpeg(1);
    let (phone, marks) = photographed(&house, &bytes).await;
    let before = phone.browser.get("/builds/elm-saloon/packet.pdf").await.bytes;
    for mark in [
        &arrow("10 %", "40 %")[..],
        &[("shape", "circle"), ("across", "0.5"), ("down", "0.5"), ("to_across", "70 %"), ("to_down", "50 %")],
        &[("shape", "balloon"), ("of", "J7"), ("across", "80 %"), ("down", "15 %")],
    ] {
        let drawn = phone.browser.post(&marks, mark).await;
        assert_eq!((drawn.status, &drawn.to), (StatusCode::SEE_OTHER, &marks), "{}", drawn.text);
    }
    let sheet = phone.browser.get(&marks).await.text;
    for words in
        ["3 drawn over it, version 3", "arrow", "balloon J7", "fabricator, 2026-05-04 09:30", "/screen\"", "<polygon"]
    {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    for place in [marks.trim_end_matches("/marks"), "/builds/elm-saloon/joints/J7"] {
        assert!(phone.browser.get(place).await.text.contains("data-balloon=\"J7\""), "{place}");
    }
    let large = marks.replace("/marks", "/large");
    let with = phone.browser.get(&format!("{large}?zoom=2")).await.text;
    let without = phone.browser.get(&format!("{large}?zoom=2&marks=no")).await.text;
    assert!(with.contains("<polygon") && with.contains(&format!("{large}?zoom=2&#38;marks=no")), "{with}");
    assert!(!without.contains("<polygon") && without.contains(&format!("\"{large}?zoom=2\"")), "{without}");
    // The packet shows the same photograph, byte for byte the copy for print, and the marks as lines over it.
    let draft = phone.browser.get("/builds/elm-saloon/packet.pdf").await.bytes;
    paper::check(&draft);
    paper::keep(&draft);
    let print = kept(&house.store, Item::View(Fingerprint::of(&bytes), View::Print)).await.unwrap();
    assert!(paper::jpegs(&draft).contains(&print));
    assert_eq!(paper::pictures(&draft), paper::pictures(&before));
    assert!(paper::words(&draft).matches("J7").count() > paper::words(&before).matches("J7").count());
    assert_eq!(phone.browser.get(&marks.replace("marks", "original")).await.bytes, bytes);
}

#[tokio::test]
async fn what_is_rubbed_out_is_not_shown_and_stays_told() {
    let house = House::new().await;
    let (phone, marks) = photographed(&house, &jpeg(1)).await;
    phone.browser.post(&marks, &arrow("10 %", "40 %")).await;
    let office = house.browser("office").await;
    for _ in 0..2 {
        let done = office.post(&format!("{marks}/1/rub-out"), &[]).await;
        assert_eq!(done.status, StatusCode::SEE_OTHER, "{}", done.text);
    }
    let sheet = phone.browser.get(&marks).await.text;
    assert!(sheet.contains("Nothing is drawn over it") && !sheet.contains("<polygon"), "{sheet}");
    assert!(sheet.contains("drawn by fabricator, 2026-05-04 09:30; rubbed out 2026-05-04 09:30 by office"), "{sheet}");
    assert_eq!(office.post(&format!("{marks}/2/rub-out"), &[]).await.status, StatusCode::NOT_FOUND);
    phone.browser.post(&marks, &arrow("20 %", "50 %")).await;
    assert!(phone.browser.get(&marks).await.text.contains("<b>2 arrow</b>"), "a number is never given out twice");
    let log = office.get("/builds/elm-saloon/log").await.text;
    assert!(log.contains("Drawn over a photo: arrow.") && log.contains("Mark 1 over a photo was rubbed out."), "{log}");
}

#[tokio::test]
async fn a_mark_that_is_none_is_refused_beside_its_field_with_all_that_was_typed() {
    let house = House::new().await;
    let (phone, marks) = photographed(&house, &jpeg(1)).await;
    for (typed, words) in [
        (&arrow("140 %", "40 %")[..], "lies on the picture"),
        (
            &[("shape", "arrow"), ("across", "20 %"), ("down", "20 %"), ("to_across", "20 %"), ("to_down", "20 %")],
            "a little longer",
        ),
        (&arrow("left", "40 %"), "it is no number"),
        (&[("shape", "balloon"), ("of", "J999"), ("across", "20 %"), ("down", "20 %")], "no J999"),
        (&[("shape", "balloon"), ("of", ""), ("across", "20 %"), ("down", "20 %")], "names a part"),
        (&[("shape", "cross"), ("across", "20 %"), ("down", "21 %")], "Choose what to draw"),
    ] {
        let refused = phone.browser.post(&marks, typed).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(refused.text.contains(words), "{words}: {}", refused.text);
        assert!(refused.text.contains(&format!("value=\"{}\"", typed[1].1)), "{words}");
    }
    for number in 0..=MOST_STANDING {
        let drawn = phone.browser.post(&marks, &arrow(&format!("{number} %"), "90 %")).await;
        let more = number == MOST_STANDING;
        assert_eq!(drawn.status == StatusCode::UNPROCESSABLE_ENTITY, more, "{number}: {}", drawn.text);
        assert_eq!(drawn.text.contains("Rub one out first"), more);
    }
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(scrutineer.get(&marks).await.status, StatusCode::NOT_FOUND);
    assert_eq!(scrutineer.post(&marks, &arrow("1 %", "90 %")).await.status, StatusCode::NOT_FOUND);
    let elsewhere = marks.replace("elm-saloon", "pine-coupe");
    assert_eq!(phone.browser.post(&elsewhere, &arrow("1 %", "90 %")).await.status, StatusCode::NOT_FOUND);
}
