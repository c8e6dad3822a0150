//! The demo shop: made where nothing is, never over a real shop, each build where it says it is, and served.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;

use tackbook::actions::recorded::{kit, looking, measures, photos, questions};
use tackbook::actions::shop::stock;
use tackbook::actions::weight::foreseen;
use tackbook::actions::{Context, Memory};
use tackbook::clock::Clock;
use tackbook::demo::{SIGN_INS, Standing, Wanted, begin, standing};
use tackbook::domain::book::Force;
use tackbook::domain::cage::End;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::derived::hold::Hold;
use tackbook::domain::derived::measures::NewMeasured;
use tackbook::domain::derived::measures::ReadOff;
use tackbook::domain::derived::open_items;
use tackbook::domain::judge::verdicts::{Verdict, Word};
use tackbook::domain::measure::amounts::Amount;
use tackbook::domain::measure::measures::Measure;
use tackbook::domain::measure::tools::Tool;
use tackbook::domain::recorded::facts::BuildFacts;
use tackbook::domain::recorded::kit::Label;
use tackbook::domain::recorded::kit::NewItem;
use tackbook::domain::shop::saw::Saw;
use tackbook::domain::shop::stock::BarCut;
use tackbook::domain::shop::stock::Stick;
use tackbook::domain::weight::carried::{Thing, Way};
use tackbook::domain::words::ids::Balloon;
use tackbook::domain::work::cut_list::balance;
use tackbook::domain::work::cut_plan::{Effort, of_build};
use tackbook::quantity::{Length, Mass, Stress, Typed, Units};
use tackbook::store::Store;

use crate::folder::Folder;
use crate::house::{House, encoded};
use crate::wrapped::gaps;

fn program() -> PathBuf {
    PathBuf::from(env!("CARGO_BIN_EXE_tackbook"))
}

/// The last bars of the last of these builds wait for the saw, and the sticks that are there are enough: its cut plan has
/// something to show.
async fn last_bars_wait_for_the_saw(store: &Store, all: &[(BuildFacts, Findings)]) {
    let (tacked, found) = all.last().unwrap();
    let uncut = found.worked.cage.members.iter().filter(|bar| tacked.stick_of(bar.balloon).is_none());
    let uncut: Vec<String> = uncut.map(|bar| bar.balloon.to_string()).collect();
    let saw = Saw::default();
    let left = |stick: Stick| (stick.clone(), balance(&stick, all.iter().map(|one| &one.0)));
    let sticks: Vec<_> = store.sticks().await.unwrap().into_iter().map(left).collect();
    let plan = of_build(tacked, &found.worked.cage, &sticks, &saw).planned(&mut Effort::steps(Effort::USUAL));
    let pieces = plan.sizes.iter().flat_map(|size| &size.sticks).flat_map(|stick| &stick.pieces);
    let mut cut: Vec<String> = pieces.map(|piece| piece.name.clone()).collect();
    cut.sort();
    assert_eq!((uncut.len(), cut), (3, uncut));
    assert!(plan.sizes.iter().all(|size| size.to_buy() == 0 && size.no_stick.is_empty()));
}

