//! What the cut plan's sheet shows.

use askama::Template;

use crate::domain::derived::findings::Findings;
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::cut_plan::{CutPlan, CutStick, SizePlan};
use crate::drawing::cut_plan::{drawn, height};
use crate::drawing::paper::svg::Svg;
use crate::quantity::Length;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::{Sheet, part_address};

/// The drawing's width and type; on a phone its words stay readable.
const WIDE: Length = Length::from_mm(150.0);
const SIZE: Length = Length::from_mm(4.2);

/// Which bar is cut from which stick.
#[derive(Template)]
#[template(path = "cut_plan/cut_plan.html")]
pub(crate) struct Cuts {
    sheet: Sheet,
    measured: bool,
    asked: bool,
    stated: bool,
    counted: String,
    said: &'static str,
    unsure: String,
    sizes: Vec<Size>,
    /// Where the search goes on; empty where all is proven.
    search_on: String,
    fields: Vec<Field>,
    faults: Vec<String>,
    tube: String,
    csv: String,
    pdf: String,
}

struct Size {
    tube: String,
    description: String,
    proven: String,
    grades: String,
    to_buy: usize,
    buy: String,
    sticks: Vec<Stick>,
    whole: Vec<String>,
    without: Vec<(String, String)>,
}

struct Stick {
    drawing: Svg,
    pieces: Vec<String>,
}

impl Cuts {
    /// From the plan, and what was typed so far.
    pub(crate) fn of(seen: &Seen, found: &Findings, (plan, stated): (&CutPlan, bool), form: &Form) -> Self {
        let fields = vec![
            form.field("kerf", "Kerf: what the saw takes with each cut")
                .hint("Cut a scrap and measure: 1/8 in or 3 mm."),
            form.field("trim", "Trimmed at each end of a stick").hint("0 where the ends are square and clean."),
            form.field("cope", "Added to a blank for each cope").hint("0 where the notcher cuts to the mark."),
            form.field("grip", "Straight tube the bender holds beyond a bend")
                .hint("From the end of the bend to the end of the tube. 0 adds nothing."),
            form.field("buy", "Length of a stick you buy").hint("As 20 ft, or 6 m."),
            form.field("keep", "Shortest offcut worth keeping").hint("As 12 in, or 300 mm."),
        ];
        let faults = form.other_faults(&fields.iter().collect::<Vec<_>>());
        Self {
            sheet: seen.sheet("Cut plan"),
            measured: !found.worked.cage.members.is_empty(),
            asked: found.worked.tubes_asked,
            stated,
            counted: plan.saw.describe(),
            said: CutPlan::SAID,
            unsure: plan.describe_unsure(),
            sizes: plan.sizes.iter().map(|size| Size::of(seen, plan, size)).collect(),
            search_on: if plan.is_proven() { String::new() } else { seen.address("/cuts?search=on") },
            fields,
            faults,
            tube: seen.address("/tube"),
            csv: seen.address("/cuts.csv"),
            pdf: seen.address("/sheets.pdf"),
        }
    }
}

impl Size {
    fn of(seen: &Seen, plan: &CutPlan, size: &SizePlan) -> Self {
        let units = seen.who.units;
        let address = |balloon: &Balloon| Some(seen.address(&part_address(*balloon)));
        let stick = |stick: &CutStick| Stick {
            drawing: Svg::of(&drawn(plan, stick, (WIDE, SIZE), units), (WIDE, height(SIZE)), address),
            pieces: stick.describe_pieces(units),
        };
        let whole = |free: &crate::domain::work::cut_plan::Free| {
            format!("{}, {}", free.name, free.length.by_tape_at_most(units))
        };
        Self {
            tube: size.tube.to_string(),
            description: size.describe(units),
            proven: size.describe_proven(units),
            grades: size.describe_grades(),
            to_buy: size.to_buy(),
            buy: plan.saw.buy.text.clone(),
            sticks: size.sticks.iter().map(stick).collect(),
            whole: size.whole.iter().map(whole).collect(),
            without: size.describe_without(units),
        }
    }
}
