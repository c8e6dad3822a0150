//! Weighing in: read, refused, kept as typed, shown in the reader's units.

use axum::http::StatusCode;

use crate::house::House;
use crate::main_job::begun;
use crate::paper;

/// What a page says, its markup left out.
fn words(page: &str) -> String {
    let mut said = String::new();
    let mut inside = true;
    for letter in page.chars() {
        match letter {
            '<' => {
                inside = false;
                said.push(' ');
            }
            '>' => inside = true,
            letter if inside => said.push(letter),
            _ => {}
        }
    }
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

const GOOD: [(&str, &str); 7] = [
    ("condition", "fuel"),
    ("condition", "nobody"),
    ("left_front", "661"),
    ("right_front", "650 lb"),
    ("left_rear", "640"),
    ("right_rear", "292.57 kg"),
    ("resolution", "1 lb"),
];

#[tokio::test]
async fn four_pads_give_the_total_the_shares_and_the_doubt() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    assert_eq!(office.post("/builds/pine-coupe/weigh-in", &GOOD).await.status, StatusCode::SEE_OTHER);
    let sheet = office.get("/builds/pine-coupe/weigh-in").await.text;
    let sheet = words(&sheet);
    // 661 + 650 + 640 lb + 292.57 kg (645.0 lb by 1 lb = 0.45359237 kg, NIST SP 811 B.8) = 2,596 lb;
    // front (661 + 650) / 2,596 = 50.5 %, left (661 + 640) / 2,596 = 50.1 %, RF + LR 1,290 / 2,596 = 49.7 %.
    for words in ["2,596 lb", "50.5 %", "50.1 %", "49.7 %"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
}

#[tokio::test]
async fn a_pad_in_the_wrong_unit_is_asked_about_and_nothing_typed_is_lost() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let mut pairs = GOOD;
    for pair in pairs.iter_mut().filter(|pair| pair.0 == "left_rear") {
        pair.1 = "64";
    }
    let answer = office.post("/builds/pine-coupe/weigh-in", &pairs).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("far from the other three"));
    assert!(answer.text.contains(r#"value="64 lb""#) && answer.text.contains(r#"value="292.57 kg""#));
    assert!(answer.text.contains(r#"value="fuel" checked"#));
}

#[tokio::test]
async fn the_books_class_and_tube_follow_from_the_weight_and_its_edge_is_told() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let book = include_str!("../../src/demo/book.toml");
    assert_eq!(office.post("/books", &[("toml", book)]).await.to, "/books");
    let id = house.store.books().await.unwrap().first().unwrap().id.to_string();
    office.post("/builds/new", &[("name", "Pine Coupe"), ("book", &id)]).await;
    let weigh = async |left_front: &str, ticks: &[&str]| {
        let mut pairs =
            vec![("left_front", left_front), ("right_front", "741"), ("left_rear", "730"), ("right_rear", "733")];
        pairs.push(("resolution", "1"));
        pairs.extend(ticks.iter().map(|tick| ("condition", *tick)));
        let answer = office.post("/builds/pine-coupe/weigh-in", &pairs).await;
        assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text);
        words(&office.get("/builds/pine-coupe/weigh-in").await.text)
    };
    let all = ["tank at half", "crew out", "loose gear out", "stage wheels on"];
    // The demo book's edge is at 1360 kg, 2,998.29 lb (1 lb = 0.45359237 kg, NIST SP 811 B.8): 2,944 lb is in by 54.3 lb,
    // 2,997 lb by less than the doubt of 1.6 lb (GUM 4.3.7), 3,001 lb is out.
    let middle = weigh("740", &all).await;
    for words in ["middle", "54.3 lb", "over 1120 kg (2,469.2 lb), up to and including 1360 kg (2,998.3 lb)"] {
        assert!(middle.contains(words) && !middle.contains("too close to call"), "{words}: {middle}");
    }
    let near = weigh("793", &all).await;
    assert!(near.contains("too close to call") && near.contains("heavy"), "{near}");
    assert!(weigh("797", &all).await.contains("heavy"));
    assert!(weigh("740", &all[1..]).await.contains("No class: "));
}

#[tokio::test]
async fn a_faulty_book_is_refused_with_the_line_of_its_mistake() {
    let house = House::new().await;
    let office = house.browser("office").await;
    let book = include_str!("../../src/demo/book.toml").replace("upto = 1360", "up_to = 1360");
    let answer = office.post("/books", &[("toml", &book)]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let line = book.lines().position(|line| line.contains("up_to")).unwrap() + 1;
    assert!(answer.text.contains(&format!("book.toml:{line}:")), "{}", answer.text);
}

#[tokio::test]
async fn a_total_alone_is_recorded_without_shares() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let post = async |pairs: &[(&str, &str)]| office.post("/builds/pine-coupe/weigh-in", pairs).await;
    for (pairs, told) in [
        (&[("resolution", "1 lb")][..], "Type the four pads, or beside them the total alone."),
        (&[("total", "2600"), ("left_rear", "650"), ("resolution", "1 lb")], "not both"),
        (&[("total", "heavy"), ("resolution", "1 lb")], "does not read as a mass"),
        (&[("total", "0"), ("resolution", "1 lb")], "more than nothing"),
        (&[("total", "99999999"), ("resolution", "1 lb")], "at most 10,000 kg"),
        (&[("total", "-2600"), ("resolution", "1 lb")], "less than nothing"),
    ] {
        let answer = post(pairs).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{pairs:?}");
        assert!(answer.text.contains(told), "{pairs:?}: {}", answer.text);
        for (_, typed) in pairs {
            let read = ["2600", "650", "0", "99999999"].contains(typed);
            let kept = if read { format!("{typed} lb") } else { (*typed).to_owned() };
            assert!(answer.text.contains(&format!("value=\"{kept}\"")), "{typed}");
        }
    }
    let whole = post(&[("total", "1180 kg"), ("resolution", "2 kg"), ("note", "weighbridge")]).await;
    assert_eq!(whole.status, StatusCode::SEE_OTHER, "{}", whole.text);
    let sheet = words(&office.get("/builds/pine-coupe/weigh-in").await.text);
    // One display read and zeroed once: u = 2 kg x sqrt(2 / 12) = 0.816 kg; twice that is 1.633 kg = 3.6 lb (GUM 4.3.7).
    for words in ["2,601.5 lb", "3.6 lb", "weighed as a whole"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    assert!(!sheet.contains("Front, LF + RF"));
    let build = house.store.builds().await.unwrap().remove(0).id;
    let kept = house.store.weigh_ins(build).await.unwrap().remove(0).reading.loads;
    assert!(kept.pads().is_none() && (kept.total().kg() - 1180.0).abs() < 1e-9);
}

#[tokio::test]
async fn a_car_of_no_usual_weight_is_asked_about_once() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let mut pairs = vec![
        ("left_front", "300"),
        ("right_front", "295"),
        ("left_rear", "250"),
        ("right_rear", "255"),
        ("resolution", "1"),
    ];
    let asked = office.post("/builds/pine-coupe/weigh-in", &pairs).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(asked.text.contains("would weigh 499 kg (1,100 lb)"), "{}", asked.text);
    assert!(asked.text.contains("name=\"sure\"") && asked.text.contains("value=\"295 lb\""));
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert!(house.store.weigh_ins(build).await.unwrap().is_empty());
    pairs.push(("sure", "yes"));
    assert_eq!(office.post("/builds/pine-coupe/weigh-in", &pairs).await.status, StatusCode::SEE_OTHER);
    assert_eq!(house.store.weigh_ins(build).await.unwrap().len(), 1);
}

#[tokio::test]
async fn pounds_taken_for_kilograms_are_told_by_the_weighing_before() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let page = "/builds/pine-coupe/weigh-in";
    let first = [("total", "2600 lb"), ("resolution", "1 lb"), ("scale", "Weighbridge, certificate <0417>")];
    assert_eq!(office.post(page, &first).await.status, StatusCode::SEE_OTHER);
    assert!(office.get(page).await.text.contains("Scale: Weighbridge, certificate &#60;0417&#62;"));
    // 1179 kg are 2600 lb (NIST SP 811 B.8). Typed as pounds they are 535 kg, which a car might weigh, but not this one.
    let mixed = [("total", "1179 lb"), ("resolution", "1 lb"), ("scale", "the same"), ("note", "seats out")];
    let asked = office.post(page, &mixed).await;
    assert_eq!(asked.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "a factor of 2.2, as between kilograms and pounds",
        "2,600 lb",
        "name=\"sure\"",
        "value=\"the same\"",
        "seats out",
    ] {
        assert!(asked.text.contains(words), "{words}: {}", asked.text);
    }
    // A car that only lost its interior is not asked about.
    let lighter = [("total", "2150 lb"), ("resolution", "1 lb")];
    assert_eq!(office.post(page, &lighter).await.status, StatusCode::SEE_OTHER);
    assert!(office.get(page).await.text.contains("No certificate of the scale is recorded."));
}

