//! Events on a clip → contact and flight times with their uncertainty.
