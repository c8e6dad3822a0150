//! The real program under pictures that were made to take its memory: bombs, giants, headers that lie, and forms as large as
//! may be, all at once. Server and children together are measured while it goes on.
#![cfg(target_os = "linux")]

use std::io::{Cursor, Read as _, Write as _};
use std::net::TcpStream;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder as _, ImageFormat};
use jpeg_encoder::{ColorType, Encoder};
use tackbook::domain::words::fingerprint::Fingerprint;

use crate::folder::Folder;
use crate::https::{Serving, serve};

/// What server and children may take together.
const MOST: u64 = 450_000_000;
/// As much as one photograph may have.
const LARGEST: usize = 64 << 20;
const PART: usize = 4 << 20;
const BOUNDARY: &str = "between-the-fields";

/// Somebody signed in, at a build.
struct Client {
    address: String,
    cookie: String,
    /// Until when the end of what it sends is held back: so that what it sent before lies in memory.
    holds_back: Option<Instant>,
}

impl Client {
    /// The office of a new shop, in which a build was begun.
    fn begin(serving: &Serving) -> Self {
        let mut client = Self { address: serving.address.clone(), cookie: String::new(), holds_back: None };
        let form = [("Content-Type", "application/x-www-form-urlencoded")];
        let begun = client.ask("POST", &serving.setup, &form, b"name=office&password=four+green+sticks");
        let cookie = begun.lines().find(|line| line.to_lowercase().starts_with("set-cookie:")).unwrap();
        cookie.split_once(": ").unwrap().1.split(';').next().unwrap().clone_into(&mut client.cookie);
        let build = client.ask("POST", "/builds/new", &form, b"name=Pine+Coupe");
        assert!(build.starts_with("HTTP/1.1 303"), "{build}");
        client
    }

    /// What is answered, as it comes; nothing where the connection ended without a word.
    fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> String {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        stream.set_read_timeout(Some(Duration::from_mins(4))).unwrap();
        let mut head = format!(
            "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nSec-Fetch-Site: same-origin\r\nConnection: close\r\n\
             Cookie: {}\r\nContent-Length: {}\r\n",
            self.cookie,
            body.len()
        );
        for (name, value) in headers {
            head.extend([name, ": ", value, "\r\n"]);
        }
        head.push_str("\r\n");
        let (first, rest) = body.split_at(body.len() - if self.holds_back.is_some() { 1 << 10 } else { 0 });
        // who is turned away may be so before all was written
        let _ = stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(first));
        if let Some(moment) = self.holds_back {
            std::thread::sleep(moment.saturating_duration_since(Instant::now()));
        }
        let _ = stream.write_all(rest);
        let mut said = Vec::new();
        let _ = stream.read_to_end(&mut said);
        String::from_utf8_lossy(&said).into_owned()
    }

    /// Sends a photograph in parts, again when there are too many, and gives the last answer.
    fn send(&self, bytes: &[u8]) -> String {
        let (sha256, capture) = (Fingerprint::of(bytes), uuid::Uuid::now_v7());
        let told = serde_json::json!({ "sha256": sha256, "size": bytes.len(), "type": "image/jpeg", "shot": "",
            "note": "", "taken": null });
        let path = format!("/builds/pine-coupe/captures/{capture}");
        let declared = self.ask("PUT", &path, &[], told.to_string().as_bytes());
        assert!(declared.starts_with("HTTP/1.1 201"), "{declared}");
        let path = format!("/builds/pine-coupe/uploads/{sha256}");
        let (mut offset, begun) = (0, Instant::now());
        loop {
            let end = bytes.len().min(offset + PART);
            let (at, last) = (offset.to_string(), if end == bytes.len() { "?1" } else { "?0" });
            let headers =
                [("Content-Type", "application/partial-upload"), ("Upload-Offset", &at), ("Upload-Complete", last)];
            let said = self.ask("PATCH", &path, &headers, &bytes[offset..end]);
            if said.starts_with("HTTP/1.1 503") || said.is_empty() {
                assert!(begun.elapsed() < Duration::from_mins(5), "never taken: {said}");
                std::thread::sleep(Duration::from_millis(200));
            } else if said.starts_with("HTTP/1.1 204") {
                offset = end;
            } else {
                return said;
            }
        }
    }

    /// Sends a photograph by the plain form, and gives the answer.
    fn post(&self, bytes: &[u8]) -> String {
        let field = |name: &str, more: &str| {
            format!("--{BOUNDARY}\r\nContent-Disposition: form-data; name=\"{name}\"{more}\r\n\r\n")
        };
        let mut body = format!("{}{}\r\n", field("capture", ""), uuid::Uuid::now_v7()).into_bytes();
        body.extend(format!("{}\r\n{}", field("shot", ""), field("photo", "; filename=\"a.jpg\"")).into_bytes());
        body.extend_from_slice(bytes);
        body.extend(format!("\r\n--{BOUNDARY}--\r\n").into_bytes());
        let kind = format!("multipart/form-data; boundary={BOUNDARY}");
        self.ask("POST", "/builds/pine-coupe/walk/photos", &[("Content-Type", &kind)], &body)
    }
}

