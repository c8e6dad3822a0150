//! The cover, on one sheet: what is asked, what has to be decided and where it stands, the weight against its class, what
//! changed, how to answer, the boxes to tick, the cautions.

use glam::{DVec2, dvec2};

use super::asked::{PLACE, stand};
use super::decisions::{Decision, count, unknown};
use super::flow::{Flow, HEADING, LABEL, SMALL, SUBHEADING, TYPE, ends_at, line, link, paragraph, soft, subheading};
use super::{Packet, Sheets};
use crate::domain::judge::verdicts::Word;
use crate::domain::words::cautions;
use crate::domain::words::fingerprint::short;
use crate::domain::words::ids::Balloon;
use crate::drawing::car::beside::beside;
use crate::drawing::car::cage::draw_parts;
use crate::drawing::paper::sheet::moved;
use crate::drawing::paper::text::{LARGE, width as width_of, wrap};
use crate::drawing::weight_line::{Classes, weight_line};
use crate::drawing::{Ink, Mark, Pen, Tag, Weight};
use crate::quantity::{Length, Show as _};

const CAUTION: &str = "This packet reports and works out; it approves nothing. The governing body's current rule book and its \
scrutineer decide. Structural questions go to a licensed engineer, welds to a qualified welder; local codes and the makers' \
instructions first.";
/// The drawing's width and height, mm.
const DRAWING: (Length, Length) = (Length::from_mm(88.0), Length::from_mm(60.0));
/// Most balloons on the drawing: more than these cannot be told apart.
const BALLOONS: usize = 8;
/// Most lines of changes; the next sheet has all.
const CHANGES: usize = 3;

/// The cover, and how many things to decide it had no room for.
pub(super) fn page(packet: &Packet<'_>, decisions: &[Decision], sheets: &Sheets) -> (Flow, usize) {
    let mut flow = Flow::cover(packet);
    let foot = foot(packet, sheets, flow.width());
    head(&mut flow, packet);
    question(&mut flow, packet, decisions.len());
    if let Some(out) = &packet.found.worked.out_of_force {
        flow.words(&out.describe(), TYPE, Weight::Bold, Ink::Black);
    }
    middle(&mut flow, packet, decisions);
    let left_over = listed(&mut flow, decisions, sheets, foot.1, &nothing(packet));
    let down = flow.left() - foot.1;
    flow.skip(down.max(0.0));
    flow.put(foot.0, foot.1);
    (flow, left_over)
}

fn head(flow: &mut Flow, packet: &Packet<'_>) {
    let width = flow.width();
    let right = format!("{}, packet for the scrutineer", packet.round());
    let taken = width_of(&right, SUBHEADING, Weight::Bold).mm() + 6.0;
    let name = line(dvec2(0.0, 8.0), LARGE, Weight::Bold, &packet.facts.build.name, width - taken);
    let right = ends_at(dvec2(width, 8.0), SUBHEADING, Weight::Bold, &right, Ink::Black);
    let line = Mark::Line { from: dvec2(0.0, 11.0), to: dvec2(width, 11.0), pen: Pen::Wide };
    flow.put(vec![Mark::Tagged { tag: Tag::Heading(1), marks: vec![name, right] }, line], 13.5);
}

/// What the packet asks of its reader, and what stops until it is answered.
fn asked(packet: &Packet<'_>) -> (String, String) {
    if !packet.contents.early.is_empty() {
        let joints: Vec<String> = packet.contents.early.keys().map(ToString::to_string).collect();
        let question = format!(
            "May {}, tacked as shown, be welded while the cage is lowered through the floor?",
            joints.join(", ")
        );
        let rest = "This, and nothing else: everything else stays tacked and held until a later round.";
        return (question, rest.to_owned());
    }
    let clause = packet.found.worked.rules.as_ref().and_then(|rules| rules.hold.as_ref());
    let stops = clause.map(|hold| format!("{} (clause {}).", hold.rule.words.trim_end_matches('.'), hold.rule.clause));
    ("May this cage, tacked as shown, be fully welded?".to_owned(), stops.unwrap_or_default())
}

