//! Two devices on a bad radio link: packets late and lost, and the link gone in
//! the middle of a sync.
//!
//! The test makes three network namespaces, the coach's, the phone's and the air
//! between, and runs itself again in each. The two devices see each other by a
//! VXLAN (RFC 7348) whose datagrams the air hands on: by the kernel's netem where
//! it has one, else late and with losses by itself. TCP is the kernel's in either
//! case. Nothing outside of the namespaces is touched or reached.

#![cfg(target_os = "linux")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do, and a child tells its parent by standard output"
)]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::UdpSocket;
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use pitside_book::carrier::{CarrierError, Connection, Limits, Listener, Verdict};
use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{Link, Part, accept, exchange};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Draft, Filter};
use pitside_model::facts::{
    Card, Day, DeviceKey, Fact, Grant, MemberId, RestDay, Role, Scope, Subject, kind,
};
use tempfile::TempDir;
use zeroize::Zeroizing;

const COACH: u8 = 1;
const PHONE: u8 = 2;

/// Where the coach's device listens, in the namespace made here.
const LISTEN: &str = "10.84.0.1:4417";
/// VXLAN's own port (RFC 7348, section 5).
const VXLAN: u16 = 4789;

/// Each packet, each way.
const DELAY: Duration = Duration::from_millis(200);
const LOSS_PERCENT: u64 = 5;

/// Several times what TCP needs to get over a few losses on such a link.
const IDLE: Duration = Duration::from_secs(3);
/// Nothing here takes this long.
const PATIENCE: Duration = Duration::from_secs(120);

/// What a child is to do.
const ROLE: &str = "PITSIDE_NETWORK_ROLE";
/// The folder of its book.
const FOLDER: &str = "PITSIDE_NETWORK_FOLDER";

struct Fixed;

impl Clock for Fixed {
    fn now(&self) -> Stamp {
        Stamp { ms: 1_790_000_000_000, zone_min: 0 }
    }
}

fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

fn limits() -> Limits {
    Limits { idle: IDLE, ..Limits::default() }
}

// ---- the namespaces

/// Runs a command; says what went wrong.
fn run(command: &str) -> Result<(), String> {
    let mut words = command.split_whitespace();
    let program = words.next().unwrap();
    let output = Command::new(program).args(words).output().map_err(|e| format!("{program}: {e}"))?;
    if output.status.success() {
        return Ok(());
    }
    Err(format!("{command}: {}", String::from_utf8_lossy(&output.stderr).trim()))
}

/// The namespaces, and who runs in them; gone when dropped, however the test
/// ends.
struct Network {
    coach: String,
    phone: String,
    air: String,
    /// Whether the kernel delays and loses; the air does it otherwise.
    netem: bool,
    ends: Vec<End>,
}

impl Network {
    fn make() -> Result<Self, String> {
        sweep();
        let name = |what: &str| format!("pitside-{}-{what}", std::process::id());
        let mut network =
            Self { coach: name("coach"), phone: name("phone"), air: name("air"), netem: false, ends: vec![] };
        let Self { coach, phone, air, .. } = &network;
        for namespace in [coach, phone, air] {
            run(&format!("ip netns add {namespace}"))?;
            run(&format!("ip -n {namespace} link set lo up"))?;
        }
        for (n, namespace) in [(1, coach), (2, phone)] {
            run(&format!("ip -n {namespace} link add radio type veth peer name to{n} netns {air}"))?;
            run(&format!("ip -n {namespace} addr add 10.83.{n}.1/24 dev radio"))?;
            run(&format!("ip -n {air} addr add 10.83.{n}.2/24 dev to{n}"))?;
            run(&format!("ip -n {namespace} link set radio up"))?;
            run(&format!("ip -n {air} link set to{n} up"))?;
            let vxlan = format!("vxlan id 83 dstport {VXLAN} remote 10.83.{n}.2 nolearning");
            run(&format!("ip -n {namespace} link add field type {vxlan}"))?;
            // A datagram a packet: none is to be cut into packets by a device later.
            run(&format!("ip -n {namespace} link set field gso_max_segs 1"))?;
            run(&format!("ip -n {namespace} addr add 10.84.0.{n}/24 dev field"))?;
            run(&format!("ip -n {namespace} link set field up"))?;
        }
        let netem = format!("root netem delay {}ms loss {LOSS_PERCENT}%", DELAY.as_millis());
        let both = [1, 2].map(|n| run(&format!("tc -n {air} qdisc add dev to{n} {netem}")));
        network.netem = match both {
            [Ok(()), Ok(())] => true,
            [Err(why), Err(_)] => {
                println!("{why}: the air delays and loses by itself");
                false
            }
            [Err(why), _] | [_, Err(why)] => return Err(why),
        };
        Ok(network)
    }

