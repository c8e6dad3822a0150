//! What the weigh-in sheet shows.

use askama::Template;

use super::after::After;
use super::balance::Balance;
use super::finished::Finished;
use super::papers::Papers;
use crate::domain::book::kinds::TubeRow;
use crate::domain::book::{ClassTubes, RuleBook};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::{Weighed as ClassOf, Word};
use crate::domain::weight::scale_class::{Looked, ScaleClass};
use crate::domain::weight::scale_paper::Paper;
use crate::domain::weight::weigh_in::{Reading, USUAL_CONDITIONS, WeighIn};
use crate::domain::words::cautions;
use crate::quantity::{Show, Units};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::page::Sheet;

/// The newest weighing large, the form for the next, the earlier ones below.
#[derive(Template)]
#[template(path = "weigh_in/weigh_in.html")]
pub(crate) struct WeighInSheet {
    sheet: Sheet,
    newest: Option<Weighed>,
    earlier: Vec<Weighed>,
    pads: Vec<Field>,
    conditions: Vec<(String, String, bool)>,
    class: Option<Class>,
    no_class: String,
    fields: Vec<Field>,
    /// What is asked about before an unusual weight is recorded, and whether it gets the cursor.
    sure: Option<(String, bool)>,
    faults: Vec<String>,
    /// Whether the cage stood in the car already, as ticked.
    cage_in: bool,
    after: Option<After>,
    finished: Finished,
    balance: Balance,
    papers: Papers,
}

