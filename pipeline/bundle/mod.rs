//! Makes bags.
