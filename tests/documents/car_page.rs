//! A car's page: the same for the same facts, whole HTML, nothing from outside, every word of the record as text; what is not
//! recorded is not claimed.

use std::collections::{BTreeMap, BTreeSet};

use html5ever::tendril::TendrilSink as _;
use html5ever::{ParseOpts, parse_document};
use jiff::civil::{Date, date};
use markup5ever_rcdom::{Handle, NodeData, RcDom};
use tackbook::documents::DocumentError;
use tackbook::documents::car_page::{CarPage, LogLine, RoundFile, index};
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::recorded::rounds::Decision;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::quantity::Units;

use crate::full_build;

const DAY: Date = date(2026, 5, 4);
const HOSTILE: &str = "<script>alert(1)</script>\" onload='x' \u{202e}evil\u{2066} &amp; ]]>\u{0}";

fn photos(facts: &BuildFacts) -> BTreeMap<Fingerprint, String> {
    let path = |sha256: &Fingerprint| format!("photos/{}.jpg", sha256.text());
    facts.photos.iter().map(|photo| (photo.sha256.clone(), path(&photo.sha256))).collect()
}

fn rounds(facts: &BuildFacts) -> Vec<RoundFile> {
    let file = |number: u32| RoundFile {
        number,
        packet: format!("rounds/{number}/packet.pdf"),
        signature: Some(format!("rounds/{number}/packet.pdf.sig")),
    };
    facts.rounds.iter().map(|round| file(round.number)).collect()
}

fn page_with(facts: &BuildFacts, photos: &BTreeMap<Fingerprint, String>, what: &str) -> String {
    let findings = Findings::of(facts, DAY);
    let log = [LogLine { number: 1, at: "2026-05-04T10:00:00Z".parse().unwrap(), by: "office", room: "cage", what }];
    let rounds = rounds(facts);
    let units = Units::Metric;
    let mails = facts.replies.iter().flat_map(|reply| &reply.mails).map(|mail| mail.sha256.clone()).collect();
    let page =
        CarPage { facts, findings: &findings, log: &log, photos, rounds: &rounds, mails: &mails, day: DAY, units };
    index(&page).unwrap()
}

fn page(facts: &BuildFacts) -> String {
    page_with(facts, &photos(facts), "Saved the cage.")
}

/// The full build with its round issued of just these facts and approved: everything is released.
fn released() -> BuildFacts {
    let mut facts = full_build::facts();
    facts.lowering = None;
    facts.replies.clear();
    let found = Findings::of(&facts, DAY);
    facts.rounds[0].contents = Contents::of(&facts, &found.worked, 1).canonical();
    let mut reply = full_build::facts().replies.remove(0);
    reply.decision = Decision::Approved;
    reply.released.clear();
    facts.replies.push(reply);
    facts
}

/// An element's name and its attributes.
type Element = (String, BTreeMap<String, String>);

/// Every element, and what is wrong with the page.
fn elements(html: &str) -> (Vec<Element>, Vec<String>) {
    let dom = parse_document(RcDom::default(), ParseOpts::default()).one(html);
    let (mut all, mut left) = (Vec::new(), vec![dom.document.clone()]);
    while let Some(node) = left.pop() {
        if let NodeData::Element { name, attrs, .. } = &node.data {
            let attrs = attrs.borrow();
            let attrs = attrs.iter().map(|one| (one.name.local.to_string(), one.value.to_string())).collect();
            all.push((name.local.to_string(), attrs));
        }
        left.extend(node.children.borrow().iter().map(Handle::clone));
    }
    let faults = dom.errors.borrow().iter().map(ToString::to_string).collect();
    (all, faults)
}

/// The text between the tags, without the style.
fn text(html: &str) -> String {
    let dom = parse_document(RcDom::default(), ParseOpts::default()).one(html);
    let (mut said, mut left) = (String::new(), vec![dom.document.clone()]);
    while let Some(node) = left.pop() {
        match &node.data {
            NodeData::Text { contents } => said.push_str(&contents.borrow()),
            NodeData::Element { name, .. } if &*name.local == "style" => continue,
            _ => {}
        }
        left.extend(node.children.borrow().iter().rev().map(Handle::clone));
    }
    said
}

