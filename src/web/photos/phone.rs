//! What the phone that looks at it can do for photographs; the answers come from its own script.

use askama::Template;
use axum::http::StatusCode;
use axum::response::Response;

use crate::domain::shop::people::Deed;
use crate::web::gate::SignedIn;
use crate::web::page::{Sheet, show};
use crate::web::problem::Problem;

/// One line: the script's name for it, what it is, what it means when the answer is no.
struct Line {
    name: &'static str,
    what: &'static str,
    otherwise: &'static str,
}

/// The lines, the most important first.
const LINES: &[Line] = &[
    Line {
        name: "keeps",
        what: "Keeps photographs until the shop has them, through a closed page and a restart",
        otherwise: "Photographs go straight to the shop, one at a time. Private windows forget: use an ordinary one.",
    },
    Line {
        name: "https",
        what: "The page came over https, or from this very machine",
        otherwise: "On plain http browsers keep back what is marked * below. Photographs are kept and sent all the same. \
            How the phone comes to trust the shop is said at the end of this sheet.",
    },
    Line {
        name: "stays",
        what: "* The browser promised not to clear what it keeps",
        otherwise: "The browser may clear it when its disk is full, or after a week without a visit. Send on the same day. \
            On an iPhone, add this page to the home screen.",
    },
    Line {
        name: "hash",
        what: "* The browser's own SHA-256, which proves that a photograph arrived as it was",
        otherwise: "The page's script does it: the same answer, slower.",
    },
    Line {
        name: "locks",
        what: "* The browser sees to it that one tab sends at a time",
        otherwise: "The tabs ask each other: the same, a moment later.",
    },
    Line {
        name: "awake",
        what: "* The screen stays on while photographs are sent",
        otherwise: "Set the screen to stay on, or touch it now and then.",
    },
    Line {
        name: "offline",
        what: "* The walk opens without a network, once it was opened with one",
        otherwise: "A page that is open goes on, shot by shot; a closed one opens again when the network is back. \
            What is kept stays kept.",
    },
];

/// The phone's own sheet.
#[derive(Template)]
#[template(path = "photos/phone.html")]
struct Phone {
    sheet: Sheet,
    lines: &'static [Line],
}

/// What this phone can do.
pub(super) async fn sheet(who: SignedIn) -> Result<Response, Problem> {
    let who = who.who_may(Deed::RecordWork)?;
    show(StatusCode::OK, &Phone { sheet: Sheet::of_shop(&who, "What this phone can do"), lines: LINES })
}

/// The sheet that a phone shows while the shop cannot be reached. It has nothing of a build: what it shows of one, its
/// script draws from what the phone keeps.
#[derive(Template)]
#[template(path = "photos/offline.html")]
struct Offline {
    sheet: Sheet,
}

/// No connection to the shop.
pub(super) async fn offline() -> Result<Response, Problem> {
    // its script looks first who was signed in, and then begins what other sheets begin at once
    let sheet = Sheet { phone: false, ..Sheet::outside("No connection to the shop") };
    show(StatusCode::OK, &Offline { sheet })
}
