//! What the weigh-in sheet shows of the predicted finished weight, and what is typed into its list.

use crate::domain::book::RuleBook;
use crate::domain::cage::Tubes;
use crate::domain::weight::carried::{Listed, Spread, SpreadIs, Thing, Way};
use crate::domain::weight::foreseen::{CAGE_OFF, CagePart, Foreseen, Outlook, still_counts};
use crate::domain::weight::weigh_in::WeighIn;
use crate::drawing::weight_line::{Classes, height, weight_line};
use crate::quantity::{Length, Mass, Show as _, Units};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;
use crate::web::svg::Svg;

use super::figures::tubes;

/// What goes in and comes out, and the form for one more thing.
pub(super) struct Finished {
    pub(super) things: Vec<Line>,
    pub(super) fields: Vec<Field>,
    pub(super) base: String,
}

/// The finished weight large.
pub(super) struct FinishedWeight {
    pub(super) figures: (String, String),
    /// Whether it says more than the weighing: something is listed, or the cage is known.
    pub(super) tells: bool,
    /// How much heavier or lighter than on the scale.
    pub(super) change: String,
    /// A shape and the words that go with it.
    pub(super) outlook: (&'static str, String),
    /// Whether it is a warning.
    pub(super) look: bool,
    pub(super) sentence: String,
    pub(super) chance: String,
    pub(super) drawn: Option<Svg>,
    /// How it comes about: the words, the mass with its sign, the plus-minus.
    pub(super) sums: Vec<(String, String, String)>,
    pub(super) unspread: usize,
    pub(super) then: Option<OtherClass>,
}

/// What another class would ask for.
pub(super) struct OtherClass {
    pub(super) class: String,
    pub(super) tubes: Vec<(&'static str, String)>,
    /// The cage of that tube, and the finished weight with it.
    pub(super) remade: Option<(String, String)>,
}

/// One thing of the list.
pub(super) struct Line {
    pub(super) place: u32,
    pub(super) name: String,
    pub(super) mass: String,
    pub(super) spread: String,
    /// Where it was listed, when the car was weighed since.
    pub(super) before: Option<String>,
    /// Whether it is in the sum.
    pub(super) counts: bool,
    /// The form's pairs that list it again.
    pub(super) again: [(&'static str, String); 5],
    pub(super) by: String,
}

/// The drawing's width and its type, in millimetres of its own: on a phone its words stay readable.
const DRAWN: (Length, Length) = (Length::from_mm(110.0), Length::from_mm(4.6));

impl Finished {
    /// How many things the scale may have by now.
    pub(super) fn weighed_since(&self) -> usize {
        self.things.iter().filter(|thing| thing.before.is_some()).count()
    }

    pub(super) fn of(seen: &Seen, form: &Form) -> Self {
        let newest = seen.facts.weigh_ins.first();
        let choices = |all: &[(&str, &str)]| -> Vec<(String, String)> {
            all.iter().map(|(value, words)| ((*value).to_owned(), (*words).to_owned())).collect()
        };
        let fields = vec![
            form.field("thing", "What goes in or comes out")
                .hint("As: both seats with rails, rear seat bench, harnesses."),
            form.field("way", "Which way").choice(choices(&Way::BOTH.map(|way| (way.key(), way.words())))),
            form.field("mass", "What it weighs").hint("As 46 lb or 21 kg, always more than nothing."),
            form.field("spread", "Plus-minus, if known").hint("As 2 lb. Left empty, the mass is taken as exact."),
            form.field("spread_is", "What the plus-minus means")
                .choice(choices(&SpreadIs::BOTH.map(|is| (is.key(), is.words())))),
        ];
        Self {
            things: seen.facts.foreseen.iter().map(|listed| line(listed, newest)).collect(),
            fields,
            base: seen.address("/weigh-in/foreseen"),
        }
    }
}

/// A thing as it was typed, or its faults noted.
pub(super) fn read(form: &mut Form) -> Option<Thing> {
    let mass = form.read("mass");
    let spread = form.read_if_typed("spread");
    let way = form.parse("way", "Choose whether it goes in or comes out.");
    let is = form.parse("spread_is", "Choose what the plus-minus means.");
    if form.is_faulty() {
        return None;
    }
    let (Some(way), Some(is)) = (way, is) else {
        form.fault("way", "Choose whether it goes in or comes out.");
        return None;
    };
    let spread = spread.map(|mass| Spread { mass, is });
    Some(Thing { name: form.text("thing").to_owned(), way, mass: mass?, spread })
}

fn line(listed: &Listed, newest: Option<&WeighIn>) -> Line {
    let thing = &listed.thing;
    let sign = if thing.way == Way::In { "+" } else { "−" };
    let spread = thing.spread.as_ref().map(|spread| format!("± {}, {}", spread.mass.text, spread.is.words()));
    let plus_minus = thing.spread.as_ref().map(|spread| (spread.mass.text.clone(), spread.is));
    let (plus_minus, is) = plus_minus.unwrap_or((String::new(), SpreadIs::Limits));
    Line {
        counts: newest.is_none_or(|newest| still_counts(listed, newest)),
        again: [
            ("thing", thing.name.clone()),
            ("way", thing.way.key().to_owned()),
            ("mass", thing.mass.text.clone()),
            ("spread", plus_minus),
            ("spread_is", is.key().to_owned()),
        ],
        place: listed.place,
        name: thing.name.clone(),
        mass: format!("{sign} {}", thing.mass.text),
        spread: spread.unwrap_or_else(|| "no plus-minus".to_owned()),
        before: newest.filter(|newest| listed.before(newest.number)).map(|_| listed.listed_at()),
        by: listed.by.clone(),
    }
}

impl FinishedWeight {
    /// `chosen` is the tube that the cage is to be built of; none while no class asks for one.
    pub(super) fn of(foreseen: &Foreseen, rules: Option<&RuleBook>, chosen: Option<&Tubes>, units: Units) -> Self {
        let outlook = match foreseen.outlook {
            Outlook::Crosses => ("▲", "over the edge of its class"),
            Outlook::TooClose => ("↔", "too close to call"),
            Outlook::Stays if foreseen.cage == CagePart::NotLaidOut => ("○", "the cage is not counted yet"),
            Outlook::Stays => ("■", "stays in its class"),
            Outlook::NoClass => ("○", "no class to stay in"),
        };
        let (wide, size) = DRAWN;
        let drawn = rules.filter(|rules| !rules.weight_classes.is_empty()).map(|rules| {
            let marks = weight_line(foreseen, &Classes { rules, chosen }, DRAWN, units);
            Svg::of(&marks, (wide, height(size)), |_| None)
        });
        let tells = foreseen.tells();
        let change = foreseen.finished - foreseen.weighed;
        let sign = if change < Mass::default() { "−" } else { "+" };
        Self {
            figures: foreseen.figures(units),
            tells,
            change: format!("{sign} {}", change.abs().show(units)),
            outlook: (outlook.0, outlook.1.to_owned()),
            look: matches!(foreseen.outlook, Outlook::Crosses | Outlook::TooClose),
            sentence: foreseen.describe(units).unwrap_or_default(),
            chance: foreseen.describe_chance().filter(|_| tells).unwrap_or_default(),
            drawn,
            sums: sums(foreseen, units),
            unspread: foreseen.unspread,
            then: foreseen.other.as_ref().map(|then| OtherClass {
                class: foreseen
                    .then
                    .as_ref()
                    .and_then(|then| then.as_ref().ok())
                    .map_or_else(String::new, |answer| answer.class.clone()),
                tubes: tubes(&then.tubes),
                remade: then.cage.map(|cage| (cage.show(units), then.finished.show(units))),
            }),
        }
    }
}

fn sums(foreseen: &Foreseen, units: Units) -> Vec<(String, String, String)> {
    let row = |words: &str, mass: String, spread: String| (words.to_owned(), mass, spread);
    let doubt = |mass: Mass| format!("± {}", (mass * 2.0).show(units));
    let cage = match foreseen.cage {
        CagePart::Weighed => row("The cage, already on the scale", "+ 0".to_owned(), String::new()),
        CagePart::NotLaidOut => row("The cage, not laid out", "not known".to_owned(), String::new()),
        CagePart::Model(mass) => {
            let off = format!("within {:.0} % (own choice)", CAGE_OFF * 100.0);
            row("The cage by the model: tube, gussets, plates", format!("+ {}", mass.show(units)), off)
        }
    };
    vec![
        row("Weighed", foreseen.weighed.show(units), doubt(foreseen.weighed_doubt)),
        row("Goes in yet", format!("+ {}", foreseen.goes_in.show(units)), String::new()),
        row("Comes out yet", format!("− {}", foreseen.comes_out.show(units)), String::new()),
        cage,
        row("Predicted finished weight", foreseen.finished.show(units), doubt(foreseen.doubt)),
    ]
}
