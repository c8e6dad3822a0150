//! Signed packets: checked by OpenSSH itself and by the call; every altered byte found; a key that changed is told.

use std::process::{Command, Output};

use axum::http::StatusCode;
use sqlx::Connection as _;
use tackbook::actions;
use tackbook::actions::shop::signing::{Checked, check, fingerprint};
use tackbook::domain::shop::signing::{allowed_signers, command};
use tackbook::domain::words::fingerprint::{Fingerprint, short};

use crate::damage::put;
use crate::folder::Folder;
use crate::house::House;
use crate::paper;
use crate::reviews::issued;

const ROUND: &str = "/builds/pine-coupe/rounds/1";
const NAME: &str = "pine-coupe-round-1.pdf";

/// Round 1, its packet, its signature and the list of allowed signers as they are handed out, in a folder.
async fn handed_out(house: &House, base: &str) -> Folder {
    let folder = Folder::new();
    let browser = if base.starts_with("/read/") { house.stranger() } else { house.browser("scrutineer").await };
    for (address, name) in
        [("packet.pdf", NAME), ("packet.pdf.sig", &format!("{NAME}.sig")), ("allowed_signers", "allowed_signers")]
    {
        let got = browser.get(&format!("{base}/{address}")).await;
        assert_eq!(got.status, StatusCode::OK, "{address}: {}", got.text);
        assert!(got.header("content-disposition").contains(&format!("\"{name}\"")), "{address}");
        put(&folder.0.join(name), &got.bytes);
    }
    folder
}

/// OpenSSH's own answer to the command that the sheets show.
fn by_openssh(folder: &Folder) -> bool {
    let mut shell = Command::new("sh");
    let done = shell.args(["-c", &command(NAME)]).current_dir(&folder.0).output().unwrap();
    let said = String::from_utf8_lossy(&done.stdout).into_owned();
    assert_eq!(done.status.success(), said.contains("Good \"file\" signature for shop"), "{said}");
    done.status.success()
}

fn call(folder: &Folder, more: &[&str]) -> (Option<i32>, String) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    let Output { status, stdout, stderr } = program.arg("verify").args(more).current_dir(&folder.0).output().unwrap();
    (status.code(), format!("{}{}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr)))
}

/// Another key, made by OpenSSH.
fn other_key() -> (Folder, String, String) {
    let folder = Folder::new();
    let mut program = Command::new("ssh-keygen");
    let made = program.args(["-q", "-t", "ed25519", "-N", "", "-C", "another", "-f", "key"]);
    assert!(made.current_dir(&folder.0).status().unwrap().success());
    let read = |name: &str| std::fs::read_to_string(folder.0.join(name)).unwrap();
    let (private, public) = (read("key"), read("key.pub"));
    (folder, private, public)
}

#[tokio::test]
async fn a_packet_is_checked_by_openssh_itself_with_what_is_handed_out_beside_it() {
    let house = House::new().await;
    issued(&house).await;
    let office = house.browser("office").await;
    let link = office.post(&format!("{ROUND}/links"), &[("reader", "M. Alder"), ("days", "14")]).await.text;
    let from = link.find("/read/").unwrap();
    let link = link[from..from + "/read/".len() + 64].to_owned();
    for base in [ROUND, &link] {
        let folder = handed_out(&house, base).await;
        assert!(by_openssh(&folder), "{base}");
        let good = std::fs::read(folder.0.join(NAME)).unwrap();
        let mut bad = good.clone();
        bad[good.len() / 2] ^= 1;
        put(&folder.0.join(NAME), &bad);
        assert!(!by_openssh(&folder), "one byte altered");
        put(&folder.0.join(NAME), &good);
        assert!(by_openssh(&folder));
        put(&folder.0.join("allowed_signers"), allowed_signers(&other_key().2).as_bytes());
        assert!(!by_openssh(&folder), "another key");
    }
    // the command, and whose key it is, stand where the packet does
    let key = fingerprint(&house.store.signing_keys().await.unwrap()[0].public);
    let shown = [
        office.get("/builds/pine-coupe/rounds").await.text,
        house.browser("scrutineer").await.get("/builds/pine-coupe/rounds").await.text,
        house.stranger().get(&link).await.text,
    ];
    for text in shown {
        let plain = text.replace("&#60;", "<");
        assert!(plain.contains(&command(NAME)) && plain.contains(&key), "{plain}");
        assert!(plain.contains("packet.pdf.sig") && plain.contains("allowed_signers\""), "{plain}");
    }
    let report = actions::shop::health::verify(&house.store).await.unwrap();
    assert!(report.good(), "{:?}", report.bad);
}

#[tokio::test]
async fn of_500_single_altered_bytes_500_are_found() {
    let house = House::new().await;
    issued(&house).await;
    let folder = handed_out(&house, ROUND).await;
    let good = std::fs::read(folder.0.join(NAME)).unwrap();
    let signature = std::fs::read_to_string(folder.0.join(format!("{NAME}.sig"))).unwrap();
    assert!(matches!(check(&good, &signature), Checked::Unaltered { .. }));
    let seed = rand::random::<u64>();
    println!("seed {seed}");
    let mut state = seed | 1;
    let mut drawn = || {
        // xorshift64 (Marsaglia 2003)
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state >> 1).unwrap()
    };
    let mut bytes = good.clone();
    let mut found = 0;
    for _ in 0..500 {
        let at = drawn() % bytes.len();
        let flip = u8::try_from(drawn() % 255).unwrap() + 1;
        bytes[at] ^= flip;
        found += usize::from(check(&bytes, &signature) == Checked::Altered);
        bytes[at] ^= flip;
    }
    assert_eq!(found, 500, "seed {seed}");
    assert!(bytes == good);
    for at in [0, drawn() % good.len(), good.len() - 1] {
        let mut bad = good.clone();
        bad[at] ^= 0x20;
        put(&folder.0.join(NAME), &bad);
        let (code, said) = call(&folder, &[NAME]);
        assert!(code == Some(1) && said.contains("NOT what was signed"), "{at}: {said}");
        assert!(!said.contains("unaltered since") && !said.contains("Round"), "{at}: {said}");
    }
}

