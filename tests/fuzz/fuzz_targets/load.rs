//! Any bytes as a table of daily loads, and the figures of one.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_model::load::series::Series;
use pitside_model::load::series::table::{Missing, Table};

fuzz_target!(|bytes: &[u8]| {
    let strict = Table::read(bytes, None).is_ok();
    for missing in [Missing::Rest, Missing::Unknown] {
        let Ok(table) = Table::read(bytes, Some(missing)) else {
            assert!(!strict, "what is whole is read whatever is said of gaps");
            continue;
        };
        let series: Series = table.loads().iter().copied().collect();
        assert_eq!(table.iter().count(), series.len());
        for figures in series.iter() {
            let ratios = [figures.ratio_ewma, figures.ratio_coupled, figures.ratio_uncoupled];
            let others = [figures.ewma_7, figures.ewma_28, figures.monotony, figures.strain];
            assert!(
                ratios.into_iter().chain(others).flatten().all(|figure| figure.is_finite() && figure >= 0.0)
            );
        }
    }
});
