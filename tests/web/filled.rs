//! A shop with two of everything that an address can name.
#![expect(clippy::indexing_slicing, clippy::panic, reason = "a test may stop")]

use std::collections::HashMap;

use axum::http::StatusCode;
use tackbook::actions::{self, Context};
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::cage::{CageRecord, TubeOverride};
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::recorded::car_file::pattern::{Pattern, parted};
use tackbook::domain::recorded::notes::NewNote;
use tackbook::domain::recorded::notes::Note;
use tackbook::domain::recorded::rounds::links::{GoodFor, NewReadingLink};
use tackbook::domain::recorded::rounds::mails::NewMail;
use tackbook::domain::recorded::rounds::{Came, Decision, NewReply};
use tackbook::domain::shop::people::Role;
use tackbook::domain::steel::tube::TubeSize;
use tackbook::domain::weight::carried::{Spread, SpreadIs, Thing, Way};
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::domain::work::stickers::Tag;
use tackbook::quantity::{Mass, Typed};
use tackbook::store::recorded::build_log::Entry;

use crate::camera::{Phone, jpeg, new_capture};
use crate::house::{House, PASSWORD};
use crate::main_job::{begun, weigh};

/// What stands in an address for each of its parts, by the part before it: what the fabricator takes, what the others do
/// (what one takes away is gone), and what is another build's or nobody's.
type Parts = HashMap<&'static str, [String; 3]>;

/// The shop.
pub(crate) struct Shop {
    parts: Parts,
    tag: String,
}

/// The address of the build.
pub(crate) const PINE: &str = "pine-coupe";
/// Bars with a tube of their own.
const OWN_TUBES: [&str; 2] = ["main-hoop", "half-hoop/left"];

impl Shop {
    /// A shop with two builds, and in one of them two of everything.
    pub(crate) async fn filled(house: &House) -> Self {
        begun(house).await;
        let office = house.browser("office").await;
        office.post("/builds/new", &[("name", "Elm Saloon")]).await;
        let fabricator = house.browser("fabricator").await;
        weigh(&fabricator, "661", "").await;
        let build = house.store.build_by_slug(PINE).await.unwrap().unwrap().id;
        let elm = house.store.build_by_slug("elm-saloon").await.unwrap().unwrap().id;
        actions::recorded::cage::save(&house.office, build, 0, &cage()).await.unwrap();
        begun_by(house, build).await;
        let phone = Phone { house, browser: fabricator, build: PINE };
        let [one, two, theirs] = [1, 2, 3].map(jpeg);
        phone.keep(&one, "J7 joint-tacked/wide").await;
        phone.keep(&two, "").await;
        let phone = Phone { build: "elm-saloon", ..phone };
        phone.keep(&theirs, "").await;
        let [one, two, theirs] = [one, two, theirs].map(|bytes| Fingerprint::of(&bytes).text().to_owned());
        for (photo, mark) in [(&one, "10 %"), (&two, "20 %")] {
            for across in [mark, "30 %"] {
                let arrow = [
                    ("shape", "arrow"),
                    ("across", across),
                    ("down", "20 %"),
                    ("to_across", "60 %"),
                    ("to_down", "60 %"),
                ];
                let drawn = phone.browser.post(&format!("/builds/{PINE}/photos/{photo}/marks"), &arrow).await;
                assert_eq!(drawn.status, StatusCode::SEE_OTHER, "{}", drawn.text);
            }
        }
        let mut parts: Parts = HashMap::new();
        let mut put = |part, own: [String; 2], not: &str| {
            let [first, second] = own;
            parts.insert(part, [first, second, not.to_owned()]);
        };
        put("photos/{sha256}", [one.clone(), two], &theirs);
        put("uploads/{sha256}", [one.clone(), one], &theirs);
        let lines = [note(&house.office, build).await, note(&house.office, build).await];
        put("log/{line}", lines.map(|line| line.id.to_string()), &note(&house.office, elm).await.id.to_string());
        recorded(house, build, &mut put).await;
        of_the_shop(house, &mut put).await;
        let photos = house.store.photos(build).await.unwrap();
        let capture_of = |sha256: &str| {
            let photo = photos.iter().find(|photo| photo.sha256.text() == sha256).unwrap();
            photo.capture.to_string()
        };
        let [first, second, _] = &parts["photos/{sha256}"];
        let of_photos = [capture_of(first), capture_of(second), String::new()];
        parts.insert("capture", of_photos);
        let mut put = |part, own: [String; 2], not: &str| {
            let [first, second] = own;
            parts.insert(part, [first, second, not.to_owned()]);
        };
        let captures = [(), ()].map(|()| new_capture());
        put("captures/{capture}", captures, "no-capture");
        put("told/{named}", [uuid(), uuid()], "no-line");
        put("tape/{measure}", ["knee_up_left", "knee_out_left"].map(str::to_owned), "no_measure");
        Self { parts, tag: Tag::of(build, "J7".parse().unwrap()).to_string() }
    }

