//! Every sheet of a build on a phone: nothing is wider than the page, and what is touched is large enough.

use crate::chromium::Chromium;
use crate::demo::Demo;
use crate::page::Page;
use crate::phone::PHONE;

/// The sheets of the shop, and those below a build.
const SHOP: &[&str] = &[
    "/",
    "/open",
    "/books",
    "/books/beside",
    "/dies",
    "/two-tubes?one=1.5+x+.095+in",
    "/people",
    "/shop/health",
    "/shop/looking",
    "/words",
    "/phone",
    "/trust",
    "/pair",
    "/builds/new",
    "/stock",
];
const BUILD: &[&str] = &[
    "",
    "/weigh-in",
    "/cage",
    "/cage/last",
    "/tube",
    "/bars",
    "/own-tubes",
    "/body",
    "/seats",
    "/gussets",
    "/sheets",
    "/cuts",
    "/lowering",
    "/seams",
    "/welds",
    "/welds/walk",
    "/stickers",
    "/log",
    "/hand-over",
    "/heat-input",
    "/rulings",
    "/car",
    "/verdicts",
    "/rounds",
    "/kit",
    "/measures",
    "/questions",
    "/photos",
    "/photos/days",
    "/photos/unplaced",
    "/walk",
    "/joints/J7",
    "/members/M1",
    "/gussets/G1",
    "/plates/P1",
];

/// Looked at, beside those that other tests keep.
const KEPT: &[&str] =
    &["/shop/health", "/builds/teasel-coupe/log", "/builds/teasel-coupe/weigh-in", "/builds/teasel-coupe/cuts"];

/// All of them.
pub(crate) fn sheets() -> impl Iterator<Item = String> {
    let build = BUILD.iter().map(|path| format!("/builds/teasel-coupe{path}"));
    SHOP.iter().map(|path| (*path).to_owned()).chain(build)
}

#[test]
fn every_sheet_fits_a_phone() {
    let (demo, browser) = (Demo::serve(), Chromium::start());
    let phone = Page::open(&browser, demo.address(), PHONE, true);
    let (name, password) = demo.sign_in("office");
    phone.sign_in(name, password);
    for path in sheets() {
        phone.go(&path);
        phone.fits();
        if KEPT.contains(&path.as_str()) {
            phone.keep(&format!("phone{}", path.replace('/', "-")));
        }
    }
    phone.assert_no_errors();
}
