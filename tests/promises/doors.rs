//! The real program with clients who say nothing, or half of it: nobody else is kept out by them, and none of them keeps it
//! from stopping.

use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::process::ExitStatus;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process};
use tokio::io::{AsyncReadExt as _, AsyncWriteExt as _};
use tokio::net::TcpSocket;

use crate::folder::Folder;
use crate::https::{Serving, at_home, connected, serve, tackbook};

const HALF: &[u8] = b"GET /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Half: ";

fn half_sent(address: &str) -> TcpStream {
    let mut stream = connected(address);
    stream.write_all(HALF).unwrap();
    stream
}

fn tell(serving: &Serving, signal: Signal) {
    kill_process(Pid::from_child(&serving.child), signal).unwrap();
}

/// How the program ended and how long that took.
fn ended(mut serving: Serving) -> (ExitStatus, Duration) {
    let begun = Instant::now();
    let status = serving.child.wait().unwrap();
    (status, begun.elapsed())
}

#[test]
fn a_half_sent_head_keeps_nobody_from_stopping_it_in_good_order() {
    let folder = Folder::new();
    let serving = serve(&folder, &[]);
    let mut half = half_sent(&serving.address);
    // one that is half way through a form
    let mut form = connected(&serving.address);
    form.write_all(b"POST /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 99\r\n\r\nname=").unwrap();
    std::thread::sleep(Duration::from_millis(300));
    tell(&serving, Signal::TERM);
    let (status, took) = ended(serving);
    assert!(status.success() && took < Duration::from_secs(10), "{status:?} after {took:?}");
    assert!(matches!(half.read(&mut [0; 8]), Ok(0) | Err(_)));
    // in good order: the write-ahead log was folded in, and the folder is free
    let log = std::fs::metadata(folder.0.join("tackbook.db-wal")).map_or(0, |log| log.len());
    assert_eq!(log, 0);
    drop(serve(&folder, &[]));
}

#[test]
fn told_twice_it_stops_at_once() {
    let folder = Folder::new();
    let serving = serve(&folder, &[]);
    let _half = half_sent(&serving.address);
    std::thread::sleep(Duration::from_millis(300));
    tell(&serving, Signal::INT);
    std::thread::sleep(Duration::from_millis(500));
    tell(&serving, Signal::INT);
    let (_, took) = ended(serving);
    assert!(took < Duration::from_secs(1), "{took:?}");
    drop(serve(&folder, &[]));
}

#[test]
fn a_head_that_is_not_sent_to_its_end_is_cut_off() {
    let folder = Folder::new();
    let serving = serve(&folder, &[]);
    let mut half = half_sent(&serving.address);
    let begun = Instant::now();
    let mut said = Vec::new();
    // the end of the connection, with words or without
    let _ = half.read_to_end(&mut said);
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}

/// What the server says to a client at another address of this machine, within so long.
async fn visitor(address: &str, within: Duration) -> String {
    let asked = async {
        let socket = TcpSocket::new_v4().unwrap();
        socket.bind("127.0.0.2:0".parse().unwrap()).unwrap();
        let mut stream = socket.connect(address.parse().unwrap()).await.unwrap();
        let request = b"GET /sign-in HTTP/1.1\r\nHost: 127.0.0.1\r\nConnection: close\r\n\r\n";
        stream.write_all(request).await.unwrap();
        let mut said = String::new();
        stream.read_to_string(&mut said).await.unwrap();
        said
    };
    tokio::time::timeout(within, asked).await.unwrap_or_else(|_| "nothing in time".to_owned())
}

#[tokio::test]
async fn hundreds_of_half_sent_heads_of_one_address_shut_no_other_out() {
    let folder = Folder::new();
    let serving = serve(&folder, &[]);
    let halves: Vec<TcpStream> = (0..500)
        .filter_map(|_| {
            let mut stream = TcpStream::connect(&serving.address).ok()?;
            // turned away already, perhaps
            let _ = stream.write_all(HALF);
            Some(stream)
        })
        .collect();
    assert!(halves.len() > 400, "{}", halves.len());
    let said = visitor(&serving.address, Duration::from_secs(2)).await;
    assert!(said.starts_with("HTTP/1.1 200"), "{said}");
}

#[tokio::test]
async fn three_hundred_silent_connections_at_the_sealed_door_hold_no_visitor() {
    let folder = Folder::new();
    let made = tackbook(&folder, "certificate").arg("tackbook.shop").output().unwrap();
    let serving = serve(&folder, &[]);
    let address = at_home(&serving);
    let silent: Vec<TcpStream> = (0..300).filter_map(|_| TcpStream::connect(&address).ok()).collect();
    assert!(silent.len() > 250, "{} {made:?}", silent.len());
    let said = visitor(&address, Duration::from_secs(2)).await;
    assert!(said.starts_with("HTTP/1.1"), "{said}");
}
