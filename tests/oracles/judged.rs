//! What rules of kit, gussets and photographs say: one row for each word, at its boundaries, and as the rule's force leaves it.

use jiff::civil::{Date, date};
use tackbook::domain::book::{Force, RuleBook, read};
use tackbook::domain::cage::{GussetKind, Side};
use tackbook::domain::judge::verdicts::{Bar, GussetAt, JointOf, Known, Verdict, Word, judge};
use tackbook::domain::measure::amounts::Amount;
use tackbook::domain::measure::figures::Figure;
use tackbook::domain::recorded::kit::{KitItem, Label};
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::words::car_dates::CarDates;
use tackbook::domain::words::ids::{Balloon, Kind, KitId};
use tackbook::domain::words::roles::MemberRole;

use crate::known::{self, nothing};

const TODAY: Date = date(2026, 6, 1);

/// A book of one rule.
fn rule(kind: &str, force: &str, evidence: &str, fields: &str) -> RuleBook {
    let book = format!(
        "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"inch\"\n[[{kind}]]\nid = \"r\"\nclause = \"1\"\n\
         text_ours = \"x\"\nforce = \"{force}\"\nevidence = \"{evidence}\"\nsure = \"from memory\"\n{fields}\n",
    );
    read(&book).unwrap_or_else(|mistakes| panic!("{mistakes:#?}"))
}

/// What is known of a car; nothing, to begin with.
#[derive(Default)]
struct Car {
    kit: Vec<KitItem>,
    event: Option<Date>,
    joints: Vec<JointOf>,
    gussets: Vec<GussetAt>,
    members: Vec<Bar>,
    figures: Vec<Figure>,
    /// The photographs that are there, by their key and their part.
    photos: Vec<(&'static str, &'static str)>,
}

impl Car {
    fn judged(&self, book: &RuleBook) -> Vec<Verdict> {
        let photographed =
            |key: &str, of: &Balloon| self.photos.iter().any(|photo| photo.0 == key && photo.1 == of.to_string());
        let car = CarDates::default();
        let known = Known {
            figures: &self.figures,
            members: &self.members,
            joints: &self.joints,
            gussets: &self.gussets,
            kit: &self.kit,
            event_day: self.event,
            photographed: &photographed,
            ..nothing(&car, TODAY)
        };
        judge(book, &known).verdicts
    }

    /// The one verdict of a book of one rule.
    fn one(&self, book: &RuleBook) -> Verdict {
        let mut verdicts = self.judged(book);
        assert_eq!(verdicts.len(), 1, "{verdicts:?}");
        verdicts.remove(0)
    }

    fn word(&self, book: &RuleBook) -> Word {
        self.one(book).word
    }
}

fn balloon(text: &str) -> Balloon {
    text.parse().unwrap()
}

fn printed(standard: &str, ends: &str) -> Label {
    Label { standard: standard.to_owned(), ends_printed: ends.parse().ok(), ..Label::default() }
}

fn belts(label: Label, second_label: Option<Label>) -> KitItem {
    let id = KitId::from(uuid::Uuid::nil());
    KitItem { id, number: 1, item: "Belts ".to_owned(), label, second_label, note: String::new(), version: 1 }
}

fn car_with(label: Label, event: Option<Date>) -> Car {
    Car { kit: vec![belts(label, None)], event, ..Car::default() }
}

const BELTS: &str = "item = \"belts\"\nstandards = [\"A 1\", \"B 2\"]\ncounts_from = \"printed\"\nends = \"year end\"";

