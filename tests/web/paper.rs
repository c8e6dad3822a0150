//! Packets as other programs read them: poppler and qpdf.
#![expect(clippy::indexing_slicing, reason = "a test may stop")]

use std::io::Write as _;
use std::process::{Command, Stdio};

use crate::folder::Folder;

fn run(program: &str, args: &[&str], pdf: &[u8]) -> String {
    let folder = Folder::new();
    let file = folder.0.join("packet.pdf");
    std::fs::File::create(&file).unwrap().write_all(pdf).unwrap();
    let args = args.iter().map(|arg| if *arg == "FILE" { file.to_str().unwrap() } else { arg });
    let done = Command::new(program).args(args).stdin(Stdio::null()).output().unwrap();
    assert!(done.status.success(), "{program}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8_lossy(&done.stdout).into_owned()
}

/// All words of it.
pub(crate) fn words(pdf: &[u8]) -> String {
    run("pdftotext", &["-layout", "FILE", "-"], pdf)
}

/// What poppler says about it: pages, paper.
pub(crate) fn about(pdf: &[u8]) -> String {
    run("pdfinfo", &["FILE"], pdf)
}

/// It is sound.
pub(crate) fn check(pdf: &[u8]) {
    let told = run("qpdf", &["--check", "FILE"], pdf);
    assert!(told.contains("No syntax or stream encoding errors found"), "{told}");
}

/// Its faces, as poppler lists them.
pub(crate) fn fonts(pdf: &[u8]) -> String {
    run("pdffonts", &["FILE"], pdf)
}

/// Where its pictures stand and how large they are printed: page, width and height in millimetres.
pub(crate) fn placed(pdf: &[u8]) -> Vec<(usize, f64, f64)> {
    // Columns of pdfimages -list: page num type width height color comp bpc enc interp object ID x-ppi y-ppi ...
    let listed = run("pdfimages", &["-list", "FILE"], pdf);
    let row = |line: &str| {
        let cells: Vec<f64> = line.split_whitespace().map(|cell| cell.parse().unwrap_or(0.0)).collect();
        let page = line.split_whitespace().next().unwrap().parse().unwrap();
        (page, cells[3] / cells[12] * 25.4, cells[4] / cells[13] * 25.4)
    };
    listed.lines().skip(2).map(row).collect()
}

/// A file that is attached to it, as poppler takes it out; what poppler lists where there is none of this name.
pub(crate) fn attached(pdf: &[u8], name: &str) -> Result<Vec<u8>, String> {
    let folder = Folder::new();
    let listed = run("pdfdetach", &["-list", "FILE"], pdf);
    if !listed.contains(&format!(": {name}\n")) {
        return Err(listed);
    }
    run("pdfdetach", &["-saveall", "-o", folder.0.to_str().unwrap(), "FILE"], pdf);
    Ok(std::fs::read(folder.0.join(name)).unwrap())
}

/// The names of the files attached to it, as qpdf lists them.
pub(crate) fn files(pdf: &[u8]) -> Vec<String> {
    let listed = run("qpdf", &["--list-attachments", "FILE"], pdf);
    listed.lines().filter_map(|line| Some(line.split_once(" -> ")?.0.to_owned())).collect()
}

/// How many pictures stand in it.
pub(crate) fn pictures(pdf: &[u8]) -> usize {
    run("pdfimages", &["-list", "FILE"], pdf).lines().skip(2).count()
}

/// The JPEG streams in it, as poppler takes them out.
pub(crate) fn jpegs(pdf: &[u8]) -> Vec<Vec<u8>> {
    let folder = Folder::new();
    let root = folder.0.join("picture");
    run("pdfimages", &["-all", "FILE", root.to_str().unwrap()], pdf);
    let files = std::fs::read_dir(&folder.0).unwrap().map(|entry| entry.unwrap().path());
    files
        .filter(|file| file.extension().is_some_and(|end| end == "jpg"))
        .map(|file| std::fs::read(file).unwrap())
        .collect()
}

/// A page's grey dots, drawn at so many dots an inch: dots across, and the rows from the top.
pub(crate) fn grey_dots(pdf: &[u8], page: u32, an_inch: u32) -> (usize, Vec<u8>) {
    let folder = Folder::new();
    let root = folder.0.join("page");
    let (page, an_inch) = (page.to_string(), an_inch.to_string());
    run(
        "pdftoppm",
        &["-r", &an_inch, "-gray", "-f", &page, "-l", &page, "-singlefile", "FILE", root.to_str().unwrap()],
        pdf,
    );
    let bytes = std::fs::read(folder.0.join("page.pgm")).unwrap();
    // A PGM's head: P5, width, height, greatest value, each ended by one white space.
    let mut head = bytes.splitn(4, u8::is_ascii_whitespace);
    let (_, width, _) = (head.next().unwrap(), head.next().unwrap(), head.next().unwrap());
    let width: usize = String::from_utf8_lossy(width).parse().unwrap();
    (width, head.next().unwrap().splitn(2, |byte| *byte == b'\n').nth(1).unwrap().to_vec())
}

/// The lengths of a page's level black lines in dots, drawn at 10 dots a millimetre.
pub(crate) fn level_lines(pdf: &[u8], page: u32) -> Vec<usize> {
    let (width, dots) = grey_dots(pdf, page, 254);
    let mut runs = Vec::new();
    for row in dots.chunks(width) {
        runs.extend(row.split(|dot| *dot > 128).map(<[u8]>::len).filter(|run| *run > 200));
    }
    runs.sort_unstable();
    runs.dedup();
    runs
}

/// Keeps it where somebody wants to look at it.
#[expect(clippy::disallowed_methods, reason = "a copy to look at, no evidence")]
pub(crate) fn keep(pdf: &[u8]) {
    if let Ok(place) = std::env::var("TACKBOOK_KEEP_PDF") {
        std::fs::write(place, pdf).unwrap();
    }
}
