//! The packet as a scrutineer holds it: how large its pictures are printed, what stands on a sheet, what its cover claims.

use axum::http::StatusCode;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::shots::Shot;
use tackbook::domain::words::ids::Kind;

use crate::cage::{save, typed};
use crate::camera::{Phone, jpeg};
use crate::house::{Browser, House};
use crate::main_job::{begun, weigh};
use crate::paper;

const PACKET: &str = "/builds/pine-coupe/packet.pdf";

/// A weighed car with a cage.
async fn caged(house: &House) -> Browser<'_> {
    begun(house).await;
    let office = house.browser("office").await;
    weigh(&office, "740", "").await;
    assert_eq!(save(&office, &typed("0")).await.status, StatusCode::SEE_OTHER);
    office
}

async fn found(house: &House) -> Findings {
    let build = house.store.builds().await.unwrap().remove(0).id;
    Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today())
}

/// Words without their line ends.
fn plain(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

async fn pages(office: &Browser<'_>, query: &str) -> (Vec<u8>, Vec<String>) {
    let pdf = office.get(&format!("{PACKET}{query}")).await.bytes;
    let words = paper::words(&pdf);
    let pages = words.trim_end_matches('\u{c}').split('\u{c}').map(plain).collect();
    (pdf, pages)
}

#[tokio::test]
async fn joints_stand_two_a_sheet_with_large_pictures_and_no_sheet_holds_one_picture_or_one_sentence() {
    let house = House::new().await;
    let office = caged(&house).await;
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    let shots = found(&house).await.worked.shots;
    let wanted: Vec<String> = shots
        .iter()
        .filter(|shot| matches!(shot.of.kind, Kind::Joint | Kind::Plate))
        .take(26)
        .map(Shot::name)
        .collect();
    for (seed, shot) in (1..).zip(&wanted) {
        phone.keep(&jpeg(seed), shot).await;
    }
    let (pdf, pages) = pages(&office, "").await;
    paper::keep(&pdf);
    paper::check(&pdf);
    let placed = paper::placed(&pdf);
    assert_eq!(placed.len(), wanted.len());
    let joints: Vec<usize> =
        (1..).zip(&pages).filter(|(_, page)| page.contains("Joints J")).map(|(at, _)| at).collect();
    assert!(joints.len() > 8, "two joints a sheet: {joints:?}");
    for (page, wide, high) in placed.iter().copied().filter(|(page, ..)| joints.contains(page)) {
        // 88 mm where two joints fit so, never under 85; uncropped, as the picture is: 4 to 3
        assert!(wide > 84.9 && (wide / high - 4.0 / 3.0).abs() < 0.01, "page {page}: {wide} by {high} mm");
    }
    assert!(placed.iter().all(|(_, wide, _)| *wide > 57.9), "{placed:?}");
    for (number, page) in (1..).zip(&pages) {
        let pictures = placed.iter().filter(|(at, ..)| *at == number).count();
        let words = page.split(' ').count();
        // the block at the foot alone has some thirty words
        assert!(
            words > 60 && (pictures != 1 || words > 90),
            "sheet {number}, {pictures} pictures, {words} words: {page}"
        );
        assert!(!page.contains('\u{fffd}'), "a letter that the type lacks on sheet {number}: {page}");
    }
    let cover = &pages[0];
    assert!(!cover.contains('…'), "nothing is cut on the cover: {cover}");
    let fonts = paper::fonts(&pdf);
    for line in fonts.lines().skip(2) {
        assert!(line.contains("BarlowSemiCondensed") || line.contains("DejaVuSansCondensed"), "{fonts}");
        assert!(line.contains("yes yes yes"), "embedded, cut down, readable: {fonts}");
    }
    let again = office.get(PACKET).await.bytes;
    assert!(again == pdf, "the same facts, the same packet");
}

#[tokio::test]
async fn the_cover_claims_what_is_there_and_no_more_once_it_is_taken_away() {
    let house = House::new().await;
    let office = caged(&house).await;
    let to_decide = |cover: &str| -> usize {
        let (_, after) = cover.split_once("Needs your decision: ").unwrap();
        after.split(' ').next().unwrap().parse().unwrap()
    };
    let (_, before) = pages(&office, "").await;
    let (cover, decide) = (before[0].clone(), to_decide(&before[0]));
    for word in [
        "May this cage, tacked as shown, be fully welded?",
        "2,944 lb",
        "not asked yet",
        "Asked so far 0",
        "The first round",
        "How to answer",
        "Released: full welding may go on",
        "it approves nothing",
    ] {
        assert!(cover.contains(word), "{word}: {cover}");
    }
    assert!(!cover.contains("you asked"), "{cover}");
    // a question is one thing more to decide, until it is settled
    let asked = [("about", "J2"), ("text", "Which bar runs through?")];
    let sent = office.post("/builds/pine-coupe/questions", &asked).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let (_, open) = pages(&office, "").await;
    let all = open[..2].join(" ");
    assert_eq!(to_decide(&open[0]), decide + 1, "{}", open[0]);
    assert!(all.contains("you asked Q1 “Which bar runs through?” Not answered yet."), "{all}");
    assert!(open[0].contains("Asked so far 1, answered 0"), "{}", open[0]);
    // the weighing taken away, no figure of it stays
    let folder = found(&house).await;
    assert!(folder.worked.foreseen.is_some());
    let other = House::new().await;
    begun(&other).await;
    let (_, bare) = pages(&other.browser("office").await, "").await;
    for word in ["2,944", "lb", "inside its nearest edge", "predicted to finish"] {
        assert!(!bare[0].contains(word), "{word}: {}", bare[0]);
    }
    assert!(bare[0].contains("not yet") && bare[0].contains("The cage is not set up yet."), "{}", bare[0]);
}

/// A picture that does not press well.
fn grain(seed: u32) -> Vec<u8> {
    let mut state = seed;
    let picture = image::GrayImage::from_fn(1200, 900, |_, _| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        image::Luma([state.to_be_bytes()[0]])
    });
    let mut out = std::io::Cursor::new(Vec::new());
    picture.write_to(&mut out, image::ImageFormat::Jpeg).unwrap();
    out.into_inner()
}