    /// Runs this test binary again, in a namespace.
    fn start(&mut self, namespace: &str, role: &str, folder: &Path) -> usize {
        let mut child = Command::new("ip")
            .args(["netns", "exec", namespace])
            .arg(std::env::current_exe().unwrap())
            .args(["child_at_one_end", "--exact", "--nocapture"])
            .env(ROLE, role)
            .env(FOLDER, folder)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (stdin, stdout) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
        let (tell, lines) = channel();
        thread::spawn(move || {
            for line in BufReader::new(stdout).lines().map_while(Result::ok) {
                if tell.send(line).is_err() {
                    break;
                }
            }
        });
        self.ends.push(End { child, stdin: Some(stdin), lines });
        self.ends.len() - 1
    }
}

impl Drop for Network {
    fn drop(&mut self) {
        for end in &mut self.ends {
            let _ = end.child.kill();
            let _ = end.child.wait();
        }
        for namespace in [&self.coach, &self.phone, &self.air] {
            // Not there where the making failed.
            let _ = run(&format!("ip netns del {namespace}"));
        }
    }
}

/// Takes away what a killed test left.
fn sweep() {
    let Ok(output) = Command::new("ip").args(["netns", "list"]).output() else { return };
    for line in String::from_utf8_lossy(&output.stdout).lines() {
        let name = line.split_whitespace().next().unwrap_or_default();
        let made_by = name.strip_prefix("pitside-").and_then(|rest| rest.split('-').next());
        if made_by.is_some_and(|pid| !Path::new("/proc").join(pid).exists()) {
            let _ = run(&format!("ip netns del {name}"));
        }
    }
}

/// A child, what it is told and what it says.
struct End {
    child: Child,
    stdin: Option<ChildStdin>,
    lines: Receiver<String>,
}

impl End {
    /// The rest of the next line in which it says `what`.
    fn says(&self, what: &str) -> String {
        let until = Instant::now() + PATIENCE;
        let mut before = Vec::new();
        loop {
            match self.lines.recv_timeout(until.saturating_duration_since(Instant::now())) {
                // The harness writes to the same line.
                Ok(line) => match line.split_once(what) {
                    Some((_, rest)) => return rest.to_owned(),
                    None => before.push(line),
                },
                Err(RecvTimeoutError::Timeout) => panic!("waited for {what:?} in vain: {before:?}"),
                Err(RecvTimeoutError::Disconnected) => panic!("ended before {what:?}: {before:?}"),
            }
        }
    }

    fn go_on(&mut self) {
        self.stdin.as_mut().unwrap().write_all(b"\n").unwrap();
    }

    fn end(&mut self) {
        self.stdin = None;
        assert!(self.child.wait().unwrap().success());
    }
}

// ---- what runs in them

#[test]
fn child_at_one_end() {
    let Ok(role) = std::env::var(ROLE) else { return };
    let folder = std::env::var(FOLDER).unwrap();
    match role.as_str() {
        "air, late and lossy" => air(DELAY, LOSS_PERCENT),
        "air" => air(Duration::ZERO, 0),
        "listen" => listen(Path::new(&folder)),
        "call" => call(Path::new(&folder), None),
        "call, halt" => call(Path::new(&folder), Some(5)),
        other => panic!("{other}"),
    }
}

/// Until the parent is done, or gone.
fn wait_for_the_parent() {
    let _ = std::io::stdin().read_to_end(&mut Vec::new());
}

fn listen(folder: &Path) {
    let book = Book::open(folder, identity(COACH)).unwrap();
    let listener = Listener::bind(LISTEN.parse().unwrap(), limits()).unwrap();
    let stop = listener.stop();
    thread::spawn(move || {
        wait_for_the_parent();
        stop.cut();
    });
    println!("listens");
    listener.serve(book.identity(), &|connection| {
        let mut connection = connection.unwrap();
        let ended = exchange(&book, &mut connection, Part::Called, &Fixed);
        connection.close();
        println!("ended: {ended:?}");
        Verdict::of(&ended)
    });
    book.close().unwrap();
}

/// A link that stands still, once, before it sends its n-th message.
struct Halting {
    link: Connection,
    left: Option<u32>,
}

impl Link for Halting {
    type Error = CarrierError;

    fn peer(&self) -> DeviceKey {
        self.link.peer()
    }

    fn send(&mut self, message: &[u8]) -> Result<(), CarrierError> {
        self.left = match self.left {
            Some(1) => {
                println!("halfway");
                std::io::stdin().read_line(&mut String::new()).unwrap();
                None
            }
            left => left.map(|left| left - 1),
        };
        self.link.send(message)
    }

