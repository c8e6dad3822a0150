//! The mail that a typed-in reply was typed from: kept as it came, with the reply or later, and shown, given out, printed,
//! saved and checked like other evidence.

use axum::body::Body;
use axum::http::{StatusCode, header};
use tackbook::actions;
use tackbook::domain::recorded::rounds::Reply;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::BuildId;
use tackbook::store::vault::Item;

use crate::car_file::{ZIP, all_of, load, saved, thing, things};
use crate::damage::{gone, put};
use crate::folder::Folder;
use crate::house::{Answer, Browser, House};
use crate::kept::kept;
use crate::log::behind_its_back;
use crate::paper::words;
use crate::reviews::issued;

const REPLY: &str = "/builds/pine-coupe/rounds/1/reply";
const MAIL: &[u8] = b"From: scrutineer\r\nSubject: your round\r\n\r\n<script>alert(1)</script> Not yet.\r\n";

/// Sends a form with a file in it, the file last.
async fn send(
    house: &House,
    browser: &Browser<'_>,
    to: &str,
    pairs: &[(&str, &str)],
    (name, bytes): (&str, &[u8]),
) -> Answer {
    let mut body = Vec::new();
    for (name, value) in pairs {
        body.extend(
            format!("--part\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n").into_bytes(),
        );
    }
    let file = format!("--part\r\nContent-Disposition: form-data; name=\"mail\"; filename=\"{name}\"\r\n\r\n");
    body.extend(file.into_bytes());
    body.extend_from_slice(bytes);
    body.extend_from_slice(b"\r\n--part--\r\n");
    let request = browser.request("POST", to).header("sec-fetch-site", "same-origin");
    let request = request.header(header::CONTENT_TYPE, "multipart/form-data; boundary=part");
    house.ask(request.body(Body::from(body)).unwrap()).await
}

async fn replies(house: &House, build: BuildId) -> Vec<Reply> {
    house.store.replies(build).await.unwrap()
}

async fn sha256(house: &House, build: BuildId) -> String {
    house.store.rounds(build).await.unwrap().remove(0).packet_sha256.text().to_owned()
}

/// A shop in which a reply came with a mail; the reply, and where its mails are.
async fn answered() -> (House, BuildId, String) {
    let house = House::new().await;
    let build = issued(&house).await;
    let packet = sha256(&house, build).await;
    let pairs = [
        ("packet_sha256", packet.as_str()),
        ("decision", "not yet"),
        ("given_by", "scrutineer A"),
        ("came", "e-mail"),
        ("words", "Not yet."),
    ];
    let sent = send(&house, &house.browser("office").await, REPLY, &pairs, ("answer.eml", MAIL)).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    let reply = replies(&house, build).await.remove(0).id;
    (house, build, format!("/builds/pine-coupe/rounds/1/replies/{reply}/mails"))
}

#[tokio::test]
async fn a_mail_goes_with_the_reply_that_is_typed_from_it_and_comes_out_as_it_came() {
    let (house, build, to) = answered().await;
    let name = Fingerprint::of(MAIL);
    let reply = replies(&house, build).await.remove(0);
    let of =
        |mail: &tackbook::domain::recorded::rounds::mails::Mail| (mail.name.clone(), mail.size, mail.sha256.clone());
    assert_eq!(
        reply.mails.iter().map(of).collect::<Vec<_>>(),
        [("answer.eml".to_owned(), MAIL.len() as u64, name.clone())]
    );
    assert_eq!(kept(&house.store, Item::Mail(name.clone())).await.unwrap(), MAIL);
    // the log says it in the very entry of the reply
    let log = house.store.log_of_build(build, 1).await.unwrap();
    assert!(log[0].what.contains("was recorded: not yet.") && log[0].what.contains(name.text()), "{}", log[0].what);
    // at the reply, for everybody who sees rounds
    for role in ["office", "fabricator", "scrutineer"] {
        let browser = house.browser(role).await;
        let sheet = browser.get("/builds/pine-coupe/rounds").await.text;
        assert!(sheet.contains("“answer.eml”") && sheet.contains(name.text()), "{role}: {sheet}");
        let file = browser.get(&format!("{to}/{name}")).await;
        assert_eq!((file.status, file.bytes.as_slice()), (StatusCode::OK, MAIL));
        assert_eq!(file.header("content-type"), "application/octet-stream");
        assert_eq!(file.header("x-content-type-options"), "nosniff");
        assert!(file.header("content-disposition").starts_with("attachment; filename=\"answer.eml\""));
    }
    assert_eq!(house.stranger().get(&format!("{to}/{name}")).await.status, StatusCode::SEE_OTHER);
    // the next packet tells of it, the one before did not
    let office = house.browser("office").await;
    let before = words(&office.get("/builds/pine-coupe/rounds/1/packet.pdf").await.bytes);
    office.post("/builds/pine-coupe/rounds", &[("key", "two")]).await;
    let after = words(&office.get("/builds/pine-coupe/rounds/2/packet.pdf").await.bytes);
    assert!(!before.contains("came with the replies") && after.contains("What came with the replies: 1"), "{after}");
    assert!(
        after.contains(&format!("“answer.eml”, {} bytes", MAIL.len()))
            && after.contains(name.text().get(..16).unwrap()),
        "{after}"
    );
}

