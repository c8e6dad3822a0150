//! What a scrutineer answers of each part of a round, before the reply is signed: only added to, the newest of a part stands.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::domain::recorded::mark_ups::{Drawn, Place, Shape};
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::Balloon;
use crate::domain::words::limits;
use crate::quantity::Share;

/// How an item of a reply begins that asks for a change.
pub const CHANGE_ASKED: &str = "Change asked: ";

/// One of the three answers to a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PartAnswer {
    /// It may stay as the round shows it.
    Accepted,
    /// Something of it must be changed first.
    ChangeWanted,
    /// Something of it must be said or shown first.
    Question,
}

impl PartAnswer {
    /// All of them, as they are offered.
    pub const ALL: [Self; 3] = [Self::Accepted, Self::ChangeWanted, Self::Question];

    /// The word for it, as stored and shown.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Accepted => "accepted",
            Self::ChangeWanted => "change wanted",
            Self::Question => "question",
        }
    }

    /// The answer of a stored word.
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|answer| answer.word() == word)
    }
}

/// Most marks that one answer makes on photographs (own choice: more of them hide what they point at).
pub const MOST_MARKS: usize = 10;
/// The radius of a mark, as a part of the picture's width.
const RADIUS: f64 = 0.06;

/// What an answer points at: a place on a photograph that the round shows of the part, in thousandths of the upright picture.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PhotoMark {
    /// The photograph.
    pub sha256: Fingerprint,
    /// From its left edge, 0 to 1000.
    pub across: u16,
    /// From its top edge, 0 to 1000.
    pub down: u16,
}

impl PhotoMark {
    /// The circle that is drawn for it.
    pub fn drawn(&self) -> Drawn {
        let part = |of: u16| f64::from(of) / 1_000.0;
        let place = |across: f64| Place { across: Share::from_ratio(across), down: Share::from_ratio(part(self.down)) };
        let middle = part(self.across);
        Drawn { shape: Shape::Circle, from: place(middle), to: place(middle + RADIUS), of: None }
    }

    /// Where it is, in words.
    pub fn place(&self) -> String {
        let tenths = |of: u16| format!("{}.{} %", of / 10, of % 10);
        format!("{} from the left, {} from the top", tenths(self.across), tenths(self.down))
    }
}

/// As a form sends it: photograph, across, down.
impl fmt::Display for PhotoMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.sha256, self.across, self.down)
    }
}

/// The text is no mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("this is no mark on a photograph")]
pub struct NoMark;

impl FromStr for PhotoMark {
    type Err = NoMark;

    fn from_str(text: &str) -> Result<Self, NoMark> {
        let mut parts = text.split(':');
        let [Some(sha256), Some(across), Some(down), None] = [parts.next(), parts.next(), parts.next(), parts.next()]
        else {
            return Err(NoMark);
        };
        let part = |text: &str| text.parse().map_err(|_| NoMark);
        Ok(Self { sha256: sha256.parse().map_err(|_| NoMark)?, across: part(across)?, down: part(down)? })
    }
}

/// What somebody answered of a part of a round.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Reviewed {
    /// From 1 in the shop, in the order they were saved.
    pub number: i64,
    /// The part.
    pub part: Balloon,
    /// The answer; none where only a remark was kept so far.
    pub answer: Option<PartAnswer>,
    /// The remark under it.
    pub remark: String,
    /// What it points at on the round's photographs of the part.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<PhotoMark>,
    /// When it was saved.
    pub at: Timestamp,
    /// By whom.
    pub by: String,
}

impl Reviewed {
    /// Whether it wants something of the shop.
    pub fn wants(&self) -> bool {
        matches!(self.answer, Some(PartAnswer::ChangeWanted | PartAnswer::Question))
    }

    /// What is asked of the shop, as its list of questions says it; none where nothing is wanted.
    pub fn item(&self) -> Option<String> {
        match self.answer? {
            PartAnswer::Accepted => None,
            PartAnswer::ChangeWanted => Some(format!("{CHANGE_ASKED}{}", self.remark)),
            PartAnswer::Question => Some(self.remark.clone()),
        }
    }
}

/// An answer as it is entered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewReviewed {
    /// The round it answers.
    pub round: u32,
    /// The part.
    pub part: Balloon,
    /// The answer; none to keep a remark alone.
    pub answer: Option<PartAnswer>,
    /// The remark under it.
    pub remark: String,
    /// What it points at on the round's photographs of the part.
    pub marks: Vec<PhotoMark>,
    /// The number of the answer that stood when this was written; 0 where there was none.
    pub seen: i64,
}

