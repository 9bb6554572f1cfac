//! The deterministic subset of CBOR in which facts are written.
