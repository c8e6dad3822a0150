//! The words on what is printed: read-outs, stencils, certificates, labels.

use super::Subject;
use crate::domain::judge::shots::Shot;
use crate::domain::weight::weigh_in::Loads;
use crate::domain::words::ids::Kind;
use crate::imaging::plot::{Ground, Print};

pub(super) fn of(subject: Subject<'_>, shot: &Shot, seed: u64) -> Print {
    let (ground, lines) = match shot.of.kind {
        Kind::WeighIn => (Ground::Displays, read_out(subject, shot)),
        Kind::Kit => label(subject, shot),
        Kind::Stick => (Ground::Tube, stencil(subject, shot)),
        _ => (Ground::Paper, Some(certificate(subject))),
    };
    let card = if ground == Ground::Displays { String::new() } else { shot.of.to_string() };
    Print { ground, lines: lines.unwrap_or_else(|| vec![shot.part.clone()]), card, out_of_focus: false, seed }
}

fn read_out(subject: Subject<'_>, shot: &Shot) -> Option<Vec<String>> {
    let weigh_in = subject.facts.weigh_ins.iter().find(|weigh_in| weigh_in.number == shot.of.number)?;
    let pads = match &weigh_in.reading.loads {
        Loads::Pads(pads) => pads,
        Loads::Whole(total) => return Some(vec![total.text.clone()]),
    };
    let wheels =
        [("LF", &pads.left_front), ("RF", &pads.right_front), ("LR", &pads.left_rear), ("RR", &pads.right_rear)];
    Some(wheels.map(|(wheel, load)| format!("{wheel} {}", load.text)).to_vec())
}

fn stencil(subject: Subject<'_>, shot: &Shot) -> Option<Vec<String>> {
    let stick = subject.facts.sticks.iter().find(|stick| stick.number == shot.of.number)?;
    let heat = if stick.heat.is_empty() { String::new() } else { format!("HEAT {}", stick.heat) };
    Some(vec![stick.size.text.clone(), heat, stick.grade.clone()])
}

fn label(subject: Subject<'_>, shot: &Shot) -> (Ground, Option<Vec<String>>) {
    let Some(item) = subject.facts.kit.iter().find(|item| item.number == shot.of.number) else {
        return (Ground::Label, None);
    };
    let ground = if item.item == "belts" { Ground::Webbing } else { Ground::Label };
    let label = &item.label;
    let dated = [("Made", label.made), ("Not valid after", label.ends_printed), ("Checked", label.checked)];
    let dated = dated.into_iter().filter_map(|(word, date)| date.map(|date| format!("{word} {date}")));
    let serial = (!label.serial.is_empty()).then(|| format!("No. {}", label.serial));
    let first = if label.standard.is_empty() { item.item.to_uppercase() } else { label.standard.clone() };
    (ground, Some(std::iter::once(first).chain(serial).chain(dated).collect()))
}

fn certificate(subject: Subject<'_>) -> Vec<String> {
    let mut lines = vec!["MILL CERTIFICATE".to_owned(), "cold drawn tube, made as said below".to_owned()];
    for stick in &subject.facts.sticks {
        let line = format!("{}  {}  heat {}", stick.size.text, stick.grade, stick.heat);
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines.truncate(8);
    lines
}