#[test]
fn kit_has_each_word_and_its_last_day_is_good() {
    let book = rule("kit", "must", "figure", BELTS);
    assert_eq!(Car::default().word(&book), Word::NotMeasured, "nothing is recorded");
    let (last, after) = (date(2026, 12, 31), date(2027, 1, 1));
    for (standard, ends, event, wanted, why) in [
        ("A 1", "2026", last, Word::Meets, "That is its last day."),
        ("A 1", "2026", after, Word::OverBy, "That is 1 day too late."),
        ("B 2", "2026", date(2026, 12, 30), Word::Meets, "1 day is left then."),
        ("B 2", "2026", date(2027, 1, 10), Word::OverBy, "That is 10 days too late."),
        ("C 3", "2040", last, Word::ShortBy, "Its standard is not among those the book accepts: C 3."),
        ("", "2040", last, Word::NotMeasured, "The label's standard is not recorded."),
        ("A 1", "", last, Word::NotMeasured, "When it ends is not known"),
    ] {
        let verdict = car_with(printed(standard, ends), Some(event)).one(&book);
        assert_eq!(verdict.word, wanted, "{standard} {ends} {event}: {verdict:?}");
        assert!(verdict.evidence.iter().any(|said| said.starts_with(why)), "{why}: {:?}", verdict.evidence);
        assert_eq!(verdict.of, Some(balloon("K1")));
    }
    // Without an event nothing says that it is good on its day; what is over today is over then too.
    assert_eq!(car_with(printed("A 1", "2026"), None).word(&book), Word::NotMeasured);
    assert_eq!(car_with(printed("A 1", "2025"), None).word(&book), Word::OverBy);
    // A rule without an end lasts, and a label must show what the book asks.
    let endless = rule("kit", "must", "figure", "item = \"belts\"\nstandards = [\"A 1\"]\nlabel_fields = [\"serial\"]");
    assert_eq!(car_with(printed("A 1", ""), Some(after)).word(&endless), Word::NotMeasured);
    let label = Label { serial: "7".to_owned(), ..printed("A 1", "") };
    assert_eq!(car_with(label, Some(after)).word(&endless), Word::Meets);
    // A rule asked only of a car with a harness bar.
    let asked = rule("kit", "must", "figure", &format!("{BELTS}\nneeded_if = {{ fitted = \"harness bar\" }}"));
    let bar = |role| known::bar(balloon("M1"), role, Some(Side::Across), TubeSize::inch(1.5, 0.095));
    let fitted = |members| Car { members, ..car_with(printed("A 1", "2026"), Some(after)) };
    assert_eq!(fitted(vec![bar(MemberRole::MainHoop)]).word(&asked), Word::NotAsked);
    assert_eq!(fitted(vec![bar(MemberRole::HarnessBar)]).word(&asked), Word::OverBy);
    assert_eq!(fitted(Vec::new()).word(&asked), Word::NotMeasured, "whether it is asked is not known");
}

#[test]
fn of_two_labels_the_book_says_which_counts_or_the_scrutineer_does() {
    let between = Some(date(2027, 6, 1));
    let word = |says: &str, ends: [&str; 2], event| {
        let book = rule("kit", "must", "figure", &format!("{BELTS}\n{says}"));
        let kit = vec![belts(printed("A 1", ends[0]), Some(printed("B 2", ends[1])))];
        Car { kit, event, ..Car::default() }.word(&book)
    };
    for (says, ends, wanted) in [
        ("two_labels = \"later\"", ["2026", "2028"], Word::Meets),
        ("two_labels = \"later\"", ["2028", "2026"], Word::Meets),
        ("two_labels = \"each\"", ["2026", "2028"], Word::OverBy),
        ("two_labels = \"each\"", ["2027", "2028"], Word::Meets),
        ("", ["2026", "2028"], Word::ScrutineerDecides),
        ("", ["2027", "2028"], Word::Meets),
        ("", ["2025", "2026"], Word::OverBy),
    ] {
        assert_eq!(word(says, ends, between), wanted, "{says} {ends:?}");
    }
    // The later label's last day, and the day after.
    assert_eq!(word("two_labels = \"later\"", ["2026", "2028"], Some(date(2028, 12, 31))), Word::Meets);
    assert_eq!(word("two_labels = \"later\"", ["2026", "2028"], Some(date(2029, 1, 1))), Word::OverBy);
    // One label of an accepted standard is enough to be judged by.
    let book = rule("kit", "must", "figure", BELTS);
    let kit = vec![belts(printed("C 3", "2020"), Some(printed("A 1", "2028")))];
    let accepted = Car { kit, event: between, ..Car::default() }.word(&book);
    assert_eq!(accepted, Word::Meets);
}

