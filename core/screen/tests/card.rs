//! The card of an athlete, written field by field.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use meeting::{coach, env};
use pitside_book::store::Filter;
use pitside_model::facts::kind;
use pitside_screen::ScreenError;
use pitside_screen::record::CardForm;
use tempfile::TempDir;

#[test]
fn what_is_filled_in_is_read_back_and_only_what_changed_is_written() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let form = CardForm {
        born: "2008-05-31".into(),
        level: "intermediate".into(),
        take_off_leg: "left".into(),
        hop_pattern: "llr".into(),
        mass_kg: "61,5".into(),
        top_speed_m_s: "9.12".into(),
        top_speed_u_m_s: "0.1".into(),
        tau_s: "1.25".into(),
        stride_m: "2.05".into(),
        ..companion.card(&env(), &member.to_string()).unwrap().form
    };
    assert_eq!(form.name, "Ino");
    companion.save_card(&env(), &form).unwrap();
    let read = companion.card(&env(), &member.to_string()).unwrap().form;
    assert_eq!(read, CardForm { mass_kg: "61.5".into(), ..form.clone() });
    let entries = || book.held(&Filter { kind: Some(kind::MEMBER), ..Filter::default() }).unwrap();
    let hashes = |of: &str| {
        let found = entries();
        let held = found.iter().find(|held| held.key.field == of);
        held.map(|held| held.value().hash)
    };
    let (mass, level) = (hashes("mass"), hashes("level"));
    let heavier = CardForm { mass_kg: "62".into(), hop_pattern: String::new(), ..read };
    companion.save_card(&env(), &heavier).unwrap();
    assert_ne!(hashes("mass"), mass);
    assert_eq!(hashes("level"), level, "what stays is not written again");
    assert_eq!(hashes("hop-pattern"), None, "what is emptied is not known any more");
    let about = companion.athlete(&env(), &member.to_string(), "").unwrap().card;
    assert!(about.iter().any(|pair| pair.value == "62 kg"), "{about:?}");
}

#[test]
fn a_field_that_cannot_be_read_writes_nothing() {
    let folder = TempDir::new().unwrap();
    let (_book, companion, member) = coach(&folder);
    let empty = companion.card(&env(), &member.to_string()).unwrap().form;
    let refused = |form: CardForm, field: &str| {
        let e = companion.save_card(&env(), &form).unwrap_err();
        assert!(matches!(&e, ScreenError::Refused { field: of, .. } if of == field), "{e}");
    };
    refused(CardForm { level: "advanced".into(), mass_kg: "6".into(), ..empty.clone() }, "g");
    refused(CardForm { mass_kg: "heavy".into(), ..empty.clone() }, "mass");
    refused(CardForm { born: "31.5.2008".into(), ..empty.clone() }, "born");
    refused(CardForm { top_speed_m_s: "9".into(), ..empty.clone() }, "tau");
    refused(CardForm { level: "expert".into(), ..empty.clone() }, "level");
    assert_eq!(companion.card(&env(), &member.to_string()).unwrap().form, empty);
}
