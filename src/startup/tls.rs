//! The certificate that the server shows: the shop's own, or one that was given.

use std::path::Path;
use std::sync::Arc;

use jiff::civil::Date;
use tokio_rustls::TlsAcceptor;
use tokio_rustls::rustls::ServerConfig;
use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::pem::PemObject as _;
use tokio_rustls::rustls::pki_types::{CertificateDer, PrivateKeyDer};

use super::StartError;
use crate::actions::shop::certificate::{Own, last_day};

/// A certificate, ready to be shown.
pub(super) struct Tls {
    pub(super) acceptor: TlsAcceptor,
    /// The day on which it ends.
    pub(super) until: Option<Date>,
    /// The authority that phones have to trust, where it is the shop's own.
    pub(super) authority: Option<Vec<u8>>,
    /// The names it is known to carry.
    pub(super) names: Vec<String>,
}

impl Tls {
    /// Of two PEM files: the certificates, the server's own first, and its key.
    pub(super) fn given(certificate: &Path, key: &Path) -> Result<Self, StartError> {
        let chain: Vec<CertificateDer<'static>> = CertificateDer::pem_file_iter(certificate)
            .and_then(Iterator::collect)
            .map_err(|error| unusable(certificate, error))?;
        let key = PrivateKeyDer::from_pem_file(key).map_err(|error| unusable(key, error))?;
        let until = chain.first().and_then(|first| last_day(first));
        Ok(Self { acceptor: acceptor(chain, key)?, until, authority: None, names: Vec::new() })
    }

    /// The shop's own.
    pub(super) fn own(own: Own) -> Result<Self, StartError> {
        let not_read = |error| StartError::Certificate(format!("the shop's own does not read: {error}"));
        let leaf = CertificateDer::from_pem_slice(own.keys.certificate.as_bytes()).map_err(not_read)?;
        let key = PrivateKeyDer::from_pem_slice(own.keys.key.as_bytes()).map_err(not_read)?;
        Ok(Self {
            acceptor: acceptor(vec![leaf], key)?,
            until: Some(own.until),
            authority: Some(own.authority),
            names: own.keys.names,
        })
    }
}

fn unusable(file: &Path, error: impl std::fmt::Display) -> StartError {
    StartError::Certificate(format!("{} does not read as PEM: {error}", file.display()))
}

fn acceptor(chain: Vec<CertificateDer<'static>>, key: PrivateKeyDer<'static>) -> Result<TlsAcceptor, StartError> {
    let not_taken = |error| StartError::Certificate(format!("{error}"));
    let mut config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()))
        .with_safe_default_protocol_versions()
        .and_then(|builder| builder.with_no_client_auth().with_single_cert(chain, key))
        .map_err(|error: tokio_rustls::rustls::Error| not_taken(error))?;
    config.alpn_protocols = vec![b"http/1.1".to_vec()];
    Ok(TlsAcceptor::from(Arc::new(config)))
}
