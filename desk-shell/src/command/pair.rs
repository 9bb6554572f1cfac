//! `pitside pair`: invites a device, or answers an invitation.

use std::io::Write;
use std::net::SocketAddr;
use std::sync::Mutex;
use std::time::Duration;

use pitside_book::carrier::{Limits, Listener};
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::exchange::accept;
use pitside_book::pairing::Invitation;
use pitside_model::facts::{Grant, MemberId, Role};
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
    match &args.text {
        Some(text) => join(args, text, out),
        None => invite(args, out),
    }
}

fn join(args: &Args, text: &str, out: &mut dyn Write) -> Result<(), Failure> {
    let invitation = Invitation::from_text(text)
        .map_err(|e| Failure::new(Exit::Sync, e.to_string()).hint("the coach's device shows it"))?;
    let book = args.at.open_or_create()?;
    let part = accept(&book, &invitation, &SystemClock)?;
    let outcome = device::call(&book, invitation.device, &invitation.addresses, part)?;
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
    let text = device::invitation(&book, &open, reached)?.to_text();
    if let Ok(code) = QrCode::new(&text) {
        writeln!(out, "{}", code.render::<Dense1x2>().build())?;
    }
    writeln!(out, "{text}")?;
    writeln!(
        out,
        "Admits one device, once, within {} minutes. Waiting for it; end with Ctrl-C.",
        args.minutes
    )?;
    out.flush()?;

    let before = book.devices()?.len();
    let stop = listener.stop();
    let (tell, told) = std::sync::mpsc::channel();
    let tell = Mutex::new(tell);
    std::thread::scope(|scope| {
        let calls = scope.spawn(|| {
            listener.serve(book.identity(), &|connection| {
                let (line, verdict) = device::answer(&book, connection, &SystemClock);
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