#[tokio::test]
async fn the_call_says_what_was_checked_and_no_more() {
    let house = House::new().await;
    let build = issued(&house).await;
    let folder = handed_out(&house, ROUND).await;
    let round = house.store.rounds(build).await.unwrap().remove(0);
    let key = fingerprint(&house.store.signing_keys().await.unwrap()[0].public);
    let (code, said) = call(&folder, &[NAME]);
    assert_eq!(code, Some(0), "{said}");
    for words in [
        format!("unaltered since it was signed by the key {key}."),
        "Round 1 of pine-coupe.".to_owned(),
        format!("SHA-256: {}", round.contents_sha256),
        format!("Log head, entry {}: ", round.as_of),
        "Whose key that is, these files cannot tell".to_owned(),
    ] {
        assert!(said.contains(&words), "{words}: {said}");
    }
    let (code, said) = call(&folder, &[NAME, "--key", "allowed_signers"]);
    assert!(code == Some(0) && said.contains("The key is one of those that you named."), "{said}");
    put(&folder.0.join("other.pub"), other_key().2.as_bytes());
    let (code, said) = call(&folder, &[NAME, "--key", "other.pub"]);
    assert!(code == Some(1) && said.contains("The key is NONE of those"), "{said}");
    put(&folder.0.join("other.pub"), b"no key");
    let (code, said) = call(&folder, &[NAME, "--key", "other.pub"]);
    assert!(code == Some(1) && said.contains("names no key") && !said.contains("unaltered"), "{said}");
    // each word goes with what it rests on
    put(
        &folder.0.join(format!("{NAME}.sig")),
        b"-----BEGIN SSH SIGNATURE-----\nnothing\n-----END SSH SIGNATURE-----\n",
    );
    let (code, said) = call(&folder, &[NAME]);
    assert!(code == Some(1) && said.contains("whether it is unaltered is not known"), "{said}");
    put(&folder.0.join("alone.pdf"), &std::fs::read(folder.0.join(NAME)).unwrap());
    let (code, said) = call(&folder, &["alone.pdf"]);
    assert_eq!(code, Some(1), "{said}");
    assert!(said.contains("no signature beside it: whether it is unaltered is not known."), "{said}");
    assert!(said.contains("It says of itself that it is round 1") && !said.contains("signed by"), "{said}");
    assert_eq!(call(&folder, &[]).0, Some(2), "nothing named");
    assert_eq!(call(&folder, &[NAME, "--folder", "."]).0, Some(2), "two things at once");
}