#[tokio::test]
async fn mails_are_attached_later_once_each_and_none_is_ever_taken_away() {
    let (house, build, to) = answered().await;
    let office = house.browser("office").await;
    let letter = ("Brief ä.pdf", b"%PDF-1.7 a letter".as_slice());
    for _ in 0..2 {
        let sent = send(&house, &office, &to, &[], letter).await;
        assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    }
    assert_eq!(replies(&house, build).await[0].mails.len(), 2, "the same bytes are attached once");
    let log = house.store.log_of_build(build, 10).await.unwrap();
    let told =
        log.iter().filter(|entry| entry.what.contains("A mail was attached to the reply of scrutineer A to round 1"));
    assert_eq!(told.count(), 1);
    let file = office.get(&format!("{to}/{}", Fingerprint::of(letter.1))).await;
    let kept_as = "attachment; filename=\"Brief__.pdf\"; filename*=UTF-8''Brief%20%C3%A4.pdf";
    assert_eq!(file.header("content-disposition"), kept_as);
    for number in 2..20_u8 {
        let sent = send(&house, &office, &to, &[], ("more.txt", &[number])).await;
        assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.text);
    }
    let sent = send(&house, &office, &to, &[], ("more.txt", b"one more")).await;
    assert!(sent.status == StatusCode::UNPROCESSABLE_ENTITY && sent.text.contains("at most 20 mails"), "{}", sent.text);
    assert_eq!(replies(&house, build).await[0].mails.len(), 20);
    let mut records = behind_its_back(&house).await;
    for altering in ["DELETE FROM reply_mails", "UPDATE reply_mails SET name = 'x'"] {
        assert!(sqlx::query(altering).execute(&mut records).await.is_err(), "{altering}");
    }
}

#[tokio::test]
async fn what_is_no_mail_is_refused_where_it_was_chosen_and_nothing_typed_is_lost() {
    let (house, build, to) = answered().await;
    let office = house.browser("office").await;
    let large = vec![b'x'; 10_000_001];
    let before = all_of(&house).await;
    for (file, why) in [
        (("answer.eml", b"".as_slice()), "This file is empty."),
        (("answer.html", b"<p>".as_slice()), "whose name ends in .eml"),
        (("answer", b"x".as_slice()), "whose name ends in .eml"),
        (("answer.pdf", b"no PDF".as_slice()), "is called .pdf and is none"),
        (("picture.jpg", b"\x89PNG".as_slice()), "is called .jpg and is none"),
        (("large.txt", large.as_slice()), "A mail has at most 10 MB."),
        (("", b"".as_slice()), "Choose the file first."),
    ] {
        let sent = send(&house, &office, &to, &[], file).await;
        assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY, "{why}");
        assert!(sent.text.contains(why), "{why}: {}", sent.text);
    }
    assert_eq!(office.post(&to, &[]).await.status, StatusCode::UNPROCESSABLE_ENTITY, "a form without a file");
    // with a reply: what was typed stands, and the file is asked for again
    let packet = sha256(&house, build).await;
    let pairs = [("packet_sha256", packet.as_str()), ("given_by", "scrutineer A"), ("words", "as <typed>")];
    let sent = send(&house, &office, REPLY, &pairs, ("answer.eml", MAIL)).await;
    assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in ["Choose what the scrutineer decided.", "as &#60;typed&#62;", "Choose the file once more."] {
        assert!(sent.text.contains(words), "{words}: {}", sent.text);
    }
    let pairs = [pairs.as_slice(), &[("decision", "not yet")]].concat();
    let sent = send(&house, &office, REPLY, &pairs, ("large.eml", &large)).await;
    assert!(sent.text.contains("large.eml: A mail has at most 10 MB.") && sent.text.contains("as &#60;typed&#62;"));
    assert_eq!(replies(&house, build).await.len(), 1);
    // another round, another reply, another build
    for not in ["rounds/2/replies", "rounds/1/replies/none"] {
        let to = to.replacen("rounds/1/replies", not, 1);
        assert_eq!(send(&house, &office, &to, &[], ("a.txt", b"x")).await.status, StatusCode::NOT_FOUND, "{to}");
    }
    let fabricator = house.browser("fabricator").await;
    assert_eq!(send(&house, &fabricator, &to, &[], ("a.txt", b"x")).await.status, StatusCode::NOT_FOUND);
    assert_eq!(all_of(&house).await, before);
}

