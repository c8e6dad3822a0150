//! Documents as other programs see them: poppler's words, pictures and pages, qpdf's check of the file.
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test may stop, and writes only to its own folder"
)]

mod bender;
mod car_page;
#[path = "../fixture/full_build.rs"]
mod full_build;
mod typefaces;

use std::path::PathBuf;
use std::process::Command;

use glam::{DVec2, DVec3, dvec2};
use tackbook::documents::DocumentError;
use tackbook::documents::pdf::{About, Jpeg, write};
use tackbook::domain::words::ids::{Balloon, Kind};
use tackbook::drawing::car::view::{Bar, Scale, Scene, Spot, View, draw};
use tackbook::drawing::paper::sheet::moved;
use tackbook::drawing::paper::table::{Column, Table};
use tackbook::drawing::paper::title_block::TitleBlock;
use tackbook::drawing::{LinkTo, Mark, Pen, Sheet, Tag, Weight};
use tackbook::quantity::Length;

/// A folder of this test's own, gone when it ends.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let at = std::env::temp_dir().join(format!("tackbook-documents-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&at).unwrap();
        Self(at)
    }

    fn put(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let at = self.0.join(name);
        std::fs::write(&at, bytes).unwrap();
        at
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

fn run(program: &str, arguments: &[&str]) -> String {
    let done = Command::new(program).args(arguments).output().unwrap();
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    assert!(done.status.success(), "{program}: {said}{}", String::from_utf8_lossy(&done.stderr));
    said
}

fn jpeg(shade: u8, grey: bool) -> Jpeg {
    let (width, height) = (64_u16, 48_u16);
    let colour = if grey { jpeg_encoder::ColorType::Luma } else { jpeg_encoder::ColorType::Rgb };
    let count = usize::from(width) * usize::from(height) * if grey { 1 } else { 3 };
    let pixels: Vec<u8> = (0..count).map(|index| shade.wrapping_add(u8::try_from(index % 97).unwrap())).collect();
    let mut bytes = Vec::new();
    jpeg_encoder::Encoder::new(&mut bytes, 85).encode(&pixels, width, height, colour).unwrap();
    Jpeg { bytes, width: 64, height: 48 }
}

fn pictures(name: &str) -> Option<Jpeg> {
    match name {
        "far side" => Some(jpeg(10, false)),
        "cope gap" => Some(jpeg(90, true)),
        _ => None,
    }
}

fn about() -> About {
    About {
        title: "Packet of the Pine Coupe, round 2 – čő".to_owned(),
        author: "A shop".to_owned(),
        id: "TB-014".to_owned(),
        date: jiff::civil::date(2026, 11, 25),
    }
}

const fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

/// An invented cage: a main hoop, two half hoops, backstays, door bars, a cross.
fn cage() -> (Vec<Bar>, Vec<Spot>) {
    let runs: [&[[f64; 3]]; 9] = [
        &[[0., 620., 0.], [0., 600., 700.], [0., 430., 1180.], [0., -430., 1180.], [0., -600., 700.], [0., -620., 0.]],
        &[[1150., 640., 0.], [950., 600., 640.], [420., 480., 1150.], [0., 430., 1180.]],
        &[[1150., -640., 0.], [950., -600., 640.], [420., -480., 1150.], [0., -430., 1180.]],
        &[[0., 430., 1180.], [-1100., 380., 320.]],
        &[[0., -430., 1180.], [-1100., -380., 320.]],
        &[[420., 480., 1150.], [420., -480., 1150.]],
        &[[0., 612., 480.], [1010., 615., 420.]],
        &[[0., -612., 480.], [1010., -615., 420.]],
        &[[0., 430., 1180.], [0., -615., 200.]],
    ];
    let bars = (1..).zip(runs).map(|(number, run)| Bar {
        balloon: Balloon::new(Kind::Member, number),
        polyline: run.iter().map(|at| DVec3::from_array(*at)).collect(),
        outside: Length::from_inches(1.75),
    });
    let joints = runs.iter().flat_map(|run| [run[0], run[run.len() - 1]]).map(DVec3::from_array);
    let spots = (1..).zip(joints).map(|(number, at)| Spot { balloon: Balloon::new(Kind::Joint, number), at });
    (bars.collect(), spots.collect())
}

fn view_sheet() -> Sheet {
    let (bars, spots) = cage();
    let mut sheet = Sheet::a4();
    let (at, size) = sheet.frame();
    sheet.marks.push(Mark::Place { name: "views".into(), title: "The cage".into(), level: 0 });
    sheet.marks.push(Mark::words(at + dvec2(0.0, 6.0), mm(6.0), Weight::Bold, "The cage"));
    let title = TitleBlock {
        owner: "A shop".into(),
        number: "TB-014".into(),
        date: "25 Nov 2026".into(),
        sheet: "1 of 3".into(),
        title: "The cage from four sides".into(),
        looked_over_by: "not yet".into(),
        made_by: "office".into(),
        kind: "Packet for the scrutineer".into(),
        build: "Pine Coupe".into(),
        book: "Tarn Valley book, 2026".into(),
        revision: "B, round 2".into(),
        hold: "HELD: tacks only. Nothing is fully welded before the scrutineer releases it.".into(),
        short: false,
    };
    let foot = title.height(mm(size.x));
    let down = size.y - foot.mm();
    sheet.marks.extend(title.marks(at + dvec2(0.0, down), mm(size.x)));
    let darkened = [Balloon::new(Kind::Member, 4)];
    let scene = Scene { bars: &bars, spots: &spots, darkened: &darkened, pale: &[], hidden: true };
    let plain = Scene { spots: &[], ..scene };
    let half = size.x / 2.0 - 2.0;
    let (upper, lower) = (down - 14.0 - 62.0, 58.0);
    for (scene, view, corner, frame) in [
        (scene, View::Isometric, dvec2(0.0, 10.0), (size.x, upper)),
        (plain, View::Front, dvec2(0.0, 12.0 + upper), (half - 20.0, lower)),
        (Scene { hidden: false, ..plain }, View::Side, dvec2(half - 16.0, 12.0 + upper), (half + 20.0, lower)),
    ] {
        let drawn = draw(&scene, view, (mm(frame.0), mm(frame.1)), Scale::Fit);
        assert!(drawn.left_out.is_empty(), "{:?}", drawn.left_out);
        sheet.marks.extend(moved(drawn.marks, at + corner));
    }
    sheet
}

fn sheets() -> Vec<Sheet> {
    let mut photos = Sheet::a4();
    let (at, size) = photos.frame();
    photos.marks.push(Mark::Place { name: "J7".into(), title: "J7 backstay onto hoop".into(), level: 1 });
    photos.marks.push(Mark::words(at + dvec2(0.0, 6.0), mm(5.0), Weight::Bold, "J7 backstay onto hoop ≥ 30° ⌀ 漢"));
    for (across, name) in [(0.0, "far side"), (90.0, "cope gap")] {
        let (corner, size) = (at + dvec2(across, 12.0), dvec2(80.0, 60.0));
        photos.marks.push(Mark::Picture { at: corner, size, name: name.into(), caption: format!("the {name}") });
        photos.marks.push(Mark::rectangle(corner, size, Some(Pen::Narrow), None));
    }
    let columns =
        vec![Column::of("No.", mm(20.0)), Column::of("Bar", mm(size.x - 60.0)), Column::of_figures("Length", mm(40.0))];
    let rows = (1..=12)
        .map(|row| vec![format!("M{row}"), "Backstay, left, coped at both ends".into(), format!("{row} 3/8 in")]);
    let table = Table { columns, rows: rows.collect(), size: mm(3.53) };
    for piece in table.pieces(mm(150.0), mm(200.0)) {
        photos.marks.extend(moved(piece.marks, at + dvec2(0.0, 82.0)));
    }
    let mut last = Sheet::letter();
    last.marks.push(Mark::Place { name: "end".into(), title: "Ends here".into(), level: 0 });
    let at = dvec2(30.0, 30.0);
    last.marks.push(Mark::words(at, mm(4.0), Weight::Regular, "back to the joint"));
    let (corner, size) = (at - dvec2(0.0, 4.0), dvec2(40.0, 5.0));
    last.marks.push(Mark::Link { at: corner, size, to: LinkTo::Place("J7".into()) });
    last.marks.push(Mark::Picture {
        at: at + 10.0,
        size: dvec2(40.0, 30.0),
        name: "far side".into(),
        caption: "again".into(),
    });
    vec![view_sheet(), photos, last]
}

#[test]
fn the_file_is_sound_and_has_its_pages_words_and_outline() {
    let folder = Folder::new("words");
    let file = folder.put("packet.pdf", &write(&sheets(), &pictures, &about()).unwrap());
    let file = file.to_str().unwrap();
    if let Ok(keep) = std::env::var("TACKBOOK_KEEP_PDF") {
        std::fs::copy(file, keep).unwrap();
    }
    let checked = run("qpdf", &["--check", file]);
    assert!(checked.contains("No syntax or stream encoding errors found"), "{checked}");
    let told = run("pdfinfo", &["-l", "3", file]);
    for line in [
        "round 2 – čő",
        "A shop",
        "Pages:           3",
        "Page    1 size:  595.2",
        "Page    3 size:  612 x 792",
        "PDF version:     1.7",
    ] {
        assert!(told.contains(line), "{line}: {told}");
    }
    let words = run("pdftotext", &["-layout", file, "-"]);
    for word in [
        "Pine Coupe",
        "HELD: tacks only.",
        "not to scale",
        "J7 backstay onto hoop ≥ 30° ⌀",
        "12 3/8 in",
        "\u{fffd}",
        "1:",
    ] {
        assert!(words.contains(word), "{word}: {words}");
    }
    let outline = run("qpdf", &["--json", "--json-key=outlines", file]);
    let outline: serde_json::Value = serde_json::from_str(&outline).unwrap();
    let top = outline["outlines"].as_array().unwrap();
    assert_eq!((top[0]["title"].as_str(), top[1]["title"].as_str()), (Some("The cage"), Some("Ends here")));
    assert_eq!(top[0]["kids"][0]["title"], "J7 backstay onto hoop");
    assert_eq!(top[0]["kids"][0]["destpageposfrom1"], 2);
    assert_eq!(top[1]["destpageposfrom1"], 3);
    let labels = run("qpdf", &["--json", "--json-key=pagelabels", file]);
    assert!(labels.contains("\"/S\": \"/D\""), "{labels}");
}

/// Every place where a page paints outside of a section that says what it is, and the numbers of its sections.
fn sections(file: &lopdf::Document, page: lopdf::ObjectId) -> (Vec<String>, Vec<i64>) {
    let content = lopdf::content::Content::decode(&file.get_page_content(page)).unwrap();
    let (mut bare, mut numbers, mut inside) = (Vec::new(), Vec::new(), false);
    for operation in content.operations {
        match operation.operator.as_str() {
            "BMC" => inside = true,
            "BDC" => {
                inside = true;
                numbers.push(operation.operands[1].as_dict().unwrap().get(b"MCID").unwrap().as_i64().unwrap());
            }
            "EMC" => inside = false,
            paints @ ("S" | "s" | "f" | "F" | "f*" | "B" | "b" | "Tj" | "TJ" | "Do") if !inside => {
                bare.push(paints.into());
            }
            _ => {}
        }
    }
    (bare, numbers)
}

#[test]
fn who_has_it_read_out_hears_headings_words_tables_and_what_pictures_show() {
    let folder = Folder::new("tags");
    let mut sheets = sheets();
    let view = std::mem::take(&mut sheets[0].marks);
    let heading = Mark::words(dvec2(20.0, 20.0), mm(5.0), Weight::Bold, "The cage, as it stands");
    let heading = Mark::Tagged { tag: Tag::Heading(1), marks: vec![heading] };
    sheets[0].marks = vec![heading, Mark::figure("The cage from five sides – numbered.", view)];
    let file = folder.put("packet.pdf", &write(&sheets, &pictures, &about()).unwrap());
    let checked = run("qpdf", &["--check", file.to_str().unwrap()]);
    assert!(checked.contains("No syntax or stream encoding errors found"), "{checked}");
    let told = run("pdfinfo", &[file.to_str().unwrap()]);
    assert!(told.lines().any(|line| line.split_whitespace().eq(["Tagged:", "yes"])), "{told}");

    // as poppler reads it: a line each, indented by its depth
    let read = run("pdfinfo", &["-struct-text", file.to_str().unwrap()]);
    let lines: Vec<String> =
        read.lines().map(|line| line.trim().replace(" \"", "\"").replace(" (block)", "")).collect();
    let after = |from: usize, line: &str| {
        let found = lines[from..].iter().position(|one| one.trim_end_matches(':') == line);
        from + found.unwrap_or_else(|| panic!("{line} after line {from}: {read}"))
    };
    assert_eq!(lines[0], "Document");
    let heading = after(0, "H1");
    let said = after(heading, "\"The cage, as it stands\"");
    let figure = after(said, "Figure");
    let joint = after(figure, "\"J7 backstay onto hoop ≥ 30° ⌀ \u{fffd}\"");
    let table = after(joint, "Table");
    let head = after(table, "TH");
    let cell = after(after(head, "\"Length\""), "TD");
    let cell = after(cell, "\"Backstay, left, coped at both ends\"");
    after(after(cell, "\"12 3/8 in\""), "\"back to the joint\"");

    let file = lopdf::Document::load(file).unwrap();
    let described: Vec<&lopdf::Dictionary> = file.objects.values().filter_map(|object| object.as_dict().ok()).collect();
    let alternatives: Vec<String> = described
        .iter()
        .filter(|one| one.get(b"S").and_then(lopdf::Object::as_name).is_ok_and(|kind| kind == b"Figure"))
        .map(|one| lopdf::decode_text_string(one.get(b"Alt").unwrap()).unwrap())
        .collect();
    assert_eq!(alternatives, ["The cage from five sides – numbered.", "the far side", "the cope gap", "again"]);
    let catalog = file.catalog().unwrap();
    assert!(catalog.get(b"MarkInfo").unwrap().as_dict().unwrap().get(b"Marked").unwrap().as_bool().unwrap());
    assert_eq!(catalog.get(b"Lang").unwrap().as_str().unwrap(), b"en");
    let viewed = catalog.get(b"ViewerPreferences").unwrap().as_dict().unwrap();
    assert!(viewed.get(b"DisplayDocTitle").unwrap().as_bool().unwrap());

    // nothing is painted that is not said to be something, and each page's sections lead back to their element
    let root = file.get_dictionary(catalog.get(b"StructTreeRoot").unwrap().as_reference().unwrap()).unwrap();
    let of_pages = file.get_dictionary(root.get(b"ParentTree").unwrap().as_reference().unwrap()).unwrap();
    let of_pages = of_pages.get(b"Nums").unwrap().as_array().unwrap();
    for (at, page) in file.page_iter().enumerate() {
        let (bare, numbers) = sections(&file, page);
        assert!(bare.is_empty(), "page {at} paints {bare:?} outside of every section");
        assert!(!numbers.is_empty() && numbers.iter().copied().eq((0..).take(numbers.len())), "{numbers:?}");
        let elements = file.get_object(of_pages[2 * at + 1].as_reference().unwrap()).unwrap().as_array().unwrap();
        assert_eq!(elements.len(), numbers.len());
        for (number, element) in numbers.iter().zip(elements) {
            let element = file.get_dictionary(element.as_reference().unwrap()).unwrap();
            assert_eq!(element.get(b"Pg").unwrap().as_reference().unwrap(), page);
            let kids = element.get(b"K").unwrap().as_array().unwrap();
            assert!(kids.iter().any(|kid| kid.as_i64().is_ok_and(|kid| kid == *number)), "{number} of page {at}");
        }
    }
}

#[test]
fn links_lead_to_the_page_of_their_place() {
    let folder = Folder::new("links");
    let file = folder.put("packet.pdf", &write(&sheets(), &pictures, &about()).unwrap());
    let file = lopdf::Document::load(file).unwrap();
    let pages: Vec<lopdf::ObjectId> = file.page_iter().collect();
    let links = file.get_page_annotations(pages[2]).unwrap();
    assert_eq!(links.len(), 1);
    let leads_to = format!("{:?}", links[0]);
    assert!(leads_to.contains(&format!("{} {} R", pages[1].0, pages[1].1)), "{leads_to}");
    assert!(file.get_page_annotations(pages[0]).unwrap().is_empty());
}

#[test]
fn photographs_stand_in_it_byte_for_byte_and_once() {
    let folder = Folder::new("pictures");
    let file = folder.put("packet.pdf", &write(&sheets(), &pictures, &about()).unwrap());
    let root = folder.0.join("picture");
    run("pdfimages", &["-all", file.to_str().unwrap(), root.to_str().unwrap()]);
    let taken = |number: usize| std::fs::read(folder.0.join(format!("picture-{number:03}.jpg"))).unwrap();
    let mut second = vec![taken(0), taken(1)];
    second.sort();
    let mut wanted = vec![pictures("far side").unwrap().bytes, pictures("cope gap").unwrap().bytes];
    wanted.sort();
    assert_eq!(second, wanted);
    let listed = run("pdfimages", &["-list", file.to_str().unwrap()]);
    let rows: Vec<Vec<&str>> = listed.lines().skip(2).map(|line| line.split_whitespace().collect()).collect();
    assert_eq!(rows.len(), 3, "two on the second page, one again on the third: {listed}");
    // Columns of pdfimages -list: page num type width height color comp bpc enc interp object …
    assert!(rows.iter().all(|row| row[8] == "jpeg" && row[3] == "64" && row[4] == "48"), "{listed}");
    assert!(rows[..2].iter().any(|row| row[10] == rows[2][10]), "the same picture is kept once: {listed}");
}

#[test]
fn the_same_sheets_make_the_same_bytes() {
    let one = write(&sheets(), &pictures, &about()).unwrap();
    assert!(one == write(&sheets(), &pictures, &about()).unwrap());
    let other = About { id: "TB-015".to_owned(), ..about() };
    assert!(one != write(&sheets(), &pictures, &other).unwrap());
}

#[test]
fn what_is_missing_is_named() {
    let picture =
        |name: &str| Mark::Picture { at: DVec2::ZERO, size: DVec2::ONE, name: name.into(), caption: String::new() };
    let of = |mark: Mark| write(&[Sheet { marks: vec![mark], ..Sheet::a4() }], &pictures, &about());
    assert_eq!(of(picture("lost")), Err(DocumentError::NoSuchPicture("lost".into())));
    let link = Mark::Link { at: DVec2::ZERO, size: DVec2::ONE, to: LinkTo::Place("nowhere".into()) };
    assert_eq!(of(link), Err(DocumentError::NoSuchPlace("nowhere".into())));
    let place = Mark::Place { name: "J1".into(), title: "J1".into(), level: 0 };
    assert_eq!(
        of(Mark::Group { balloon: None, marks: vec![place.clone(), place] }),
        Err(DocumentError::TwoPlaces("J1".into()))
    );
    let sheet = Sheet { marks: vec![picture("text")], ..Sheet::a4() };
    let no_jpeg = |_: &str| Some(Jpeg { bytes: b"words".to_vec(), width: 1, height: 1 });
    assert_eq!(write(&[sheet], &no_jpeg, &about()), Err(DocumentError::NoJpeg("text".into())));
}