#[tokio::test]
async fn each_build_is_where_it_says_it_is() {
    let folder = Folder::new();
    let store = Store::open(&folder.0).await.unwrap();
    let clock = Clock::of_machine();
    assert_eq!(standing(&store).await.unwrap(), Standing::Empty);
    let wanted = Wanted { photos: 2, ..Wanted::default() };
    let look = looking::in_child(store.clone(), program());
    let begun = begin(&store, &look, &clock, wanted, Arc::new(|_, _, _| ())).await.unwrap();
    begun.make().await.unwrap();
    assert_eq!(standing(&store).await.unwrap(), Standing::Demo);
    assert_eq!(store.verify_log().await.unwrap().broken_at, None);
    let log = store.log(u32::MAX).await.unwrap();
    assert!(log.iter().all(|entry| entry.detail.get("clock_said").is_none()), "a deed before the one it follows");

    let of = async |slug: &str| {
        let build = store.build_by_slug(slug).await.unwrap().unwrap_or_else(|| panic!("no {slug}"));
        let facts = store.facts(build.id).await.unwrap();
        let found = Findings::of(&facts, clock.today());
        (facts, found)
    };
    let (weighed, found) = of("burdock-saloon").await;
    assert!(weighed.cage.is_none() && weighed.sticks.is_empty() && weighed.weigh_ins.len() == 1);
    assert!(found.worked.class.unwrap().is_ok());

    let (tacked, found) = of("teasel-coupe").await;
    assert_eq!(found.worked.cage.faults, []);
    assert!(found.worked.cage.members.iter().all(|bar| !bar.ends.contains(&End::Free)));
    let all = [of("yarrow-hatch").await, of("campion-estate").await, (tacked.clone(), found.clone())];
    last_bars_wait_for_the_saw(&store, &all).await;
    for (facts, found) in &all {
        // Each template wrapped on its tube lies on the bars it is cut to.
        let gaps = gaps(&found.worked.cage);
        println!("{}: {gaps:?}", facts.build.slug);
        assert!(gaps.ends > 20 && gaps.off.0 < 0.05 && gaps.deep.0 < 0.05, "{}: {gaps:?}", facts.build.slug);
    }
    assert_eq!(tacked.questions.iter().filter(|question| question.settled.is_none()).count(), 1);
    assert_eq!(tacked.photos.iter().filter(|photo| photo.received.is_some()).count(), 2);
    assert!(tacked.photos.iter().all(|photo| photo.received.as_ref().unwrap().remarks.is_empty()));
    assert_eq!((found.worked.taken(), found.hold), (2, Hold::NothingIssued));
    assert!(!tacked.measured.is_empty());
    // What fails can be put right on the screens: nothing of the cage itself, one belt that ends before the event.
    let failing = found.worked.verdicts.iter().filter(|verdict| verdict.word.fails());
    let failing: Vec<_> = failing.map(|verdict| (verdict.rule_id.as_str(), verdict.of.unwrap().to_string())).collect();
    assert_eq!(failing, [("kit-belts", "K4".to_owned())]);
    assert!(found.worked.verdicts.iter().any(|verdict| verdict.word == Word::NotMeasured));

    // 2.5 kg inside the edge of 1360 kg; two questions of the scrutineer's.
    let (asked, found) = of("yarrow-hatch").await;
    assert!((asked.weigh_ins[0].reading.total().kg() - 1_357.5).abs() < 1e-6);
    assert_eq!((found.worked.cage.faults.len(), found.hold.clone()), (0, Hold::NotYet(1)));
    let open = asked.questions.iter().filter(|question| question.from_reply && question.settled.is_none());
    assert!(open.clone().count() == 2 && open.clone().all(|question| question.about.is_some()));
    assert!(found.changes.is_empty());

    let (released, found) = of("campion-estate").await;
    assert!(matches!(found.hold, Hold::Released { round: 1, .. }) && found.changes.is_empty());
    assert_eq!(found.worked.cage.faults, []);
    for (facts, found) in [(&asked, of("yarrow-hatch").await.1), (&released, found)] {
        let musts = found.worked.verdicts.iter().filter(|verdict| verdict.force == Force::Must);
        let failing: Vec<_> = musts.filter(|verdict| verdict.word.fails()).collect();
        assert!(failing.is_empty(), "{}: {failing:?}", facts.build.slug);
        let unknown = found.worked.verdicts.iter().filter(|verdict| verdict.word == Word::NotMeasured);
        assert_eq!(unknown.count(), 0, "{}", facts.build.slug);
    }

    let (van, found) = of("tansy-pickup").await;
    assert!(van.book.is_none() && found.worked.verdicts.is_empty());
    assert!(van.notes.first().unwrap().waits_on().is_some());
    store.close().await;
}

/// What a person would read off the car.
fn read_off(measure: Measure) -> Option<(Amount, &'static str)> {
    Some(match measure {
        Measure::Roundness => (Amount::Ratio(0.97), "0.97"),
        Measure::InspectionHole => (Amount::Length(Length::from_mm(4.0)), "4 mm"),
        Measure::BodyGap => (Amount::Length(Length::from_mm(30.0)), "30 mm"),
        Measure::HeadGap => (Amount::Length(Length::from_mm(90.0)), "90 mm"),
        Measure::Carbon | Measure::Manganese | Measure::OtherElement => (Amount::Percent(0.2), "0.2"),
        Measure::Tensile => (Amount::Stress(Stress::from_mpa(510.0)), "510 MPa"),
        Measure::DoorBarHeight => (Amount::Length(Length::from_mm(280.0)), "280 mm"),
        _ => return None,
    })
}

