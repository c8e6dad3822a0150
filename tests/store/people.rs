//! Sign-ins: the one-time link, waiting after failures, other passwords, removal.

use tackbook::actions::{self, ActionError, Context};
use tackbook::domain::shop::people::Role;

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
