//! Real sockets on the loopback: keys, limits, hostile bytes.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::Duration;

use pitside_book::carrier::{CarrierError, Connection, Limits, Listener, Wait};
use pitside_book::exchange::Link;
use pitside_book::keys::{Identity, Seed};
use zeroize::Zeroizing;

fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

fn short() -> Limits {
    Limits {
        handshake: Duration::from_millis(600),
        idle: Duration::from_millis(300),
        message: Duration::from_millis(600),
        whole: Duration::from_secs(5),
        connections: 3,
        ..Limits::default()
    }
}

type Heard = Receiver<Result<Vec<u8>, String>>;

/// Runs `test` against a listener that echoes messages; what its handler met
/// arrives on the channel.
fn with_echo(limits: Limits, test: impl FnOnce(SocketAddr, &Heard)) {
    let listener = Listener::bind("127.0.0.1:0".parse().unwrap(), limits).unwrap();
    let (tell, heard) = channel();
    let stop = listener.stop();
    let address = listener.address();
    thread::scope(|scope| {
        let serving = scope.spawn(move || {
            listener.serve(&identity(1), &move |connection| {
                let mut connection = match connection {
                    Ok(connection) => connection,
                    Err(e) => return tell.send(Err(format!("{e:?}"))).unwrap(),
                };
                loop {
                    match connection.receive() {
                        Ok(message) => {
                            connection.send(&message).unwrap();
                            tell.send(Ok(message)).unwrap();
                        }
                        Err(e) => return tell.send(Err(format!("{e:?}"))).unwrap(),
                    }
                }
            });
        });
        test(address, &heard);
        stop.stop();
        serving.join().unwrap();
    });
}

fn call(address: SocketAddr, limits: &Limits) -> Connection {
    Connection::connect(&address.to_string(), &identity(2), identity(1).key(), limits).unwrap()
}

#[test]
fn messages_of_every_size_come_back() {
    with_echo(Limits::default(), |address, _| {
        let mut link = call(address, &Limits::default());
        assert_eq!(link.peer(), identity(1).key());
        for size in [0, 1, 16_384, 16_385, 300_000, 1 << 20] {
            let message: Vec<u8> = (0..size).map(|n| (n % 251) as u8).collect();
            link.send(&message).unwrap();
            assert_eq!(link.receive().unwrap(), message);
        }
        let refused = link.send(&vec![0; (1 << 20) + 1]);
        assert!(matches!(refused, Err(CarrierError::TooLarge { .. })), "{refused:?}");
        link.close();
    });
}

#[test]
fn a_message_that_is_announced_too_large_ends_the_connection_before_it_is_read() {
    with_echo(Limits::default(), |address, heard| {
        let generous = Limits { message_bytes: 1 << 30, ..Limits::default() };
        let mut link = call(address, &generous);
        let _ = link.send(&vec![0; 2 << 20]);
        let told = heard.recv_timeout(Duration::from_secs(10)).unwrap().unwrap_err();
        assert_eq!(told, "TooLarge { claimed: 2097152, limit: 1048576 }");
    });
}

#[test]
fn another_key_is_refused_by_name_and_both_sides_are_told() {
    with_echo(Limits::default(), |address, heard| {
        let other = identity(9).key();
        match Connection::connect(&address.to_string(), &identity(2), other, &Limits::default()) {
            Err(CarrierError::WrongKey { expected, found }) => {
                assert_eq!((expected, found), (other, identity(1).key()));
            }
            answer => panic!("{answer:?}"),
        }
        let told = heard.recv_timeout(Duration::from_secs(10)).unwrap().unwrap_err();
        assert!(told.starts_with("Refused"), "{told}");
    });
}

#[test]
fn what_is_no_device_is_turned_away_and_the_next_call_answered() {
    with_echo(short(), |address, heard| {
        let hostile: [&[u8]; 4] =
            [b"GET / HTTP/1.1\r\nHost: x\r\n\r\n", &[0xff; 4_000], b"\x16\x03\x01\xff\xff", b""];
        for bytes in hostile {
            let mut socket = TcpStream::connect(address).unwrap();
            socket.write_all(bytes).unwrap();
            let told = heard.recv_timeout(Duration::from_secs(10)).unwrap().unwrap_err();
            assert!(told.starts_with("Foreign") || told.starts_with("Timeout"), "{told}");
            let mut rest = Vec::new();
            socket.set_read_timeout(Some(Duration::from_secs(10))).unwrap();
            let _ = socket.read_to_end(&mut rest);
        }
        let mut link = call(address, &Limits::default());
        link.send(b"still there").unwrap();
        assert_eq!(link.receive().unwrap(), b"still there");
    });
}

#[test]
fn a_handshake_that_drips_comes_to_its_end() {
    with_echo(short(), |address, heard| {
        let mut socket = TcpStream::connect(address).unwrap();
        // Each byte comes well within the idle limit: only the handshake's ends it.
        for byte in [0x16_u8, 0x03, 0x01, 0x02, 0x00, 0x01, 0x00, 0x01, 0xfc, 0x03] {
            if socket.write_all(&[byte]).is_err() {
                break;
            }
            thread::sleep(Duration::from_millis(150));
        }
        let told = heard.recv_timeout(Duration::from_secs(10)).unwrap().unwrap_err();
        assert_eq!(told, format!("Timeout({:?})", Wait::Handshake));
    });
}

#[test]
fn a_silent_peer_and_a_cut_are_told_apart() {
    with_echo(short(), |address, heard| {
        let link = call(address, &Limits::default());
        let told = heard.recv_timeout(Duration::from_secs(10)).unwrap().unwrap_err();
        assert_eq!(told, format!("Timeout({:?})", Wait::Idle));
        drop(link);
        drop(call(address, &Limits::default()));
        let told = heard.recv_timeout(Duration::from_secs(10)).unwrap().unwrap_err();
        assert_eq!(told, "Cut");
    });
}

#[test]
fn more_calls_than_allowed_at_once_are_not_answered() {
    let limits = Limits { idle: Duration::from_secs(5), handshake: Duration::from_secs(5), ..short() };
    with_echo(limits, |address, _| {
        let held: Vec<_> = (0..3).map(|_| call(address, &Limits::default())).collect();
        let refused = Connection::connect(&address.to_string(), &identity(2), identity(1).key(), &limits);
        assert!(refused.is_err());
        drop(held);
    });
}

#[test]
fn nobody_there_is_said_with_the_address() {
    let free = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().to_string();
    match Connection::connect(&free, &identity(2), identity(1).key(), &short()) {
        Err(CarrierError::Unreachable { address, .. }) => assert_eq!(address, free),
        answer => panic!("{answer:?}"),
    }
}