#[test]
fn the_same_facts_give_the_same_page_and_findings_of_another_day_are_refused() {
    let facts = full_build::facts();
    assert_eq!(page(&facts), page(&facts));
    let findings = Findings::of(&facts, date(2026, 5, 5));
    let photos = BTreeMap::new();
    let (log, rounds, units, mails) = (&[], &[], Units::Inch, BTreeSet::new());
    let facts = &facts;
    let refused =
        index(&CarPage { facts, findings: &findings, log, photos: &photos, rounds, mails: &mails, day: DAY, units });
    assert!(matches!(refused, Err(DocumentError::Writer(why)) if why.contains("2026-05-05")));
}

#[test]
fn it_is_whole_html_that_leads_only_into_its_file_and_to_its_own_places() {
    for facts in [full_build::facts(), released()] {
        let html = page(&facts);
        let (elements, faults) = elements(&html);
        assert_eq!(faults, Vec::<String>::new());
        let ids: Vec<&String> = elements.iter().filter_map(|(_, attrs)| attrs.get("id")).collect();
        let known: BTreeSet<&String> = ids.iter().copied().collect();
        assert_eq!(ids.len(), known.len(), "an id stands twice");
        let mut paths: BTreeSet<String> = photos(&facts).into_values().collect();
        for round in rounds(&facts) {
            paths.extend([round.packet, round.signature.unwrap()]);
        }
        let mails = facts.replies.iter().flat_map(|reply| &reply.mails);
        paths.extend(mails.map(|mail| format!("mails/{}", mail.sha256)));
        let mut led = BTreeSet::new();
        for (name, attrs) in &elements {
            assert!(!["script", "link", "iframe", "object", "form", "base"].contains(&name.as_str()), "{name}");
            assert!(attrs.keys().all(|key| !key.starts_with("on") && key != "style" && key != "srcset"), "{attrs:?}");
            for key in ["href", "src", "action", "data", "poster"] {
                let Some(to) = attrs.get(key) else { continue };
                if let Some(place) = to.strip_prefix('#') {
                    assert!(known.contains(&place.to_owned()), "{to} leads nowhere");
                } else {
                    assert!(paths.contains(to), "{to}");
                    led.insert(to.clone());
                }
            }
            if name == "img" {
                assert_eq!(attrs["loading"], "lazy");
                assert!(!attrs["alt"].is_empty() && attrs.contains_key("width") && attrs.contains_key("height"));
            }
        }
        assert_eq!(led, paths, "everything in the file is led to");
        assert!(!html.contains("url(") && !html.contains("@import"), "the style asks for nothing");
        let policy = elements.iter().filter_map(|(_, attrs)| attrs.get("content")).find(|one| one.contains("src"));
        assert_eq!(policy.unwrap(), "default-src 'none'; img-src 'self' data:; style-src 'unsafe-inline'");
    }
}

#[test]
fn what_was_typed_stands_in_it_as_text_alone() {
    let mut facts = full_build::facts();
    let plain = elements(&page(&facts)).0.len();
    HOSTILE.clone_into(&mut facts.build.name);
    HOSTILE.clone_into(&mut facts.build.about);
    HOSTILE.clone_into(&mut facts.notes[0].text);
    HOSTILE.clone_into(&mut facts.questions[0].text);
    HOSTILE.clone_into(&mut facts.questions[0].answers[0].text);
    HOSTILE.clone_into(&mut facts.photos[0].note);
    HOSTILE.clone_into(&mut facts.kit[0].item);
    HOSTILE.clone_into(&mut facts.welds[0].note);
    HOSTILE.clone_into(&mut facts.replies[0].words);
    HOSTILE.clone_into(&mut facts.rulings[0].ruled.words);
    HOSTILE.clone_into(&mut facts.sticks[0].heat);
    let html = page_with(&facts, &photos(&facts), HOSTILE);
    let (elements, faults) = elements(&html);
    assert_eq!(faults, Vec::<String>::new());
    assert!(elements.iter().all(|(name, _)| name != "script"));
    assert!(!html.contains("<script") && !html.contains('\u{202e}') && !html.contains('\u{2066}'));
    let said = text(&html);
    let times = said.matches("<script>alert(1)</script>\" onload='x' [U+202E]evil[U+2066] &amp; ]]>").count();
    assert!(times >= 12, "{times}");
    // a kit that the book does not know has fewer verdicts; nothing else may come or go
    assert!(elements.len() <= plain + 12, "{} {plain}", elements.len());
}

