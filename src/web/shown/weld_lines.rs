//! Lines of the weld log as a joint's sheet and the log's own show them.

use crate::domain::recorded::welds::{Did, Weld};
use crate::web::gate::Seen;
use crate::web::page::part_address;
use crate::web::shown::picture::Picture;

/// One line.
pub(crate) struct WeldLine {
    /// Its number.
    pub(crate) line: u32,
    /// The joint, and where its sheet is.
    pub(crate) joint: String,
    pub(crate) to: String,
    /// What was done, on which day, by whom.
    pub(crate) word: String,
    pub(crate) day: String,
    pub(crate) who: String,
    /// What there is to say of it, sentence by sentence.
    pub(crate) said: Vec<String>,
    /// That it was welded while held, and why; empty where it was not.
    pub(crate) held: String,
    /// That it is struck through, why and by whom; empty while it stands.
    pub(crate) struck: String,
    /// When it was written and by whom.
    pub(crate) written: String,
    /// Its photographs.
    pub(crate) photos: Vec<Picture>,
    /// The shot that one more is told for, a name for it, and what is wrong with one that was sent.
    pub(crate) shot: String,
    pub(crate) capture: String,
    pub(crate) photo_why: String,
}

impl WeldLine {
    /// From a line of the log.
    pub(crate) fn of(seen: &Seen, weld: &Weld) -> Self {
        let clock = &seen.who.ctx.clock;
        let struck = weld.struck.as_ref();
        Self {
            line: weld.line,
            joint: weld.joint.to_string(),
            to: seen.address(&part_address(weld.joint)),
            word: weld.did.word(),
            day: weld.day.to_string(),
            who: weld.did.who().to_owned(),
            said: said(seen, weld),
            held: weld.held.as_ref().map(|why| format!("Welded while held: {why}.")).unwrap_or_default(),
            struck: struck.map(|struck| struck.describe(&clock.minute_of(struck.at))).unwrap_or_default(),
            written: format!("Line {}, written {} by {}.", weld.line, clock.minute_of(weld.at), weld.by),
            photos: weld.photos(&seen.facts.photos).into_iter().map(|photo| Picture::of(seen, photo)).collect(),
            shot: weld.shot(),
            capture: clock.new_id().to_string(),
            photo_why: String::new(),
        }
    }

    /// Every line of one joint, the newest first.
    pub(crate) fn of_joint(seen: &Seen, joint: crate::domain::words::ids::Balloon) -> Vec<Self> {
        let of_it = seen.facts.welds.iter().rev().filter(|weld| weld.joint == joint);
        of_it.map(|weld| Self::of(seen, weld)).collect()
    }
}

fn said(seen: &Seen, weld: &Weld) -> Vec<String> {
    let units = seen.who.units;
    let mut said = Vec::new();
    if let Did::Coupon(run) | Did::Welded(run) | Did::Repaired(run) = &weld.did {
        let qualified = &run.welder.qualification;
        let through = run.welder.expires.map(|last| format!(", good through {last}")).unwrap_or_default();
        if !qualified.is_empty() || run.welder.expires.is_some() {
            let name = if qualified.is_empty() { "Qualification" } else { qualified };
            said.push(format!("{name}{through}."));
        }
        said.push(format!("{}, {}.", run.process.word(), run.describe_positions()));
        let [filler, figures] = [run.describe_filler(), run.describe_figures(units)];
        said.extend([filler, figures].into_iter().filter(|words| !words.is_empty()).map(|words| format!("{words}.")));
        said.push(format!("Heat input {}.", run.describe_heat(units)));
    }
    if !weld.note.is_empty() {
        said.push(weld.note.clone());
    }
    said
}
