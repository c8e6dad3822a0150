//! Views of photographs are never trusted unread: whatever lies under a view's name, what is shown on screen and printed in
//! an issued packet is the picture that was made of that very photograph, or nothing is.
#![expect(clippy::indexing_slicing, reason = "a test may stop")]

use std::path::PathBuf;

use axum::http::StatusCode;
use tackbook::actions;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::vault::{Item, View};

use crate::camera::{Phone, jpeg};
use crate::house::{Browser, House};
use crate::main_job::begun;
use crate::paper;

/// The views and what they are called in an address.
const VIEWS: [(View, &str); 3] = [(View::Screen, "screen"), (View::Thumb, "thumbnail"), (View::Print, "print")];
const ROUNDS: &str = "/builds/pine-coupe/rounds";

fn address(photo: &[u8], view: &str) -> String {
    format!("/builds/pine-coupe/photos/{}/{view}", Fingerprint::of(photo))
}

fn place(house: &House, item: &Item) -> PathBuf {
    house.folder.0.join(item.path())
}

fn view_of(photo: &[u8], view: View) -> Item {
    Item::View(Fingerprint::of(photo), view)
}

/// Puts other bytes where something is kept, as a disk or a stranger might.
#[expect(clippy::disallowed_methods, reason = "a test damages its own folder")]
fn put(place: &PathBuf, bytes: &[u8]) {
    // what is kept for good is write-protected
    let _ = std::fs::remove_file(place);
    std::fs::write(place, bytes).unwrap();
}

async fn views(browser: &Browser<'_>, photo: &[u8]) -> Vec<Vec<u8>> {
    let mut views = Vec::new();
    for (_, name) in VIEWS {
        let answer = browser.get(&address(photo, name)).await;
        assert_eq!(answer.status, StatusCode::OK, "{name}: {}", answer.text);
        views.push(answer.bytes);
    }
    views
}

async fn issue(browser: &Browser<'_>, round: u32) -> Vec<u8> {
    let sent = browser.post(ROUNDS, &[("key", &format!("key {round}"))]).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    browser.get(&format!("{ROUNDS}/{round}/packet.pdf")).await.bytes
}

/// Two photographs are kept and shown; this is done to the file of each view of the first, who is given the file of the
/// second's; what is shown and issued afterwards is what was before.
async fn is_shown_right_after(damage: impl Fn(View, Vec<u8>, Vec<u8>) -> Vec<u8> + Send + Sync) {
    let house = House::new().await;
    begun(&house).await;
    let office = house.browser("office").await;
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    let photos = [jpeg(1), jpeg(2)];
    let mut good = Vec::new();
    for photo in &photos {
        phone.keep(photo, "").await;
        good.push(views(&office, photo).await);
    }
    assert!(good[0].iter().zip(&good[1]).all(|(one, other)| one != other), "the two differ in every view");
    let prints = [good[0][2].clone(), good[1][2].clone()];
    let damaged = || {
        for (view, _) in VIEWS {
            let read = |photo: &[u8]| std::fs::read(place(&house, &view_of(photo, view))).unwrap();
            let (first, second) = (read(&photos[0]), read(&photos[1]));
            let now = damage(view, first.clone(), second);
            assert_ne!(now, first, "something was done");
            put(&place(&house, &view_of(&photos[0], view)), &now);
        }
    };
    damaged();
    assert_eq!(views(&office, &photos[0]).await, good[0], "on screen");
    damaged();
    let mut printed = paper::jpegs(&issue(&office, 1).await);
    printed.sort();
    let mut wanted = prints.to_vec();
    wanted.sort();
    assert!(printed == wanted, "in the issued packet: {} pictures", printed.len());
    assert_eq!(views(&office, &photos[0]).await, good[0], "made again, and kept");
    let report = actions::shop::health::verify(&house.store).await.unwrap();
    assert!(report.good() && report.views == 6 && report.unmarked_views == 0, "{report:?}");
}

#[tokio::test]
async fn an_empty_view_is_never_shown_nor_issued() {
    is_shown_right_after(|_, _, _| Vec::new()).await;
}

#[tokio::test]
async fn a_torn_view_is_never_shown_nor_issued() {
    is_shown_right_after(|_, file, _| file[..file.len() / 2].to_vec()).await;
}

#[tokio::test]
async fn a_zeroed_view_is_never_shown_nor_issued() {
    is_shown_right_after(|_, file, _| vec![0; file.len()]).await;
}

#[tokio::test]
async fn a_view_with_one_bit_flipped_is_never_shown_nor_issued() {
    is_shown_right_after(|_, mut file, _| {
        let middle = file.len() / 2;
        file[middle] ^= 4;
        file
    })
    .await;
}

