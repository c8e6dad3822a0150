//! Sign-ins: the one-time link, waiting after failures, other passwords, removal.

use tackbook::actions::{self, ActionError, Context};
use tackbook::domain::shop::people::{Person, Role};
use tackbook::store::Entry;

use crate::house::{House, PASSWORD, clock_after};

#[tokio::test]
async fn the_one_time_link_lets_one_person_in_once() {
    let house = House::open().await;
    let again = actions::shop::people::make_setup_link(&house.office.store, &house.office.clock).await.unwrap();
    assert_eq!(again, None);
    let said =
        actions::shop::people::begin_shop(&house.office.store, &house.office.clock, "guessed", "Me", PASSWORD).await;
    assert!(matches!(said, Err(ActionError::LinkSpent)));
}

#[tokio::test]
async fn a_wrong_name_and_a_wrong_password_read_alike_and_the_sixth_try_waits() {
    let house = House::open().await;
    let (store, clock) = (&house.office.store, &house.office.clock);
    for name in ["Office", "Nobody"] {
        for _ in 0..5 {
            let said = actions::shop::people::sign_in(store, clock, name, "not the password", "").await;
            assert!(matches!(said, Err(ActionError::WrongSignIn)), "{name}");
        }
        let said = actions::shop::people::sign_in(store, clock, name, PASSWORD, "").await;
        assert!(matches!(said, Err(ActionError::Wait(_))), "{name}");
    }
    // waited long enough, the right password is taken: nobody is locked out for good
    let signed_in = actions::shop::people::sign_in(store, &clock_after(16 * 60), "office", PASSWORD, "").await.unwrap();
    assert_eq!(signed_in.person.name, "Office");
}

#[tokio::test]
async fn another_password_ends_every_session_under_the_old_one() {
    let house = House::open().await;
    let (store, clock) = (house.office.store.clone(), house.office.clock.clone());
    let fabricator = house.with("Fabricator", Role::Fabricator).await;
    let old = actions::shop::people::sign_in(&store, &clock, "Fabricator", PASSWORD, "").await.unwrap();
    let refused = actions::shop::people::reset_password(&fabricator, fabricator.by.id, "six red clamps").await;
    assert!(matches!(refused, Err(ActionError::NotAllowed)), "{refused:?}");
    let short = actions::shop::people::reset_password(&house.office, fabricator.by.id, "short").await;
    assert!(matches!(&short, Err(ActionError::Refused(faults)) if faults.len() == 1), "{short:?}");
    actions::shop::people::reset_password(&house.office, fabricator.by.id, "six red clamps").await.unwrap();
    assert_eq!(actions::shop::people::who(&store, &clock, &old.token).await.unwrap(), None);
    let said = actions::shop::people::sign_in(&store, &clock, "Fabricator", PASSWORD, "").await;
    assert!(matches!(said, Err(ActionError::WrongSignIn)));
    let new = actions::shop::people::sign_in(&store, &clock, "Fabricator", "six red clamps", "").await.unwrap();
    assert_eq!(actions::shop::people::who(&store, &clock, &new.token).await.unwrap(), Some(fabricator.by));
}

#[tokio::test]
async fn a_removed_person_is_out_at_once_and_their_name_stays_theirs() {
    let house = House::open().await;
    let (store, clock) = (house.office.store.clone(), house.office.clock.clone());
    let fabricator = house.with("Fabricator", Role::Fabricator).await;
    let session = actions::shop::people::sign_in(&store, &clock, "Fabricator", PASSWORD, "").await.unwrap();
    actions::shop::people::remove(&house.office, fabricator.by.id).await.unwrap();
    assert_eq!(actions::shop::people::who(&store, &clock, &session.token).await.unwrap(), None);
    let said = actions::shop::people::sign_in(&store, &clock, "Fabricator", PASSWORD, "").await;
    assert!(matches!(said, Err(ActionError::WrongSignIn)));
    assert_eq!(store.people().await.unwrap(), std::slice::from_ref(&house.office.by));
    let taken = actions::shop::people::add(&house.office, "fabricator", Role::Office, PASSWORD).await;
    assert!(matches!(&taken, Err(ActionError::Refused(faults)) if faults.len() == 1), "{taken:?}");
    let again = actions::shop::people::remove(&house.office, fabricator.by.id).await;
    assert!(matches!(again, Err(ActionError::NotFound("person"))), "{again:?}");
}

#[tokio::test]
async fn two_office_people_removing_each_other_leave_one() {
    let house = House::open().await;
    let second = house.with("Second office", Role::Office).await;
    let (one, other): (&Context, &Context) = (&house.office, &second);
    let (first, second) =
        tokio::join!(actions::shop::people::remove(one, other.by.id), actions::shop::people::remove(other, one.by.id));
    let refused = [first, second].into_iter().filter(|said| matches!(said, Err(ActionError::Refused(_)))).count();
    assert_eq!((refused, house.office.store.people().await.unwrap().len()), (1, 1));
}