    /// The address for somebody who takes the first or the second of what is there, or what is not theirs.
    pub(crate) fn filled_in(&self, path: &str, which: usize) -> String {
        let segments: Vec<&str> = path.split('/').collect();
        let fill = |at: usize| {
            let segment = segments[at];
            let key = if at > 0 { format!("{}/{segment}", segments[at - 1]) } else { segment.to_owned() };
            match segment {
                "{build}" => PINE.to_owned(),
                "{tag}" => self.tag.clone(),
                "{link}" | "{token}" => "spent".to_owned(),
                "{*path}" => "tackbook.css".to_owned(),
                "{view}" => "screen".to_owned(),
                "{kind}" => "limit".to_owned(),
                part if part.starts_with('{') => {
                    let known = self.parts.get(key.as_str());
                    known.unwrap_or_else(|| panic!("nothing stands for {key} of {path}"))[which].clone()
                }
                word => word.to_owned(),
            }
        };
        let filled = (0..segments.len()).map(fill).collect::<Vec<_>>().join("/");
        let asked = match path {
            "/two-tubes" => "?one=1.5+x+.095+in",
            "/builds/{build}/photos/shot" => "?name=J7+joint-tacked/wide",
            "/builds/{build}/photos/compare" => {
                let photos = &self.parts["photos/{sha256}"];
                return format!("{filled}?one={}&other={}", photos[0], photos[1]);
            }
            _ => "",
        };
        filled + asked
    }

    /// What a form has to name for anything to be looked at; the rest of it stays empty.
    pub(crate) fn form(&self, path: &str, which: usize) -> Vec<(&'static str, String)> {
        let named = |field, part: &str| vec![(field, self.parts[part][which].clone())];
        match path {
            "/builds/{build}/photos/{sha256}/place"
            | "/builds/{build}/photos/{sha256}/looked"
            | "/builds/{build}/walk/said"
            | "/builds/{build}/photos/{sha256}/withdraw" => named("capture", "capture"),
            "/builds/{build}/walk/cannot" => vec![("shot", "J7 joint-tacked/wide".to_owned())],
            "/builds/{build}/edition" => named("to", "other book"),
            "/builds/{build}/rounds/{round}/review" | "/read/{secret}/review" => vec![("part", "J7".to_owned())],
            _ => Vec::new(),
        }
    }

    /// Whether an address names something that another build has, or nobody.
    pub(crate) fn names_a_thing(path: &str) -> bool {
        let own = ["{build}", "{tag}", "{link}", "{token}", "{*path}", "{view}", "{kind}", "{capture}"];
        path.split('/').any(|segment| segment.starts_with('{') && !own.contains(&segment))
    }
}

fn uuid() -> String {
    uuid::Uuid::now_v7().to_string()
}

