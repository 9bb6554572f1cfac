//! The carrier over real sockets, against itself and against peers that do not
//! keep to the rules. Limits are short and waits for an outcome are long, so
//! that a slow machine changes nothing.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::io::{ErrorKind, Read, Write};
use std::net::{IpAddr, Ipv4Addr, Shutdown, SocketAddr, TcpListener, TcpStream};
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{self, Receiver};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use pitside_book::carrier::{
    Admission, CarrierError, Connection, Limits, Listener, NotReached, Stop, Verdict, Wait,
};
use pitside_book::exchange::Link;
use pitside_book::keys::{Identity, Seed};
use pitside_model::facts::DeviceKey;
use rustls::AlertDescription;
use socket2::{Domain, Socket, Type};
use zeroize::Zeroizing;

/// Nothing here takes this long.
const PATIENCE: Duration = Duration::from_secs(30);

const ANYWHERE: SocketAddr = SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), 0);

const LAPTOP: u8 = 1;
const PHONE: u8 = 2;
const STRANGER: u8 = 3;

/// What the listeners here refuse, as a conversation refuses a wrong secret.
const GUESS: &[u8] = b"a wrong secret";

fn identity(number: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([number; 32])))
}

fn key(number: u8) -> DeviceKey {
    identity(number).key()
}

fn ms(ms: u64) -> Duration {
    Duration::from_millis(ms)
}

/// Limits of a listener that is failed at often.
fn lenient() -> Limits {
    Limits { admission: Admission { failures: 10_000, ..Admission::default() }, ..Limits::default() }
}

fn connect(address: SocketAddr, limits: &Limits) -> Result<Connection, CarrierError> {
    Connection::connect(&address.to_string(), &identity(PHONE), key(LAPTOP), limits)
}

/// A listener that sends every message back, and what became of its callers.
struct Desk {
    address: SocketAddr,
    stop: Stop,
    /// How conversations ended.
    ended: Receiver<(DeviceKey, CarrierError)>,
    /// Why handshakes came to nothing.
    failed: Receiver<CarrierError>,
    thread: Option<JoinHandle<()>>,
}

impl Desk {
    fn open(limits: Limits) -> Self {
        let listener = Listener::bind(ANYWHERE, limits).unwrap();
        let (say_ended, ended) = mpsc::channel();
        let (say_failed, failed) = mpsc::channel();
        Self {
            address: listener.address(),
            stop: listener.stop(),
            ended,
            failed,
            thread: Some(thread::spawn(move || {
                listener.serve(&identity(LAPTOP), &|connection| match connection {
                    Ok(connection) => {
                        let peer = connection.peer();
                        let (verdict, error) = echo(connection);
                        let _test_is_over = say_ended.send((peer, error));
                        verdict
                    }
                    Err(error) => {
                        let _test_is_over = say_failed.send(error);
                        Verdict::Accepted
                    }
                });
            })),
        }
    }

    fn call(&self) -> Result<Connection, CarrierError> {
        connect(self.address, &Limits::default())
    }

    fn ended(&self) -> CarrierError {
        self.ended.recv_timeout(PATIENCE).unwrap().1
    }

    fn failed(&self) -> CarrierError {
        self.failed.recv_timeout(PATIENCE).unwrap()
    }

    /// Whatever happened before, the next honest caller is served.
    fn still_serves(&self) {
        let mut connection = self.call().unwrap();
        connection.send(b"3.62 m").unwrap();
        assert_eq!(connection.receive().unwrap(), b"3.62 m");
        connection.close();
        let ended = self.ended();
        assert!(matches!(ended, CarrierError::Ended), "{ended:?}");
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        self.stop.cut();
        if let Some(thread) = self.thread.take() {
            let served = thread.join();
            assert!(thread::panicking() || served.is_ok());
        }
    }
}

fn echo(mut connection: Connection) -> (Verdict, CarrierError) {
    loop {
        match connection.receive() {
            Ok(message) if message == GUESS => {
                connection.close();
                return (Verdict::Refused, CarrierError::Ended);
            }
            Ok(message) => {
                if let Err(error) = connection.send(&message) {
                    return (Verdict::Accepted, error);
                }
            }
            Err(error) => {
                connection.close();
                return (Verdict::Accepted, error);
            }
        }
    }
}

macro_rules! assert_is {
    ($found:expr, $($expected:tt)+) => {{
        let found = $found;
        assert!(matches!(&found, $($expected)+), "{found:?}");
    }};
}

// ---- between two that keep to the rules

#[test]
fn messages_of_every_size_come_back() {
    let desk = Desk::open(Limits::default());
    let mut connection = desk.call().unwrap();
    assert_eq!((connection.peer(), connection.address()), (key(LAPTOP), desk.address));
    for length in [0, 1, 1_000, 1 << 14, (1 << 14) + 1, 300_000, 1 << 20] {
        let message: Vec<u8> = (0..length).map(|i| (i % 251) as u8).collect();
        connection.send(&message).unwrap();
        assert!(connection.receive().unwrap() == message, "{length} bytes");
    }
    connection.close();
    let (peer, ended) = desk.ended.recv_timeout(PATIENCE).unwrap();
    assert_eq!(peer, key(PHONE));
    assert_is!(ended, CarrierError::Ended);
}

#[test]
fn an_end_that_was_said_is_told_from_a_cut() {
    let desk = Desk::open(Limits::default());
    desk.call().unwrap().close();
    assert_is!(desk.ended(), CarrierError::Ended);
    drop(desk.call().unwrap());
    assert_is!(desk.ended(), CarrierError::Cut);
}

