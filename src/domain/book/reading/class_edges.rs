//! How weight classes lie beside each other: none over another, none with a gap before the next that the book does not print.

use crate::domain::book::kinds::WeightClass;
use crate::domain::book::terms::fields::Fields;

/// Notes classes that overlap, and those that leave a weight out or share one, unless the body's own table does.
pub(in crate::domain::book) fn check(classes: &[(&Fields<'_>, WeightClass)], as_printed: bool) {
    for (at, (_, class)) in classes.iter().enumerate() {
        for (fields, other) in classes.iter().skip(at + 1) {
            let ends_first = |one: &WeightClass, two: &WeightClass| match (&one.upto, &two.over) {
                (Some(upto), Some(over)) => upto.at <= over.at,
                _ => false,
            };
            if !ends_first(class, other) && !ends_first(other, class) {
                let what = format!("The classes “{}” and “{}” overlap.", class.name, other.name);
                fields.slip("over", what, "Let one begin where the other ends.");
            }
        }
    }
    if as_printed {
        return;
    }
    let mut by_weight: Vec<&(&Fields<'_>, WeightClass)> =
        classes.iter().filter(|entry| entry.1.over.is_some()).collect();
    let below: Vec<&WeightClass> = classes.iter().map(|entry| &entry.1).collect();
    by_weight.sort_by(|one, two| {
        let at = |entry: &WeightClass| entry.over.as_ref().map_or(0.0, |edge| edge.at.kg());
        at(&one.1).total_cmp(&at(&two.1))
    });
    for (fields, class) in by_weight {
        let Some(over) = &class.over else { continue };
        // One that lies over this edge leaves no gap there; that they overlap is said already.
        let lies_over = |other: &&WeightClass| {
            let begins = other.over.as_ref().is_none_or(|edge| edge.at < over.at);
            begins && other.upto.as_ref().is_none_or(|edge| edge.at > over.at)
        };
        if below.iter().any(lies_over) {
            continue;
        }
        // The class that ends last before this one begins.
        let ending = below.iter().filter_map(|other| Some((*other, other.upto.as_ref()?)));
        let before = ending.filter(|(_, upto)| upto.at <= over.at);
        let Some((before, upto)) = before.max_by(|one, two| one.1.at.kg().total_cmp(&two.1.at.kg())) else { continue };
        let wanted = "Let one begin where the other ends, or write gaps_as_printed = true under [weight] when the body's own \
                      table is so.";
        if upto.at < over.at {
            let (ends, begins) = (&upto.printed, &over.printed);
            let what = format!(
                "No class holds a car between {ends}, where “{}” ends, and {begins}, where “{}” begins.",
                before.name, class.name
            );
            fields.slip("over", what, wanted);
        } else if upto.included == over.included {
            let (at, both) = (&over.printed, if over.included { "both" } else { "neither" });
            let what = format!("Of “{}” and “{}” {both} holds a car of exactly {at}.", before.name, class.name);
            fields.slip("over", what, wanted);
        }
    }
}
