//! A phone that trusts the shop's certificate: what browsers keep back on plain http is there.

use std::process::Command;

use rcgen::{KeyPair, PublicKeyData as _};
use serde_json::json;
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::folder::Folder;
use crate::page::Page;
use crate::phone::{PHONE, jpeg};
use crate::queue::{WALK, assert_arrived_once, until_empty};

/// Bytes in base64 (RFC 4648, 4).
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let four = |three: &[u8]| -> String {
        let bits = three.iter().fold(0_usize, |bits, byte| bits << 8 | usize::from(*byte)) << (8 * (3 - three.len()));
        let letter = |at| if at <= three.len() { char::from(LETTERS[bits >> (18 - 6 * at) & 63]) } else { '=' };
        (0..4).map(letter).collect()
    };
    bytes.chunks(3).map(four).collect()
}

#[test]
fn a_phone_that_trusts_the_shop_keeps_the_walk_and_its_cookie_stays_on_https() {
    let folder = Folder::new();
    let made = Command::new(env!("CARGO_BIN_EXE_tackbook")).args(["certificate", "--folder"]).arg(&folder.0).output();
    assert!(made.unwrap().status.success());
    let keys: serde_json::Value =
        serde_json::from_slice(&std::fs::read(folder.0.join("keys/certificate.json")).unwrap()).unwrap();
    let key = KeyPair::from_pem(keys["key"].as_str().unwrap()).unwrap().subject_public_key_info();
    let sha256 = Fingerprint::of(&key);
    let raw: Vec<u8> =
        (0..64).step_by(2).map(|at| u8::from_str_radix(&sha256.text()[at..at + 2], 16).unwrap()).collect();
    let (mut demo, browser) = (Demo::serve_in(folder), Chromium::trusting(&base64(&raw)));
    assert!(demo.address().starts_with("https://"), "{}", demo.address());

    // no password on the phone: the office's screen shows a code, and the phone reads it
    let desk = Page::open(&browser, demo.address(), (1440, 900), false);
    let (name, password) = demo.sign_in("office");
    desk.sign_in(name, password);
    desk.go("/people");
    desk.eval("window.leaving = true; [...document.querySelectorAll('td a')].find((a) => a.innerText === 'fabricator').click()");
    desk.until("!window.leaving && document.readyState === 'complete'");
    desk.press("form[action$='/pair'] button");
    desk.fits();
    desk.keep("desk-pair");
    let read = desk.text("document.querySelector('figure.code figcaption').innerText");
    let phone = Page::in_profile(&browser, demo.address(), PHONE);
    phone.go(read.strip_prefix(demo.address()).unwrap());
    phone.fits();
    phone.keep("phone-pair");
    phone.press("main button.main");
    phone.until("/fabricator, fabricator/.test(document.querySelector('footer').innerText)");
    phone.eval("window.leaving = true; document.querySelector('footer a[href^=\"/people/\"]').click()");
    phone.until("!window.leaving && document.readyState === 'complete'");
    phone.fits();
    phone.keep("phone-person");
    phone.go(WALK);
    assert_eq!(phone.eval("isSecureContext"), true);
    phone.until("navigator.serviceWorker.controller");
    let cookies = phone.call("Network.getCookies", &json!({}))["cookies"].clone();
    let cookie = cookies.as_array().unwrap().iter().find(|one| one["name"] == "__Host-tackbook").unwrap();
    assert_eq!((&cookie["secure"], &cookie["httpOnly"]), (&json!(true), &json!(true)), "{cookies}");
    let file = jpeg(browser.folder(), 130);
    let shot = "document.querySelector('form.take')?.dataset.shot";
    let asked = phone.text(shot);
    phone.give("form.take input[capture]", &file);
    // the walk goes on by itself: leaving while it does crosses its own way
    phone.until(&format!("document.readyState === 'complete' && {shot} && {shot} !== {asked:?}"));
    until_empty(&phone);
    phone.go("/phone");
    phone.until("document.querySelector('[data-can=offline]').innerText === 'yes'");
    phone.assert_no_errors();

    // plain http at the same port, where nobody is signed in: the way to trust the shop
    let plain = demo.address().replace("https:", "http:");
    let other = Page::open(&browser, &plain, PHONE, true);
    other.go("/trust");
    other.fits();
    other.keep("phone-trust");
    let desk = Page::open(&browser, &plain, (1440, 900), false);
    desk.go("/trust");
    desk.fits();
    desk.keep("desk-trust");
    other.go(WALK);
    assert_eq!(other.text("location.pathname"), "/sign-in");
    other.assert_no_errors();
    assert_arrived_once(&mut demo, &[file]);
}
