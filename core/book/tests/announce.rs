//! Desks, phones, strangers and hostile devices on networks of their own:
//! network namespaces joined by cables (`ip netns`, `veth`), so that nothing is
//! said on the machine's real networks.
//!
//! Whoever speaks is a process of its own: each test starts itself again inside
//! a namespace, with its part in the environment.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stderr,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::env;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{IpAddr, Ipv4Addr, SocketAddr, SocketAddrV4, UdpSocket};
use std::process::{Child, ChildStdin, Command, Stdio, id};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;
use std::time::Duration;

use data_encoding::HEXLOWER;
use pitside_book::announce::{Announcer, Interfaces, find};
use pitside_book::keys::{Identity, OsRng, Seed};
use pitside_model::facts::DeviceKey;
use zeroize::Zeroizing;

const PART: &str = "PITSIDE_TEST_PART";
const DESK: Ipv4Addr = Ipv4Addr::new(10, 77, 0, 1);
const PHONE: Ipv4Addr = Ipv4Addr::new(10, 77, 0, 2);
/// The desk's other card, and who is at the other end of it.
const DESK_TOO: Ipv4Addr = Ipv4Addr::new(10, 78, 0, 1);
const NEIGHBOUR: Ipv4Addr = Ipv4Addr::new(10, 78, 0, 2);
const GROUP: Ipv4Addr = Ipv4Addr::new(224, 0, 0, 251);
const MDNS: u16 = 5353;
const PORT: u16 = 4417;

fn key(n: u8) -> DeviceKey {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32]))).key()
}

fn on(address: Ipv4Addr) -> Interfaces {
    Interfaces::With(vec![IpAddr::V4(address)])
}

/// What a part says to the test: a line with this mark.
fn say(what: &str) {
    eprintln!("SAID {what}");
}

/// Whose namespace.
#[derive(Clone, Copy)]
enum At {
    Desk,
    Phone,
    Neighbour,
}

/// A namespace each for desk, phone and neighbour, and a cable from the desk to
/// each of the others; gone when dropped.
struct Cables {
    test: &'static str,
    names: [String; 3],
}

impl Cables {
    /// `None` if this machine cannot; with CI=true that is a failure.
    fn lay(test: &'static str, n: u8) -> Option<Self> {
        let names = ["desk", "phone", "neighbour"].map(|who| format!("pitside-{}-{n}-{who}", id()));
        let [desk, phone, neighbour] = &names;
        let cables = Self { test, names: names.clone() };
        let mut steps: Vec<String> = names.iter().map(|name| format!("netns add {name}")).collect();
        steps.push(format!("link add eth0 netns {desk} type veth peer name eth0 netns {phone}"));
        steps.push(format!("link add eth1 netns {desk} type veth peer name eth0 netns {neighbour}"));
        for (name, card, address) in [
            (desk, "eth0", DESK),
            (desk, "eth1", DESK_TOO),
            (phone, "eth0", PHONE),
            (neighbour, "eth0", NEIGHBOUR),
        ] {
            steps.push(format!("-n {name} address add {address}/24 dev {card}"));
            steps.push(format!("-n {name} link set {card} up"));
            steps.push(format!("-n {name} link set lo up"));
        }
        for step in steps {
            let done = Command::new("ip").args(step.split(' ')).output();
            // A kernel that gives nobody a network of his own is the machine's to
            // decide; a missing program is a fault where CI runs.
            let why = match done {
                Ok(done) if done.status.success() => continue,
                Ok(done) => String::from_utf8_lossy(&done.stderr).into_owned(),
                Err(error) => {
                    assert!(env::var_os("CI").is_none_or(|ci| ci != "true"), "ip: {error}");
                    error.to_string()
                }
            };
            let said = format!("{test}: left out, no network of its own here: ip {step}: {why}\n");
            std::io::stderr().write_all(said.as_bytes()).unwrap();
            return None;
        }
        Some(cables)
    }

