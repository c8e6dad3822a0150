//! The shop's own certificate: the names it may carry, how long it lasts, and when it is made anew.

use std::fmt;
use std::net::IpAddr;
use std::str::FromStr;

use jiff::ToSpan as _;
use jiff::civil::Date;

use crate::domain::words::faults::Fault;

/// How many days a server's certificate lasts, the day before it was made included. Phones refuse one of more than 825
/// (support.apple.com/103769, "Requirements for trusted certificates in iOS 13").
pub const SERVER_DAYS: i32 = 820;
/// How many years the shop's authority lasts, which phones have to be told to trust. *Common practice.*
pub const AUTHORITY_YEARS: i16 = 10;
/// So many days before the end the certificate is made anew.
pub const RENEW_DAYS: i32 = 30;
/// Most names of a certificate.
pub const NAMES: usize = 50;
/// Longest host name (RFC 1035, 2.3.4, less the root's dot).
const HOST: usize = 253;
/// Longest part of a host name (RFC 1035, 2.3.4).
const LABEL: usize = 63;

/// Networks of one's own, whose addresses the shop's authority may name: no machine elsewhere answers at them (RFC 1918, 3;
/// RFC 1122, 3.2.1.3 (g); RFC 3927, 2.1; RFC 4193, 3.1; RFC 4291, 2.5.3 and 2.5.6). Each with the length of its prefix in bits.
pub const OWN_NETWORKS: [(&str, u8); 8] = [
    ("10.0.0.0", 8),
    ("172.16.0.0", 12),
    ("192.168.0.0", 16),
    ("127.0.0.0", 8),
    ("169.254.0.0", 16),
    ("fc00::", 7),
    ("fe80::", 10),
    ("::1", 128),
];

/// A name that a server is reached by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Name {
    /// A host name.
    Host(String),
    /// An address in figures.
    Address(IpAddr),
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Host(host) => f.write_str(host),
            Self::Address(address) => address.fmt(f),
        }
    }
}

impl FromStr for Name {
    type Err = Fault;

    /// Reads a host name (RFC 1123, 2.1) or an address.
    fn from_str(typed: &str) -> Result<Self, Fault> {
        let typed = typed.trim().trim_end_matches('.').to_ascii_lowercase();
        if let Ok(address) = typed.parse() {
            return Ok(Self::Address(address));
        }
        let label = |label: &str| {
            (1..=LABEL).contains(&label.len())
                && label.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-')
                && !label.starts_with('-')
                && !label.ends_with('-')
        };
        // a last part of figures alone is an address that does not read
        let last = typed.rsplit('.').next().unwrap_or_default();
        let figures = last.bytes().all(|byte| byte.is_ascii_digit());
        if typed.len() <= HOST && typed.split('.').all(label) && !figures {
            return Ok(Self::Host(typed));
        }
        Err(Fault::new(
            "name",
            format!(
                "\"{typed}\" is no host name and no address. Say it as the phones do: tackbook.shop, or 192.168.1.5."
            ),
        ))
    }
}

impl Name {
    /// Whether an authority that permits these may name this one: a host name permits itself and what is below it
    /// (RFC 5280, 4.2.1.10), an address itself and each network of one's own.
    pub fn is_permitted(&self, permitted: &[Self]) -> bool {
        match self {
            Self::Host(host) => permitted.iter().any(|one| match one {
                Self::Host(above) => host == above || host.strip_suffix(above).is_some_and(|rest| rest.ends_with('.')),
                Self::Address(_) => false,
            }),
            Self::Address(address) => permitted.contains(self) || is_own(*address),
        }
    }
}

/// Whether an address is of a network of one's own.
pub fn is_own(address: IpAddr) -> bool {
    let bits = |address: IpAddr| match address {
        IpAddr::V4(four) => (u128::from(four.to_bits()) << 96, true),
        IpAddr::V6(six) => (six.to_bits(), false),
    };
    let (here, four) = bits(address);
    OWN_NETWORKS.iter().any(|(network, length)| {
        let Ok(network) = network.parse() else { return false };
        let (there, same) = bits(network);
        let shift = 128_u32.saturating_sub(u32::from(*length));
        same == four && here.checked_shr(shift) == there.checked_shr(shift)
    })
}

/// How long a certificate still lasts, as it is said to the office.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lasts {
    /// The day at whose midnight, in UTC, it ends.
    pub until: Date,
    /// Whether it is time to make it anew.
    pub due: bool,
    /// Whether it is over.
    pub over: bool,
}

impl Lasts {
    /// As seen on a day.
    pub fn of(until: Date, today: Date) -> Self {
        let due = today.checked_add(RENEW_DAYS.days()).is_ok_and(|then| then >= until);
        Self { until, due, over: today >= until }
    }
}

#[cfg(test)]
mod tests {
    use super::{Lasts, Name, is_own};

    #[test]
    fn names_are_read_as_phones_say_them() {
        for good in ["tackbook.shop", "Bench", "a-b.local.", "192.168.1.5", "fe80::1"] {
            assert!(good.parse::<Name>().is_ok(), "{good}");
        }
        for bad in ["", "*.shop", "-a.shop", "a..b", "192.168.1", "two words", "http://tackbook.shop", "a_b"] {
            let fault = bad.parse::<Name>().unwrap_err();
            assert!(fault.why.contains("is no host name and no address"), "{bad}");
        }
        assert!("a".repeat(64).parse::<Name>().is_err());
    }

    #[test]
    fn an_authority_names_what_it_permits_and_networks_of_ones_own() {
        let permitted: Vec<Name> = ["tackbook.shop", "203.0.113.7"].map(|name| name.parse().unwrap()).to_vec();
        for (name, expected) in [
            ("tackbook.shop", true),
            ("bench.tackbook.shop", true),
            ("mytackbook.shop", false),
            ("shop", false),
            ("203.0.113.7", true),
            ("203.0.113.8", false),
            ("192.168.44.2", true),
        ] {
            assert_eq!(name.parse::<Name>().unwrap().is_permitted(&permitted), expected, "{name}");
        }
        for (address, expected) in [
            ("10.255.0.1", true),
            ("172.31.255.255", true),
            ("172.32.0.0", false),
            ("192.169.0.1", false),
            ("::1", true),
            ("::2", false),
            ("fdff::1", true),
            ("febf::1", true),
            ("fec0::1", false),
        ] {
            assert_eq!(is_own(address.parse().unwrap()), expected, "{address}");
        }
    }

    #[test]
    fn thirty_days_before_its_end_it_is_due() {
        let until = "2029-02-22".parse().unwrap();
        for (today, due, over) in [
            ("2029-01-22", false, false),
            ("2029-01-23", true, false),
            ("2029-02-21", true, false),
            ("2029-02-22", true, true),
        ] {
            let lasts = Lasts::of(until, today.parse().unwrap());
            assert_eq!((lasts.due, lasts.over), (due, over), "{today}");
        }
    }
}
