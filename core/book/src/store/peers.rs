//! Other devices: where they are reached, what they have, what they sent that
//! was refused.

use std::collections::BTreeMap;

use pitside_model::facts::{DeviceKey, MemberId, Scope};
use rusqlite::{Connection, OptionalExtension, params};

use super::ledger::{self, bytes32, scope_bytes};
use super::line::{self, Place};
use super::{Book, BookError};
use crate::clock::Stamp;
use crate::hand_over::Handed;

/// The most refused pieces that are kept of one device; of more only the number.
const MOST_ASIDE: u64 = 64;

/// Bytes that were received and refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aside {
    /// Why.
    pub reason: String,
    /// Who sent them.
    pub from: Option<DeviceKey>,
    /// How many.
    pub bytes: u64,
    /// When.
    pub at_ms: i64,
    /// How often: beyond a number from one device only that is kept.
    pub times: u64,
}

/// What other devices are known to have of this device's own entries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    /// Own sets that no other device has confirmed.
    pub only_here: u64,
    /// The stamp of the oldest of them.
    pub oldest_only_here_ms: Option<i64>,
}

/// Own entries of one kind that no other device has confirmed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnlyHere {
    /// The kind of fact.
    pub kind: String,
    /// Whether they stand in a member's private part.
    pub private: bool,
    /// How many of them are live.
    pub entries: u64,
}

/// A device that was met, or that is to be called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Peer {
    /// The device.
    pub device: DeviceKey,
    /// Where it was last reached: `host:port`.
    pub addresses: Vec<String>,
    /// When it last confirmed what it has.
    pub met_ms: Option<i64>,
    /// Its wall clock minus this one's, when they last met.
    pub clock_apart_ms: Option<i64>,
}

/// What another device is known to have of this device's own sets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reached {
    /// The device.
    pub device: DeviceKey,
    /// Sets that it confirmed.
    pub confirmed: u64,
    /// When it confirmed the last of them.
    pub since_ms: Option<i64>,
    /// Sets that went into a file for it and that it has not confirmed.
    pub in_file: u64,
    /// When the last such file was made.
    pub file_ms: Option<i64>,
}

/// Where an own entry is besides here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whereabouts {
    /// Another device wrote it.
    NotOwn,
    /// Only on this device.
    OnlyHere,
    /// It went into a file, and nobody has confirmed it.
    Handed {
        /// For whom.
        to: DeviceKey,
        /// When.
        at_ms: i64,
    },
    /// Other devices have it whole, each since when it is known, the first first.
    With(Vec<(DeviceKey, i64)>),
}

impl Book {
    /// What was received and refused, the newest first.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn aside(&self) -> Result<Vec<Aside>, BookError> {
        self.reading(|c| {
            let rows = c
                .prepare_cached(
                    "SELECT reason, peer, length(bytes), at_ms, times FROM aside ORDER BY id DESC",
                )?
                .query_map([], |r| {
                    let from: Option<Vec<u8>> = r.get(1)?;
                    Ok(Aside {
                        reason: r.get(0)?,
                        from: from.and_then(|b| b.try_into().ok()).map(DeviceKey),
                        bytes: r.get(2)?,
                        at_ms: r.get(3)?,
                        times: r.get(4)?,
                    })
                })?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    /// Sets bytes aside that were refused, with the reason.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn set_aside(
        &self,
        from: DeviceKey,
        reason: &str,
        bytes: &[u8],
        now: Stamp,
    ) -> Result<(), BookError> {
        self.writing(|t| Ok(set_aside(t, from, reason, bytes, None, now)?))
    }

    /// What other devices are known to have of this device's own sets. Nothing
    /// is ever deleted because of it.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn carried(&self) -> Result<Carried, BookError> {
        self.reading(|c| {
            let (only_here, oldest_only_here_ms) = c
                .prepare_cached(
                    "SELECT count(*), min(v.stamp_ms)
                     FROM lines l JOIN live v ON v.line = l.id JOIN topics t ON t.id = v.topic
                     WHERE l.device = ?1 AND t.kind = 'set'
                       AND v.seq > coalesce((SELECT max(seq) FROM receipts r WHERE r.line = l.id), 0)",
                )?
                .query_row([self.device().0.as_slice()], |r| Ok((r.get(0)?, r.get(1)?)))?;
            Ok(Carried { only_here, oldest_only_here_ms })
        })
    }

