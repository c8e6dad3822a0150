//! The weld log on the real router: a line from a form, nothing typed lost, two at once, held work told first.

use axum::http::StatusCode;

use crate::house::{Answer, Browser, House};
use crate::measures::laid_out;
use crate::paper;

const WELDS: &str = "/builds/pine-coupe/welds";
const WALK: &str = "/builds/pine-coupe/welds/walk";

/// A weld of a joint, with what is altered of it.
pub(crate) fn weld<'a>(joint: &'a str, seen: &'a str, other: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut form = vec![
        ("shown_in", "inch"),
        ("joint", joint),
        ("did", "welded"),
        ("seen", seen),
        ("day", "2026-05-04"),
        ("welder", "A. Welder"),
        ("process", "135"),
        ("position", "PA"),
        ("volts", "18"),
        ("amperes", "120"),
        ("travel", "300 mm/min"),
    ];
    for (name, value) in other {
        match form.iter_mut().find(|(at, _)| at == name) {
            Some(pair) => pair.1 = value,
            None => form.push((name, value)),
        }
    }
    form
}

async fn post(browser: &Browser<'_>, form: &[(&str, &str)]) -> Answer {
    browser.post(WELDS, form).await
}

#[tokio::test]
async fn a_line_is_written_told_and_shown_where_it_belongs() {
    let house = House::new().await;
    laid_out(&house).await;
    let day = house.clock.today().to_string();
    let fabricator = house.browser("fabricator").await;
    let sheet = fabricator.get(&format!("{WELDS}?joint=J7")).await.text;
    for words in ["Left to weld", "no weld logged", "None yet.", "Write the line for J7", "Held: held, no round yet."] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let answer = post(&fabricator, &weld("J7", "0", &[("day", &day)])).await;
    assert_eq!(
        (answer.status, answer.to.as_str()),
        (StatusCode::SEE_OTHER, "/builds/pine-coupe/welds?joint=J7#written"),
        "{}",
        answer.text
    );
    let sheet = fabricator.get(&format!("{WELDS}?joint=J7")).await.text;
    // 0.3456 kJ/mm (C38 in tests/oracles) are 8.8 kJ/in
    for words in [
        "welded, not inspected",
        "Welded while held: held, no round yet.",
        "Heat input 8.8 kJ/in (k 0.8).",
        "Looked at by",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let joint = fabricator.get("/builds/pine-coupe/joints/J7").await.text;
    assert!(joint.contains("Welded while held: held, no round yet."), "{joint}");
    let office = house.browser("office").await;
    let open = office.get("/builds/pine-coupe").await.text;
    assert!(open.contains("Welded while held: J7"), "{open}");
    let log = office.get("/builds/pine-coupe/log").await.text;
    assert!(log.contains("J7: welded on") && log.contains("WELDED WHILE HELD"), "{log}");
    // the packet tells of it first on its cover, and has the log as a chapter
    let pdf = office.get("/builds/pine-coupe/packet.pdf").await.bytes;
    let words = paper::words(&pdf).split_whitespace().collect::<Vec<_>>().join(" ");
    for said in ["welded while held", "Weld log", "1 have a weld logged, 0 are inspected and accepted", "WHILE HELD"] {
        assert!(words.contains(said), "{said}: {words}");
    }
    // struck through, with a reason, it counts for nothing and stays readable
    let strike = format!("{WELDS}/1/strike");
    let bare = office.post(&strike, &[("why_1", " ")]).await;
    assert!(bare.status == StatusCode::UNPROCESSABLE_ENTITY && bare.text.contains("Say what is wrong with the line."));
    assert_eq!(office.post(&strike, &[("why_1", "It was the other car.")]).await.status, StatusCode::SEE_OTHER);
    let sheet = office.get(&format!("{WELDS}?joint=J7")).await.text;
    assert!(sheet.contains("Struck through by office") && sheet.contains("no weld logged"), "{sheet}");
    assert!(!office.get("/builds/pine-coupe").await.text.contains("Welded while held"));
}

#[tokio::test]
async fn what_will_not_do_is_told_at_its_field_and_nothing_typed_is_lost() {
    let house = House::new().await;
    laid_out(&house).await;
    let day = house.clock.today().to_string();
    let fabricator = house.browser("fabricator").await;
    let wrong = [
        ("day", "2099-01-01"),
        ("welder", ""),
        ("position", ""),
        ("volts", "500"),
        ("amperes", "much"),
        ("note", "a long seam"),
        ("gas", "82/18"),
    ];
    let answer = post(&fabricator, &weld("J7", "0", &wrong)).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in
        ["value=\"much\"", "does not read as a current", "value=\"2099-01-01\"", "a long seam", "value=\"82/18\""]
    {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    let answer = post(&fabricator, &weld("J7", "0", &[&wrong[..4], &wrong[5..]].concat())).await;
    for words in [
        "This day has not come yet.",
        "This must not be empty.",
        "Tick each position",
        "An arc has 5 to 50 volts.",
        "value=\"500 V\"",
    ] {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    for (form, why) in [
        (weld("J999", "0", &[("day", &day)]), "The cage has no J999."),
        (weld("M1", "0", &[("day", &day)]), "A weld is logged at a joint"),
        (weld("J7", "0", &[("day", &day), ("did", "repaired")]), "No weld of J7 is logged"),
    ] {
        let answer = post(&fabricator, &form).await;
        assert!(
            answer.status == StatusCode::UNPROCESSABLE_ENTITY && answer.text.contains(why),
            "{why}: {}",
            answer.text
        );
    }
    let look = [("joint", "J7"), ("did", "inspected"), ("seen", "0"), ("day", day.as_str()), ("inspector", "office")];
    let answer = post(&fabricator, &look).await;
    assert!(
        answer.text.contains("Say by which level") && answer.text.contains("Say what it came to."),
        "{}",
        answer.text
    );
    assert!(fabricator.get(&format!("{WELDS}?joint=J7")).await.text.contains("None yet."));
}

#[tokio::test]
async fn two_at_once_are_both_heard() {
    let house = House::new().await;
    laid_out(&house).await;
    let day = house.clock.today().to_string();
    let (fabricator, office) = (house.browser("fabricator").await, house.browser("office").await);
    let first = weld("J7", "0", &[("day", &day)]);
    assert_eq!(post(&fabricator, &first).await.status, StatusCode::SEE_OTHER);
    // pressed twice it is one line
    assert_eq!(post(&fabricator, &first).await.status, StatusCode::SEE_OTHER);
    let coupon = weld("J7", "0", &[("day", &day), ("did", "coupon"), ("note", "mine"), ("position", "PE")]);
    let answer = post(&office, &coupon).await;
    assert_eq!(answer.status, StatusCode::CONFLICT, "{}", answer.text);
    for words in
        ["Somebody else wrote of this joint meanwhile", "mine", "name=\"seen\" value=\"1\"", "Heat input 8.8 kJ/in"]
    {
        assert!(answer.text.contains(words), "{words}: {}", answer.text);
    }
    let again = weld("J7", "1", &[("day", &day), ("did", "coupon"), ("note", "mine"), ("position", "PE")]);
    assert_eq!(post(&office, &again).await.status, StatusCode::SEE_OTHER);
    let sheet = office.get(&format!("{WELDS}?joint=J7")).await.text;
    assert!(sheet.contains("The whole log, 2 lines") && sheet.contains("Practice coupon"), "{sheet}");
}

#[tokio::test]
async fn the_walk_goes_from_joint_to_joint_with_the_settings_of_an_alike_one() {
    let house = House::new().await;
    laid_out(&house).await;
    let day = house.clock.today().to_string();
    let fabricator = house.browser("fabricator").await;
    let screen = fabricator.get(&format!("{WALK}?joint=J7")).await.text;
    let next = screen.split("Save, next: ").nth(1).and_then(|rest| rest.split('<').next()).unwrap().to_owned();
    assert_ne!(next, "J7");
    let form = weld("J7", "0", &[("day", &day), ("next", &next)]);
    let answer = fabricator.post(WALK, &form).await;
    assert_eq!((answer.status, answer.to), (StatusCode::SEE_OTHER, format!("{WALK}?joint={next}")), "{}", answer.text);
    let screen = fabricator.get(&format!("{WALK}?joint={next}")).await.text;
    assert!(screen.contains("1 of") && screen.contains("value=\"A. Welder\""), "{screen}");
    // the machine's figures are taken over only where that was asked for
    let of = |screen: &str, name: &str| {
        let field = screen.split(&format!("name=\"{name}\"")).nth(1).unwrap().to_owned();
        field.split("value=\"").nth(1).unwrap().split('"').next().unwrap().to_owned()
    };
    assert_eq!(of(&screen, "volts"), "");
    let taken = fabricator.get(&format!("{WALK}?joint={next}&did=welded&like=1")).await.text;
    assert_eq!((of(&taken, "volts"), of(&taken, "travel")), ("18 V".to_owned(), "300 mm/min".to_owned()));
    let wrong = fabricator.post(WALK, &weld(&next, "0", &[("day", &day), ("volts", "many")])).await;
    assert!(
        wrong.status == StatusCode::UNPROCESSABLE_ENTITY && wrong.text.contains("value=\"many\""),
        "{}",
        wrong.text
    );
    assert_eq!(house.browser("scrutineer").await.get(WALK).await.status, StatusCode::NOT_FOUND);
}
