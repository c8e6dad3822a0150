//! The weigh-in: pads, total, shares, conditions, class, tube sizes, and its photographs.

use super::Packet;
use super::flow::{SMALL, TYPE};
use super::pictures::{SMALL_PICTURE, of_part};
use crate::documents::teller::Teller;
use crate::domain::book::ClassTubes;
use crate::domain::book::kinds::TubeRow;
use crate::domain::weight::foreseen::CagePart;
use crate::domain::weight::shares::Shared;
use crate::domain::weight::weigh_in::{Loads, Reading};
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::wording::capital;
use crate::drawing::weight_line::{Classes, height, weight_line};
use crate::drawing::{Ink, Weight};
use crate::quantity::{Length, Show as _, Units};

/// The weigh-in's pages.
pub(in crate::documents) fn add(flow: &mut impl Teller, packet: &Packet<'_>) {
    flow.chapter("Weigh-in and class", "weigh-in");
    let Some(weigh_in) = packet.facts.weigh_ins.first() else {
        return flow.words("The car was not weighed yet.", TYPE, Weight::Bold, Ink::Black);
    };
    let (reading, units) = (&weigh_in.reading, packet.units);
    let total = reading.total();
    let doubt = reading.doubt() * 2.0;
    let description = format!("W{}, {}, by {}", weigh_in.number, weigh_in.day, weigh_in.by);
    flow.words(&description, TYPE, Weight::Regular, Ink::Black);
    let each = match &reading.loads {
        Loads::Pads(pads) => vec![
            ("Left front", &pads.left_front),
            ("Right front", &pads.right_front),
            ("Left rear", &pads.left_rear),
            ("Right rear", &pads.right_rear),
        ],
        Loads::Whole(total) => vec![("The whole car", total)],
    };
    let each: Vec<(&str, String, String)> =
        each.into_iter().map(|(label, mass)| (label, mass.value.show(units), format!("typed {}", mass.text))).collect();
    let shares = reading.shares();
    let share = |at: usize| {
        let shared = shares.as_ref().and_then(|shares| shares.get(at));
        let describe = |shared: &Shared| format!("{} ± {}", shared.describe(), shared.describe_doubt());
        shared.map_or_else(|| "not known: weighed as a whole".to_owned(), describe)
    };
    let lines = [
        ("Total", format!("{} ± {}", total.show(units), doubt.show(units))),
        ("Front", share(0)),
        ("Left", share(1)),
        ("Diagonal, right front and left rear", share(2)),
        ("Step of the display", reading.resolution.text.clone()),
    ];
    flow.pads(&each, &lines);
    describe_doubt(flow, reading, units);
    conditions(flow, packet);
    class(flow, packet);
    super::weighed_after::add(flow, packet);
    finished(flow, packet);
    scale(flow, reading);
    if !reading.note.is_empty() {
        flow.words(&reading.note, TYPE, Weight::Regular, Ink::Black);
    }
    flow.space();
    let pictured = of_part(packet, Balloon::new(Kind::WeighIn, weigh_in.number));
    flow.pictures(packet, &pictured, SMALL_PICTURE);
}

fn describe_doubt(flow: &mut impl Teller, reading: &Reading, units: Units) {
    if let Some((each, spread)) = reading.describe_totals(units) {
        let description =
            format!("The total is the mean of {each}; their spread is {spread} (one standard deviation).");
        flow.words(&description, TYPE, Weight::Regular, Ink::Black);
    }
    for (what, description) in [("Aboard", &reading.stood.aboard), ("Hub or ride heights", &reading.stood.heights)] {
        if !description.is_empty() {
            flow.words(&format!("{what}: {description}"), TYPE, Weight::Regular, Ink::Black);
        }
    }
    let from = reading.doubt_from();
    let doubt = format!("± is two standard deviations, of {from}; every display was read and zeroed once (GUM 4.3.7).");
    flow.words(&doubt, SMALL, Weight::Regular, Ink::Grey);
}

fn scale(flow: &mut impl Teller, reading: &Reading) {
    let scale = match (reading.scale.as_str(), &reading.paper) {
        ("", Some(_)) => None,
        ("", None) => Some("no certificate is recorded"),
        (scale, _) => Some(scale),
    };
    if let Some(scale) = scale {
        flow.words(&format!("Scale: {scale}."), TYPE, Weight::Regular, Ink::Black);
    }
    if let Some(paper) = &reading.paper {
        flow.words(&format!("The scale's paper: {}.", paper.describe()), TYPE, Weight::Regular, Ink::Black);
    }
}

