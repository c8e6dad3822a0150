//! How phones reach the shop: the sheet about trusting it, what they are given, and what Health says of its certificate.

use std::sync::Arc;

use axum::body::Body;
use axum::extract::ConnectInfo;
use axum::http::StatusCode;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::web::{App, Carried, Reached, router};

use crate::house::House;

const AUTHORITY: &[u8] = b"not read by anybody here";

async fn house(until: &str) -> House {
    let mut house = House::new().await;
    let reached = Reached {
        address: "https://192.168.1.5:7350".to_owned(),
        plain: "http://192.168.1.5:7350".to_owned(),
        authority: Some(AUTHORITY.to_vec()),
        until: Some(until.parse().unwrap()),
    };
    house.router =
        router(App { reached: Arc::new(reached), names: vec!["bench.local".to_owned()], ..house.app.clone() });
    house
}

#[tokio::test]
async fn a_phone_that_nobody_signed_in_on_is_led_to_trust_the_shop() {
    let house = house("2028-07-31").await;
    let sheet = house.stranger().get("/trust").await;
    assert_eq!(sheet.status, StatusCode::OK);
    let pairs: Vec<String> = Fingerprint::of(AUTHORITY)
        .text()
        .to_uppercase()
        .as_bytes()
        .chunks(2)
        .map(|two| String::from_utf8_lossy(two).into_owned())
        .collect();
    for words in [
        "QR code of http://192.168.1.5:7350/trust\"",
        "QR code of https://192.168.1.5:7350\"",
        &pairs.join(" "),
        "Certificate Trust Settings",
    ] {
        assert!(sheet.text.contains(words), "{words}");
    }
    let given = house.stranger().get("/trust/authority.crt").await;
    assert_eq!((given.status, given.bytes.as_slice()), (StatusCode::OK, AUTHORITY));
    assert_eq!(given.header("content-type"), "application/x-x509-ca-cert");
    let plain = House::new().await;
    assert_eq!(plain.stranger().get("/trust/authority.crt").await.status, StatusCode::NOT_FOUND);
    assert!(plain.stranger().get("/trust").await.text.contains("served on plain http"));
}

#[tokio::test]
async fn health_says_in_time_that_the_certificate_runs_out() {
    for (until, said, due) in [
        ("2026-06-04", "is good until 2026-06-04", false),
        ("2026-06-03", "is good until 2026-06-03", true),
        ("2026-05-04", "ran out on 2026-05-04", true),
    ] {
        let text = house(until).await.browser("office").await.get("/shop/health").await.text;
        assert!(text.contains(said), "{until}");
        assert_eq!(text.contains("Start the server again"), due, "{until}");
    }
}

#[tokio::test]
async fn only_a_name_of_ours_on_https_is_kept_to_https() {
    let house = house("2028-07-31").await;
    for (carried, host, kept) in [
        (Carried::Https, "bench.local:7350", true),
        (Carried::Https, "192.168.1.5:7350", false),
        (Carried::Https, "localhost", false),
        (Carried::Http, "bench.local:7350", false),
    ] {
        let request =
            axum::http::Request::builder().uri("/sign-in").header("host", host).extension(ConnectInfo(carried));
        let answer = house.ask(request.body(Body::empty()).unwrap()).await;
        assert_eq!(answer.status, StatusCode::OK, "{host}");
        let said = answer.header("strict-transport-security");
        assert_eq!(said, if kept { "max-age=31536000" } else { "" }, "{carried:?} {host}");
    }
}

#[tokio::test]
async fn the_shell_of_a_phone_has_nothing_of_a_build() {
    let house = house("2028-07-31").await;
    house.browser("office").await.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let worker = house.stranger().get("/sw.js").await;
    assert_eq!((worker.status, worker.header("content-type").as_str()), (StatusCode::OK, "text/javascript"));
    assert_eq!(worker.header("cache-control"), "no-cache");
    let list = worker.text.split_once("SHELL = ").unwrap().1.split_once(";\n").unwrap().0;
    let shell: Vec<String> = serde_json::from_str(list).unwrap();
    assert!(shell.contains(&"/offline".to_owned()) && shell.contains(&"/static/walking.js".to_owned()), "{shell:?}");
    for path in &shell {
        let sheet = ["/offline", "/offline/tape", "/offline/welds"].contains(&path.as_str());
        assert!(sheet || path.starts_with("/static/"), "{path}");
        // asked with an office's cookie, as a phone does
        let answer = house.browser("office").await.get(path).await;
        assert_eq!(answer.status, StatusCode::OK, "{path}");
        assert!(!answer.text.contains("Pine Coupe") && !answer.text.contains("office, office"), "{path}");
    }
}
