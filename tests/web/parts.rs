//! A part's sheet: where it is, its figures, photographs, verdicts and questions.

use axum::http::StatusCode;
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::camera::{Phone, asked_for, jpeg};
use crate::house::House;

#[tokio::test]
async fn a_joint_shows_its_bars_photographs_verdicts_and_questions() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let bytes = jpeg(1);
    phone.keep(&bytes, "J7 joint-tacked/wide").await;
    let why = [("shot", "J7 joint-tacked/close"), ("why", "The tank is in the way.")];
    phone.browser.post("/builds/elm-saloon/walk/cannot", &why).await;
    let sheet = phone.browser.get("/builds/elm-saloon/joints/J7").await.text;
    let picture = format!("/photos/{}/screen", Fingerprint::of(&bytes));
    for words in [
        "<svg class=\"drawing\"",
        ">J7</",
        "Runs through",
        "/members/M",
        "Weld to be laid",
        "Faces down",
        &picture,
        "no photo",
        "Missing: close.",
        "The tank is in the way.",
        "/questions?about=J7",
        "/walk?shot=J7%20joint-tacked%2Fclose",
    ] {
        assert!(sheet.contains(words), "{words}");
    }
}

#[tokio::test]
async fn every_part_of_the_cage_has_a_sheet_and_no_other_number_has() {
    let house = House::new().await;
    let mut phone = Phone::new(&house).await;
    asked_for(&mut phone).await;
    let cage = phone.browser.get("/builds/elm-saloon/cage?numbers=joints").await.text;
    let joints: Vec<&str> = cage.split("href=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    let joints: Vec<&&str> = joints.iter().filter(|link| link.contains("/joints/")).collect();
    assert!(joints.len() > 20, "the balloons of the cage lead to their joints: {}", joints.len());
    for link in joints.iter().take(5) {
        assert_eq!(phone.browser.get(link).await.status, StatusCode::OK, "{link}");
    }
    for (part, words) in [("members/M1", "Developed"), ("gussets/G1", "Leg along"), ("plates/P1", "Along the car")] {
        let sheet = phone.browser.get(&format!("/builds/elm-saloon/{part}")).await;
        assert!(sheet.status == StatusCode::OK && sheet.text.contains(words), "{part}: {}", sheet.text);
    }
    for nothing in ["joints/J999", "joints/M1", "members/J1", "gussets/x", "plates/P0", "kits/K1"] {
        let answer = phone.browser.get(&format!("/builds/elm-saloon/{nothing}")).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{nothing}");
    }
}
