//! The light that a reader's screen is made for.

use axum::http::HeaderMap;

use super::carried::Carried;
use super::reader::{self, Cookie};

/// What the reader chose.
const LIGHT: Cookie = Cookie::named("tackbook-light", "__Host-tackbook-light");

/// Ink and paper of every sheet. Measured contrasts stand beside the colours in `tackbook.css`.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Light {
    /// As the device says: light by day, dark by night.
    #[default]
    ByDevice,
    /// Dark ink on light paper.
    Day,
    /// Light ink on dark paper.
    Night,
    /// Black on white, thicker lines and letters: a screen in the sun.
    Sun,
}

impl Light {
    /// All of them, in the order they are offered.
    pub(crate) const ALL: [Self; 4] = [Self::ByDevice, Self::Day, Self::Night, Self::Sun];

    /// As it stands in the cookie, the form and the page's root.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::ByDevice => "device",
            Self::Day => "day",
            Self::Night => "night",
            Self::Sun => "sun",
        }
    }

    /// As it is read on its button.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::ByDevice => "As the device",
            Self::Day => "Light",
            Self::Night => "Dark",
            Self::Sun => "Sunlight",
        }
    }

    /// The light of a name; as the device says where it is none of ours.
    pub(crate) fn of_name(name: &str) -> Self {
        Self::ALL.into_iter().find(|light| light.name() == name).unwrap_or_default()
    }

    /// What the browser of a request keeps.
    pub(crate) fn of(headers: &HeaderMap, carried: Carried) -> Self {
        reader::cookie(headers, carried, LIGHT).map_or_else(Self::default, |name| Self::of_name(&name))
    }

    /// The line that makes the browser keep it for so many seconds.
    pub(crate) fn set_cookie(self, carried: Carried, seconds: u32) -> String {
        reader::set_cookie(LIGHT, carried, self.name(), seconds)
    }
}
