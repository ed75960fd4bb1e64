//! Verifies bags.