#[tokio::test]
async fn of_three_hundred_guesses_at_once_five_are_looked_at() {
    let house = House::open().await;
    let mut guesses = tokio::task::JoinSet::new();
    for number in 0..300 {
        let (store, clock) = (house.office.store.clone(), house.office.clock.clone());
        // capitals and letters that do not show are no other name
        let name = ["Office", "OFFICE", "office\u{200b}", "of\u{ad}fice"][number % 4];
        guesses
            .spawn(async move { actions::shop::people::sign_in(&store, &clock, name, "not the password", "").await });
    }
    let said = guesses.join_all().await;
    let looked_at = said.iter().filter(|said| matches!(said, Err(ActionError::WrongSignIn))).count();
    let told_to_wait = said.iter().filter(|said| matches!(said, Err(ActionError::Wait(_)))).count();
    assert_eq!((looked_at, told_to_wait), (5, 295));
}

#[tokio::test]
async fn a_clock_set_back_by_a_year_makes_nobody_wait_longer_than_a_quarter_of_an_hour() {
    let house = House::open().await;
    let (store, ahead) = (&house.office.store, clock_after(365 * 86_400));
    for _ in 0..5 {
        let said = actions::shop::people::sign_in(store, &ahead, "Office", "not the password", "").await;
        assert!(matches!(said, Err(ActionError::WrongSignIn)), "{said:?}");
    }
    let said = actions::shop::people::sign_in(store, &clock_after(0), "Office", PASSWORD, "").await;
    assert!(matches!(said, Err(ActionError::Wait(left)) if left.as_secs() <= 15 * 60), "{said:?}");
    let signed_in = actions::shop::people::sign_in(store, &clock_after(15 * 60), "Office", PASSWORD, "").await;
    assert!(signed_in.is_ok(), "{signed_in:?}");
}

#[tokio::test]
async fn office_with_a_letter_that_does_not_show_is_office_and_no_second_person() {
    let house = House::open().await;
    let (store, clock) = (&house.office.store, &house.office.clock);
    for name in ["Office\u{200b}", "\u{feff}office", "OF\u{ad}FICE", "\u{ff2f}ffice"] {
        let signed_in = actions::shop::people::sign_in(store, clock, name, PASSWORD, "").await.unwrap();
        assert_eq!(signed_in.person, house.office.by, "{name:?}");
        let added = actions::shop::people::add(&house.office, name, Role::Fabricator, PASSWORD).await;
        assert!(matches!(&added, Err(ActionError::Refused(faults)) if faults[0].at == "name"), "{name:?}: {added:?}");
    }
    // what reads alike is refused as a name, and signs nobody in
    for name in ["0ffice", "\u{41e}ffi\u{441}e"] {
        let added = actions::shop::people::add(&house.office, name, Role::Fabricator, PASSWORD).await;
        assert!(matches!(&added, Err(ActionError::Refused(faults)) if faults[0].at == "name"), "{name:?}: {added:?}");
        let said = actions::shop::people::sign_in(store, clock, name, PASSWORD, "").await;
        assert!(matches!(said, Err(ActionError::WrongSignIn)), "{name:?}");
    }
    assert_eq!(store.people().await.unwrap().len(), 1);
    let kept =
        actions::shop::people::add(&house.office, " Ana\u{200b}  Bench ", Role::Fabricator, PASSWORD).await.unwrap();
    assert_eq!(kept.name, "Ana Bench");
}

#[tokio::test]
async fn two_people_of_an_older_shop_whose_names_are_now_one_still_sign_in() {
    let house = House::open().await;
    let (store, clock) = (&house.office.store, &house.office.clock);
    let password = store.person_by_name("Office").await.unwrap().unwrap().password;
    let old = ["Bench One\u{200b}", "Bench One", "B\u{f8}rge", "\u{1d4ab}ip"];
    for name in old {
        let (password, clock) = (password.clone(), clock.clone());
        let person = Person { id: clock.new_id().into(), name: name.to_owned(), role: Role::Fabricator };
        let entry = Entry {
            build: None,
            by: "an earlier program".to_owned(),
            at: clock.now(),
            room: "people",
            what: format!("{name} was added."),
            detail: serde_json::Value::Null,
        };
        let added = store.change::<_, ActionError, _>(move |write| {
            Box::pin(async move { Ok((write.add_person(&person, &password, clock.now()).await?, Some(entry))) })
        });
        added.await.unwrap();
    }
    for name in old {
        let signed_in = actions::shop::people::sign_in(store, clock, name, PASSWORD, "").await.unwrap();
        assert_eq!(signed_in.person.name, name);
    }
}

#[tokio::test]
async fn a_password_that_is_tried_first_is_refused_for_everybody() {
    let house = House::open().await;
    for common in ["password1234", "qwertyuiop12", "111111111111"] {
        let added = actions::shop::people::add(&house.office, "Second", Role::Fabricator, common).await;
        assert!(
            matches!(&added, Err(ActionError::Refused(faults)) if faults[0].at == "password"),
            "{common}: {added:?}"
        );
        let reset = actions::shop::people::reset_password(&house.office, house.office.by.id, common).await;
        assert!(
            matches!(&reset, Err(ActionError::Refused(faults)) if faults[0].at == "password"),
            "{common}: {reset:?}"
        );
    }
}
