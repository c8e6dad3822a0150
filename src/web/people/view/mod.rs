//! What the sign-in and people sheets show.

mod person;

use askama::Template;

use crate::domain::shop::people::{Person, Role};
use crate::domain::words::limits;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;

pub(crate) use person::{ByCode, Letters, OnePerson};

/// Name and password.
#[derive(Template)]
#[template(path = "people/sign_in.html")]
pub(crate) struct SignIn {
    sheet: Sheet,
    then: String,
    fields: Vec<Field>,
}

impl SignIn {
    /// As typed so far.
    pub(crate) fn of(form: &Form) -> Self {
        let fields = vec![form.begins("name", "Name").username(), form.field("password", "Password").password()];
        Self { sheet: Sheet::outside("Sign in"), then: form.text("then").to_owned(), fields }
    }
}

/// The first office person of an empty shop.
#[derive(Template)]
#[template(path = "people/set_up.html")]
pub(crate) struct SetUp {
    sheet: Sheet,
    fields: Vec<Field>,
}

impl SetUp {
    /// As typed so far.
    pub(crate) fn of(form: &Form) -> Self {
        Self { sheet: Sheet::outside("Begin this shop"), fields: new_sign_in(form.begins("name", "Name"), form) }
    }
}

fn new_sign_in(name: Field, form: &Form) -> Vec<Field> {
    let password = form.field("password", "Password").new_password().hint(password_bounds());
    vec![name.username(), password]
}

fn password_bounds() -> String {
    format!("{} to {} characters; a sentence is good.", limits::PASSWORD_LEAST, limits::PASSWORD_MOST)
}

/// Everybody with a sign-in.
#[derive(Template)]
#[template(path = "people/people.html")]
pub(crate) struct People {
    sheet: Sheet,
    people: Vec<(String, String, &'static str)>,
    fields: Vec<Field>,
}

impl People {
    /// The list, and the form for one more.
    pub(crate) fn of(who: &SignedIn, people: &[Person], form: &Form) -> Self {
        let roles = Role::ALL.into_iter().map(|role| (role.word().to_owned(), role.word().to_owned()));
        let mut fields = new_sign_in(form.field("name", "Name"), form);
        fields.push(form.field("role", "Role").choice(roles));
        let line = |person: &Person| (format!("/people/{}", person.id), person.name.clone(), person.role.word());
        let people = people.iter().map(line).collect();
        Self { sheet: Sheet::of_shop(who, "People"), people, fields }
    }
}