    /// Starts this test again at one of the ends, as `part`.
    fn play(&self, at: At, part: &str) -> Player {
        let mut child = Command::new("ip")
            .args(["netns", "exec", &self.names[at as usize]])
            .arg(env::current_exe().unwrap())
            .args(["--exact", self.test, "--nocapture"])
            .env(PART, part)
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let (tell, said) = channel();
        let errors = BufReader::new(child.stderr.take().unwrap());
        thread::spawn(move || {
            for line in errors.lines().map_while(Result::ok) {
                match line.strip_prefix("SAID ") {
                    Some(what) => drop(tell.send(what.to_owned())),
                    None => eprintln!("{line}"),
                }
            }
        });
        Player { part: part.to_owned(), stdin: child.stdin.take(), child, said }
    }

    /// Plays a part to its end; all it said.
    fn played(&self, at: At, part: &str) -> Vec<String> {
        self.play(at, part).end()
    }
}

impl Drop for Cables {
    fn drop(&mut self) {
        for name in &self.names {
            // Best effort: where laying it failed there may be none.
            let _ = Command::new("ip").args(["netns", "delete", name]).output();
        }
    }
}

struct Player {
    part: String,
    child: Child,
    stdin: Option<ChildStdin>,
    said: Receiver<String>,
}

impl Player {
    fn hear(&self) -> String {
        let said = self.said.recv_timeout(Duration::from_secs(60));
        said.unwrap_or_else(|_| panic!("{} says nothing", self.part))
    }

    /// Tells it to stop what it does, and waits until it says so.
    fn stop(&mut self) {
        self.stdin.as_mut().unwrap().write_all(b"\n").unwrap();
        assert_eq!(self.hear(), "stopped");
    }

    /// Tells it to end, and waits until it has; what it said and nobody heard.
    fn end(mut self) -> Vec<String> {
        drop(self.stdin.take());
        let said = self.said.iter().collect();
        assert!(self.child.wait().unwrap().success(), "{} failed", self.part);
        said
    }
}

