//! Stickers: read back by another program's eyes, leading to the part of their own build and to no other.

use axum::http::StatusCode;

use crate::camera::{Phone, asked_for};
use crate::house::House;
use crate::paper;

/// Dots an inch at which a page is looked at.
const FINE: u32 = 200;

/// What the square in a part of a page says, as an independent reader (quirc's algorithm) finds it in poppler's dots; the
/// part is from the left, from the top, wide, high, in millimetres.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of a page, none under zero")]
fn square((width, dots): &(usize, Vec<u8>), part: [f64; 4]) -> Option<String> {
    let [left, top, wide, high] = part.map(|mm| (mm / 25.4 * f64::from(FINE)).round() as usize);
    let dot = |x: usize, y: usize| dots.get((top + y) * width + left + x).copied().unwrap_or(255);
    let mut read = rqrr::PreparedImage::prepare_from_greyscale(wide, high, dot);
    read.detect_grids().iter().find_map(|square| square.decode().ok()).map(|read| read.1)
}

/// What the one sticker of a page says.
fn alone(pdf: &[u8]) -> String {
    square(&paper::grey_dots(pdf, 1, FINE), [0.0, 0.0, 60.0, 34.0]).unwrap()
}

#[tokio::test]
async fn a_sticker_leads_a_phone_to_the_parts_shot_after_signing_in() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let sheet = phone.browser.get("/builds/elm-saloon/joints/J7").await.text;
    assert!(sheet.contains("/builds/elm-saloon/stickers/J7.pdf"));
    let pdf = phone.browser.get("/builds/elm-saloon/stickers/J7.pdf").await.bytes;
    paper::check(&pdf);
    paper::keep(&pdf);
    let read = alone(&pdf);
    let words = paper::words(&pdf);
    let tag = read.strip_prefix("http://127.0.0.1:7350/t/").unwrap();
    for word in ["J7", "Elm Saloon", "onto", tag] {
        assert!(words.contains(word), "{word}: {words}");
    }
    // A stranger is asked to sign in and sent on to the same place, whether or not there is such a part.
    let (path, nothing) = (format!("/t/{tag}"), "/t/00000000-J7");
    for path in [path.as_str(), nothing] {
        let stranger = house.stranger().get(path).await;
        assert_eq!(stranger.status, StatusCode::SEE_OTHER);
        assert!(stranger.to.starts_with("/sign-in?then=") && stranger.to.ends_with(&path[3..]), "{}", stranger.to);
    }
    let then = [("name", "fabricator"), ("password", crate::house::PASSWORD), ("then", path.as_str())];
    assert_eq!(house.stranger().post("/sign-in", &then).await.to, path);
    let walk = phone.browser.get(&path).await;
    assert_eq!((walk.status, walk.to.starts_with("/builds/elm-saloon/walk?shot=J7")), (StatusCode::SEE_OTHER, true));
    assert!(phone.browser.get(&walk.to).await.text.contains(">J7</a>"));
    // A bar has no shot of its own: its sheet.
    let bar = path.replace("-J7", "-M1").to_lowercase();
    let bar = phone.browser.get(&bar).await.to;
    assert!(bar.ends_with("/members/M1") || bar.contains("/walk?shot=M1"), "{bar}");
}

#[tokio::test]
async fn a_code_tells_nothing_to_who_may_not_see_and_names_no_other_build() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let pdf = phone.browser.get("/builds/elm-saloon/stickers/J7.pdf").await.bytes;
    let path = alone(&pdf).replace("http://127.0.0.1:7350", "");
    let scrutineer = house.browser("scrutineer").await;
    let nothing = scrutineer.get("/t/00000000-J7").await;
    let there = scrutineer.get(&path).await;
    assert_eq!((there.status, nothing.status), (StatusCode::NOT_FOUND, StatusCode::NOT_FOUND));
    assert!(there.to.is_empty() && !there.text.contains("elm"), "{}", there.text);
    for wrong in ["/t/00000000-J7", "/t/J7", "/t/x", &path.replace("-J7", "-J999"), &path.replace("-J7", "-Q1")] {
        assert_eq!(phone.browser.get(wrong).await.status, StatusCode::NOT_FOUND, "{wrong}");
    }
    assert_eq!(phone.browser.get("/builds/pine-coupe/stickers/J7.pdf").await.status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn a_sheet_of_stickers_holds_every_part_once_on_either_paper() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let found = {
        let build = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
        let facts = house.store.facts(build).await.unwrap();
        tackbook::domain::derived::findings::Findings::of(&facts, house.clock.today())
    };
    let joints = found.worked.cage.joints.len();
    // Paper and sticker as the sheet's head states them, mm: three across and seven down in the middle, 2 mm lower.
    let inch = 25.4;
    for (name, points, said, page, sticker) in [
        ("a4", "595.2", "60 × 36 mm, 3 across and 7 down", [210.0, 297.0], [60.0, 36.0]),
        ("letter", "612 x 792", "2 3/8 × 1 3/8 in, 3 across", [8.5 * inch, 11.0 * inch], [2.375 * inch, 1.375 * inch]),
    ] {
        let asked = format!("/builds/elm-saloon/stickers.pdf?of=joints&paper={name}&at=http%3A%2F%2F10.0.0.5%3A7350");
        let pdf = phone.browser.get(&asked).await.bytes;
        paper::check(&pdf);
        paper::keep(&pdf);
        let words = paper::words(&pdf);
        assert!(
            words.contains(said)
                && words.contains("the two lines below must measure what they say")
                && words.contains("100 mm")
                && words.contains("4 in"),
            "{words}"
        );
        assert!(paper::about(&pdf).contains(points), "{}", paper::about(&pdf));
        let [left, top] = [(page[0] - 3.0 * sticker[0]) / 2.0, (page[1] - 7.0 * sticker[1]) / 2.0 + 2.0];
        let mut read = Vec::new();
        for sheet in 0..joints.div_ceil(21) {
            let dots = paper::grey_dots(&pdf, u32::try_from(sheet + 1).unwrap(), FINE);
            for place in 0..u32::try_from((joints - 21 * sheet).min(21)).unwrap() {
                let (across, down) = (f64::from(place % 3), f64::from(place / 3));
                let part = [left + across * sticker[0], top + down * sticker[1], sticker[0], sticker[1]];
                let said = square(&dots, part);
                assert!(said.is_some(), "{name}: sheet {sheet}, place {place} does not read");
                read.extend(said);
            }
        }
        assert!(read.iter().all(|text| text.starts_with("http://10.0.0.5:7350/t/") && text.contains("-J")), "{read:?}");
        read.sort();
        read.dedup();
        assert_eq!(read.len(), joints, "{read:?}");
    }
    let metric = phone.browser.get("/builds/elm-saloon/stickers").await.text;
    assert!(metric.contains("Only this machine reaches"), "{metric}");
    for (asked, words) in [
        ("at=http%3A%2F%2Felsewhere.example", "how phones reach"),
        ("at=javascript%3Aalert(1)", "how phones reach"),
        ("paper=a0", "Choose one"),
        ("of=cats", "Choose one"),
    ] {
        let refused = phone.browser.get(&format!("/builds/elm-saloon/stickers.pdf?{asked}")).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{asked}");
        assert!(refused.text.contains(words), "{asked}: {}", refused.text);
    }
}
