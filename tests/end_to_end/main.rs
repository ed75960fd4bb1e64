//! End to end: the program as a weaver runs it, over temporary copies of the sample archive. Rules and
//! arithmetic are tested where they are; here only that the whole holds together.

// Tests may look at the clock and the environment; what is forbidden is that an output depends on them.
#![allow(clippy::disallowed_methods)]

mod auditing;
mod begin_from;
mod bench;
mod choosing;
mod commands;
mod community;
mod deposit;
mod estimate;
mod exhibit;
mod finishing;
mod hostile;
mod own_face;
mod parts;
mod same_bytes;
#[cfg(unix)]
mod sealing;
