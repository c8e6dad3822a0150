//! Asking, answering, settling and reopening questions.

use serde_json::json;

use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::recorded::questions::{Answer, Question};
use crate::domain::shop::people::Deed;
use crate::domain::words::ids::{Balloon, BuildId, CaptureId, QuestionId};
use crate::domain::words::limits;

const ROOM: &str = "questions";

/// Asks a question of a build.
pub async fn ask(ctx: &Context, build: BuildId, about: Option<Balloon>, text: &str) -> Result<Question, ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(limits::words_faults("text", text))?;
    let mut question = Question {
        id: ctx.clock.new_id().into(),
        build,
        number: 0,
        about,
        text: text.trim().to_owned(),
        from_reply: false,
        condition: None,
        asked: ctx.clock.now(),
        by: ctx.by.name.clone(),
        settled: None,
        answers: Vec::new(),
    };
    let detail = json!({ "about": about, "text": question.text });
    let mut entry = ctx.entry(ROOM, build, String::new(), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.build(build).await?;
                question.number = write.next_question(build).await?;
                write.add_question(&question, None).await?;
                entry.what = format!("Q{} was asked.", question.number);
                Ok((question, Some(entry)))
            })
        })
        .await
}

/// Answers a question in words, with a photograph or without.
pub async fn answer(
    ctx: &Context,
    build: BuildId,
    question: QuestionId,
    text: &str,
    capture: Option<CaptureId>,
) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    refuse(limits::words_faults("text", text))?;
    let answer = Answer { text: text.trim().to_owned(), capture, given: ctx.clock.now(), by: ctx.by.name.clone() };
    let detail = json!({ "question": question, "text": answer.text, "capture": capture });
    let mut entry = ctx.entry(ROOM, build, String::new(), detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let asked = write.question(build, question).await?;
                if let Some(capture) = capture {
                    let photo = write.photo(capture).await?.filter(|photo| photo.build == build);
                    photo.ok_or(ActionError::NotFound("photo"))?;
                }
                write.add_answer(question, &answer).await?;
                entry.what = format!("Q{} was answered.", asked.number);
                Ok(((), Some(entry)))
            })
        })
        .await
}

/// Settles a question. One that came with a scrutineer's reply is settled only by who may record a reply.
pub async fn settle(ctx: &Context, build: BuildId, question: QuestionId) -> Result<(), ActionError> {
    set(ctx, build, question, true).await
}

/// Opens a settled question again.
pub async fn reopen(ctx: &Context, build: BuildId, question: QuestionId) -> Result<(), ActionError> {
    set(ctx, build, question, false).await
}

async fn set(ctx: &Context, build: BuildId, question: QuestionId, settle: bool) -> Result<(), ActionError> {
    ctx.allow(Deed::RecordWork)?;
    let may_reply = ctx.allow(Deed::Reply).is_ok();
    let at = ctx.clock.now();
    let mut entry = ctx.entry(ROOM, build, String::new(), json!({ "question": question }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                let asked = write.question(build, question).await?;
                if asked.settled.is_some() == settle {
                    return Ok(((), None));
                }
                if asked.from_reply && !may_reply {
                    return Err(ActionError::NotAllowed);
                }
                write.set_settled(question, settle.then_some(at)).await?;
                let done = if settle { "settled" } else { "opened again" };
                entry.what = format!("Q{} was {done}.", asked.number);
                Ok(((), Some(entry)))
            })
        })
        .await
}
