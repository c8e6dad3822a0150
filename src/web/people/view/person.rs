//! What a person's own sheet shows: what they are signed in on, a code for another phone, and for the office the rest.

use askama::Template;

use crate::actions::shop::pairing::Pairing;
use crate::domain::shop::people::{Deed, Person, may};
use crate::store::shop::pairing::Device;
use crate::web::form::{Field, Form};
use crate::web::gate::SignedIn;
use crate::web::page::Sheet;
use crate::web::qr::Code;
use crate::web::reached::Reached;

/// One person's sheet.
#[derive(Template)]
#[template(path = "people/person.html")]
pub(crate) struct OnePerson {
    sheet: Sheet,
    to: String,
    role: &'static str,
    own: bool,
    runs_shop: bool,
    devices: Vec<SignedInOn>,
    paired: Option<Paired>,
    sealed: bool,
    password: Field,
    faults: Vec<String>,
}

/// A line of the list.
struct SignedInOn {
    number: i64,
    name: String,
    begun: String,
    seen: String,
    here: bool,
}

/// A code as it is shown, once.
struct Paired {
    code: Option<Code>,
    letters: String,
    address: String,
    until: String,
}

impl Paired {
    fn of(who: &SignedIn, pairing: &Pairing, reached: &Reached) -> Self {
        let (first, last) = pairing.letters.split_at_checked(4).unwrap_or((&pairing.letters, ""));
        let known = Some(&reached.address).filter(|address| !address.is_empty());
        Self {
            code: known.and_then(|address| Code::of(&format!("{address}/pair/{}", pairing.token))),
            letters: format!("{first} {last}"),
            address: format!("{}/pair", reached.address),
            until: who.ctx.clock.minute_of(pairing.until),
        }
    }
}

impl OnePerson {
    /// The sheet, with a code where one was just made.
    pub(crate) fn of(
        who: &SignedIn,
        person: &Person,
        devices: &[Device],
        (pairing, reached): (Option<&Pairing>, &Reached),
        form: &Form,
    ) -> Self {
        let clock = &who.ctx.clock;
        let password = form.field("password", "Password").new_password().hint(super::password_bounds());
        Self {
            sheet: Sheet::of_shop(who, &person.name),
            to: format!("/people/{}", person.id),
            role: person.role.word(),
            own: person.id == who.ctx.by.id,
            runs_shop: may(who.ctx.by.role, Deed::RunShop),
            devices: devices
                .iter()
                .map(|device| SignedInOn {
                    number: device.number,
                    name: if device.name.is_empty() { "not said".to_owned() } else { device.name.clone() },
                    begun: clock.minute_of(device.begun),
                    seen: clock.minute_of(device.seen),
                    here: device.here,
                })
                .collect(),
            paired: pairing.map(|pairing| Paired::of(who, pairing, reached)),
            sealed: reached.sealed(),
            faults: form.other_faults(&[&password]),
            password,
        }
    }
}

/// Letters to type.
#[derive(Template)]
#[template(path = "people/letters.html")]
pub(crate) struct Letters {
    sheet: Sheet,
    field: Field,
}

impl Letters {
    /// As typed so far.
    pub(crate) fn of(form: &Form) -> Self {
        let hint = "Eight letters that the office shows you; capitals and spaces do not matter.";
        Self { sheet: Sheet::outside("Sign in this phone"), field: form.begins("letters", "Letters").hint(hint) }
    }
}

/// A code that was read: whose it is, and one button.
#[derive(Template)]
#[template(path = "people/paired.html")]
pub(crate) struct ByCode {
    sheet: Sheet,
    name: String,
    role: &'static str,
}

impl ByCode {
    /// For this person.
    pub(crate) fn of(person: &Person) -> Self {
        Self { sheet: Sheet::outside("Sign in this phone"), name: person.name.clone(), role: person.role.word() }
    }
}
