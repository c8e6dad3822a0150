//! `cuts`: the cut plan of a cage file, or of pieces in a table, without a shop.

use std::fs::{self, File};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::Instant;

use clap::Args;

use super::exits::{SAYS_NO, WRONG_CALL};
use crate::clock::Clock;
use crate::documents::csv;
use crate::documents::fabrication::{Fabrication, cut_sheets, make};
use crate::domain::cage::Cage;
use crate::domain::cage::files::solved;
use crate::domain::derived::hold::HELD_UNTIL;
use crate::domain::shop::saw::Saw;
use crate::domain::words::faults::Fault;
use crate::domain::work::cut_plan::{
    CutPlan, Effort, Free, Progress, SizePlan, as_json, of_cage, pieces_of, rows, stock_of,
};
use crate::domain::work::seams::Rates;
use crate::drawing::Paper;
use crate::drawing::wrap::Wall;
use crate::quantity::{Length, Typed, Units};
use crate::startup::StartError;

/// A file that is read is at most so large.
const MOST_BYTES: u64 = 4 << 20;

/// What is cut, from what, and how.
#[derive(Debug, Args)]
pub(super) struct Wanted {
    /// The cage file, JSON: all its bars are cut.
    #[arg(required_unless_present = "pieces", conflicts_with = "pieces")]
    cage: Option<PathBuf>,
    /// In place of a cage, a table of pieces: name,length,tube,count.
    #[arg(long)]
    pieces: Option<PathBuf>,
    /// The sticks there are: stick,length,tube,count,price,grade,heat. Without it all are to buy.
    #[arg(long)]
    stock: Option<PathBuf>,
    /// What the saw takes with each cut, as 1/8 in; a bare number is mm.
    #[arg(long)]
    kerf: Option<String>,
    /// What is trimmed at each end of every stick.
    #[arg(long)]
    trim: Option<String>,
    /// What is added to a cage's blank for each cope.
    #[arg(long)]
    cope: Option<String>,
    /// The straight tube the bender holds beyond a bend: what a cage's blank lacks of it is added.
    #[arg(long)]
    grip: Option<String>,
    /// How long a stick is that is bought; 20 ft when not said.
    #[arg(long)]
    buy: Option<String>,
    /// The shortest offcut worth keeping; 12 in when not said.
    #[arg(long)]
    keep: Option<String>,
    /// For how long a better plan is searched for, at most, where the best is not proven before.
    #[arg(long, default_value_t = 10, value_parser = clap::value_parser!(u64).range(1..=86_400))]
    seconds: u64,
    /// Print in metric units.
    #[arg(long)]
    metric: bool,
    /// The folder to write into; made when it is not there.
    #[arg(long)]
    out: PathBuf,
}

/// Reads what is wanted and writes `plan.json`, `plan.csv` and `plan.pdf`.
pub(super) fn write(wanted: &Wanted) -> Result<ExitCode, StartError> {
    let saw = match saw(wanted) {
        Ok(saw) => saw,
        Err(faults) => return Ok(wrong("the call", &faults)),
    };
    let stock = match wanted.stock.as_deref().map(|path| Ok::<_, StartError>((path, text_of(path)?))).transpose()? {
        None => Ok(Vec::new()),
        Some((path, text)) => stock_of(&text).map_err(|faults| wrong(&path.display().to_string(), &faults)),
    };
    let stock = match stock {
        Ok(stock) => stock,
        Err(code) => return Ok(code),
    };
    let path = wanted.pieces.as_deref().or(wanted.cage.as_deref()).unwrap_or(Path::new(""));
    let text = text_of(path)?;
    let units = if wanted.metric { Units::Metric } else { Units::Inch };
    let mut effort = Effort::watched(usize::MAX, watch(wanted.seconds, units));
    let (plan, cage) = match planned(&text, wanted.pieces.is_some(), (&stock, &saw), &mut effort) {
        Ok(planned) => planned,
        Err(faults) => return Ok(wrong(&path.display().to_string(), &faults)),
    };
    let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let (Some(pdf), Ok(table)) = (pdf(&plan, &cage, &name, units), csv::table(rows(&plan))) else {
        eprintln!("The plan could not be printed.");
        return Ok(ExitCode::from(SAYS_NO));
    };
    fs::create_dir_all(&wanted.out).map_err(of(&wanted.out))?;
    let put = |name: &str, bytes: &[u8]| {
        let file = wanted.out.join(name);
        File::create(&file).and_then(|mut open| open.write_all(bytes)).map_err(of(&file))
    };
    put("plan.json", format!("{:#}\n", as_json(&plan)).as_bytes())?;
    put("plan.csv", &table)?;
    put("plan.pdf", &pdf)?;
    Ok(describe(&plan, &cage, wanted, units))
}

