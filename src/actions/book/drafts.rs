//! Writing a rule book: beginning a draft, writing it rule by rule or as text, and releasing it.

use serde_json::{Value, json};

use super::rule_books;
use crate::actions::context::{Context, refuse};
use crate::actions::error::ActionError;
use crate::domain::book;
use crate::domain::book::forms::editing::{Editing, Pairs};
use crate::domain::book::{Place, RuleKind, faults_of};
use crate::domain::shop::people::Deed;
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{BookId, DraftId};
use crate::domain::words::limits;
use crate::store::book::drafts::Draft;
use crate::store::book::rule_books::Book;

const ROOM: &str = "books";

/// A rule as it was typed, for the draft as it stood at a version.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TypedRule {
    /// The draft.
    pub draft: DraftId,
    /// The version that was edited.
    pub version: i64,
    /// Every field of the rule.
    pub typed: Pairs,
    /// Whether it is kept though it has mistakes.
    pub with_mistakes: bool,
}

/// Begins a draft from an edition, under a new edition's name.
pub async fn begin(ctx: &Context, from: BookId, edition: &str) -> Result<Draft, ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(limits::title_faults("edition", edition))?;
    let book = ctx.store.book(from).await?.ok_or(ActionError::NotFound("rule book"))?;
    let toml = with_edition(&book.toml, edition).unwrap_or(book.toml);
    let what = format!("A draft was begun from the rule book {}, {}.", book.name, book.edition);
    keep(ctx, Some(from), toml, what).await
}

fn with_edition(toml: &str, edition: &str) -> Option<String> {
    let place = Place { kind: RuleKind::Head, at: 0 };
    let editing = Editing::of(toml)?;
    let mut typed = editing.typed(place)?;
    typed.retain(|pair| pair.0 != "edition");
    typed.push(("edition".to_owned(), edition.trim().to_owned()));
    editing.write(place, &typed)
}

/// Keeps a text as a draft, mistakes and all.
pub async fn keep_text(ctx: &Context, toml: String) -> Result<Draft, ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(size_faults(&toml))?;
    keep(ctx, None, toml, "A rule book's text was kept as a draft.".to_owned()).await
}

pub(super) async fn keep(
    ctx: &Context,
    from: Option<BookId>,
    toml: String,
    what: String,
) -> Result<Draft, ActionError> {
    let id: DraftId = ctx.clock.new_id().into();
    let (by, at) = (ctx.by.name.clone(), ctx.clock.now());
    let draft = Draft { id, begun_from: from, version: 1, toml, at, by, became: None, set_aside: None };
    let detail = json!({ "draft": id, "from": from, "sha256": Fingerprint::of(draft.toml.as_bytes()) });
    let entry = ctx.shop_entry(ROOM, what, detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                write.add_draft(&draft, &entry).await?;
                Ok((draft, Some(entry)))
            })
        })
        .await
}

/// Saves a draft's whole text over the version that was edited. A text with mistakes is refused with each of them by line,
/// or kept with them when that is asked for.
pub async fn save_text(
    ctx: &Context,
    (id, version): (DraftId, i64),
    toml: String,
    with_mistakes: bool,
) -> Result<i64, ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(size_faults(&toml))?;
    if let (false, Err(mistakes)) = (with_mistakes, book::read(&toml)) {
        return Err(rule_books::by_line(&toml, &mistakes));
    }
    save(ctx, (id, version), toml, ("The text of a draft was changed.".to_owned(), Value::Null)).await
}

