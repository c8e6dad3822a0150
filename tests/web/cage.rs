//! Laying out a cage: drawn as measured, refused as typed, never overwritten unseen.

use axum::http::StatusCode;
use tackbook::domain::cage::record::example::example_record;
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::verdicts::Word;

use crate::house::{Browser, House};
use crate::kit::hidden;

/// The example's tape measurements as a person types them, and the choices of the sheet.
pub(crate) fn typed(version: &str) -> Vec<(String, String)> {
    let record = example_record();
    let mut pairs: Vec<(String, String)> =
        record.measures.iter().map(|(measure, typed)| (measure.key(), typed.text.clone())).collect();
    for foot in ["main_hoop", "front", "backstay"] {
        for (figure, text) in [("side_a", "4 3/4"), ("side_b", "3 1/2"), ("thickness", "3/16")] {
            pairs.push((format!("plate_{foot}_{figure}"), text.to_owned()));
        }
    }
    for (key, value) in [
        ("hoop_diagonal", "cross"),
        ("roof_diagonal", "v_forward"),
        ("backstay_diagonal", "none"),
        ("door_left", "cross"),
        ("door_right", "cross"),
        ("sill_bars", "yes"),
        ("harness_bar", "yes"),
        ("dash_bar", "yes"),
        ("hoop_cross_bar", "no"),
        ("pillar_struts", "yes"),
        ("bend_radius_hoop", "4 1/2"),
        ("bend_radius_other", "4 1/2 in"),
        ("version", version),
    ] {
        pairs.push((key.to_owned(), value.to_owned()));
    }
    pairs
}

pub(crate) async fn save(browser: &Browser<'_>, pairs: &[(String, String)]) -> crate::house::Answer {
    let pairs: Vec<(&str, &str)> = pairs.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    browser.post("/builds/pine-coupe/cage", &pairs).await
}

#[tokio::test]
async fn a_measured_cage_is_drawn_with_its_balloons_and_bars() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    // A cage is drawn before anything is measured, as a guess, with nothing claimed of it.
    let empty = browser.get("/builds/pine-coupe/cage").await.text;
    assert!(empty.contains("0 of 22 measured") && empty.contains("drawn as guesses"), "{empty}");
    assert!(empty.contains("pen-faint") && empty.contains("Pale: drawn by typical measures"));
    assert_eq!(empty.matches("not known").count(), 3, "neither tube nor cage nor finished weight is known by a guess");
    let saved = save(&browser, &typed("0")).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    for (view, caption) in
        [("", "From front left"), ("front", "Front,"), ("side", "Left side,"), ("top", "From above,")]
    {
        let seen = browser.get(&format!("/builds/pine-coupe/cage?view={view}")).await.text;
        assert!(seen.contains(caption), "{view}");
    }
    let sheet = browser.get("/builds/pine-coupe/cage?numbers=joints").await.text;
    assert!(!sheet.contains("drawn as guesses"));
    assert_eq!(sheet.matches("not known</b>").count(), 1, "tube and cage are known; the car was not weighed");
    assert!(!sheet.contains("Still to be given"));
    for words in [
        "main hoop",
        "lateral half hoop",
        "windscreen header",
        "backstay",
        "door bar",
        ">M1<",
        ">J1<",
        "for the picture only",
    ] {
        assert!(sheet.contains(words), "{words}");
    }
}