#[test]
fn what_a_photograph_must_show_needs_one_and_a_failing_label_needs_none_to_fail() {
    let book = rule("kit", "must", "photo", BELTS);
    let mut car = car_with(printed("A 1", "2026"), Some(date(2026, 12, 31)));
    assert_eq!(car.word(&book), Word::NoPhoto);
    car.photos = vec![("r", "K2"), ("other", "K1")];
    assert_eq!(car.word(&book), Word::NoPhoto, "another item's photograph, or another rule's, does not do");
    car.photos = vec![("r", "K1")];
    assert_eq!(car.word(&book), Word::Meets);
    let paper = rule("kit", "must", "paper", BELTS);
    assert_eq!(car.word(&paper), Word::Meets);
    let late = car_with(printed("A 1", "2026"), Some(date(2027, 1, 1)));
    assert_eq!(late.word(&book), Word::OverBy);
}

#[test]
fn a_recommendation_keeps_its_word_and_the_scrutineers_rule_keeps_what_was_found() {
    let events = [date(2026, 12, 31), date(2027, 1, 1)];
    for (force, kept) in [("must", Force::Must), ("should", Force::Should), ("may", Force::May)] {
        let book = rule("kit", force, "figure", BELTS);
        for (event, wanted) in events.into_iter().zip([Word::Meets, Word::OverBy]) {
            let verdict = car_with(printed("A 1", "2026"), Some(event)).one(&book);
            assert_eq!((verdict.word, verdict.force, verdict.found), (wanted, kept, None), "{force}");
        }
    }
    let book = rule("kit", "scrutineer", "figure", BELTS);
    for (event, found) in events.into_iter().zip([Word::Meets, Word::OverBy]) {
        let verdict = car_with(printed("A 1", "2026"), Some(event)).one(&book);
        assert_eq!((verdict.word, verdict.found), (Word::ScrutineerDecides, Some(found)));
    }
    let short = car_with(printed("C 3", "2026"), Some(events[0])).one(&book);
    assert_eq!((short.word, short.found), (Word::ScrutineerDecides, Some(Word::ShortBy)));
}

/// A cage with one joint of hoop and backstay, and so many gussets in it.
fn joint_with(gussets: u32) -> Car {
    let joint = balloon("J1");
    let between = [MemberRole::MainHoop, MemberRole::Backstay];
    let at = |balloon, joint| GussetAt { balloon, joint, between, kind: GussetKind::Saddle, no_hole: false };
    let here = |number| at(Balloon::new(Kind::Gusset, number), joint);
    let other = at(balloon("G99"), balloon("J2"));
    let roles = between.to_vec();
    let elsewhere = JointOf { balloon: balloon("J2"), roles: vec![MemberRole::SillBar, MemberRole::DoorBar] };
    Car {
        joints: vec![JointOf { balloon: joint, roles }, elsewhere],
        gussets: (1..=gussets).map(here).chain([other]).collect(),
        ..Car::default()
    }
}

/// "None" answers a limit on holes; nothing said answers none, and neither makes the gusset meet it.
#[test]
fn a_gusset_without_a_hole_is_told_from_one_of_which_nobody_said() {
    let judged = |fields: &str, no_hole: bool| {
        let mut car = joint_with(1);
        car.gussets.truncate(1);
        car.gussets[0].no_hole = no_hole;
        let verdict =
            car.one(&rule("limit", "must", "figure", &format!("measure = \"gusset hole\"\nof = \"gusset\"\n{fields}")));
        assert_eq!(verdict.of, Some(balloon("G1")));
        (verdict.word, verdict.evidence.join(" "), verdict.to_do())
    };
    let most = "most = 1\ntimes_diameter = true";
    let (word, why, to_do) = judged(most, true);
    assert_eq!((word, why.as_str(), to_do), (Word::NotAsked, "G1 has no hole: recorded so.", ""));
    let (word, why, to_do) = judged(most, false);
    assert_eq!((word, to_do), (Word::NotMeasured, "Say how far across it is, or that it has none."));
    assert_eq!(why, "The gusset hole of G1 is not known.");
    // Whether a least hole asks for one is not the program's to say.
    let (word, why, _) = judged("least = 20\nunit = \"mm\"", true);
    assert_eq!(word, Word::ScrutineerDecides, "{why}");
}

