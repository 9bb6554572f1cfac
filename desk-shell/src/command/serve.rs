//! `pitside serve`: the coach's book, its page, and the listener that phones
//! sync with.

use std::io::Write;
use std::net::{Ipv4Addr, SocketAddr, SocketAddrV4};
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use data_encoding::HEXLOWER;
use pitside_book::announce::{Announcer, Interfaces};
use pitside_book::carrier::{Limits, Listener};
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::keys::{OsRng, Rng};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, BookError};
use pitside_model::facts::{Grant, Role};
use pitside_screen::Companion;

use crate::device::{self, Where, is_loopback};
use crate::failure::{Exit, Failure};
use crate::page::{self, Desk, Invited, Shelf};

/// Minutes for which an invitation holds.
const INVITATION_MINUTES: u16 = 10;

/// The arguments of `pitside serve`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    at: Where,
    /// Found a squad of this name, where there is no book yet
    #[arg(long, value_name = "NAME")]
    found: Option<String>,
    #[command(flatten)]
    ports: Ports,
}

/// Where the page and the listener are.
#[derive(clap::Args)]
pub(crate) struct Ports {
    /// The page's port on this machine; 0 takes a free one
    #[arg(long, value_name = "PORT", default_value_t = 4416)]
    page_port: u16,
    /// Where phones reach this machine. Others than 127.0.0.1 open it to the network
    #[arg(long, value_name = "ADDRESS:PORT", default_value = "127.0.0.1:4417")]
    listen: SocketAddr,
    /// An address to put into invitations, where the one listened at is not it
    #[arg(long, value_name = "HOST:PORT")]
    reached_at: Vec<String>,
    /// A folder of clips that the page offers and reads in place
    #[arg(long, value_name = "FOLDER")]
    clips: Option<PathBuf>,
    /// Make this machine known on the local network, without any name in it, so
    /// that paired devices find it by themselves
    #[arg(long)]
    announce: bool,
}

impl Ports {
    /// Free ports of this machine only, and a folder of clips.
    pub(crate) fn free(clips: PathBuf) -> Self {
        let listen = SocketAddr::V4(SocketAddrV4::new(Ipv4Addr::LOCALHOST, 0));
        Self { page_port: 0, listen, reached_at: Vec::new(), clips: Some(clips), announce: false }
    }
}

pub(crate) fn run(args: Args, out: &mut dyn Write) -> Result<(), Failure> {
    let folder = args.at.folder()?;
    let book = match (&args.found, Book::exists(&folder)) {
        (_, true) => device::open(&folder)?,
        (Some(_), false) => device::create(&folder, false)?,
        (None, false) => {
            let missing = pitside_book::store::BookError::Missing(folder);
            return Err(missing.into());
        }
    };
    if let Some(name) = &args.found {
        let founded = book.found(name, SystemClock.now())?;
        writeln!(out, "Founded: {name}")?;
        writeln!(
            out,
            "\nThe squad's recovery key. Write it down or print it now, and keep it apart from this"
        )?;
        writeln!(out, "machine: it is shown once, and kept nowhere. If the machine is lost, a new one")?;
        writeln!(
            out,
            "carries the squad on with it (pitside recover). Whoever has it can take the squad over."
        )?;
        writeln!(out, "\n    {}\n", *founded.recovery.to_text())?;
    }
    serve(Arc::new(book), Arc::new(SystemClock), args.ports, out)
}