/// The build to work on can be finished: what its sheets ask for, done, leaves nothing open but the round itself.
#[expect(clippy::too_many_lines, reason = "one story from its beginning to its end")]
#[tokio::test]
async fn the_build_to_work_on_can_be_finished() {
    let folder = Folder::new();
    let store = Store::open(&folder.0).await.unwrap();
    let (clock, look) = (Clock::of_machine(), looking::in_child(store.clone(), program()));
    let begun = begin(&store, &look, &clock, Wanted { builds: 1, photos: 0 }, Arc::new(|_, _, _| ())).await.unwrap();
    begun.make().await.unwrap();
    let build = store.build_by_slug("teasel-coupe").await.unwrap().unwrap().id;
    let read = async || {
        let facts = store.facts(build).await.unwrap();
        let found = Findings::of(&facts, clock.today());
        (facts, found)
    };
    let by = store.person_by_name("office").await.unwrap().unwrap().person;
    let ctx = Context { store: store.clone(), clock: clock.clone(), by, memory: Memory::default() };

    // a finished weight that stays in its class: 12 kg more come out
    let mass = Typed::of(Mass::from_kg(12.0), "12 kg");
    let thing = Thing { name: "tow bar".to_owned(), way: Way::Out, mass, spread: None };
    foreseen::add(&ctx, build, thing).await.unwrap();
    // a belt that lasts
    let (facts, found) = read().await;
    let belt = facts.kit.iter().find(|item| item.number == 4).unwrap();
    let made = facts.kit.iter().find(|item| item.number == 3).unwrap().label.made;
    let label = Label { made, ..belt.label.clone() };
    let new = NewItem { item: belt.item.clone(), label, second_label: None, note: String::new() };
    kit::change(&ctx, build, belt.id, belt.version, new).await.unwrap();
    // the last bars are cut
    let uncut = found.worked.cage.members.iter().filter(|bar| facts.stick_of(bar.balloon).is_none());
    for bar in uncut {
        let stick = facts.sticks.iter().find(|stick| stick.size.value == bar.tube).unwrap();
        stock::cut_bars(&ctx, build, &[BarCut { member: bar.balloon, stick: stick.id, again: false }]).await.unwrap();
    }
    let (_, found) = read().await;
    // what is still to be read off the car
    let unknown = |verdict: &&Verdict| verdict.word == Word::NotMeasured || verdict.found == Some(Word::NotMeasured);
    for verdict in found.worked.verdicts.iter().filter(unknown) {
        let missing =
            |asked: &&(Measure, Balloon)| !found.worked.figures.iter().any(|one| (one.measure, one.of) == **asked);
        let own = verdict.figure.is_none().then(|| (verdict.measure.unwrap(), verdict.of.unwrap()));
        let also = verdict.also.iter().find(missing).copied();
        for (measure, of) in also.into_iter().chain(own) {
            let read = read_off(measure);
            let (amount, text) = read.unwrap_or_else(|| panic!("nobody can read off {} of {of}", measure.word()));
            let new = NewMeasured {
                measure,
                of,
                read: ReadOff::of(measure, amount, text),
                tool: Tool::of(measure, Units::Metric).first().copied(),
            };
            measures::record(&ctx, build, vec![new]).await.unwrap();
        }
    }
    // every photograph of the list
    for (seed, shot) in (0_u32..).zip(read().await.1.worked.shots) {
        let picture =
            image::GrayImage::from_fn(64, 48, |x, y| image::Luma([u8::try_from((x * y + seed) % 251).unwrap()]));
        let mut bytes = std::io::Cursor::new(Vec::new());
        picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
        let capture = uuid::Uuid::now_v7().into();
        let whole = photos::Whole { capture, shot: shot.name(), note: String::new(), bytes: bytes.into_inner() };
        photos::keep_whole(&ctx, build, whole, &look).await.unwrap();
    }
    // the question
    let question = read().await.0.questions[0].clone();
    questions::answer(&ctx, build, question.id, "Leave it; the belts run level.", None).await.unwrap();
    questions::settle(&ctx, build, question.id).await.unwrap();

    let (facts, found) = read().await;
    assert_eq!(found.worked.taken(), found.worked.shots.len());
    let good = [Word::Meets, Word::NotAsked, Word::ScrutineerDecides];
    let left: Vec<_> = found.worked.verdicts.iter().filter(|verdict| !good.contains(&verdict.word)).collect();
    assert!(left.is_empty(), "{left:?}");
    let open = open_items::of(&facts, &found, Units::Inch, &|at| clock.day_of(at));
    assert_eq!(open, []);
    store.close().await;
}

