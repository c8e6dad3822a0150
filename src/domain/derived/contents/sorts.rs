//! The kinds of things that a record is made of, and whatever of a build's facts is not frozen, each with its reason.

/// What kind of thing a part of the record is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    Build,
    Car,
    WeighIn,
    Forecast,
    Wheels,
    Listed,
    Cage,
    Measures,
    HandBar,
    Body,
    Seat,
    Plate,
    Gusset,
    Dies,
    OwnTube,
    Lowering,
    Photo,
    Mark,
    Stick,
    Cut,
    Kit,
    Way,
    Measured,
    Ruling,
}

impl Sort {
    pub(super) const ALL: [Self; 24] = [
        Self::Build,
        Self::Car,
        Self::WeighIn,
        Self::Forecast,
        Self::Wheels,
        Self::Listed,
        Self::Cage,
        Self::Measures,
        Self::HandBar,
        Self::Body,
        Self::Seat,
        Self::Plate,
        Self::Gusset,
        Self::Dies,
        Self::OwnTube,
        Self::Lowering,
        Self::Photo,
        Self::Mark,
        Self::Stick,
        Self::Cut,
        Self::Kit,
        Self::Way,
        Self::Measured,
        Self::Ruling,
    ];

    /// Its name in a contents list.
    pub(super) const fn key(self) -> &'static str {
        match self {
            Self::Build => "build",
            Self::Car => "car",
            Self::WeighIn => "weigh-in",
            Self::Forecast => "forecast",
            Self::Wheels => "wheels",
            Self::Listed => "listed",
            Self::Cage => "cage",
            Self::Measures => "measures",
            Self::HandBar => "hand-bar",
            Self::Body => "body",
            Self::Seat => "seat",
            Self::Plate => "plate",
            Self::Gusset => "gusset",
            Self::Dies => "dies",
            Self::OwnTube => "own-tube",
            Self::Lowering => "lowering",
            Self::Photo => "photo",
            Self::Mark => "mark",
            Self::Stick => "stick",
            Self::Cut => "cut",
            Self::Kit => "kit",
            Self::Way => "way",
            Self::Measured => "measured",
            Self::Ruling => "ruling",
        }
    }

    /// Whether its balloon is its own, and not that of a part that something is said of.
    pub(super) const fn is_part(self) -> bool {
        matches!(self, Self::WeighIn | Self::Plate | Self::Gusset | Self::Stick | Self::Kit)
    }

    /// Where it stands among a build's facts, where some of it is not frozen.
    const fn path(self) -> &'static str {
        match self {
            Self::Build => "build",
            Self::Car => "car",
            Self::WeighIn => "weigh_ins/*",
            Self::Listed => "foreseen/*",
            Self::Photo => "photos/*",
            Self::Stick => "sticks/*",
            Self::Cut => "cuts/*",
            Self::Kit => "kit/*",
            Self::Measured => "measured/*",
            Self::Way => "kit_ways/*/stays/*",
            _ => "",
        }
    }

    /// The values of it that are not frozen with it, each with the reason.
    pub(super) const fn left_out(self) -> &'static [(&'static str, Apart)] {
        match self {
            Self::Build => &[
                ("id", OWN_NAME),
                ("version", COUNTS),
                ("slug", Apart::Name("its address is given once")),
                ("book", Apart::NoChange("the book is frozen by its name, edition and text")),
            ],
            Self::Car => &[("at", ENTERED)],
            Self::WeighIn => &[("id", OWN_NAME)],
            Self::Listed => &[("added", ENTERED), ("by", ENTERED)],
            Self::Photo => &[
                ("capture", OWN_NAME),
                ("build", OWN_NAME),
                ("sha256", Apart::Elsewhere("its bytes are frozen by part, among the photographs")),
                ("size", Apart::NoChange("the bytes are frozen by their hash")),
                ("taken_claim", Apart::NoChange("a claim of the phone, which decides nothing")),
                (
                    "declared",
                    Apart::NoChange("when the phone told of it: of which piece it is, the photographs that count tell"),
                ),
                ("received/entry", Apart::Name("where the log says so")),
            ],
            Self::Stick => &[
                ("id", OWN_NAME),
                ("given_to", Apart::NoChange("what is here was given to this build, or its bars were cut from it")),
                ("added", ENTERED),
                ("by", ENTERED),
            ],
            Self::Cut => &[
                ("member", Apart::Elsewhere("it stands under its bar")),
                ("stick", Apart::Elsewhere("the stick is frozen by its number")),
            ],
            Self::Way => &[
                ("build", OWN_NAME),
                ("slug", Apart::Name("its address is given once")),
                ("item/id", OWN_NAME),
                ("item/version", COUNTS),
            ],
            Self::Kit => &[("id", OWN_NAME), ("version", COUNTS)],
            Self::Measured => &[
                ("at", Apart::NoChange("the same figure read again is no other figure")),
                ("text", Apart::NoChange("the figure is frozen; typed in other units it is the same")),
            ],
            _ => &[],
        }
    }
}

