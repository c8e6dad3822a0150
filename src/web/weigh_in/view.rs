//! What the weigh-in sheet shows.

use askama::Template;

use super::after::After;
use super::asked::{Asked, Pad, conditions, pads};
use super::balance::Balance;
use super::figures::Figures;
use super::finished::{Finished, FinishedWeight};
use super::newest::Weighed;
use super::papers::Papers;
use crate::domain::derived::findings::Findings;
use crate::domain::derived::worked::if_weighed::IfWeighed;
use crate::domain::judge::verdicts::Word;
use crate::domain::weight::weigh_in::{Loads, Reading, WeighIn};
use crate::domain::words::cautions;
use crate::domain::words::ids::Kind;
use crate::quantity::Units;
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;

/// What the sheet is about: the newest weighing as it was recorded, or the one that is being typed.
pub(super) enum About {
    Recorded,
    Typed(So),
}

/// How far what is typed can be read.
pub(super) enum So {
    /// No load reads yet.
    Nothing,
    /// The loads read; what their scale is has not been said.
    Loads(Loads),
    Reading(Box<IfWeighed>),
}

/// The car from above with its four pads, what follows beside it, the rest in groups.
#[derive(Template)]
#[template(path = "weigh_in/weigh_in.html")]
pub(super) struct WeighInSheet {
    sheet: Sheet,
    /// Whether a weighing is asked for; else the newest is shown.
    asks: bool,
    /// The number of the weighing that is shown or asked for, and how it is told.
    number: u32,
    number_words: &'static str,
    newest: Option<Weighed>,
    earlier: Vec<Weighed>,
    unit: &'static str,
    pads: Vec<Pad>,
    /// Where each pad is drawn.
    corners: [(&'static str, u32, u32); 4],
    figures: Figures,
    conditions: Vec<(String, String, bool)>,
    ticked: usize,
    /// Whether the cage stood in the car already, as ticked.
    cage_in: bool,
    resolution: Field,
    stood: Vec<Field>,
    scale: Vec<Field>,
    scale_told: String,
    whole: Vec<Field>,
    /// The group that is open.
    open: &'static str,
    /// What is asked about before an unusual weight is recorded, and whether it gets the cursor.
    sure: Option<(String, bool)>,
    faults: Vec<String>,
    after: Option<After>,
    /// What the newest weighing is predicted to finish at.
    outlook: Option<FinishedWeight>,
    finished: Finished,
    balance: Balance,
    papers: Papers,
    /// How many of the photographs that are asked of the weighing are there, and where they are.
    photographs: Option<(usize, usize)>,
    photos: String,
    to: String,
}

const CORNERS: [(&str, u32, u32); 4] = [("lf", 338, 62), ("rf", 510, 62), ("lr", 338, 360), ("rr", 510, 360)];

const FIRST: &str = "not weighed yet: the weight picks the tube";
const ANOTHER: &str = "not saved yet; the one before it stays";

/// The groups with their fields.
type Groups<'f> = [(&'static str, &'f [Field]); 6];

/// The first group with something at fault in it.
fn open_group(groups: &Groups<'_>) -> Option<&'static str> {
    groups.iter().find(|group| group.1.iter().any(|field| field.fault.is_some())).map(|group| group.0)
}

/// The figures, and what is ticked.
fn figures(about: &About, recorded: Option<&Reading>, found: &Findings, form: &Form) -> (Figures, Vec<String>) {
    let units = form.units();
    let typed = match (about, recorded) {
        (About::Recorded, Some(reading)) => {
            return (Figures::recorded(reading, found, units), reading.conditions.clone());
        }
        (About::Recorded, None) | (About::Typed(So::Nothing), _) => Figures::default(),
        (About::Typed(So::Loads(loads)), _) => Figures::loads(loads, units),
        (About::Typed(So::Reading(tried)), _) => Figures::typed(tried, found, units),
    };
    (typed, form.chosen("condition"))
}

/// How many of the photographs that are asked of the weighing are there, and how many are asked.
fn photographs(found: &Findings) -> Option<(usize, usize)> {
    let asked: Vec<_> = found.worked.shots.iter().filter(|shot| shot.of.kind == Kind::WeighIn).collect();
    let taken = asked.iter().filter(|shot| !shot.photos.is_empty()).count();
    (!asked.is_empty()).then_some((taken, asked.len()))
}

fn scale_told(newest: Option<&WeighIn>) -> String {
    let scale = newest.map(|newest| newest.reading.scale.clone()).filter(|scale| !scale.is_empty());
    scale.unwrap_or_else(|| "not known".to_owned())
}

impl WeighInSheet {
    /// From the weighings, and what was typed so far.
    pub(super) fn of(seen: &Seen, found: &Findings, form: &Form, about: &About) -> Self {
        let units = seen.who.units;
        let newest = seen.facts.weigh_ins.first();
        let asked = Asked::of(seen, form);
        let finished = Finished::of(seen, form);
        let balance = Balance::of(seen, found, form);
        let papers = Papers::of(seen, form);
        let asks = matches!(about, About::Typed(_));
        let groups: Groups<'_> = [
            ("stood", &asked.stood),
            ("scale", &asked.scale),
            ("whole", &asked.whole),
            ("carried", &finished.fields),
            ("wheels", &balance.fields),
            ("papers", &papers.fields),
        ];
        let open = open_group(&groups).unwrap_or(if asks { "conditions" } else { "" });
        let own = asked.pads.iter().map(|pad| &pad.field).chain([&asked.sure, &asked.resolution]);
        let faults = form.other_faults(&groups.iter().flat_map(|group| group.1).chain(own).collect::<Vec<_>>());
        let mut weighed = seen.facts.weigh_ins.iter().map(|weigh_in| Weighed::of(weigh_in, units));
        let recorded = newest.filter(|_| !asks).map(|newest| &newest.reading);
        let (figures, ticks) = figures(about, recorded, found, form);
        let conditions = conditions(found.worked.rules.as_ref(), &ticks);
        let foreseen = found.worked.foreseen.as_ref();
        let pads = recorded.map_or(asked.pads, |reading| pads(&reading.loads, units));
        Self {
            sheet: seen.sheet("Weigh-in"),
            asks,
            number: newest.map_or(0, |newest| newest.number) + u32::from(asks),
            number_words: newest.map_or(FIRST, |_| ANOTHER),
            newest: weighed.next(),
            earlier: weighed.collect(),
            unit: if form.units() == Units::Inch { "lb" } else { "kg" },
            pads,
            corners: CORNERS,
            figures,
            ticked: conditions.iter().filter(|condition| condition.2).count(),
            conditions,
            cage_in: form.text("cage_in") == "yes",
            resolution: asked.resolution,
            stood: asked.stood,
            scale_told: scale_told(newest),
            scale: asked.scale,
            whole: asked.whole,
            open,
            sure: asked.sure.fault.map(|why| (why, asked.sure.first)),
            faults,
            after: After::of(found, units),
            outlook: foreseen.map(|foreseen| {
                let worked = &found.worked;
                FinishedWeight::of(foreseen, worked.rules.as_ref(), worked.chosen(), units)
            }),
            finished,
            balance,
            papers,
            photographs: photographs(found),
            photos: seen.address("/photos"),
            to: seen.address("/weigh-in"),
        }
    }
}
