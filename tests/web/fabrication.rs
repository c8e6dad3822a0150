//! Fabrication sheets: the words, the numbers, and that a template is as large as it says.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::house::House;
use crate::paper;

#[tokio::test]
async fn the_sheets_of_a_bent_bar_have_its_marks_and_full_size_templates() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let empty = browser.get("/builds/pine-coupe/sheets").await.text;
    assert!(empty.contains("Measure the cage first"), "{empty}");
    assert_eq!(browser.get("/builds/pine-coupe/sheets.pdf").await.status, StatusCode::NOT_FOUND);
    save(&browser, &typed("0")).await;
    let listed = browser.get("/builds/pine-coupe/sheets").await.text;
    assert!(listed.contains("Cut nothing by it") && listed.contains("mark at"), "{listed}");
    let one = browser.get("/builds/pine-coupe/members/M1/sheets.pdf").await.bytes;
    paper::check(&one);
    let words = paper::words(&one);
    for word in
        ["M1 main hoop: bends", "Mark from A", "End A to P", "seen from end A", "100 mm", "4 in", "no die of the shop"]
    {
        assert!(words.contains(word), "{word}: {words}");
    }
    // As poppler draws it at 10 dots a millimetre: one line of 100 mm and one of 4 in (101.6 mm), a dot's width either way.
    let runs = paper::level_lines(&one, 3);
    for want in [1000_usize, 1016] {
        assert!(runs.iter().any(|run| run.abs_diff(want) <= 3), "no line of {want} dots among {runs:?}");
    }
    let all = browser.get("/builds/pine-coupe/sheets.pdf").await.bytes;
    paper::check(&all);
    let in_one_line = |pdf: &[u8]| paper::words(pdf).split_whitespace().collect::<Vec<_>>().join(" ");
    let words_of_all = in_one_line(&all);
    // The half hoop lands on the hoop's bend; the backstay there is coped round it, and both say so.
    for word in ["Cut list", "The order of this cage: M1", "coped round M2", "Fit M2 first", "M5 round M2 onto M1"] {
        assert!(words_of_all.contains(word), "{word}: {words_of_all}");
    }
    let half = in_one_line(&browser.get("/builds/pine-coupe/members/M2/sheets.pdf").await.bytes);
    assert!(half.contains("no hole saw makes it: the carrier bends here"), "{half}");
    let numbers: serde_json::Value =
        serde_json::from_slice(&browser.get("/builds/pine-coupe/numbers.json").await.bytes).unwrap();
    let hoop = &numbers["members"][0];
    assert_eq!((hoop["balloon"].as_str(), hoop["bends"].as_array().map(Vec::len)), (Some("M1"), Some(4)));
    // The blank is the centre line less both long points (maths: a cut takes from the node).
    let point = |end: usize| hoop["ends"][end]["long_point"].as_f64().unwrap();
    let blank = hoop["centre_line"].as_f64().unwrap() - point(0) - point(1);
    assert!((blank - hoop["cut_length"].as_f64().unwrap()).abs() < 1e-6);
    assert_eq!(browser.get("/builds/pine-coupe/members/M99/sheets.pdf").await.status, StatusCode::NOT_FOUND);
    // The curve of a cope is for the outer edge of the wall unless the inner is asked for.
    assert!(!words.contains("is for the inner wall"));
    let inner = browser.get("/builds/pine-coupe/members/M1/sheets.pdf?wall=inner").await.bytes;
    assert!(paper::words(&inner).contains("is for the inner wall"));
}

