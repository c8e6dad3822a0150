//! A backup that says it is done restores bit for bit, and the program proves it: made by the real program while another
//! process keeps photographs, restored into an empty folder, held to every promise made before it was begun.

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use crate::child::command;
use crate::folder::Folder;
use crate::promised::{Promised, hold_to};

fn call(arguments: &[&str], folders: &[(&str, &Path)]) -> (Option<i32>, String) {
    let mut call = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    call.args(arguments);
    for (name, folder) in folders {
        call.arg(name).arg(folder);
    }
    let Output { status, stdout, stderr } = call.output().unwrap();
    (status.code(), format!("{}{}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr)))
}

fn backup(shop: &Path, to: &Path) -> (Option<i32>, String) {
    call(&["backup"], &[("--folder", shop), ("--to", to)])
}

/// A process that keeps photographs, and what it promised until so many were kept.
fn keeping(shop: &Path, photos: usize) -> (std::process::Child, Promised) {
    let mut child = command(shop).spawn().unwrap();
    let mut promised = Promised::default();
    for line in BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok) {
        promised.hear(&line);
        if promised.kept.len() == photos {
            break;
        }
    }
    // parts of what had not arrived are in no backup: their phones still have them
    promised.offsets.clear();
    (child, promised)
}

fn photos(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for shelf in std::fs::read_dir(folder.join("photos")).unwrap() {
        found.extend(std::fs::read_dir(shelf.unwrap().path()).unwrap().map(|file| file.unwrap().path()));
    }
    found.sort();
    found
}

#[tokio::test]
async fn promise_8_a_backup_made_while_the_shop_works_is_restored_bit_for_bit() {
    let (shop, to, new) = (Folder::new(), Folder::new(), Folder::new());
    let (mut child, promised) = keeping(&shop.0, 12);
    let (code, said) = backup(&shop.0, &to.0);
    child.kill().unwrap();
    child.wait().unwrap();
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("photographs and packets, and the records, lie in"), "{said}");

    let restored = new.0.join("shop");
    let (code, said) = call(&["restore"], &[("--from", &to.0), ("--folder", &restored)]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("Everything was checked and is as it was kept"), "{said}");
    assert!(hold_to(&restored, &promised).await >= 12);
    for file in photos(&restored) {
        let original = shop.0.join(file.strip_prefix(&restored).unwrap());
        assert_eq!(std::fs::read(&file).unwrap(), std::fs::read(original).unwrap(), "{}", file.display());
        assert!(file.metadata().unwrap().permissions().readonly());
    }

    // never over something that is there
    let (code, said) = call(&["restore"], &[("--from", &to.0), ("--folder", &restored)]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("is not empty"), "{said}");
}

#[tokio::test]
async fn what_is_damaged_is_named_on_either_side_and_a_good_copy_is_never_lost() {
    let (shop, to, new) = (Folder::new(), Folder::new(), Folder::new());
    let (mut child, promised) = keeping(&shop.0, 3);
    child.kill().unwrap();
    child.wait().unwrap();
    assert_eq!(backup(&shop.0, &to.0).0, Some(0));
    let (code, said) = backup(&shop.0, &to.0);
    assert!(code == Some(0) && said.contains("; 0 were new"), "{said}");

    // altered in the shop: the whole copy in the backup stays, and restores
    let altered = photos(&shop.0).remove(0);
    let name = altered.file_name().unwrap().to_str().unwrap().to_owned();
    std::fs::remove_file(&altered).unwrap();
    std::fs::write(&altered, "something else").unwrap();
    assert_eq!(backup(&shop.0, &to.0).0, Some(0));
    let restored = new.0.join("one");
    assert_eq!(call(&["restore"], &[("--from", &to.0), ("--folder", &restored)]).0, Some(0));
    hold_to(&restored, &promised).await;

    // altered in both: named by the backup and by the restoring
    let copy = to.0.join(altered.strip_prefix(&shop.0).unwrap());
    std::fs::remove_file(&copy).unwrap();
    std::fs::write(&copy, "something else").unwrap();
    let (code, said) = call(&["restore"], &[("--from", &to.0), ("--folder", &new.0.join("two"))]);
    assert!(code == Some(1) && said.contains(&name) && said.contains("altered in the backup"), "{said}");
    let (code, said) = backup(&shop.0, &to.0);
    assert!(code == Some(1) && said.contains(&name) && said.contains("is not the file that was kept"), "{said}");

    // the records themselves altered: no shop is made of them
    for file in std::fs::read_dir(&to.0).unwrap().map(|file| file.unwrap().path()) {
        if file.extension().is_some_and(|ending| ending == "db") {
            std::fs::remove_file(&file).unwrap();
            std::fs::write(&file, "no records").unwrap();
        }
    }
    let third = new.0.join("three");
    let (code, said) = call(&["restore"], &[("--from", &to.0), ("--folder", &third)]);
    assert!(code == Some(2) && said.contains("are damaged") && !third.join("tackbook.db").exists(), "{said}");
}
