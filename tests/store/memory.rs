//! What is remembered of builds is never of other facts than those recorded, whoever changed them.

use std::sync::Arc;

use tackbook::actions::{self, Context, Looked, Memory};
use tackbook::domain::shop::builds::{Build, NewBuild};
use tackbook::domain::words::ids::BuildId;

use crate::house::{House, clock_after};
use crate::records::stick;

async fn asked(ctx: &Context, build: BuildId) -> Looked {
    ctx.memory.of(Arc::new(ctx.store.facts(build).await.unwrap()), ctx.clock.today()).await.unwrap()
}

fn same(one: &Looked, other: &Looked) -> bool {
    Arc::ptr_eq(&one.found, &other.found)
}

async fn rename(ctx: &Context, build: &Build, name: &str) {
    let new = NewBuild { name: name.to_owned(), about: String::new(), book: None, event_day: None };
    actions::shop::builds::edit(ctx, build.id, build.version, new).await.unwrap();
}

#[tokio::test]
async fn a_build_is_worked_out_again_when_anything_in_its_facts_or_the_day_is_another() {
    let house = House::open().await;
    let build = house.build("Sorrel Coupe").await;
    let first = asked(&house.office, build.id).await;
    assert!(same(&first, &asked(&house.office, build.id).await));
    rename(&house.office, &build, "Dock Coupe").await;
    let renamed = asked(&house.office, build.id).await;
    assert!(!same(&first, &renamed) && renamed.facts.build.name == "Dock Coupe");
    // A row that was changed without a word in the log is seen too: the facts are compared, not their number.
    let mut behind = house.behind_its_back().await;
    sqlx::query("UPDATE builds SET name = 'Fennel Coupe'").execute(&mut behind).await.unwrap();
    assert_eq!(asked(&house.office, build.id).await.facts.build.name, "Fennel Coupe");
    let tomorrow = Context { clock: clock_after(86_400), ..house.office.clone() };
    let (today, tomorrow) = (asked(&house.office, build.id).await, asked(&tomorrow, build.id).await);
    assert!(!same(&today, &tomorrow) && today.found.worked.day != tomorrow.found.worked.day);
}

/// A stick that goes from one build to another is an entry of neither's alone: both are looked at again.
#[tokio::test]
async fn what_goes_from_build_to_build_is_seen_at_both() {
    let house = House::open().await;
    let ctx = &house.office;
    let (one, other) = (house.build("Sorrel Coupe").await.id, house.build("Dock Coupe").await.id);
    let stick = stick(ctx).await;
    actions::shop::stock::give(ctx, stick.id, Some(one)).await.unwrap();
    let sticks = async || -> Vec<usize> {
        ctx.looked_at_all().await.unwrap().iter().map(|looked| looked.facts.sticks.len()).collect()
    };
    assert_eq!(sticks().await, [1, 0]);
    let before = ctx.looked_at_all().await.unwrap();
    let again = ctx.looked_at_all().await.unwrap();
    assert!(before.iter().zip(&again).all(|(one, other)| same(one, other)), "nothing changed in between");
    actions::shop::stock::give(ctx, stick.id, None).await.unwrap();
    actions::shop::stock::give(ctx, stick.id, Some(other)).await.unwrap();
    assert_eq!(sticks().await, [0, 1]);
}

/// What a page of one build worked out is not worked out again for the page of all, nor the other way round.
#[tokio::test]
async fn one_and_all_share_what_was_worked_out() {
    let house = House::open().await;
    let ctx = &house.office;
    let build = house.build("Sorrel Coupe").await;
    let of_all = async || ctx.looked_at_all().await.unwrap().remove(0);
    let all = of_all().await;
    assert!(same(&all, &asked(ctx, build.id).await));
    rename(ctx, &build, "Dock Coupe").await;
    let one = asked(ctx, build.id).await;
    assert!(!same(&one, &all) && same(&one, &of_all().await) && same(&one, &of_all().await));
}

#[tokio::test]
async fn of_more_builds_than_are_kept_the_one_not_asked_for_the_longest_is_forgotten() {
    let house = House::open().await;
    let ctx = Context { memory: Memory::of_at_most(2), ..house.office.clone() };
    let mut builds = Vec::new();
    for name in ["Sorrel Coupe", "Dock Coupe", "Fennel Coupe"] {
        builds.push(house.build(name).await.id);
    }
    let [one, two, three] = builds.as_slice() else { panic!("three builds") };
    let (first, second) = (asked(&ctx, *one).await, asked(&ctx, *two).await);
    assert!(same(&first, &asked(&ctx, *one).await));
    asked(&ctx, *three).await;
    assert!(same(&first, &asked(&ctx, *one).await), "asked for a moment ago");
    assert!(!same(&second, &asked(&ctx, *two).await), "forgotten, and worked out anew");
}