/// Serves page and listener until the process is told to end.
pub(crate) fn serve(
    book: Arc<Book>,
    clock: Arc<dyn Clock>,
    ports: Ports,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    let listener = Listener::bind(ports.listen, Limits::default())?;
    let address = SocketAddr::V4(SocketAddrV4::new(Ipv4Addr::LOCALHOST, ports.page_port));
    let cannot = |e: std::io::Error| {
        Failure::new(Exit::Unexpected, format!("the page cannot be served at {address}: {e}"))
            .hint("is another pitside running? --page-port 0 takes a free port")
    };
    let socket = std::net::TcpListener::bind(address).map_err(cannot)?;
    let address = socket.local_addr().map_err(cannot)?;
    let mut token = [0; 16];
    OsRng.fill(&mut token).map_err(|e| Failure::new(Exit::Unexpected, e.to_string()))?;
    let token = HEXLOWER.encode(&token);

    writeln!(out, "The page:   http://{address}/?token={token}")?;
    writeln!(out, "            on this machine only; the address holds until this program ends")?;
    let open_to = listener.address();
    if is_loopback(&open_to) {
        writeln!(out, "Phones:     {open_to}, this machine only (--listen opens it to a network)")?;
    } else {
        writeln!(out, "Phones:     {open_to}, open to that network")?;
    }
    let announcer = announcer(&book, &ports, open_to)?;
    if announcer.is_some() {
        writeln!(out, "Announced:  on the local network, without a name; paired devices find this one")?;
    }
    writeln!(out, "End with Ctrl-C.")?;
    out.flush()?;

    let mut reached = ports.reached_at;
    if reached.is_empty() && !open_to.ip().is_unspecified() {
        reached.push(open_to.to_string());
    }
    let shelf = Shelf::new(ports.clips).map_err(|e| {
        Failure::new(
            Exit::Unexpected,
            format!("there is no room for clips in the folder of temporary files: {e}"),
        )
    })?;
    let damaged = Arc::new(AtomicBool::new(false));
    let ending = AtomicBool::new(false);
    let desk = Arc::new(Desk {
        companion: Companion::over(Arc::clone(&book)),
        clock: Arc::clone(&clock),
        invite: inviter(Arc::clone(&book), Arc::clone(&clock), reached),
        token,
        address,
        damaged: Arc::clone(&damaged),
        shelf,
    });
    let stop = listener.stop();
    // Lines of the calls come from threads; standard output is this process's own.
    let said = Mutex::new(());
    std::thread::scope(|scope| {
        let calls = scope.spawn(|| {
            listener.serve(book.identity(), &|connection| {
                let (line, verdict) = device::answer(&book, connection, &*clock);
                let _turn = said.lock().unwrap_or_else(PoisonError::into_inner);
                // A terminal that is gone does not end the sync.
                let _ = writeln!(anstream::stderr(), "{line}");
                verdict
            });
        });
        // In the background: it reads alone, and holds nobody up.
        let looking = scope.spawn(|| {
            let line = match look_over(&book, &ending) {
                Ok(0) => return,
                Ok(faults) => format!("the book is damaged, {faults} faults: pitside book check lists them"),
                Err(e) => format!("the book could not be looked over: {e}"),
            };
            damaged.store(true, Ordering::Release);
            let _turn = said.lock().unwrap_or_else(PoisonError::into_inner);
            let _ = writeln!(anstream::stderr(), "{line}");
        });
        let served = pages(socket, desk);
        ending.store(true, Ordering::Release);
        stop.stop();
        let _ = calls.join();
        let _ = looking.join();
        served
    })
}

/// Looks the whole book over; gives how many faults were found. It is called off when
/// the program ends.
fn look_over(book: &Book, ending: &AtomicBool) -> Result<usize, BookError> {
    Ok(book.check(&mut |_, _| !ending.load(Ordering::Acquire))?.len())
}

/// Announces the listener where that was asked for. It ends with the value.
fn announcer(book: &Book, ports: &Ports, open_to: SocketAddr) -> Result<Option<Announcer>, Failure> {
    if !ports.announce {
        return Ok(None);
    }
    if is_loopback(&open_to) {
        return Err(Failure::new(Exit::Usage, "nobody on a network reaches a listener of this machine only")
            .hint("open it too: --listen ADDRESS:PORT"));
    }
    let interfaces = match open_to.ip() {
        ip if ip.is_unspecified() => Interfaces::All,
        ip => Interfaces::With(vec![ip]),
    };
    Announcer::start(book.device(), &interfaces, open_to.port(), &mut OsRng)
        .map(Some)
        .map_err(|e| Failure::new(Exit::Sync, e.to_string()).hint("start without --announce"))
}

fn inviter(book: Arc<Book>, clock: Arc<dyn Clock>, reached: Vec<String>) -> page::Inviter {
    Box::new(move || {
        if reached.is_empty() {
            return Err("This machine listens at every address; start it with --reached-at HOST:PORT, \
                        so that an invitation can say where."
                .to_owned());
        }
        let now = clock.now();
        let open = book
            .invite(Grant::new(Role::Athlete, vec![]), now, INVITATION_MINUTES)
            .map_err(|e| e.to_string())?;
        let invitation = Invitation::of(&book, &open, reached.clone()).map_err(|e| e.to_string())?;
        let minute = (open.expires_ms / 60_000 + i64::from(now.zone_min)).rem_euclid(1_440);
        Ok(Invited {
            text: invitation.to_text(),
            until: format!("{}:{:02}", minute / 60, minute % 60),
            addresses: reached.clone(),
        })
    })
}

fn pages(socket: std::net::TcpListener, desk: Arc<Desk>) -> Result<(), Failure> {
    let failed = |e: std::io::Error| Failure::new(Exit::Unexpected, format!("the page ended: {e}"));
    socket.set_nonblocking(true).map_err(failed)?;
    let runtime =
        tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().map_err(failed)?;
    runtime.block_on(async {
        let socket = tokio::net::TcpListener::from_std(socket).map_err(failed)?;
        axum::serve(socket, page::router(desk)).with_graceful_shutdown(called_off()).await.map_err(failed)
    })
}

/// Waits until the program is to end: by its keys, by the system, or with the window that
/// it was started in. What it keeps meanwhile is deleted then.
async fn called_off() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};

        let ends = [SignalKind::interrupt(), SignalKind::terminate(), SignalKind::hangup()];
        if let [Ok(mut keys), Ok(mut system), Ok(mut window)] = ends.map(signal) {
            tokio::select! {
                _ = keys.recv() => {}
                _ = system.recv() => {}
                _ = window.recv() => {}
            }
            return;
        }
    }
    // Without a signal handler there is nothing to wait for but the end.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