fn conditions(flow: &mut impl Teller, packet: &Packet<'_>) {
    let Some(weight) = packet.found.worked.rules.as_ref().and_then(|rules| rules.weight.as_ref()) else { return };
    let Some(weigh_in) = packet.facts.weigh_ins.first() else { return };
    flow.subheading(&format!("Conditions of the weighing, clause {}", weight.rule.clause));
    for condition in &weight.conditions {
        let ticked = weigh_in.reading.conditions.contains(&condition.key);
        let word = if ticked { "ticked" } else { "NOT TICKED" };
        flow.words(&format!("{word}: {}", condition.words), TYPE, Weight::Regular, Ink::Black);
    }
}

fn class(flow: &mut impl Teller, packet: &Packet<'_>) {
    let units = packet.units;
    let weighed = match (&packet.found.worked.weighed, &packet.found.worked.class) {
        (Some(weighed), _) => weighed,
        (None, Some(Err(why))) => {
            return flow.words(&format!("No weight class: {why}"), TYPE, Weight::Bold, Ink::Black);
        }
        (None, _) => return,
    };
    let now = &weighed.now;
    flow.subheading(&format!("Class {} by this weighing: {}", now.class, now.edges_in(units)));
    if let Some(edge) = now.edge {
        let close = if now.too_close { ": less than the scale can tell; too close to call" } else { "" };
        let description = format!("{} inside its nearest edge{close}.", edge.show(units));
        flow.words(&description, TYPE, Weight::Regular, Ink::Black);
    }
    flow.words(&capital(&format!("{}.", weighed.describe(units))), TYPE, Weight::Bold, Ink::Black);
    let Some(asks) = weighed.asks() else { return };
    tubes(flow, &format!("Tube asked for, class {}", asks.class), &asks.tubes);
    for near in &asks.neighbours {
        tubes(flow, &format!("If it were class {}, tube", near.class), &near.tubes);
    }
}

/// The finished weight foreseen, drawn on the line of the classes.
fn finished(flow: &mut impl Teller, packet: &Packet<'_>) {
    let units = packet.units;
    let Some(foreseen) = packet.found.worked.foreseen.as_ref().filter(|foreseen| foreseen.tells()) else { return };
    flow.subheading("Predicted finished weight");
    if let Some(rules) = packet.found.worked.rules.as_ref().filter(|rules| !rules.weight_classes.is_empty()) {
        let wide = Length::from_mm(flow.width().min(150.0));
        let drawn =
            weight_line(foreseen, &Classes { rules, chosen: packet.found.worked.chosen() }, (wide, TYPE), units);
        let shows = "The predicted finished weight, on the line of the classes.";
        flow.drawing(shows, drawn, height(TYPE));
    }
    let chance = foreseen.describe_chance().map(|chance| format!(" The chance of finishing outside it: {chance}."));
    match foreseen.describe(units) {
        Some(description) => {
            let description = format!("{description}.{}", chance.unwrap_or_default());
            flow.words(&description, TYPE, Weight::Bold, Ink::Black);
        }
        None => flow.words(&foreseen.figure(units), TYPE, Weight::Bold, Ink::Black),
    }
    let cage = match foreseen.cage {
        CagePart::Weighed => "the cage stood on the scale".to_owned(),
        CagePart::NotLaidOut => "the cage is not laid out and not counted".to_owned(),
        CagePart::Model(mass) => format!("the cage by the model {}", mass.show(units)),
    };
    let (out, goes_in) = (foreseen.comes_out.show(units), foreseen.goes_in.show(units));
    let description = format!("Weighed {}; comes out {out}; goes in {goes_in}; {cage}.", foreseen.weighed.show(units));
    flow.words(&description, TYPE, Weight::Regular, Ink::Black);
    let estimate =
        "An estimate. ± is two standard deviations, the doubts taken together (GUM 5.1.2); the finished car decides.";
    flow.words(estimate, SMALL, Weight::Regular, Ink::Grey);
}

fn tubes(flow: &mut impl Teller, begins: &str, tubes: &ClassTubes) {
    let (hoop, other) = (TubeRow::sizes(&tubes.hoop), TubeRow::sizes(&tubes.other));
    let description = format!("{begins}: main bars {hoop}; other bars {other}.");
    flow.words(&description, TYPE, Weight::Regular, Ink::Black);
}
