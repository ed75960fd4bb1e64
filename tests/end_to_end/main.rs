//! End to end: the program as a weaver runs it, over temporary copies of the sample archive. Rules and
//! arithmetic are tested where they are; here only that the whole holds together.

mod bench;
mod commands;
mod finishing;
mod hostile;
mod same_bytes;
