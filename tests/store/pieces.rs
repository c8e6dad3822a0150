//! Of a cage's saves the facts have those that were in force when something was seen or measured, and no more.

use tackbook::actions::{self, Context};
use tackbook::domain::words::ids::BuildId;

use crate::house::{House, clock_after, jpeg};
use crate::records::{cage, gap};

async fn earlier(house: &House, build: BuildId) -> Vec<i64> {
    let facts = house.office.store.facts(build).await.unwrap();
    facts.earlier_cages.iter().map(|earlier| earlier.while_it_was.version).collect()
}

#[tokio::test]
async fn the_facts_have_the_saves_that_evidence_is_of() {
    let mut house = House::open().await;
    let build = house.build("Pine Coupe").await.id;
    let at = |seconds: i64| Context { clock: clock_after(seconds), ..house.office.clone() };
    gap(&at(1), build, "M2", 30.0).await;
    actions::recorded::cage::save(&at(10), build, 0, &cage(43.5)).await.unwrap();
    gap(&at(15), build, "M1", 30.0).await;
    for (version, inches) in [(1, 43.0), (2, 42.5)] {
        actions::recorded::cage::save(&at(20 + version), build, version, &cage(inches)).await.unwrap();
    }
    assert_eq!(
        earlier(&house, build).await,
        [0, 1],
        "nothing was seen while the second stood, or of the one that stands"
    );
    house.office.clock = clock_after(30);
    let (capture, _) = house.photo(build, &jpeg(1, 5_000)).await;
    assert_eq!(earlier(&house, build).await, [0, 1]);
    let at = |seconds: i64| Context { clock: clock_after(seconds), ..house.office.clone() };
    actions::recorded::cage::save(&at(40), build, 3, &cage(43.5)).await.unwrap();
    // The first says what the one that stands says: it is not read again.
    assert_eq!(earlier(&house, build).await, [0, 3]);
    let facts = house.office.store.facts(build).await.unwrap();
    let [first, third] = facts.earlier_cages.as_slice() else { panic!("{:?}", facts.earlier_cages) };
    assert_eq!(first.cage, None);
    assert_eq!(third.cage.as_ref().unwrap().record().unwrap(), cage(42.5));
    let moments = [third.while_it_was.from.unwrap(), third.while_it_was.until];
    assert_eq!(moments, [clock_after(22).now(), clock_after(40).now()]);
    // A photograph that is withdrawn and a figure read again ask for no earlier cage.
    actions::recorded::photos::withdraw(&at(50), build, capture, "dark").await.unwrap();
    gap(&at(51), build, "M2", 31.0).await;
    assert_eq!(earlier(&house, build).await, Vec::<i64>::new());
}
