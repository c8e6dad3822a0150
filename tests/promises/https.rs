//! The real program behind its own certificate, asked by a client that trusts the shop's authority and nothing else.

use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::pem::PemObject as _;
use tokio_rustls::rustls::pki_types::{CertificateDer, ServerName};
use tokio_rustls::rustls::{ClientConfig, ClientConnection, RootCertStore, StreamOwned};

use crate::folder::Folder;

pub(crate) struct Serving {
    pub(crate) child: Child,
    pub(crate) address: String,
    pub(crate) setup: String,
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub(crate) fn tackbook(folder: &Folder, call: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tackbook"));
    command.arg(call).arg("--folder").arg(&folder.0).stderr(Stdio::null());
    command
}

pub(crate) fn serve(folder: &Folder, more: &[&str]) -> Serving {
    let mut child =
        tackbook(folder, "serve").args(["--listen", "127.0.0.1:0"]).args(more).stdout(Stdio::piped()).spawn().unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    let open = lines.next().unwrap();
    let scheme = open.strip_prefix("The shop is open at ").unwrap();
    let setup = lines.find(|line| line.contains("/set-up/")).unwrap();
    let setup = setup.split_at(setup.find("/set-up/").unwrap()).1.to_owned();
    Serving { child, address: scheme.rsplit_once("://").unwrap().1.to_owned(), setup }
}

fn answer(mut line: impl std::io::Read + std::io::Write, request: &str) -> std::io::Result<String> {
    line.write_all(request.as_bytes())?;
    let mut bytes = Vec::new();
    // some servers close without TLS's own goodbye
    match line.read_to_end(&mut bytes) {
        Err(error) if bytes.is_empty() => Err(error),
        _ => Ok(String::from_utf8_lossy(&bytes).into_owned()),
    }
}

pub(crate) fn connected(address: &str) -> TcpStream {
    let stream = TcpStream::connect(address).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(30))).unwrap();
    stream
}

/// What the server says under a name to whoever trusts this authority.
fn sealed(address: &str, authority: Option<&[u8]>, name: &str, request: &str) -> std::io::Result<String> {
    let mut roots = RootCertStore::empty();
    if let Some(authority) = authority {
        roots.add(CertificateDer::from(authority.to_vec())).unwrap();
    }
    let config = ClientConfig::builder_with_provider(Arc::new(ring::default_provider()))
        .with_safe_default_protocol_versions()
        .unwrap()
        .with_root_certificates(roots)
        .with_no_client_auth();
    let client = ClientConnection::new(Arc::new(config), ServerName::try_from(name.to_owned()).unwrap()).unwrap();
    answer(StreamOwned::new(client, connected(address)), request)
}

fn get(path: &str, host: &str) -> String {
    format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n")
}