    /// Every kind of own entry that no other device has confirmed: what would be lost with
    /// this one. What is private is told apart, since it leaves only where it is shared.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn only_here(&self) -> Result<Vec<OnlyHere>, BookError> {
        self.reading(|c| {
            let mut statement = c.prepare_cached(
                "SELECT t.kind, t.scope, count(*)
                 FROM lines l JOIN live v ON v.line = l.id JOIN topics t ON t.id = v.topic
                 WHERE l.device = ?1
                   AND v.seq > coalesce((SELECT max(seq) FROM receipts r WHERE r.line = l.id), 0)
                 GROUP BY t.kind, t.scope",
            )?;
            let mut found: BTreeMap<(String, bool), u64> = BTreeMap::new();
            let mut rows = statement.query([self.device().0.as_slice()])?;
            while let Some(r) = rows.next()? {
                let private = matches!(ledger::scope(&r.get::<_, Vec<u8>>(1)?)?, Scope::Private(_));
                *found.entry((r.get(0)?, private)).or_default() += r.get::<_, u64>(2)?;
            }
            let only = |((kind, private), entries)| OnlyHere { kind, private, entries };
            Ok(found.into_iter().map(only).collect())
        })
    }

    /// The same by device: those that confirmed own sets, and those for whom some went
    /// into a file.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn reached(&self) -> Result<Vec<Reached>, BookError> {
        self.reading(|c| {
            let mut reached = BTreeMap::new();
            for (table, but) in [
                ("receipts", ""),
                (
                    "handed",
                    "AND v.seq > coalesce((SELECT max(seq) FROM receipts r
                                           WHERE r.device = g.device AND r.line = l.id), 0)",
                ),
            ] {
                let mut statement = c.prepare_cached(&format!(
                    "SELECT g.device, count(*), max(g.at_ms)
                     FROM (SELECT device, line, max(seq) AS seq, max(at_ms) AS at_ms FROM {table}
                           GROUP BY device, line) g
                     JOIN lines l ON l.id = g.line JOIN live v ON v.line = l.id AND v.seq <= g.seq
                     JOIN topics t ON t.id = v.topic
                     WHERE l.device = ?1 AND t.kind = 'set' {but} GROUP BY g.device"
                ))?;
                let mut rows = statement.query([self.device().0.as_slice()])?;
                while let Some(r) = rows.next()? {
                    let device = DeviceKey(bytes32(r, 0)?);
                    let one = reached.entry(device).or_insert(Reached {
                        device,
                        confirmed: 0,
                        since_ms: None,
                        in_file: 0,
                        file_ms: None,
                    });
                    let (sets, at) = if but.is_empty() {
                        (&mut one.confirmed, &mut one.since_ms)
                    } else {
                        (&mut one.in_file, &mut one.file_ms)
                    };
                    (*sets, *at) = (r.get(1)?, r.get(2)?);
                }
            }
            Ok(reached.into_values().collect())
        })
    }

    /// The files that entries about a member went into: for whom and when, the
    /// oldest first. An erasure does not reach them.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn handed_about(&self, member: MemberId) -> Result<Vec<(DeviceKey, i64)>, BookError> {
        self.reading(|c| {
            let scopes = [Scope::Member(member), Scope::Private(member)].map(scope_bytes);
            let rows = c
                .prepare_cached(
                    "SELECT DISTINCT h.device, h.at_ms FROM handed h JOIN lines l ON l.id = h.line
                     WHERE l.scope IN (?1, ?2) ORDER BY h.at_ms",
                )?
                .query_map(scopes, |r| Ok((DeviceKey(bytes32(r, 0)?), r.get(1)?)))?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    /// Where an own entry is besides here, as far as this book knows.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn whereabouts(&self, place: Place) -> Result<Whereabouts, BookError> {
        self.reading(|c| {
            let own = c
                .prepare_cached("SELECT 1 FROM lines WHERE id = ?1 AND device = ?2")?
                .exists(params![place.line, self.device().0.as_slice()])?;
            if !own {
                return Ok(Whereabouts::NotOwn);
            }
            let since = |table: &str| -> rusqlite::Result<Vec<(DeviceKey, i64)>> {
                c.prepare_cached(&format!(
                    "SELECT device, min(at_ms) FROM {table} WHERE line = ?1 AND seq >= ?2
                     GROUP BY device ORDER BY min(at_ms)"
                ))?
                .query_map(params![place.line, place.seq], |r| Ok((DeviceKey(bytes32(r, 0)?), r.get(1)?)))?
                .collect()
            };
            let with = since("receipts")?;
            if !with.is_empty() {
                return Ok(Whereabouts::With(with));
            }
            Ok(match since("handed")?.last() {
                Some((to, at_ms)) => Whereabouts::Handed { to: *to, at_ms: *at_ms },
                None => Whereabouts::OnlyHere,
            })
        })
    }

    /// Keeps that a file for a device is on its way.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn note_handed(&self, handed: &Handed, now: Stamp) -> Result<(), BookError> {
        self.writing(|t| {
            for head in &handed.heads {
                if let Some(place) = line::find(t, head)? {
                    note(t, "handed", handed.to, place, now)?;
                }
            }
            Ok(())
        })
    }

    /// Keeps where a device was last reached.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn set_peer(&self, device: DeviceKey, addresses: &[String]) -> Result<(), BookError> {
        self.writing(|t| {
            t.prepare_cached(
                "INSERT INTO peers (device, addresses) VALUES (?1, ?2)
                 ON CONFLICT (device) DO UPDATE SET addresses = excluded.addresses",
            )?
            .execute(params![device.0.as_slice(), addresses.join(" ")])?;
            Ok(())
        })
    }

    /// The devices met, and those to be called.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn peers(&self) -> Result<Vec<Peer>, BookError> {
        self.reading(|c| {
            let rows = c
                .prepare_cached("SELECT device, addresses, met_ms, clock_apart_ms FROM peers")?
                .query_map([], |r| {
                    let addresses: String = r.get(1)?;
                    Ok(Peer {
                        device: DeviceKey(bytes32(r, 0)?),
                        addresses: addresses.split_whitespace().map(str::to_owned).collect(),
                        met_ms: r.get(2)?,
                        clock_apart_ms: r.get(3)?,
                    })
                })?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    /// By how much this device's clock is in doubt: how far those of all devices
    /// met last lie from it, the nearest of them, in milliseconds. `None` before
    /// any was met.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn clock_doubt_ms(&self) -> Result<Option<i64>, BookError> {
        let apart = self.peers()?.into_iter().filter_map(|peer| peer.clock_apart_ms);
        Ok(apart.min_by_key(|ms| ms.unsigned_abs()))
    }
}

