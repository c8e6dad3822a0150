//! One drawing, two outputs: the same marks as SVG in the browser and as PDF through poppler leave ink in the same places
//! and the same words.

use std::path::Path;
use std::process::Command;

use base64::prelude::{BASE64_STANDARD, Engine as _};
use image::GrayImage;
use jiff::civil::date;
use serde_json::json;
use tackbook::documents::pdf::{About, write};
use tackbook::domain::cage::record::example::{TUBES, example_record};
use tackbook::domain::cage::solve;
use tackbook::domain::words::ids::Kind;
use tackbook::drawing::car::cage::{Numbers, Shown, draw_cage};
use tackbook::drawing::car::view::View;
use tackbook::drawing::paper::svg::Svg;
use tackbook::drawing::{Mark, Sheet};
use tackbook::quantity::Length;

use crate::chromium::Chromium;
use crate::folder::Folder;
use crate::page::Page;

/// The sheet, mm, and how finely both are looked at: dots a millimetre.
const SIZE: (u32, u32) = (240, 180);
const DOTS: u32 = 5;
/// Darker than this is ink.
const INK: u8 = 140;
/// Two rasters of one line may differ by this many dots: 0.4 mm.
const NEAR: u32 = 2;

fn length(mm: u32) -> Length {
    Length::from_mm(f64::from(mm))
}

/// Every dot of ink in `one` that has none near it in `other`, and how many there are in all.
fn astray(one: &GrayImage, other: &GrayImage) -> (usize, usize) {
    let inked = |picture: &GrayImage, x: u32, y: u32| picture.get_pixel(x, y).0[0] < INK;
    let (mut all, mut lost) = (0, 0);
    for (x, y, dot) in one.enumerate_pixels() {
        if dot.0[0] >= INK {
            continue;
        }
        all += 1;
        let across = x.saturating_sub(NEAR)..=(x + NEAR).min(other.width() - 1);
        let mut near =
            across.flat_map(|x| (y.saturating_sub(NEAR)..=(y + NEAR).min(other.height() - 1)).map(move |y| (x, y)));
        if !near.any(|(x, y)| inked(other, x, y)) {
            lost += 1;
        }
    }
    (lost, all)
}

/// The drawing as a file with the faces that paper is set in, and their figures of one width: a file by itself only names them.
fn in_our_type(svg: &str) -> String {
    let face = |weight: &str, file: &str| {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/drawing/paper/type").join(file);
        // Beside a file of its own a browser reads no other file.
        let bytes = BASE64_STANDARD.encode(std::fs::read(file).unwrap());
        let of = format!("font-family:'Barlow Semi Condensed';font-weight:{weight}");
        format!("@font-face{{{of};src:url('data:font/ttf;base64,{bytes}')}}")
    };
    let faces =
        face("400", "barlow-semi-condensed-latin-400.ttf") + &face("700", "barlow-semi-condensed-latin-600.ttf");
    let begun = svg.find('>').unwrap() + 1;
    let style = format!("<style>{faces}text{{font-variant-numeric:lining-nums tabular-nums}}</style>");
    format!("{}{style}{}", &svg[..begun], &svg[begun..])
}

/// The words of a drawing, in alphabetical order.
fn words(marks: &[Mark]) -> Vec<String> {
    let mut found = Vec::new();
    for mark in marks {
        match mark {
            Mark::Text { words, .. } => found.push(words.clone()),
            Mark::Group { marks, .. } | Mark::Tagged { marks, .. } => found.extend(self::words(marks)),
            _ => {}
        }
    }
    found.sort();
    found
}

#[test]
fn a_view_of_the_cage_is_the_same_on_the_screen_and_on_paper() {
    let (browser, folder) = (Chromium::start(), Folder::new());
    let page = Page::open(&browser, "", SIZE, false);
    let scale = f64::from(DOTS) * 25.4 / 96.0;
    page.call(
        "Emulation.setDeviceMetricsOverride",
        &json!({ "width": 1000, "height": 800, "deviceScaleFactor": scale, "mobile": false }),
    );
    let cage = solve(&example_record(), &TUBES);
    for view in [View::Isometric, View::Front, View::Side, View::Plan] {
        let frame = (length(SIZE.0), length(SIZE.1));
        let marks = draw_cage(&cage, &[], Shown { view, numbers: Numbers::Of(Kind::Joint), hidden: true }, frame).marks;

        let drawn = folder.0.join("view.svg");
        std::fs::write(&drawn, in_our_type(&Svg::file(&marks, frame).to_string())).unwrap();
        page.call("Page.navigate", &json!({ "url": format!("file://{}", drawn.display()) }));
        page.until("document.readyState === 'complete' && document.documentElement.tagName === 'svg'");
        page.until(
            "document.fonts.status === 'loaded' && [...document.fonts].some((face) => face.status === 'loaded')",
        );
        let said = "JSON.stringify([...document.querySelectorAll('text')].map(text => text.textContent).sort())";
        let on_screen: Vec<String> = serde_json::from_str(&page.text(said)).unwrap();
        let screen = image::load_from_memory(&page.picture()).unwrap().to_luma8();

        let mut sheet = Sheet::blank(frame.0, frame.1);
        sheet.marks.clone_from(&marks);
        let about = About { title: "View".into(), author: "A shop".into(), id: "V".into(), date: date(2026, 1, 2) };
        let printed = folder.0.join("view.pdf");
        std::fs::write(&printed, write(&[sheet], &|_| None, &about).unwrap()).unwrap();
        let dots = (f64::from(DOTS) * 25.4).to_string();
        let to = folder.0.join("view");
        let made = Command::new("pdftoppm").args(["-r", &dots, "-png", "-singlefile"]).arg(&printed).arg(&to).status();
        assert!(made.unwrap().success());
        let paper = image::open(to.with_extension("png")).unwrap().to_luma8();

        let size = (SIZE.0 * DOTS, SIZE.1 * DOTS);
        assert!(
            paper.width().abs_diff(size.0) <= 2 && paper.height().abs_diff(size.1) <= 2,
            "{:?}",
            paper.dimensions()
        );
        let screen = image::imageops::crop_imm(&screen, 0, 0, paper.width(), paper.height()).to_image();
        for (one, other, what) in [(&screen, &paper, "screen"), (&paper, &screen, "paper")] {
            let (lost, all) = astray(one, other);
            assert!(all > 5000, "{view:?}: almost nothing on the {what}: {all}");
            assert!(lost * 200 < all, "{view:?}: {lost} of {all} dots are on the {what} alone");
        }

        let told = Command::new("pdftotext").arg(&printed).arg("-").output().unwrap();
        let on_paper = String::from_utf8(told.stdout).unwrap();
        let on_paper: Vec<&str> = on_paper.split_whitespace().collect();
        assert_eq!(on_screen, words(&marks), "{view:?}");
        for word in on_screen.iter().flat_map(|words| words.split_whitespace()) {
            assert!(on_paper.contains(&word), "{view:?}: {word} is not on paper");
        }
    }
}
