//! What rulings are worth to the verdicts they were given of: in their place while what was found stays the same, history after.

use super::verdicts::{Verdict, Word};
use crate::domain::recorded::rulings::{Lapsed, NewRuling, Ruled, Ruling};
use crate::quantity::Units;

/// What has become of a ruling, for one verdict.
enum Carried {
    InForce(Ruled),
    Lapsed(Lapsed),
}

impl NewRuling {
    /// True when a verdict is one of those it speaks of.
    pub fn speaks_of(&self, verdict: &Verdict) -> bool {
        self.rule == verdict.rule_id
            && verdict.word != Word::NotAsked
            && (self.of.is_none() || self.of == verdict.of)
            && (self.measure.is_none() || self.measure == verdict.measure)
    }

    /// What is found of what it speaks of, for the record: in metric, so that a reader's units are no difference.
    pub fn found(&self, verdicts: &[Verdict]) -> String {
        let spoken_of = verdicts.iter().filter(|verdict| self.speaks_of(verdict));
        spoken_of.map(found_of).collect::<Vec<_>>().join(APART)
    }
}

/// Between what was found of one part and of the next.
const APART: &str = "; ";

/// What is found of one part.
fn found_of(verdict: &Verdict) -> String {
    let of = verdict.of.map(|of| format!("{of} ")).unwrap_or_default();
    let measure = verdict.measure.map(|measure| format!("{} ", measure.word())).unwrap_or_default();
    let (description, figure) = (verdict.describe_state(Units::Metric), verdict.describe_figure(Units::Metric));
    format!("{of}{measure}{description} {figure}").trim().to_owned()
}

impl Ruling {
    /// Whether it stands in the place of a verdict as things are now.
    pub fn stands_in(&self, verdicts: &[Verdict]) -> bool {
        verdicts.iter().any(|verdict| verdict.ruling.as_ref().is_some_and(|ruled| ruled.place == self.place))
    }

    /// As a verdict carries it: a figure or an edition that is not the one ruled on takes its place away.
    fn carried(&self, verdict: &Verdict, edition: &str) -> Carried {
        let (place, stays) = (self.place, self.ruled.stays);
        let same = self.found.split(APART).any(|was| was == found_of(verdict));
        if same && self.edition == edition {
            return Carried::InForce(Ruled { place, stays, description: self.describe() });
        }
        let of = if same { String::new() } else { format!(" of another figure, {}", self.found) };
        let now = if self.edition == edition { String::new() } else { format!(" It is judged by {edition} now.") };
        let description = format!(
            "Ruling {place} was{of}: {}, “{}” ({}).{now} Ask the scrutineer again.",
            self.ruled.decided(),
            self.ruled.words,
            self.given()
        );
        Carried::Lapsed(Lapsed { place, stays, description })
    }
}

/// Puts each ruling that still holds in its verdicts' place, the newest of each, what was found beside it; one that holds no
/// more is told beside the verdict, whose word is what is found. `edition` is the book judged by.
pub(in crate::domain) fn apply(rulings: &[Ruling], edition: &str, verdicts: &mut [Verdict]) {
    for verdict in verdicts {
        let speaks = |ruling: &&Ruling| ruling.taken_back.is_none() && ruling.ruled.speaks_of(verdict);
        if let Some(ruling) = rulings.iter().rfind(speaks) {
            *verdict = match ruling.carried(verdict, edition) {
                Carried::InForce(ruled) => verdict.clone().ruled(ruled),
                Carried::Lapsed(lapsed) => verdict.clone().ruled_before(lapsed),
            };
        }
    }
}
