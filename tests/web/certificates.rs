//! Certificates and marks of the tube lie inside an issued packet as files, by stick, as pictures without notes.

use axum::http::StatusCode;
use tackbook::actions;
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::shots::{Area, Shot};

use crate::camera::{Phone, jpeg};
use crate::house::House;
use crate::main_job::{begun, weigh};
use crate::paper;

const HERE: &str = "/builds/pine-coupe";

#[tokio::test]
async fn certificates_and_marks_lie_in_an_issued_packet_as_files_by_stick_and_nothing_else_does() {
    let house = House::new().await;
    begun(&house).await;
    let floor = house.browser("fabricator").await;
    weigh(&floor, "661", "").await;
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    actions::recorded::cage::save(&house.office, build, 0, &example_record()).await.unwrap();
    for heat in ["one", "two"] {
        let stick = [("size", "1 3/4 x .134"), ("grade", "grade A"), ("length", "20 ft"), ("heat", heat)];
        assert_eq!(floor.post("/stock", &stick).await.status, StatusCode::SEE_OTHER);
    }
    for stick in house.store.sticks().await.unwrap() {
        floor.post(&format!("{HERE}/tube/give"), &[("stick", &stick.id.to_string())]).await;
    }
    let found = Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    let rack: Vec<String> = found.worked.shots.iter().filter(|shot| shot.area == Area::Rack).map(Shot::name).collect();
    assert!(
        rack.iter().any(|name| name.starts_with("S1 ")) && rack.iter().any(|name| name.starts_with("C1 ")),
        "{rack:?}"
    );
    let phone = Phone { house: &house, browser: house.browser("fabricator").await, build: "pine-coupe" };
    for (seed, name) in (1..).zip(&rack) {
        phone.keep(&jpeg(seed), name).await;
    }
    // an older one of the first shot stays outside: the newest counts
    phone.keep(&jpeg(99), rack.first().unwrap()).await;
    phone.keep(&jpeg(98), "J7 joint-tacked/wide").await;
    let office = house.browser("office").await;
    let draft = office.get(&format!("{HERE}/packet.pdf")).await.bytes;
    assert!(paper::files(&draft).is_empty(), "a draft holds none");
    let sent = office.post(&format!("{HERE}/rounds"), &[("key", "one")]).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let pdf = office.get(&format!("{HERE}/rounds/1/packet.pdf")).await.bytes;
    paper::check(&pdf);
    let files = paper::files(&pdf);
    let pictures: Vec<&String> =
        files.iter().filter(|name| name.starts_with("tube-") || name.starts_with('S')).collect();
    assert_eq!(pictures.len(), rack.len(), "{files:?}");
    for (shot, seed) in rack.iter().zip([99_u8].into_iter().chain(2..)) {
        let (of, key) = shot.split_once(' ').unwrap();
        let whose = if of == "C1" { "tube" } else { of };
        let plain = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
        let name = format!("{whose}-{}.jpg", key.chars().map(plain).collect::<String>());
        let inside = paper::attached(&pdf, &name).unwrap();
        // the copy that is printed: the file as it was sent stays in the shop
        let sha256 = tackbook::domain::words::fingerprint::Fingerprint::of(&jpeg(seed));
        let print = office.get(&format!("{HERE}/photos/{sha256}/print")).await.bytes;
        assert!(inside == print && image::load_from_memory(&inside).is_ok(), "{name}");
        assert!(paper::words(&pdf).contains(&name), "{name} is named on paper");
    }
}