/// A car weighs much the same left and right: a pad that stands to its neighbour as a pound to a kilogram (NIST SP 811
/// B.8: 2.2046) was read in the other unit.
#[tokio::test]
async fn a_pad_in_kilograms_among_pounds_is_asked_about_and_a_bad_pad_is_told_where_it_stands() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let page = "/builds/pine-coupe/weigh-in";
    let with = |pad: &'static str, typed: &'static str| {
        GOOD.iter().map(|pair| if pair.0 == pad { (pad, typed) } else { *pair }).collect::<Vec<_>>()
    };
    for (pad, typed, told) in [
        ("left_front", "", "id=\"w-left_front\""),
        ("left_front", "-661", "id=\"w-left_front\">“-661” does not read as a mass: it cannot be less than nothing."),
        ("right_rear", "0", "id=\"w-right_rear\">A pad reads more than nothing"),
        ("right_front", "295", "Left front reads 299.8 kg (661 lb) and right front 133.8 kg (295 lb): a factor of 2.2"),
        (
            "right_rear",
            "1422 lb",
            "Left rear reads 290.3 kg (640 lb) and right rear 645 kg (1,422 lb): a factor of 2.2",
        ),
    ] {
        let answer = office.post(page, &with(pad, typed)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{pad} {typed}");
        assert!(answer.text.contains(told), "{told}: {}", answer.text);
        let kept = if ["0", "295"].contains(&typed) { format!("{typed} lb") } else { typed.to_owned() };
        assert!(
            answer.text.contains(&format!("value=\"{kept}\""))
                && answer.text.contains("value=\"292.57 kg\"") != (pad == "right_rear")
        );
    }
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert!(house.store.weigh_ins(build).await.unwrap().is_empty(), "nothing of it was recorded");
    let mut sure = with("right_front", "295");
    sure.push(("sure", "yes"));
    assert_eq!(office.post(page, &sure).await.status, StatusCode::SEE_OTHER);
}