#[tokio::test]
async fn each_sheet_names_what_was_frozen_and_it_lies_inside_the_packet() {
    let house = House::new().await;
    let build = issued(&house).await;
    let folder = handed_out(&house, ROUND).await;
    let pdf = std::fs::read(folder.0.join(NAME)).unwrap();
    let round = house.store.rounds(build).await.unwrap().remove(0);
    paper::check(&pdf);
    let words = paper::words(&pdf);
    let pages: Vec<&str> = words.trim_end_matches('\u{c}').split('\u{c}').collect();
    let brief = format!("SHA-256: {}", short(round.contents_sha256.text()));
    assert!(pages.len() > 3 && pages.iter().all(|page| page.contains(&brief)), "{brief}: {words}");
    let plain = |page: &str| page.split_whitespace().collect::<String>();
    assert!(plain(pages[0]).contains(round.contents_sha256.text()), "{}", pages[0]);
    let facts = house.store.facts(build).await.unwrap();
    let contents = paper::attached(&pdf, "contents.json").unwrap();
    assert!(contents == round.contents.as_bytes() && Fingerprint::of(&contents) == round.contents_sha256);
    let list: serde_json::Value = serde_json::from_slice(&contents).unwrap();
    let head = list["log_head"].as_str().unwrap();
    assert!(plain(pages[pages.len() - 1]).contains(head), "{head}");
    let entry = house.store.log_of_build(build, 1_000).await.unwrap();
    assert!(entry.iter().any(|entry| entry.number == round.as_of), "{}", facts.as_of);
    let cage = house.browser("office").await.get("/builds/pine-coupe/cage.json").await.bytes;
    assert!(paper::attached(&pdf, "cage.json").unwrap() == cage);
    let numbers: serde_json::Value = serde_json::from_slice(&paper::attached(&pdf, "numbers.json").unwrap()).unwrap();
    assert!(!numbers["members"].as_array().unwrap().is_empty());
    // a draft holds none, so that it never reads as a round
    let draft = house.browser("office").await.get("/builds/pine-coupe/packet.pdf").await.bytes;
    paper::check(&draft);
    assert!(paper::attached(&draft, "contents.json").is_err());
}

#[tokio::test]
async fn the_key_is_its_owners_alone_in_no_backup_and_told_when_it_is_another_one() {
    let house = House::new().await;
    let office = house.browser("office").await;
    assert!(
        office
            .get("/shop/health")
            .await
            .text
            .contains("None yet: it is made when the shop is next served, or the first round is issued.")
    );
    let build = issued(&house).await;
    let place = house.folder.0.join("keys/packets_ed25519");
    let private = std::fs::read_to_string(&place).unwrap();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        assert_eq!(std::fs::metadata(&place).unwrap().permissions().mode() & 0o777, 0o600);
    }
    let backups = Folder::new();
    actions::shop::backup::take(&house.folder.0, &backups.0, &house.clock, &|_, _| {}).await.unwrap();
    let secret = private.lines().nth(2).unwrap().as_bytes();
    let mut folders = vec![backups.0.clone()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if entry.is_dir() {
                folders.push(entry);
                continue;
            }
            let bytes = std::fs::read(&entry).unwrap();
            assert!(!bytes.windows(secret.len()).any(|part| part == secret), "{}", entry.display());
        }
    }
    let first = fingerprint(&house.store.signing_keys().await.unwrap()[0].public);
    let health = office.get("/shop/health").await.text;
    assert!(health.contains(&first) && !health.contains("It changed"), "{health}");
    let logged = house.store.log(500).await.unwrap();
    let made = |words: &str| logged.iter().any(|entry| entry.what.contains(words));
    assert!(made(&format!("the shop's key is {first}.")), "{logged:?}");
    // another key in its place, as whoever has the folder could put it
    let (_folder, private, public) = other_key();
    let second = fingerprint(&public);
    put(&place, private.as_bytes());
    let health = office.get("/shop/health").await.text;
    assert!(health.contains(&format!("is {second}, and not the one that was recorded last, {first}")), "{health}");
    actions::shop::signing::notice(&house.office).await.unwrap();
    actions::shop::signing::notice(&house.office).await.unwrap();
    let logged = house.store.log(500).await.unwrap();
    let told = format!("The key that packets are signed by is another one: {second}, in place of {first}.");
    assert_eq!(logged.iter().filter(|entry| entry.what == told).count(), 1, "{logged:?}");
    let health = office.get("/shop/health").await.text;
    assert!(health.contains(&format!("It changed: {second} in place of {first}")), "{health}");
    // the round from before stays signed by the first; the next one by the second
    assert!(by_openssh(&handed_out(&house, ROUND).await));
    let again = office.post("/builds/pine-coupe/rounds", &[("key", "another")]).await;
    assert_eq!(again.status, StatusCode::SEE_OTHER, "{}", again.text);
    let signatures = house.store.round_signatures(build).await.unwrap();
    let by: Vec<String> = signatures.iter().map(|one| fingerprint(&one.public)).collect();
    assert!(by.len() == 2 && by.contains(&first) && by.contains(&second), "{by:?}");
}

