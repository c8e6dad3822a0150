//! Who may see what: no handler gets a person or a build but through here.

use std::collections::HashMap;
use std::future::{Ready, ready};
use std::sync::Arc;

use axum::extract::{FromRef, FromRequestParts, Path};
use axum::http::request::Parts;
use axum::http::uri::PathAndQuery;

use super::app::App;
use super::carried::Carried;
use super::light::Light;
use super::problem::Problem;
use super::reader;
use super::shown::plans::Plans;
use crate::actions::{self, Context, Looked};
use crate::domain::derived::findings::Findings;
use crate::domain::judge::pieces::Pieces;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::builds::Build;
use crate::domain::shop::people::{Deed, Role, may};
use crate::domain::words::ids::{Balloon, BuildId, Kind};
use crate::quantity::Units;

/// Somebody signed in, and the units they read in.
#[derive(Debug, Clone)]
pub(crate) struct SignedIn {
    /// Whose records, when, who.
    pub(crate) ctx: Context,
    /// The units that are shown: those the reader chose, else those of the build's book, else the shop's.
    pub(crate) units: Units,
    /// The light their screen is made for.
    pub(crate) light: Light,
    /// Whether the reader chose the units.
    chosen: bool,
    /// The session's token, to sign out with.
    pub(crate) token: String,
    /// The cut plans that were searched for.
    pub(crate) plans: Plans,
    /// What the program does meanwhile, in a sentence; empty where it does nothing.
    pub(crate) under_way: String,
}

impl SignedIn {
    /// Somebody who came by a reading link: in their own context, with no session.
    /// They read in the book's units, by their device's light.
    pub(crate) fn nobody_of_the_shop(app: &App, ctx: Context) -> Self {
        let (plans, units) = (app.plans.clone(), app.units);
        let (token, under_way) = (String::new(), String::new());
        Self { ctx, units, light: Light::default(), chosen: false, token, plans, under_way }
    }

    /// Goes on only for a role that may; for the others there is nothing here.
    pub(crate) fn who_may(self, deed: Deed) -> Result<Self, Problem> {
        if may(self.ctx.by.role, deed) { Ok(self) } else { Err(Problem::NotFound) }
    }
}

impl<S: Send + Sync> FromRequestParts<S> for SignedIn
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        let app = App::from_ref(state);
        let carried = Carried::of(&parts.extensions);
        let token = reader::cookie(&parts.headers, carried, reader::SESSION);
        let then = parts.uri.path_and_query().map_or("/", PathAndQuery::as_str).to_owned();
        let Some(token) = token else { return Err(Problem::SignInFirst(then)) };
        let Some(by) = actions::shop::people::who(&app.store, &app.clock, &token).await? else {
            return Err(Problem::SignInFirst(then));
        };
        let chosen = reader::units(&parts.headers, carried);
        let ctx = Context { store: app.store, clock: app.clock, by, memory: app.memory };
        let (units, chosen) = (chosen.unwrap_or(app.units), chosen.is_some());
        let light = Light::of(&parts.headers, carried);
        Ok(Self { ctx, units, light, chosen, token, plans: app.plans, under_way: app.under_way.words() })
    }
}

/// A part of the address, by its name in the route.
pub(crate) async fn named<S: Send + Sync>(parts: &mut Parts, state: &S, name: &str) -> Result<String, Problem> {
    let Path(names) =
        Path::<HashMap<String, String>>::from_request_parts(parts, state).await.map_err(|_| Problem::NotFound)?;
    names.get(name).cloned().ok_or(Problem::NotFound)
}

/// The number in a balloon of the address, where it is one of this kind.
pub(crate) fn numbered(balloon: &str, kind: Kind) -> Result<u32, Problem> {
    let read: Option<Balloon> = balloon.parse().ok();
    read.filter(|read| read.kind == kind).map(|read| read.number).ok_or(Problem::NotFound)
}

/// A build that this person may see; what is recorded of it is not read.
#[derive(Debug, Clone)]
pub(crate) struct SeenBuild {
    /// Who is looking.
    pub(crate) who: SignedIn,
    /// The build.
    pub(crate) build: Build,
}

impl SeenBuild {
    async fn asked<S: Send + Sync>(parts: &mut Parts, state: &S, deed: Deed) -> Result<Self, Problem>
    where
        App: FromRef<S>,
    {
        let who = SignedIn::from_request_parts(parts, state).await?.who_may(deed)?;
        let slug = named(parts, state, "build").await?;
        let build = who.ctx.store.build_by_slug(&slug).await?.ok_or(Problem::NotFound)?;
        Ok(Self { who, build })
    }
}

