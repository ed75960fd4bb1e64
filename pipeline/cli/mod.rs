//! The command line: one file per command, progress, colour and JSON. No arithmetic here, and no
//! rules; a command calls the library and shows what came of it. This is the only folder that may
//! look at the environment or the terminal.

mod args;
mod audit;
mod audit_log;
mod begin;
mod between;
mod check;
mod clock;
mod community;
mod corners;
mod deposit;
mod estimate;
mod exhibit;
mod figures;
mod finish;
mod intake;
mod intake_shown;
mod key;
mod ledger;
mod manual;
mod merge;
mod passphrase;
mod portfolio;
mod progress;
mod show;
mod stop;
mod verdicts;

use args::{Command, Offloom};
use clap::Parser;
use std::process::ExitCode;

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Done.
    Done = 0,
    /// Findings of rank error, or a failed audit.
    Findings = 1,
    /// Wrong use, or the machine's fault.
    Failed = 2,
    /// Stopped by Ctrl-C.
    Stopped = 130,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

/// Runs the program with the process's own arguments.
pub fn run() -> ExitCode {
    let asked = match Offloom::try_parse() {
        Ok(asked) => asked,
        Err(error) => {
            // clap prints help to standard output and mistakes to standard error; a closed pipe is no
            // mistake of hers.
            let _ = error.print();
            return ExitCode::from(if error.use_stderr() { 2 } else { 0 });
        }
    };
    let screen = show::Screen::new(&asked.manners);
    let stop = stop::Stop::on_ctrl_c();
    let exit = match asked.command {
        Command::Begin(a) => begin::run(&screen, &a, &stop),
        Command::Check(a) => check::run(&screen, &a, &stop),
        Command::Finish(a) => finish::run(&screen, &a, &stop),
        Command::Merge(a) => merge::run(&screen, &a, &stop),
        Command::Exhibit(a) => exhibit::run(&screen, &a, &stop),
        Command::Portfolio(a) => portfolio::run(&screen, &a, &stop),
        Command::Ledger(a) => ledger::run(&screen, &a, &stop),
        Command::Estimate(a) => estimate::run(&screen, &a, &stop),
        Command::Community(a) => community::run(&screen, &a, &stop),
        Command::Key(a) => key::run(&screen, &a),
        Command::Audit(a) => audit::run(&screen, &a, &stop),
        Command::Deposit(a) => deposit::run(&screen, &a, &stop),
        Command::Explain(a) => manual::explain(&screen, &a),
        Command::Completions(a) => manual::completions(&screen, &a),
        Command::Man(a) => manual::man(&screen, &a),
    };
    if stop.asked() { Exit::Stopped } else { exit }.into()
}

/// Says which of the named pieces are not in the archive.
fn unknown_pieces(archive: &crate::read::Archive, named: &[String]) -> Option<String> {
    let known = || archive.pieces.iter().map(|p| p.slug.as_str());
    let lost: Vec<String> = named
        .iter()
        .filter(|name| !known().any(|slug| slug == name.as_str()))
        .map(|name| match crate::read::nearest(name, known()) {
            Some(near) => format!("there is no piece `{name}`; did you mean `{near}`?"),
            None => format!("there is no piece `{name}` in the folder `pieces`"),
        })
        .collect();
    (!lost.is_empty()).then(|| lost.join("\n"))
}
