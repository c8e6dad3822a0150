//! What the dies' sheet shows.

use askama::Template;

use crate::domain::cautions;
use crate::domain::dies::{Die, Springback};
use crate::quantity::Angle;
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
    fields: Vec<Field>,
    faults: Vec<String>,
}

struct Shown {
    id: String,
    name: String,
    told: String,
    tests: Vec<(usize, String)>,
    set_for: Vec<(String, String)>,
    rests_on: String,
    fields: Vec<Field>,
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
        ];
        let faults = new.other_faults(&fields.iter().collect::<Vec<_>>());
        Self {
            sheet: Sheet::of_shop(who, "Dies"),
            dies: dies.iter().map(|die| Shown::of(die, form, &blank)).collect(),
            fields,
            faults,
        }
    }
}

impl Shown {
    fn of(die: &Die, form: &Form, blank: &Form) -> Self {
        let own = if form.text("die") == die.id.to_string() { form } else { blank };
        let springback = die.springback();
        let set = |want: f64, springback: Springback| {
            let set = springback.set_for(Angle::from_degrees(want)).degrees();
            (format!("{want:.0}°"), format!("{set:.1}°"))
        };
        let rests_on = match (springback, die.tests.len()) {
            (Some(springback), _) => springback.word().to_owned(),
            (None, 0) => "No test bend yet: what to set is not known.".to_owned(),
            (None, _) => "The test bends contradict each other: look at them again.".to_owned(),
        };
        let tests = die.tests.iter().enumerate();
        Self {
            id: die.id.to_string(),
            name: die.name.clone(),
            told: format!(
                "tube {} outside, centre-line radius {}, mark {} before the bend",
                die.outside.text, die.radius.text, die.offset.text
            ),
            tests: tests.map(|(at, test)| (at, format!("set {}, got {}", test.set.text, test.got.text))).collect(),
            set_for: springback.map(|springback| WANTED.map(|want| set(want, springback)).to_vec()).unwrap_or_default(),
            rests_on,
            fields: vec![
                own.field("set", "Set").hint("What the bender was set to: 90."),
                own.field("got", "Got").hint("What the tube shows after it sprang back: 87 1/2."),
            ],
        }
    }
}
