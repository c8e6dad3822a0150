//! Each caution stands where its work is, on screen and on paper, and those of the lowering in the order of the work.
use tackbook::domain::derived::findings::Findings;
use tackbook::domain::judge::shots::Shot;
use tackbook::domain::words::cautions;
use tackbook::domain::words::ids::Kind;

use crate::folder::Folder;
use crate::house::{Browser, House};
use crate::measures::laid_out;
use crate::paper;
use crate::sheets_call::{call, two_bars};

const BUILD: &str = "/builds/pine-coupe";

/// A screen's words as they are written in the program.
async fn screen(browser: &Browser<'_>, end: &str) -> String {
    let text = browser.get(end).await.text;
    [("&#39;", "'"), ("&#38;", "&")].iter().fold(text, |text, (coded, plain)| text.replace(coded, plain))
}

/// A paper's words without its line ends.
async fn sheet(browser: &Browser<'_>, end: &str) -> String {
    let pdf = browser.get(end).await.bytes;
    paper::keep(&pdf);
    let words = paper::words(&pdf);
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[tokio::test]
async fn each_caution_stands_on_its_screen() {
    let house = House::new().await;
    laid_out(&house).await;
    let office = house.browser("office").await;
    for (end, said) in [
        ("/builds/pine-coupe/weigh-in", vec![cautions::ON_THE_PADS]),
        ("/builds/pine-coupe/sheets", vec![cautions::SAW, cautions::BENDER, cautions::COPED_ENDS]),
        ("/builds/pine-coupe/cuts", vec![cautions::SAW]),
        ("/dies", vec![cautions::BENDER]),
        ("/builds/pine-coupe/seams", vec![cautions::WELDING, cautions::CHROME_MOLY]),
        (
            "/builds/pine-coupe/welds",
            vec![cautions::WELDING, cautions::CHROME_MOLY, cautions::OVERHEAD, cautions::WELD_ORDER],
        ),
        ("/builds/pine-coupe/welds/walk", vec![cautions::WELDING]),
        ("/builds/pine-coupe/heat-input", vec![cautions::WELDING]),
        ("/stock", vec![cautions::CHROME_MOLY]),
        ("/builds/pine-coupe/own-tubes?bar=M1", vec![cautions::CHROME_MOLY]),
    ] {
        let shown = screen(&office, end).await;
        for one in said {
            assert_eq!(shown.matches(one).count(), 1, "{one} at {end}: {shown}");
        }
    }
    // Nothing is released: the rounds' sheet says nothing of welding yet.
    assert!(!screen(&office, "/builds/pine-coupe/rounds").await.contains(cautions::WELDING));
}

#[tokio::test]
async fn each_caution_stands_on_its_paper() {
    let folder = Folder::new();
    let done = call(&folder, &two_bars().to_string());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let words = paper::words(&std::fs::read(folder.0.join("out/sheets.pdf")).unwrap());
    let plain = |page: &str| page.split_whitespace().collect::<Vec<_>>().join(" ");
    let pages: Vec<String> = words.split('\u{c}').map(plain).collect();
    for (title, said) in [
        ("Cut plan", vec![cautions::SAW]),
        ("Seams, wire and time", vec![cautions::WELDING, cautions::CHROME_MOLY]),
        ("main hoop: bends", vec![cautions::BENDER]),
        ("copes at full size", vec![cautions::COPED_ENDS]),
    ] {
        let page = pages.iter().find(|page| page.contains(title)).unwrap();
        for one in said {
            assert!(page.contains(one), "{one} on {title}: {page}");
        }
    }
    let house = House::new().await;
    laid_out(&house).await;
    let packet = house.browser("office").await.get(&format!("{BUILD}/packet.pdf")).await.bytes;
    paper::keep(&packet);
    let packet = paper::words(&packet);
    let cover = plain(packet.split('\u{c}').next().unwrap());
    assert!(cover.contains(cautions::COVER) && cover.contains("it approves nothing"), "{cover}");
}

/// Stands, then the look underneath, then the cut: in this order on screen and on paper, with the rest of what can hurt.
#[tokio::test]
async fn the_lowering_begins_with_the_stands() {
    let house = House::new().await;
    laid_out(&house).await;
    let office = house.browser("office").await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let mass = Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today()).worked.cage.mass();
    let held = cautions::held(&tackbook::quantity::Show::show(&mass, tackbook::quantity::Units::Inch));
    assert!(held.contains(" lb by the model"), "{held}");
    for shown in
        [screen(&office, &format!("{BUILD}/lowering")).await, sheet(&office, &format!("{BUILD}/lowering.pdf")).await]
    {
        let places: Vec<Option<usize>> = cautions::LOWERING.iter().map(|said| shown.find(said)).collect();
        assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{places:?}: {shown}");
        let work = shown.find("Order of work");
        assert!(work > places.last().copied().flatten(), "the cautions come before the work");
        for said in [held.as_str(), cautions::WELDING] {
            assert_eq!(shown.matches(said).count(), 1, "{said}: {shown}");
        }
    }
    let at = |said: &str| cautions::LOWERING.iter().position(|one| *one == said);
    let order = [cautions::STANDS_FIRST, cautions::LOOK_UNDER, cautions::THEN_CUT].map(at);
    assert!(order.is_sorted() && order.iter().all(Option::is_some), "{order:?}");
    // What each of them must not leave out.
    for (said, words) in [
        (cautions::FUEL, vec!["out of the car", "purged", "only emptied holds vapour"]),
        (cautions::AIRBAGS, vec!["Airbags", "belt tensioners"]),
        (cautions::COATINGS, vec!["Sealer", "underseal", "Zinc"]),
        (cautions::THEN_CUT, vec!["Goggles", "ears", "mask"]),
        (cautions::FIRE_WATCH, vec!["watches for fire", "after the last spark"]),
        (cautions::WELDING, vec!["fumes", "Ultraviolet", "spatter", "Fire"]),
    ] {
        assert!(words.iter().all(|word| said.contains(word)), "{said}");
    }
}

/// On the walk a plate is photographed from under the car; a joint is not. What a phone keeps for the road says the same.
#[tokio::test]
async fn the_walk_says_where_one_lies_under_the_car() {
    let house = House::new().await;
    laid_out(&house).await;
    let floor = house.browser("fabricator").await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let found = Findings::of(&house.store.facts(build).await.unwrap(), house.clock.today());
    let shot =
        |kind| found.worked.shots.iter().find(|shot| shot.of.kind == kind).map(Shot::name).unwrap().replace(' ', "%20");
    let (plate, joint) = (shot(Kind::Plate), shot(Kind::Joint));
    let at = async |name: &str| screen(&floor, &format!("{BUILD}/walk?shot={name}")).await;
    assert_eq!(at(&plate).await.matches(cautions::UNDER_THE_CAR).count(), 1);
    assert!(!at(&joint).await.contains(cautions::UNDER_THE_CAR));
    let kept: serde_json::Value = serde_json::from_str(&floor.get(&format!("{BUILD}/walk.json")).await.text).unwrap();
    for one in kept["shots"].as_array().unwrap() {
        let under = one["balloon"].as_str().unwrap().starts_with('P');
        assert_eq!(one["caution"] == cautions::UNDER_THE_CAR, under, "{one}");
    }
}