#[test]
fn https_and_plain_http_at_one_port_for_whoever_trusts_the_shops_authority() {
    let folder = Folder::new();
    let made = tackbook(&folder, "certificate").args(["tackbook.shop", "--name", "bench.local"]).output().unwrap();
    let said = String::from_utf8_lossy(&made.stdout).into_owned();
    assert!(made.status.success() && said.contains("bench.local") && said.contains("127.0.0.1"), "{said}");
    let serving = serve(&folder, &[]);
    let address = serving.address.as_str();

    // the authority comes over plain http, in the type by which phones know one, and is the one that was printed
    let stream = connected(address);
    let mut raw = Vec::new();
    (&stream).write_all(get("/trust/authority.crt", address).as_bytes()).unwrap();
    (&stream).read_to_end(&mut raw).unwrap();
    let head_ends = raw.windows(4).position(|four| four == b"\r\n\r\n").unwrap();
    let head = String::from_utf8_lossy(&raw[..head_ends]).to_lowercase();
    assert!(head.contains("content-type: application/x-x509-ca-cert"), "{head}");
    let authority = &raw[head_ends + 4..];
    assert!(said.contains(tackbook::domain::words::fingerprint::Fingerprint::of(authority).text()), "{said}");

    for (name, host) in
        [("tackbook.shop", "tackbook.shop:7350"), ("127.0.0.1", address), ("bench.local", "bench.local")]
    {
        let health = sealed(address, Some(authority), name, &get("/health", host)).unwrap();
        assert!(health.starts_with("HTTP/1.1 200") && health.ends_with("ok\n"), "{name}: {health}");
        let named = name != "127.0.0.1";
        assert_eq!(health.to_lowercase().contains("strict-transport-security: max-age=31536000"), named, "{health}");
    }
    let plain = answer(connected(address), &get("/health", "tackbook.shop")).unwrap();
    assert!(plain.starts_with("HTTP/1.1 200") && !plain.to_lowercase().contains("strict-transport"), "{plain}");
    let other = sealed(address, Some(authority), "tackbook.shop", &get("/health", "elsewhere.example")).unwrap();
    assert!(!other.starts_with("HTTP/1.1 200"), "{other}");

    assert!(sealed(address, Some(authority), "elsewhere.example", &get("/health", "tackbook.shop")).is_err());
    assert!(sealed(address, None, "tackbook.shop", &get("/health", "tackbook.shop")).is_err());

    // the cookie of https is another than that of plain http, and never goes out on it
    let form = "name=office&password=four+green+sticks";
    let begin = format!(
        "POST {} HTTP/1.1\r\nHost: tackbook.shop\r\nSec-Fetch-Site: same-origin\r\nContent-Length: {}\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nConnection: close\r\n\r\n{form}",
        serving.setup,
        form.len()
    );
    let begun = sealed(address, Some(authority), "tackbook.shop", &begin).unwrap();
    let cookie = begun.lines().find(|line| line.to_lowercase().starts_with("set-cookie:")).unwrap();
    assert!(cookie.contains("__Host-tackbook=") && cookie.ends_with("HttpOnly; SameSite=Lax; Secure"), "{cookie}");
    let pair = cookie.split_once(": ").unwrap().1.split(';').next().unwrap();
    let with = |cookie: &str| {
        get("/shop/health", "tackbook.shop").replace("Connection", &format!("Cookie: {cookie}\r\nConnection"))
    };
    let health = sealed(address, Some(authority), "tackbook.shop", &with(pair)).unwrap();
    assert!(health.contains("The certificate is good until"), "{health}");
    let unsealed = answer(connected(address), &with(pair)).unwrap();
    assert!(unsealed.contains("/sign-in"), "{unsealed}");
    let renamed = sealed(address, Some(authority), "tackbook.shop", &with(&pair.replace("__Host-", ""))).unwrap();
    assert!(renamed.contains("/sign-in"), "{renamed}");
}

#[test]
fn a_given_certificate_is_shown_and_a_wrong_one_refused_in_words() {
    let (own, folder) = (Folder::new(), Folder::new());
    assert!(tackbook(&own, "certificate").arg("given.shop").output().unwrap().status.success());
    let keys: serde_json::Value =
        serde_json::from_slice(&std::fs::read(own.0.join("keys/certificate.json")).unwrap()).unwrap();
    let file = |name: &str, text: &str| {
        let file = own.0.join(name);
        std::fs::write(&file, text).unwrap();
        file.to_str().unwrap().to_owned()
    };
    let (cert, key) =
        (file("c.pem", keys["certificate"].as_str().unwrap()), file("k.pem", keys["key"].as_str().unwrap()));
    let serving = serve(&folder, &["--tls-cert", &cert, "--tls-key", &key, "--name", "given.shop"]);
    let authority = CertificateDer::from_pem_slice(keys["authority_certificate"].as_str().unwrap().as_bytes()).unwrap();
    let answer = sealed(&at_home(&serving), Some(&authority), "given.shop", &get("/trust", "given.shop")).unwrap();
    assert!(answer.starts_with("HTTP/1.1 200") && answer.contains("given to it"), "{answer}");
    drop(serving);
    let other = file("other.pem", keys["authority_key"].as_str().unwrap());
    let mut wrong = tackbook(&folder, "serve");
    let wrong =
        wrong.args(["--listen", "127.0.0.1:0", "--tls-cert", &cert, "--tls-key", &other]).stderr(Stdio::piped());
    let wrong = wrong.output().unwrap();
    assert_eq!(wrong.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("The certificate cannot be used"), "{wrong:?}");
}

/// Where a server listens that says its name.
pub(crate) fn at_home(serving: &Serving) -> String {
    format!("127.0.0.1:{}", serving.address.rsplit_once(':').unwrap().1)
}
