//! Making the shop's authority and its server's certificate, and making the certificate anew in time.

use std::net::IpAddr;
use std::path::Path;

use jiff::ToSpan as _;
use jiff::civil::Date;
use rcgen::{
    BasicConstraints, CertificateParams, CidrSubnet, DistinguishedName, DnType, ExtendedKeyUsagePurpose,
    GeneralSubtree, IsCa, Issuer, KeyPair, KeyUsagePurpose, NameConstraints, SanType, date_time_ymd,
};
use tokio_rustls::rustls::pki_types::CertificateDer;
use tokio_rustls::rustls::pki_types::pem::PemObject as _;
use x509_cert::Certificate;
use x509_cert::der::Decode as _;

use crate::actions::error::ActionError;
use crate::domain::shop::certificate::{AUTHORITY_YEARS, Lasts, NAMES, Name, OWN_NETWORKS, SERVER_DAYS, is_own};
use crate::domain::words::faults::Fault;
use crate::domain::words::fingerprint::Fingerprint;
use crate::store::shop::certificate;
use crate::store::shop::certificate::{Authority, Keys};

/// A certificate as it stands in a shop's folder.
#[derive(Debug, Clone)]
pub struct Own {
    /// The keys.
    pub keys: Keys,
    /// The names it carries.
    pub names: Vec<Name>,
    /// The day on which it ends.
    pub until: Date,
    /// The authority's certificate in DER: what a phone is given to trust.
    pub authority: Vec<u8>,
}

impl Own {
    /// The authority's SHA-256, by which a person can compare it.
    pub fn fingerprint(&self) -> Fingerprint {
        Fingerprint::of(&self.authority)
    }

    fn of(keys: Keys) -> Result<Self, ActionError> {
        let names = keys.names.iter().map(|name| name.parse()).collect::<Result<_, Fault>>();
        let names = names.map_err(|fault| ActionError::Refused(vec![fault]))?;
        let unread = || ActionError::NotWorked("the kept certificate does not read".to_owned());
        let until = der(&keys.certificate).and_then(|der| last_day(&der)).ok_or_else(unread)?;
        let authority = der(&keys.authority_certificate).ok_or_else(unread)?.to_vec();
        Ok(Self { keys, names, until, authority })
    }
}

fn der(pem: &str) -> Option<CertificateDer<'static>> {
    CertificateDer::from_pem_slice(pem.as_bytes()).ok()
}

/// The day, in UTC, on which an X.509 certificate in DER ends (RFC 5280, 4.1.2.5); none when it does not read.
pub fn last_day(certificate: &[u8]) -> Option<Date> {
    let end = Certificate::from_der(certificate).ok()?.tbs_certificate.validity.not_after.to_date_time();
    let (year, month, day) = (end.year().try_into().ok()?, end.month().try_into().ok()?, end.day().try_into().ok()?);
    Date::new(year, month, day).ok()
}

fn made<T>(result: Result<T, rcgen::Error>) -> Result<T, ActionError> {
    result.map_err(|error| ActionError::NotWorked(error.to_string()))
}

/// The certificate that a shop's folder has; none when none was made.
pub fn own(folder: &Path) -> Result<Option<Own>, ActionError> {
    certificate::read(folder)?.map(Own::of).transpose()
}

/// The certificate that a shop's folder has, made anew when it is about to run out.
pub fn own_in_time(folder: &Path, today: Date) -> Result<Option<Own>, ActionError> {
    let Some(own) = own(folder)? else { return Ok(None) };
    if !Lasts::of(own.until, today).due {
        return Ok(Some(own));
    }
    make(folder, own.names, today).map(|(own, _)| Some(own))
}

/// Makes a certificate for these names and keeps it. Says also whether the authority is a new one, which phones have to be
/// told to trust: only where there was none, or where it may not name all of these, or does not last long enough.
pub fn make(folder: &Path, mut names: Vec<Name>, today: Date) -> Result<(Own, bool), ActionError> {
    names.sort();
    names.dedup();
    if names.is_empty() || names.len() > NAMES {
        let why = format!("A certificate has 1 to {NAMES} names. Name how the phones reach this machine.");
        return Err(ActionError::Refused(vec![Fault::new("name", why)]));
    }
    let day = |days: i32| today.checked_add(days.days()).map_err(|error| ActionError::NotWorked(error.to_string()));
    // a phone whose clock is a little slow takes it all the same
    let (from, until) = (day(-1)?, day(SERVER_DAYS - 1)?);
    let known = certificate::read(folder)?.map(|keys| keys.signed_by()).filter(|known| serves(known, &names, until));
    let (authority, new) = match known {
        Some(known) => (known, false),
        None => (new_authority(&names, from, today)?, true),
    };
    let key = made(KeyPair::from_pem(&authority.key))?;
    let issuer = Issuer::new(authority_params(&authority)?, key);
    let mut params = CertificateParams::default();
    params.distinguished_name = called("Tackbook");
    params.subject_alt_names = names.iter().map(alternative).collect::<Result<_, _>>()?;
    params.use_authority_key_identifier_extension = true;
    params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
    params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
    params.is_ca = IsCa::ExplicitNoCa;
    last_from_to(&mut params, from, until);
    let key = made(KeyPair::generate())?;
    let signed = made(params.signed_by(&key, &issuer))?;
    let texts = names.iter().map(ToString::to_string).collect();
    let keys = Keys::new(authority, texts, signed.pem(), key.serialize_pem());
    certificate::keep(folder, &keys)?;
    Ok((Own::of(keys)?, new))
}

