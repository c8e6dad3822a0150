//! One shop in a temporary folder with its clock held still, filled through actions only.

use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};
use sqlx::{Connection as _, SqliteConnection};
use tackbook::actions::recorded::photos::{Declaration, Finished, Look, Looked};
use tackbook::actions::recorded::rounds::Issue;
use tackbook::actions::{self, Context, Memory};
use tackbook::clock::Clock;
use tackbook::domain::derived::approving;
use tackbook::domain::derived::contents::Contents;
use tackbook::domain::derived::worked::Worked;
use tackbook::domain::recorded::photos::Received;
use tackbook::domain::recorded::rounds::NewReply;
use tackbook::domain::recorded::rounds::{Decision, Round};
use tackbook::domain::shop::builds::{Build, NewBuild};
use tackbook::domain::shop::looks::Seen;
use tackbook::domain::shop::people::Role;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::domain::words::ids::{BuildId, CaptureId};
use tackbook::store::Store;

use crate::folder::Folder;

/// When it is, unless a test moves the clock.
pub(crate) const NOON: &str = "2031-04-07T12:00:00Z";
/// The office's password in every test.
pub(crate) const PASSWORD: &str = "four green sticks";

/// A shop with an office person, until it is dropped.
pub(crate) struct House {
    /// The office.
    pub(crate) office: Context,
    /// The shop's folder.
    pub(crate) folder: Folder,
}

/// The clock of a moment after noon.
pub(crate) fn clock_after(seconds: i64) -> Clock {
    let noon: Timestamp = NOON.parse().unwrap();
    Clock::held_at(noon + SignedDuration::from_secs(seconds))
}

impl House {
    /// Opens a shop and lets the office in by the one-time link.
    pub(crate) async fn open() -> Self {
        let folder = Folder::new();
        let store = Store::open(&folder.0).await.unwrap();
        let clock = clock_after(0);
        let link = actions::shop::people::make_setup_link(&store, &clock).await.unwrap().unwrap();
        let signed_in = actions::shop::people::begin_shop(&store, &clock, &link, "Office", PASSWORD).await.unwrap();
        Self { office: Context { store, clock, by: signed_in.person, memory: Memory::default() }, folder }
    }

    /// Another person of the shop.
    pub(crate) async fn with(&self, name: &str, role: Role) -> Context {
        let by = actions::shop::people::add(&self.office, name, role, PASSWORD).await.unwrap();
        Context { by, ..self.office.clone() }
    }

    /// A build.
    pub(crate) async fn build(&self, name: &str) -> Build {
        let new = NewBuild { name: name.to_owned(), about: String::new(), book: None, event_day: None };
        actions::shop::builds::begin(&self.office, new).await.unwrap()
    }

    /// The office as it was, after the program ended and was started again.
    pub(crate) async fn restarted(self) -> Self {
        self.office.store.close().await;
        let store = Store::open(&self.folder.0).await.unwrap();
        Self { office: Context { store, ..self.office }, folder: self.folder }
    }

    /// A connection that goes round the store, for what no action can do.
    pub(crate) async fn behind_its_back(&self) -> SqliteConnection {
        SqliteConnection::connect(&format!("sqlite://{}", self.folder.0.join("tackbook.db").display())).await.unwrap()
    }

    /// A photograph kept whole.
    pub(crate) async fn photo(&self, build: BuildId, bytes: &[u8]) -> (CaptureId, Received) {
        let capture = new_capture();
        let told = declaration(capture, bytes);
        let sha256 = told.sha256.clone();
        actions::recorded::photos::declare(&self.office, build, told).await.unwrap();
        actions::recorded::photos::append(&self.office, build, &sha256, 0, bytes.to_vec()).await.unwrap();
        let Finished::Kept(receipt) =
            actions::recorded::photos::finish(&self.office, build, &sha256, &look()).await.unwrap()
        else {
            panic!("the photo was not kept")
        };
        (capture, receipt)
    }

    /// A round that shows some photographs, as the build stands.
    pub(crate) async fn round(&self, build: BuildId, number: u32, photos: &[Fingerprint]) -> Round {
        actions::recorded::rounds::issue(&self.office, build, self.issue(build, number, photos).await).await.unwrap()
    }

    /// A round made ready but not issued.
    pub(crate) async fn issue(&self, build: BuildId, number: u32, photos: &[Fingerprint]) -> Issue {
        let facts = self.office.store.facts(build).await.unwrap();
        let mut contents = Contents::of(&facts, &Worked::of(&facts, self.office.clock.today()), number);
        if !photos.is_empty() {
            let photos = photos.iter().map(|photo| photo.text().to_owned()).collect();
            contents.photos = std::iter::once(("C1".to_owned(), photos)).collect();
        }
        Issue {
            key: new_capture().to_string(),
            number,
            as_of: contents.as_of,
            contents: contents.canonical(),
            packet: format!("%PDF-1.7 round {number} of {build}").into_bytes(),
            reduced: String::new(),
        }
    }
}

/// A yes or a no to a round.
pub(crate) fn reply_to(round: &Round, decision: Decision) -> NewReply {
    NewReply {
        round: round.number,
        packet_sha256: round.packet_sha256.clone(),
        decision,
        released: Vec::new(),
        despite: None,
        words: "Seen.".to_owned(),
        given_by: "scrutineer".to_owned(),
        licence: String::new(),
        came: None,
        items: Vec::new(),
        conditions: Vec::new(),
        settles: Vec::new(),
        answers: None,
    }
}

/// A yes to a round, given by somebody who read what is still open in it.
pub(crate) async fn approved(ctx: &Context, build: BuildId, round: &Round) -> NewReply {
    let reply = reply_to(round, Decision::Approved);
    let open = actions::recorded::rounds::still_open(ctx, build, &reply).await.unwrap();
    let despite = (!open.is_empty()).then(|| (approving::fingerprint(&open), "Seen at the car.".to_owned()));
    NewReply { despite, ..reply }
}

/// A name as a phone gives one.
pub(crate) fn new_capture() -> CaptureId {
    uuid::Uuid::now_v7().into()
}

/// Bytes that begin as a JPEG does and differ by their seed.
pub(crate) fn jpeg(seed: u8, length: usize) -> Vec<u8> {
    let mut bytes = vec![0xff, 0xd8, 0xff, seed];
    bytes.extend((0..length.saturating_sub(4)).map(|at| u8::try_from((at * 31 + usize::from(seed)) % 251).unwrap()));
    bytes
}

/// What a phone says of some bytes.
pub(crate) fn declaration(capture: CaptureId, bytes: &[u8]) -> Declaration {
    Declaration {
        capture,
        sha256: Fingerprint::of(bytes),
        size: bytes.len() as u64,
        shot: "J1 front".to_owned(),
        note: String::new(),
        camera_size: None,
        taken_claim: None,
    }
}

/// A picture that nothing is to be said about.
fn seen() -> Seen {
    Seen { width: 4000, height: 3000, sharpness: 500.0, mean: 120.0, ..Seen::default() }
}

/// A look that sees the same in every photograph.
pub(crate) fn look() -> Look {
    Arc::new(|_| Box::pin(async { Looked { seen: Some(seen()), remarks: vec!["dark".to_owned()] } }))
}