#[test]
fn gussets_have_each_word_and_both_edges_are_in() {
    let at = "at = [\"main hoop\", \"backstay\"]";
    let book = rule("gusset", "must", "figure", &format!("{at}\ncount_least = 1\ncount_most = 2"));
    for (many, wanted, margin) in
        [(0, Word::ShortBy, 1), (1, Word::Meets, 0), (2, Word::Meets, 1), (3, Word::OverBy, 1), (5, Word::OverBy, 3)]
    {
        let verdict = joint_with(many).one(&book);
        assert_eq!((verdict.word, verdict.of), (wanted, Some(balloon("J1"))), "{many}");
        assert_eq!(
            (verdict.figure, verdict.margin),
            (Some(Amount::Count(many)), Some(Amount::Count(margin))),
            "{many}"
        );
    }
    assert_eq!(Car::default().word(&book), Word::NotMeasured, "no joint is known");
    let other = rule("gusset", "must", "figure", "at = [\"main hoop\", \"roof diagonal\"]");
    assert_eq!(joint_with(1).word(&other), Word::NotAsked, "no such joint is in this cage");
    // A role written twice asks for two of it: a crossing of two diagonals.
    let crossing = rule("gusset", "must", "figure", "at = [\"hoop diagonal\", \"hoop diagonal\"]");
    let of = |roles: Vec<MemberRole>| Car { joints: vec![JointOf { balloon: balloon("J1"), roles }], ..Car::default() };
    assert_eq!(of(vec![MemberRole::HoopDiagonal, MemberRole::MainHoop]).word(&crossing), Word::NotAsked);
    assert_eq!(of(vec![MemberRole::HoopDiagonal; 2]).word(&crossing), Word::ShortBy);
    // With a photograph asked for, a gusset alone is not enough; too few stay too few.
    let shown = rule("gusset", "must", "photo", at);
    assert_eq!(joint_with(0).word(&shown), Word::ShortBy);
    assert_eq!(joint_with(1).word(&shown), Word::NoPhoto);
    assert_eq!(Car { photos: vec![("r", "J1")], ..joint_with(1) }.word(&shown), Word::Meets);
}

#[test]
fn a_tube_instead_of_a_gusset_is_shown_and_the_scrutineer_decides() {
    let at = "at = [\"main hoop\", \"backstay\"]\neither = [\"gusset\", \"tube\"]";
    let book = rule("gusset", "must", "figure", at);
    let bare = joint_with(0).one(&book);
    assert_eq!(bare.word, Word::ShortBy);
    assert!(bare.evidence.iter().any(|said| said.contains("If a tube stands in for it, photograph it")));
    let shown = Car { photos: vec![("r", "J1")], ..joint_with(0) };
    assert_eq!(shown.word(&book), Word::ScrutineerDecides);
    assert_eq!(Car { photos: vec![("r", "J2")], ..joint_with(0) }.word(&book), Word::ShortBy, "another joint's");
    let gusset_only = rule("gusset", "must", "figure", "at = [\"main hoop\", \"backstay\"]\neither = [\"gusset\"]");
    assert_eq!(shown.word(&gusset_only), Word::ShortBy);
    for (many, found) in [(0, Word::ShortBy), (1, Word::Meets)] {
        let decides = rule("gusset", "scrutineer", "figure", "at = [\"main hoop\", \"backstay\"]");
        let verdict = joint_with(many).one(&decides);
        assert_eq!((verdict.word, verdict.found), (Word::ScrutineerDecides, Some(found)));
    }
    let should = rule("gusset", "should", "figure", "at = [\"main hoop\", \"backstay\"]");
    let verdict = joint_with(0).one(&should);
    assert_eq!((verdict.word, verdict.force), (Word::ShortBy, Force::Should));
}

fn shot(force: &str, fields: &str) -> RuleBook {
    rule("shot", force, "photo", &format!("what = \"x\"\nbefore = \"welding\"\n{fields}"))
}

