//! `sheets`: fabrication sheets from a cage file, without a shop.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::Path;
use std::process::ExitCode;

use super::call::{SAYS_NO, WRONG_CALL};
use crate::clock::Clock;
use crate::documents::fabrication::{Fabrication, make, sheets};
use crate::domain::cage::drawn::read;
use crate::domain::fabrication::numbers::numbers;
use crate::quantity::Units;
use crate::startup::StartError;

/// A cage file is at most so large: hundreds of bars fit many times.
const MOST_BYTES: u64 = 4 << 20;

/// Reads a cage file and writes `numbers.json` and `sheets.pdf` into a folder.
pub(super) fn write(cage: &Path, units: Units, out: &Path) -> Result<ExitCode, StartError> {
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
    let solved = match read(&text) {
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
    put("numbers.json", format!("{:#}\n", numbers(&solved, &[])).as_bytes())?;
    let name = cage.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let hold = "HELD: tacks only. Nothing is fully welded before the scrutineer releases it.";
    let day = Clock::of_machine().today();
    let of = Fabrication { cage: &solved, dies: &[], name: &name, book: "", hold, made_by: "command line", day, units };
    match make(&of, &sheets(&of)) {
        Ok(pdf) => put("sheets.pdf", &pdf)?,
        Err(error) => {
            eprintln!("The sheets could not be made: {error}.");
            return Ok(ExitCode::from(SAYS_NO));
        }
    }
    println!("{} bars, {} joints: written to {}.", solved.members.len(), solved.joints.len(), out.display());
    for fault in &solved.faults {
        eprintln!("{fault}");
    }
    Ok(if solved.faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(SAYS_NO) })
}
