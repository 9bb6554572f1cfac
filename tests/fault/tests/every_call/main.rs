//! A scripted session of two books, run by a child process with a layer under
//! it that lets the n-th change of a file go wrong, for n = 1, 2, 3 … until the
//! script runs through. Whatever happens, what was acknowledged is there, and
//! nothing is there in half.
//!
//! `PITSIDE_FAULT_EVERY=1` tries every n in every mode; without it the two modes
//! that add least to the others take the steps that their tests say.

#![cfg(target_os = "linux")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod script;
mod trial;
mod view;

use trial::try_every_call;

/// What a process does that something goes wrong for.
#[test]
fn child_runs_the_script() {
    if let Some(folder) = std::env::var_os(script::FOLDER) {
        script::run(folder.as_ref());
    }
}

/// What the tests of the modes begin.
#[test]
fn child_tries_every_call() {
    if let Ok(mode) = std::env::var(trial::MODE) {
        trial::run_until_unstruck(&mode);
    }
}

#[test]
fn the_script_does_what_it_says() {
    let views = trial::views();
    assert_eq!(views.len(), script::STEPS.len() + 1);
    let end = views.last().unwrap();
    let (coach, phone) = (end.coach.as_ref().unwrap(), end.phone.as_ref().unwrap());
    assert!(end.key);
    for book in [coach, phone] {
        let has = |line: &str| book.iter().filter(|l| l.as_str() == line).count();
        assert_eq!(has("squad"), 1);
        assert_eq!(has("session low hops"), 1);
        // Corrected from 10, deleted, and as it was written.
        assert_eq!((has("set 12"), has("set 10"), has("set 8"), has("set 6")), (1, 0, 0, 1));
        assert_eq!(book.iter().filter(|l| l.starts_with("rest ")).count(), 21);
        assert!(has("seal") > 2);
    }
    assert!(coach.contains(&"member/name Ada".into()) && !phone.contains(&"member/name Ada".into()));
    assert!(phone.contains(&"member/name Ino".into()) && coach.contains(&"member/name Ino".into()));
}

#[test]
fn a_kill_before_any_call_loses_nothing() {
    try_every_call("kill", 1);
}

#[test]
fn a_kill_in_the_middle_of_any_write_loses_nothing() {
    try_every_call("torn", 1);
}

#[test]
fn a_power_cut_that_drops_all_that_was_not_synced_loses_nothing() {
    try_every_call("cut-none", 1);
}

#[test]
fn a_power_cut_that_drops_some_of_it_loses_nothing() {
    try_every_call("cut-some", 1);
}

/// The layer itself: what it puts back is what was there, so it saw every write.
#[test]
fn a_power_cut_that_drops_nothing_is_a_kill() {
    try_every_call("cut-all", 7);
}

#[test]
fn a_call_that_fails_once_is_told_and_the_next_try_works() {
    try_every_call("eio", 1);
}

#[test]
fn a_call_without_room_once_is_told_and_the_next_try_works() {
    try_every_call("enospc", 5);
}

#[test]
fn a_disk_that_is_full_from_any_call_on_is_told_and_goes_on_when_there_is_room() {
    try_every_call("full", 1);
}
