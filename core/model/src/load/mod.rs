//! Exercises, and the landing and push of every contact.
