//! The weld log: what was welded, inspected and repaired at each joint. Only added to; a wrong line is struck through.

pub mod order;
pub mod process;
pub mod run;
pub mod stage;

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use self::process::{Level, Outcome};
use self::run::Run;
use super::notes::Struck;
use super::photos::Photo;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::limits;

/// What was done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Did {
    /// A practice coupon, welded before the joint.
    Coupon(Run),
    /// The seam was welded.
    Welded(Run),
    /// It was cut out or ground, and welded again.
    Repaired(Run),
    /// It was looked at.
    Inspected(Inspection),
}

/// A visual inspection.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Inspection {
    /// By which level of ISO 5817.
    pub level: Level,
    /// What it came to.
    pub outcome: Outcome,
    /// Who looked.
    pub inspector: String,
}

impl Did {
    /// The kinds with their words, as they are offered.
    pub const KINDS: [(&'static str, &'static str); 4] = [
        ("welded", "Welded"),
        ("inspected", "Inspected"),
        ("repaired", "Repaired: welded again"),
        ("coupon", "Practice coupon"),
    ];

    /// Its kind's name in forms.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Coupon(_) => "coupon",
            Self::Welded(_) => "welded",
            Self::Repaired(_) => "repaired",
            Self::Inspected(_) => "inspected",
        }
    }

    /// What it says of the joint, in few words.
    pub fn word(&self) -> String {
        match self {
            Self::Coupon(_) => "practice coupon".to_owned(),
            Self::Welded(_) => "welded".to_owned(),
            Self::Repaired(_) => "repaired".to_owned(),
            Self::Inspected(Inspection { level, outcome, .. }) => {
                let came = match outcome {
                    Outcome::Accepted => "inspected and accepted",
                    Outcome::Repair => "inspected, repair wanted",
                };
                format!("{came}, ISO 5817 level {}", level.letter())
            }
        }
    }

    /// How it was run; none of an inspection.
    pub const fn run(&self) -> Option<&Run> {
        match self {
            Self::Coupon(run) | Self::Welded(run) | Self::Repaired(run) => Some(run),
            Self::Inspected(_) => None,
        }
    }

    /// The run of what melts the joint itself: a coupon does not.
    pub const fn on_the_joint(&self) -> Option<&Run> {
        match self {
            Self::Welded(run) | Self::Repaired(run) => Some(run),
            Self::Coupon(_) | Self::Inspected(_) => None,
        }
    }

    /// Who did it.
    pub fn who(&self) -> &str {
        match self {
            Self::Coupon(run) | Self::Welded(run) | Self::Repaired(run) => &run.welder.name,
            Self::Inspected(inspection) => &inspection.inspector,
        }
    }
}

/// A line of the weld log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Weld {
    /// From 1 in the build; never given out twice.
    pub line: u32,
    /// The joint, or the plate that a foot is welded to.
    pub joint: Balloon,
    /// The day it was done.
    pub day: Date,
    /// What was done.
    pub did: Did,
    /// What there is to say beside it.
    pub note: String,
    /// Why the joint was held when it was welded; none where it was released, and of what melts no joint.
    pub held: Option<String>,
    /// When it was written.
    pub at: Timestamp,
    /// By whom.
    pub by: String,
    /// That it is wrong; none while it stands.
    pub struck: Option<Struck>,
}

/// How the name of the shot begins, behind its joint, that a photograph of a line of the log has; the line's number follows.
const LINE_SHOT: &str = "weld-line/";

/// Whether a photograph was taken of one of these lines of the weld log, by the shot it was told for.
pub fn is_of_a_line<'w>(photo: &Photo, welds: impl IntoIterator<Item = &'w Weld>) -> bool {
    photo.shot.contains(LINE_SHOT) && welds.into_iter().any(|weld| weld.shot() == photo.shot)
}