    fn receive(&mut self) -> Result<Vec<u8>, CarrierError> {
        self.link.receive()
    }
}

fn call(folder: &Path, halt_before: Option<u32>) {
    let book = Book::open(folder, identity(PHONE)).unwrap();
    let addresses = [LISTEN.to_owned()];
    let link = Connection::reach(&addresses, book.identity(), identity(COACH).key(), &limits()).unwrap();
    let mut link = Halting { link, left: halt_before };
    let ended = exchange(&book, &mut link, Part::Caller, &Fixed);
    link.link.close();
    println!("ended: {ended:?}");
    book.close().unwrap();
}

/// Hands datagrams on, each way on a thread of its own.
fn air(delay: Duration, loss_percent: u64) {
    let [coach, phone] = [1, 2].map(|n| UdpSocket::bind((format!("10.83.{n}.2"), VXLAN)).unwrap());
    for (n, from, to) in [(2, &coach, &phone), (1, &phone, &coach)] {
        let (from, to) = (from.try_clone().unwrap(), to.try_clone().unwrap());
        let (late, due) = channel::<(Instant, Vec<u8>)>();
        thread::spawn(move || {
            for (at, datagram) in due {
                thread::sleep(at.saturating_duration_since(Instant::now()));
                // Nobody is told of what is lost on a link that is down.
                let _ = to.send_to(&datagram, (format!("10.83.{n}.1"), VXLAN));
            }
        });
        thread::spawn(move || {
            // Losses are spread evenly, so that no packet is lost three times in a
            // row and no limit is reached by bad luck.
            let every = 100_u64.checked_div(loss_percent).unwrap_or(u64::MAX);
            let mut count = n;
            let mut buffer = vec![0; 1 << 16];
            loop {
                let Ok((length, _)) = from.recv_from(&mut buffer) else { continue };
                count += 1;
                if count % every != 0 {
                    let mut datagram = buffer[..length].to_vec();
                    fill_in_checksum(&mut datagram);
                    late.send((Instant::now() + delay, datagram)).unwrap();
                }
            }
        });
    }
    println!("hands on");
    wait_for_the_parent();
}

/// The kernel leaves TCP's checksum to the device that sends the packet at last,
/// and no device does where the packet ends in a socket of ours.
fn fill_in_checksum(datagram: &mut [u8]) {
    // The headers of VXLAN (8 bytes), of Ethernet (14) with IPv4 (0x0800) in it,
    // and of IPv4 (RFC 791, section 3.1) with TCP (6) in it.
    let Some(packet) = datagram.get_mut(22..) else { return };
    if packet.len() < 40 || packet[0] >> 4 != 4 || packet[9] != 6 {
        return;
    }
    let head = usize::from(packet[0] & 15) * 4;
    let whole = usize::from(u16::from_be_bytes([packet[2], packet[3]]));
    let addresses: [u8; 8] = packet[12..20].try_into().unwrap();
    let Some(segment) = packet.get_mut(head..whole).filter(|segment| segment.len() >= 20) else { return };
    segment[16..18].fill(0);
    // RFC 9293, section 3.1: over a pseudo header (addresses, protocol, length)
    // and the segment.
    let words = |bytes: &[u8]| -> u64 {
        bytes.chunks(2).map(|b| u64::from(b[0]) << 8 | b.get(1).map_or(0, |low| u64::from(*low))).sum()
    };
    let mut sum = words(&addresses) + 6 + segment.len() as u64 + words(segment);
    while sum > 0xffff {
        sum = (sum & 0xffff) + (sum >> 16);
    }
    segment[16..18].copy_from_slice(&(!(sum as u16)).to_be_bytes());
}

// ---- the test

