//! The figures of a part, each as a line of its sheet.

use crate::domain::cage::{Cage, End, Gusset, Joint, Member, Plate};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::wording::listed;
use crate::quantity::{Show as _, Units};

/// One line: what, how much, and the parts that it leads to.
pub struct Row {
    /// What it is.
    pub what: String,
    /// How much, or which.
    pub value: String,
    /// The parts it is about.
    pub parts: Vec<Balloon>,
}

fn row(what: impl Into<String>, value: impl Into<String>) -> Row {
    Row { what: what.into(), value: value.into(), parts: Vec::new() }
}

fn leading(what: impl Into<String>, value: impl Into<String>, part: Balloon) -> Row {
    Row { parts: vec![part], ..row(what, value) }
}

fn role(cage: &Cage, bar: Balloon) -> &'static str {
    cage.member(bar).map_or("bar", |bar| bar.role.word())
}

/// The lines of a part; none when the cage has no such part.
pub fn of(cage: &Cage, facts: &BuildFacts, part: Balloon, units: Units) -> Option<Vec<Row>> {
    Some(match part.kind {
        Kind::Joint => joint(cage, cage.joint(part)?, units),
        Kind::Member => member(cage, facts, cage.member(part)?, units),
        Kind::Gusset => gusset(cage, cage.gusset(part)?, units),
        Kind::Plate => plate(cage, cage.plate(part)?, units),
        _ => return None,
    })
}

fn joint(cage: &Cage, joint: &Joint, units: Units) -> Vec<Row> {
    let mut rows = vec![leading("Runs through", role(cage, joint.carrier), joint.carrier)];
    for (bar, end) in &joint.incoming {
        let Some(member) = cage.member(*bar) else { continue };
        let cope = member.copes.get(*end).and_then(Option::as_ref);
        let angle = cope.map(|cope| format!(", at {}", cope.angle().show(units))).unwrap_or_default();
        let seam = member.seams.get(*end).copied().unwrap_or_default();
        let words = format!("{}{angle}, seam {}", member.role.word(), seam.by_tape(units));
        rows.push(leading("Ends here", words, *bar));
    }
    let fitted = cage.fitted_at(joint);
    if fitted.iter().any(|(_, round)| !round.is_empty()) {
        rows.push(row("Order of fitting", cage.describe_fitted_at(joint)));
    }
    rows.push(row("Weld to be laid", joint.seam.by_tape(units)));
    rows.push(row("Faces down", format!("{:.0} % of it", joint.overhead * 100.0)));
    rows.push(row("Along the bar that runs through", joint.along.by_tape(units)));
    let gussets = cage.gussets.iter().filter(|gusset| gusset.joint == joint.balloon);
    rows.extend(gussets.map(|gusset| leading("Gusset", gusset.kind.word(), gusset.balloon)));
    rows
}

fn member(cage: &Cage, facts: &BuildFacts, member: &Member, units: Units) -> Vec<Row> {
    let mut rows = vec![row("Tube", member.describe_tube())];
    rows.push(facts.stick_of(member.balloon).map_or_else(
        || row("Cut from", "no stick recorded yet"),
        |stick| leading("Cut from", stick.describe_heat(), Balloon::new(Kind::Stick, stick.number)),
    ));
    rows.push(row("Developed, node to node", member.developed.by_tape(units)));
    rows.push(row("Blank, long point to long point", member.cut_length.by_saw(units)));
    rows.push(row("Mass as cut", member.mass.show(units)));
    let bends = member.line.bends();
    let words = if bends.is_empty() {
        "straight".to_owned()
    } else {
        let angles: Vec<String> = bends.iter().map(|bend| bend.angle.show(units)).collect();
        format!("{}: {} on a radius of {}", bends.len(), angles.join(", "), member.line.radius().show(units))
    };
    rows.push(row("Bends", words));
    for (name, end, at) in [("First end", member.ends.first(), 0), ("Last end", member.ends.last(), 1)] {
        let seam = member.seams.get(at).copied().unwrap_or_default().by_tape(units);
        let round = member.round.get(at).filter(|round| !round.is_empty());
        let round = round.map(|round| format!(", coped round {}, fitted before it", listed(round))).unwrap_or_default();
        rows.push(match end {
            Some(End::OnPlate(plate)) => leading(name, format!("on its plate, seam {seam}"), *plate),
            Some(End::Onto { carrier, along, .. }) => {
                let words =
                    format!("onto the {} at {}{round}, seam {seam}", role(cage, *carrier), along.by_tape(units));
                leading(name, words, *carrier)
            }
            Some(End::Free) | None => row(name, "stands on nothing yet"),
        });
    }
    let through = cage.joints.iter().filter(|joint| joint.carrier == member.balloon);
    let landing = cage.joints.iter().filter(|joint| joint.incoming.iter().any(|(bar, _)| *bar == member.balloon));
    for (words, parts) in [("Runs through", balloons(through)), ("Ends at", balloons(landing))] {
        if !parts.is_empty() {
            rows.push(Row { parts, ..row(words, "") });
        }
    }
    rows
}

fn balloons<'c>(joints: impl Iterator<Item = &'c Joint>) -> Vec<Balloon> {
    joints.map(|joint| joint.balloon).collect()
}

fn gusset(cage: &Cage, gusset: &Gusset, units: Units) -> Vec<Row> {
    let (one, other) = gusset.between;
    vec![
        row("Kind", gusset.kind.word()),
        leading("At", "joint", gusset.joint),
        leading("Between", role(cage, one), one),
        leading("And", role(cage, other), other),
        row("Leg along each tube", gusset.leg.show(units)),
        row("Thickness", gusset.thickness.show(units)),
        row("Hole in the flat side", gusset.hole.answer(|hole| hole.show(units))),
        row("Mass", gusset.mass.show(units)),
    ]
}

fn plate(cage: &Cage, plate: &Plate, units: Units) -> Vec<Row> {
    vec![
        leading("Stands on it", role(cage, plate.under), plate.under),
        row("Along the car", plate.sides.0.value.show(units)),
        row("Across the car", plate.sides.1.value.show(units)),
        row("Thickness", plate.thickness.value.show(units)),
        row("Area", plate.area.show(units)),
        row("Held", plate.fixed.word()),
        row("Mass", plate.mass.show(units)),
    ]
}