/// A demo server that goes with its owner.
struct Demo(Child);

impl Drop for Demo {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn called(folder: &Path) -> Command {
    let mut call = Command::new(program());
    call.args(["demo", "--json", "--listen", "127.0.0.1:0", "--builds", "1", "--photos", "1", "--folder"]).arg(folder);
    call.stdout(Stdio::piped()).stderr(Stdio::piped());
    call
}

fn ready(folder: &Path) -> (Demo, serde_json::Value) {
    let mut child = called(folder).spawn().unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
    (Demo(child), serde_json::from_str(&line).unwrap())
}

fn signed_in(address: &str, name: &str, password: &str) -> String {
    let host = address.strip_prefix("http://").unwrap();
    let body = encoded(&[("name", name), ("password", password)]);
    let mut stream = TcpStream::connect(host).unwrap();
    write!(
        stream,
        "POST /sign-in HTTP/1.1\r\nhost: {host}\r\nsec-fetch-site: same-origin\r\nconnection: close\r\n\
         content-type: application/x-www-form-urlencoded\r\ncontent-length: {}\r\n\r\n{body}",
        body.len()
    )
    .unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

#[test]
fn the_line_of_json_says_where_it_is_and_who_can_sign_in_twice_over() {
    let folder = Folder::new();
    for _ in 0..2 {
        let (_demo, line) = ready(&folder.0);
        let sign_ins = line["sign_ins"].as_array().unwrap();
        assert_eq!(sign_ins.len(), SIGN_INS.len());
        let text = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
        let address = text(&line["address"]);
        for one in sign_ins {
            let answer = signed_in(&address, &text(&one["name"]), &text(&one["password"]));
            assert!(answer.starts_with("HTTP/1.1 303") && answer.contains("set-cookie"), "{answer}");
        }
        assert!(!signed_in(&address, "office", "a wrong password").contains("set-cookie"));
    }
}

/// The front page to whoever has this answer's cookie.
fn front_page(address: &str, signed: &str) -> String {
    let host = address.strip_prefix("http://").unwrap();
    let cookie = signed.lines().find_map(|line| line.strip_prefix("set-cookie: ")).unwrap().split(';').next().unwrap();
    let mut stream = TcpStream::connect(host).unwrap();
    write!(stream, "GET / HTTP/1.1\r\nhost: {host}\r\ncookie: {cookie}\r\nconnection: close\r\n\r\n").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

/// It answers as soon as people can sign in, and says on its sheets that it is not whole until it is.
#[test]
fn it_is_looked_at_while_it_is_made_and_says_so_until_it_is_whole() {
    let folder = Folder::new();
    let mut call = Command::new(program());
    call.args(["demo", "--listen", "127.0.0.1:0", "--builds", "1", "--photos", "6", "--folder"]).arg(&folder.0);
    let mut child = call.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map(Result::unwrap);
    let _demo = Demo(child);
    let address = lines.find_map(|line| line.strip_prefix("The demo shop is open at ").map(str::to_owned)).unwrap();
    let signed = signed_in(&address, SIGN_INS[0].name, SIGN_INS[0].password);
    let page = front_page(&address, &signed);
    assert!(page.contains("id=\"under-way\"") && page.contains("The demo shop is still being made"), "{page}");
    assert!(lines.any(|line| line == "The demo shop is whole."));
    let page = front_page(&address, &signed);
    assert!(!page.contains("under-way") && page.contains("Teasel Coupe"), "{page}");
}

#[tokio::test]
async fn a_real_shop_is_never_made_a_demo() {
    let house = House::new().await;
    let before = house.store.log(u32::MAX).await.unwrap().len();
    house.store.close().await;
    let said = called(&house.folder.0).output().unwrap();
    assert_eq!(said.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&said.stderr).contains("is a real shop"), "{said:?}");
    let store = Store::open(&house.folder.0).await.unwrap();
    assert_eq!(store.log(u32::MAX).await.unwrap().len(), before);
    store.close().await;
}