impl<S: Send + Sync> FromRequestParts<S> for SeenBuild
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        Self::asked(parts, state, Deed::SeeBuilds).await
    }
}

/// A build of which this person may see the rounds; what is recorded of it is not read.
#[derive(Debug, Clone)]
pub(crate) struct SeenRoundsOf(pub(crate) SeenBuild);

impl<S: Send + Sync> FromRequestParts<S> for SeenRoundsOf
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        SeenBuild::asked(parts, state, Deed::SeeRounds).await.map(Self)
    }
}

/// A build that this person may see, and how its hold point stands.
#[derive(Debug, Clone)]
pub(crate) struct Seen {
    /// Who is looking.
    pub(crate) who: SignedIn,
    /// Everything recorded of the build, at one moment.
    pub(crate) facts: Arc<BuildFacts>,
    /// What follows from it; the hold stands on every sheet.
    found: Arc<Findings>,
}

impl Seen {
    /// The build of the address, for somebody who may do this deed with builds.
    async fn asked<S: Send + Sync>(parts: &mut Parts, state: &S, deed: Deed) -> Result<Self, Problem>
    where
        App: FromRef<S>,
    {
        let SeenBuild { who, build } = SeenBuild::asked(parts, state, deed).await?;
        let seen = Self::now(who, build.id).await?;
        // A scrutineer sees a build from its first round on.
        if seen.who.ctx.by.role == Role::Scrutineer && seen.facts.rounds.is_empty() {
            return Err(Problem::NotFound);
        }
        Ok(seen)
    }

    /// A build as it is recorded now, with what follows from it, for somebody who may see it.
    pub(crate) async fn now(who: SignedIn, build: BuildId) -> Result<Self, Problem> {
        let Looked { facts, found } = who.ctx.looked(build).await?;
        let who = match &found.worked.rules {
            Some(rules) if !who.chosen => SignedIn { units: rules.book.units, ..who },
            _ => who,
        };
        Ok(Self { who, facts, found })
    }

    /// The same, for somebody who may do this deed.
    pub(crate) fn who_may(self, deed: Deed) -> Result<Self, Problem> {
        Ok(Self { who: self.who.who_may(deed)?, ..self })
    }

    /// The store's name for the build.
    pub(crate) fn build(&self) -> BuildId {
        self.facts.build.id
    }

    /// What follows from what is recorded. It was worked out when the build was seen, for the hold on its sheet; a sheet
    /// waits for it as for anything that it reads.
    pub(crate) fn found(&self) -> Ready<Result<Arc<Findings>, Problem>> {
        ready(Ok(Arc::clone(&self.found)))
    }

    /// What is recorded, with what follows.
    pub(crate) fn looked(&self) -> Looked {
        Looked { facts: Arc::clone(&self.facts), found: Arc::clone(&self.found) }
    }

    /// Which photographs and figures are of the pieces that are there.
    pub(crate) fn pieces(&self) -> &Pieces {
        &self.found.worked.pieces
    }

    /// How the hold point stands, in a sentence.
    pub(crate) fn describe_hold(&self) -> String {
        self.found.describe_hold()
    }

    /// The same in the few words that the strip of a sheet has room for.
    pub(crate) fn hold_on_strip(&self) -> &'static str {
        match (&self.facts.build.book, self.held()) {
            (None, _) => "No rule book: log only",
            (_, true) => "HELD: tacks only",
            (_, false) => "Released",
        }
    }

    /// Whether anything is held.
    pub(crate) fn held(&self) -> bool {
        self.found.hold.held()
    }

    /// The address of a sheet of this build.
    pub(crate) fn address(&self, last: &str) -> String {
        format!("/builds/{}{last}", self.facts.build.slug)
    }
}

/// A build whose rounds this person may see: the scrutineer too.
#[derive(Debug, Clone)]
pub(crate) struct SeenRounds(pub(crate) Seen);

impl<S: Send + Sync> FromRequestParts<S> for SeenRounds
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        Seen::asked(parts, state, Deed::SeeRounds).await.map(Self)
    }
}

impl<S: Send + Sync> FromRequestParts<S> for Seen
where
    App: FromRef<S>,
{
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        Self::asked(parts, state, Deed::SeeBuilds).await
    }
}