fn question(flow: &mut Flow, packet: &Packet<'_>, to_decide: usize) {
    const RIGHT: f64 = 46.0;
    let (width, (question, rest)) = (flow.width(), asked(packet));
    let (mut marks, mut down) = paragraph(&question, HEADING, Weight::Bold, Ink::Black, width - RIGHT);
    let (rest, more) = paragraph(&rest, TYPE, Weight::Regular, Ink::Grey, width - RIGHT);
    marks.extend(moved(rest, dvec2(0.0, down + 0.8)));
    down += more + 2.0;
    let since = match (packet.draft, packet.facts.rounds.first()) {
        (true, None) => "not asked yet".to_owned(),
        (_, Some(first)) => format!("asked first {}", (packet.day_of)(first.issued)),
        (false, None) => format!("asked {}", packet.day),
    };
    let figure = if to_decide == 0 { "nothing".to_owned() } else { count(to_decide) };
    let right = vec![
        ends_at(dvec2(width, 3.2), SMALL, Weight::Regular, "to decide", Ink::Grey),
        ends_at(dvec2(width, 9.8), HEADING, Weight::Bold, &figure, Ink::Black),
        ends_at(dvec2(width, 14.2), SMALL, Weight::Regular, &since, Ink::Grey),
    ];
    marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: right });
    let down = down.max(16.0);
    marks.push(Mark::Line { from: dvec2(0.0, down), to: dvec2(width, down), pen: Pen::Narrow });
    flow.put(marks, down + 2.0);
}

/// The cage with the parts that are to be decided, and the figures beside it.
fn middle(flow: &mut Flow, packet: &Packet<'_>, decisions: &[Decision]) {
    let (cage, around) = (&packet.found.worked.cage, &packet.found.worked.around);
    let mut marks = Vec::new();
    if cage.members.is_empty() {
        marks.push(Mark::words(dvec2(0.0, 6.0), TYPE, Weight::Bold, "The cage is not set up yet."));
    } else {
        let mut parts: Vec<Balloon> = decisions.iter().flat_map(|decision| decision.parts.iter().copied()).collect();
        parts.sort();
        parts.dedup();
        parts.truncate(BALLOONS);
        let drawn = draw_parts(cage, &beside(cage, around, false), &parts, DRAWING);
        let shows = "The cage drawn from front left and above; the parts that are to be decided with their numbers.";
        marks.push(Mark::figure(shows, drawn.marks));
    }
    let left = DRAWING.0.mm() + 6.0;
    let column = (flow.width() - left) / 2.0;
    let cells = figures(packet);
    for (place, (label, large, small)) in (0_u32..).zip(&cells) {
        let top = if place < 2 { 0.0 } else { 46.0 };
        let at = dvec2(left + f64::from(place % 2) * column, top);
        let read = vec![
            soft(at + dvec2(0.0, 3.0), SMALL, label),
            line(at + dvec2(0.0, 9.4), HEADING, Weight::Bold, large, column - 2.0),
        ];
        marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
        let (small, _) = paragraph(small, LABEL, Weight::Regular, Ink::Grey, column - 2.0);
        marks.extend(moved(small, at + dvec2(0.0, 10.2)));
    }
    let rules = packet.found.worked.rules.as_ref().filter(|rules| !rules.weight_classes.is_empty());
    if let (Some(rules), Some(foreseen)) = (rules, &packet.found.worked.foreseen) {
        let wide = Length::from_mm(2.0 * column);
        let drawn = weight_line(
            foreseen,
            &Classes { rules, chosen: packet.found.worked.chosen() },
            (wide, LABEL),
            packet.units,
        );
        let shows = "The weight now and the finished weight, on the line of the classes.";
        marks.push(Mark::figure(shows, drawn).moved(dvec2(left, 21.5)));
    }
    flow.put(marks, 66.0);
}

