//! Laying out a cage: drawn as measured, refused as typed, never overwritten unseen.

use axum::http::StatusCode;
use tackbook::domain::cage::example::example_record;

use crate::house::{Browser, House};

/// The example's tape measurements as a person types them, and the choices of the sheet.
pub(crate) fn typed(version: &str) -> Vec<(String, String)> {
    let record = example_record();
    let mut pairs: Vec<(String, String)> =
        record.measures.iter().map(|(measure, typed)| (measure.key(), typed.text.clone())).collect();
    for foot in ["main_hoop", "front", "backstay"] {
        for (figure, text) in [("side_a", "4"), ("side_b", "3"), ("thickness", "1/8")] {
            pairs.push((format!("plate_{foot}_{figure}"), text.to_owned()));
        }
    }
    for (key, value) in [
        ("hoop_diagonal", "cross"),
        ("roof_diagonal", "v_forward"),
        ("backstay_diagonal", "none"),
        ("door_left", "cross"),
        ("door_right", "cross"),
        ("sill_bars", "yes"),
        ("harness_bar", "yes"),
        ("dash_bar", "yes"),
        ("hoop_cross_bar", "no"),
        ("pillar_struts", "yes"),
        ("bend_radius_hoop", "4 1/2"),
        ("bend_radius_other", "4 1/2 in"),
        ("version", version),
    ] {
        pairs.push((key.to_owned(), value.to_owned()));
    }
    pairs
}

pub(crate) async fn save(browser: &Browser<'_>, pairs: &[(String, String)]) -> crate::house::Answer {
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    browser.post("/builds/pine-coupe/cage", &pairs).await
}

#[tokio::test]
async fn a_measured_cage_is_drawn_with_its_balloons_and_bars() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert!(browser.get("/builds/pine-coupe/cage").await.text.contains("still to take"));
    let saved = save(&browser, &typed("0")).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let sheet = browser.get("/builds/pine-coupe/cage").await.text;
    assert_eq!(sheet.matches("<figure><svg").count(), 4);
    assert!(!sheet.contains("Still to be given"));
    for words in [
        "main hoop",
        "lateral half hoop",
        "windscreen header",
        "backstay",
        "door bar",
        ">M1<",
        ">J1<",
        "for the picture only",
    ] {
        assert!(sheet.contains(words), "{words}");
    }
}

#[tokio::test]
async fn a_measurement_that_does_not_read_is_refused_and_kept_as_typed() {
    let house = House::new().await;
    let browser = house.browser("office").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let mut pairs = typed("0");
    pairs.first_mut().unwrap().1 = "about forty".to_owned();
    let answer = save(&browser, &pairs).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains(r#"value="about forty""#) && answer.text.contains("does not read as a length"));
}

#[tokio::test]
async fn the_second_of_two_people_saving_at_once_is_told() {
    let house = House::new().await;
    let browser = house.browser("office").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert_eq!(save(&browser, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let second = save(&browser, &typed("0")).await;
    assert_eq!(second.status, StatusCode::CONFLICT);
    assert!(second.text.contains("Somebody else saved"));
}

#[tokio::test]
async fn a_gusset_is_added_on_both_sides_refused_twice_and_taken_out() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&browser, &typed("0")).await;
    let gussets = "/builds/pine-coupe/gussets";
    let sheet = browser.get(&format!("{gussets}?joint=J1")).await.text;
    // The first angle offered at the hoop's left upper corner.
    let from = sheet.find(r#"<option value="main-hoop"#).unwrap() + r#"<option value=""#.len();
    let angle = sheet[from..].split('"').next().unwrap().replace("&#43;", "+").replace("&#62;", ">");
    let pairs =
        [("joint", "J1"), ("angle", angle.as_str()), ("kind", "saddle"), ("leg", "3 1/4"), ("thickness", "1/16")];
    let both = [pairs.as_slice(), &[("mirror", "yes")]].concat();
    let answer = browser.post(gussets, &both).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let listed = browser.get(gussets).await.text;
    assert!(listed.contains("Gussets: 2") && listed.contains("Take out G2"), "{listed}");
    let again = browser.post(gussets, &pairs).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(again.text.contains("A gusset sits in this angle already") && again.text.contains(r#"value="3 1/4""#));
    let wrong = [("joint", "J1"), ("angle", "nowhere"), ("kind", ""), ("leg", "-3 in"), ("thickness", "9 kg")];
    let wrong = browser.post(gussets, &wrong).await;
    assert!(wrong.text.contains("Choose the angle") && wrong.text.contains(r#"value="9 kg""#));
    assert_eq!(browser.post(&format!("{gussets}/G1/remove"), &[]).await.status, StatusCode::SEE_OTHER);
    assert!(browser.get(gussets).await.text.contains("Gussets: 1"));
}