#[tokio::test]
async fn a_packet_stays_under_the_size_that_was_picked_and_says_what_was_done() {
    let house = House::new().await;
    let office = caged(&house).await;
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    let names: Vec<String> = found(&house).await.worked.shots.iter().take(10).map(Shot::name).collect();
    for (seed, shot) in (1..).zip(&names) {
        phone.keep(&grain(seed), shot).await;
    }
    let said = "its photographs are printed smaller";
    let (whole, pages_of_whole) = pages(&office, "?size=20").await;
    assert!(whole.len() > 5_000_000 && !pages_of_whole.join(" ").contains(said), "{}", whole.len());
    let (small, pages_of_small) = pages(&office, "?size=5").await;
    assert!(small.len() <= 5_000_000, "{}", small.len());
    assert!(pages_of_small[0].contains("To keep this packet under 5 MB") && pages_of_small[0].contains(said));
    let screen = office.get("/builds/pine-coupe/rounds").await.text;
    assert!(screen.contains("name=\"size\"") && screen.contains("20 MB"), "{screen}");
    assert_eq!(
        office.post("/builds/pine-coupe/rounds", &[("key", "one"), ("size", "5")]).await.status,
        StatusCode::SEE_OTHER
    );
    let log = office.get("/builds/pine-coupe/log").await.text;
    assert!(log.contains("Round 1 was issued. To keep this packet under 5 MB"), "{log}");
    // what was photographed is kept as it came
    for photo in house.store.facts(house.store.builds().await.unwrap().remove(0).id).await.unwrap().photos {
        let kept = office.get(&format!("/builds/pine-coupe/photos/{}/original", photo.sha256)).await.bytes;
        assert!((1..).map(grain).take(names.len()).any(|sent| sent == kept));
    }
}
