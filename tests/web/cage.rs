//! Laying out a cage: drawn as measured, refused as typed, never overwritten unseen.

use axum::http::StatusCode;
use tackbook::domain::cage::example::example_record;

use crate::house::{Browser, House};
use crate::kit::hidden;

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
    assert_eq!(sheet.matches("<figure class=\"scroll\"><svg").count(), 4);
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
async fn two_people_saving_at_once_see_yours_theirs_and_before() {
    let house = House::new().await;
    let (office, floor) = (house.browser("office").await, house.browser("fabricator").await);
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert_eq!(save(&office, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let opened = office.get("/builds/pine-coupe/cage").await.text;
    let (version, before) = (hidden(&opened, "version"), hidden(&opened, "before"));
    assert_eq!(version, "1");
    let with = |version: &str, before: &str, changes: &[(&str, &str)]| {
        let mut pairs = typed(version);
        pairs.push(("before".to_owned(), before.to_owned()));
        for (name, text) in changes {
            let pair = pairs.iter_mut().find(|pair| pair.0 == *name).unwrap();
            pair.1 = (*text).to_owned();
        }
        pairs
    };
    // The fabricator measures the roof again and takes out the sill bars; the office had the sheet open all the while.
    let theirs = with(&version, &before, &[("hoop_roof_height", "43 1/2"), ("sill_bars", "no")]);
    assert_eq!(save(&floor, &theirs).await.status, StatusCode::SEE_OTHER);
    let mine = with(&version, &before, &[("hoop_roof_height", "43"), ("dash_bar", "no")]);
    let told = save(&office, &mine).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    let was = typed("1").into_iter().find(|pair| pair.0 == "hoop_roof_height").unwrap().1;
    for words in [
        "Somebody else saved this",
        "name=\"hoop_roof_height\" value=\"43\" checked><span><small>yours</small>43<",
        "name=\"hoop_roof_height\" value=\"43 1/2\"><span><small>theirs</small>43 1/2<",
        &format!("<small>before</small>{was}<"),
        // Each keeps what only one of the two touched.
        "name=\"sill_bars\" value=\"no\" checked><span><small>theirs</small>no<",
        "name=\"dash_bar\" value=\"no\" checked><span><small>yours</small>no<",
        "Save what is chosen here over theirs",
        "<a href=\"#f-hoop_roof_height\">",
    ] {
        assert!(told.text.contains(words), "{words}: {}", told.text);
    }
    assert_eq!(told.text.matches("<small>theirs</small>").count(), 3);
    let (version, before) = (hidden(&told.text, "version"), hidden(&told.text, "before"));
    let chosen = [("hoop_roof_height", "43"), ("sill_bars", "no"), ("dash_bar", "no")];
    let saved = save(&office, &with(&version, &before, &chosen)).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let stands = floor.get("/builds/pine-coupe/cage").await.text;
    assert!(stands.contains("name=\"hoop_roof_height\" type=\"text\" value=\"43\""));
    assert_eq!(hidden(&stands, "version"), "3");
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