/// Six figures of a hoop are drawn as typed before anything is kept; the rest is pale, and nothing is claimed by it. What is
/// measured later moves what is drawn, and what is taken away becomes a guess again.
#[tokio::test]
async fn a_cage_is_drawn_as_one_types_and_a_guess_claims_nothing() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let hoop = [
        ("hoop_feet_width", "48"),
        ("hoop_shoulder_width", "50 1/4"),
        ("hoop_shoulder_height", "19 1/2"),
        ("hoop_roof_width", "38 3/4"),
        ("hoop_roof_height", "43 5/8"),
        ("hoop_lean", "1 1/2"),
        ("hoop_plate_height_left", "1/4"),
        ("bend_radius_hoop", "4 1/2"),
    ];
    let as_typed = async |pairs: &[(&str, &str)]| {
        let pairs = [pairs, &[("version", "0"), ("alike", "yes"), ("harness_bar", "yes")]].concat();
        office.post("/builds/pine-coupe/cage/drawn", &pairs).await
    };
    let drawn = as_typed(&hoop).await;
    assert_eq!(drawn.status, StatusCode::OK);
    assert!(drawn.text.contains("value=\"43 5/8 in\"") && drawn.text.contains("7 of 20 measured"), "{}", drawn.text);
    assert!(
        drawn.text.contains("<td>main hoop</td>") && !drawn.text.contains("<td>backstay</td>"),
        "only what is measured"
    );
    assert!(drawn.text.contains(">43 5/8 in<") && drawn.text.contains("id=\"d-hoop_roof_height\""));
    let wider = [("hoop_roof_height", "45"), hoop[0], hoop[1], hoop[2], hoop[3], hoop[5], hoop[6], hoop[7]];
    assert_ne!(picture(&as_typed(&wider).await.text), picture(&drawn.text), "a figure moves the drawing");
    let fewer = as_typed(&[&hoop[..5], &hoop[7..]].concat()).await.text;
    assert!(!fewer.contains("<td>main hoop</td>") && fewer.contains("5 of 20 measured"), "taken away, it is a guess");
    // Nothing of it was kept, and nothing is judged, cut or put in a packet by it.
    assert!(house.store.facts(house.store.builds().await.unwrap().remove(0).id).await.unwrap().cage.is_none());
    let wrong = as_typed(&[("hoop_roof_height", "about so")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.text.contains("value=\"about so\"") && wrong.text.contains("does not read as a length"));
    // Saved in part, the draft stands, with what is missing named and drawn.
    let part = [hoop.as_slice(), &[("version", "0"), ("alike", "yes"), ("harness_bar", "yes")]].concat();
    assert_eq!(office.post("/builds/pine-coupe/cage", &part).await.status, StatusCode::SEE_OTHER);
    let kept = office.get("/builds/pine-coupe/cage").await.text;
    assert!(
        kept.contains("7 of 20 measured") && kept.contains("drawn as guesses") && kept.contains("value=\"43 5/8 in\"")
    );
    let build = house.store.builds().await.unwrap().remove(0).id;
    let found = Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    assert!(!found.worked.cage.whole);
    assert_eq!(found.worked.cage.members.len(), 1, "the record has the hoop alone");
}

