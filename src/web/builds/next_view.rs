//! A build's own sheet: what to do next. Of a new build its first steps, of one under way what is open, by who can do it and when.

use std::collections::HashMap;

use askama::Template;

use super::figures::{self, Figure};
use super::grouped::{self, Filter, Grouped, Whole, worst_first};
use super::lines::{Line, lines, things};
use super::picture;
use super::steps::{self, Step};
use crate::domain::derived::findings::Findings;
use crate::domain::derived::open_items::Sort;
use crate::domain::shop::people::{Deed, may};
use crate::web::gate::Seen;
use crate::web::page::Sheet;
use crate::web::svg::Svg;

/// Most lines that stand under the first steps: what is over or short is never folded away.
const ALERTS: usize = 5;

/// What to do next on one build.
#[derive(Template)]
#[template(path = "builds/next.html")]
pub(super) struct NextSheet {
    sheet: Sheet,
    name: String,
    about: String,
    event_day: String,
    /// Where this reader changes its name and its event day; empty for one who may not.
    edit: String,
    /// Where it takes its first book, or is moved to another edition; and in which words.
    edition: Option<(String, &'static str)>,
    figures: Vec<Figure>,
    cage: Option<Svg>,
    all: usize,
    see_all: String,
    body: Body,
    /// How many measures are left, and how many shots; where the one and the other go on.
    walk: Walk,
}

/// What of it is done on foot, with the phone.
struct Walk {
    measures: usize,
    shots: usize,
    base: String,
}

/// What stands beside the drawing.
enum Body {
    Steps { left: Vec<Step>, alerts: Vec<Line>, besides: usize },
    Groups(Grouped),
}

/// All that is open on a build, or on a group of it, page by page.
#[derive(Template)]
#[template(path = "builds/open.html")]
pub(super) struct OpenSheet {
    sheet: Sheet,
    things: usize,
    back: String,
    whole: Whole,
}

impl OpenSheet {
    /// The list that is asked for; none where the groups are.
    pub(super) fn of(seen: &Seen, found: &Findings, asked: &HashMap<String, String>) -> Option<Self> {
        let back = seen.address("");
        let whole = grouped::whole(asked, &back, lines(&seen.who, &seen.facts, found))?;
        Some(Self { sheet: seen.sheet("Open"), things: things(&whole.lines), back, whole })
    }
}

impl NextSheet {
    /// From what is recorded of it, and what is asked for.
    pub(super) fn of(seen: &Seen, found: &Findings, asked: &HashMap<String, String>) -> Self {
        let (facts, role) = (&seen.facts, seen.who.ctx.by.role);
        let open = lines(&seen.who, facts, found);
        let all = things(&open);
        let base = seen.address("");
        let body = if steps::begun(facts, found) {
            let besides = steps::besides(&open);
            // Nothing is wrong with a cage of which nothing is entered.
            let entered = |line: &Line| facts.cage.is_some() || !line.to.ends_with("/cage");
            let alerts = open.into_iter().filter(|line| line.sort != Sort::Missing && entered(line));
            let mut alerts: Vec<Line> = alerts.collect();
            alerts.sort_by_key(|line| worst_first(line.sort));
            alerts.truncate(ALERTS);
            Body::Steps { left: steps::left(seen, found), alerts, besides }
        } else {
            Body::Groups(Grouped::of(open, Filter::of(asked), &base))
        };
        let cage = match &body {
            Body::Groups(grouped) => {
                picture::of(seen, found, grouped.groups.iter().take(1).flat_map(|group| &group.lines))
            }
            Body::Steps { alerts, .. } => picture::of(seen, found, alerts.iter()),
        };
        let edition = match &facts.book {
            Some(_) if may(role, Deed::RunShop) => Some((seen.address("/edition"), "Move it to another edition")),
            None if may(role, Deed::RunShop) => Some((seen.address("/edition"), "Take a rule book")),
            None if may(role, Deed::SetUpBuilds) => Some((seen.address("/about"), "Take a rule book")),
            _ => None,
        };
        Self {
            sheet: seen.sheet("Next"),
            name: facts.build.name.clone(),
            about: facts.build.about.clone(),
            event_day: facts.build.event_day.map(|day| day.to_string()).unwrap_or_default(),
            edit: if may(role, Deed::SetUpBuilds) { seen.address("/about") } else { String::new() },
            edition,
            figures: figures::of(seen, found),
            cage,
            all,
            see_all: format!("{base}?see=all"),
            body,
            walk: Walk {
                measures: found.worked.record.missing().len(),
                shots: found.worked.shots.len().saturating_sub(found.worked.taken()),
                base,
            },
        }
    }

    /// Whether anything is done on foot: then its buttons stand at the bottom of a phone.
    fn walks(&self) -> bool {
        matches!(self.body, Body::Groups(_)) && !self.figures.is_empty() && self.walk.measures + self.walk.shots > 0
    }
}
