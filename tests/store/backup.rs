//! Backups: what a folder of them keeps, and where none is made.

use tackbook::actions::{self, ActionError};
use tackbook::store::StoreError;
use tackbook::store::backup::KEPT;

use crate::folder::Folder;
use crate::house::{House, clock_after};

fn names(folder: &Folder, ending: &str) -> Vec<String> {
    let all = std::fs::read_dir(&folder.0).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = all.filter(|name| name.ends_with(ending)).collect();
    names.sort();
    names
}

#[tokio::test]
async fn the_newest_fourteen_stay_and_the_shop_remembers_the_last() {
    let (house, to) = (House::open().await, Folder::new());
    assert_eq!(house.office.store.last_backup().await.unwrap(), None);
    for day in 0..16 {
        let clock = clock_after(day * 24 * 3600);
        let taken = actions::shop::backup::take(&house.folder.0, &to.0, &clock, &|_, _| {}).await.unwrap();
        assert_eq!(taken.list.lost, Vec::<String>::new());
        let last = house.office.store.last_backup().await.unwrap().unwrap();
        assert_eq!(last.made, clock.now());
        house.office.store.healthy().await.unwrap();
    }
    let lists = names(&to, ".json");
    assert_eq!(lists.len(), KEPT, "{lists:?}");
    // the same records on two days are one file
    assert!((1..=KEPT).contains(&names(&to, ".db").len()));
    let restored = Folder::new();
    let oldest = lists.first().map(String::as_str);
    let back = actions::shop::backup::restore(&to.0, oldest, &restored.0, &|_, _| {}).await.unwrap();
    assert!(back.report.good(), "{:?}", back.report.bad);
    assert_eq!(back.list.made, clock_after(2 * 24 * 3600).now(), "the two oldest are gone");
}

#[tokio::test]
async fn a_backup_lies_beside_the_shop_and_never_in_it() {
    let (house, elsewhere) = (House::open().await, Folder::new());
    let folder = &house.folder.0;
    for (shop, to, words) in [
        (folder.clone(), folder.join("photos"), "a folder of its own"),
        (folder.clone(), folder.parent().unwrap().to_owned(), "a folder of its own"),
        (folder.join("photos"), elsewhere.0.clone(), "no shop"),
    ] {
        let said = actions::shop::backup::take(&shop, &to, &house.office.clock, &|_, _| {}).await;
        let Err(ActionError::Store(StoreError::Folder(why))) = said else { panic!("{said:?}") };
        assert!(why.contains(words), "{why}");
    }
}

#[tokio::test]
async fn a_list_that_names_what_lies_elsewhere_is_refused_whole() {
    let (house, to) = (House::open().await, Folder::new());
    actions::shop::backup::take(&house.folder.0, &to.0, &house.office.clock, &|_, _| {}).await.unwrap();
    let list = to.0.join(names(&to, ".json").first().unwrap());
    let text = std::fs::read_to_string(&list).unwrap();
    std::fs::write(&list, text.replace("records-", "../records-")).unwrap();
    let said = actions::shop::backup::restore(&to.0, None, &Folder::new().0, &|_, _| {}).await;
    let Err(ActionError::Store(StoreError::Folder(why))) = said else { panic!("{said:?}") };
    assert!(why.contains("is no file of a shop"), "{why}");
}
