//! What the rules say of a build: its tubes, cage, figures, verdicts and shots. Worked out of the facts, never stored.

use jiff::civil::Date;

use self::judged::{as_cut, figures, judged};
use self::planned::Planned;
use crate::domain::book::in_force::OutOfForce;
use crate::domain::book::{ClassAnswer, Mistake, NoClass, RuleBook};
use crate::domain::cage::solve;
use crate::domain::cage::{Around, Cage, CageRecord, Tubes};
use crate::domain::judge::pieces::{Pieces, Standing};
use crate::domain::judge::ruled;
use crate::domain::judge::shots::Shot;
use crate::domain::judge::verdicts::{Verdict, Weighed};
use crate::domain::measure::figures::Figure;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::recorded::kit::moves::{RunsOut, running_out};
use crate::domain::weight::foreseen::Foreseen;
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::work::lowering::Plan;

pub mod asked_bars;
mod doubts;
pub mod if_weighed;
mod judged;
mod other_cage;
mod planned;
pub mod turned;

#[cfg(test)]
pub(in crate::domain) use planned::UNTIL_WEIGHED;

/// What the rules say of a build, from its facts on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// The rules; none without a book, or with one whose text no longer reads.
    pub rules: Option<RuleBook>,
    /// What this program cannot read in its book's text; empty without a book. While anything is here nothing is judged.
    pub unread_book: Vec<Mistake>,
    /// That the edition is not in force on the event's day, today where none is set; none where it is, or does not say.
    pub out_of_force: Option<OutOfForce>,
    /// The weight class by the newest weighing alone; none before the weigh-in or without a book.
    pub class: Option<Result<ClassAnswer, NoClass>>,
    /// That class and the one the finished car is in, which the tube goes by; none while the weighing gives no class.
    pub weighed: Option<Weighed>,
    /// The finished weight foreseen; none before the weigh-in.
    pub foreseen: Option<Foreseen>,
    /// The tubes that the cage is worked out with.
    pub tubes: Tubes,
    /// Whether the class asks for them; else they are only for the picture.
    pub tubes_asked: bool,
    /// What was measured and chosen of the cage, numbered.
    pub record: CageRecord,
    /// Whether the cage's text could be read; a cage of a later program cannot.
    pub cage_reads: bool,
    /// The cage.
    pub cage: Cage,
    /// The body and the seats round it, by the tubes that its bars are cut from.
    pub around: Around,
    /// The photographs and figures that are of an earlier piece.
    pub pieces: Pieces,
    /// Its figures, from the model and as measured.
    pub figures: Vec<Figure>,
    /// The photographs asked for, in walking order.
    pub shots: Vec<Shot>,
    /// Those that are only taken where something stands in for what a rule asks.
    pub stand_ins: Vec<Shot>,
    /// What every rule says.
    pub verdicts: Vec<Verdict>,
    /// How the cage is lowered; none where that is not wanted.
    pub lowering: Option<Plan>,
    /// The kit that is good for the event and runs out within the season.
    pub runs_out: Vec<RunsOut>,
    /// The day it was worked out for.
    pub day: Date,
}

impl Worked {
    /// What follows from these facts on this day.
    pub fn of(facts: &BuildFacts, today: Date) -> Self {
        let (rules, unread_book) = match facts.rules() {
            Some(Ok(rules)) => (Some(rules), Vec::new()),
            Some(Err(mistakes)) => (None, mistakes),
            None => (None, Vec::new()),
        };
        let Planned { tubes, asked, record, cage_reads, cage, foreseen, weighed } = Planned::of(facts, rules.as_ref());
        let built = as_cut(&cage, facts);
        let around = Around::of(&record, &built);
        let pieces = Pieces::of(facts, (&record, &cage), &tubes);
        let known = (facts, pieces.standing(facts));
        let mut figures = figures(known, (&built, &around), &record);
        let (mut verdicts, mut all_shots) = (Vec::new(), Vec::new());
        if let Some(rules) = &rules {
            doubts::doubts(rules, &record, &tubes, &mut figures);
            (verdicts, all_shots) =
                judged(rules, known, (&built, record.structure), &figures, (weighed.as_ref(), today));
            ruled::apply(&facts.rulings, &rules.book.describe(), &mut verdicts);
        }
        let wanted = facts.lowering.as_ref().filter(|lowering| lowering.wanted);
        let lowering = wanted.and_then(|lowering| Plan::of(&record, &cage, &lowering.settings));
        if facts.may_number_anew(&record) {
            all_shots.retain(|shot| shot.of.kind != Kind::Joint);
        }
        let (stand_ins, mut shots): (Vec<Shot>, Vec<Shot>) = all_shots.into_iter().partition(|shot| shot.stand_in);
        shots.extend(lowering.iter().flat_map(|plan| plan.shots(&cage, known)));
        let day = facts.build.event_day.unwrap_or(today);
        Self {
            out_of_force: rules.as_ref().and_then(|it| OutOfForce::of(&it.book, facts.build.event_day, today)),
            class: rules.as_ref().and_then(|rules| facts.class(rules)),
            runs_out: rules.as_ref().map(|rules| running_out(rules, &facts.kit, day)).unwrap_or_default(),
            rules,
            unread_book,
            weighed,
            foreseen,
            tubes,
            tubes_asked: asked,
            record,
            cage_reads,
            cage,
            around,
            pieces,
            figures,
            shots,
            stand_ins,
            verdicts,
            lowering,
            day: today,
        }
    }

    /// The photographs and figures that count: those of the pieces that are there. `facts` are those it was worked out of.
    pub const fn standing<'a>(&'a self, facts: &'a BuildFacts) -> Standing<'a> {
        self.pieces.standing(facts)
    }

    /// The tube that is chosen, by the class that asks for it; none while none does.
    pub fn chosen(&self) -> Option<&Tubes> {
        self.tubes_asked.then_some(&self.tubes)
    }

    /// The cage that another record would make, of the same tube.
    pub fn tried(&self, record: &CageRecord) -> Cage {
        solve(&record.numbered_for(&self.tubes), &self.tubes)
    }

    /// What cannot be built of the cage, and what is wrong with the places of body and seats.
    pub fn cage_faults(&self) -> impl Iterator<Item = &Fault> {
        self.cage.faults.iter().chain(&self.around.faults)
    }

    /// The verdicts rule by rule, in the book's order.
    pub fn by_rule(&self) -> impl Iterator<Item = &[Verdict]> {
        self.verdicts.chunk_by(|one, next| one.rule_id == next.rule_id)
    }

    /// The verdicts of a part.
    pub fn verdicts_of(&self, part: Balloon) -> impl Iterator<Item = &Verdict> {
        self.verdicts.iter().filter(move |verdict| verdict.of == Some(part))
    }

    /// The shots of a part.
    pub fn shots_of(&self, part: Balloon) -> impl Iterator<Item = &Shot> {
        self.shots.iter().filter(move |shot| shot.of == part)
    }

    /// All shots: those asked for, then those that are only taken where something stands in.
    pub fn every_shot(&self) -> impl Iterator<Item = &Shot> {
        self.shots.iter().chain(&self.stand_ins)
    }

    /// How many of the shots are taken.
    pub fn taken(&self) -> usize {
        self.shots.iter().filter(|shot| shot.taken()).count()
    }
}