/// As a build that was begun by the file of a car with the example's cage.
async fn begun_by(house: &House, build: BuildId) {
    let (_, figures) = parted(example_record());
    let (at, by) = (house.clock.now(), "office".to_owned());
    let list = Fingerprint::of(b"a list");
    let pattern = Pattern { car: "Oak Van".to_owned(), list, public: String::new(), at, by, figures };
    let figures = serde_json::to_string(&pattern.figures).unwrap();
    let (room, what, detail) = ("builds", "It was begun by a car's file.".to_owned(), serde_json::json!({}));
    let entry = Entry { build: Some(build), by: "office".to_owned(), at, room, what, detail };
    let change = house.store.change(move |write| {
        Box::pin(async move {
            write.add_pattern(build, &pattern, &figures).await?;
            Ok::<_, actions::ActionError>(((), Some(entry)))
        })
    });
    change.await.unwrap();
}

/// The example's cage, with two of everything that can be taken out of it.
fn cage() -> CageRecord {
    let mut record = example_record();
    for bar in OWN_TUBES {
        let tube = TubeOverride { tube: TubeSize::inch(1.75, 0.120), grade: None, reason: "what there is".to_owned() };
        record.tubes.insert(bar.to_owned(), tube);
    }
    let mut record = serde_json::to_value(record).unwrap();
    let length = |mm: f64| serde_json::json!({"value": mm, "text": format!("{mm} mm")});
    let stand =
        |on: &str, mm: f64| serde_json::json!({"on": on, "at": {"from_end": {"end": "start", "by": length(mm)}}});
    let all = record.as_object_mut().unwrap();
    let bar = |number: u32| {
        let by = 200.0 + 100.0 * f64::from(number);
        serde_json::json!({"number": number, "name": format!("tie {number}"), "role": "other bar",
            "ends": [stand("half-hoop/left", by), stand("half-hoop/right", by)], "cut_at_crossings": false})
    };
    all.insert("hand_bars".to_owned(), serde_json::json!([bar(1), bar(2)]));
    let place = |number: u32| {
        let point = serde_json::json!({"forward": length(300.0), "left": length(0.0), "up": length(1200.0 + f64::from(number))});
        serde_json::json!({"number": number, "part": "roof", "taken": {"point": point}})
    };
    all.insert("body".to_owned(), serde_json::json!([place(1), place(2)]));
    let seat = |number: u32| {
        let mut seat = serde_json::json!({"number": number, "name": format!("seat {number}"),
            "helmet_radius": length(150.0), "reach": length(75.0)});
        let left = 350.0 - 700.0 * f64::from(number - 1);
        for (name, mm) in [
            ("left", left),
            ("hips_forward", 300.0),
            ("hips_up", 150.0),
            ("shoulder_forward", 250.0),
            ("shoulder_up", 600.0),
            ("helmet_forward", 260.0),
            ("helmet_up", 850.0),
        ] {
            seat[name] = length(mm);
        }
        seat
    };
    all.insert("seats".to_owned(), serde_json::json!([seat(1), seat(2)]));
    serde_json::from_value(record).unwrap()
}

async fn note(ctx: &Context, build: BuildId) -> Note {
    let day = ctx.clock.today();
    let new = NewNote { day, text: "Ordered.".to_owned(), hours: None, cost: None, waiting_on: "bushes".to_owned() };
    actions::recorded::notes::add(ctx, build, new).await.unwrap()
}