/// Label, figure, and what it means, of what is weighed, foreseen, drawn and photographed.
fn figures(packet: &Packet<'_>) -> [(&'static str, String, String); 4] {
    let (worked, units) = (&packet.found.worked, packet.units);
    let weighed = packet.facts.weigh_ins.first().map(|weigh_in| &weigh_in.reading);
    let class = match (&worked.weighed, &worked.class) {
        (Some(weighed), _) => {
            let now = &weighed.now;
            let edge = now.edge.map(|edge| format!(", {} inside its nearest edge", edge.show(units)));
            let close = if now.too_close { ": less than the scale can tell" } else { "" };
            format!("class {}{}{close}", now.class, edge.unwrap_or_default())
        }
        (None, Some(Err(why))) => why.to_string(),
        (None, _) => "no class".to_owned(),
    };
    let foreseen = worked.foreseen.as_ref().filter(|foreseen| foreseen.tells());
    let finished = foreseen.map_or_else(
        || ("not known".to_owned(), "nothing is listed that goes in or comes out".to_owned()),
        |foreseen| {
            let (figure, doubt) = foreseen.figures(units);
            let unit = doubt.rsplit(' ').next().unwrap_or_default().to_owned();
            let stays = match &worked.weighed {
                Some(weighed) => format!("{doubt}; {}", weighed.describe(units)),
                None => doubt,
            };
            (format!("{figure} {unit}"), stays)
        },
    );
    let cage = &worked.cage;
    [
        (
            "Weighed",
            weighed.map_or_else(|| "not yet".to_owned(), |reading| reading.total().show(units)),
            weighed
                .map_or_else(|| class.clone(), |reading| format!("± {}; {class}", (reading.doubt() * 2.0).show(units))),
        ),
        ("Finished, predicted", finished.0, finished.1),
        (
            "Cage",
            format!("{} bars", cage.members.len()),
            format!("{} joints, {} gussets, {} plates", cage.joints.len(), cage.gussets.len(), cage.plates.len()),
        ),
        (
            "Photographs",
            format!("{} of {}", worked.taken(), worked.shots.len()),
            "of those that the book asks for".to_owned(),
        ),
    ]
}

/// The things to decide, as many as leave room for the foot; how many were left over.
fn listed(flow: &mut Flow, decisions: &[Decision], sheets: &Sheets, foot: f64, none: &str) -> usize {
    let (marks, height) = subheading(&format!("Needs your decision: {}", decisions.len()), flow.width());
    flow.put(marks, height);
    if decisions.is_empty() {
        flow.words(none, TYPE, Weight::Regular, Ink::Black);
    }
    let rows: Vec<(Vec<Mark>, f64)> = decisions.iter().map(|decision| decision.row(sheets, flow.width())).collect();
    let all: f64 = rows.iter().map(|row| row.1).sum();
    let last = if all > flow.left() - foot { 5.6 } else { 0.0 };
    let mut shown = 0;
    for (marks, height) in rows {
        if height + last > flow.left() - foot {
            break;
        }
        flow.put(marks, height);
        shown += 1;
    }
    let left_over = decisions.len() - shown;
    if left_over > 0 {
        let on = sheets.get(PLACE).map(|sheet| format!(", sheet {sheet}")).unwrap_or_default();
        let words = format!("and {left_over} more: all of them stand on the next sheet{on}");
        let lead = link(dvec2(0.0, 0.0), dvec2(flow.width(), 5.0), PLACE);
        flow.put(vec![Mark::words(dvec2(0.0, 4.3), TYPE, Weight::Bold, words), lead], 5.4);
    }
    left_over
}

/// What may be said where nothing was found to decide: of what nobody judged, measured or photographed it is not said that
/// it is kept.
fn nothing(packet: &Packet<'_>) -> String {
    let early = !packet.contents.early.is_empty();
    describe_nothing(packet.found.worked.rules.is_some(), early, unknown(packet))
}

