//! The mail that a typed-in reply was typed from: taken in with a form, and given out as the file that came.

use axum::extract::{Form as Posted, FromRequest, Multipart, Path, Request};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use crate::actions::ActionError;
use crate::actions::recorded::rounds::mails;
use crate::domain::recorded::rounds::mails::{NewMail, too_large};
use crate::domain::recorded::rounds::{Reply, Round};
use crate::domain::shop::people::{Deed, may};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::limits;
use crate::web::app::App;
use crate::web::form::{Form, Pairs};
use crate::web::gate::{Seen, SeenRounds};
use crate::web::page::in_address;
use crate::web::problem::Problem;

/// The field of the file.
pub(super) const MAIL: &str = "mail";
/// The field that says to which reply a form attaches; empty where it comes with a new reply.
pub(super) const OF: &str = "mail_of";
/// Most bytes that a form with a file may have: what is too large is read to its end, so that the browser sees the answer.
pub(super) const MOST: usize = 64 << 20;
/// Longest name of a file that is kept, in characters; the end of a longer one says what it is.
const LONGEST_NAME: usize = 120;

/// A form that may bring a file.
#[derive(Debug, Default)]
pub(super) struct Sent {
    /// What was typed.
    pub(super) pairs: Pairs,
    /// The file, or why it is not taken; none where none was chosen.
    pub(super) mail: Option<Result<NewMail, String>>,
}

impl FromRequest<App> for Sent {
    type Rejection = Problem;

    async fn from_request(request: Request, app: &App) -> Result<Self, Problem> {
        let kind = request.headers().get(header::CONTENT_TYPE).map_or(&[][..], |kind| kind.as_bytes());
        if !kind.starts_with(b"multipart/form-data") {
            let Posted(pairs) = Posted::from_request(request, app).await.map_err(|_| Problem::NotFound)?;
            return Ok(Self { pairs, mail: None });
        }
        let mut form = Multipart::from_request(request, app).await.map_err(|_| Problem::NotFound)?;
        let (mut sent, mut typed) = (Self::default(), 0);
        loop {
            let field = match form.next_field().await {
                Ok(Some(field)) => field,
                Ok(None) => return Ok(sent),
                Err(_) => return Ok(sent.cut_off()),
            };
            let name = field.name().unwrap_or_default().to_owned();
            let file = field.file_name().map(own_name);
            let most = if name == MAIL { limits::MAIL_BYTES } else { (limits::FORM_BYTES - typed) as u64 };
            let Ok((bytes, size)) = read(field, most).await else { return Ok(sent.cut_off()) };
            match file {
                Some(file) if name == MAIL && size > most => sent.mail = Some(Err(format!("{file}: {}", too_large()))),
                Some(file) if name == MAIL && !(file.is_empty() && bytes.is_empty()) => {
                    sent.mail = Some(Ok(NewMail { name: file, bytes }));
                }
                None if size <= most => {
                    typed += bytes.len();
                    sent.pairs.push((name, String::from_utf8_lossy(&bytes).into_owned()));
                }
                None => return Err(Problem::NotFound),
                Some(_) => {}
            }
        }
    }
}

impl Sent {
    fn cut_off(mut self) -> Self {
        self.mail = Some(Err(format!("The file was cut off on its way, or is far too large. {}", too_large())));
        self
    }
}

/// A field's bytes, and how many came: beyond `most` they are read and forgotten.
async fn read(mut field: axum::extract::multipart::Field<'_>, most: u64) -> Result<(Vec<u8>, u64), ()> {
    let (mut bytes, mut size) = (Vec::new(), 0);
    while let Some(chunk) = field.chunk().await.map_err(|_| ())? {
        size += chunk.len() as u64;
        if size <= most {
            bytes.extend_from_slice(&chunk);
        } else {
            bytes = Vec::new();
        }
    }
    Ok((bytes, size))
}

/// A file's own name, without the folders it lay in; of a long one its end, which says what it is.
fn own_name(name: &str) -> String {
    let own = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let own: Vec<char> = own.chars().filter(|letter| !letter.is_control()).collect();
    own.iter().skip(own.len().saturating_sub(LONGEST_NAME)).collect()
}