impl Drop for Player {
    fn drop(&mut self) {
        // Only where the test has failed is it still running.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn until_told_to_end() {
    let _ = std::io::stdin().read_to_end(&mut Vec::new());
}

fn play(part: &str) {
    match part.split(' ').collect::<Vec<_>>().as_slice() {
        ["desk", n, cards] => {
            let key = key(n.parse().unwrap());
            let interfaces = if *cards == "all" { Interfaces::All } else { on(DESK) };
            let announcer = Announcer::start(key, &interfaces, PORT, &mut OsRng).unwrap();
            assert!(announcer.is_announced(Duration::from_secs(30)));
            say("announced");
            std::io::stdin().lines().next();
            drop(announcer);
            say("stopped");
            until_told_to_end();
        }
        ["phone", n, cards, seconds] => {
            let wait = Duration::from_secs(seconds.parse().unwrap());
            let interfaces = match *cards {
                "all" => Interfaces::All,
                "two" => on(DESK),
                _ => on(PHONE),
            };
            match find(key(n.parse().unwrap()), &interfaces, wait) {
                Ok(places) => places.iter().for_each(|place| say(&place.to_string())),
                Err(error) => say(&format!("{error:?}")),
            }
        }
        ["stranger", address] => listen(address.parse().unwrap()),
        ["odd"] => answer(&odd_answers()),
        ["flood"] => answer(&flood()),
        other => panic!("no part {other:?}"),
    }
}

/// A socket in the group, beside others on this machine that are.
fn group_socket(address: Ipv4Addr) -> UdpSocket {
    let socket = socket2::Socket::new(socket2::Domain::IPV4, socket2::Type::DGRAM, None).unwrap();
    socket.set_reuse_address(true).unwrap();
    socket.set_reuse_port(true).unwrap();
    socket.bind(&SocketAddr::from((Ipv4Addr::UNSPECIFIED, MDNS)).into()).unwrap();
    socket.join_multicast_v4(&GROUP, &address).unwrap();
    socket.set_multicast_if_v4(&address).unwrap();
    let socket = UdpSocket::from(socket);
    socket.set_read_timeout(Some(Duration::from_millis(100))).unwrap();
    socket
}

/// Ends when the test says so.
fn ended() -> Receiver<()> {
    let (tell, ended) = channel();
    thread::spawn(move || {
        until_told_to_end();
        drop(tell);
    });
    ended
}

/// Hears everything on the network until a desk has announced itself or it is
/// told to end, and says what it heard.
fn listen(address: Ipv4Addr) {
    let socket = group_socket(address);
    let ended = ended();
    say("listening");
    let mut bytes = [0; 9_000];
    while ended.try_recv() == Err(TryRecvError::Empty) {
        let Ok(length) = socket.recv(&mut bytes) else { continue };
        say(&HEXLOWER.encode(&bytes[..length]));
        if contains(&bytes[..length], b"check=") {
            break;
        }
    }
    say("heard");
}

/// Sends `datagrams` whenever somebody asks.
fn answer(datagrams: &[Vec<u8>]) {
    let socket = group_socket(DESK);
    let ended = ended();
    say("ready");
    let mut bytes = [0; 9_000];
    while ended.try_recv() == Err(TryRecvError::Empty) {
        let Ok((length, from)) = socket.recv_from(&mut bytes) else { continue };
        // Byte 2, bit 7: a response, such as its own.
        let is_query = length > 12 && bytes[2] & 0x80 == 0;
        if is_query && from.ip() != IpAddr::V4(DESK) {
            for datagram in datagrams {
                // A full queue of the card's is all right: most go out.
                let _ = socket.send_to(datagram, SocketAddrV4::new(GROUP, MDNS));
            }
        }
    }
}

fn contains(bytes: &[u8], piece: &[u8]) -> bool {
    bytes.windows(piece.len()).any(|window| window == piece)
}

// The wire form of DNS (RFC 1035 §4.1), as far as an answer needs it.

fn name(labels: &[&str]) -> Vec<u8> {
    let mut bytes = Vec::new();
    for label in labels {
        bytes.push(u8::try_from(label.len()).unwrap());
        bytes.extend(label.as_bytes());
    }
    bytes.push(0);
    bytes
}

fn record(name: &[u8], kind: u16, data: &[u8]) -> Vec<u8> {
    let mut bytes = name.to_vec();
    bytes.extend(kind.to_be_bytes());
    bytes.extend(1_u16.to_be_bytes());
    bytes.extend(120_u32.to_be_bytes());
    bytes.extend(u16::try_from(data.len()).unwrap().to_be_bytes());
    bytes.extend(data);
    bytes
}

fn response(records: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = vec![0, 0, 0x84, 0, 0, 0];
    bytes.extend(u16::try_from(records.len()).unwrap().to_be_bytes());
    bytes.extend([0; 4]);
    bytes.extend(records.concat());
    bytes
}

/// The four records of an instance.
fn instance(label: &str, txt: &[u8], addresses: &[[u8; 4]]) -> Vec<Vec<u8>> {
    let service = name(&["_pitside", "_tcp", "local"]);
    let full = name(&[label, "_pitside", "_tcp", "local"]);
    let host = name(&[label, "local"]);
    let srv = [&[0, 0, 0, 0][..], &PORT.to_be_bytes(), &host].concat();
    let mut records = vec![record(&service, 12, &full), record(&full, 33, &srv), record(&full, 16, txt)];
    records.extend(addresses.iter().map(|address| record(&host, 1, address)));
    records
}

fn txt(strings: &[&[u8]]) -> Vec<u8> {
    strings.iter().flat_map(|s| [&[u8::try_from(s.len()).unwrap()], *s].concat()).collect()
}

/// Instances whose TXT is anything but the tag of key 1, and datagrams that are
/// no DNS.
fn odd_answers() -> Vec<Vec<u8>> {
    let (nonce, check) =
        (b"nonce=000102030405060708090a0b0c0d0e0f", b"check=000102030405060708090a0b0c0d0e0f");
    let txts: Vec<Vec<u8>> = vec![
        vec![],
        vec![0],
        vec![255, 1, 2, 3],
        txt(&[b"txtvers=1"]),
        txt(&[b"txtvers=1", nonce]),
        txt(&[b"txtvers=1", nonce, check]),
        txt(&[b"txtvers=2", nonce, check]),
        txt(&[b"txtvers=1", b"nonce", b"check"]),
        txt(&[b"txtvers=1", &[b'='; 200], b"\xff\xfe=\xff"]),
        txt(&[&[b'x'; 255], &[0; 255], &[b'='; 255], &[0xff; 255]]),
        txt(&[[b"nonce=".as_slice(), &[b'0'; 240]].concat().as_slice(), check]),
    ];
    let mut datagrams: Vec<Vec<u8>> = txts
        .iter()
        .enumerate()
        .map(|(n, txt)| response(&instance(&format!("odd{n}"), txt, &[[10, 77, 0, 66]])))
        .collect();
    datagrams.push(vec![]);
    datagrams.push(vec![0xff; 1_400]);
    // A name that points at itself (RFC 1035 §4.1.4), and a count without records.
    datagrams.push([&[0, 0, 0x84, 0, 0, 0, 0, 1, 0, 0, 0, 0][..], &[0xc0, 12, 0, 12, 0, 1]].concat());
    datagrams.push(vec![0, 0, 0x84, 0, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff]);
    datagrams
}

/// Twelve thousand records.
fn flood() -> Vec<Vec<u8>> {
    (0..1_000_u16)
        .map(|n| {
            let [high, low] = n.to_be_bytes();
            let addresses: Vec<[u8; 4]> = (0..9).map(|host| [10, high, low, host]).collect();
            response(&instance(&format!("flood{n}"), &txt(&[b"txtvers=1"]), &addresses))
        })
        .collect()
}

/// Lays the cables and goes on, or plays a part in a test that has laid them.
fn cables(test: &'static str, n: u8) -> Option<Cables> {
    match env::var(PART) {
        Ok(part) => {
            play(&part);
            None
        }
        Err(_) => Cables::lay(test, n),
    }
}

#[test]
fn a_phone_finds_its_own_desk_and_nothing_when_it_has_gone() {
    let test = "a_phone_finds_its_own_desk_and_nothing_when_it_has_gone";
    let Some(cables) = cables(test, 1) else { return };
    let mut desk = cables.play(At::Desk, "desk 1 one");
    assert_eq!(desk.hear(), "announced");
    let place = format!("{DESK}:{PORT}");
    assert_eq!(cables.played(At::Phone, "phone 1 one 20"), std::slice::from_ref(&place));
    // Another desk's athlete, on the same field.
    assert_eq!(cables.played(At::Phone, "phone 2 one 3"), [""; 0]);
    // Two desks on one network are told apart.
    let other = cables.play(At::Desk, "desk 2 one");
    assert_eq!(other.hear(), "announced");
    assert_eq!(cables.played(At::Phone, "phone 2 one 20"), [place]);
    // It is the announcer that ends here, and not the process.
    desk.stop();
    assert_eq!(cables.played(At::Phone, "phone 1 one 3"), [""; 0]);
    desk.end();
}

#[test]
fn only_the_interfaces_that_were_given_are_spoken_on() {
    let Some(cables) = cables("only_the_interfaces_that_were_given_are_spoken_on", 2) else { return };
    let neighbour = cables.play(At::Neighbour, &format!("stranger {NEIGHBOUR}"));
    assert_eq!(neighbour.hear(), "listening");
    let mut desk = cables.play(At::Desk, "desk 1 one");
    assert_eq!(desk.hear(), "announced");
    assert_eq!(cables.played(At::Phone, "phone 1 one 20"), [format!("{DESK}:{PORT}")]);
    desk.stop();
    desk.end();
    // Who has two cards, and searches on one of them.
    assert_eq!(cables.played(At::Desk, "phone 1 two 3"), [""; 0]);
    assert_eq!(neighbour.end(), ["heard"], "something was said on the other card");

    // With all, the neighbour hears it, and each finds what it can reach.
    let neighbour = cables.play(At::Neighbour, &format!("stranger {NEIGHBOUR}"));
    assert_eq!(neighbour.hear(), "listening");
    let desk = cables.play(At::Desk, "desk 1 all");
    assert_eq!(desk.hear(), "announced");
    while neighbour.hear() != "heard" {}
    for (at, own) in [(At::Phone, DESK), (At::Neighbour, DESK_TOO)] {
        let places = cables.played(at, "phone 1 all 20");
        let (v4, v6): (Vec<_>, Vec<_>) = places.iter().partition(|place| place.starts_with("10."));
        assert_eq!(v4, [&format!("{own}:{PORT}")], "{places:?}");
        // The system gives each card a link-local address too, in its own time.
        assert!(v6.iter().all(|place| place.starts_with("[fe80:") && place.contains('%')), "{places:?}");
    }
    desk.end();
    neighbour.end();
}

#[test]
fn a_stranger_learns_no_name_and_no_key_and_cannot_tell_two_starts_of_one_desk() {
    let test = "a_stranger_learns_no_name_and_no_key_and_cannot_tell_two_starts_of_one_desk";
    let Some(cables) = cables(test, 3) else { return };
    let starts = [(); 2].map(|()| {
        let stranger = cables.play(At::Phone, &format!("stranger {PHONE}"));
        assert_eq!(stranger.hear(), "listening");
        let desk = cables.play(At::Desk, "desk 1 one");
        assert_eq!(desk.hear(), "announced");
        let mut heard = Vec::new();
        loop {
            match stranger.hear().as_str() {
                "heard" => break heard,
                datagram => heard.extend(HEXLOWER.decode(datagram.as_bytes()).unwrap()),
            }
        }
    });

    let mut secret = vec![key(1).0.to_vec(), key(1).to_string().into_bytes()];
    for told in ["/proc/sys/kernel/hostname", "/etc/hostname"] {
        let name = std::fs::read_to_string(told).unwrap_or_default().trim().to_lowercase();
        // A name of a letter or two is in any bytes.
        let telling = name.len() > 4 && !"_pitside._tcp.local".contains(&name);
        secret.extend(telling.then(|| name.into_bytes()));
    }
    for heard in &starts {
        let lowered = heard.to_ascii_lowercase();
        for secret in &secret {
            // Nor the first half of it.
            let piece = &secret[..secret.len().min(16)];
            assert!(!contains(heard, piece), "{:?}", String::from_utf8_lossy(secret));
            assert!(!contains(&lowered, piece), "{:?}", String::from_utf8_lossy(secret));
        }
    }
    // What the two have in common is what every desk says.
    let value = |heard: &[u8], mark: &[u8]| {
        let at = heard.windows(mark.len()).position(|window| window == mark).unwrap() + mark.len();
        heard[at..at + 32].to_vec()
    };
    // The label of the instance stands before the service's, after its length.
    let label = |heard: &[u8]| {
        let at = heard.windows(9).position(|window| window == b"\x08_pitside").unwrap();
        heard[at - 20..at].to_vec()
    };
    let [one, two] = &starts;
    assert!(label(one).iter().all(u8::is_ascii_hexdigit), "{:?}", String::from_utf8_lossy(&label(one)));
    for told in [value(one, b"nonce="), value(one, b"check="), label(one)] {
        assert!(contains(one, &told));
        assert!(!contains(two, &told), "heard again: {:?}", String::from_utf8_lossy(&told));
    }
}

#[test]
fn a_phone_finds_its_desk_among_odd_answers() {
    let Some(cables) = cables("a_phone_finds_its_desk_among_odd_answers", 4) else { return };
    let odd = cables.play(At::Desk, "odd");
    assert_eq!(odd.hear(), "ready");
    assert_eq!(cables.played(At::Phone, "phone 1 one 3"), [""; 0]);
    let desk = cables.play(At::Desk, "desk 1 one");
    assert_eq!(desk.hear(), "announced");
    assert_eq!(cables.played(At::Phone, "phone 1 one 20"), [format!("{DESK}:{PORT}")]);
    desk.end();
    odd.end();
}

#[test]
fn a_flood_ends_the_search() {
    let Some(cables) = cables("a_flood_ends_the_search", 5) else { return };
    let flood = cables.play(At::Desk, "flood");
    assert_eq!(flood.hear(), "ready");
    assert_eq!(cables.played(At::Phone, "phone 1 one 30"), ["Flooded"]);
    flood.end();
}
