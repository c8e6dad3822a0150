//! Measures: what the book sets a limit on and only a caliper can tell, recorded with who and when.

use axum::http::StatusCode;
use tackbook::domain::judge::verdicts::Word;
use tackbook::domain::measure::measures::Measure;

use crate::house::House;
use crate::main_job::begun;

const PAGE: &str = "/builds/pine-coupe/measures";

/// A build to the demo book with the example's cage.
pub(crate) async fn laid_out(house: &House) {
    begun(house).await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let cage = tackbook::domain::cage::record::example::example_record();
    tackbook::actions::recorded::cage::save(&house.office, build, 0, &cage).await.unwrap();
}

/// The height of a door's opening is measured once, with the tape for the cage: the book's limit goes by it, the sheet of
/// measures asks for the bar alone, and a figure that was read off the car before stays and stands.
#[tokio::test]
async fn a_doors_height_that_the_cage_holds_is_not_asked_for_again_and_is_judged_by() {
    let house = House::new().await;
    laid_out(&house).await;
    let browser = house.browser("fabricator").await;
    let sheet = browser.get(PAGE).await.text;
    assert!(sheet.contains("upper-end-over-the-sill-") && !sheet.contains("door-opening-height-"), "{sheet}");
    let build = house.store.builds().await.unwrap().remove(0).id;
    let judged = async || {
        let facts = house.store.facts(build).await.unwrap();
        let found = tackbook::domain::derived::findings::Findings::of(&facts, house.clock.today());
        let rule = found
            .worked
            .verdicts
            .into_iter()
            .find(|verdict| verdict.rule_id == "door-bar-height" && verdict.figure.is_some());
        rule.map(|verdict| (verdict.of.unwrap(), verdict.limit.unwrap().amount.unwrap(), verdict.margin.unwrap()))
    };
    assert_eq!(judged().await, None, "nobody measured the bar");
    let sheet = browser.get(PAGE).await.text;
    let bar = sheet.split("name=\"upper-end-over-the-sill-").nth(1).unwrap().split('"').next().unwrap().to_owned();
    browser.post(PAGE, &[(format!("upper-end-over-the-sill-{bar}").as_str(), "300 mm")]).await;
    // 33 1/2 in are 850.9 mm, and 0.55 of them 467.995 mm.
    let (of, edge, margin) = judged().await.unwrap();
    assert_eq!(of.to_string(), bar);
    assert!((edge.in_base_unit() - 467.995).abs() < 1e-6 && (margin.in_base_unit() - 167.995).abs() < 1e-6, "{edge:?}");
    // Measured anew for the cage: the limit follows.
    let mut cage = tackbook::domain::cage::record::example::example_record();
    let opening = tackbook::domain::cage::TapeMeasure::DoorOpeningHeight(tackbook::domain::cage::Hand::Left);
    cage.measures.insert(opening, tackbook::quantity::Typed::read("900 mm").unwrap());
    tackbook::actions::recorded::cage::save(&house.office, build, 1, &cage).await.unwrap();
    browser.post(PAGE, &[(format!("upper-end-over-the-sill-{bar}").as_str(), "300 mm")]).await;
    assert!((judged().await.unwrap().1.in_base_unit() - 495.0).abs() < 1e-6);
    // As an earlier program took it down, of the bar: it stands, and can be read and put right.
    let read = tackbook::domain::derived::measures::ReadOff::read(
        Measure::OpeningHeight,
        "800 mm",
        tackbook::quantity::Units::Metric,
    );
    let new = tackbook::domain::derived::measures::NewMeasured {
        measure: Measure::OpeningHeight,
        of,
        read: read.unwrap(),
        tool: None,
    };
    tackbook::actions::recorded::measures::record(&house.office, build, vec![new]).await.unwrap();
    assert!((judged().await.unwrap().1.in_base_unit() - 440.0).abs() < 1e-6);
    assert!(browser.get(PAGE).await.text.contains(&format!("door-opening-height-{bar}")));
}