/// Whether an authority may name these, and outlives what it signs.
fn serves(authority: &Authority, names: &[Name], until: Date) -> bool {
    let permitted: Vec<Name> = authority.permits.iter().filter_map(|name| name.parse().ok()).collect();
    let lasts = der(&authority.certificate).and_then(|der| last_day(&der)).is_some_and(|last| last >= until);
    lasts && names.iter().all(|name| name.is_permitted(&permitted))
}

fn new_authority(names: &[Name], from: Date, today: Date) -> Result<Authority, ActionError> {
    let until =
        today.checked_add(AUTHORITY_YEARS.years()).map_err(|error| ActionError::NotWorked(error.to_string()))?;
    let key = made(KeyPair::generate())?;
    let own = |name: &&Name| !matches!(name, Name::Address(address) if is_own(*address));
    let mut authority = Authority {
        called: format!("Tackbook authority of this shop, {today}"),
        permits: names.iter().filter(own).map(ToString::to_string).collect(),
        certificate: String::new(),
        key: key.serialize_pem(),
    };
    let mut params = authority_params(&authority)?;
    last_from_to(&mut params, from, until);
    authority.certificate = made(params.self_signed(&key))?.pem();
    Ok(authority)
}

/// What an authority is called and bounded to: whoever steals its key can name the shop's machines and nothing else.
fn authority_params(authority: &Authority) -> Result<CertificateParams, ActionError> {
    let mut params = CertificateParams::default();
    params.distinguished_name = called(&authority.called);
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::CrlSign];
    let mut permitted_subtrees = Vec::new();
    for name in &authority.permits {
        let name: Name = name.parse().map_err(|fault| ActionError::Refused(vec![fault]))?;
        permitted_subtrees.push(match name {
            Name::Host(host) => GeneralSubtree::DnsName(host),
            Name::Address(address) => network(address, if address.is_ipv4() { 32 } else { 128 }),
        });
    }
    let own = OWN_NETWORKS.iter().filter_map(|(address, length)| Some(network(address.parse().ok()?, *length)));
    permitted_subtrees.extend(own);
    params.name_constraints = Some(NameConstraints { permitted_subtrees, excluded_subtrees: Vec::new() });
    Ok(params)
}

fn network(address: IpAddr, length: u8) -> GeneralSubtree {
    GeneralSubtree::IpAddress(CidrSubnet::from_addr_prefix(address, length))
}

fn alternative(name: &Name) -> Result<SanType, ActionError> {
    Ok(match name {
        Name::Host(host) => SanType::DnsName(made(host.as_str().try_into())?),
        Name::Address(address) => SanType::IpAddress(*address),
    })
}

fn called(words: &str) -> DistinguishedName {
    let mut name = DistinguishedName::new();
    name.push(DnType::CommonName, words);
    name
}