/// Attaches a mail to a reply that is there.
pub(super) async fn attach(
    SeenRounds(seen): SeenRounds,
    Path((_, round, reply)): Path<(String, String, String)>,
    sent: Sent,
) -> Result<Response, Problem> {
    let seen = seen.who_may(Deed::Reply)?;
    of_round(&seen, &round, &reply)?;
    let mut form = Form::of(seen.who.units, vec![(OF.to_owned(), reply.clone())]);
    match sent.mail {
        None => form.fault(MAIL, "Choose the file first."),
        Some(Err(why)) => form.fault(MAIL, why),
        Some(Ok(new)) => match mails::attach(&seen.who.ctx, seen.build(), &reply, new).await {
            Ok(_) => return Ok(Redirect::to(&seen.address(&format!("/rounds#reply-{reply}"))).into_response()),
            Err(ActionError::Refused(faults)) => form.refuse(faults),
            Err(other) => return Err(other.into()),
        },
    }
    super::sheet(&seen, StatusCode::UNPROCESSABLE_ENTITY, &form).await
}

/// The reply of an address.
fn of_round<'s>(seen: &'s Seen, round: &str, reply: &str) -> Result<&'s Reply, Problem> {
    let round = seen.facts.rounds.iter().find(|one| one.number.to_string() == round).ok_or(Problem::NotFound)?;
    let own = |one: &&Reply| one.round == round.id && one.id == reply;
    seen.facts.replies.iter().find(own).ok_or(Problem::NotFound)
}

/// A mail as the file that came: to be kept, never shown as a page of ours.
pub(super) async fn file(
    SeenRounds(seen): SeenRounds,
    Path((_, round, reply, sha256)): Path<(String, String, String, String)>,
) -> Result<Response, Problem> {
    let reply = of_round(&seen, &round, &reply)?;
    let sha256: Fingerprint = sha256.parse().map_err(|_| Problem::NotFound)?;
    let (mail, bytes) = mails::mail(&seen.who.ctx, seen.build(), &reply.id, &sha256).await?;
    let plain = |letter: char| if letter.is_ascii_alphanumeric() || "._-".contains(letter) { letter } else { '_' };
    let ascii: String = mail.name.chars().map(plain).collect();
    // RFC 6266, 4.3: the plain name for whoever does not read the other
    let kept_as = format!("attachment; filename=\"{ascii}\"; filename*=UTF-8''{}", in_address(&mail.name));
    let headers = [
        (header::CONTENT_TYPE, "application/octet-stream".to_owned()),
        (header::CONTENT_DISPOSITION, kept_as),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff".to_owned()),
        (header::CACHE_CONTROL, "private, no-store".to_owned()),
    ];
    Ok((headers, bytes).into_response())
}

/// What a reply was typed from, and the form for one more.
pub(super) struct Mails {
    /// Where each is, and it in a line.
    pub(super) files: Vec<(String, String)>,
    /// Where one more goes; empty where none does.
    pub(super) to: String,
    /// What is wrong with one that was sent.
    pub(super) why: String,
}

impl Mails {
    /// Of a reply to a round.
    pub(super) fn of(seen: &Seen, round: &Round, reply: &Reply, form: &Form) -> Self {
        let base = seen.address(&format!("/rounds/{}/replies/{}/mails", round.number, reply.id));
        let clock = &seen.who.ctx.clock;
        let line = |mail: &crate::domain::recorded::rounds::mails::Mail| {
            (format!("{base}/{}", mail.sha256), mail.describe(&clock.day_of(mail.attached).to_string()))
        };
        let more = reply.typed_in() && may(seen.who.ctx.by.role, Deed::Reply);
        let own = form.text(OF) == reply.id;
        Self {
            files: reply.mails.iter().map(line).collect(),
            to: if more { base.clone() } else { String::new() },
            why: if own { form.field(MAIL, "").fault.unwrap_or_default() } else { String::new() },
        }
    }
}