#[tokio::test]
async fn figures_are_recorded_shown_with_who_and_judged() {
    let house = House::new().await;
    laid_out(&house).await;
    let browser = house.browser("fabricator").await;
    let sheet = browser.get(PAGE).await.text;
    // The demo book: the helmet at least 65 mm off the main hoop, the hole 3.5 to 4.5 mm, bends at least 0.92 round.
    for words in ["at least 65 mm", "at least 3.5 mm, at most 4.5 mm", "at least 0.92", "name=\"gap-to-the-body-M2\""] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    // A bar without a bend has no roundness there.
    assert!(sheet.contains("roundness-at-the-bend-M1") && !sheet.contains("roundness-at-the-bend-M4"));
    let typed = [
        ("helmet-to-the-nearest-bar-M1", "1 7/8"),
        ("inspection-hole-M1", "4.1 mm"),
        ("roundness-at-the-bend-M1", "1.42 / 1.5"),
        ("gap-to-the-body-M2", ""),
    ];
    assert_eq!(browser.post(PAGE, &typed).await.to, PAGE);
    let sheet = browser.get(PAGE).await.text;
    for words in ["1 7/8 in", "typed “4.1 mm”, fabricator, 2026-05-04", "0.947", "1 of 1 known"] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let table = browser.get(&format!("{PAGE}.csv")).await.text;
    // 4.1 mm as typed; 1 7/8 in are 47.625 mm (1 in = 25.4 mm).
    assert!(table.contains(",4.1000,mm,4.1 mm,fabricator,") && table.contains(",47.6250,mm,1 7/8 in,"), "{table}");
    let build = house.store.builds().await.unwrap().remove(0).id;
    let facts = house.store.facts(build).await.unwrap();
    assert_eq!(facts.measured.len(), 3);
    let found = tackbook::domain::derived::findings::Findings::of(&facts, house.clock.today());
    let word = |measure| {
        found.worked.verdicts.iter().find(|verdict| verdict.measure == Some(measure)).map(|verdict| verdict.word)
    };
    assert_eq!(word(Measure::HeadGap), Some(Word::ShortBy));
    assert_eq!(word(Measure::InspectionHole), Some(Word::Meets));
    // Measured again: the newest counts and the older stays in the log.
    browser.post(PAGE, &[("helmet-to-the-nearest-bar-M1", "2 3/4 in")]).await;
    assert_eq!(house.store.measured(build).await.unwrap().len(), 3);
    assert!(browser.get(PAGE).await.text.contains("2 3/4 in"));
    // What it was read with is chosen, has a plain default, and decides how near is too close.
    assert!(facts.measured.iter().all(|read| read.tool.is_some()));
    let near = [("helmet-to-the-nearest-bar-M1", "65.4 mm"), ("tool-helmet-to-the-nearest-bar", "tape-1/16in")];
    browser.post(PAGE, &near).await;
    let word = async || {
        let facts = house.store.facts(build).await.unwrap();
        let found = tackbook::domain::derived::findings::Findings::of(&facts, house.clock.today());
        found
            .worked
            .verdicts
            .iter()
            .find(|verdict| verdict.measure == Some(Measure::HeadGap))
            .map(|verdict| verdict.word)
    };
    assert_eq!(word().await, Some(Word::TooClose));
    assert!(
        browser
            .get("/builds/pine-coupe/verdicts?rule=helmet-gap")
            .await
            .text
            .contains("less than the tape, 1/16 in can tell")
    );
    assert!(browser.get("/builds/pine-coupe?see=all").await.text.contains("too close to call, off the limit by"));
    browser.post(PAGE, &[near[0], ("tool-helmet-to-the-nearest-bar", "caliper-.001in")]).await;
    assert_eq!(word().await, Some(Word::Meets));
    let wrong = browser.post(PAGE, &[near[0], ("tool-helmet-to-the-nearest-bar", "inclinometer-0.1deg")]).await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn one_figure_that_will_not_do_records_none_and_keeps_all() {
    let house = House::new().await;
    laid_out(&house).await;
    let browser = house.browser("office").await;
    for (hole, gap, why) in [
        ("1/4", "a thumb", "does not read as a length"),
        ("1/4", "-3 mm", "A gap is not less than nothing."),
        ("1/4", "30 ft", "at most 8 m (26 ft)"),
        ("0", "1", "This is more than nothing."),
        ("1/4 kg", "1", "is no unit of it"),
        ("<script>", "1", "does not read as a length"),
    ] {
        let typed = [("inspection-hole-M1", hole), ("helmet-to-the-nearest-bar-M1", gap)];
        let answer = browser.post(PAGE, &typed).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{hole} {gap}");
        assert!(answer.text.contains(why) && !answer.text.contains("<script>"), "{why}: {}", answer.text);
        let kept = if gap == "1" { "1 in" } else { gap };
        assert!(answer.text.contains(&format!("value=\"{kept}\"")), "{}", answer.text);
    }
    let round = browser.post(PAGE, &[("roundness-at-the-bend-M1", "1.5 / 1.42")]).await;
    assert!(round.text.contains("Are the two the wrong way round?"), "{}", round.text);
    let nothing = browser.post(PAGE, &[("inspection-hole-M1", "")]).await;
    assert!(nothing.status == StatusCode::UNPROCESSABLE_ENTITY && nothing.text.contains("No figure was typed."));
    let scrutineer = house.browser("scrutineer").await;
    let planted = scrutineer.post(PAGE, &[("inspection-hole-M1", "1/4")]).await;
    assert_eq!(planted.status, StatusCode::NOT_FOUND);
    let build = house.store.builds().await.unwrap().remove(0).id;
    assert!(house.store.measured(build).await.unwrap().is_empty());
}

#[tokio::test]
async fn the_steel_of_a_heat_is_read_once_and_counts_for_all_its_sticks() {
    let house = House::new().await;
    laid_out(&house).await;
    let browser = house.browser("fabricator").await;
    for (heat, grade, count) in
        [("48211", "grade A", "3"), ("60007", "grade A", "1"), ("", "grade A", "2"), ("48211", "grade B", "1")]
    {
        let sticks =
            [("size", "1 1/2 x .095"), ("grade", grade), ("length", "20 ft"), ("heat", heat), ("count", count)];
        assert_eq!(browser.post("/stock", &sticks).await.to, "/stock");
    }
    for stick in house.store.sticks().await.unwrap() {
        browser.post("/builds/pine-coupe/tube/give", &[("stick", &stick.id.to_string())]).await;
    }
    let build = house.store.builds().await.unwrap().remove(0).id;
    let judged = async |measure: Measure| {
        let facts = house.store.facts(build).await.unwrap();
        let found = tackbook::domain::derived::findings::Findings::of(&facts, house.clock.today());
        let of_sticks = found.worked.verdicts.iter().filter(|verdict| verdict.measure == Some(measure));
        of_sticks.map(|verdict| (verdict.of.unwrap().to_string(), verdict.word)).collect::<Vec<_>>()
    };
    let words = |all: [Word; 7]| (1..).zip(all).map(|(number, word)| (format!("S{number}"), word)).collect::<Vec<_>>();
    let (none, meets) = (Word::NotMeasured, Word::Meets);
    assert_eq!(judged(Measure::Carbon).await, words([none; 7]));
    // Read off the paper for one stick: the others of the heat have it, those of another heat, of none, or of another grade have not.
    let read = [("carbon-S2", "0.2"), ("carbon-S5", "0.2")];
    assert_eq!(browser.post(PAGE, &read).await.to, PAGE);
    assert_eq!(judged(Measure::Carbon).await, words([meets, meets, meets, none, meets, none, none]));
    let sheet = browser.get(PAGE).await.text;
    assert!(sheet.contains("for S2 of the same heat") && !sheet.contains("for S5 of"), "{sheet}");
    // A strength is of the lot that was tested, and stays with its stick.
    assert_eq!(browser.post(PAGE, &[("tensile-strength-S1", "450 N/mm²")]).await.to, PAGE);
    assert_eq!(judged(Measure::Tensile).await, words([meets, none, none, none, none, none, none]));
    // Another paper of the heat says something else: of the stick without a figure of its own nothing is known any more.
    browser.post(PAGE, &[("carbon-S1", "0.21")]).await;
    assert_eq!(judged(Measure::Carbon).await, words([meets, meets, none, none, meets, none, none]));
    // A stick's own figure counts before its heat's.
    browser.post(PAGE, &[("carbon-S1", "0.2"), ("carbon-S3", "0.4")]).await;
    assert_eq!(judged(Measure::Carbon).await, words([meets, meets, Word::OverBy, none, meets, none, none]));
}