impl Weld {
    /// The shot of its photographs.
    pub fn shot(&self) -> String {
        format!("{} {LINE_SHOT}{}", self.joint, self.line)
    }

    /// Its photographs that are kept, in the order they came: those taken of it, and the one that was chosen when it was written.
    pub fn photos<'p>(&self, photos: &'p [Photo]) -> Vec<&'p Photo> {
        let (shot, chosen) = (self.shot(), self.did.run().and_then(|run| run.photo));
        photos.iter().filter(|photo| photo.kept() && (photo.shot == shot || Some(photo.capture) == chosen)).collect()
    }

    /// Whether it counts.
    pub const fn stands(&self) -> bool {
        self.struck.is_none()
    }

    /// That a joint was welded while it was held, as the scrutineer is told; none where it was not, or the line is struck.
    pub fn describe_held(&self) -> Option<String> {
        let why = self.held.as_ref().filter(|_| self.stands())?;
        Some(format!("welded while held, {}, by {} ({why}; line {})", self.day, self.did.who(), self.line))
    }
}

/// The newest line of a joint; 0 before the first.
pub fn newest_of(welds: &[Weld], joint: Balloon) -> u32 {
    welds.iter().filter(|weld| weld.joint == joint).map(|weld| weld.line).max().unwrap_or_default()
}

/// A line as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct NewWeld {
    /// The joint, or the plate.
    pub joint: Balloon,
    /// The day it was done.
    pub day: Date,
    /// What was done.
    pub did: Did,
    /// What there is to say beside it.
    pub note: String,
    /// The joint's newest line when this was written; 0 where there was none.
    pub seen: u32,
}

impl NewWeld {
    /// What is wrong with it by itself, if anything.
    pub fn faults(&self, today: Date) -> Vec<Fault> {
        let mut faults = limits::text_faults("note", &self.note);
        if !matches!(self.joint.kind, Kind::Joint | Kind::Plate) {
            faults.push(Fault::new("joint", "A weld is logged at a joint or at a foot's plate, as J7 or P1."));
        }
        if self.day > today {
            faults.push(Fault::new("day", "This day has not come yet."));
        }
        match &self.did {
            Did::Coupon(run) | Did::Welded(run) | Did::Repaired(run) => faults.extend(run.faults()),
            Did::Inspected(inspection) => faults.extend(limits::title_faults("inspector", &inspection.inspector)),
        }
        faults
    }

    /// What is wrong with it beside what stands in the log, if anything: a repair and an inspection are of a weld.
    pub fn faults_beside(&self, welds: &[Weld]) -> Vec<Fault> {
        let of_it = || welds.iter().filter(|weld| weld.stands() && weld.joint == self.joint);
        let last = of_it().filter(|weld| weld.did.on_the_joint().is_some()).map(|weld| weld.day).max();
        let joint = self.joint;
        match (&self.did, last) {
            _ if welds.len() >= limits::WELD_LINES => {
                vec![Fault::new("joint", format!("A weld log has at most {} lines.", limits::WELD_LINES))]
            }
            (Did::Repaired(_) | Did::Inspected(_), None) => {
                vec![Fault::new("did", format!("No weld of {joint} is logged: log the weld first."))]
            }
            (Did::Repaired(_) | Did::Inspected(_), Some(last)) if self.day < last => {
                vec![Fault::new("day", format!("{joint} was welded on {last}: this comes after it."))]
            }
            (Did::Welded(_), Some(last)) => {
                let why = format!("{joint} is logged as welded on {last}. Log a repair, or strike that line through.");
                vec![Fault::new("did", why)]
            }
            _ => Vec::new(),
        }
    }

    /// Whether a line says just this, written by this person.
    pub fn says(&self, weld: &Weld, by: &str) -> bool {
        weld.stands()
            && (weld.joint, weld.day) == (self.joint, self.day)
            && weld.did == self.did
            && weld.note == self.note.trim()
            && weld.by == by
    }
}