/// Sets bytes aside, within bounds.
pub(super) fn set_aside(
    c: &Connection,
    from: DeviceKey,
    reason: &str,
    bytes: &[u8],
    scope: Option<Scope>,
    now: Stamp,
) -> rusqlite::Result<()> {
    let (kept, newest): (u64, Option<i64>) = c
        .prepare_cached("SELECT count(*), max(id) FROM aside WHERE peer = ?1")?
        .query_row([from.0.as_slice()], |r| Ok((r.get(0)?, r.get(1)?)))?;
    if kept >= MOST_ASIDE {
        c.execute("UPDATE aside SET times = times + 1 WHERE id = ?1", [newest])?;
        return Ok(());
    }
    c.execute(
        "INSERT INTO aside (at_ms, peer, reason, bytes, scope) VALUES (?1, ?2, ?3, ?4, ?5)",
        params![now.ms, from.0.as_slice(), reason, bytes, scope.map(scope_bytes)],
    )?;
    Ok(())
}

/// Keeps in `receipts` or `handed` that a device has everything up to a place.
pub(super) fn note(
    c: &Connection,
    table: &str,
    device: DeviceKey,
    place: Place,
    now: Stamp,
) -> rusqlite::Result<()> {
    for (line, seq) in line::way(c, place)? {
        let known: Option<u64> = c
            .prepare_cached(&format!("SELECT max(seq) FROM {table} WHERE device = ?1 AND line = ?2"))?
            .query_row(params![device.0.as_slice(), line], |r| r.get(0))
            .optional()?
            .flatten();
        if known.is_none_or(|known| known < seq) {
            c.prepare_cached(&format!(
                "INSERT OR IGNORE INTO {table} (device, line, seq, at_ms) VALUES (?1, ?2, ?3, ?4)"
            ))?
            .execute(params![device.0.as_slice(), line, seq, now.ms])?;
        }
    }
    Ok(())
}