fn describe_nothing(judged: bool, early: bool, [unmeasured, unseen]: [usize; 2]) -> String {
    let on_these = if early { " on these joints" } else { "" };
    if !judged {
        return "Nothing was found beside the question itself; no rule was judged.".to_owned();
    }
    if unmeasured + unseen > 0 {
        return format!(
            "Nothing was found{on_these} beside the question itself. Not known: {unmeasured} not measured, {unseen} \
             without a photograph."
        );
    }
    format!(
        "Nothing beside the question itself: no rule{on_these} is left to you, none is broken, nothing you asked is open."
    )
}

/// Everything that stands at the cover's foot, and how high it is, mm.
fn foot(packet: &Packet<'_>, sheets: &Sheets, width: f64) -> (Vec<Mark>, f64) {
    let half = width / 2.0 - 4.0;
    let (mut marks, changed) = changed(packet, sheets, half);
    let (how, answered) = how_to_answer(packet, sheets, half);
    marks.extend(moved(how, dvec2(half + 8.0, 0.0)));
    let mut down = changed.max(answered) + 1.5;
    marks.extend(moved(boxes(packet, sheets, width), dvec2(0.0, down)));
    down += 21.5;
    let log = format!(
        "Contents list, SHA-256: {}. Log head {} (first 16 digits; in full on the last sheet). Keep this packet.",
        packet.frozen(),
        short(&packet.contents.log_head)
    );
    let reduced = packet.reduced.map(|reduced| reduced.describe());
    for words in [format!("{CAUTION} {}", cautions::COVER), reduced.unwrap_or_default(), log] {
        let (lines, high) = paragraph(&words, LABEL, Weight::Regular, Ink::Grey, width);
        marks.extend(moved(lines, dvec2(0.0, down)));
        down += high + 0.8;
    }
    (marks, down)
}

/// What is not as the round before showed it, and how the rest stands.
fn changed(packet: &Packet<'_>, sheets: &Sheets, width: f64) -> (Vec<Mark>, f64) {
    let heading = match packet.facts.rounds.last() {
        Some(before) => format!("Changed since round {}: {}", before.number, packet.changes.len()),
        None => "The first round".to_owned(),
    };
    let (mut marks, mut down) = subheading(&heading, width);
    for change in packet.changes.iter().take(CHANGES) {
        let words = format!("{}: {}", change.at, change.what);
        let lines = wrap(&words, SMALL, Weight::Regular, Length::from_mm(width - 18.0));
        let sheet = sheets.get(&change.at.to_string()).map(|sheet| format!("sheet {sheet}"));
        let mut read: Vec<Mark> = lines
            .iter()
            .zip(0_u32..)
            .map(|(words, row)| {
                Mark::words(dvec2(0.0, down + 3.2 + f64::from(row) * 3.9), SMALL, Weight::Regular, words)
            })
            .collect();
        let at = dvec2(width, down + 3.2);
        read.extend(sheet.map(|sheet| ends_at(at, SMALL, Weight::Bold, &sheet, Ink::Black)));
        marks.push(Mark::Tagged { tag: Tag::Paragraph, marks: read });
        down += f64::from(u32::try_from(lines.len()).unwrap_or(1)) * 3.9 + 1.0;
        marks.push(Mark::Line { from: dvec2(0.0, down), to: dvec2(width, down), pen: Pen::Faint });
    }
    let mut rest = Vec::new();
    let on = |place: &str| sheets.get(place).map(|sheet| format!(": sheet {sheet}")).unwrap_or_default();
    if packet.changes.len() > CHANGES {
        rest.push(format!("{} more{}.", packet.changes.len() - CHANGES, on(PLACE)));
    }
    if packet.changes.is_empty() && !packet.facts.rounds.is_empty() {
        rest.push("Nothing of what you saw has changed.".to_owned());
    }
    let [meets, short, over, unmeasured, unseen] =
        [Word::Meets, Word::ShortBy, Word::OverBy, Word::NotMeasured, Word::NoPhoto].map(|word| stand(packet, word).0);
    rest.push(format!(
        "By the book: {meets} met, {} not met, {unmeasured} not measured, {unseen} without a photograph{}.",
        short + over,
        on("verdicts")
    ));
    let asked = packet.facts.questions.len();
    let answered = packet.facts.questions.iter().filter(|question| !question.answers.is_empty()).count();
    rest.push(format!("Asked so far {asked}, answered {answered}{}.", on(super::questions::PLACE)));
    let (lines, high) = paragraph(&rest.join("\n"), SMALL, Weight::Regular, Ink::Grey, width);
    marks.extend(moved(lines, dvec2(0.0, down + 0.6)));
    (marks, down + high + 0.6)
}