/// A plain picture of one colour.
fn png(side: (u32, u32), bytes_a_dot: usize, colour: ExtendedColorType, profile: usize) -> Vec<u8> {
    let dots = vec![90; side.0 as usize * side.1 as usize * bytes_a_dot];
    let mut out = Vec::new();
    let mut encoder = PngEncoder::new(&mut out);
    if profile > 0 {
        encoder.set_icc_profile(vec![0; profile]).unwrap();
    }
    encoder.write_image(&dots, side.0, side.1, colour).unwrap();
    out
}

fn jpeg((width, height): (u16, u16), in_passes: bool) -> Vec<u8> {
    let dots = vec![90; usize::from(width) * usize::from(height) * 3];
    let mut out = Vec::new();
    let mut encoder = Encoder::new(&mut out, 90);
    encoder.set_progressive(in_passes);
    encoder.encode(&dots, width, height, ColorType::Rgb).unwrap();
    out
}

/// A JPEG whose header claims another size than its data has.
fn claiming(mut jpeg: Vec<u8>, height: u16, width: u16) -> Vec<u8> {
    let frame = jpeg.windows(2).position(|pair| matches!(pair, [0xff, 0xc0 | 0xc2])).unwrap();
    jpeg[frame + 5..frame + 7].copy_from_slice(&height.to_be_bytes());
    jpeg[frame + 7..frame + 9].copy_from_slice(&width.to_be_bytes());
    jpeg
}

/// As large as may be: the beginning of a JPEG, then nothing but notes of cameras, or noise.
fn stuffed(seed: u32, with_notes: bool) -> Vec<u8> {
    let mut state = seed;
    let noise = (0..65_533).map(|_| {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        state.to_be_bytes()[0]
    });
    let mut segment = if with_notes { vec![0xff, 0xe1, 0xff, 0xff] } else { vec![0xff, 0xda, 0x00, 0x08] };
    segment.extend(noise);
    let mut bytes = Vec::with_capacity(LARGEST);
    bytes.extend([0xff, 0xd8]);
    while bytes.len() + segment.len() < LARGEST {
        bytes.extend_from_slice(&segment);
    }
    bytes
}

/// Pictures made to take memory, each with what it is.
fn hostile() -> Vec<(&'static str, Vec<u8>)> {
    let webp = |width, height| {
        let mut out = Cursor::new(Vec::new());
        let picture = image::RgbImage::from_pixel(width, height, image::Rgb([90; 3]));
        picture.write_to(&mut out, ImageFormat::WebP).unwrap();
        out.into_inner()
    };
    vec![
        ("a bomb of 47 million dots", png((7_200, 6_600), 3, ExtendedColorType::Rgb8, 0)),
        ("a deep and see-through bomb", png((5_000, 5_000), 8, ExtendedColorType::Rgba16, 0)),
        ("a bomb beyond every bound", png((20_000, 5_400), 1, ExtendedColorType::L8, 0)),
        ("a small picture with a colour profile of 300 MB", png((400, 300), 3, ExtendedColorType::Rgb8, 300 << 20)),
        ("47 million dots in passes", jpeg((7_200, 6_600), true)),
        ("47 million dots in one pass", jpeg((7_200, 6_600), false)),
        ("a header that claims 108 million dots", claiming(jpeg((640, 480), false), 19_900, 5_430)),
        ("the same in passes", claiming(jpeg((640, 480), true), 5_430, 19_900)),
        ("45 million dots of WebP", webp(7_000, 6_500)),
        ("a see-through giant", png((6_000, 5_900), 4, ExtendedColorType::Rgba8, 0)),
        ("notes without an end", stuffed(1, true)),
        ("noise as large as may be", stuffed(2, false)),
    ]
}

/// The memory of a process that is its own, and its part of what it shares, in bytes; none when it has ended.
fn taken(process: &str) -> Option<u64> {
    let rolled = std::fs::read_to_string(format!("/proc/{process}/smaps_rollup")).ok()?;
    let line = rolled.lines().find_map(|line| line.strip_prefix("Pss:"))?;
    line.split_whitespace().next()?.parse::<u64>().ok().map(|kibibytes| kibibytes << 10)
}