#[tokio::test]
async fn a_round_from_before_packets_were_signed_says_that_it_has_no_signature() {
    let house = House::new().await;
    let build = issued(&house).await;
    let records = format!("sqlite://{}", house.folder.0.join("tackbook.db").display());
    let mut records = sqlx::SqliteConnection::connect(&records).await.unwrap();
    sqlx::raw_sql("DROP TRIGGER round_signatures_stay; DELETE FROM round_signatures")
        .execute(&mut records)
        .await
        .unwrap();
    assert!(house.store.round_signatures(build).await.unwrap().is_empty());
    let office = house.browser("office").await;
    let sheet = office.get("/builds/pine-coupe/rounds").await.text;
    assert!(sheet.contains("Issued before packets were signed: it has no signature."), "{sheet}");
    assert!(!sheet.contains("Signed by the shop") && !sheet.contains("packet.pdf.sig"), "{sheet}");
    for address in ["packet.pdf.sig", "allowed_signers"] {
        assert_eq!(office.get(&format!("{ROUND}/{address}")).await.status, StatusCode::NOT_FOUND);
    }
    assert_eq!(office.get(&format!("{ROUND}/packet.pdf")).await.status, StatusCode::OK);
}

#[tokio::test]
async fn a_signature_that_is_not_one_of_its_packet_is_found_by_checking_the_folder() {
    let house = House::new().await;
    issued(&house).await;
    let records = format!("sqlite://{}", house.folder.0.join("tackbook.db").display());
    let mut records = sqlx::SqliteConnection::connect(&records).await.unwrap();
    let (folder, _, public) = other_key();
    put(&folder.0.join("x"), b"x");
    let mut program = Command::new("ssh-keygen");
    let signed = program.args(["-q", "-Y", "sign", "-f", "key", "-n", "file", "x"]).current_dir(&folder.0).status();
    assert!(signed.unwrap().success() && !public.is_empty());
    let theirs = std::fs::read_to_string(folder.0.join("x.sig")).unwrap();
    sqlx::raw_sql("DROP TRIGGER round_signatures_keep").execute(&mut records).await.unwrap();
    sqlx::query("UPDATE round_signatures SET signature = $1").bind(theirs).execute(&mut records).await.unwrap();
    let mut bad = actions::shop::health::verify(&house.store).await.unwrap().bad;
    bad.retain(|bad| !bad.starts_with("A record in "));
    assert_eq!(bad, ["The signature of round 1 of Pine Coupe is not one of its packet."]);
}

/// A round that was taken away with everything that told of it leaves its packet, which says where the log stood.
#[tokio::test]
async fn a_packet_tells_of_a_log_that_was_cut_short_behind_it() {
    let house = House::new().await;
    issued(&house).await;
    let records = format!("sqlite://{}", house.folder.0.join("tackbook.db").display());
    let mut records = sqlx::SqliteConnection::connect(&records).await.unwrap();
    assert!(actions::shop::health::verify(&house.store).await.unwrap().good());
    sqlx::raw_sql(
        "DROP TRIGGER log_stays; DROP TRIGGER log_rows_stay; PRAGMA foreign_keys = OFF;
         CREATE TEMP TABLE last AS SELECT as_of FROM rounds;
         DELETE FROM log_rows WHERE entry >= (SELECT as_of FROM last);
         DELETE FROM log WHERE number >= (SELECT as_of FROM last)",
    )
    .execute(&mut records)
    .await
    .unwrap();
    let bad = actions::shop::health::verify(&house.store).await.unwrap().bad;
    let told = |bad: &String| bad.contains("round 1 of pine-coupe, was made when the log had an entry");
    assert!(bad.iter().any(told), "{bad:?}");
}