/// The weight class that follows, and the tube it asks for.
struct Class {
    name: String,
    edges: String,
    margin: String,
    too_close: bool,
    /// How the finished car stands to it.
    description: String,
    tubes: Vec<(&'static str, String)>,
    neighbours: Vec<(String, Vec<(&'static str, String)>)>,
}

impl Class {
    /// The class by this weighing, and the tube of the class that the finished car is in.
    fn of(weighed: &ClassOf, units: Units) -> Self {
        let (now, asks) = (&weighed.now, weighed.asks());
        let near = asks.into_iter().flat_map(|asks| &asks.neighbours);
        Self {
            name: now.class.clone(),
            edges: now.edges_in(units),
            margin: now.edge.map(|edge| edge.show(units)).unwrap_or_default(),
            too_close: now.too_close,
            description: weighed.describe(units),
            tubes: asks.map(|asks| tubes(&asks.tubes)).unwrap_or_default(),
            neighbours: near.map(|near| (near.class.clone(), tubes(&near.tubes))).collect(),
        }
    }
}

pub(super) fn tubes(tubes: &ClassTubes) -> Vec<(&'static str, String)> {
    vec![("main bars", TubeRow::sizes(&tubes.hoop)), ("other bars", TubeRow::sizes(&tubes.other))]
}

struct Weighed {
    number: u32,
    day: String,
    by: String,
    total: String,
    doubt: String,
    /// Shares of the wheels; none when the car was weighed as a whole.
    shares: Option<[(String, String); 3]>,
    /// The other diagonal: both are in use.
    other_diagonal: String,
    /// Every total, where it was weighed again.
    totals: String,
    aboard: String,
    heights: String,
    pads: Option<[String; 4]>,
    cage_in: bool,
    scale: String,
    /// What the doubt comes of, and the paper it goes by.
    doubt_from: String,
    paper: Option<String>,
    /// What a scale of each class may be off: its class, when verified, in service.
    allowed: Vec<(&'static str, String, String)>,
    note: String,
}

/// The totals of a car that was weighed again, with their spread; empty of one weighed once.
fn totals(reading: &Reading, units: Units) -> String {
    let describe = |(each, spread)| format!("{each}: their mean, with a spread of {spread} (one standard deviation)");
    reading.describe_totals(units).map(describe).unwrap_or_default()
}

impl Weighed {
    fn of(weigh_in: &WeighIn, units: Units) -> Self {
        let reading = &weigh_in.reading;
        let (pads, shares) = (reading.loads.pads(), reading.shares());
        Self {
            number: weigh_in.number,
            day: weigh_in.day.to_string(),
            by: weigh_in.by.clone(),
            total: reading.total().show(units),
            doubt: (reading.doubt() * 2.0).show(units),
            shares: shares.map(|shares| shares.map(|shared| (shared.describe(), shared.describe_doubt()))),
            other_diagonal: shares.map(|[_, _, diagonal]| diagonal.rest().describe()).unwrap_or_default(),
            totals: totals(reading, units),
            aboard: reading.stood.aboard.clone(),
            heights: reading.stood.heights.clone(),
            pads: pads.map(|pads| {
                [&pads.left_front, &pads.right_front, &pads.left_rear, &pads.right_rear]
                    .map(|pad| pad.value.show(units))
            }),
            cage_in: reading.cage_in,
            scale: reading.scale.clone(),
            doubt_from: reading.doubt_from(),
            paper: reading.paper.as_ref().map(Paper::describe),
            allowed: ScaleClass::ALL
                .into_iter()
                .filter_map(|class| {
                    let [first, service] = [Looked::First, Looked::InService].map(|when| reading.allowed(class, when));
                    Some((class.word(), first?.show(units), service?.show(units)))
                })
                .collect(),
            note: reading.note.clone(),
        }
    }
}

impl WeighInSheet {
    /// From the weighings, and what was typed so far.
    pub(crate) fn of(seen: &Seen, found: &Findings, form: &Form) -> Self {
        let mut weighed = seen.facts.weigh_ins.iter().map(|weigh_in| Weighed::of(weigh_in, seen.who.units));
        let pad = |name, label: &str| form.field(name, label).hint("As 661 lb or 299.8 kg.");
        let pads = vec![
            pad("left_front", "Left front"),
            pad("right_front", "Right front"),
            pad("left_rear", "Left rear"),
            pad("right_rear", "Right rear"),
        ];
        let fields = vec![
            form.field("total", "Or the total alone").hint("From a weighbridge: then no share of a wheel is known."),
            form.field("again", "Weighed again: the totals").hint(
                "As 2,612 lb; 2,614 lb. Roll the car off and on between. The mean counts, the spread widens the doubt.",
            ),
            form.field("resolution", "Step of the scale's display")
                .hint("As 1 lb or 0.5 kg. The doubt of the total follows from it."),
            form.field("scale", "Scale and its certificate")
                .hint("Which scale, who checked it and when, the certificate's number."),
            Papers::choice(seen, form),
            form.field("aboard", "Who is aboard").hint("As: nobody, or ballast of 80 kg in the driver's seat."),
            form.field("heights", "Hub or ride heights").hint("As they stand on the pads, if they were measured."),
            form.field("note", "Place, and what else there is to say").area(),
        ];
        let ticked = form.chosen("condition");
        let conditions = asked(found.worked.rules.as_ref())
            .into_iter()
            .map(|(key, words)| {
                let on = ticked.contains(&key);
                (key, words, on)
            })
            .collect();
        let (class, no_class) = match (&found.worked.weighed, &found.worked.class) {
            (Some(weighed), _) => (Some(Class::of(weighed, seen.who.units)), String::new()),
            (None, Some(Err(why))) => (None, why.to_string()),
            (None, _) => (None, String::new()),
        };
        let sure = form.field("sure", "");
        let finished = Finished::of(seen, found, form);
        let balance = Balance::of(seen, found, form);
        let papers = Papers::of(seen, form);
        let beside = finished.fields.iter().chain(&balance.fields).chain(&papers.fields).chain([&sure]);
        let shown: Vec<&Field> = pads.iter().chain(&fields).chain(beside).collect();
        let faults = form.other_faults(&shown);
        Self {
            sheet: seen.sheet("Weigh-in"),
            newest: weighed.next(),
            earlier: weighed.collect(),
            pads,
            conditions,
            class,
            no_class,
            sure: sure.fault.map(|why| (why, sure.first)),
            fields,
            faults,
            cage_in: form.text("cage_in") == "yes",
            after: After::of(found, seen.who.units),
            finished,
            balance,
            papers,
        }
    }
}

/// What is ticked: the book's own conditions, or the usual ones where there is no book.
fn asked(book: Option<&RuleBook>) -> Vec<(String, String)> {
    let own = book.and_then(|book| book.weight.as_ref()).map(|weight| &weight.conditions);
    own.map_or_else(
        || USUAL_CONDITIONS.map(|(key, words)| (key.to_owned(), words.to_owned())).to_vec(),
        |own| own.iter().map(|condition| (condition.key.clone(), condition.words.clone())).collect(),
    )
}
