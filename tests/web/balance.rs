//! The cage's mass beside the weigh-in: asked for once, reckoned into the shares, plainly not known without.

use axum::http::StatusCode;

use crate::cage::{save, typed};
use crate::house::House;
use crate::main_job::{begun, weigh};

const SHEET: &str = "/builds/pine-coupe/weigh-in";

#[tokio::test]
async fn the_cages_mass_moves_the_shares_once_the_wheels_are_measured() {
    let house = House::new().await;
    begun(&house).await;
    let browser = house.browser("fabricator").await;
    weigh(&browser, "740", "").await;
    assert!(browser.get(SHEET).await.text.contains("The cage is not laid out yet"));
    save(&browser, &typed("0")).await;
    let sheet = browser.get(SHEET).await.text;
    assert!(
        sheet.contains("What the cage does to the shares is not known. Where the wheels stand is not known"),
        "{sheet}"
    );
    let wrong =
        [("wheels", "yes"), ("wheelbase", "98 kg"), ("track_front", "58"), ("track_rear", "5"), ("hoop_behind", "70")];
    let answer = browser.post("/builds/pine-coupe/weigh-in/wheels", &wrong).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text.contains("value=\"98 kg\"") && answer.text.contains("value=\"5 in\""), "{}", answer.text);
    let right = [("wheelbase", "98 1/2"), ("track_front", "58"), ("track_rear", "1450 mm"), ("hoop_behind", "70")];
    let answer = browser.post("/builds/pine-coupe/weigh-in/wheels", &right).await;
    assert_eq!(answer.to, "/builds/pine-coupe/weigh-in#balance", "{}", answer.text);
    let sheet = browser.get(SHEET).await.text;
    // Front was 1,481 of 2,944 lb = 50.3 %. The hoop's feet are 70 in back of 98 1/2, the cage's middle forward of them:
    // its lever is under half of the wheelbase only if it is more than 20 3/4 in forward, which no cage's is.
    let build = house.store.build_by_slug("pine-coupe").await.unwrap().unwrap().id;
    let facts = house.store.facts(build).await.unwrap();
    let found = tackbook::domain::derived::findings::Findings::of(&facts, house.clock.today());
    let masses = tackbook::domain::cage::Masses::of(&found.worked.cage);
    let centre = masses.centre.unwrap();
    let (m, behind) = (masses.whole.lb(), (70.0 - centre.x / 25.4) / 98.5);
    let front = (1481.0 + m * (1.0 - behind)) / (2944.0 + m) * 100.0;
    assert!(front < 50.2 && front > 48.0, "{front}");
    for words in ["50.3 %".to_owned(), format!("{front:.1} %"), "front axle".to_owned(), "the weighed car".to_owned()] {
        assert!(sheet.contains(&words), "{words}: {sheet}");
    }
    // The cage stood on the scale: it is not reckoned in twice.
    weigh(&browser, "740", "yes").await;
    assert!(browser.get(SHEET).await.text.contains("the shares above have it already"));
}
