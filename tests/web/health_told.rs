//! What Health says of how the shop runs, and the figures for whoever watches over it.
#![expect(clippy::panic, reason = "a test may stop")]

use std::net::SocketAddr;
use std::time::Duration;

use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::StatusCode;
use jiff::SignedDuration;
use tackbook::clock::Clock;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::store::form;
use tackbook::web::{Metrics, router};

use crate::camera::{Phone, jpeg, new_capture};
use crate::damage;
use crate::house::{Answer, Browser, House};

const TOLD: &str = "not as it was kept: look before anything else is issued";

/// Presses the button on Health, and waits until what was found is told.
async fn checked(house: &House, office: &Browser<'_>) -> String {
    assert_eq!(office.post("/shop/health/check", &[]).await.status, StatusCode::SEE_OTHER);
    for _ in 0..600 {
        tokio::time::sleep(Duration::from_millis(50)).await;
        let health = office.get("/shop/health").await.text;
        let said = house.store.last_check().await.unwrap().is_some_and(|last| last.made == house.clock.now());
        if said && !health.contains("under way") {
            return health;
        }
    }
    panic!("the check came to no end");
}

#[tokio::test]
async fn what_a_check_finds_is_told_until_a_later_one_finds_all_well() {
    let mut house = House::new().await;
    let bytes = jpeg(1);
    Phone::new(&house).await.keep(&bytes, "").await;
    let sha256 = Fingerprint::of(&bytes).text().to_owned();
    let path = format!("photos/{}/{sha256}", sha256.get(..2).unwrap());
    let file = house.folder.0.join(&path);
    let cookie = {
        let office = house.browser("office").await;
        let health = office.get("/shop/health").await.text;
        assert!(health.contains("No result is known yet") && !health.contains("as they were kept."), "{health}");
        let health = checked(&house, &office).await;
        assert!(health.contains("1 photographs") && health.contains(": all were as they were kept."), "{health}");
        assert!(!office.get("/open").await.text.contains(TOLD));
        office.cookie
    };
    let mut broken = bytes.clone();
    *broken.last_mut().unwrap() ^= 1;
    damage::gone(&file);
    damage::put(&file, &broken);
    house.set_clock("2026-05-04T20:00:00Z");
    {
        let office = house.with_cookie(cookie.clone());
        let health = checked(&house, &office).await;
        assert!(health.contains(&format!("{path}, a photo of Pine Coupe, is not the file that was kept.")), "{health}");
        assert!(!health.contains(": all were as they were kept."), "{health}");
        assert!(office.get("/open").await.text.contains(TOLD));
        let fabricator = house.browser("fabricator").await;
        assert!(!fabricator.get("/open").await.text.contains(TOLD), "the office looks after it");
        damage::gone(&file);
        damage::put(&file, &bytes);
        assert!(office.get("/open").await.text.contains(TOLD), "nothing is well before it was looked at again");
    }
    house.set_clock("2026-05-04T20:01:00Z");
    let office = house.with_cookie(cookie);
    let health = checked(&house, &office).await;
    assert!(health.contains(": all were as they were kept.") && !health.contains("not the file"), "{health}");
    assert!(!office.get("/open").await.text.contains(TOLD));
}

#[tokio::test]
#[expect(clippy::disallowed_methods, reason = "a test moves only what lies in its own folder")]
async fn a_check_that_comes_to_no_end_is_no_good_one() {
    let house = House::new().await;
    // the folder of the smaller copies cannot be listed
    let views = house.folder.0.join("views");
    std::fs::rename(&views, house.folder.0.join("elsewhere")).unwrap();
    damage::put(&views, b"no folder");
    let office = house.browser("office").await;
    let health = checked(&house, &office).await;
    assert!(health.contains("a check came to no end") && !health.contains("as they were kept."), "{health}");
    assert!(health.contains("The check could not be made to its end: "), "{health}");
    assert!(office.get("/open").await.text.contains("could not be made to its end: look why"));
}

