//! `sheets`: fabrication sheets from a cage file, without a shop.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::Path;
use std::process::ExitCode;

use super::exits::{SAYS_NO, WRONG_CALL};
use crate::clock::Clock;
use crate::documents::fabrication::{Fabrication, make, sheets};
use crate::domain::cage::Cage;
use crate::domain::cage::files::solved;
use crate::domain::derived::hold::HELD_UNTIL;
use crate::domain::shop::saw::Saw;
use crate::domain::words::ids::Kind;
use crate::domain::work::cut_plan::{Effort, beside, of_cage};
use crate::domain::work::fabrication::numbers::numbers;
use crate::domain::work::fabrication::{Bench, Blank};
use crate::domain::work::seams::Rates;
use crate::drawing::Paper;
use crate::drawing::blank::as_file;
use crate::drawing::car::cage::{Numbers, Shown, draw_cage};
use crate::drawing::car::view::View;
use crate::drawing::paper::dxf::dxf;
use crate::drawing::paper::svg::Svg;
use crate::drawing::wrap::Wall;
use crate::quantity::{Length, Units};
use crate::startup::StartError;

/// A cage file is at most so large: hundreds of bars fit many times.
const MOST_BYTES: u64 = 4 << 20;

/// Width and height of a view.
const VIEW: (Length, Length) = (Length::from_mm(400.0), Length::from_mm(280.0));

/// Reads a cage file and writes into a folder: `numbers.json`, `sheets.pdf`, the views as SVG, and each blank as DXF and
/// SVG.
pub(super) fn write(cage: &Path, units: Units, wall: Wall, out: &Path) -> Result<ExitCode, StartError> {
    let of = |path: &Path| {
        let file = path.display().to_string();
        move |why: io::Error| StartError::File { file, why }
    };
    let size = fs::metadata(cage).map_err(of(cage))?.len();
    if size > MOST_BYTES {
        eprintln!("{} has {size} bytes; a cage file has at most 4 MiB.", cage.display());
        return Ok(ExitCode::from(WRONG_CALL));
    }
    let text = fs::read_to_string(cage).map_err(of(cage))?;
    let solved = match solved(&text) {
        Ok(solved) => solved,
        Err(faults) => {
            for fault in faults {
                eprintln!("{}: {fault}", cage.display());
            }
            return Ok(ExitCode::from(WRONG_CALL));
        }
    };
    fs::create_dir_all(out).map_err(of(out))?;
    let put = |name: &str, bytes: &[u8]| {
        let file = out.join(name);
        File::create(&file).and_then(|mut open| open.write_all(bytes)).map_err(of(&file))
    };
    let cuts = of_cage(&solved, &[], &Saw::default(), &mut Effort::steps(Effort::USUAL));
    put(
        "numbers.json",
        format!("{:#}\n", beside(numbers(&solved, &Bench::default(), &Rates::usual()), &cuts)).as_bytes(),
    )?;
    let name = cage.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let (day, rates) = (Clock::of_machine().today(), Rates::usual());
    let of = Fabrication {
        cage: &solved,
        dies: &[],
        rates: &rates,
        cuts: &cuts,
        name: &name,
        book: "",
        hold: HELD_UNTIL,
        made_by: "command line",
        day,
        units,
        wall,
        paper: Paper::usual(units),
    };
    match make(&of, &sheets(&of)) {
        Ok(pdf) => put("sheets.pdf", &pdf)?,
        Err(error) => {
            eprintln!("The sheets could not be made: {error}.");
            return Ok(ExitCode::from(SAYS_NO));
        }
    }
    for (name, text) in drawings(&solved, wall) {
        put(&name, text.as_bytes())?;
    }
    println!("{} bars, {} joints: written to {}.", solved.members.len(), solved.joints.len(), out.display());
    for fault in &solved.faults {
        eprintln!("{fault}");
    }
    Ok(if solved.faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(SAYS_NO) })
}

/// The views, and each blank twice: the names of the files and their texts.
fn drawings(cage: &Cage, wall: Wall) -> Vec<(String, String)> {
    let views = [("front", View::Front), ("side", View::Side), ("plan", View::Plan), ("isometric", View::Isometric)];
    let view = |(name, view)| {
        let drawn = draw_cage(cage, &[], Shown { view, numbers: Numbers::Of(Kind::Member), hidden: true }, VIEW);
        (format!("{name}.svg"), Svg::file(&drawn.marks, VIEW).to_string())
    };
    let blank = |blank: Blank| {
        let name = blank.balloon;
        [(format!("{name}.dxf"), dxf(&blank)), (format!("{name}.svg"), as_file(&blank, wall).to_string())]
    };
    views.map(view).into_iter().chain(Blank::all(cage).into_iter().flat_map(blank)).collect()
}