#[test]
fn what_was_sent_before_the_end_arrives() {
    let listener = Listener::bind(ANYWHERE, Limits::default()).unwrap();
    let (address, stop) = (listener.address(), listener.stop());
    thread::scope(|scope| {
        scope.spawn(|| {
            listener.serve(&identity(LAPTOP), &|connection| {
                let mut connection = connection.unwrap();
                connection.send(b"last words").unwrap();
                connection.close();
                Verdict::Accepted
            });
        });
        let mut connection = connect(address, &Limits::default()).unwrap();
        // Never read by the other side, which closes first.
        let _ = connection.send(b"unread");
        assert_eq!(connection.receive().unwrap(), b"last words");
        assert_is!(connection.receive(), Err(CarrierError::Ended));
        assert_is!(connection.receive(), Err(CarrierError::Ended));
        stop.stop();
    });
}

// ---- keys

#[test]
fn a_wrong_key_is_refused_by_name_and_both_sides_are_told() {
    let desk = Desk::open(Limits::default());
    let address = desk.address.to_string();
    match Connection::connect(&address, &identity(PHONE), key(STRANGER), &Limits::default()) {
        Err(CarrierError::WrongKey { expected, found }) => {
            assert_eq!((expected, found), (key(STRANGER), key(LAPTOP)));
        }
        answer => panic!("{answer:?}"),
    }
    assert_is!(desk.failed(), CarrierError::Refused(why) if why == "it expected another key");
    desk.still_serves();
}

#[test]
fn a_caller_cannot_pass_for_another() {
    let desk = Desk::open(Limits::default());
    let mut raw = Raw { presented: Some(PHONE), signs: STRANGER, ..Raw::default() }.call(desk.address);
    let _either_may_come_first = raw.write_all(b"x");
    assert!(raw.read(&mut [0; 16]).is_err());
    assert_is!(desk.failed(), CarrierError::Unproved);
    desk.still_serves();
}

#[test]
fn a_listener_cannot_pass_for_another() {
    let tcp = TcpListener::bind(ANYWHERE).unwrap();
    let address = tcp.local_addr().unwrap();
    let impostor = thread::spawn(move || {
        let mut tls = rustls::ServerConnection::new(raw::server_config(LAPTOP, STRANGER)).unwrap();
        let (mut tcp, _) = tcp.accept().unwrap();
        while tls.is_handshaking() {
            if let Err(error) = tls.complete_io(&mut tcp) {
                return error.to_string();
            }
        }
        "it passed".to_owned()
    });
    assert_is!(connect(address, &Limits::default()), Err(CarrierError::Unproved));
    let told = impostor.join().unwrap();
    assert!(told.contains("DecryptError"), "the alert of RFC 8446, section 4.4.3: {told}");
}

#[test]
fn a_caller_without_a_key_is_refused() {
    let desk = Desk::open(Limits::default());
    let mut raw = Raw { presented: None, ..Raw::default() }.call(desk.address);
    assert!(raw.read(&mut [0; 16]).is_err());
    assert_is!(desk.failed(), CarrierError::Foreign(_));
    desk.still_serves();
}

#[test]
fn a_caller_with_another_protocol_or_with_none_is_refused() {
    let desk = Desk::open(Limits::default());
    for protocol in [Some("h2"), Some("pitside/2"), None] {
        let mut raw = Raw { protocol, ..Raw::default() }.call(desk.address);
        let read = raw.read(&mut [0; 16]);
        assert!(read.is_err(), "{protocol:?}: {read:?}");
        assert_is!(desk.failed(), CarrierError::Foreign(_));
    }
    desk.still_serves();
}

// ---- callers that are not ours

