//! The rule beside the lines: all it says of every part.

use glam::DVec2;

use crate::domain::book::Force;
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::shop::people::{Deed, may};
use crate::drawing::Mark;
use crate::drawing::gauge::gauge;
use crate::quantity::Length;
use crate::web::gate::Seen;
use crate::web::page::{in_address, part_address, two_tubes_address};
use crate::web::shown::judged::Judged;
use crate::web::svg::Svg;

/// Its gauge, mm.
const GAUGE: DVec2 = DVec2::new(88.0, 9.0);

/// More verdicts of one rule alike in their word than this are folded into one line that opens.
const ALIKE: usize = 3;

/// One rule, with its worst part large.
pub(super) struct Chosen {
    pub(super) judged: Judged,
    pub(super) force: &'static str,
    /// The figure against its limit; the words say the same.
    pub(super) gauge: Option<Svg>,
    /// Where the book's tube stands beside the bar's; empty for other rules.
    pub(super) beside: String,
    pub(super) groups: Vec<Group>,
}

/// A gauge's marks as they stand in the page.
pub(super) fn drawn(marks: &[Mark], size: DVec2) -> Svg {
    Svg::of(marks, (Length::from_mm(size.x), Length::from_mm(size.y)), |_| None)
}

/// How hard a rule binds, where it is not simply asked.
pub(super) const fn force(force: Force) -> &'static str {
    match force {
        Force::Must => "",
        Force::Should => "recommended",
        Force::May => "allowed",
        Force::Scrutineer => "the scrutineer decides",
    }
}

/// Verdicts alike in their word.
pub(super) struct Group {
    pub(super) word: Word,
    /// Alike verdicts that are folded; empty when it is one.
    pub(super) folded: String,
    pub(super) lines: Vec<Line>,
}

/// What a rule says of one part.
pub(super) struct Line {
    pub(super) judged: Judged,
    pub(super) of: String,
    pub(super) to: String,
    /// The figure with what it measures.
    pub(super) figure: String,
    /// Where a ruling on it is recorded; empty for who may not.
    pub(super) rule: String,
}

impl Chosen {
    /// The rule of these verdicts, with the one that stands for it.
    pub(super) fn of(seen: &Seen, found: &Findings, worst: &Verdict, verdicts: &[Verdict]) -> Self {
        let mut groups = Vec::new();
        for word in Word::ALL {
            let alike: Vec<Line> =
                verdicts.iter().filter(|verdict| verdict.word == word).map(|verdict| line(seen, verdict)).collect();
            if alike.len() > ALIKE {
                let folded = format!("{} parts: {}", alike.len(), word);
                groups.push(Group { word, folded, lines: alike });
            } else if !alike.is_empty() {
                groups.push(Group { word, folded: String::new(), lines: alike });
            }
        }
        groups.sort_by_key(|group| group.word != worst.word);
        let beside = beside(found, verdicts).unwrap_or_default();
        let gauge = gauge(worst, GAUGE).map(|marks| drawn(&marks, GAUGE));
        Self { judged: Judged::of(seen, worst), force: force(worst.force), gauge, beside, groups }
    }
}

/// The book's tube beside that of a bar, the first that does not reach it where there is one.
fn beside(found: &Findings, verdicts: &[Verdict]) -> Option<String> {
    let of_class =
        |rule: &str| found.worked.rules.iter().flat_map(|rules| &rules.weight_classes).any(|c| c.rule.id == rule);
    let bars = || verdicts.iter().filter(|verdict| found.worked.tubes_asked && of_class(&verdict.rule_id));
    let worst = bars().find(|verdict| verdict.of.is_some() && verdict.word != Word::Meets);
    let bar = found.worked.cage.member(worst.or_else(|| bars().find(|verdict| verdict.of.is_some()))?.of?)?;
    Some(two_tubes_address(&found.worked.tubes.of(bar.role), Some(&bar.tube)))
}

fn line(seen: &Seen, verdict: &Verdict) -> Line {
    let judged = Judged::of(seen, verdict);
    let measure = verdict.measure.map(|measure| format!("{} ", measure.word())).unwrap_or_default();
    let rules = may(seen.who.ctx.by.role, Deed::Reply) && verdict.word != Word::NotAsked;
    let about = |name: &str, value: Option<String>| value.map(|value| format!("&{name}={}", in_address(&value)));
    let of = about("of", verdict.of.map(|of| of.to_string())).unwrap_or_default();
    let kind = about("measure", verdict.measure.map(|measure| measure.word().to_owned())).unwrap_or_default();
    let rule = seen.address(&format!("/rulings?rule={}{of}{kind}", in_address(&verdict.rule_id)));
    Line {
        rule: if rules { rule } else { String::new() },
        of: verdict.of.map(|of| of.to_string()).unwrap_or_default(),
        to: verdict.of.map(|of| seen.address(&part_address(of))).unwrap_or_default(),
        figure: format!("{measure}{}", judged.figure).trim().to_owned(),
        judged,
    }
}
