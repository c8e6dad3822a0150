//! The weight class that a car's tube goes by: that of the finished car, on the scale or foreseen, never of the bare one alone.

use crate::domain::book::{ClassAnswer, RuleBook};
use crate::domain::cage::Tubes;
use crate::domain::weight::foreseen::{CagePart, Foreseen};
use crate::quantity::{Show as _, Units};

/// How the class of the finished car is known.
#[derive(Debug, Clone, PartialEq)]
pub enum Finished {
    /// It stood on the scale with its cage in: the weighing itself says.
    OnTheScale,
    /// It was weighed without its cage, and finishes in this class by what is known.
    Foreseen(ClassAnswer),
    /// It was weighed without its cage, and finishes in no class of the book, for this reason.
    InNoClass(String),
    /// It was weighed without its cage, and how much that adds is not known yet.
    NotKnown,
}

/// A weighed car's class, and the one it finishes in.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// The class by the newest weighing alone.
    pub now: ClassAnswer,
    /// The class of the finished car.
    pub finished: Finished,
}

impl Weighed {
    /// From the finished weight foreseen; none where the weighing gives no class. `whole` says whether every bar that was
    /// chosen is laid out: a cage that lacks some weighs more than what is drawn.
    pub fn of(foreseen: &Foreseen, rules: &RuleBook, whole: bool) -> Option<Self> {
        let now = foreseen.now.as_ref()?.as_ref().ok()?.clone();
        let finished = match (&foreseen.cage, &foreseen.then) {
            (CagePart::Weighed, _) if !foreseen.tells() => Finished::OnTheScale,
            (_, Some(Ok(then))) => {
                let no_upper_edge = rules.bounds(&then.rule_id).is_some_and(|bounds| bounds.1.is_none());
                let known = match foreseen.cage {
                    CagePart::Weighed => true,
                    CagePart::Model(_) => whole,
                    CagePart::NotLaidOut => false,
                };
                // More weight does not lead out of a class that has no upper edge.
                if known || (no_upper_edge && !then.too_close) {
                    Finished::Foreseen(then.clone())
                } else {
                    Finished::NotKnown
                }
            }
            (_, Some(Err(why))) => Finished::InNoClass(why.to_string()),
            (_, None) => Finished::NotKnown,
        };
        Some(Self { now, finished })
    }

    /// The class whose tubes are asked for, the classes that the doubt reaches among its neighbours; none where the finished
    /// car is in no class.
    pub const fn asks(&self) -> Option<&ClassAnswer> {
        match &self.finished {
            Finished::OnTheScale | Finished::NotKnown => Some(&self.now),
            Finished::Foreseen(then) => Some(then),
            Finished::InNoClass(_) => None,
        }
    }

    /// The tubes that a cage is planned in: those of the class it finishes in, and where the doubt reaches a class beside
    /// that asks for more steel, of that one.
    pub fn planned(&self) -> Option<Tubes> {
        let asks = self.asks()?;
        let all = std::iter::once(&asks.tubes).chain(asks.neighbours.iter().map(|beside| &beside.tubes));
        let steel = |tubes: &Tubes| tubes.hoop.area().mm2() + tubes.other.area().mm2();
        all.filter_map(crate::domain::book::ClassTubes::first)
            .reduce(|one, other| if steel(&other) > steel(&one) { other } else { one })
    }

    /// How the car stands to its class, in a few words: of one that was weighed without its cage, what it finishes at.
    pub fn describe(&self, units: Units) -> String {
        let edge = |answer: &ClassAnswer| answer.edge.map(|edge| edge.abs().show(units));
        let inside =
            |answer: &ClassAnswer| edge(answer).map(|edge| format!(", {edge} from its edge")).unwrap_or_default();
        let class = &self.now.class;
        match &self.finished {
            Finished::OnTheScale if self.now.too_close => format!("class {class}: too close to call"),
            Finished::OnTheScale => format!("class {class}{}", inside(&self.now)),
            Finished::Foreseen(then) if then.too_close => {
                format!("weighs in class {class}; too close to call when finished")
            }
            Finished::Foreseen(then) if then.rule_id == self.now.rule_id => {
                format!("class {class}, predicted to finish in it{}", inside(then))
            }
            Finished::Foreseen(then) => {
                let by = edge(then).map(|edge| format!(", {edge} over the edge")).unwrap_or_default();
                format!("weighs in class {class}; predicted to finish in class {}{by}", then.class)
            }
            Finished::InNoClass(_) => format!("weighs in class {class}; predicted to finish in no class of the book"),
            Finished::NotKnown => format!("weighs in class {class}; what it finishes at is not known yet"),
        }
    }
}