impl NewReviewed {
    /// What is wrong with it by itself, if anything.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        if self.remark.chars().count() > limits::REMARK {
            faults.push(Fault::new("remark", format!("A remark has at most {} characters.", limits::REMARK)));
        }
        faults.extend(self.mark_faults());
        let why = match self.answer {
            Some(PartAnswer::ChangeWanted) => "Say what is to be changed.",
            Some(PartAnswer::Question) => "Write the question.",
            None => "Choose one of the three answers, or write a remark.",
            Some(PartAnswer::Accepted) => return faults,
        };
        if self.remark.trim().is_empty() {
            faults.push(Fault::new("remark", why));
        }
        faults
    }

    fn mark_faults(&self) -> Option<Fault> {
        let beyond = |mark: &PhotoMark| mark.across > 1_000 || mark.down > 1_000;
        if self.marks.len() > MOST_MARKS {
            return Some(Fault::new(
                "marks",
                format!("An answer has at most {MOST_MARKS} marks. Take some of them off."),
            ));
        }
        if self.marks.iter().any(beyond) {
            return Some(Fault::new("marks", "A mark lies beside its photograph. Take it off and put it again."));
        }
        let wants = matches!(self.answer, Some(PartAnswer::ChangeWanted | PartAnswer::Question));
        (!wants && !self.marks.is_empty()).then(|| {
            Fault::new("marks", "A mark goes with a change or a question: choose one of them, or take the mark off.")
        })
    }

    /// Whether it says what stands already.
    pub fn says(&self, stands: &Reviewed) -> bool {
        self.answer == stands.answer && self.remark.trim() == stands.remark && self.marks == stands.marks
    }
}

/// The answers that stand: of each part the newest.
pub fn standing(all: &[Reviewed]) -> BTreeMap<Balloon, &Reviewed> {
    all.iter().map(|reviewed| (reviewed.part, reviewed)).collect()
}

/// The number of the newest answer; 0 before the first.
pub fn newest(all: &[Reviewed]) -> i64 {
    all.iter().map(|reviewed| reviewed.number).max().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_says_what_it_asks_and_an_acceptance_need_not() {
        let with = |answer, remark: &str| {
            let (part, remark) = ("J7".parse().unwrap(), remark.to_owned());
            let new = NewReviewed { round: 1, part, answer, remark, marks: Vec::new(), seen: 0 };
            new.faults().into_iter().map(|fault| fault.why).collect::<Vec<_>>().join(" ")
        };
        assert_eq!(with(Some(PartAnswer::Accepted), ""), "");
        assert_eq!(with(Some(PartAnswer::ChangeWanted), " "), "Say what is to be changed.");
        assert_eq!(with(Some(PartAnswer::Question), ""), "Write the question.");
        assert_eq!(with(None, ""), "Choose one of the three answers, or write a remark.");
        assert_eq!(with(None, "look again"), "");
        assert!(with(Some(PartAnswer::Accepted), &"x".repeat(limits::REMARK + 1)).contains("at most"));
        for answer in PartAnswer::ALL {
            assert_eq!(PartAnswer::of(answer.word()), Some(answer));
        }
    }

    #[test]
    fn a_mark_is_on_its_photograph_and_goes_with_what_is_wanted() {
        let mark = |across, down| PhotoMark { sha256: Fingerprint::of(b"photo"), across, down };
        let with = |answer, marks| {
            let (part, remark) = ("J7".parse().unwrap(), "here".to_owned());
            let new = NewReviewed { round: 1, part, answer: Some(answer), remark, marks, seen: 0 };
            new.faults().into_iter().map(|fault| fault.why).collect::<Vec<_>>().join(" ")
        };
        let edges = vec![mark(0, 0), mark(1_000, 1_000)];
        assert_eq!(with(PartAnswer::Question, edges.clone()), "");
        assert_eq!(with(PartAnswer::ChangeWanted, vec![mark(500, 500); MOST_MARKS]), "");
        assert!(with(PartAnswer::ChangeWanted, vec![mark(500, 500); MOST_MARKS + 1]).contains("at most"));
        assert!(with(PartAnswer::Question, vec![mark(1_001, 5)]).contains("beside its photograph"));
        assert!(with(PartAnswer::Accepted, edges).contains("take the mark off"));
        assert_eq!(mark(3, 997).to_string().parse(), Ok(mark(3, 997)));
        for other in ["", "x:1:2", &mark(1, 2).to_string().replace(":2", ":-2"), &format!("{}:3", mark(1, 2))] {
            assert_eq!(other.parse::<PhotoMark>(), Err(NoMark), "{other}");
        }
    }
}
