//! Who can do an open thing, where and when: the groups that a list of them falls into.

use super::{OpenItem, Place, Waits};

/// Who can do it, where and when.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// The fabricator, at the car.
    Car,
    /// The fabricator, with gussets and tube.
    Bench,
    /// The office.
    Desk,
    /// The scrutineer, who has it.
    Scrutineer,
    /// Somebody outside, who has it.
    Outside,
    /// Whoever sees to the kit, until the car drives.
    Event,
}

/// When it can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum When {
    /// By the shop, as things stand.
    Now,
    /// Once somebody else answers.
    Answered,
    /// Any time before the event.
    Event,
}

impl Group {
    /// All of them, in the order of a list.
    pub const ALL: [Self; 6] = [Self::Car, Self::Bench, Self::Desk, Self::Scrutineer, Self::Outside, Self::Event];

    /// Its word in an address.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Car => "car",
            Self::Bench => "bench",
            Self::Desk => "desk",
            Self::Scrutineer => "scrutineer",
            Self::Outside => "outside",
            Self::Event => "event",
        }
    }

    /// What it is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Car => "At the car, now",
            Self::Bench => "At the bench",
            Self::Desk => "At the desk",
            Self::Scrutineer => "Waits on the scrutineer",
            Self::Outside => "Waits on others",
            Self::Event => "Before the event",
        }
    }

    /// Who does it, and what it is about.
    pub const fn of_whom(self) -> &'static str {
        match self {
            Self::Car => "fabricator, with tape, caliper and phone",
            Self::Bench => "fabricator, gussets and tube",
            Self::Desk => "office, weight, papers, questions",
            Self::Scrutineer => "rounds and their replies",
            Self::Outside => "by the log",
            Self::Event => "kit, labels, dates",
        }
    }

    /// When its things can be done.
    pub const fn when(self) -> When {
        match self {
            Self::Car | Self::Bench | Self::Desk => When::Now,
            Self::Scrutineer | Self::Outside => When::Answered,
            Self::Event => When::Event,
        }
    }
}

impl When {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Now, Self::Answered, Self::Event];

    /// Its word in an address.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Now => "now",
            Self::Answered => "answered",
            Self::Event => "event",
        }
    }

    /// What it is called.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Now => "now",
            Self::Answered => "once answered",
            Self::Event => "before the event",
        }
    }
}

impl OpenItem {
    /// The group it is in.
    pub const fn group(&self) -> Group {
        match (self.waits_on, &self.place) {
            (Waits::Scrutineer, _) => Group::Scrutineer,
            (Waits::Outside, _) => Group::Outside,
            (_, Place::Kit | Place::Build) => Group::Event,
            (Waits::Office, _) => Group::Desk,
            (Waits::Fabricator, Place::Gussets(_) | Place::Tube) => Group::Bench,
            (Waits::Fabricator, _) => Group::Car,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_waits_on_others_is_in_no_group_of_the_shop() {
        let group = |waits, place| OpenItem::missing("x", waits, place).group();
        assert_eq!(group(Waits::Scrutineer, Place::Kit), Group::Scrutineer);
        assert_eq!(group(Waits::Outside, Place::Tube), Group::Outside);
        assert_eq!(group(Waits::Office, Place::Kit), Group::Event);
        assert_eq!(group(Waits::Fabricator, Place::Gussets(None)), Group::Bench);
        assert_eq!(group(Waits::Fabricator, Place::WeighIn), Group::Car);
        assert_eq!(group(Waits::Office, Place::WeighIn), Group::Desk);
        assert_eq!(Group::ALL.iter().filter(|group| group.when() == When::Now).count(), 3);
    }
}
