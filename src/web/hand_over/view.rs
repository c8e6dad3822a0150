//! What the hand-over's sheet shows.

use std::collections::BTreeMap;

use askama::Template;

use crate::actions::shop::signing::fingerprint;
use crate::documents::chapters::{Block, Chapter, Place};
use crate::documents::hand_over::{HandOver, RoundFile, chapters, said_by, said_once};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::verdicts::Word;
use crate::domain::recorded::rounds::Round;
use crate::domain::shop::signing::{RoundSignature, packet_name};
use crate::domain::words::ids::{Balloon, Kind};
use crate::web::gate::Seen;
use crate::web::page;
use crate::web::page::part_address;

/// The chapters of a hand-over, with what they are and are not.
#[derive(Template)]
#[template(path = "hand_over/hand_over.html")]
pub(crate) struct Sheet {
    sheet: page::Sheet,
    said_by: String,
    cautions: Vec<&'static str>,
    chapters: Vec<Chapter>,
}

impl Sheet {
    /// Of a build as it stands today.
    pub(crate) fn of(seen: &Seen, found: &Findings, signatures: &[RoundSignature]) -> Self {
        let (facts, clock) = (&seen.facts, &seen.who.ctx.clock);
        let signature = |round: &Round| signatures.iter().find(|one| one.round == round.id);
        let file = |round: &Round| {
            let packet = packet_name(&facts.build.slug, round.number);
            let signature = signature(round).map(|_| format!("{packet}.sig"));
            RoundFile { number: round.number, packet, signature }
        };
        let rounds: Vec<RoundFile> = facts.rounds.iter().map(file).collect();
        let keys = facts.rounds.iter().filter_map(|round| Some((round.number, fingerprint(&signature(round)?.public))));
        let keys: BTreeMap<u32, String> = keys.collect();
        let leads = |part: Balloon| {
            let there = match part.kind {
                Kind::Member | Kind::Joint | Kind::Gusset | Kind::Plate => found.worked.cage.has(part),
                Kind::Kit => facts.kit.iter().any(|item| item.number == part.number),
                Kind::Stick | Kind::WeighIn | Kind::Question | Kind::Car => true,
            };
            there.then(|| seen.address(&part_address(part)))
        };
        let today = clock.today();
        let day_of = |at| clock.day_of(at);
        let packet_at = |number: u32| Some(seen.address(&format!("/rounds/{number}/packet.pdf")));
        let chapters = chapters(&HandOver {
            facts,
            found,
            units: seen.who.units,
            day: today,
            day_of: &day_of,
            leads: &leads,
            rounds: &rounds,
            packet_at: &packet_at,
            keys: Some(&keys),
        });
        // The foot of every sheet says the first caution already.
        let cautions = said_once().into_iter().skip(1).collect();
        Self { sheet: seen.sheet("Hand-over"), said_by: said_by(today), cautions, chapters }
    }
}
