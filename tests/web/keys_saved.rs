//! The shop's keys saved on purpose under a passphrase, and restored, by the call itself.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use crate::damage::{gone, put};
use crate::folder::Folder;
use crate::house::House;
use crate::reviews::issued;

const PASSPHRASE: &str = "cope, tack, weld, look";

/// The call with this at its standard input.
fn keys(arguments: &[&str], typed: &str) -> (Option<i32>, String) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    program.arg("keys").args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = program.spawn().unwrap();
    // a call that says no before it reads shuts its end
    let _ = child.stdin.take().unwrap().write_all(typed.as_bytes());
    let Output { status, stdout, stderr } = child.wait_with_output().unwrap();
    (status.code(), format!("{}{}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr)))
}

fn save(shop: &Path, out: &Path, typed: &str) -> (Option<i32>, String) {
    keys(&["save", "--folder", shop.to_str().unwrap(), "--out", out.to_str().unwrap()], typed)
}

fn restore(shop: &Path, file: &Path, more: &[&str]) -> (Option<i32>, String) {
    let args = [&["restore", "--folder", shop.to_str().unwrap(), file.to_str().unwrap()], more].concat();
    keys(&args, &format!("{PASSPHRASE}\n"))
}

fn packets_key(shop: &Path) -> PathBuf {
    shop.join("keys").join("packets_ed25519")
}

/// A shop that has a key, closed.
async fn with_key() -> House {
    let house = House::new().await;
    issued(&house).await;
    house.store.close().await;
    house
}

#[tokio::test]
async fn saved_keys_come_back_byte_for_byte_and_the_file_is_an_age_file_of_one_passphrase() {
    let (house, out) = (with_key().await, Folder::new());
    let (shop, file) = (&house.folder.0, out.0.join("keys.age"));
    let key = std::fs::read(packets_key(shop)).unwrap();
    let (code, said) = save(shop, &file, &format!("{PASSPHRASE}\r\nnot this\n"));
    assert_eq!(code, Some(0), "{said}");
    assert!(
        said.contains("the key that packets are signed by, SHA256:") && said.contains("was opened again"),
        "{said}"
    );
    assert!(!said.contains(PASSPHRASE));
    // age-encryption.org/v1: the header is text, one stanza "scrypt <salt> 18" (C2SP, age.md)
    let bytes = std::fs::read(&file).unwrap();
    let head = String::from_utf8_lossy(&bytes);
    let lines: Vec<&str> = head.lines().collect();
    assert_eq!(lines[0], "age-encryption.org/v1");
    assert!(lines[1].starts_with("-> scrypt ") && lines[1].ends_with(" 18"), "{}", lines[1]);
    assert!(!head.contains("OPENSSH") && !head.contains("tackbook"));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        assert_eq!(std::fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o600, "for its owner alone");
    }
    assert_eq!(std::fs::read_dir(&out.0).unwrap().count(), 1, "nothing half written is left");
    gone(&packets_key(shop));
    let (code, said) = restore(shop, &file, &[]);
    assert!(code == Some(0) && said.contains("Restored: the key that packets are signed by"), "{said}");
    assert_eq!(std::fs::read(packets_key(shop)).unwrap(), key);
    let (code, said) = restore(shop, &file, &[]);
    assert!(code == Some(0) && said.contains("It was there already"), "{said}");
}

#[tokio::test]
async fn a_short_a_wrong_or_no_passphrase_and_a_damaged_file_are_refused_in_words_and_change_nothing() {
    let (house, out) = (with_key().await, Folder::new());
    let (shop, file) = (&house.folder.0, out.0.join("keys.age"));
    for short in ["", "\n", "elevenchars\n"] {
        let (code, said) = save(shop, &file, short);
        assert!(code == Some(1) && said.contains("at least 12 characters"), "{said}");
        assert!(!file.exists());
    }
    assert_eq!(save(shop, &file, PASSPHRASE).0, Some(0), "a line without an end");
    let bytes = std::fs::read(&file).unwrap();
    let (code, said) = save(shop, &file, PASSPHRASE);
    assert!(code == Some(2) && said.contains("is there already"), "{said}");
    let named = file.to_str().unwrap();
    gone(&packets_key(shop));
    let (code, said) = keys(&["restore", "--folder", shop.to_str().unwrap(), named], "cope, tack, weld, feel\n");
    assert!(code == Some(1) && said.contains("This passphrase does not open"), "{said}");
    let mut cut = bytes.clone();
    cut.truncate(bytes.len() - 9);
    let mut other_bit = bytes.clone();
    *other_bit.last_mut().unwrap() ^= 1;
    for damaged in [b"".to_vec(), b"a note".to_vec(), cut, other_bit] {
        put(&file, &damaged);
        let (code, said) = restore(shop, &file, &[]);
        assert!(code == Some(1) && said.contains("Nothing was changed"), "{said}");
    }
    assert!(!packets_key(shop).exists());
    // no way to give it as an argument
    let (code, said) = keys(&["save", "--folder", "x", "--out", "y", "--passphrase", PASSPHRASE], "");
    assert!(code == Some(2) && said.contains("unexpected argument"), "{said}");
}

#[tokio::test]
async fn another_key_is_replaced_only_where_that_is_said_and_stays_beside() {
    let (one, other, out) = (with_key().await, with_key().await, Folder::new());
    let file = out.0.join("keys.age");
    assert_eq!(save(&one.folder.0, &file, PASSPHRASE).0, Some(0));
    let theirs = std::fs::read(packets_key(&other.folder.0)).unwrap();
    let ours = std::fs::read(packets_key(&one.folder.0)).unwrap();
    assert_ne!(ours, theirs);
    let (code, said) = restore(&other.folder.0, &file, &[]);
    assert!(code == Some(1) && said.contains("has another key already") && said.contains("--replace"), "{said}");
    assert_eq!(std::fs::read(packets_key(&other.folder.0)).unwrap(), theirs);
    let (code, said) = restore(&other.folder.0, &file, &["--replace"]);
    assert!(code == Some(0) && said.contains("The one before lies in keys/packets_ed25519."), "{said}");
    assert_eq!(std::fs::read(packets_key(&other.folder.0)).unwrap(), ours);
    let kept = std::fs::read_dir(other.folder.0.join("keys")).unwrap().map(|entry| entry.unwrap().path());
    assert!(kept.into_iter().any(|file| std::fs::read(file).unwrap() == theirs), "nothing is lost");
    // the log tells of it at the next start
    let store = tackbook::store::Store::open(&other.folder.0).await.unwrap();
    let ctx = tackbook::actions::Context::of_the_machine(store.clone(), other.clock.clone());
    tackbook::actions::shop::signing::notice(&ctx).await.unwrap();
    let keys = store.signing_keys().await.unwrap();
    assert_eq!(keys.len(), 2);
    store.close().await;
}

#[tokio::test]
async fn a_shop_without_a_key_has_nothing_to_save_and_says_so() {
    let (house, out) = (House::new().await, Folder::new());
    let file = out.0.join("keys.age");
    let (code, said) = save(&house.folder.0, &file, PASSPHRASE);
    assert!(code == Some(1) && said.contains("There is no key in"), "{said}");
    assert!(!file.exists());
}