#[test]
fn a_photograph_that_is_not_there_is_called_lost_and_one_withdrawn_is_told_of() {
    let mut facts = full_build::facts();
    assert!(!text(&page(&facts)).contains("LOST"));
    let lost = page_with(&facts, &BTreeMap::new(), "Saved.");
    assert!(text(&lost).contains("LOST: the shop had this photograph, and it is not in this file."));
    assert!(!lost.contains("<img"));
    // a path that leads out of the file is no place of a photograph
    let out = photos(&facts).into_keys().map(|photo| (photo, "https://example.invalid/x.jpg".to_owned())).collect();
    let out = page_with(&facts, &out, "Saved.");
    assert!(!out.contains("example.invalid") && text(&out).contains("LOST"));
    facts.photos[0].withdrawn = Some(tackbook::domain::recorded::photos::Withdrawn {
        at: "2026-05-04T11:00:00Z".parse().unwrap(),
        by: "office".to_owned(),
        why: "of another car".to_owned(),
    });
    let said = text(&page(&facts));
    assert!(said.contains("WITHDRAWN by office, 2026-05-04 11:00:00 UTC: of another car, J1 joint-tacked/wide"));
    facts.photos[0].withdrawn = None;
    facts.photos[0].received = None;
    assert!(text(&page(&facts)).contains("it never arrived"));
}

#[test]
fn each_claim_goes_with_its_fact() {
    let whole = released();
    let said = text(&page(&whole));
    let says = |facts: &BuildFacts, words: &str| text(&page(facts)).contains(words);
    assert!(said.contains("Released: scrutineer A approved round 1"), "{}", said.chars().take(600).collect::<String>());
    // the answer
    let mut facts = whole.clone();
    facts.replies.clear();
    assert!(!says(&facts, "Released") && says(&facts, "No answer to it is recorded."));
    // the round
    facts.rounds.clear();
    assert!(!says(&facts, "Released") && says(&facts, "No round was issued"));
    // what it approved is otherwise
    let mut facts = whole.clone();
    facts.kit.clear();
    assert!(!says(&facts, "Released:") && says(&facts, "is released any more"));
    // unchanged
    assert!(said.contains("Nothing of what round 1 showed is recorded otherwise since."));
    assert!(!says(&facts, "is recorded otherwise since"));
    // the weld and its inspection
    assert!(said.contains("By the weld log: inspected and accepted."));
    let mut facts = whole.clone();
    facts.welds.pop();
    assert!(!says(&facts, "By the weld log: inspected and accepted.") && says(&facts, "welded, not inspected"));
    facts.welds.clear();
    assert!(!says(&facts, "By the weld log: welded") && says(&facts, "No weld is logged."));
    // the stick
    assert!(said.contains("heat 48211"));
    let mut facts = whole.clone();
    (facts.cuts, facts.sticks) = (Vec::new(), Vec::new());
    assert!(!says(&facts, "heat 48211") && says(&facts, "no stick recorded yet"));
    // the book
    let mut facts = whole.clone();
    (facts.book, facts.build.book) = (None, None);
    // what was found when it was ruled, and what the round showed, is told as what was
    (facts.rulings, facts.rounds, facts.replies) = (Vec::new(), Vec::new(), Vec::new());
    let without = text(&page(&facts));
    assert!(without.contains("it is only logged") && without.contains("There is no rule book to judge by."));
    let claims: Vec<&str> = ["meets", "Released:"].into_iter().filter_map(|word| without.split(word).nth(1)).collect();
    assert_eq!(claims.iter().map(|after| after.chars().take(80).collect()).collect::<Vec<String>>(), [""; 0]);
    // the signature and the packet
    let findings = Findings::of(&whole, DAY);
    let bare = CarPage {
        facts: &whole,
        findings: &findings,
        log: &[],
        photos: &BTreeMap::new(),
        rounds: &[],
        mails: &BTreeSet::new(),
        day: DAY,
        units: Units::Inch,
    };
    let bare = text(&index(&bare).unwrap());
    assert!(said.contains("ssh-keygen -Y verify") && !bare.contains("ssh-keygen"));
    assert!(bare.contains("LOST: its packet is not in this file.") && bare.contains("It has no signature here."));
}

#[test]
fn it_says_who_says_so_and_has_everything_that_is_recorded() {
    let said = text(&page(&full_build::facts()));
    for words in [
        "As recorded by the shop up to 2026-05-04; nothing here approves anything.",
        "it approves nothing",
        "Pine Coupe",
        "ISO 9606-1",
        "heat input",
        "tacked",
        "Receipt: the answer to round 1",
        "licence 12",
        "it may stay",
        "balloon J1",
        "2026-05-04 10:00:00",
        "Saved the cage.",
        "a little dark",
    ] {
        assert!(said.contains(words), "{words}");
    }
}
