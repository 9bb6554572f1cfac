//! Any bytes as a training log, and its rows as sessions.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_model::import::session::gather;
use pitside_model::import::{Does, Log, MAX_ROWS, Row};

fuzz_target!(|bytes: &[u8]| {
    let Ok(log) = Log::read(bytes) else { return };
    assert!(!log.lines.is_empty() && log.lines.len() <= MAX_ROWS);
    assert!(log.lines.is_sorted_by_key(|line| line.line));
    let rows: Vec<(u64, &Row)> =
        log.lines.iter().filter_map(|line| Some((line.line, line.row.as_ref().ok()?))).collect();
    for line in &log.lines {
        if let Err(faults) = &line.row {
            assert!(!faults.is_empty(), "what is refused has a reason");
            assert!(faults.iter().all(|fault| !fault.to_string().contains(char::is_control)));
        }
    }
    let gathered = gather(&log.columns, &rows);
    // Every row that trains is in one session or refused.
    let mut seen = vec![0_u8; rows.len()];
    for session in &gathered.sessions {
        for at in &session.rows {
            assert_eq!(rows[*at].1.day, session.day);
            seen[*at] += 1;
        }
    }
    assert!(seen.iter().all(|times| *times <= 1));
    for (at, _) in &gathered.faults {
        seen[*at] = 1;
    }
    assert!(rows.iter().zip(seen).all(|((_, row), seen)| seen == 1 || row.does == Does::Rest));
});
