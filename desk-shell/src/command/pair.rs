//! `pitside pair`: invites a device, or answers an invitation.

use std::io::Write;
use std::net::SocketAddr;
use std::sync::Mutex;
use std::time::Duration;

use pitside_book::carrier::{Connection, Limits, Listener};
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::exchange::{Link, accept};
use pitside_book::pairing::{Invitation, ask, words};
use pitside_book::store::Book;
use pitside_model::facts::{DeviceKey, Grant, MemberId, Role};
use qrcode::QrCode;
use qrcode::render::unicode::Dense1x2;

use uuid::Uuid;

use crate::device::{self, Where};
use crate::failure::{Exit, Failure};

/// The arguments of `pitside pair`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// The text of an invitation; without it, this device invites
    text: Option<String>,
    #[command(flatten)]
    at: Where,
    /// Where the other device reaches this one, while inviting
    #[arg(long, value_name = "ADDRESS:PORT", default_value = "127.0.0.1:4417")]
    listen: SocketAddr,
    /// An address to put into the invitation, where the one listened at is not it
    #[arg(long, value_name = "HOST:PORT")]
    reached_at: Vec<String>,
    /// How long the invitation holds
    #[arg(long, default_value_t = 10, value_parser = clap::value_parser!(u16).range(1..=120))]
    minutes: u16,
    /// Call whoever invites at HOST:PORT, and compare words instead of a text
    #[arg(long, value_name = "HOST:PORT", conflicts_with = "text")]
    calling: Option<String>,
    #[command(flatten)]
    given: Given,
}

/// What a device is given.
#[derive(clap::Args)]
pub(crate) struct Given {
    /// What the device will be: athlete, assistant, medical, guardian, owner
    #[arg(long = "as", value_name = "ROLE", default_value = "athlete")]
    role: Role,
    /// A member it is given, by id; more than once for more. An athlete's phone
    /// brings its own
    #[arg(long = "member", value_name = "ID")]
    members: Vec<Uuid>,
    /// It is given every member: assistants, medical
    #[arg(long)]
    everyone: bool,
    /// It may write what these members may not do
    #[arg(long)]
    limits: bool,
    /// It may write what these members allow: guardians
    #[arg(long)]
    consent: bool,
}

impl Given {
    /// As a grant.
    pub(crate) fn grant(&self) -> Grant {
        Grant {
            role: self.role,
            members: self.members.iter().copied().map(MemberId).collect(),
            everyone: self.everyone,
            limits: self.limits,
            consent: self.consent,
        }
    }
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    match (&args.text, &args.calling) {
        (Some(text), _) => {
            let invitation = Invitation::from_text(text)
                .map_err(|e| Failure::new(Exit::Sync, e.to_string()).hint("the coach's device shows it"))?;
            join(&args.at.open_or_create()?, &invitation, out)
        }
        (None, Some(address)) => introduce(&args.at.open_or_create()?, address, out),
        (None, None) => invite(args, out),
    }
}

/// Compares words with whoever answers at an address, and joins.
fn introduce(book: &Book, address: &str, out: &mut dyn Write) -> Result<(), Failure> {
    // The other person takes a while to compare.
    let limits = Limits { idle: Duration::from_secs(5 * 60), ..Limits::default() };
    let mut link = Connection::introduce(address, book.identity(), &limits)?;
    writeln!(out, "The device there: {}", words(link.peer()))?;
    writeln!(out, "This device:      {}", words(book.device()))?;
    if !agreed("Are both lines the same on the other screen? [y/N] ", out)? {
        link.close();
        return Err(Failure::new(Exit::Sync, "not paired")
            .hint("somebody else may answer at this address: use the text, or another network"));
    }
    writeln!(out, "Waiting for the other person.")?;
    out.flush()?;
    let invitation = ask(&mut link).map_err(|e| Failure::new(Exit::Sync, e.to_string()))?;
    link.close();
    let addresses = vec![address.to_owned()];
    join(book, &Invitation { addresses, ..invitation }, out)
}

/// Whether the person at the keyboard says yes.
fn agreed(question: &str, out: &mut dyn Write) -> Result<bool, Failure> {
    write!(out, "{question}")?;
    out.flush()?;
    let mut line = String::new();
    std::io::stdin().read_line(&mut line)?;
    Ok(matches!(line.trim().to_lowercase().as_str(), "y" | "yes"))
}

fn join(book: &Book, invitation: &Invitation, out: &mut dyn Write) -> Result<(), Failure> {
    let part = accept(book, invitation, &SystemClock)?;
    let outcome = device::call(book, invitation.device, &invitation.addresses, part, &SystemClock)?;
    writeln!(out, "Paired. {}.", device::told(&outcome))?;
    Ok(())
}

fn invite(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = args.at.open()?;
    let listener = Listener::bind(args.listen, Limits::default())?;
    let mut reached = args.reached_at.clone();
    if reached.is_empty() {
        if listener.address().ip().is_unspecified() {
            return Err(Failure::new(Exit::Sync, "an invitation must say where this machine is reached")
                .hint("name it with --reached-at HOST:PORT"));
        }
        reached.push(listener.address().to_string());
    }
    let open = book.invite(args.given.grant(), SystemClock.now(), args.minutes)?;
    let invitation = Invitation::of(&book, &open, reached)?;
    let text = invitation.to_text();
    if let Ok(code) = QrCode::new(&text) {
        writeln!(out, "{}", code.render::<Dense1x2>().build())?;
    }
    writeln!(out, "{text}")?;
    writeln!(
        out,
        "Admits one device, once, within {} minutes. Waiting for it; end with Ctrl-C.",
        args.minutes
    )?;
    let here = invitation.addresses.first().map_or("HOST:PORT", String::as_str);
    writeln!(out, "Without the text: pitside pair --calling {here} there, and compare words.")?;
    out.flush()?;

    let before = book.devices()?.len();
    let stop = listener.stop();
    let (tell, told) = std::sync::mpsc::channel();
    let tell = Mutex::new(tell);
    // One person, one question at a time; a second caller is sent away.
    let asking = Mutex::new(());
    let invited = |guest: DeviceKey| {
        let _asking = asking.try_lock().ok()?;
        let mut out = anstream::stderr();
        writeln!(out, "\nThis device:          {}", words(book.device())).ok()?;
        writeln!(out, "The device that asks: {}", words(guest)).ok()?;
        agreed("Are both lines the same on its screen? [y/N] ", &mut out).ok()?.then(|| invitation.clone())
    };
    std::thread::scope(|scope| {
        let calls = scope.spawn(|| {
            listener.serve(book.identity(), &|connection| {
                let (line, verdict) = device::answer_or_introduce(&book, connection, &SystemClock, &invited);
                if let Ok(tell) = tell.lock() {
                    // The end of the wait is the only reason why nobody hears it.
                    let _ = tell.send(line);
                }
                verdict
            });
        });
        let ended = loop {
            let left = open.expires_ms - SystemClock.now().ms;
            let patience = Duration::from_millis(u64::try_from(left).unwrap_or(0));
            match told.recv_timeout(patience) {
                Ok(line) => {
                    writeln!(out, "{line}")?;
                    if book.devices()?.len() > before {
                        break Ok(());
                    }
                }
                Err(_) => {
                    break Err(Failure::new(Exit::Sync, "nobody came within the time of the invitation")
                        .hint("make a new one: pitside pair"));
                }
            }
        };
        stop.stop();
        let _ = calls.join();
        ended
    })
}