/// Sets the first and the last day, each from its midnight in UTC.
fn last_from_to(params: &mut CertificateParams, from: Date, until: Date) {
    let moment = |day: Date| date_time_ymd(i32::from(day.year()), day.month().unsigned_abs(), day.day().unsigned_abs());
    (params.not_before, params.not_after) = (moment(from), moment(until));
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;
    use std::sync::Arc;
    use std::time::Duration;

    use rcgen::{CertificateParams, Issuer, KeyPair};
    use tokio_rustls::rustls::client::WebPkiServerVerifier;
    use tokio_rustls::rustls::client::danger::ServerCertVerifier as _;
    use tokio_rustls::rustls::crypto::ring;
    use tokio_rustls::rustls::pki_types::{CertificateDer, ServerName, UnixTime};
    use tokio_rustls::rustls::{CertificateError, Error, RootCertStore};

    use super::{Own, authority_params, der, last_day, last_from_to, make, own, own_in_time};
    use crate::domain::shop::certificate::Name;
    use crate::store::shop::certificate::place;

    struct Folder(PathBuf);

    impl Drop for Folder {
        fn drop(&mut self) {
            // a folder left behind harms nothing
            let _ = std::fs::remove_dir_all(&self.0);
        }
    }

    fn folder() -> Folder {
        Folder(std::env::temp_dir().join(format!("tackbook-keys-{}", uuid::Uuid::now_v7())))
    }

    fn names(all: &[&str]) -> Vec<Name> {
        all.iter().map(|name| name.parse().unwrap()).collect()
    }

    fn day(text: &str) -> jiff::civil::Date {
        text.parse().unwrap()
    }

    /// What a client says that trusts this authority alone.
    fn verified(own: &Own, leaf: &CertificateDer<'_>, name: &str) -> Result<(), Error> {
        let mut roots = RootCertStore::empty();
        roots.add(CertificateDer::from(own.authority.clone())).unwrap();
        let provider = Arc::new(ring::default_provider());
        let verifier = WebPkiServerVerifier::builder_with_provider(Arc::new(roots), provider).build().unwrap();
        // 2026-06-01
        let then = UnixTime::since_unix_epoch(Duration::from_hours(494_520));
        verifier.verify_server_cert(leaf, &[], &ServerName::try_from(name.to_owned()).unwrap(), &[], then).map(|_| ())
    }

    #[test]
    fn a_client_that_trusts_the_authority_takes_the_certificate_under_its_names_alone() {
        let folder = folder();
        let all = names(&["tackbook.shop", "192.168.1.5", "::1"]);
        let (own, new) = make(&folder.0, all, day("2026-05-04")).unwrap();
        assert!(new);
        assert_eq!(own.until, day("2028-07-31"), "820 days from the day before");
        let leaf = der(&own.keys.certificate).unwrap();
        for name in ["tackbook.shop", "192.168.1.5", "::1"] {
            assert_eq!(verified(&own, &leaf, name), Ok(()), "{name}");
        }
        for name in ["bench.tackbook.shop", "192.168.1.6"] {
            let refused = verified(&own, &leaf, name).unwrap_err();
            assert!(
                matches!(refused, Error::InvalidCertificate(CertificateError::NotValidForNameContext { .. })),
                "{refused}"
            );
        }
    }

    #[test]
    fn a_certificates_last_day_is_read_and_what_is_none_has_none() {
        // RFC 5280, 4.1.2.5: two figures of a year until 2049, four from 2050 on
        for until in ["1999-12-31", "2028-07-31", "2049-12-31", "2050-01-01", "9999-12-31"] {
            let mut params = CertificateParams::default();
            last_from_to(&mut params, day("1998-01-01"), day(until));
            let made = params.self_signed(&KeyPair::generate().unwrap()).unwrap();
            assert_eq!(last_day(made.der()), Some(day(until)));
            assert_eq!(last_day(made.der().get(..200).unwrap()), None, "cut off");
        }
        for bytes in [&b""[..], b"\x30", b"\x30\x82", b"\x30\x84\xff\xff\xff\xff", b"\x30\x80\x00\x00", b"words"] {
            assert_eq!(last_day(bytes), None);
        }
    }

    #[test]
    fn whoever_steals_the_authoritys_key_can_name_nothing_elsewhere() {
        let folder = folder();
        let (own, _) = make(&folder.0, names(&["tackbook.shop"]), day("2026-05-04")).unwrap();
        let authority = own.keys.signed_by();
        let key = KeyPair::from_pem(&authority.key).unwrap();
        let issuer = Issuer::new(authority_params(&authority).unwrap(), key);
        for (name, good) in
            [("tackbook.shop", true), ("bank.example", false), ("203.0.113.7", false), ("10.1.2.3", true)]
        {
            let mut params = CertificateParams::new([name.to_owned()]).unwrap();
            last_from_to(&mut params, day("2026-05-01"), day("2027-05-01"));
            let leaf = params.signed_by(&KeyPair::generate().unwrap(), &issuer).unwrap();
            let said = verified(&own, leaf.der(), name);
            assert_eq!(said.is_ok(), good, "{name}: {said:?}");
        }
    }

    #[test]
    fn it_is_made_anew_in_time_by_the_same_authority() {
        let folder = folder();
        assert!(own(&folder.0).unwrap().is_none());
        let (first, _) = make(&folder.0, names(&["tackbook.shop"]), day("2026-05-04")).unwrap();
        let early = own_in_time(&folder.0, day("2028-06-30")).unwrap().unwrap();
        assert_eq!(early.keys.certificate, first.keys.certificate);
        let renewed = own_in_time(&folder.0, day("2028-07-01")).unwrap().unwrap();
        assert_ne!(renewed.keys.certificate, first.keys.certificate);
        assert_eq!((renewed.authority, renewed.names), (first.authority.clone(), first.names));
        assert!(renewed.until > first.until);
        // more addresses of one's own, and names below: the same authority; another name: a new one
        let (_, new) = make(&folder.0, names(&["bench.tackbook.shop", "10.0.0.9"]), day("2028-07-02")).unwrap();
        assert!(!new);
        let (other, new) = make(&folder.0, names(&["other.shop"]), day("2028-07-02")).unwrap();
        assert!(new && other.authority != first.authority);
        // and near the authority's own end
        let (_, new) = make(&folder.0, names(&["other.shop"]), day("2036-08-01")).unwrap();
        assert!(new);
    }

    #[cfg(unix)]
    #[test]
    fn the_keys_are_their_owners_alone() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = folder();
        make(&folder.0, names(&["tackbook.shop"]), day("2026-05-04")).unwrap();
        make(&folder.0, names(&["tackbook.shop"]), day("2026-05-05")).unwrap();
        let mode = |path: &std::path::Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
        let file = place(&folder.0);
        assert_eq!((mode(&file), mode(file.parent().unwrap())), (0o600, 0o700));
        assert_eq!(std::fs::read_dir(file.parent().unwrap()).unwrap().count(), 1);
    }
}
