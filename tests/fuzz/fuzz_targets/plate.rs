//! Any bytes as a force plate's record, and what is read of one.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_model::plate::{Column, Offset, Reading, Record, Settings};

fuzz_target!(|bytes: &[u8]| {
    for columns in [&[][..], &[Column::Number(1)], &[Column::Number(2), Column::Name("Fz".into())]] {
        let Ok(record) = Record::read(bytes, columns, 1000.0) else { continue };
        for offset in [Offset::Zero, Offset::Minimum, Offset::Flight] {
            let Ok(reading) = Reading::of(&record, &Settings { offset, ..Settings::default() }) else { continue };
            for contact in &reading.contacts {
                assert!(contact.start_s < contact.end_s && contact.end_s <= record.duration_s());
            }
            for flight in &reading.flights {
                assert!(flight.duration_s > 0.0 && flight.height_m >= 0.0);
            }
        }
    }
});
