//! A phone whose network goes, and one on plain http: every photograph arrives whole all the same.

use std::io::Write as _;
use std::path::PathBuf;

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::{PHONE, jpeg};

pub(crate) const ALL_KEPT: &str = "/All photographs of this phone are kept/.test(document.body.innerText)";

/// A photograph of over 20 MB: what phones put after a picture's end is kept with it.
pub(crate) fn large(browser: &Chromium, seed: u32) -> PathBuf {
    let file = jpeg(browser.folder(), seed);
    let mut open = std::fs::File::options().append(true).open(&file).unwrap();
    open.write_all(&vec![u8::try_from(seed).unwrap(); 20 << 20]).unwrap();
    file
}

fn walking<'b>(demo: &Demo, browser: &'b Chromium) -> Page<'b> {
    let phone = Page::open(browser, demo.address(), PHONE, true);
    let (name, password) = demo.sign_in("fabricator");
    phone.sign_in(name, password);
    phone
}

#[test]
fn a_photo_cut_off_by_the_network_goes_on_where_it_stopped() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = walking(&demo, &browser);
    phone.go("/builds/teasel-coupe/walk");
    phone.network(Some(4_000_000));
    phone.give("form.take input[name=photo]", &large(&browser, 21));
    phone.until("/sending, [1-9]/.test(document.querySelector('.unsent').textContent)");
    phone.network(Some(0));
    phone.until("/1 on this phone, waiting/.test(document.querySelector('.unsent').innerText)");
    phone.keep("phone-cut-off");
    phone.network(None);
    phone.until(ALL_KEPT);
    assert_eq!(phone.eval("document.querySelectorAll('.unsent li').length"), 1);
}

#[test]
fn without_the_browsers_own_hash_the_photo_arrives_as_it_was() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = walking(&demo, &browser);
    // as on plain http under a name, where browsers keep it back
    phone.first("Object.defineProperty(Crypto.prototype, 'subtle', { get: () => undefined })");
    phone.go("/builds/teasel-coupe/walk");
    assert_eq!(phone.eval("crypto.subtle === undefined"), true);
    phone.give("form.take input[name=photo]", &jpeg(browser.folder(), 22));
    // the shop hashes what arrives: another hash would be refused
    phone.until(ALL_KEPT);
    phone.assert_no_errors();
}