#[tokio::test]
async fn another_photographs_view_under_this_name_is_never_shown_nor_issued() {
    is_shown_right_after(|_, _, other| other).await;
}

#[tokio::test]
async fn a_picture_of_another_photograph_under_this_ones_mark_is_never_shown_nor_issued() {
    is_shown_right_after(|_, file, other| {
        let behind = |file: &[u8]| file.windows(2).rposition(|two| two == [0xff, 0xd9]).unwrap() + 2;
        [&other[..behind(&other)], &file[behind(&file)..]].concat()
    })
    .await;
}

#[tokio::test]
async fn an_old_view_without_a_mark_is_made_again_before_it_is_shown_or_issued() {
    // what it says of itself is nothing: it may as well be the other photograph's
    is_shown_right_after(|_, _, other| {
        let end = other.windows(2).rposition(|two| two == [0xff, 0xd9]).unwrap() + 2;
        other[..end].to_vec()
    })
    .await;
}

#[tokio::test]
async fn a_view_of_another_kind_under_this_name_is_never_shown_nor_issued() {
    let house = House::new().await;
    begun(&house).await;
    let office = house.browser("office").await;
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    let photo = jpeg(1);
    phone.keep(&photo, "").await;
    let good = views(&office, &photo).await;
    let file = |view| place(&house, &view_of(&photo, view));
    let read = |view| std::fs::read(file(view)).unwrap();
    let (screen, thumb) = (read(View::Screen), read(View::Thumb));
    for (view, other) in [(View::Screen, &thumb), (View::Thumb, &screen), (View::Print, &thumb)] {
        put(&file(view), other);
    }
    assert_eq!(paper::jpegs(&issue(&office, 1).await), [good[2].clone()]);
    assert_eq!(views(&office, &photo).await, good);
}

#[tokio::test]
async fn verify_reads_every_view_and_tells_of_each_that_is_wrong() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let photos = [jpeg(1), jpeg(2), jpeg(3)];
    for photo in &photos {
        phone.keep(photo, "").await;
    }
    let told = async || actions::shop::health::verify(&house.store).await.unwrap();
    let all = told().await;
    assert!(all.good() && all.views == 9, "{all:?}");
    let file = |photo: &[u8], view| place(&house, &view_of(photo, view));
    let other = std::fs::read(file(&photos[1], View::Print)).unwrap();
    put(&file(&photos[0], View::Print), &other);
    put(&file(&photos[0], View::Thumb), b"");
    put(&file(&photos[2], View::Screen), &jpeg(9));
    let now = told().await;
    assert_eq!((now.views, now.unmarked_views, now.bad.len()), (6, 1, 2), "{now:?}");
    for view in [View::Print, View::Thumb] {
        let path = view_of(&photos[0], view).path();
        assert!(now.bad.iter().any(|bad| bad.starts_with(&format!("{path} is not the view"))), "{:?}", now.bad);
    }
}

#[tokio::test]
async fn no_round_is_issued_without_a_picture_it_promises_and_the_photograph_is_named() {
    let house = House::new().await;
    begun(&house).await;
    let office = house.browser("office").await;
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    let (photo, other, cut) = (jpeg(1), jpeg(2), jpeg(3)[..4000].to_vec());
    phone.keep(&photo, "J7 joint-tacked/wide").await;
    phone.keep(&other, "").await;
    // one that was told of as one that cannot be shown holds nothing up
    phone.keep(&cut, "").await;
    let original = place(&house, &Item::Photo(Fingerprint::of(&photo)));
    let drop_views = || {
        for (view, _) in VIEWS {
            put(&place(&house, &view_of(&photo, view)), b"");
        }
    };
    // the other photograph in its place, its end missing, nothing at all: no view is made of what is not the original
    for bad in [other.clone(), photo[..photo.len() - 1].to_vec(), Vec::new(), b"a note".to_vec()] {
        put(&original, &bad);
        drop_views();
        for (_, name) in VIEWS {
            let shown = office.get(&address(&photo, name)).await;
            assert_eq!(shown.status, StatusCode::NOT_FOUND, "{name}");
        }
        let refused = office.post(ROUNDS, &[("key", "one")]).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{}", refused.text);
        for words in ["of J7 joint-tacked/wide, by fabricator", "not the one that was received any more"] {
            assert!(refused.text.contains(words), "{words}: {}", refused.text);
        }
        let draft = office.get("/builds/pine-coupe/packet.pdf").await;
        assert_eq!(draft.status, StatusCode::CONFLICT);
        assert!(draft.text.contains("of J7 joint-tacked/wide"), "{}", draft.text);
        let build = house.store.builds().await.unwrap().remove(0).id;
        assert!(house.store.rounds(build).await.unwrap().is_empty());
    }
    put(&original, &photo);
    assert_eq!(paper::jpegs(&issue(&office, 1).await).len(), 2);
}
