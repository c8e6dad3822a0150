//! The two doors to a round: a sign-in, or a reading link, which leads to one round of one build and to nothing else.

use axum::extract::{FromRef, FromRequestParts};
use axum::http::request::Parts;

use super::reader::Reader;
use crate::actions::recorded::rounds::links::{Opened, opened};
use crate::domain::recorded::rounds::links::ReadingLink;
use crate::domain::shop::builds::Build;
use crate::domain::shop::people::Deed;
use crate::web::app::App;
use crate::web::gate::{Seen, SeenBuild, SeenRounds, SeenRoundsOf, SignedIn, named};
use crate::web::headers::READ;
use crate::web::page::Sheet;
use crate::web::problem::Problem;

/// A round that somebody may read; what is recorded of its build is not read.
#[derive(Debug, Clone)]
pub(super) struct DoorOf {
    /// Who reads.
    pub(super) who: SignedIn,
    /// The build.
    pub(super) build: Build,
    /// The round's number.
    pub(super) round: u32,
    /// Where the round's addresses begin.
    pub(super) base: String,
    /// The link they came by; none of whoever signed in.
    pub(super) link: Option<ReadingLink>,
}

/// A round that somebody may read, with everything recorded of its build.
#[derive(Debug, Clone)]
pub(super) struct Door {
    /// The build, as whoever reads may see it.
    pub(super) seen: Seen,
    /// The round's number.
    pub(super) round: u32,
    base: String,
    link: Option<ReadingLink>,
}

impl DoorOf {
    /// By the secret of a reading link.
    async fn by_link(app: &App, secret: &str) -> Result<Self, Problem> {
        let Opened { link, build, ctx } = opened(&app.store, &app.clock, &app.memory, secret).await?;
        let who = SignedIn::nobody_of_the_shop(app, ctx);
        Ok(Self { who, build, round: link.number, base: format!("{READ}/{secret}"), link: Some(link) })
    }

    /// The build with what is recorded of it now.
    pub(super) async fn whole(self) -> Result<Door, Problem> {
        let seen = Seen::now(self.who, self.build.id).await?;
        Ok(Door { seen, round: self.round, base: self.base, link: self.link })
    }
}

/// The secret in the address; none of an address for who signed in.
async fn secret<S: Send + Sync>(parts: &mut Parts, state: &S) -> Option<String> {
    named(parts, state, "secret").await.ok()
}

/// The number of the round in an address for who signed in, and where that round's addresses begin.
async fn addressed<S: Send + Sync>(parts: &mut Parts, state: &S, build: &Build) -> Result<(u32, String), Problem> {
    let round = named(parts, state, "round").await?.parse().map_err(|_| Problem::NotFound)?;
    Ok((round, format!("/builds/{}/rounds/{round}", build.slug)))
}

impl<S: Send + Sync> FromRequestParts<S> for DoorOf
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        if let Some(secret) = secret(parts, state).await {
            return Self::by_link(&App::from_ref(state), &secret).await;
        }
        let SeenRoundsOf(SeenBuild { who, build }) = SeenRoundsOf::from_request_parts(parts, state).await?;
        let (round, base) = addressed(parts, state, &build).await?;
        Ok(Self { who, build, round, base, link: None })
    }
}

impl<S: Send + Sync> FromRequestParts<S> for Door
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        if let Some(secret) = secret(parts, state).await {
            return DoorOf::by_link(&App::from_ref(state), &secret).await?.whole().await;
        }
        let SeenRounds(seen) = SeenRounds::from_request_parts(parts, state).await?;
        let (round, base) = addressed(parts, state, &seen.facts.build).await?;
        Ok(Self { seen, round, base, link: None })
    }
}

impl Door {
    /// The same, for whoever may do this deed.
    pub(super) fn who_may(self, deed: Deed) -> Result<Self, Problem> {
        Ok(Self { seen: self.seen.who_may(deed)?, ..self })
    }

    /// Who reads, as far as the round's sheets go by it.
    pub(super) fn reader(&self) -> Reader {
        Reader::at(&self.seen, self.base.clone()).with(self.link.clone())
    }

    /// A sheet of the round: to whoever came by a link it shows no way to anything else of the shop.
    pub(super) fn sheet(&self, title: &str) -> Sheet {
        let sheet = self.seen.sheet(title);
        if self.link.is_some() { sheet.alone(&self.base) } else { sheet }
    }

    /// An address of the round.
    pub(super) fn address(&self, last: &str) -> String {
        format!("{}{last}", self.base)
    }
}