#[tokio::test]
async fn a_reply_that_was_signed_here_was_typed_from_nothing() {
    let (house, build, _) = answered().await;
    let scrutineer = house.browser("scrutineer").await;
    let packet = sha256(&house, build).await;
    let pairs =
        [("packet_sha256", packet.as_str()), ("decision", "not yet"), ("given_by", "scrutineer A"), ("words", "No.")];
    let sent = send(&house, &scrutineer, REPLY, &pairs, ("answer.eml", MAIL)).await;
    assert!(sent.status == StatusCode::UNPROCESSABLE_ENTITY && sent.text.contains("no mail that it was typed from"));
    assert_eq!(scrutineer.post(REPLY, &pairs).await.status, StatusCode::SEE_OTHER);
    let reply = replies(&house, build).await.remove(1).id;
    let to = format!("/builds/pine-coupe/rounds/1/replies/{reply}/mails");
    let sent = send(&house, &house.browser("office").await, &to, &[], ("answer.eml", MAIL)).await;
    assert_eq!(sent.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(replies(&house, build).await[1].mails.is_empty());
    let sheet = house.browser("office").await.get("/builds/pine-coupe/rounds").await.text;
    assert_eq!(sheet.matches("Attach the mail it was typed from").count(), 1, "{sheet}");
}

#[tokio::test]
async fn a_mail_goes_with_the_car_and_the_backup_and_one_that_is_not_what_came_is_told() {
    let (house, build, to) = answered().await;
    let name = Fingerprint::of(MAIL);
    let bytes = saved(&house, ZIP).await;
    let inside = things(&bytes);
    assert_eq!(thing(&inside, &format!("mails/{name}")), MAIL);
    let index = String::from_utf8(thing(&inside, "index.html").to_vec()).unwrap();
    assert!(index.contains(&format!("mails/{name}")) && index.contains("“answer.eml”"));
    let there = House::new().await;
    assert_eq!(load(&there, &bytes).await.status, StatusCode::SEE_OTHER);
    assert!(saved(&there, ZIP).await == bytes, "saved again, it is the same file");
    assert_eq!(kept(&there.store, Item::Mail(name.clone())).await.unwrap(), MAIL);
    assert_eq!(replies(&there, build).await, replies(&house, build).await);
    let report = actions::shop::health::verify(&there.store).await.unwrap();
    assert!(report.good() && report.mails == 1 && report.packets == 1, "{:?}", report.bad);
    // a backup has it
    let (backups, restored) = (Folder::new(), Folder::new());
    actions::shop::backup::take(&house.folder.0, &backups.0, &house.clock, &|_, _| {}).await.unwrap();
    let back = actions::shop::backup::restore(&backups.0, None, &restored.0, &|_, _| {}).await.unwrap();
    assert!(back.report.good() && back.report.mails == 1, "{:?}", back.report.bad);
    // altered, then gone: nobody is given it, it is told, and the car's file calls it lost
    let file = house.folder.0.join(Item::Mail(name.clone()).path());
    put(&file, b"Released.");
    let office = house.browser("office").await;
    let report = actions::shop::health::verify(&house.store).await.unwrap();
    assert!(report.bad.iter().any(|bad| bad.contains("“answer.eml”") && bad.contains("is not the file that was kept")));
    let got = office.get(&format!("{to}/{name}")).await;
    assert!(got.status != StatusCode::OK && !got.text.contains("Released."), "{}", got.text);
    gone(&file);
    let report = actions::shop::health::verify(&house.store).await.unwrap();
    assert!(
        report.bad.iter().any(|bad| bad.contains("“answer.eml”") && bad.contains("is missing")),
        "{:?}",
        report.bad
    );
    assert_ne!(office.get(&format!("{to}/{name}")).await.status, StatusCode::OK);
    let inside = things(&saved(&house, ZIP).await);
    assert!(!inside.iter().any(|(path, _)| path.starts_with("mails/")));
    let index = String::from_utf8(thing(&inside, "index.html").to_vec()).unwrap();
    assert!(index.contains("LOST: “answer.eml”") && !index.contains("Came with it"));
}
