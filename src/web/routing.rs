//! Addresses, each written down once with the methods that it answers to: for the router, and for whoever has to know
//! all of them.

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::handler::Handler;
use axum::http::Method;
use axum::routing::{self, MethodRouter};

use super::app::App;

/// A room's addresses.
pub(crate) struct Routes {
    router: Router<App>,
    listed: Vec<(Method, &'static str)>,
}

/// What an address answers with, by method.
pub(crate) struct Answers {
    methods: MethodRouter<App>,
    listed: Vec<Method>,
}

impl Routes {
    /// None yet.
    pub(crate) fn new() -> Self {
        Self { router: Router::new(), listed: Vec::new() }
    }

    /// Another address.
    pub(crate) fn route(mut self, path: &'static str, answers: Answers) -> Self {
        self.listed.extend(answers.listed.into_iter().map(|method| (method, path)));
        Self { router: self.router.route(path, answers.methods), ..self }
    }

    /// Those of another room as well.
    pub(crate) fn merge(mut self, other: Self) -> Self {
        self.listed.extend(other.listed);
        Self { router: self.router.merge(other.router), ..self }
    }

    /// What answers at them.
    pub(crate) fn router(self) -> Router<App> {
        self.router
    }

    /// The addresses themselves. What answers to GET answers to HEAD, too.
    pub(crate) fn listed(self) -> Vec<(Method, &'static str)> {
        self.listed
    }
}

impl Answers {
    /// Takes forms of so many bytes, where they bring a file.
    pub(crate) fn up_to(self, bytes: usize) -> Self {
        Self { methods: self.methods.layer(DefaultBodyLimit::max(bytes)), ..self }
    }
}

macro_rules! methods {
    (begin with $($name:ident: $method:ident),+; and $($more:ident: $as_well:ident),+) => {
        $(
            #[doc = concat!("Answers to ", stringify!($method), ".")]
            pub(crate) fn $name<H: Handler<T, App>, T: 'static>(handler: H) -> Answers {
                Answers { methods: routing::$name(handler), listed: vec![Method::$method] }
            }
        )+

        impl Answers {
            $(
                #[doc = concat!("Answers to ", stringify!($as_well), " as well.")]
                pub(crate) fn $more<H: Handler<T, App>, T: 'static>(mut self, handler: H) -> Self {
                    self.listed.push(Method::$as_well);
                    Self { methods: self.methods.$more(handler), ..self }
                }
            )+
        }
    };
}

methods!(begin with get: GET, post: POST, put: PUT, patch: PATCH; and post: POST, head: HEAD, delete: DELETE);
