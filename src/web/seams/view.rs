//! What the seams' sheet shows.

use askama::Template;

use crate::domain::derived::findings::Findings;
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::seams::{Estimate, Rates, SeamsAt, seams};
use crate::quantity::Units;
use crate::web::form::{Field, Form, Keeping};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};

/// Every seam with its wire and time, and the shop's rates.
#[derive(Template)]
#[template(path = "seams/seams.html")]
pub(crate) struct Seams {
    sheet: Sheet,
    rows: Vec<Row>,
    whole: Figures,
    /// Length of the wire, and whether the shop stated its own rates.
    wire_length: String,
    stated: bool,
    keeping: Keeping,
    fields: Vec<Field>,
    faults: Vec<String>,
    pdf: String,
    heat: String,
}

struct Row {
    at: Part,
    bars: Vec<Part>,
    /// What they stand on; none for a foot on its plate.
    onto: Option<Part>,
    figures: Figures,
}

struct Part {
    balloon: String,
    to: String,
}

struct Figures {
    seam: String,
    overhead: String,
    wire: String,
    arc: String,
    time: String,
}

impl Figures {
    fn of(estimate: &Estimate, units: Units) -> Self {
        let [seam, overhead, wire, arc, time] = estimate.describe(units);
        Self { seam, overhead, wire, arc, time }
    }
}

impl Seams {
    /// From the cage, the shop's rates, and what was typed so far.
    pub(crate) fn of(seen: &Seen, found: &Findings, (rates, stated): (Rates, bool), form: &Form) -> Self {
        let units = seen.who.units;
        let all = seams(&found.worked.cage, &rates);
        let whole: Estimate = all.iter().map(|at| at.estimate).sum();
        let fields = vec![
            form.field("leg", "Leg of the fillet").hint("As 1/8 in or 3 mm. The throat is the leg over 1.41."),
            form.field("wire", "Wire").hint("Its diameter: .030 in or 0.8 mm."),
            form.field("efficiency", "Of the wire, this much is deposited")
                .hint("As 95 %. The rest is spatter and stub."),
            form.field("laid", "Seam laid in one minute of arc").hint("As 12 in or 300 mm. Time a coupon to know."),
            form.field("arc", "Of the working time, the arc burns")
                .hint("As 25 %. The rest is fitting, moving, cooling."),
        ];
        let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
        Self {
            sheet: seen.sheet("Seams"),
            rows: all.iter().map(|at| Row::of(seen, at)).collect(),
            wire_length: whole.wire_length.by_tape(units),
            whole: Figures::of(&whole, units),
            stated,
            keeping: form.keeping(),
            fields,
            faults,
            pdf: seen.address("/sheets.pdf"),
            heat: seen.address("/heat-input"),
        }
    }
}

impl Row {
    fn of(seen: &Seen, at: &SeamsAt) -> Self {
        let part = |balloon: Balloon| Part { balloon: balloon.to_string(), to: seen.address(&part_address(balloon)) };
        Self {
            at: part(at.at),
            bars: at.bars.iter().copied().map(part).collect(),
            onto: (at.onto != at.at).then(|| part(at.onto)),
            figures: Figures::of(&at.estimate, seen.who.units),
        }
    }
}