/// The scale's paper: by hand, four displays of 1 lb read and zeroed, 2 x 1 lb x sqrt(8/12) = 1.633 lb; class III in service
/// at 1 lb: 640 to 661 steps, 2 lb each, 2 x 8 lb / sqrt(3) = 9.238 lb; together 9.381 lb.
#[tokio::test]
async fn a_scales_class_or_certificate_widens_the_doubt() {
    let house = House::new().await;
    let office = house.browser("office").await;
    office.post("/builds/new", &[("name", "Pine Coupe")]).await;
    let (page, papers) = ("/builds/pine-coupe/weigh-in", "/builds/pine-coupe/weigh-in/papers");
    let paper = |is: &'static str, figure: &'static str| {
        [
            ("paper_name", "The shop's <pads>"),
            ("paper_number", "SC-031"),
            ("paper_checked", "2026-03-02"),
            ("paper_is", is),
            ("paper_figure", figure),
        ]
    };
    for (typed, told) in [
        (paper("", ""), "Choose what the paper says."),
        (paper("share", "5"), "wants its percent sign"),
        (paper("share", "6 %"), "at most 5 %"),
        (paper("limits", "0"), "more than nothing and at most 50 kg"),
        (paper("expanded", "heavy"), "does not read as a mass"),
        (paper("III-service", "1 lb"), "A class has no figure of its own."),
    ] {
        let answer = office.post(papers, &typed).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{told}");
        assert!(answer.text.contains(told) && answer.text.contains("value=\"SC-031\""), "{told}: {}", answer.text);
    }
    assert_eq!(
        house.browser("scrutineer").await.post(papers, &paper("limits", "1 lb")).await.status,
        StatusCode::NOT_FOUND
    );
    for (is, figure) in [("III-service", ""), ("share", "0.1 %"), ("IIII-verified", "")] {
        assert_eq!(office.post(papers, &paper(is, figure)).await.status, StatusCode::SEE_OTHER);
    }
    let by = |place: &'static str| GOOD.iter().copied().chain([("paper", place)]).collect::<Vec<_>>();
    assert_eq!(office.post(page, &by("")).await.status, StatusCode::SEE_OTHER);
    assert!(words(&office.get(page).await.text).contains("± 1.6 lb from the scale&#39;s step. Sum of four pads."));
    assert_eq!(office.post(page, &by("1")).await.status, StatusCode::SEE_OTHER);
    let sheet = words(&office.get(page).await.text);
    for words in [
        "± 9.4 lb from the scale&#39;s step and its paper.",
        "By its paper: The shop&#39;s &#60;pads&#62;, certificate SC-031, checked 2026-03-02: class III, in service",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    // By hand: 0.1 % of 2,596 lb is 2.596 lb; 2 x sqrt(2.596² / 3 + 8/12) = 3.414 lb.
    assert_eq!(office.post(page, &by("2")).await.status, StatusCode::SEE_OTHER);
    assert!(words(&office.get(page).await.text).contains("± 3.4 lb from"));
    // 640 steps are within class IIII; a whole car of 2,600 is not.
    let whole = [("total", "2600 lb"), ("resolution", "1 lb"), ("paper", "3")];
    let refused = office.post(page, &whole).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.text.contains("A scale of this class and step may not weigh so much"), "{}", refused.text);
    assert_eq!(office.post(page, &by("9")).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert_eq!(house.store.facts(build).await.unwrap().papers.len(), 3);
}

/// By hand: 2,596 lb by the pads, then 2,598 and 2,594: mean 2,596, spread 2 lb, of the mean 2 / sqrt(3) = 1.155 lb; with the
/// displays' 1 lb x sqrt(8/12) = 0.816 lb together 1.414 lb, twice that 2.8 lb.
#[tokio::test]
async fn a_car_weighed_again_counts_by_its_mean_and_says_how_it_stood() {
    let house = House::new().await;
    let office = house.browser("office").await;
    begun(&house).await;
    let page = "/builds/pine-coupe/weigh-in";
    let again = |text: &'static str| {
        let more = [("again", text), ("aboard", "nobody <at all>"), ("heights", "LF 12 1/4 in")];
        GOOD.iter().copied().chain(more).collect::<Vec<_>>()
    };
    for (typed, told) in [
        ("2598 lb; heavy", "“heavy”"),
        ("2598 lb; 1178 kg; 2300 lb", "“2300 lb” is more than 2 % from the first total"),
    ] {
        let answer = office.post(page, &again(typed)).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{typed}");
        assert!(answer.text.contains(told) && answer.text.contains("LF 12 1/4 in"), "{told}: {}", answer.text);
    }
    assert_eq!(office.post(page, &again("2598 lb;\n2594 lb;")).await.status, StatusCode::SEE_OTHER);
    let sheet = words(&office.get(page).await.text);
    for words in [
        "2,596 lb ± 2.8 lb from the scale&#39;s step and the spread of 3 weighings",
        "Weighed again: 2,596 lb, 2,598 lb, 2,594 lb: their mean, with a spread of 2 lb (one standard deviation).",
        "Aboard: nobody &#60;at all&#62;",
        "Hub or ride heights: LF 12 1/4 in",
        "the other, LF + RR,",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let packet = paper::words(&office.get("/builds/pine-coupe/packet.pdf").await.bytes);
    let packet = packet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(packet.contains("The total is the mean of 2,596 lb, 2,598 lb, 2,594 lb"), "{packet}");
}
