//! The figures of one weighing, recorded or as typed so far: its sum, its shares, its class and where it finishes.

use super::finished::FinishedWeight;
use crate::domain::book::kinds::TubeRow;
use crate::domain::book::{ClassAnswer, ClassTubes, NoClass, RuleBook};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::worked::if_weighed::IfWeighed;
use crate::domain::judge::verdicts::Weighed as ClassOf;
use crate::domain::weight::foreseen::Foreseen;
use crate::domain::weight::weigh_in::{Loads, Pads, Reading};
use crate::quantity::{Mass, Show as _, Units};

/// A figure and its unit, set in two sizes.
pub(super) struct Figure {
    pub(super) figure: String,
    pub(super) unit: String,
}

impl Figure {
    pub(super) fn of(text: &str) -> Self {
        let (figure, unit) = text.rsplit_once(' ').unwrap_or((text, ""));
        Self { figure: figure.to_owned(), unit: unit.to_owned() }
    }
}

/// A share of the car: per cent, and the mass it is of.
pub(super) struct Share {
    pub(super) percent: String,
    pub(super) mass: String,
    /// Two standard deviations; empty while the scale's step is not known.
    pub(super) doubt: String,
}

/// The axles, the sides and the diagonals.
pub(super) struct Shares {
    pub(super) front: Share,
    pub(super) rear: Share,
    pub(super) left: Share,
    pub(super) right: Share,
    /// RF + LR.
    pub(super) diagonal: Share,
    /// LF + RR: both conventions are in use.
    pub(super) other: Share,
}

impl Shares {
    fn of(pads: &Pads, doubts: Option<[String; 3]>, units: Units) -> Self {
        let [front, left, diagonal] = doubts.unwrap_or_default();
        let share = |one: Mass, other: Mass, doubt: &str| Share {
            percent: format!("{:.1} %", (one + other) / pads.total() * 100.0),
            mass: (one + other).show(units),
            doubt: doubt.to_owned(),
        };
        let [lf, rf, lr, rr] =
            [&pads.left_front, &pads.right_front, &pads.left_rear, &pads.right_rear].map(|pad| pad.value);
        Self {
            front: share(lf, rf, &front),
            rear: share(lr, rr, &front),
            left: share(lf, lr, &left),
            right: share(rf, rr, &left),
            diagonal: share(rf, lr, &diagonal),
            other: share(lf, rr, &diagonal),
        }
    }
}

/// The weight class that follows, and the tube it asks for.
pub(super) struct Class {
    pub(super) name: String,
    pub(super) edges: String,
    /// How far from the nearest edge; none of a class without one.
    pub(super) margin: Option<Figure>,
    pub(super) too_close: bool,
    /// How the finished car stands to it.
    pub(super) description: String,
    pub(super) tubes: Vec<(&'static str, String)>,
    pub(super) neighbours: Vec<(String, Vec<(&'static str, String)>)>,
}

impl Class {
    /// The class by this weighing, and the tube of the class that the finished car is in.
    fn of(weighed: &ClassOf, units: Units) -> Self {
        let (now, asks) = (&weighed.now, weighed.asks());
        let near = asks.into_iter().flat_map(|asks| &asks.neighbours);
        Self {
            name: now.class.clone(),
            edges: now.edges_in(units),
            margin: now.edge.map(|edge| Figure::of(&edge.show(units))),
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

/// What follows from a reading, wherever it was worked out.
struct Follows<'f> {
    class: Option<&'f Result<ClassAnswer, NoClass>>,
    weighed: Option<&'f ClassOf>,
    foreseen: Option<&'f Foreseen>,
    rules: Option<&'f RuleBook>,
}

/// The figures; each is missing while what it comes of is.
#[derive(Default)]
pub(super) struct Figures {
    pub(super) total: Option<Figure>,
    /// Two standard deviations of the total; empty while the scale's step is not known.
    pub(super) doubt: String,
    pub(super) doubt_from: String,
    /// Whether it is the sum of four pads.
    pub(super) of_pads: bool,
    pub(super) shares: Option<Shares>,
    pub(super) class: Option<Class>,
    pub(super) no_class: String,
    pub(super) finished: Option<FinishedWeight>,
}

impl Figures {
    /// Of the newest weighing, as recorded.
    pub(super) fn recorded(reading: &Reading, found: &Findings, units: Units) -> Self {
        let worked = &found.worked;
        let follows = Follows {
            class: worked.class.as_ref(),
            weighed: worked.weighed.as_ref(),
            foreseen: worked.foreseen.as_ref(),
            rules: worked.rules.as_ref(),
        };
        Self::of(reading, &follows, units)
    }

    /// Of a reading that is typed, as if it were recorded.
    pub(super) fn typed(tried: &IfWeighed, found: &Findings, units: Units) -> Self {
        let follows = Follows {
            class: tried.class.as_ref(),
            weighed: tried.weighed.as_ref(),
            foreseen: Some(&tried.foreseen),
            rules: found.worked.rules.as_ref(),
        };
        Self::of(&tried.reading, &follows, units)
    }

    /// Of loads whose scale is not known yet: their sum and shares alone.
    pub(super) fn loads(loads: &Loads, units: Units) -> Self {
        Self {
            total: Some(Figure::of(&loads.total().show(units))),
            of_pads: loads.pads().is_some(),
            shares: loads.pads().map(|pads| Shares::of(pads, None, units)),
            ..Self::default()
        }
    }

    fn of(reading: &Reading, follows: &Follows<'_>, units: Units) -> Self {
        let doubts = reading.shares().map(|shares| shares.map(|shared| shared.describe_doubt()));
        Self {
            total: Some(Figure::of(&reading.total().show(units))),
            doubt: (reading.doubt() * 2.0).show(units),
            doubt_from: reading.doubt_from(),
            of_pads: reading.loads.pads().is_some(),
            shares: reading.loads.pads().map(|pads| Shares::of(pads, doubts, units)),
            class: follows.weighed.map(|weighed| Class::of(weighed, units)),
            no_class: match (follows.weighed, follows.class) {
                (None, Some(Err(why))) => why.to_string(),
                _ => String::new(),
            },
            finished: follows.foreseen.map(|foreseen| {
                let chosen = follows.weighed.and_then(ClassOf::planned);
                FinishedWeight::of(foreseen, follows.rules, chosen.as_ref(), units)
            }),
        }
    }
}