/// Writes a rule where it stood. Where others saved meanwhile, it is written into theirs, unless they wrote this same rule.
/// Its mistakes are refused at their fields, or kept when that is asked for.
pub async fn write_rule(ctx: &Context, place: Place, rule: TypedRule) -> Result<i64, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let (draft, place) = standing(ctx, &rule, place).await?;
    let editing = edited(&draft)?;
    let before = editing.typed(place).ok_or(ActionError::NotFound("rule"))?;
    let toml = editing.write(place, &rule.typed).ok_or(ActionError::NotFound("rule"))?;
    if toml == draft.toml {
        return Ok(draft.version);
    }
    refuse_mistakes(&toml, place, &rule)?;
    let after = edited_text(&toml)?.typed(place).unwrap_or_default();
    let named = |pairs: &Pairs| pairs.iter().find(|pair| pair.0 == "id").map(|pair| pair.1.clone());
    let name = named(&before).unwrap_or_else(|| place.kind.word().to_owned());
    let what = format!("In a draft, {name} was changed.");
    let detail = json!({ "rule": place.to_string(), "was": but_for(&before, &after), "is": but_for(&after, &before) });
    save(ctx, (draft.id, draft.version), toml, (what, detail)).await
}

/// Adds a rule of a kind behind the others of it; gives its place.
pub async fn add_rule(ctx: &Context, kind: RuleKind, rule: TypedRule) -> Result<Place, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let draft = open(ctx, rule.draft).await?;
    let (toml, place) = edited(&draft)?.add(kind, &rule.typed).ok_or(ActionError::NotFound("kind of rule"))?;
    refuse_mistakes(&toml, place, &rule)?;
    let what = format!("In a draft, {} was added.", kind.word());
    let detail = json!({ "rule": place.to_string(), "is": rule.typed });
    save(ctx, (draft.id, draft.version), toml, (what, detail)).await?;
    Ok(place)
}

/// Takes a rule out of the draft as it stands at a version.
pub async fn take_out(ctx: &Context, id: DraftId, version: i64, place: Place) -> Result<i64, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let draft = open(ctx, id).await?;
    if draft.version != version {
        return Err(ActionError::Stale { now: draft.version });
    }
    let editing = edited(&draft)?;
    let was = editing.typed(place).ok_or(ActionError::NotFound("rule"))?;
    let toml = editing.take_out(place).ok_or(ActionError::NotFound("rule"))?;
    let what = format!("In a draft, {} was taken out.", place.kind.word());
    save(ctx, (id, version), toml, (what, json!({ "rule": place.to_string(), "was": was }))).await
}

/// Releases a draft as it stands at a version: it becomes an edition, and its text never changes again.
pub async fn put_in_use(ctx: &Context, id: DraftId, version: i64) -> Result<Book, ActionError> {
    ctx.allow(Deed::RunShop)?;
    let draft = open(ctx, id).await?;
    if draft.version != version {
        return Err(ActionError::Stale { now: draft.version });
    }
    let book = rule_books::read(ctx, draft.toml)?;
    let detail = json!({ "draft": id, "name": book.name, "edition": book.edition,
        "sha256": Fingerprint::of(book.toml.as_bytes()) });
    let what = format!("The rule book {}, {}, was released.", book.name, book.edition);
    let entry = ctx.shop_entry(ROOM, what, detail);
    let added = ctx
        .store
        .change(move |write| {
            Box::pin(async move {
                let now = write.draft(id).await?;
                refuse_closed(&now)?;
                if now.version != version {
                    return Err(ActionError::Stale { now: now.version });
                }
                write.add_book(&book).await?;
                write.draft_became(id, book.id).await?;
                Ok((book, Some(entry)))
            })
        })
        .await;
    added.map_err(rule_books::edition_taken)
}

/// Sets a draft aside; its text and its saves stay.
pub async fn set_aside(ctx: &Context, id: DraftId, why: &str) -> Result<(), ActionError> {
    ctx.allow(Deed::RunShop)?;
    refuse(limits::title_faults("why", why))?;
    open(ctx, id).await?;
    let why = why.trim().to_owned();
    let entry = ctx.shop_entry(ROOM, format!("A draft was set aside: {why}"), json!({ "draft": id, "why": why }));
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                refuse_closed(&write.draft(id).await?)?;
                write.set_draft_aside(id, &why).await?;
                Ok(((), Some(entry)))
            })
        })
        .await
}

fn size_faults(toml: &str) -> Vec<Fault> {
    if toml.trim().is_empty() {
        return vec![Fault::new("toml", "There is no text.")];
    }
    let over = toml.len() > limits::BOOK_BYTES;
    if over { vec![Fault::new("toml", "A rule book's text has at most 512 KiB.")] } else { Vec::new() }
}

