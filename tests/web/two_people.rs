//! Two people at one form: whoever saves second is shown both, and nothing that either typed is lost.

use axum::http::StatusCode;
use rand::rngs::StdRng;
use rand::{RngExt as _, SeedableRng as _};

use crate::cage::{save, typed};
use crate::house::{Browser, House};
use crate::kit::hidden;

/// An address, the fields with what is typed in them, the one that is altered, and what two people alter it to.
type OneForm = (&'static str, &'static [(&'static str, &'static str)], &'static str, [&'static str; 2]);

/// Forms whose newest statement counts.
const FORMS: [OneForm; 4] = [
    (
        "/builds/pine-coupe/car",
        &[("registered", "2004"), ("homologated", ""), ("log_book", "")],
        "registered",
        ["2003", "2005"],
    ),
    (
        "/builds/pine-coupe/seams",
        &[("leg", "1/8 in"), ("wire", ".030 in"), ("efficiency", "95 %"), ("laid", "12 in"), ("arc", "25 %")],
        "leg",
        ["3/16 in", "1/4 in"],
    ),
    (
        "/builds/pine-coupe/cuts",
        &[
            ("kerf", "1/8 in"),
            ("trim", "0 in"),
            ("cope", "0 in"),
            ("grip", "0 in"),
            ("buy", "20 ft"),
            ("keep", "12 in"),
        ],
        "kerf",
        ["1/16 in", "3/32 in"],
    ),
    (
        "/builds/pine-coupe/lowering",
        &[("room", "6 in"), ("over", "1/4 in"), ("roof_front", ""), ("under", ""), ("wanted", "yes")],
        "room",
        ["5 in", "7 in"],
    ),
];

/// The fields with one of them altered, and what the form carries beside them.
fn pairs<'t>(
    fields: &[(&'t str, &'t str)],
    altered: (&'t str, &'t str),
    kept: &'t [String; 2],
) -> Vec<(&'t str, &'t str)> {
    let with = |(name, text): &(&'t str, &'t str)| (*name, if *name == altered.0 { altered.1 } else { *text });
    let [version, before] = kept;
    fields.iter().map(with).chain([("version", version.as_str()), ("before", before.as_str())]).collect()
}

async fn opened(browser: &Browser<'_>, address: &str) -> [String; 2] {
    let sheet = browser.get(address).await.text;
    [hidden(&sheet, "version"), hidden(&sheet, "before")]
}

async fn begun(house: &House) {
    let office = house.browser("office").await;
    assert_eq!(office.post("/builds/new", &[("name", "Pine Coupe")]).await.status, StatusCode::SEE_OTHER);
    save(&office, &typed("0")).await;
}

#[tokio::test]
async fn the_second_of_two_people_is_shown_both_and_chooses() {
    let house = House::new().await;
    begun(&house).await;
    let (office, other) = (house.browser("office").await, house.browser("office").await);
    for (address, fields, name, [theirs, mine]) in FORMS {
        let kept = opened(&office, address).await;
        let saved = other.post(address, &pairs(fields, (name, theirs), &opened(&other, address).await)).await;
        assert_eq!(saved.status, StatusCode::SEE_OTHER, "{address}: {}", saved.text);
        let told = office.post(address, &pairs(fields, (name, mine), &kept)).await;
        assert_eq!(told.status, StatusCode::CONFLICT, "{address}");
        for words in [
            "Somebody else saved this",
            &format!("<small>yours</small>{mine}"),
            &format!("<small>theirs</small>{theirs}"),
        ] {
            assert!(told.text.contains(words), "{address}: {words}: {}", told.text);
        }
        let sheet = other.get(address).await.text;
        assert!(sheet.contains(&format!("value=\"{theirs}\"")), "{address}: theirs stands until somebody chose");
        let kept = [hidden(&told.text, "version"), hidden(&told.text, "before")];
        let chosen = office.post(address, &pairs(fields, (name, mine), &kept)).await;
        assert_eq!(chosen.status, StatusCode::SEE_OTHER, "{address}: {}", chosen.text);
        let sheet = other.get(address).await.text;
        assert!(sheet.contains(&format!("value=\"{mine}\"")), "{address}: {sheet}");
    }
}

#[tokio::test]
async fn a_tick_that_the_other_took_back_is_told_beside_it() {
    let house = House::new().await;
    begun(&house).await;
    let (office, other) = (house.browser("office").await, house.browser("office").await);
    let [.., (address, fields, ..)] = FORMS;
    let kept = opened(&office, address).await;
    let without: Vec<(&str, &str)> = fields.iter().copied().filter(|(name, _)| *name != "wanted").collect();
    let saved = other.post(address, &pairs(&without, ("", ""), &opened(&other, address).await)).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER);
    let told = office.post(address, &pairs(fields, ("", ""), &kept)).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(told.text.contains("Theirs: this cage is not lowered."), "{}", told.text);
}

/// Two people who open and save as it comes: a save stands only where its writer had seen what it is over.
#[tokio::test]
async fn however_two_people_open_and_save_nothing_is_overwritten_unseen() {
    let house = House::new().await;
    begun(&house).await;
    let people = [house.browser("office").await, house.browser("office").await];
    let mut random = StdRng::seed_from_u64(1_919);
    let (mut stood, mut told) = (0, 0);
    for (address, fields, name, texts) in FORMS {
        let mut kept = [opened(&people[0], address).await, opened(&people[1], address).await];
        let mut now = kept[0][0].clone();
        for _ in 0..250 {
            let who = random.random_range(0..2);
            if random.random_bool(0.4) {
                kept[who] = opened(&people[who], address).await;
                assert_eq!(kept[who][0], now, "{address}: who opens it sees the newest");
                continue;
            }
            let text = texts[random.random_range(0..2)];
            let answer = people[who].post(address, &pairs(fields, (name, text), &kept[who])).await;
            let seen = kept[who][0] == now;
            if answer.status == StatusCode::CONFLICT {
                assert!(!seen, "{address}: nobody had saved meanwhile");
                assert!(answer.text.contains(text), "{address}: what was typed is still there");
                told += 1;
            } else {
                assert_eq!(answer.status, StatusCode::SEE_OTHER, "{address}: {}", answer.text);
                let after = opened(&people[who], address).await;
                // the dates of a car that are the same again are recorded once, by whoever says them
                assert!(seen || after[0] == now, "{address}: overwritten unseen");
                now.clone_from(&after[0]);
                stood += 1;
            }
        }
    }
    println!("1000 steps: {stood} saves stood, {told} were told of the other's");
    assert!(stood > 200 && told > 100, "{stood} {told}");
}