/// Why a value is not frozen where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Apart {
    /// It is frozen in another place: a change of it is told.
    Elsewhere(&'static str),
    /// It is given once and never changed.
    Name(&'static str),
    /// A change of it is none of what was put before the scrutineer.
    NoChange(&'static str),
}

const OWN_NAME: Apart = Apart::Name("the store's own name for it, which nobody reads");
const COUNTS: Apart = Apart::NoChange("it counts the saves");
const ENTERED: Apart = Apart::NoChange("when it was entered and by whom, the thing itself being the same");
const THIS_CAR: Apart = Apart::Name("this car itself");

/// What of a build's facts is not frozen with the record, by its path: each with the reason.
const NOT_FROZEN: [(&str, Apart); 24] = [
    ("book/id", OWN_NAME),
    ("book", Apart::Elsewhere("frozen by name, edition and text in the list's head")),
    ("papers", Apart::NoChange("a weigh-in keeps the paper that it goes by; another one on file changes nothing")),
    (
        "looks",
        Apart::NoChange(
            "what is looked at for the lowering is the shop's work, not what was put before the scrutineer",
        ),
    ),
    (
        "photos_said",
        Apart::NoChange("what was said of a photograph changes no photograph; it stands in the packet as it was then"),
    ),
    ("questions", Apart::NoChange("questions and answers go on between rounds; they stand in the list by themselves")),
    ("rounds", Apart::NoChange("the rounds themselves")),
    ("replies", Apart::NoChange("what the scrutineer said of them")),
    ("notes", Apart::NoChange("the log's notes, hours, cost and what is waited for")),
    (
        "welds",
        Apart::NoChange("welding is what a release is for; what was welded while held stands in the list by itself"),
    ),
    ("weld_order", Apart::NoChange("the order of welding is the shop's work, not what was put before the scrutineer")),
    ("as_of", Apart::NoChange("the log goes on")),
    ("log_head", Apart::NoChange("the log goes on")),
    ("cage/version", COUNTS),
    (
        "earlier_cages",
        Apart::NoChange(
            "the cage as it was: whatever is of an earlier piece by it does not count, and the verdicts say so",
        ),
    ),
    (
        "cage/json/numbers",
        Apart::Elsewhere("each part is frozen under its number; one that no part has is only not given out again"),
    ),
    ("kit_ways/*/here/build", THIS_CAR),
    ("kit_ways/*/here/car", THIS_CAR),
    ("kit_ways/*/here/slug", THIS_CAR),
    ("kit_ways/*/here/item/id", OWN_NAME),
    ("kit_ways/*/here/item/number", Apart::Name("its number is given once")),
    ("kit_ways/*/here/item", Apart::NoChange("the item is frozen as this car's kit")),
    ("kit_ways/*/here/photos", Apart::NoChange("its photographs are frozen as this car's")),
    ("text", Apart::NoChange("beside a value, how it was typed: the same value in other units is no change")),
];

/// Everything of a build's facts that a round does not freeze with the record, by its path, with the reason. `*` is any of
/// a list, `here` an item's time in this car.
pub fn apart() -> impl Iterator<Item = (String, Apart)> {
    let of_sorts = Sort::ALL
        .into_iter()
        .flat_map(|sort| sort.left_out().iter().map(move |(name, why)| (format!("{}/{name}", sort.path()), *why)));
    NOT_FROZEN.into_iter().map(|(path, why)| (path.to_owned(), why)).chain(of_sorts)
}