#[test]
fn photographs_are_there_view_by_view_and_part_by_part() {
    let book = shot("must", "per = \"joint\"\nviews = [\"wide\", \"close\"]");
    let words = |photos: Vec<(&'static str, &'static str)>| {
        let verdicts = Car { photos, ..joint_with(0) }.judged(&book);
        verdicts.into_iter().map(|verdict| (verdict.of.unwrap().to_string(), verdict.word)).collect::<Vec<_>>()
    };
    let both = |one, two| vec![("J1".to_owned(), one), ("J2".to_owned(), two)];
    assert_eq!(words(vec![]), both(Word::NoPhoto, Word::NoPhoto));
    assert_eq!(words(vec![("r/wide", "J1")]), both(Word::NoPhoto, Word::NoPhoto));
    assert_eq!(words(vec![("r/wide", "J1"), ("r/close", "J1")]), both(Word::Meets, Word::NoPhoto));
    assert_eq!(words(vec![("r/wide", "J1"), ("r/close", "J2")]), both(Word::NoPhoto, Word::NoPhoto));
    let half = Car { photos: vec![("r/wide", "J1")], ..joint_with(0) }.judged(&book);
    assert!(half[0].evidence.contains(&"Missing: close.".to_owned()), "{half:?}");
}

#[test]
fn photographs_of_what_is_not_there_yet_are_missing_and_of_what_never_is_are_not_asked() {
    let bar = known::bar(balloon("M1"), MemberRole::MainHoop, Some(Side::Across), TubeSize::inch(1.5, 0.12));
    for (per, without_cage, with_cage) in [
        ("joint", Word::NoPhoto, Word::NoPhoto),
        ("stick", Word::NoPhoto, Word::NoPhoto),
        ("weigh-in", Word::NoPhoto, Word::NoPhoto),
        ("gusset", Word::NoPhoto, Word::NotAsked),
        ("bend", Word::NoPhoto, Word::NotAsked),
        ("plate", Word::NoPhoto, Word::NoPhoto),
        ("kit item", Word::NoPhoto, Word::NoPhoto),
        ("car", Word::NoPhoto, Word::NoPhoto),
    ] {
        let book = shot("must", &format!("per = \"{per}\""));
        assert_eq!(Car::default().word(&book), without_cage, "{per}, nothing laid out");
        let cage = Car { members: vec![bar.clone()], ..Car::default() };
        assert_eq!(cage.word(&book), with_cage, "{per}, one straight bar");
    }
    // A bent bar is photographed, a straight one not.
    let bent = Car { members: vec![Bar { bends: Some(2), ..bar }], ..Car::default() };
    let verdict = bent.one(&shot("must", "per = \"bend\""));
    assert_eq!((verdict.word, verdict.of), (Word::NoPhoto, Some(balloon("M1"))));
    // The car itself is photographed under C1, and the verdict is of no one part.
    let car = Car { photos: vec![("r", "C1")], ..Car::default() }.one(&shot("must", "per = \"car\""));
    assert_eq!((car.word, car.of), (Word::Meets, None));
    for (photos, found) in [(vec![], Word::NoPhoto), (vec![("r", "C1")], Word::Meets)] {
        let verdict = Car { photos, ..Car::default() }.one(&shot("scrutineer", "per = \"car\""));
        assert_eq!((verdict.word, verdict.found), (Word::ScrutineerDecides, Some(found)));
    }
    let should = Car::default().one(&shot("should", "per = \"car\""));
    assert_eq!((should.word, should.force), (Word::NoPhoto, Force::Should));
}

/// A book that asks for more than is judged never reads as one that is judged: welds all round, a plate's contact area, a
/// joint that comes apart (FIA 253, MSUK App. 3, 17) are no fields of any rule.
#[test]
fn what_no_rule_kind_can_hold_is_refused_and_never_passed_over() {
    let plate = "under = \"main hoop\"\nunit = \"cm\"\narea_least = 120\n";
    for (kind, fields, field) in [
        ("plate", format!("{plate}area_is = \"contact\""), "area_is"),
        ("weld", "round = \"whole\"".to_owned(), "weld"),
        ("member_needed", "role = \"door bar\"\nremovable = true".to_owned(), "removable"),
    ] {
        let head = "[book]\nname = \"x\"\nbody = \"x\"\nedition = \"x\"\nunits = \"metric\"\n";
        let words = "id = \"r\"\nclause = \"1\"\ntext_ours = \"x\"\nforce = \"must\"\nevidence = \"paper\"\n\
                     sure = \"text seen\"\n";
        let told = read(&format!("{head}[[{kind}]]\n{words}{fields}\n")).unwrap_err();
        assert!(told.iter().any(|mistake| mistake.what.contains(field)), "{field}: {told:#?}");
    }
}