/// A plate of the cage is there at full size as paper, as a drawing for the machine and as a picture; a plate that is not
/// there is not.
#[tokio::test]
async fn a_plates_blank_comes_as_pdf_dxf_and_svg() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&browser, &typed("0")).await;
    let listed = browser.get("/builds/pine-coupe/sheets").await.text;
    assert!(listed.contains("/builds/pine-coupe/sheets/P1.dxf") && listed.contains("plate under the"), "{listed}");
    let dxf = browser.get("/builds/pine-coupe/sheets/P1.dxf").await;
    assert_eq!(dxf.status, StatusCode::OK);
    assert!(dxf.text.contains("AC1009") && dxf.text.contains("POLYLINE\r\n8\r\nOUTLINE"), "{}", dxf.text);
    let svg = browser.get("/builds/pine-coupe/sheets/P1.svg").await.text;
    assert!(svg.starts_with("<svg ") && svg.contains("forward"), "{svg}");
    let pdf = browser.get("/builds/pine-coupe/sheets/P1.pdf").await.bytes;
    paper::check(&pdf);
    let words = paper::words(&pdf);
    for word in ["P1: blank at full size", "of metal", "approved by nobody"] {
        assert!(words.contains(word), "{word}: {words}");
    }
    for missing in ["P99.dxf", "P99.pdf", "P1.doc", "P1", "M1.dxf"] {
        let address = format!("/builds/pine-coupe/sheets/{missing}");
        assert_eq!(browser.get(&address).await.status, StatusCode::NOT_FOUND, "{missing}");
    }
}

/// Templates and tiles come on A4 and on letter paper alike: as poppler measures the paper, and every page that says so to
/// scale. A plate of 400 by 300 mm is larger than a page of either.
#[tokio::test]
async fn full_size_pages_come_on_letter_as_on_a4() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let mut pairs = typed("0");
    for (name, text) in &mut pairs {
        match name.as_str() {
            "plate_main_hoop_side_a" => "400 mm".clone_into(text),
            "plate_main_hoop_side_b" => "300 mm".clone_into(text),
            _ => {}
        }
    }
    assert_eq!(save(&browser, &pairs).await.status, StatusCode::SEE_OTHER);
    let pages = |pdf: &[u8]| paper::words(pdf).split('\u{c}').map(str::to_owned).collect::<Vec<_>>();
    let mut told = Vec::new();
    for (asked, size) in [("a4", "595.276 x 841.89 pts (A4)"), ("letter", "612 x 792 pts (letter)")] {
        for part in ["members/M1/sheets.pdf", "sheets/P1.pdf"] {
            let pdf = browser.get(&format!("/builds/pine-coupe/{part}?paper={asked}")).await.bytes;
            paper::check(&pdf);
            assert!(paper::about(&pdf).contains(size), "{asked}: {}", paper::about(&pdf));
            let all = pages(&pdf);
            let (mut measured, mut parts) = (0, 0);
            for (number, words) in (1..).zip(&all).filter(|(_, words)| words.contains("Print at full size")) {
                let runs = paper::level_lines(&pdf, number);
                for want in [1000_usize, 1016] {
                    assert!(runs.iter().any(|run| run.abs_diff(want) <= 3), "{asked} {part} {number}: {runs:?}");
                }
                measured += 1;
                parts += usize::from(words.contains("Larger than the page."));
            }
            assert!(measured > 0 && (part != "sheets/P1.pdf" || parts >= 4), "{asked} {part}: {measured} {parts}");
            told.push((part, all.len(), measured, parts));
        }
    }
    // The same pages on both.
    let (on_a4, on_letter) = told.split_at(2);
    assert_eq!(on_a4, on_letter);
    // Who reads inches gets letter paper and is offered A4; who reads millimetres the other way round.
    for (units, main, other) in [("inch", "US letter", "paper=a4"), ("metric", "A4", "paper=letter")] {
        let reader = house.browser_reading("fabricator", Some(units)).await;
        let sheet = reader.get("/builds/pine-coupe/sheets").await.text;
        assert!(
            sheet.contains(&format!("PDF on {main}<")) && sheet.contains(&format!("sheets.pdf?{other}")),
            "{sheet}"
        );
        let pdf = reader.get("/builds/pine-coupe/members/M1/sheets.pdf").await.bytes;
        assert_eq!(paper::about(&pdf).contains("(letter)"), units == "inch");
    }
    assert!(paper::about(&browser.get("/builds/pine-coupe/lowering.pdf").await.bytes).contains("(letter)"));
}