#[test]
fn http_is_told_that_this_is_tls() {
    let desk = Desk::open(Limits::default());
    let mut tcp = TcpStream::connect(desk.address).unwrap();
    tcp.write_all(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n").unwrap();
    let mut answer = Vec::new();
    tcp.read_to_end(&mut answer).unwrap();
    // An alert record (RFC 8446, sections 5.1 and 6): type 21, legacy version, two bytes, fatal.
    assert_eq!(answer.first(), Some(&21));
    assert_eq!(answer.get(3..6), Some(&[0, 2, 2][..]));
    assert_is!(desk.failed(), CarrierError::Foreign(_));
    desk.still_serves();
}

#[test]
fn random_bytes_never_get_through() {
    let desk = Desk::open(lenient());
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut random = || {
        // xorshift64 (Marsaglia 2003): the same strings in every run.
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state
    };
    for round in 0..100_u32 {
        let mut bytes: Vec<u8> = (0..random() % 600).map(|_| random() as u8).collect();
        // Every second one begins as a handshake record does.
        if round % 2 == 0 && bytes.len() > 5 {
            let inside = (bytes.len() - 5) as u16;
            bytes[..3].copy_from_slice(&[22, 3, 1]);
            bytes[3..5].copy_from_slice(&inside.to_be_bytes());
        }
        let mut tcp = TcpStream::connect(desk.address).unwrap();
        // The listener may have seen enough before the last byte.
        let _refused = tcp.write_all(&bytes);
        let _refused = tcp.shutdown(Shutdown::Write);
        assert_is!(desk.failed(), CarrierError::Foreign(_) | CarrierError::Refused(_) | CarrierError::Cut);
    }
    desk.still_serves();
}

#[test]
fn an_older_version_is_refused() {
    // A ClientHello of TLS 1.2 (RFC 5246, section 7.4.1.2): version 3.3, 32 random
    // bytes, no session, one cipher suite, no compression, no extensions.
    let mut hello = vec![3, 3];
    hello.extend([7; 32]);
    hello.extend([0, 0, 2, 0xc0, 0x2b, 1, 0]);
    let length = hello.len() as u8;
    let mut bytes = vec![22, 3, 1, 0, length + 4, 1, 0, 0, length];
    bytes.extend(hello);

    let desk = Desk::open(Limits::default());
    let mut tcp = TcpStream::connect(desk.address).unwrap();
    tcp.write_all(&bytes).unwrap();
    let mut answer = Vec::new();
    tcp.read_to_end(&mut answer).unwrap();
    // A fatal alert (RFC 8446, section 6).
    assert_eq!((answer.first(), answer.get(5)), (Some(&21), Some(&2)), "{answer:?}");
    assert_is!(desk.failed(), CarrierError::Foreign(_));
    desk.still_serves();
}

/// Another implementation of TLS, where there is one.
#[test]
fn openssl_without_a_raw_key_is_refused_in_every_version() {
    let desk = Desk::open(Limits::default());
    for version in ["-tls1_2", "-tls1_3"] {
        let run = Command::new("openssl")
            .args(["s_client", "-alpn", "pitside/1", version, "-connect"])
            .arg(desk.address.to_string())
            .stdin(Stdio::null())
            .output();
        match run {
            Ok(output) => {
                assert!(!output.status.success(), "{version}: {output:?}");
                let told = String::from_utf8_lossy(&output.stderr).contains("alert protocol version");
                assert_eq!(told, version == "-tls1_2", "{output:?}");
            }
            Err(error) if error.kind() == ErrorKind::NotFound => {
                println!("skipped: openssl is not installed");
                return;
            }
            Err(error) => panic!("{error}"),
        }
        assert_is!(desk.failed(), CarrierError::Foreign(_));
    }
    desk.still_serves();
}

#[test]
fn a_first_message_cut_after_any_byte_is_a_cut() {
    let desk = Desk::open(lenient());
    let hello = Raw::default().hello();
    for end in 0..hello.len() {
        let mut tcp = TcpStream::connect(desk.address).unwrap();
        tcp.write_all(&hello[..end]).unwrap();
        tcp.shutdown(Shutdown::Write).unwrap();
        assert_is!(desk.failed(), CarrierError::Cut);
    }
    let mut tcp = TcpStream::connect(desk.address).unwrap();
    tcp.write_all(&hello).unwrap();
    tcp.read_exact(&mut [0; 5]).unwrap();
    drop(tcp);
    assert_is!(desk.failed(), CarrierError::Cut);
    desk.still_serves();
}

#[test]
fn a_message_cut_after_any_byte_is_a_cut_however_politely() {
    let desk = Desk::open(lenient());
    let message = [&[0, 0, 0, 24][..], b"Harbour Lane, 5 x 3 hops"].concat();
    for polite in [false, true] {
        for end in 1..message.len() {
            let mut raw = Raw::default().call(desk.address);
            raw.write_all(&message[..end]).unwrap();
            if polite {
                raw.conn.send_close_notify();
            }
            raw.flush().unwrap();
            drop(raw);
            assert_is!(desk.ended(), CarrierError::Cut);
        }
    }
    let mut raw = Raw::default().call(desk.address);
    raw.write_all(&message).unwrap();
    raw.read_exact(&mut vec![0; message.len()]).unwrap();
    drop(raw);
    assert_is!(desk.ended(), CarrierError::Cut);
    desk.still_serves();
}

/// A record that was changed on its way does not get through TLS.
#[test]
fn a_changed_record_ends_the_connection() {
    let desk = Desk::open(Limits::default());
    let mut raw = Raw::default().call(desk.address);
    raw.conn.writer().write_all(&[0, 0, 0, 2, 7, 7]).unwrap();
    let mut record = Vec::new();
    raw.conn.write_tls(&mut record).unwrap();
    *record.last_mut().unwrap() ^= 1;
    raw.sock.write_all(&record).unwrap();
    assert_is!(desk.ended(), CarrierError::Foreign(_));
    desk.still_serves();
}

/// What was recorded of one connection is nothing to the next.
#[test]
fn a_conversation_played_again_is_refused() {
    let desk = Desk::open(Limits::default());
    let mut raw = Raw::default().call(desk.address);
    raw.conn.writer().write_all(&[0, 0, 0, 2, 7, 7]).unwrap();
    let mut record = Vec::new();
    raw.conn.write_tls(&mut record).unwrap();
    raw.sock.write_all(&record).unwrap();
    raw.read_exact(&mut [0; 6]).unwrap();
    // The same record in the same connection, then in another.
    raw.sock.write_all(&record).unwrap();
    assert_is!(desk.ended(), CarrierError::Foreign(_));
    let mut raw = Raw::default().call(desk.address);
    raw.sock.write_all(&record).unwrap();
    assert_is!(desk.ended(), CarrierError::Foreign(_));
    desk.still_serves();
}

// ---- limits of one connection

#[test]
fn a_message_too_large_is_refused_on_both_sides() {
    let desk = Desk::open(Limits { message_bytes: 1_000, ..Limits::default() });
    let mut raw = Raw::default().call(desk.address);
    raw.write_all(&u32::MAX.to_be_bytes()).unwrap();
    raw.flush().unwrap();
    assert_is!(desk.ended(), CarrierError::TooLarge { claimed: 0xffff_ffff, limit: 1_000 });

    // What may not be sent is not sent, and the conversation goes on.
    let mut connection = desk.call().unwrap();
    assert_is!(
        connection.send(&vec![0; (1 << 20) + 1]),
        Err(CarrierError::TooLarge { claimed: 1_048_577, limit: 1_048_576 })
    );
    connection.send(&[1; 1_000]).unwrap();
    assert_eq!(connection.receive().unwrap(), [1; 1_000]);
}

#[test]
fn a_connection_carries_so_many_bytes_and_no_more() {
    let desk = Desk::open(Limits { whole_bytes: 10_000, ..Limits::default() });
    let mut connection = desk.call().unwrap();
    connection.send(&[1; 1_000]).unwrap();
    assert_eq!(connection.receive().unwrap(), [1; 1_000]);
    connection.send(&[1; 9_000]).unwrap();
    assert_is!(desk.ended(), CarrierError::TooMuch { limit: 10_000 });
    assert_is!(connection.receive(), Err(CarrierError::Cut));
    // Once over, it stays over.
    assert_is!(connection.send(b"more"), Err(CarrierError::Cut));
    desk.still_serves();
}

#[test]
fn a_silent_caller_is_let_go() {
    let desk = Desk::open(Limits { handshake: ms(300), ..Limits::default() });
    let nothing = TcpStream::connect(desk.address).unwrap();
    assert_is!(desk.failed(), CarrierError::Timeout(Wait::Handshake));
    let mut half = TcpStream::connect(desk.address).unwrap();
    half.write_all(&Raw::default().hello()).unwrap();
    assert_is!(desk.failed(), CarrierError::Timeout(Wait::Handshake));
    drop((nothing, half));
}

#[test]
fn an_idle_peer_is_let_go() {
    let desk = Desk::open(Limits { idle: ms(300), ..Limits::default() });
    let mut connection = desk.call().unwrap();
    assert_is!(desk.ended(), CarrierError::Timeout(Wait::Idle));
    assert_is!(connection.receive(), Err(CarrierError::Cut));
}

#[test]
fn a_peer_that_takes_nothing_ends_the_sending_before_memory_does() {
    let tcp = TcpListener::bind(ANYWHERE).unwrap();
    let address = tcp.local_addr().unwrap();
    let taker = thread::spawn(move || {
        let mut tls = rustls::ServerConnection::new(raw::server_config(LAPTOP, LAPTOP)).unwrap();
        let (mut tcp, _) = tcp.accept().unwrap();
        while tls.is_handshaking() {
            tls.complete_io(&mut tcp).unwrap();
        }
        tcp
    });
    let mut connection = connect(address, &Limits { idle: ms(300), ..Limits::default() }).unwrap();
    let held_open = taker.join().unwrap();
    let message = vec![0; 1 << 20];
    // A message is taken by the system's buffers (tcp_wmem, tcp_rmem: some MiB) or
    // waited for: nothing piles up here, however often it is tried.
    let (sent, error) = (0..).find_map(|n| connection.send(&message).err().map(|e| (n, e))).unwrap();
    assert_is!(error, CarrierError::Timeout(Wait::Idle));
    assert!(sent < 64, "{sent} MiB went somewhere");
    drop(held_open);
}

/// Writes a byte now and then, always sooner than the idle limit, until the
/// other side has had enough.
fn drip(mut to: impl Write, bytes: impl IntoIterator<Item = u8>) {
    let start = Instant::now();
    for byte in bytes {
        if start.elapsed() > PATIENCE || to.write_all(&[byte]).and_then(|()| to.flush()).is_err() {
            return;
        }
        thread::sleep(ms(20));
    }
}

#[test]
fn a_dripping_handshake_ends_by_its_limit() {
    let desk = Desk::open(Limits { handshake: ms(500), ..Limits::default() });
    let tcp = TcpStream::connect(desk.address).unwrap();
    let dripping = thread::spawn(move || drip(tcp, Raw::default().hello()));
    assert_is!(desk.failed(), CarrierError::Timeout(Wait::Handshake));
    dripping.join().unwrap();
}

#[test]
fn a_dripping_message_ends_by_its_limit() {
    let desk = Desk::open(Limits { message: ms(500), ..Limits::default() });
    let raw = Raw::default().call(desk.address);
    // A message of 64 KiB, of which 25 bytes come before the time is over.
    let message = [0, 1, 0, 0].into_iter().chain([7; 65_536]);
    let dripping = thread::spawn(move || drip(raw, message));
    assert_is!(desk.ended(), CarrierError::Timeout(Wait::Message));
    desk.still_serves();
    dripping.join().unwrap();
}

#[test]
fn small_messages_without_end_end_by_the_limit_of_the_whole() {
    let desk = Desk::open(Limits { whole: ms(800), ..Limits::default() });
    let raw = Raw::default().call(desk.address);
    // Empty messages: each is whole, and none is late.
    let dripping = thread::spawn(move || drip(raw, std::iter::repeat(0)));
    assert_is!(desk.ended(), CarrierError::Timeout(Wait::Whole));
    dripping.join().unwrap();
}

#[test]
fn a_peer_that_takes_a_little_now_and_then_ends_by_the_limit_of_a_message() {
    let desk = Desk::open(Limits { message: ms(800), ..Limits::default() });
    let mut raw = Raw::default().call(desk.address);
    let length = 1_u32 << 20;
    // Sent whole, several times; the answers are more than the system buffers.
    let sending = thread::spawn(move || {
        for _ in 0..64 {
            let message = [&length.to_be_bytes()[..], &vec![7; length as usize]].concat();
            if raw.write_all(&message).and_then(|()| raw.flush()).is_err() {
                break;
            }
            let _a_little = raw.sock.read(&mut [0; 1_000]);
        }
        raw
    });
    assert_is!(desk.ended(), CarrierError::Timeout(Wait::Message));
    desk.still_serves();
    drop(sending.join().unwrap());
}

// ---- limits of the listener

#[test]
fn a_full_listener_says_so_and_serves_whoever_comes_again() {
    let admission = Admission { connections: 3, ..Admission::default() };
    let desk = Desk::open(Limits { admission, ..Limits::default() });
    let mut open: Vec<_> = (0..3).map(|_| desk.call().unwrap()).collect();
    for _ in 0..100 {
        assert_is!(desk.call(), Err(CarrierError::Busy));
    }
    // Those inside have not noticed.
    for connection in &mut open {
        connection.send(b"still here").unwrap();
        assert_eq!(connection.receive().unwrap(), b"still here");
    }
    let address = desk.address.to_string();
    let waiting = thread::spawn(move || {
        Connection::reach(&[address], &identity(PHONE), key(LAPTOP), &Limits::default())
    });
    drop(open.pop());
    let mut connection = waiting.join().unwrap().unwrap();
    connection.send(b"in").unwrap();
    assert_eq!(connection.receive().unwrap(), b"in");
}

/// Calls as the phone from another address of the loopback.
fn call_from(from: [u8; 4], to: SocketAddr) -> RawStream {
    let socket = Socket::new(Domain::IPV4, Type::STREAM, None).unwrap();
    socket.bind(&SocketAddr::from((from, 0)).into()).unwrap();
    socket.connect(&to.into()).unwrap();
    Raw::default().over(socket.into())
}

/// Whether a message comes back; if not, the listener said that it is busy.
fn is_served(mut raw: RawStream) -> bool {
    let message = [0, 0, 0, 3, 7, 8, 9];
    match raw.write_all(&message).and_then(|()| raw.flush()).and_then(|()| raw.read_exact(&mut [0; 7])) {
        Ok(()) => true,
        Err(e) => {
            let why = e.get_ref().and_then(|e| e.downcast_ref::<rustls::Error>());
            let busy = rustls::Error::AlertReceived(AlertDescription::InternalError);
            assert_eq!(why, Some(&busy), "{e:?}");
            false
        }
    }
}

#[test]
fn guesses_are_bounded_by_address_and_keep_no_other_address_out() {
    let admission = Admission { failures: 3, window: PATIENCE, ..Admission::default() };
    let desk = Desk::open(Limits { admission, ..Limits::default() });
    let begun = Instant::now();
    let mut guesses = 0;
    for _ in 0..20 {
        let mut raw = call_from([127, 0, 0, 2], desk.address);
        let guess = [&(GUESS.len() as u32).to_be_bytes()[..], GUESS].concat();
        // The key is proved and the secret is wrong: only the handler knows.
        if raw.write_all(&guess).and_then(|()| raw.flush()).is_ok() && raw.read(&mut [0; 1]).is_ok() {
            desk.ended();
            guesses += 1;
        }
    }
    let steps = (begun.elapsed().as_millis() / (PATIENCE / 3).as_millis()) as usize;
    assert!((3..=3 + steps + 1).contains(&guesses), "{guesses}");
    // On a machine that stood still for seconds one may be forgotten already.
    if begun.elapsed() < PATIENCE / 3 {
        assert!(!is_served(call_from([127, 0, 0, 2], desk.address)));
    }
    assert!(is_served(call_from([127, 0, 0, 3], desk.address)));
    // Those who are served are not counted.
    for _ in 0..20 {
        assert!(is_served(call_from([127, 0, 0, 3], desk.address)));
    }
}

#[test]
fn failed_handshakes_are_bounded_by_address() {
    let admission = Admission { failures: 3, window: Duration::from_secs(3), ..Admission::default() };
    let desk = Desk::open(Limits { admission, ..Limits::default() });
    let begun = Instant::now();
    for _ in 0..3 {
        let mut tcp = TcpStream::connect(desk.address).unwrap();
        tcp.write_all(b"GET / HTTP/1.1\r\n\r\n").unwrap();
        assert_is!(desk.failed(), CarrierError::Foreign(_));
        // Closed when the failure is counted.
        let _ = tcp.read_to_end(&mut Vec::new());
    }
    let refused = desk.call();
    if begun.elapsed() < Duration::from_secs(1) {
        assert_is!(refused, Err(CarrierError::Busy));
    }
    // When one is forgotten, whoever called meanwhile is served.
    let address = desk.address.to_string();
    Connection::reach(&[address], &identity(PHONE), key(LAPTOP), &Limits::default()).unwrap().close();
}

#[test]
fn one_address_does_not_take_every_place() {
    let admission = Admission { connections: 4, connections_per_source: 3, ..Admission::default() };
    let desk = Desk::open(Limits { admission, ..Limits::default() });
    let hanging: Vec<_> = (0..10).map(|_| call_from([127, 0, 0, 2], desk.address)).collect();
    assert!(is_served(call_from([127, 0, 0, 3], desk.address)));
    assert_eq!(hanging.into_iter().filter(|raw| !raw.conn.is_handshaking()).count(), 3);
}

/// A squad's devices, all at once, and each served; gives how many were in at
/// the same time. Nobody leaves before `together` are in.
fn squad_meets(limits: Limits, together: usize) -> usize {
    let listener = Listener::bind(ANYWHERE, limits).unwrap();
    let (stop, address) = (listener.stop(), listener.address().to_string());
    let (open, most, served) = (AtomicUsize::new(0), AtomicUsize::new(0), AtomicUsize::new(0));
    let limits = Limits { reach: PATIENCE * 4, ..limits };
    thread::scope(|scope| {
        let serving = scope.spawn(|| {
            listener.serve(&identity(LAPTOP), &|connection| {
                most.fetch_max(open.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                let begun = Instant::now();
                while most.load(Ordering::SeqCst) < together && begun.elapsed() < PATIENCE / 2 {
                    thread::sleep(ms(5));
                }
                if let Ok(mut connection) = connection {
                    while let Ok(message) = connection.receive() {
                        connection.send(&message).unwrap();
                    }
                    served.fetch_add(1, Ordering::SeqCst);
                    connection.close();
                }
                open.fetch_sub(1, Ordering::SeqCst);
                Verdict::Accepted
            });
        });
        let devices: Vec<_> = (0..200_u8)
            .map(|n| {
                let (address, limits) = (address.clone(), &limits);
                scope.spawn(move || {
                    let mut link = Connection::reach(&[address], &identity(n), key(LAPTOP), limits).unwrap();
                    for size in [10, 40_000, 100] {
                        let message = vec![n; size];
                        link.send(&message).unwrap();
                        assert!(link.receive().unwrap() == message);
                    }
                    link.close();
                })
            })
            .collect();
        for device in devices {
            device.join().unwrap();
        }
        stop.stop();
        serving.join().unwrap();
    });
    assert_eq!(served.into_inner(), 200);
    most.into_inner()
}

/// They share an address here, and so half of the places: most are told to come
/// again.
#[test]
fn two_hundred_devices_are_served_though_there_are_fewer_places() {
    let places = Admission::default().connections_per_source;
    assert_eq!(squad_meets(Limits::default(), places), places);
}

#[test]
fn two_hundred_devices_are_served_at_the_same_time() {
    let admission = Admission { connections: 200, connections_per_source: 200, ..Admission::default() };
    assert_eq!(squad_meets(Limits { admission, ..Limits::default() }, 200), 200);
}

// ---- the addresses of one device

/// An address at which nobody listens.
fn nobody() -> String {
    TcpListener::bind(ANYWHERE).unwrap().local_addr().unwrap().to_string()
}

fn reach(addresses: &[String], limits: &Limits) -> Result<Connection, NotReached> {
    Connection::reach(addresses, &identity(PHONE), key(LAPTOP), limits)
}

#[test]
fn the_first_address_at_which_the_key_is_proved_is_taken() {
    let desk = Desk::open(Limits::default());
    let silent = TcpListener::bind(ANYWHERE).unwrap();
    let silent = (silent.local_addr().unwrap().to_string(), silent);
    let other = Listener::bind(ANYWHERE, Limits::default()).unwrap();
    let (stop, others) = (other.stop(), other.address().to_string());
    thread::scope(|scope| {
        scope.spawn(|| other.serve(&identity(STRANGER), &|_| Verdict::Accepted));
        // The silent one takes the call and says nothing: it is not waited for.
        let addresses =
            [silent.0.clone(), nobody(), others, "no such name:1".to_owned(), desk.address.to_string()];
        let mut link = reach(&addresses, &Limits::default()).unwrap();
        assert_eq!(link.address(), desk.address);
        link.send(b"found").unwrap();
        assert_eq!(link.receive().unwrap(), b"found");
        stop.stop();
    });
}

#[test]
fn a_device_at_none_of_its_addresses_is_told_address_by_address() {
    let other = Desk::open(Limits::default());
    let admission = Admission { connections: 0, ..Admission::default() };
    let full = Desk::open(Limits { admission, ..Limits::default() });
    let silent = TcpListener::bind(ANYWHERE).unwrap();
    let web = TcpListener::bind(ANYWHERE).unwrap();
    let addresses = [
        nobody(),
        other.address.to_string(),
        full.address.to_string(),
        silent.local_addr().unwrap().to_string(),
        web.local_addr().unwrap().to_string(),
    ];
    let answering = thread::spawn(move || {
        let (mut web, _) = web.accept().unwrap();
        web.write_all(b"HTTP/1.1 400 Bad Request\r\n\r\n").unwrap();
        web
    });
    let limits = Limits { reach: Duration::from_secs(3), handshake: ms(500), ..Limits::default() };
    // Neither of the two desks is this stranger.
    let gone = Connection::reach(&addresses, &identity(PHONE), key(STRANGER), &limits).unwrap_err();
    drop(answering.join().unwrap());
    assert_eq!(gone.tried.iter().map(|t| t.address.clone()).collect::<Vec<_>>(), addresses);
    let errors: Vec<_> = gone.tried.iter().map(|tried| &tried.error).collect();
    match errors.as_slice() {
        [
            CarrierError::Unreachable { address, source },
            CarrierError::WrongKey { expected, found },
            CarrierError::Busy | CarrierError::Timeout(Wait::Reach),
            CarrierError::Timeout(Wait::Handshake),
            CarrierError::Foreign(_),
        ] => {
            assert_eq!((address, source.kind()), (&addresses[0], ErrorKind::ConnectionRefused));
            assert_eq!((*expected, *found), (key(STRANGER), key(LAPTOP)));
        }
        _ => panic!("{gone}"),
    }
    assert!(reach(&[], &limits).unwrap_err().tried.is_empty());
}

#[test]
fn one_limit_ends_the_calls_at_all_addresses() {
    let silent: Vec<_> = (0..20).map(|_| TcpListener::bind(ANYWHERE).unwrap()).collect();
    let addresses: Vec<_> = silent.iter().map(|s| s.local_addr().unwrap().to_string()).collect();
    let limits = Limits { reach: ms(600), handshake: PATIENCE, ..Limits::default() };
    let gone = reach(&addresses, &limits).unwrap_err();
    assert_eq!(gone.tried.len(), 20);
    for tried in gone.tried {
        assert_is!(tried.error, CarrierError::Timeout(Wait::Reach | Wait::Handshake));
    }
}

#[test]
fn a_listener_of_another_kind_is_named() {
    let tcp = TcpListener::bind(ANYWHERE).unwrap();
    let address = tcp.local_addr().unwrap();
    let limits = Limits { handshake: ms(300), ..Limits::default() };
    let other = thread::spawn(move || {
        let (mut web, _) = tcp.accept().unwrap();
        web.write_all(b"HTTP/1.1 400 Bad Request\r\n\r\n").unwrap();
        let (gone, _) = tcp.accept().unwrap();
        drop(gone);
        (web, tcp.accept().unwrap())
    });
    assert_is!(connect(address, &limits), Err(CarrierError::Foreign(_)));
    assert_is!(connect(address, &limits), Err(CarrierError::Cut));
    assert_is!(connect(address, &limits), Err(CarrierError::Timeout(Wait::Handshake)));
    drop(other.join().unwrap());
}

// ---- the end

#[test]
fn cutting_ends_open_conversations_and_waits_for_them() {
    let mut desk = Desk::open(Limits::default());
    let mut connection = desk.call().unwrap();
    connection.send(b"before").unwrap();
    assert_eq!(connection.receive().unwrap(), b"before");
    let half = TcpStream::connect(desk.address).unwrap();

    desk.stop.cut();
    desk.thread.take().unwrap().join().unwrap();
    // Serving is over, so the handler has already said why.
    let (peer, error) = desk.ended.try_recv().unwrap();
    assert_eq!(peer, key(PHONE));
    assert_is!(error, CarrierError::Cut);
    assert_is!(connection.receive(), Err(CarrierError::Cut));
    drop(half);
}

#[test]
fn stopping_lets_open_conversations_come_to_their_end() {
    let mut desk = Desk::open(Limits::default());
    let mut connection = desk.call().unwrap();
    connection.send(b"before").unwrap();
    assert_eq!(connection.receive().unwrap(), b"before");
    desk.stop.stop();
    desk.stop.stop();
    connection.send(b"after").unwrap();
    assert_eq!(connection.receive().unwrap(), b"after");
    connection.close();
    desk.thread.take().unwrap().join().unwrap();
    assert_is!(desk.ended(), CarrierError::Ended);
    assert_is!(desk.call(), Err(CarrierError::Unreachable { .. }));
}

#[test]
fn a_handler_that_panics_takes_only_its_own_connection_with_it() {
    let listener = Listener::bind(ANYWHERE, Limits::default()).unwrap();
    let (address, stop) = (listener.address(), listener.stop());
    let serving = thread::spawn(move || {
        listener.serve(&identity(LAPTOP), &|connection| {
            let mut connection = connection.unwrap();
            let message = connection.receive().unwrap();
            assert_eq!(message, b"fine", "the panic that this test is about");
            connection.send(&message).unwrap();
            Verdict::Accepted
        });
    });
    let ask = |message: &[u8]| {
        let mut connection = connect(address, &Limits::default()).unwrap();
        connection.send(message).unwrap();
        connection.receive()
    };
    assert_is!(ask(b"not fine"), Err(CarrierError::Cut));
    assert_eq!(ask(b"fine").unwrap(), b"fine");
    stop.stop();
    assert!(serving.join().is_err());
}

#[test]
fn an_address_in_use_is_named() {
    let listener = Listener::bind(ANYWHERE, Limits::default()).unwrap();
    match Listener::bind(listener.address(), Limits::default()) {
        Err(CarrierError::Unreachable { address, source }) => {
            assert_eq!((address, source.kind()), (listener.address().to_string(), ErrorKind::AddrInUse));
        }
        answer => panic!("{answer:?}"),
    }
}

// ---- a caller made from the TLS library alone, that can break every rule

type RawStream = rustls::StreamOwned<rustls::ClientConnection, TcpStream>;

struct Raw {
    /// The key it says it has.
    presented: Option<u8>,
    /// The key it signs with.
    signs: u8,
    protocol: Option<&'static str>,
}

impl Default for Raw {
    fn default() -> Self {
        Self { presented: Some(PHONE), signs: PHONE, protocol: Some("pitside/1") }
    }
}

impl Raw {
    fn connection(&self) -> rustls::ClientConnection {
        let name = Ipv4Addr::LOCALHOST.into();
        rustls::ClientConnection::new(raw::client_config(self), name).unwrap()
    }

    /// The first message of its handshake.
    fn hello(&self) -> Vec<u8> {
        let mut bytes = Vec::new();
        self.connection().write_tls(&mut bytes).unwrap();
        bytes
    }

    /// Calls, and goes as far in the handshake as it gets.
    fn call(&self, address: SocketAddr) -> RawStream {
        self.over(TcpStream::connect(address).unwrap())
    }

    fn over(&self, tcp: TcpStream) -> RawStream {
        let mut stream = RawStream::new(self.connection(), tcp);
        let _refused = stream.flush();
        stream
    }
}

mod raw {
    use rustls::client::AlwaysResolvesClientRawPublicKeys;
    use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
    use rustls::crypto::ring;
    use rustls::pki_types::{CertificateDer, PrivatePkcs8KeyDer, ServerName, UnixTime};
    use rustls::server::AlwaysResolvesServerRawPublicKeys;
    use rustls::server::danger::{ClientCertVerified, ClientCertVerifier};
    use rustls::sign::CertifiedKey;
    use rustls::{
        ClientConfig, DigitallySignedStruct, DistinguishedName, Error, ServerConfig, SignatureScheme,
    };

    use super::{Arc, Raw, key};

    /// RFC 8410, sections 4 and 7: what stands before a public and a private key.
    const PUBLIC: [u8; 12] = [48, 42, 48, 5, 6, 3, 43, 101, 112, 3, 33, 0];
    const PRIVATE: [u8; 16] = [48, 46, 2, 1, 0, 48, 5, 6, 3, 43, 101, 112, 4, 34, 4, 32];

    fn certified(presented: u8, signs: u8) -> Arc<CertifiedKey> {
        let public = [&PUBLIC[..], &key(presented).0].concat();
        let private = [&PRIVATE[..], &[signs; 32]].concat();
        let key = ring::sign::any_eddsa_type(&PrivatePkcs8KeyDer::from(private)).unwrap();
        Arc::new(CertifiedKey::new(vec![public.into()], key))
    }

    pub(super) fn server_config(presented: u8, signs: u8) -> Arc<ServerConfig> {
        let keys = AlwaysResolvesServerRawPublicKeys::new(certified(presented, signs));
        let mut config = ServerConfig::builder()
            .with_client_cert_verifier(Arc::new(Anybody))
            .with_cert_resolver(Arc::new(keys));
        config.alpn_protocols = vec![b"pitside/1".to_vec()];
        Arc::new(config)
    }

    pub(super) fn client_config(raw: &Raw) -> Arc<ClientConfig> {
        let builder = ClientConfig::builder().dangerous().with_custom_certificate_verifier(Arc::new(Anybody));
        let mut config = match raw.presented {
            Some(presented) => builder.with_client_cert_resolver(Arc::new(
                AlwaysResolvesClientRawPublicKeys::new(certified(presented, raw.signs)),
            )),
            None => builder.with_no_client_auth(),
        };
        config.alpn_protocols = raw.protocol.iter().map(|name| name.as_bytes().to_vec()).collect();
        Arc::new(config)
    }

    #[derive(Debug)]
    struct Anybody;

    impl ServerCertVerifier for Anybody {
        fn verify_server_cert(
            &self,
            _: &CertificateDer<'_>,
            _: &[CertificateDer<'_>],
            _: &ServerName<'_>,
            _: &[u8],
            _: UnixTime,
        ) -> Result<ServerCertVerified, Error> {
            Ok(ServerCertVerified::assertion())
        }

        fn verify_tls12_signature(
            &self,
            _: &[u8],
            _: &CertificateDer<'_>,
            _: &DigitallySignedStruct,
        ) -> Result<HandshakeSignatureValid, Error> {
            Ok(HandshakeSignatureValid::assertion())
        }

        fn verify_tls13_signature(
            &self,
            _: &[u8],
            _: &CertificateDer<'_>,
            _: &DigitallySignedStruct,
        ) -> Result<HandshakeSignatureValid, Error> {
            Ok(HandshakeSignatureValid::assertion())
        }

        fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
            vec![SignatureScheme::ED25519]
        }

        fn requires_raw_public_keys(&self) -> bool {
            true
        }
    }

    impl ClientCertVerifier for Anybody {
        fn root_hint_subjects(&self) -> &[DistinguishedName] {
            &[]
        }

        fn verify_client_cert(
            &self,
            _: &CertificateDer<'_>,
            _: &[CertificateDer<'_>],
            _: UnixTime,
        ) -> Result<ClientCertVerified, Error> {
            Ok(ClientCertVerified::assertion())
        }

        fn verify_tls12_signature(
            &self,
            _: &[u8],
            _: &CertificateDer<'_>,
            _: &DigitallySignedStruct,
        ) -> Result<HandshakeSignatureValid, Error> {
            Ok(HandshakeSignatureValid::assertion())
        }

        fn verify_tls13_signature(
            &self,
            _: &[u8],
            _: &CertificateDer<'_>,
            _: &DigitallySignedStruct,
        ) -> Result<HandshakeSignatureValid, Error> {
            Ok(HandshakeSignatureValid::assertion())
        }

        fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
            vec![SignatureScheme::ED25519]
        }

        fn requires_raw_public_keys(&self) -> bool {
            true
        }
    }
}
