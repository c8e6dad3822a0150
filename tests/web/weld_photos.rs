//! Photographs of a line of the weld log: kept as any photograph, shown at the line and in the packet's chapter, and no change
//! of what was released.

use axum::body::Body;
use axum::http::{StatusCode, header};
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::recorded::photos::Photo;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;

use crate::camera::{Phone, jpeg, new_capture};
use crate::house::{Answer, Browser, House};
use crate::paper::words;
use crate::reviews::issued;

const TO: &str = "/builds/pine-coupe/welds/1/photos";
const SHOT: &str = "J7 weld-line/1";

/// Sends a form with a photograph of a line.
async fn send(house: &House, browser: &Browser<'_>, to: &str, shot: &str, bytes: &[u8]) -> Answer {
    let mut body = Vec::new();
    for (name, value) in [("capture", new_capture().as_str()), ("shot", shot)] {
        body.extend(
            format!("--part\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n").into_bytes(),
        );
    }
    body.extend(b"--part\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"weld.jpg\"\r\n\r\n".to_vec());
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--part--\r\n");
    let request = browser.request("POST", to).header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=part");
    house.ask(request.body(Body::from(body)).unwrap()).await
}

/// A shop with a round out, in which J7 was welded.
async fn welded() -> (House, BuildId) {
    let house = House::new().await;
    let build = issued(&house).await;
    let day = house.clock.today().to_string();
    let weld = [("joint", "J7"), ("did", "welded"), ("seen", "0"), ("day", &day), ("welder", "A. Welder")];
    let weld = [weld.as_slice(), &[("process", "135"), ("position", "PA")]].concat();
    let written = house.browser("fabricator").await.post("/builds/pine-coupe/welds", &weld).await;
    assert_eq!(written.status, StatusCode::SEE_OTHER, "{}", written.text);
    (house, build)
}

async fn photos(house: &House, build: BuildId) -> Vec<Photo> {
    house.store.photos(build).await.unwrap()
}

#[tokio::test]
async fn a_photograph_of_a_weld_is_shown_at_its_line_and_in_the_chapter_and_changes_nothing_that_was_put() {
    let (house, build) = welded().await;
    let fabricator = house.browser("fabricator").await;
    let changes = async || {
        Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today())
            .changes
            .iter()
            .map(|change| change.what.clone())
            .collect::<Vec<_>>()
    };
    let before = changes().await;
    let line = format!("/builds/pine-coupe/photos/{}", Fingerprint::of(&jpeg(5)));
    assert!(!fabricator.get("/builds/pine-coupe/welds?joint=J7").await.text.contains(&line));
    let office = house.browser("office").await;
    assert!(!words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes).contains("J7, line 1: welded"));
    let kept = send(&house, &fabricator, TO, SHOT, &jpeg(5)).await;
    assert_eq!(
        (kept.status, kept.to.as_str()),
        (StatusCode::SEE_OTHER, "/builds/pine-coupe/welds?joint=J7#written"),
        "{}",
        kept.text
    );
    let photo = photos(&house, build).await.pop().unwrap();
    assert_eq!((photo.shot.as_str(), photo.by.as_str()), (SHOT, "fabricator"));
    for sheet in ["welds?joint=J7", "welds/walk?joint=J7", "joints/J7"] {
        let sheet = fabricator.get(&format!("/builds/pine-coupe/{sheet}")).await.text;
        assert!(sheet.contains(&line), "{sheet}");
    }
    assert_eq!(
        changes().await,
        before,
        "a photograph of a finished weld is no change of what was put before the scrutineer"
    );
    let draft = words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    assert!(draft.contains("J7, line 1: welded"), "{draft}");
    // any other photograph of the joint is one, and is not of the line
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    phone.keep(&jpeg(6), "J7 joint-tacked/close").await;
    assert_ne!(changes().await, before);
    let sheet = fabricator.get("/builds/pine-coupe/welds?joint=J7").await.text;
    assert!(!sheet.contains(&Fingerprint::of(&jpeg(6)).to_string()), "{sheet}");
    // withdrawn, it is shown at the line no more
    let capture = photo.capture.to_string();
    let gone = [("capture", capture.as_str()), ("why", "of another weld")];
    let gone = office.post(&format!("{line}/withdraw"), &gone).await;
    assert_eq!(gone.status, StatusCode::SEE_OTHER, "{}", gone.text);
    assert!(!fabricator.get("/builds/pine-coupe/welds?joint=J7").await.text.contains(&line));
    assert!(!words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes).contains("J7, line 1: welded"));
}

#[tokio::test]
async fn what_is_no_photograph_or_of_no_line_is_refused_where_it_was_chosen() {
    let (house, build) = welded().await;
    let there = photos(&house, build).await.len();
    let fabricator = house.browser("fabricator").await;
    let said = send(&house, &fabricator, TO, SHOT, b"").await;
    assert_eq!(said.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(said.text.contains("No photo was chosen.") && said.text.contains("Keep it with line 1"), "{}", said.text);
    for to in ["/builds/pine-coupe/welds/2/photos", "/builds/pine-coupe/welds/x/photos"] {
        assert_eq!(send(&house, &fabricator, to, SHOT, &jpeg(5)).await.status, StatusCode::NOT_FOUND, "{to}");
    }
    let scrutineer = house.browser("scrutineer").await;
    assert_eq!(send(&house, &scrutineer, TO, SHOT, &jpeg(5)).await.status, StatusCode::NOT_FOUND);
    assert_eq!(photos(&house, build).await.len(), there);
}
