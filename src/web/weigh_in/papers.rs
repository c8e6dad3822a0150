//! The papers of the scales: the list, and the form for one more.

use crate::domain::weight::scale_class::{Looked, ScaleClass};
use crate::domain::weight::scale_paper::{Accuracy, NewPaper};
use crate::quantity::{Mass, Share};
use crate::web::form::{Field, Form};
use crate::web::gate::Seen;

/// What a paper may say: the key, and the words.
const KINDS: [(&str, &str); 7] = [
    ("III-service", "class III, in service"),
    ("III-verified", "class III, when verified"),
    ("IIII-service", "class IIII, in service"),
    ("IIII-verified", "class IIII, when verified"),
    ("share", "a share of what each display reads"),
    ("limits", "each display at most so much off"),
    ("expanded", "expanded uncertainty of each display, k = 2"),
];

/// The papers, and the form.
pub(super) struct Papers {
    pub(super) lines: Vec<(String, String)>,
    pub(super) fields: Vec<Field>,
    pub(super) base: String,
}

impl Papers {
    /// From the papers recorded, and what was typed so far.
    pub(super) fn of(seen: &Seen, form: &Form) -> Self {
        let clock = &seen.who.ctx.clock;
        let kinds = KINDS.map(|(key, words)| (key.to_owned(), words.to_owned()));
        let lines = seen.facts.papers.iter();
        Self {
            lines: lines
                .map(|filed| (filed.paper.describe(), format!("{}, {}", filed.by, clock.day_of(filed.recorded))))
                .collect(),
            fields: vec![
                form.field("paper_name", "Which scale, and who checked it"),
                form.field("paper_number", "The certificate's number").hint("Empty where there is none."),
                form.field("paper_checked", "Checked on").day(),
                form.field("paper_is", "What it says").choice(kinds),
                form.field("paper_figure", "Its figure").hint("As 0.1 %, 0.5 kg or 1 lb; empty for a class."),
            ],
            base: seen.address("/weigh-in/papers"),
        }
    }

    /// What a weigh-in may go by.
    pub(super) fn choice(seen: &Seen, form: &Form) -> Field {
        let none = (String::new(), "not known".to_owned());
        let papers = seen.facts.papers.iter().map(|filed| (filed.paper.place.to_string(), filed.paper.describe()));
        form.field("paper", "The scale's class or certificate")
            .choice(std::iter::once(none).chain(papers))
            .hint("It widens the doubt. Record one below first.")
    }
}

/// A paper as it was typed, or its faults noted.
pub(super) fn read(form: &mut Form) -> Option<NewPaper> {
    let checked = form.parse("paper_checked", "This does not read as a day. Try 2026-05-16.");
    let accuracy = accuracy(form);
    if form.is_faulty() {
        return None;
    }
    let [name, number] = ["paper_name", "paper_number"].map(|at| form.text(at).to_owned());
    Some(NewPaper { name, number, checked, accuracy: accuracy? })
}

fn accuracy(form: &mut Form) -> Option<Accuracy> {
    let class = |class, looked| Some(Accuracy::Class(class, looked));
    let (medium, ordinary) = (ScaleClass::Medium, ScaleClass::Ordinary);
    let of_class = match form.text("paper_is") {
        "III-service" => class(medium, Looked::InService),
        "III-verified" => class(medium, Looked::First),
        "IIII-service" => class(ordinary, Looked::InService),
        "IIII-verified" => class(ordinary, Looked::First),
        "share" => return form.read::<Share>("paper_figure").map(Accuracy::Share),
        "limits" => return form.read::<Mass>("paper_figure").map(Accuracy::Limits),
        "expanded" => return form.read::<Mass>("paper_figure").map(Accuracy::Expanded),
        _ => {
            form.fault("paper_is", "Choose what the paper says.");
            return None;
        }
    };
    if !form.text("paper_figure").is_empty() {
        form.fault("paper_figure", "A class has no figure of its own. Leave this empty.");
    }
    of_class
}
