//! The cage's room: the shop's dies chosen in it, balloons thinned to what is open, gauges beside the verdicts.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::dies::DIE;
use crate::editions::shop;
use crate::house::House;

fn pairs(pairs: &[(String, String)]) -> Vec<(&str, &str)> {
    pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect()
}

/// The row of a field.
fn row<'t>(sheet: &'t str, field: &str) -> &'t str {
    let at = sheet.find(&format!("id=\"f-{field}\"")).unwrap();
    let from = sheet[..at].rfind("<div class=\"cage-row").unwrap();
    &sheet[from..at + sheet[at..].find("</div>").unwrap()]
}

#[tokio::test]
async fn a_die_is_chosen_from_the_shops_or_typed_in_the_same_place() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let named = DIE.map(|(name, text)| match name {
        "name" => (name, "old bender"),
        "radius" => (name, "6"),
        _ => (name, text),
    });
    let added = office.post("/dies", &named).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER, "{}", added.text);
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let mut first = typed("0");
    first.retain(|(name, _)| name != "bend_radius_hoop");
    first.push(("die_hoop".to_owned(), "none".to_owned()));
    // No die: nothing bent is laid out, and its row and its bar say why.
    assert_eq!(save(&office, &first).await.status, StatusCode::SEE_OTHER);
    let without = office.get("/builds/pine-coupe/cage?open=feet").await.text;
    assert!(row(&without, "die_hoop").contains("value=\"none\" selected"));
    assert!(row(&without, "die_hoop").contains("No die named"), "{}", row(&without, "die_hoop"));
    assert!(without.contains("<li>main hoop, across<span class=\"soft\">no die named</span>"));
    assert!(!without.contains("<td>main hoop</td>") && without.contains("pen-faint"));
    // Chosen from the shop's.
    let mut chosen = typed("1");
    chosen.retain(|(name, _)| name != "bend_radius_hoop");
    chosen.push(("die_hoop".to_owned(), "6 in".to_owned()));
    chosen.push(("bend_radius_hoop".to_owned(), "left over".to_owned()));
    let saved = save(&office, &chosen).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let with = office.get("/builds/pine-coupe/cage?open=feet").await.text;
    assert!(
        row(&with, "die_hoop").contains("value=\"6 in\" selected") && row(&with, "die_hoop").contains("old bender")
    );
    assert!(with.contains("<td>main hoop</td>") && !with.contains("no die named</span>"));
    // Another one, typed: it is drawn and kept, and said to be none of the shop's.
    let mut other = typed("2");
    other.retain(|(name, _)| name != "bend_radius_hoop");
    other.push(("die_hoop".to_owned(), "none".to_owned()));
    other.push(("bend_radius_hoop".to_owned(), "5 1/4".to_owned()));
    let drawn = office.post("/builds/pine-coupe/cage/drawn", &pairs(&other)).await.text;
    let of = row(&drawn, "die_hoop");
    assert!(of.contains("value=\"none\" selected") && of.contains("value=\"5 1/4 in\""), "{of}");
    assert!(of.contains("None of the shop’s dies has this radius") && of.contains("href=\"/dies\""), "{of}");
    // What does not read stays as typed, in the open.
    other.pop();
    other.push(("bend_radius_hoop".to_owned(), "big".to_owned()));
    let wrong = save(&office, &other).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    let of = row(&wrong.text, "die_hoop");
    assert!(of.contains("value=\"big\"") && of.contains("value=\"none\" selected") && of.contains("class=\"why\""));
}

/// A balloon of the drawn sheet: its number, its middle and radius.
fn balloons(svg: &str) -> Vec<(String, f64, f64, f64)> {
    let number = |text: &str, name: &str| -> f64 {
        let at = text.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
        text[at..at + text[at..].find('"').unwrap()].parse().unwrap()
    };
    let groups =
        svg.split("<g class=\"").skip(1).filter(|group| group.contains("</text>") && group.contains("<circle"));
    groups
        .filter_map(|group| {
            let at = group.find("data-balloon=\"")? + "data-balloon=\"".len();
            let name = group[at..at + group[at..].find('"')?].to_owned();
            let circle = &group[group.find("<circle")?..];
            Some((name, number(circle, "cx"), number(circle, "cy"), number(circle, "r")))
        })
        .collect()
}

