//! What the dies' sheet shows.

use askama::Template;

use crate::domain::steel::dies::{Die, NoSetting, Plus, Swing, TestBend};
use crate::domain::words::cautions;
use crate::quantity::{Angle, Length, Show as _, Units};
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

/// Wanted angles for which the sheet says what to set.
const WANTED: [f64; 4] = [15.0, 30.0, 60.0, 90.0];

/// The dies with their test bends, and the form for another.
#[derive(Template)]
#[template(path = "dies/dies.html")]
pub(crate) struct Dies {
    sheet: Sheet,
    dies: Vec<Shown>,
    away: Vec<Away>,
    fields: Vec<Field>,
    faults: Vec<String>,
}

/// A die that is put away.
struct Away {
    name: String,
    description: String,
    /// Where it is taken back in use.
    to: String,
    /// Why it could not be.
    faults: Vec<String>,
}

struct Shown {
    id: String,
    name: String,
    description: String,
    tests: Vec<(usize, String)>,
    walls: Vec<OfWall>,
    /// Why nothing is known of what to set; empty where something is.
    shortfall: String,
    fields: Vec<Field>,
    bender: Vec<Field>,
    faults: Vec<String>,
}

/// What the test bends of one wall show.
struct OfWall {
    wall: String,
    set_for: Vec<(String, String)>,
    rests_on: String,
}

impl Dies {
    /// From the shop's dies and what was typed so far.
    pub(crate) fn of(who: &SignedIn, dies: &[Die], form: &Form) -> Self {
        let blank = Form::empty(who.units);
        // What was typed belongs to one die's test bend, or to a new die.
        let new = if form.text("die").is_empty() { form } else { &blank };
        let fields = vec![
            new.field("name", "Name in the shop").hint("As it is stamped: 1 1/2 x 4 1/2."),
            new.field("outside", "For tube of outside diameter").hint("1 1/2, or 40 mm."),
            new.field("radius", "Centre-line radius")
                .hint("4 1/2, or 135 mm. The die's stated one, or the measured one."),
            new.field("offset", "From the die's mark to where the bend begins")
                .hint("0 where the mark is the bend's start."),
            swing(new),
            plus(new),
        ];
        let faults = new.other_faults(&fields.iter().collect::<Vec<_>>());
        Self {
            sheet: Sheet::of_shop(who, "Dies"),
            dies: dies.iter().filter(|die| die.in_use).map(|die| Shown::of(die, who.units, form)).collect(),
            away: dies.iter().filter(|die| !die.in_use).map(|die| Away::of(die, form)).collect(),
            fields,
            faults,
        }
    }
}

impl Away {
    fn of(die: &Die, form: &Form) -> Self {
        let own = form.text("die") == die.id.to_string();
        let faults = if own { form.other_faults(&[]) } else { Vec::new() };
        Self { name: die.name.clone(), description: describe(die), to: format!("/dies/{}/in-use", die.id), faults }
    }
}

fn describe(die: &Die) -> String {
    format!(
        "tube {} outside, centre-line radius {}, mark {} before the bend",
        die.outside.text, die.radius.text, die.offset.text
    )
}

fn swing(form: &Form) -> Field {
    let line = |swing: Swing| (swing.word().to_owned(), format!("to the {}", swing.word()));
    form.field("swing", "Its bender swings the tube")
        .choice(Swing::ALL.map(line))
        .hint("Seen from the straight rest of the tube.")
}

fn plus(form: &Form) -> Field {
    let line = |plus: Plus| (plus.word().to_owned(), plus.word().to_owned());
    form.field("plus", "A turn that its dial counts as plus is")
        .choice(Plus::ALL.map(line))
        .hint("Seen from end A, the end that goes through the die first.")
}

impl Shown {
    fn of(die: &Die, units: Units, form: &Form) -> Self {
        let bender = vec![
            ("swing".to_owned(), die.bender.swing.word().to_owned()),
            ("plus".to_owned(), die.bender.plus.word().to_owned()),
        ];
        let stated = Form::filled(units, bender);
        let wall = die.tests.iter().rev().find_map(|test| test.wall.as_ref()).map(|wall| wall.text.clone());
        let blank = Form::filled(units, wall.map(|wall| ("wall".to_owned(), wall)).into_iter().collect());
        let own = if form.text("die") == die.id.to_string() { form } else { &blank };
        let test = |(at, test): (usize, &TestBend)| {
            let wall =
                test.wall.as_ref().map_or_else(|| "wall not said".to_owned(), |wall| format!("wall {}", wall.text));
            (at, format!("set {}, got {}, {wall}", test.set.text, test.got.text))
        };
        let fields = vec![
            own.field("set", "Set").hint("What the bender was set to: 90."),
            own.field("got", "Got").hint("What the tube shows after it sprang back: 87 1/2."),
            own.field("wall", "Wall").hint("The wall of the tube that was bent: .095, or 2.5 mm."),
        ];
        let faults =
            if own.text("die").is_empty() { Vec::new() } else { own.other_faults(&fields.iter().collect::<Vec<_>>()) };
        Self {
            id: die.id.to_string(),
            name: die.name.clone(),
            description: describe(die),
            tests: die.tests.iter().enumerate().map(test).collect(),
            walls: die.walls().into_iter().map(|wall| OfWall::of(die, wall, units)).collect(),
            shortfall: shortfall(die, units),
            fields,
            bender: vec![swing(&stated), plus(&stated)],
            faults,
        }
    }
}

/// Why nothing is known of what to set, where that is so of every wall.
fn shortfall(die: &Die, units: Units) -> String {
    let why = if die.tests.is_empty() { NoSetting::NotTested } else { NoSetting::WallNotSaid };
    if die.walls().is_empty() { format!("What to set is not known: {}", why.describe(units)) } else { String::new() }
}

impl OfWall {
    fn of(die: &Die, wall: Length, units: Units) -> Self {
        let shown = wall.show(units);
        match die.springback(wall) {
            Ok(springback) => {
                let set = |want: f64| {
                    let set = springback.set_for(Angle::from_degrees(want)).angle.to_the_tenth();
                    (format!("{want:.0}°"), set)
                };
                Self { wall: shown, set_for: WANTED.map(set).to_vec(), rests_on: springback.describe() }
            }
            Err(why) => Self { wall: shown, set_for: Vec::new(), rests_on: why.describe(units) },
        }
    }
}