/// The right side follows the left while it is said to; said otherwise, its own figures stand.
#[tokio::test]
async fn both_sides_are_alike_by_one_tick() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert_eq!(save(&office, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let apart = office.get("/builds/pine-coupe/cage").await.text;
    assert!(!apart.contains("name=\"alike\" value=\"yes\" checked"), "the example's floor is uneven");
    let mut pairs = typed("1");
    pairs.push(("alike".to_owned(), "yes".to_owned()));
    assert_eq!(save(&office, &pairs).await.status, StatusCode::SEE_OTHER);
    let alike = office.get("/builds/pine-coupe/cage").await.text;
    assert!(alike.contains("name=\"alike\" value=\"yes\" checked"));
    assert!(alike.contains("name=\"front_foot_forward_right\" type=\"text\" value=\"\""));
    // What stood on the right is in the save before, and can be taken back.
    assert!(office.get("/builds/pine-coupe/cage/last").await.text.contains("45 1/8 in"));
}

/// The cage as it is drawn.
fn picture(sheet: &str) -> &str {
    let begins = sheet.find("class=\"cage-drawing").unwrap();
    let ends = sheet[begins..].find("</svg>").unwrap();
    &sheet[begins..begins + ends]
}

/// A basic structure: its name in the form, its bars, the rules of it alone, the plates asked for and on how many feet.
struct Picked {
    key: &'static str,
    bars: [&'static str; 3],
    asked: &'static [&'static str],
    plate: (&'static str, usize),
}

const PICKED: [Picked; 3] = [
    Picked {
        key: "front_hoop",
        bars: ["main hoop", "front hoop", "roof bar"],
        asked: &["need-roof-bars"],
        plate: ("plate-front-hoop-area", 2),
    },
    Picked {
        key: "half_hoops",
        bars: ["main hoop", "lateral half hoop", "windscreen header"],
        asked: &["need-half-hoops", "need-header"],
        plate: ("plate-half-hoop-area", 2),
    },
    Picked {
        key: "lateral_hoops",
        bars: ["lateral hoop", "windscreen header", "rear transverse bar"],
        asked: &["need-lateral-hoops", "need-front-transverse", "need-rear-transverse"],
        plate: ("plate-lateral-hoop-area", 4),
    },
];

/// Each basic structure is picked on the form, drawn, numbered and judged by what the published article asks of it; the
/// same measurements do for all three.
#[tokio::test]
async fn each_basic_structure_is_picked_drawn_and_judged() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let book = office.post("/books/shipped/cage-article-253", &[]).await.to;
    office.post("/builds/new", &[("name", "Pine Coupe"), ("book", book.rsplit('/').next().unwrap())]).await;
    office.post("/builds/pine-coupe/car", &[("homologated", "2004")]).await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    for (version, picked) in PICKED.iter().enumerate() {
        let mut pairs = typed(&version.to_string());
        pairs.push(("structure".to_owned(), picked.key.to_owned()));
        let saved = save(&office, &pairs).await;
        assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
        drawn(&office.get("/builds/pine-coupe/cage").await.text, picked);
        judged(&Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today()), picked);
        let verdicts = office.get("/builds/pine-coupe/verdicts").await.text;
        assert!(verdicts.contains("at least 1 front hoop or lateral half hoop or lateral hoop"), "{verdicts}");
    }
    by_the_articles_own_lists(&house, &office, build).await;
    let mut wrong = typed("4");
    wrong.push(("structure".to_owned(), "four_hoops".to_owned()));
    let refused = save(&office, &wrong).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("Choose one of the three basic structures."));
}

/// The car weighed, on lateral hoops: the article's table gives these, and the bar behind the seats, its thick tube, and the
/// thin one to all others. A car of 2007 or later has two bars in each door.
async fn by_the_articles_own_lists(house: &House, office: &Browser<'_>, build: tackbook::domain::words::ids::BuildId) {
    let weighed = office.post("/builds/pine-coupe/weigh-in", &[("total", "1180 kg"), ("resolution", "1 kg")]).await;
    assert_eq!(weighed.status, StatusCode::SEE_OTHER, "{}", weighed.text);
    let found = async || Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    let (now, sizes) = (found().await, ["45 × 2.5 mm", "38 × 2.5 mm"]);
    assert_eq!([now.worked.tubes.hoop, now.worked.tubes.other].map(|tube| tube.to_string()), sizes);
    for (key, size) in [
        ("lateral-hoop/left", sizes[0]),
        ("rear-transverse-bar", sizes[0]),
        ("header", sizes[1]),
        ("backstay/right", sizes[1]),
        ("door-bar/left/high", sizes[1]),
    ] {
        let bar = now.worked.cage.member_called(key).unwrap();
        assert_eq!(bar.tube.to_string(), size, "{key}");
    }
    let doors = |found: &Findings| {
        let word =
            |id: &str| found.worked.verdicts.iter().find(|verdict| verdict.rule_id == id).map(|verdict| verdict.word);
        (word("need-door-bars"), word("need-door-bars-older"))
    };
    office.post("/builds/pine-coupe/car", &[("homologated", "2008")]).await;
    assert_eq!(doors(&found().await), (Some(Word::Meets), Some(Word::NotAsked)));
    let mut one = typed("3");
    one.push(("structure".to_owned(), "lateral_hoops".to_owned()));
    for pair in one.iter_mut().filter(|pair| ["door_left", "door_right"].contains(&pair.0.as_str())) {
        "one".clone_into(&mut pair.1);
    }
    assert_eq!(save(office, &one).await.status, StatusCode::SEE_OTHER);
    assert_eq!(doors(&found().await), (Some(Word::ShortBy), Some(Word::NotAsked)), "one bar is too few from 2007 on");
    office.post("/builds/pine-coupe/car", &[("homologated", "2004")]).await;
    assert_eq!(doors(&found().await), (Some(Word::NotAsked), Some(Word::Meets)));
}

