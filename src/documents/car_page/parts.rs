//! Joint by joint, gusset by gusset, plate by plate, bar by bar: where it is, its figures, its verdicts, its photographs.

use crate::documents::chapters::{Block, Chapters};
use crate::documents::packet::Packet;
use crate::documents::packet::pictures::{SMALL_PICTURE, of_part};
use crate::documents::part_figures;
use crate::documents::teller::Teller as _;
use crate::domain::judge::shots;
use crate::domain::judge::verdicts::{Verdict, Word};
use crate::domain::recorded::welds::stage::Stage;
use crate::domain::words::ids::{Balloon, Kind};
use crate::drawing::car::cage::locate;
use crate::quantity::Length;

/// How large the drawing is that says where a part is, mm.
const LOCATOR: (Length, Length) = (Length::from_mm(72.0), Length::from_mm(48.0));

pub(super) fn tell(chapters: &mut Chapters<'_>, packet: &Packet<'_>) {
    let cage = &packet.found.worked.cage;
    let joints = cage.joints.iter().map(|joint| joint.balloon).collect();
    let gussets = cage.gussets.iter().map(|gusset| gusset.balloon).collect();
    let plates = cage.plates.iter().map(|plate| plate.balloon).collect();
    let bars = cage.members.iter().map(|bar| bar.balloon).collect();
    let all: [(&str, &str, &str, Vec<Balloon>); 4] = [
        ("Joints", "joints", "No joint is laid out.", joints),
        ("Gussets", "gussets", "No gusset is laid out.", gussets),
        ("Foot plates", "plates", "No foot plate is laid out.", plates),
        ("Bars", "bars", "No bar is laid out.", bars),
    ];
    for (title, place, none, parts) in all {
        chapters.chapter(title, place);
        if parts.is_empty() {
            chapters.said(none);
        }
        for part in parts {
            one(chapters, packet, part);
        }
    }
}

fn one(chapters: &mut Chapters<'_>, packet: &Packet<'_>, part: Balloon) {
    let (facts, cage) = (packet.facts, &packet.found.worked.cage);
    chapters.heading(&format!("{part} {}", shots::part(cage, facts, part)), &part.to_string());
    // A bar is in the drawing of all bars; a small one for each would make the page twice as large.
    if part.kind != Kind::Member {
        let svg = chapters.svg(&locate(cage, part, LOCATOR), LOCATOR);
        chapters.put(Block::Locator(format!("Where {part} is on the cage."), svg));
    }
    let rows = part_figures::of(cage, facts, part, packet.units).unwrap_or_default();
    let rows = rows.into_iter().map(|row| {
        let parts: Vec<String> = row.parts.iter().map(ToString::to_string).collect();
        vec![row.what, row.value, parts.join(", ")]
    });
    let rows = rows.collect();
    chapters.grid(&["What", "How much", "Leads to"], rows);
    if matches!(part.kind, Kind::Joint | Kind::Plate) {
        chapters.said(&format!("By the weld log: {}.", Stage::of(&facts.welds, part).word()));
    }
    asked(chapters, packet, part);
    let verdicts: Vec<&Verdict> =
        packet.found.worked.verdicts_of(part).filter(|verdict| verdict.word != Word::NotAsked).collect();
    super::judged::of_part(chapters, packet, &verdicts);
    let pictured = of_part(packet, part);
    chapters.pictures(packet, &pictured, SMALL_PICTURE);
}

/// What the rounds before accepted of it, and what was asked about it.
fn asked(chapters: &mut Chapters<'_>, packet: &Packet<'_>, part: Balloon) {
    if let Some(accepted) = packet.earlier.accepted(packet.contents, part) {
        chapters.said(&accepted.describe(&(packet.day_of)(accepted.at).to_string()));
    }
    let about = packet.facts.questions.iter().filter(|question| question.about == Some(part));
    let about: Vec<String> = about.map(|question| format!("Q{}", question.number)).collect();
    if !about.is_empty() {
        chapters.said(&format!("Asked about it: {}.", about.join(", ")));
    }
}