/// Says what came of it.
fn describe(plan: &CutPlan, cage: &Cage, wanted: &Wanted, units: Units) -> ExitCode {
    let sum = |of: &dyn Fn(&SizePlan) -> usize| plan.sizes.iter().map(of).sum::<usize>();
    let (sticks, to_buy) = (sum(&|size| size.sticks.len()), sum(&SizePlan::to_buy));
    println!("{sticks} sticks are cut into, {to_buy} of them to buy: written to {}.", wanted.out.display());
    for size in &plan.sizes {
        println!("{}: {}", size.tube, size.describe_proven(units));
        for (name, why) in size.describe_without(units) {
            eprintln!("{name} {why}");
        }
    }
    let none = sum(&|size| size.too_long.len() + size.no_stick.len());
    if none > 0 {
        eprintln!("{none} pieces get no stick; plan.json names them under no_stick.");
    }
    if none == 0 && cage.faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(SAYS_NO) }
}

/// Ends the search after so many seconds, and says each second how it stands.
fn watch(seconds: u64, units: Units) -> impl FnMut(&Progress) -> bool {
    let (begun, mut said) = (Instant::now(), 0);
    move |progress: &Progress| {
        let passed = begun.elapsed().as_secs();
        if passed > said {
            said = passed;
            let (bought, used) = progress.best();
            let (bought, used) = (bought.by_tape(units), used.by_tape(units));
            let size = progress.size + 1;
            eprintln!(
                "Searching, {passed} s of {seconds} s: for tube size {size} the best plan so far buys {bought} and cuts into {used}."
            );
        }
        passed < seconds
    }
}

fn of(path: &Path) -> impl Fn(io::Error) -> StartError + use<> {
    let file = path.display().to_string();
    move |why| StartError::File { file: file.clone(), why }
}

fn wrong(file: &str, faults: &[Fault]) -> ExitCode {
    for fault in faults {
        eprintln!("{file}: {fault}");
    }
    ExitCode::from(WRONG_CALL)
}

fn text_of(path: &Path) -> Result<String, StartError> {
    let mut text = String::new();
    File::open(path).and_then(|file| file.take(MOST_BYTES).read_to_string(&mut text)).map_err(of(path))?;
    Ok(text)
}

/// How it is cut: as usual, but for what the call says.
fn saw(wanted: &Wanted) -> Result<Saw, Vec<Fault>> {
    let (mut saw, mut faults) = (Saw::default(), Vec::new());
    let said = [
        ("kerf", &wanted.kerf, &mut saw.kerf),
        ("trim", &wanted.trim, &mut saw.trim),
        ("cope", &wanted.cope, &mut saw.cope),
        ("grip", &wanted.grip, &mut saw.grip),
        ("buy", &wanted.buy, &mut saw.buy),
        ("keep", &wanted.keep, &mut saw.keep),
    ];
    for (at, text, figure) in said {
        match text.as_deref().map(Typed::<Length>::read) {
            None => {}
            Some(Ok(typed)) => *figure = typed,
            Some(Err(no)) => faults.push(Fault::new(at, no.to_string())),
        }
    }
    faults.extend(saw.faults());
    if faults.is_empty() { Ok(saw) } else { Err(faults) }
}

/// The plan, and the cage it is for; an empty one for a table of pieces.
fn planned(
    text: &str,
    table: bool,
    (stock, saw): (&[Free], &Saw),
    effort: &mut Effort<'_>,
) -> Result<(CutPlan, Cage), Vec<Fault>> {
    if table {
        return Ok((CutPlan::of(&pieces_of(text)?, stock, saw, effort), Cage::default()));
    }
    let cage = solved(text)?;
    Ok((of_cage(&cage, stock, saw, effort), cage))
}

fn pdf(plan: &CutPlan, cage: &Cage, name: &str, units: Units) -> Option<Vec<u8>> {
    let of = Fabrication {
        cage,
        dies: &[],
        rates: &Rates::usual(),
        cuts: plan,
        name,
        book: "",
        hold: HELD_UNTIL,
        made_by: "command line",
        day: Clock::of_machine().today(),
        units,
        wall: Wall::Outer,
        paper: Paper::usual(units),
    };
    make(&of, &cut_sheets(&of)).ok()
}