#[tokio::test]
async fn at_most_eight_balloons_stand_on_the_drawing_and_the_rest_come_by_touch() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (_, _) = shop(&house, &office).await;
    for address in ["?open=bars", "?open=doors&view=side", "?open=shape&view=top", "?open=hoop&numbers=joints&turn=45"]
    {
        let sheet = office.get(&format!("/builds/pine-coupe/cage{address}")).await.text;
        let from = sheet.find("class=\"cage-drawing").unwrap();
        let svg = &sheet[from..from + sheet[from..].find("</svg>").unwrap()];
        let (standing, touched) = svg.split_at(svg.find("<a class=\"touch\"").unwrap());
        let all = balloons(standing);
        assert!((1..=8).contains(&all.len()), "{address}: {}", all.len());
        let inside = |one: &(String, f64, f64, f64)| {
            one.1 >= one.3 && one.1 <= 226.0 - one.3 && one.2 >= one.3 && one.2 <= 128.0 - one.3
        };
        for (index, one) in all.iter().enumerate() {
            assert!(inside(one), "{address}: {one:?}");
            for other in &all[index + 1..] {
                assert!((one.1 - other.1).hypot(one.2 - other.2) > one.3 + other.3, "{one:?} {other:?}");
            }
        }
        let kind = if address.contains("joints") { "J" } else { "M" };
        assert!(all.iter().all(|one| one.0.starts_with(kind)), "{address}: {all:?}");
        for part in touched.split("<a class=\"touch\"").skip(1) {
            assert!(part.contains(" href=\"/builds/pine-coupe/") && part.contains("class=\"on-touch\""), "{part}");
            assert_eq!(balloons(part).len(), 1, "{address}: {part}");
        }
        // Each part once, standing or by touch.
        let of = |word: &str| touched.matches(word).count();
        assert!(of("<a class=\"touch\"") >= 10, "{address}");
    }
    let none = office.get("/builds/pine-coupe/cage?numbers=none").await.text;
    assert!(!none.contains("class=\"touch\""));
}

#[tokio::test]
async fn a_verdict_has_a_gauge_where_its_limit_has_an_edge_and_a_triangle_where_there_is_a_figure() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let (_, _) = shop(&house, &office).await;
    let sheet = office.get("/builds/pine-coupe/verdicts").await.text;
    let line = |rule: &str| {
        let at = sheet.find(&format!("rule={rule}\"")).unwrap();
        let of = &sheet[at..at + sheet[at..].find("</li>").unwrap()];
        let from = of.find("<span class=\"verdicts-gauge\" aria-hidden=\"true\">").unwrap();
        of[from..].to_owned()
    };
    let hoop = line("hoop-upright");
    assert!(hoop.contains("<svg") && hoop.contains("pen-wide") && hoop.contains("pen-faint"), "{hoop}");
    // The frame and the hatching are not filled; the triangle is.
    let triangle = |gauge: &str| gauge.contains("<polygon") && gauge.contains(" fill=\"#");
    assert!(triangle(&hoop), "{hoop}");
    // Nothing read off the car yet: the limit stands, without a triangle.
    let lines: Vec<&str> = sheet.split("<li><a href=").skip(1).collect();
    let unknown: Vec<&&str> = lines.iter().filter(|line| line.contains("not measured</span>")).collect();
    assert!(unknown.iter().any(|line| line.contains("pen-wide")), "{}", unknown.len());
    for line in unknown {
        let gauge = &line[line.find("verdicts-gauge").unwrap()..];
        let figure = line.contains("<span class=\"verdicts-figure\"></span>");
        assert!(!figure || !triangle(gauge), "{line}");
    }
    // Photographs fill it: none is there, so nothing is filled, and their number stands beside it.
    let photographs = line("joint-tacked");
    assert!(!photographs.contains(" fill=\"#") && sheet.contains("verdicts-figure\">0 of "), "{photographs}");
}
