//! Checks of the product against the outside: published values, standards,
//! open records. The checks are in `tests/`, one file a subject, each check
//! with its source beside it; the files they read are in `data/`, with the
//! notices that travel with them.

pub mod draws;
