//! The heat input of an arc, for information.

use askama::Template;
use axum::extract::Query;
use axum::http::StatusCode;
use axum::response::Response;

use crate::domain::steel::heat_input::{Arc, Process};
use crate::domain::words::cautions;
use crate::quantity::Units;
use crate::web::form::{Field, Form, Pairs};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

#[derive(Template)]
#[template(path = "seams/heat.html")]
struct Heat {
    sheet: Sheet,
    base: String,
    fields: Vec<Field>,
    faults: Vec<String>,
    /// Heat input, the arc's energy, and the process's efficiency.
    description: Option<(String, String, f64)>,
}

/// What was asked, worked out; nothing is recorded.
pub(super) async fn heat(seen: Seen, Query(asked): Query<Pairs>) -> Result<Response, Problem> {
    let units = seen.who.units;
    let (rates, _) = crate::web::shown::shop_figures::rates(&seen).await?;
    let begun = !asked.is_empty();
    let typed = if begun { asked } else { vec![("laid".to_owned(), rates.laid.text.clone())] };
    let mut form = Form::of(units, typed);
    let arc = if begun { read(&mut form) } else { None };
    if let Some(arc) = arc {
        form.refuse(arc.faults());
    }
    let description = arc
        .filter(|_| !form.is_faulty())
        .map(|arc| (energy(arc.heat_input(), units), energy(arc.energy(), units), arc.process.efficiency()));
    let processes = Process::ALL.map(|process| (process.key().to_owned(), process.word().to_owned()));
    let fields = vec![
        form.field("process", "Process").choice(processes),
        form.field("volts", "Volts at the arc").hint("As the machine shows it while it welds: 18."),
        form.field("amperes", "Amperes").hint("As the machine shows it while it welds: 120."),
        form.field("laid", "Seam laid in one minute of arc").hint("As 12 in or 300 mm, stops not counted."),
    ];
    let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
    let status = if form.is_faulty() { StatusCode::UNPROCESSABLE_ENTITY } else { StatusCode::OK };
    show(status, &Heat { sheet: seen.sheet("Heat input"), base: seen.address(""), fields, faults, description })
}

fn read(form: &mut Form) -> Option<Arc> {
    let number = |form: &mut Form, at| form.parse::<f64>(at, "Write a number, as 18 or 120.");
    let (volts, amperes) = (number(form, "volts"), number(form, "amperes"));
    for (at, missing) in [("volts", volts.is_none()), ("amperes", amperes.is_none())] {
        if missing && form.text(at).is_empty() {
            form.fault(at, "Write a number, as 18 or 120.");
        }
    }
    let laid = form.read::<crate::quantity::Length>("laid")?;
    let key = form.text("process").to_owned();
    let process = Process::ALL.into_iter().find(|process| process.key() == key).unwrap_or(Process::Wire);
    Some(Arc { process, volts: volts?, amperes: amperes?, in_a_second: laid.value / 60.0 })
}

/// Kilojoules in a millimetre, or in an inch.
fn energy(kj_per_mm: f64, units: Units) -> String {
    match units {
        Units::Inch => format!("{:.1} kJ/in", kj_per_mm * crate::quantity::base::MM_PER_INCH),
        Units::Metric => format!("{kj_per_mm:.3} kJ/mm"),
    }
}