/// The server's and those of all that it started: the sum, and how many they are.
fn together(server: u32) -> (u64, usize) {
    let mut all = vec![server.to_string()];
    for process in std::fs::read_dir("/proc").unwrap().flatten() {
        let name = process.file_name().to_string_lossy().into_owned();
        let stat = std::fs::read_to_string(process.path().join("stat")).unwrap_or_default();
        let parent = stat.rsplit_once(") ").and_then(|(_, rest)| rest.split(' ').nth(1)?.parse::<u32>().ok());
        if parent == Some(server) {
            all.push(name);
        }
    }
    let sizes: Vec<u64> = all.iter().filter_map(|process| taken(process)).collect();
    (sizes.iter().sum(), sizes.len())
}

/// Whoever watches a server and all that it started.
struct Watch {
    ended: Arc<AtomicBool>,
    highest: Arc<Mutex<(u64, usize)>>,
    watching: std::thread::JoinHandle<()>,
}

impl Watch {
    fn begin(server: u32) -> Self {
        let (ended, highest) = (Arc::new(AtomicBool::new(false)), Arc::new(Mutex::new((0_u64, 0_usize))));
        let (until, seen) = (Arc::clone(&ended), Arc::clone(&highest));
        let watching = std::thread::spawn(move || {
            while !until.load(Ordering::Relaxed) {
                let now = together(server);
                let mut highest = seen.lock().unwrap();
                *highest = (highest.0.max(now.0), highest.1.max(now.1));
                drop(highest);
                std::thread::sleep(Duration::from_millis(5));
            }
        });
        Self { ended, highest, watching }
    }

    /// The most memory that they took together, and how many they were.
    fn end(self) -> (u64, usize) {
        self.ended.store(true, Ordering::Relaxed);
        self.watching.join().unwrap();
        *self.highest.lock().unwrap()
    }
}

#[test]
fn server_and_children_stay_under_450_mb_whatever_pictures_come() {
    let (folder, hostile) = (Folder::new(), hostile());
    let serving = serve(&folder, &[]);
    let client = Arc::new(Client::begin(&serving));
    let (quiet, _) = together(serving.child.id());
    let watch = Watch::begin(serving.child.id());
    let sending: Vec<_> = hostile
        .into_iter()
        .map(|(what, bytes)| {
            let client = Arc::clone(&client);
            std::thread::spawn(move || (what, client.send(&bytes)))
        })
        .collect();
    for one in sending {
        let (what, said) = one.join().unwrap();
        assert!(said.starts_with("HTTP/1.1 200"), "{what}: {}", said.get(..400).unwrap_or(&said));
    }
    let good = client.send(&jpeg((1_200, 900), false));
    assert!(good.starts_with("HTTP/1.1 200") && good.contains("\"dots\":[1200,900]"), "{good}");
    let (most, processes) = watch.end();
    println!("{} MB at rest, {} MB at most, {processes} processes at once", quiet / 1_000_000, most / 1_000_000);
    assert!(processes >= 2, "no child was seen: what was measured is not what was meant");
    assert!(most <= MOST, "{most} bytes, {processes} processes");
}

#[test]
fn server_and_children_stay_under_450_mb_whatever_forms_come() {
    let folder = Folder::new();
    let serving = serve(&folder, &[]);
    let client = Client::begin(&serving);
    let watch = Watch::begin(serving.child.id());
    let (address, cookie) = (client.address.clone(), client.cookie.clone());
    let forms: Vec<Vec<u8>> = (10..16).map(|seed| stuffed(seed, seed % 2 == 0)).collect();
    let moment = Instant::now() + Duration::from_secs(5);
    let posting: Vec<_> = forms
        .into_iter()
        .map(|bytes| {
            let one = Client { address: address.clone(), cookie: cookie.clone(), holds_back: Some(moment) };
            std::thread::spawn(move || one.post(&bytes))
        })
        .collect();
    let said: Vec<String> = posting.into_iter().map(|one| one.join().unwrap()).collect();
    let kept = said.iter().filter(|said| said.starts_with("HTTP/1.1 303")).count();
    assert!(kept >= 2, "{said:?}");
    assert!(
        said.iter().all(|said| said.starts_with("HTTP/1.1 303") || said.starts_with("HTTP/1.1 503") || said.is_empty())
    );
    let (most, processes) = watch.end();
    println!("{} MB at most, {kept} of six forms kept, {processes} processes at once", most / 1_000_000);
    assert!(most <= MOST, "{most} bytes, {processes} processes");
}
