//! How far a scale may be off, by its accuracy class or its certificate, and what that adds to a weighing's doubt.

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::scale_class::{Looked, ScaleClass};
use crate::domain::words::faults::Fault;
use crate::domain::words::limits;
use crate::quantity::{Mass, Share, Typed};

/// The largest share that is taken of a certificate (own choice: a scale worse than that weighs no class).
const MOST_SHARE: Share = Share::from_ratio(0.05);
/// The largest error that is taken of one display.
const MOST: Mass = Mass::from_kg(50.0);

/// How far each display may be off.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Accuracy {
    /// What its class allows at its load (OIML R 76-1, table 6).
    Class(ScaleClass, Looked),
    /// At most this share of what it reads.
    Share(Typed<Share>),
    /// At most so much.
    Limits(Typed<Mass>),
    /// The certificate's expanded uncertainty, with a coverage factor of 2.
    Expanded(Typed<Mass>),
}

impl Accuracy {
    /// One standard deviation of displays that read these loads together. Pads that were checked against one weight share
    /// their error, so that the errors add up with the same sign: the safe figure (GUM 5.2.2). Limits are a rectangle
    /// (GUM 4.3.7), an expanded uncertainty is twice the deviation (GUM 6.2.1). None above what the class may weigh.
    pub fn deviation(&self, loads: &[Mass], step: Mass) -> Option<Mass> {
        let rectangle = |limits: Mass| limits / 3.0_f64.sqrt();
        let sum = |each: &dyn Fn(Mass) -> Mass| loads.iter().map(|load| each(*load)).sum::<Mass>();
        match self {
            Self::Class(class, looked) => {
                let each = loads.iter().map(|load| class.permissible(*load, step, *looked));
                each.collect::<Option<Vec<Mass>>>().map(|each| rectangle(each.into_iter().sum()))
            }
            Self::Share(share) => Some(rectangle(sum(&|load| load * share.value.ratio()))),
            Self::Limits(most) => Some(rectangle(sum(&|_| most.value))),
            Self::Expanded(twice) => Some(sum(&|_| twice.value / 2.0)),
        }
    }

    /// In words: "class III, in service", "0.1 % of the reading", "± 0.5 kg", "± 0.5 kg (k = 2)".
    pub fn describe(&self) -> String {
        match self {
            Self::Class(class, looked) => format!("class {}, {}", class.word(), looked.word()),
            Self::Share(share) => format!("± {} of each reading", share.text),
            Self::Limits(most) => format!("each display at most {} off", most.text),
            Self::Expanded(twice) => format!("each display ± {} (k = 2)", twice.text),
        }
    }
}

/// A scale's paper as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewPaper {
    /// Which scale, and who checked it.
    pub name: String,
    /// The certificate's number; empty where there is none.
    pub number: String,
    /// The day it was checked.
    pub checked: Option<Date>,
    /// What it says.
    pub accuracy: Accuracy,
}

impl NewPaper {
    /// What is wrong with it, if anything.
    pub fn faults(&self, today: Date) -> Vec<Fault> {
        let mut faults = limits::title_faults("paper_name", &self.name);
        if !self.number.is_empty() {
            faults.extend(limits::title_faults("paper_number", &self.number));
        }
        if self.checked.is_some_and(|day| day > today) {
            faults.push(Fault::new("paper_checked", "This day is still to come."));
        }
        match &self.accuracy {
            Accuracy::Share(share) if share.value <= Share::default() || share.value > MOST_SHARE => {
                faults.push(Fault::new("paper_figure", "A share is more than nothing and at most 5 %."));
            }
            Accuracy::Limits(most) | Accuracy::Expanded(most) if most.value <= Mass::default() || most.value > MOST => {
                faults.push(Fault::new("paper_figure", "This is more than nothing and at most 50 kg (110 lb)."));
            }
            Accuracy::Class(..) | Accuracy::Share(_) | Accuracy::Limits(_) | Accuracy::Expanded(_) => {}
        }
        faults
    }
}

/// A scale's paper as a weigh-in goes by it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Paper {
    /// 1, 2 … in the build.
    pub place: u32,
    /// Which scale, and who checked it.
    pub name: String,
    /// The certificate's number; empty where there is none.
    pub number: String,
    /// The day it was checked.
    pub checked: Option<Date>,
    /// What it says.
    pub accuracy: Accuracy,
}

impl Paper {
    /// In a line: scale, certificate, day, accuracy.
    pub fn describe(&self) -> String {
        let number = if self.number.is_empty() { String::new() } else { format!(", certificate {}", self.number) };
        let checked = self.checked.map(|day| format!(", checked {day}")).unwrap_or_default();
        format!("{}{number}{checked}: {}", self.name, self.accuracy.describe())
    }
}

/// A paper with its trace.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Filed {
    /// The paper.
    pub paper: Paper,
    /// When it was recorded.
    pub recorded: Timestamp,
    /// Who recorded it.
    pub by: String,
}