fn how_to_answer(packet: &Packet<'_>, sheets: &Sheets, width: f64) -> (Vec<Mark>, f64) {
    let (mut marks, mut down) = subheading("How to answer", width);
    let reply = sheets.get("reply").map(|sheet| format!(" and sheet {sheet}")).unwrap_or_default();
    let second = if packet.contents.early.is_empty() {
        format!("Tick below, sign, and send this sheet{reply} back with every sheet you marked.")
    } else {
        format!("Tick each joint{}, sign below, and send both sheets back.", reply.replace(" and", " on"))
    };
    let steps = [
        "Mark each part on its line: accepted, change wanted, question.".to_owned(),
        second,
        "What you leave blank counts as not seen.".to_owned(),
    ];
    for (number, words) in (1..).zip(steps) {
        marks.push(Mark::words(dvec2(0.0, down + 3.6), TYPE, Weight::Bold, number.to_string()));
        let (lines, high) = paragraph(&words, TYPE, Weight::Regular, Ink::Black, width - 6.0);
        marks.extend(moved(lines, dvec2(6.0, down + 0.2)));
        down += high + 0.8;
    }
    (marks, down)
}

/// The two boxes to tick, the name, the day and the signature.
fn boxes(packet: &Packet<'_>, sheets: &Sheets, width: f64) -> Vec<Mark> {
    let half = width / 2.0;
    let released = if packet.contents.early.is_empty() {
        "Released: full welding may go on".to_owned()
    } else {
        let on = sheets.get("reply").map(|sheet| format!(" on sheet {sheet}")).unwrap_or_default();
        format!("Released: only the joints ticked{on}")
    };
    let mut marks = vec![Mark::rectangle(DVec2::ZERO, dvec2(width, 19.6), Some(Pen::Wide), None)];
    for (at, words) in [(4.0, released.as_str()), (half + 4.0, "Not yet: see my marks")] {
        marks.push(Mark::rectangle(dvec2(at, 2.6), DVec2::splat(4.8), Some(Pen::Wide), None));
        marks.push(Mark::words(dvec2(at + 7.5, 6.6), SUBHEADING, Weight::Bold, words));
    }
    for (at, words) in [(4.0, "name, office, signature"), (half + 4.0, "day")] {
        marks.push(soft(dvec2(at, 16.4), LABEL, words));
        marks.push(Mark::Line { from: dvec2(at, 17.4), to: dvec2(at + half - 8.0, 17.4), pen: Pen::Narrow });
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::describe_nothing;

    #[test]
    fn that_nothing_is_broken_is_said_only_of_what_is_known() {
        assert!(describe_nothing(true, false, [0, 0]).contains("none is broken"));
        assert!(describe_nothing(true, true, [0, 0]).contains("no rule on these joints"));
        for (judged, unknown) in [(false, [0, 0]), (true, [1, 0]), (true, [0, 1])] {
            assert!(!describe_nothing(judged, false, unknown).contains("none is broken"), "{judged} {unknown:?}");
        }
    }
}