/// Puts down what is there twice.
type Put<'p> = &'p mut (dyn FnMut(&'static str, [String; 2], &str) + Send);

/// What is recorded of the build by its number.
async fn recorded(house: &House, build: BuildId, put: Put<'_>) {
    let office = house.browser("office").await;
    let at = |last: &str| format!("/builds/{PINE}{last}");
    let of_kit = [("item", "belts"), ("standard", "norm 1"), ("serial", "11")];
    for _ in 0..2 {
        assert_eq!(office.post(&at("/kit"), &of_kit).await.status, StatusCode::SEE_OTHER);
        let asked = office.post(&at("/questions"), &[("about", "J7"), ("text", "Why?")]).await;
        assert_eq!(asked.status, StatusCode::SEE_OTHER);
        let mass = |kg: f64| Typed::of(Mass::from_kg(kg), format!("{kg} kg"));
        let spread = Some(Spread { mass: mass(0.5), is: SpreadIs::Deviation });
        let thing = Thing { name: "seats".to_owned(), way: Way::In, mass: mass(21.5), spread };
        actions::weight::foreseen::add(&house.office, build, thing).await.unwrap();
    }
    let ruled = [
        ("letter", "the letter"),
        ("rule", "helmet-gap"),
        ("of", "M1"),
        ("stays", "yes"),
        ("words", "Padded."),
        ("given_by", "scrutineer"),
        ("given", "2026-05-04"),
    ];
    assert_eq!(office.post(&at("/rulings"), &ruled).await.status, StatusCode::SEE_OTHER);
    let plan = [("wanted", "yes"), ("room", "6 in"), ("over", "1/4"), ("roof_front", "43 1/4"), ("under", "610 mm")];
    assert_eq!(office.post(&at("/lowering"), &plan).await.status, StatusCode::SEE_OTHER);
    welded(house).await;
    let issued = office.post(&at("/rounds"), &[("key", "one")]).await;
    assert_eq!(issued.status, StatusCode::SEE_OTHER);
    linked(house, build, put).await;
    let found = Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    put(
        "own-tubes/{bar}",
        OWN_TUBES.map(|bar| found.worked.cage.member_called(bar).unwrap().balloon.to_string()),
        "M999",
    );
    let hole = found.worked.lowering.unwrap().holes[0].plate.to_string();
    put("looks/{place}", [hole.clone(), hole], "P999");
    for (part, [one, two], not) in [
        ("welds/{line}", ["1", "2"], "999"),
        ("kit/{item}", ["K1", "K2"], "K999"),
        ("questions/{question}", ["Q1", "Q2"], "Q999"),
        ("foreseen/{place}", ["1", "2"], "999"),
        ("rulings/{place}", ["1", "1"], "999"),
        ("rounds/{round}", ["1", "1"], "999"),
        ("marks/{mark}", ["1", "2"], "999"),
        ("bars/{bar}", ["1", "2"], "999"),
        ("body/{place}", ["1", "2"], "999"),
        ("seats/{seat}", ["1", "2"], "999"),
        ("gussets/{gusset}", ["G1", "G2"], "G999"),
        ("joints/{part}", ["J1", "J7"], "J999"),
        ("members/{part}", ["M1", "M2"], "M999"),
        ("members/{member}", ["M1", "M2"], "M999"),
        ("gussets/{part}", ["G3", "G4"], "G999"),
        ("plates/{part}", ["P1", "P2"], "P999"),
        ("sheets/{file}", ["P1.dxf", "P2.dxf"], "P999.dxf"),
        ("stickers/{file}", ["J7.pdf", "J8.pdf"], "J999.pdf"),
    ] {
        put(part, [one.to_owned(), two.to_owned()], not);
    }
}

/// A line of the weld log of two joints.
async fn welded(house: &House) {
    let office = house.browser("office").await;
    let day = house.clock.today().to_string();
    for joint in ["J1", "J7"] {
        let mut weld = vec![("joint", joint), ("did", "welded"), ("seen", "0"), ("day", day.as_str())];
        weld.extend([("welder", "A. Welder"), ("process", "135"), ("position", "PA")]);
        assert_eq!(office.post(&format!("/builds/{PINE}/welds"), &weld).await.status, StatusCode::SEE_OTHER);
    }
}

/// Two replies to the round that is out, each with a mail.
async fn answered(house: &House, build: BuildId, put: Put<'_>) {
    let round = house.store.rounds(build).await.unwrap().remove(0);
    let (mut replies, mut mails) = (Vec::new(), Vec::new());
    for name in ["one.txt", "two.txt"] {
        let new = NewReply {
            round: 1,
            packet_sha256: round.packet_sha256.clone(),
            decision: Decision::NotYet,
            released: Vec::new(),
            words: "Not yet.".to_owned(),
            given_by: "scrutineer A".to_owned(),
            licence: String::new(),
            came: Some(Came::Mail),
            despite: None,
            items: Vec::new(),
            conditions: Vec::new(),
            settles: Vec::new(),
            answers: None,
        };
        // both have the same text, so that either can be asked for at either
        let mail = NewMail { name: name.to_owned(), bytes: b"Not yet.".to_vec() };
        mails.push(Fingerprint::of(&mail.bytes).text().to_owned());
        let reply = actions::recorded::rounds::typed_from(&house.office, build, new, Some(mail)).await.unwrap();
        replies.push(reply.id);
    }
    put("replies/{reply}", [replies[0].clone(), replies[1].clone()], &uuid());
    put("mails/{sha256}", [mails[0].clone(), mails[1].clone()], &"0".repeat(64));
}

/// Two links to the round that is out, and two replies to it.
async fn linked(house: &House, build: BuildId, put: Put<'_>) {
    let mut links = Vec::new();
    for reader in ["the scrutineer", "another"] {
        let new = NewReadingLink { round: 1, reader: reader.to_owned(), good_for: GoodFor::default() };
        links.push(actions::recorded::rounds::links::make(&house.office, build, new).await.unwrap());
    }
    put("links/{reading}", [links[0].0.id.to_string(), links[0].0.id.to_string()], &uuid());
    put("read/{secret}", [links[1].1.clone(), links[1].1.clone()], &"0".repeat(64));
    answered(house, build, put).await;
}

/// What the shop has: dies, people, books.
async fn of_the_shop(house: &House, put: Put<'_>) {
    let office = house.browser("office").await;
    for radius in ["4 1/2 in", "6 in"] {
        let die = [("name", radius), ("outside", "1 1/2"), ("radius", radius), ("offset", "1/2")];
        assert_eq!(office.post("/dies", &die).await.status, StatusCode::SEE_OTHER);
    }
    let dies: Vec<String> = house.store.dies().await.unwrap().iter().map(|die| die.id.to_string()).collect();
    for die in &dies {
        for (set, got) in [("20", "18.1"), ("90", "86.3")] {
            let test = [("die", die.as_str()), ("set", set), ("got", got), ("wall", ".095")];
            assert_eq!(office.post(&format!("/dies/{die}/tests"), &test).await.status, StatusCode::SEE_OTHER);
        }
    }
    put("dies/{die}", [dies[0].clone(), dies[1].clone()], &uuid());
    put("tests/{place}", ["1".to_owned(), "1".to_owned()], "999");
    let spare = actions::shop::people::add(&house.office, "spare", Role::Fabricator, PASSWORD).await.unwrap();
    house.browser("spare").await;
    let device = actions::shop::pairing::devices(&house.office, &spare, "").await.unwrap()[0].number.to_string();
    put("people/{person}", [spare.id.to_string(), spare.id.to_string()], &uuid());
    put("devices/{number}", [device.clone(), device], "999");
    let shipped = "cage-article-253".to_owned();
    let mine = house.store.books().await.unwrap()[0].id;
    assert_eq!(office.post(&format!("/books/shipped/{shipped}"), &[]).await.status, StatusCode::SEE_OTHER);
    let books = house.store.books().await.unwrap();
    let other = books.iter().find(|book| book.id != mine).unwrap().id.to_string();
    put("other book", [other.clone(), other], &uuid());
    put("shipped/{key}", [shipped.clone(), shipped], "of-nobody");
    let book = mine.to_string();
    let mut drafts = Vec::new();
    for edition in ["third issue", "fourth issue"] {
        let begun = office.post(&format!("/books/{book}/draft"), &[("edition", edition)]).await;
        drafts.push(begun.to.rsplit('/').next().unwrap().to_owned());
    }
    put("books/{book}", [book.clone(), book], &uuid());
    put("drafts/{draft}", [drafts[0].clone(), drafts[1].clone()], &uuid());
    put("rules/{place}", ["limit-1".to_owned(), "limit-1".to_owned()], "limit-999");
}