/// Drawn, a picture beside each structure with this one chosen, nothing in the way, its own bars and no other's.
fn drawn(sheet: &str, picked: &Picked) {
    assert!(sheet.contains("29 bars") || sheet.contains(" bars, "), "{}", picked.key);
    let chosen = format!("value=\"{}\" checked><span><svg", picked.key);
    assert!(sheet.contains(&chosen) && sheet.matches("name=\"structure\"").count() == 3, "{}", picked.key);
    assert!(!sheet.contains("note look"), "{}: something stands in the way", picked.key);
    for bar in PICKED.iter().flat_map(|other| other.bars) {
        assert_eq!(sheet.contains(&format!("<td>{bar}</td>")), picked.bars.contains(&bar), "{}: {bar}", picked.key);
    }
}

fn judged(found: &Findings, picked: &Picked) {
    let words = |id: &str| -> Vec<Word> {
        found.worked.verdicts.iter().filter(|verdict| verdict.rule_id == id).map(|verdict| verdict.word).collect()
    };
    for rule in ["need-main-hoop", "need-structure", "need-backstays", "need-hoop-diagonals", "need-door-bars-older"] {
        assert_eq!(words(rule), [Word::Meets], "{}: {rule}", picked.key);
    }
    for rule in PICKED.iter().flat_map(|one| one.asked) {
        let wanted = if picked.asked.contains(rule) { Word::Meets } else { Word::NotAsked };
        assert_eq!(words(rule), [wanted], "{}: {rule}", picked.key);
    }
    // 4 3/4 x 3 1/2 in are 107 cm² under a foot that wants 120; a lateral hoop stands on two such feet.
    let (rule, feet) = picked.plate;
    assert_eq!(words(rule), vec![Word::ShortBy; feet], "{}: {rule}", picked.key);
    // Bolts are asked of the feet that are there, and of no others; here all plates are welded.
    for (foot, bar) in [
        ("hoop", "main hoop"),
        ("front-hoop", "front hoop"),
        ("half-hoop", "lateral half hoop"),
        ("lateral-hoop", "lateral hoop"),
    ] {
        let there = if picked.bars.contains(&bar) { picked_feet(found, bar) } else { 1 };
        for rule in [format!("plate-{foot}-bolts"), format!("plate-{foot}-bolt-spread")] {
            assert_eq!(words(&rule), vec![Word::NotAsked; there], "{}: {rule}", picked.key);
        }
    }
}

/// How many plates stand under bars of this role.
fn picked_feet(found: &Findings, bar: &str) -> usize {
    let under = |plate: &&tackbook::domain::cage::Plate| {
        found.worked.cage.member(plate.under).is_some_and(|member| member.role.word() == bar)
    };
    found.worked.cage.plates.iter().filter(under).count()
}