pub(super) async fn open(ctx: &Context, id: DraftId) -> Result<Draft, ActionError> {
    let draft = ctx.store.draft(id).await?.ok_or(ActionError::NotFound("draft"))?;
    refuse_closed(&draft)?;
    Ok(draft)
}

fn refuse_closed(draft: &Draft) -> Result<(), ActionError> {
    if draft.open() {
        return Ok(());
    }
    Err(ActionError::Held("This draft became an edition, or was set aside: it is not written on any more.".to_owned()))
}

/// The draft as it stands, and where the rule stands in it now; stale where somebody else wrote that rule meanwhile.
async fn standing(ctx: &Context, rule: &TypedRule, place: Place) -> Result<(Draft, Place), ActionError> {
    let draft = open(ctx, rule.draft).await?;
    if draft.version == rule.version {
        return Ok((draft, place));
    }
    let stale = ActionError::Stale { now: draft.version };
    let Some(base) = based_on(ctx, draft.id, rule.version).await? else { return Err(stale) };
    let Some(moved) = moved(&base, &draft, place)? else { return Err(stale) };
    if base.typed(place) == edited(&draft)?.typed(moved) { Ok((draft, moved)) } else { Err(stale) }
}

async fn based_on(ctx: &Context, id: DraftId, version: i64) -> Result<Option<Editing>, ActionError> {
    Ok(ctx.store.draft_at(id, version).await?.and_then(|toml| Editing::of(&toml)))
}

fn moved(base: &Editing, draft: &Draft, place: Place) -> Result<Option<Place>, ActionError> {
    let Some(line) = base.rules().into_iter().find(|line| line.place == place) else { return Ok(None) };
    Ok(edited(draft)?.find(place, &line.id))
}

/// Where the rule of a place at an earlier version stands in the draft now; none where somebody took it out.
pub async fn where_now(ctx: &Context, draft: &Draft, version: i64, place: Place) -> Result<Option<Place>, ActionError> {
    match based_on(ctx, draft.id, version).await? {
        Some(base) => moved(&base, draft, place),
        None => Ok(None),
    }
}

fn edited(draft: &Draft) -> Result<Editing, ActionError> {
    edited_text(&draft.toml)
}

pub(super) fn unwritable() -> ActionError {
    let why = "This text is no TOML, or laid out so that a form cannot keep it as it is. Change it as text.";
    ActionError::Refused(vec![Fault::new("toml", why)])
}

fn edited_text(toml: &str) -> Result<Editing, ActionError> {
    Editing::of(toml).ok_or_else(unwritable)
}

/// Refuses what is wrong with a rule, at its fields; what is wrong with another is told on the draft's sheet.
fn refuse_mistakes(toml: &str, place: Place, rule: &TypedRule) -> Result<(), ActionError> {
    refuse(size_faults(toml))?;
    match book::read(toml) {
        Err(mistakes) if !rule.with_mistakes => refuse(faults_of(&mistakes, place, &rule.typed)),
        _ => Ok(()),
    }
}

fn but_for(pairs: &Pairs, others: &Pairs) -> Value {
    pairs.iter().filter(|pair| !others.contains(pair)).map(|(name, text)| json!([name, text])).collect()
}

pub(super) async fn save(
    ctx: &Context,
    (id, version): (DraftId, i64),
    toml: String,
    (what, changed): (String, Value),
) -> Result<i64, ActionError> {
    let sha256 = Fingerprint::of(toml.as_bytes());
    let detail = json!({ "draft": id, "version": version + 1, "sha256": sha256, "changed": changed });
    let entry = ctx.shop_entry(ROOM, what, detail);
    ctx.store
        .change(move |write| {
            Box::pin(async move {
                refuse_closed(&write.draft(id).await?)?;
                let version = write.save_draft(id, version, &toml, &entry).await?;
                Ok((version, Some(entry)))
            })
        })
        .await
}
