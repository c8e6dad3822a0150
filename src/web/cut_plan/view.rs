//! What the cut plan's sheet shows.

use askama::Template;

use crate::domain::derived::findings::Findings;
use crate::domain::shop::people::{Deed, may};
use crate::domain::shop::saw::Saw;
use crate::domain::shop::stock;
use crate::domain::words::cautions;
use crate::domain::words::ids::Balloon;
use crate::domain::work::cut_plan::{AsPlanned, CutPlan, CutStick, Ground, SizePlan};
use crate::drawing::cut_plan::{drawn, height};
use crate::drawing::paper::svg::Svg;
use crate::quantity::Length;
use crate::web::form::{Field, Form, Keeping};
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
    /// Where the saw's figures go, and where a stick goes that was cut as planned.
    base: String,
    /// Why a stick was not recorded; empty where none was asked for.
    told: String,
    measured: bool,
    asked: bool,
    stated: bool,
    counted: String,
    said: &'static str,
    unsure: String,
    sizes: Vec<Size>,
    /// Where the search goes on; empty where all is proven.
    search_on: String,
    keeping: Keeping,
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
    name: String,
    drawing: Svg,
    pieces: Vec<String>,
    /// What the button sends.
    as_planned: Option<AsPlanned>,
    /// Why there is no button; empty where there is one, or where the reader may not record.
    why_not: String,
}

/// What the shop has and says of itself.
pub(super) struct Shop<'s> {
    pub(super) saw: &'s Saw,
    /// Whether it stated its saw itself.
    pub(super) stated: bool,
    pub(super) sticks: &'s [stock::Stick],
}

impl Cuts {
    /// From the plan, and what was typed so far.
    pub(super) fn of(
        seen: &Seen,
        found: &Findings,
        (plan, shop): (&CutPlan, Shop<'_>),
        form: &Form,
        told: &str,
    ) -> Self {
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
            base: seen.address("/cuts"),
            told: told.to_owned(),
            measured: !found.worked.cage.members.is_empty(),
            asked: found.worked.tubes_asked,
            stated: shop.stated,
            counted: plan.saw.describe(),
            said: CutPlan::SAID,
            unsure: plan.describe_unsure(),
            sizes: plan.sizes.iter().map(|size| Size::of(seen, found, plan, &shop, size)).collect(),
            search_on: if plan.is_proven() { String::new() } else { seen.address("/cuts?search=on") },
            keeping: form.keeping(),
            fields,
            faults,
            tube: seen.address("/tube"),
            csv: seen.address("/cuts.csv"),
            pdf: seen.address("/sheets.pdf"),
        }
    }
}

impl Size {
    fn of(seen: &Seen, found: &Findings, plan: &CutPlan, shop: &Shop<'_>, size: &SizePlan) -> Self {
        let units = seen.who.units;
        let address = |balloon: &Balloon| Some(seen.address(&part_address(*balloon)));
        let worked = &found.worked;
        let ground = Ground { facts: &seen.facts, cage: &worked.cage, saw: shop.saw, tube_settled: worked.tubes_asked };
        let records = may(seen.who.ctx.by.role, Deed::RecordWork);
        let stick = |stick: &CutStick| {
            let as_planned = AsPlanned::of(ground, plan, stick, shop.sticks);
            // That the tube is open stands at the top of the sheet, once.
            let why = as_planned.as_ref().err().filter(|_| records && worked.tubes_asked);
            Stick {
                name: stick.name.clone(),
                drawing: Svg::of(&drawn(plan, stick, (WIDE, SIZE), units), (WIDE, height(SIZE)), address),
                pieces: stick.describe_pieces(units),
                why_not: why.map(ToString::to_string).unwrap_or_default(),
                as_planned: as_planned.ok().filter(|_| records),
            }
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