/// Two paired books, each with something that the other lacks.
fn prepare(coach: &Path, phone: &Path) -> MemberId {
    let coach = Book::create(coach, identity(COACH), false).unwrap();
    let phone = Book::create(phone, identity(PHONE), false).unwrap();
    let now = Fixed.now();
    coach.found("Quay jumps", now).unwrap();
    let member = phone.start_member(now).unwrap();
    let open = coach.invite(Grant::new(Role::Athlete, vec![]), now, 10).unwrap();
    let invitation = Invitation::of(&coach, &open, vec![]).unwrap();
    let part = accept(&phone, &invitation, &Fixed).unwrap();
    let listener = Listener::bind("127.0.0.1:0".parse().unwrap(), Limits::default()).unwrap();
    let (address, stop) = (listener.address().to_string(), listener.stop());
    thread::scope(|scope| {
        scope.spawn(|| {
            listener.serve(coach.identity(), &|connection| {
                let mut connection = connection.unwrap();
                let ended = exchange(&coach, &mut connection, Part::Called, &Fixed);
                connection.close();
                Verdict::of(&ended)
            });
        });
        let mut link =
            Connection::connect(&address, phone.identity(), coach.device(), &Limits::default()).unwrap();
        let ended = exchange(&phone, &mut link, part, &Fixed);
        link.close();
        stop.stop();
        ended.unwrap();
    });
    let name = Draft::about(Subject::Uuid(member.0), Fact::Card(Card::Name("Ino".into())));
    coach.write(Scope::Member(member), &name, now).unwrap();
    coach.close().unwrap();
    rest(&phone, member, 0..40);
    phone.close().unwrap();
    member
}

fn rest(phone: &Book, member: MemberId, days: std::ops::Range<i32>) {
    let drafts: Vec<_> = days
        .map(|n| {
            let day = Day::parse("2026-01-01").unwrap().plus(n);
            (Scope::Member(member), Draft::new(Fact::Rest(RestDay { day })))
        })
        .collect();
    phone.write_all(&drafts, Fixed.now()).unwrap();
}

fn state(book: &Book) -> Vec<String> {
    let mut held: Vec<_> =
        book.held(&Filter::default()).unwrap().iter().map(|held| format!("{held:?}")).collect();
    held.sort();
    held
}

/// A kernel that gives nobody a network of his own is the machine's to decide, and
/// is said past the harness; a missing program is a fault where CI runs.
fn left_out(why: &str) {
    let missing = Command::new("ip").arg("-V").output().is_err();
    assert!(!missing || std::env::var("CI").as_deref() != Ok("true"), "{why}");
    std::io::stderr().write_all(format!("left out, no network namespaces here: {why}\n").as_bytes()).unwrap();
}

#[test]
fn a_sync_comes_through_late_and_lossy_and_goes_on_after_the_link_was_gone() {
    let mut network = match Network::make() {
        Ok(network) => network,
        Err(why) => return left_out(&why),
    };
    let folder = TempDir::new().unwrap();
    let [coach, phone] = ["coach", "phone"].map(|name| folder.path().join(name));
    std::fs::create_dir(&coach).unwrap();
    std::fs::create_dir(&phone).unwrap();
    let member = prepare(&coach, &phone);

    let names = [network.air.clone(), network.coach.clone(), network.phone.clone()];
    let air = if network.netem { "air" } else { "air, late and lossy" };
    let air = network.start(&names[0], air, folder.path());
    network.ends[air].says("hands on");
    let desk = network.start(&names[1], "listen", &coach);
    network.ends[desk].says("listens");

    // Late and lossy, and nothing is lost.
    let caller = network.start(&names[2], "call", &phone);
    let (near, far) = (network.ends[caller].says("ended: "), network.ends[desk].says("ended: "));
    assert!(near.starts_with("Ok(") && near.contains("received: 1, sent: 40"), "{near}");
    assert!(far.starts_with("Ok(") && far.contains("received: 40, sent: 1"), "{far}");
    network.ends[caller].end();

    // The link goes in the middle: both sides notice by their limits, and say so.
    let book = Book::open(&phone, identity(PHONE)).unwrap();
    rest(&book, member, 40..80);
    book.close().unwrap();
    let caller = network.start(&names[2], "call, halt", &phone);
    network.ends[caller].says("halfway");
    run(&format!("ip -n {} link set radio down", names[2])).unwrap();
    network.ends[caller].go_on();
    for end in [caller, desk] {
        let ended = network.ends[end].says("ended: ");
        assert_eq!(ended, "Err(Link(Timeout(Idle)))");
    }
    network.ends[caller].end();

    // It comes back, and the next sync goes on from there.
    run(&format!("ip -n {} link set radio up", names[2])).unwrap();
    let caller = network.start(&names[2], "call", &phone);
    let (near, far) = (network.ends[caller].says("ended: "), network.ends[desk].says("ended: "));
    assert!(near.starts_with("Ok(") && far.starts_with("Ok("), "{near} {far}");
    network.ends[caller].end();
    network.ends[desk].end();
    network.ends[air].end();
    let books = [(&coach, COACH), (&phone, PHONE)].map(|(at, n)| Book::open(at, identity(n)).unwrap());
    assert_eq!(state(&books[0]), state(&books[1]));
    let rests = books[0].held(&Filter { kind: Some(kind::REST), ..Filter::default() }).unwrap();
    assert_eq!(rests.len(), 80);
}