#[tokio::test]
async fn a_measurement_that_does_not_read_is_refused_and_kept_as_typed() {
    let house = House::new().await;
    let browser = house.browser("office").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let mut pairs = typed("0");
    pairs.first_mut().unwrap().1 = "about forty".to_owned();
    let answer = save(&browser, &pairs).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains(r#"value="about forty""#) && answer.text.contains("does not read as a length"));
}

#[tokio::test]
async fn two_people_saving_at_once_see_yours_theirs_and_before() {
    let house = House::new().await;
    let (office, floor) = (house.browser("office").await, house.browser("fabricator").await);
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert_eq!(save(&office, &typed("0")).await.status, StatusCode::SEE_OTHER);
    let opened = office.get("/builds/pine-coupe/cage").await.text;
    let (version, before) = (hidden(&opened, "version"), hidden(&opened, "before"));
    assert_eq!(version, "1");
    let with = |version: &str, before: &str, changes: &[(&str, &str)]| {
        let mut pairs = typed(version);
        pairs.push(("before".to_owned(), before.to_owned()));
        for (name, text) in changes {
            let pair = pairs.iter_mut().find(|pair| pair.0 == *name).unwrap();
            pair.1 = (*text).to_owned();
        }
        pairs
    };
    // The fabricator measures the roof again and takes out the sill bars; the office had the sheet open all the while.
    let theirs = with(&version, &before, &[("hoop_roof_height", "43 1/2"), ("sill_bars", "no")]);
    assert_eq!(save(&floor, &theirs).await.status, StatusCode::SEE_OTHER);
    let mine = with(&version, &before, &[("hoop_roof_height", "43"), ("dash_bar", "no")]);
    let told = save(&office, &mine).await;
    assert_eq!(told.status, StatusCode::CONFLICT);
    let was = typed("1").into_iter().find(|pair| pair.0 == "hoop_roof_height").unwrap().1;
    for words in [
        "Somebody else saved this",
        "name=\"hoop_roof_height\" value=\"43 in\" checked><span><small>yours</small>43 in<",
        "name=\"hoop_roof_height\" value=\"43 1/2 in\"><span><small>theirs</small>43 1/2 in<",
        &format!("<small>before</small>{was}<"),
        // Each keeps what only one of the two touched.
        "name=\"sill_bars\" value=\"no\" checked><span><small>theirs</small>no<",
        "name=\"dash_bar\" value=\"no\" checked><span><small>yours</small>no<",
        "Save what is chosen here over theirs",
        "<a href=\"#f-hoop_roof_height\">",
    ] {
        assert!(told.text.contains(words), "{words}: {}", told.text);
    }
    assert_eq!(told.text.matches("<small>theirs</small>").count(), 3);
    let (version, before) = (hidden(&told.text, "version"), hidden(&told.text, "before"));
    let chosen = [("hoop_roof_height", "43"), ("sill_bars", "no"), ("dash_bar", "no")];
    let saved = save(&office, &with(&version, &before, &chosen)).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.text);
    let stands = floor.get("/builds/pine-coupe/cage").await.text;
    assert!(stands.contains("name=\"hoop_roof_height\" type=\"text\" value=\"43 in\""));
    assert_eq!(hidden(&stands, "version"), "3");
}
#[tokio::test]
async fn a_gusset_is_added_on_both_sides_refused_twice_and_taken_out() {
    let house = House::new().await;
    let browser = house.browser("fabricator").await;
    browser.post("/builds/new", &[("name", "Pine Coupe")]).await;
    save(&browser, &typed("0")).await;
    let gussets = "/builds/pine-coupe/gussets";
    let sheet = browser.get(&format!("{gussets}?joint=J1")).await.text;
    // The first angle offered at the hoop's left upper corner.
    let from = sheet.find(r#"<option value="main-hoop"#).unwrap() + r#"<option value=""#.len();
    let angle = sheet[from..].split('"').next().unwrap().replace("&#43;", "+").replace("&#62;", ">");
    let pairs =
        [("joint", "J1"), ("angle", angle.as_str()), ("kind", "saddle"), ("leg", "3 1/4"), ("thickness", "1/16")];
    let both = [pairs.as_slice(), &[("mirror", "yes")]].concat();
    let answer = browser.post(gussets, &both).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
    let listed = browser.get(gussets).await.text;
    assert!(listed.contains("Gussets: 2") && listed.contains("Take out G2"), "{listed}");
    let again = browser.post(gussets, &pairs).await;
    assert_eq!(again.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(again.text.contains("A gusset sits in this angle already") && again.text.contains(r#"value="3 1/4 in""#));
    let wrong = [("joint", "J1"), ("angle", "nowhere"), ("kind", ""), ("leg", "-3 in"), ("thickness", "9 kg")];
    let wrong = browser.post(gussets, &wrong).await;
    assert!(wrong.text.contains("Choose the angle") && wrong.text.contains(r#"value="9 kg""#));
    assert_eq!(browser.post(&format!("{gussets}/G1/remove"), &[]).await.status, StatusCode::SEE_OTHER);
    assert!(browser.get(gussets).await.text.contains("Gussets: 1"));
}