#[tokio::test]
async fn health_says_room_unsent_photographs_clock_and_versions_and_what_it_does_not_know() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let health = office.get("/shop/health").await.text;
    for words in [
        " are free. With less than ",
        "No phone told of any that it has not sent.",
        "is not known here: each sheet on that phone says it",
        "It is 2026-05-04 09:30 here, in the zone UTC. Whether something keeps the machine&#39;s clock right is not known.",
        &format!("Tackbook {}, records in form {}, SQLite 3.", env!("CARGO_PKG_VERSION"), form()),
    ] {
        assert!(health.contains(words), "{words}: {health}");
    }
    let phone = Phone::new(&house).await;
    for seed in [1, 2] {
        phone.tell(&new_capture(), &jpeg(seed), "").await;
    }
    let waits = "fabricator: 2 told of and not sent, the first since 2026-05-04 09:30.";
    assert!(office.get("/shop/health").await.text.contains(waits));
    phone.keep(&jpeg(1), "").await;
    let health = office.get("/shop/health").await.text;
    assert!(!health.contains(waits) && health.contains("fabricator: 1 told of and not sent"), "{health}");
}

#[tokio::test]
async fn a_clock_that_was_ahead_is_told() {
    let mut house = House::new().await;
    let cookie = house.browser("office").await.cookie;
    let told = "The last log entry is of 2026-05-04 09:30, which is in the future";
    for (before, expected) in [(0, false), (30, false), (61, true)] {
        let then = "2026-05-04T09:30:00Z".parse::<jiff::Timestamp>().unwrap() - SignedDuration::from_mins(before);
        house.set_clock(&then.to_string());
        let health = house.with_cookie(cookie.clone()).get("/shop/health").await.text;
        assert_eq!(health.contains(told), expected, "{before}: {health}");
    }
}

/// Asks for the figures from an address.
async fn figures(house: &House, from: &str) -> Answer {
    let mut request = house.stranger().request("GET", "/metrics").body(Body::empty()).unwrap();
    request.extensions_mut().insert(ConnectInfo(from.parse::<SocketAddr>().unwrap()));
    house.ask(request).await
}

#[tokio::test]
async fn figures_are_told_on_request_alone_and_name_nobody() {
    let mut house = House::new().await;
    assert_eq!(figures(&house, "127.0.0.1:9000").await.status, StatusCode::NOT_FOUND, "not asked for");
    Phone::new(&house).await.keep(&jpeg(1), "").await;
    house.app.metrics = Metrics::told_to(vec!["10.1.2.3".parse().unwrap()]);
    house.router = router(house.app.clone());
    assert_eq!(figures(&house, "10.9.9.9:9000").await.status, StatusCode::NOT_FOUND);
    assert_eq!(figures(&house, "10.1.2.3:9000").await.status, StatusCode::OK);
    house.app.checks.check(&house.store, &Clock::held_at("2026-05-04T03:00:00Z".parse().unwrap())).await.unwrap();
    let told = figures(&house, "127.0.0.1:9000").await;
    assert_eq!(told.header("content-type"), "text/plain; version=0.0.4; charset=utf-8");
    let value = |name: &str| {
        let line = told.text.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(' '));
        line.unwrap_or_else(|| panic!("{name}: {}", told.text)).to_owned()
    };
    let entries = house.store.verify_log().await.unwrap().entries.to_string();
    for (name, expected) in [
        ("tackbook_records_write", "1"),
        ("tackbook_answers_total{class=\"2xx\"}", "1"),
        ("tackbook_answers_total{class=\"4xx\"}", "1"),
        ("tackbook_log_entries", &entries),
        ("tackbook_last_check_seconds", "1777863600"),
        ("tackbook_last_check_good", "1"),
    ] {
        assert_eq!(value(name), expected, "{name}");
    }
    assert!(value("tackbook_disk_free_bytes").parse::<u64>().unwrap() > 0);
    // every line is a comment or a name with a figure
    for line in told.text.lines().filter(|line| !line.starts_with("# ")) {
        let (name, figure) = line.rsplit_once(' ').unwrap();
        assert!(name.starts_with("tackbook_") && figure.parse::<f64>().is_ok(), "{line}");
    }
    for secret in
        ["Pine", "pine", "office", "fabricator", Fingerprint::of(&jpeg(1)).text(), &*house.folder.0.to_string_lossy()]
    {
        assert!(!told.text.contains(secret), "{secret}: {}", told.text);
    }
    // what cannot be known is left out, and that nothing is written is told
    house.store.close().await;
    let told = figures(&house, "127.0.0.1:9000").await.text;
    assert!(told.contains("\ntackbook_records_write 0\n") && !told.contains("tackbook_log_entries"), "{told}");
}
