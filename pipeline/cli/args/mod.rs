//! What can be asked on the command line. Help, completions and the man page come from here.

mod gathering;
mod keeping;
mod making;

pub(super) use gathering::{Community, Estimate, Exhibit, ForWhom, Ledger, Portfolio};
pub(super) use keeping::{Audit, Deposit, Key};
pub(super) use making::{Begin, Check, Finish, Merge};

use clap::{Args, Parser, Subcommand, ValueEnum};

/// From a tapestry cut off the loom to its papers and an archived bundle with checksums.
#[derive(Parser)]
#[command(
    name = "offloom",
    bin_name = "offloom",
    version,
    propagate_version = true,
    arg_required_else_help = true,
    after_help = "\
Examples:
  offloom begin my-archive                         a new archive
  offloom begin my-archive --piece sea-door        a folder for a piece, every field explained
  offloom check my-archive                         what is wrong or doubtful; nothing is written
  offloom finish my-archive                        papers, plates and bundles for every piece
  offloom finish my-archive --piece sea-door       for one piece
  offloom exhibit my-archive slack-water           catalogue, labels, hang plan of exhibitions/slack-water.yaml
  offloom community my-archive many-windows        panel of names, map of squares, thanks, for a piece made by many
  offloom portfolio my-archive                     the life's work as pages
  offloom ledger my-archive                        one row for each piece
  offloom estimate my-archive --height 150cm --width 200cm
                                                   hours, yarn and price of the next piece
  offloom key my-archive --make --since 2026-07-01 a key to seal the bundles with
  offloom audit my-archive/finished/bundles        are the bundles whole?
  offloom deposit my-archive /media/stick/bundles  copies of the bundles in a second place

Exit codes: 0 done; 1 findings of rank error, or a failed audit; 2 wrong use, or a fault of the
machine; 130 stopped by Ctrl-C. A code that is not in this list means failure."
)]
pub(super) struct Offloom {
    #[command(subcommand)]
    pub command: Command,
    #[command(flatten)]
    pub manners: Manners,
}

/// Options every command has.
#[derive(Args)]
pub(super) struct Manners {
    /// Print one JSON document on standard output instead of words
    #[arg(long, global = true)]
    pub json: bool,
    /// Hide progress and summaries; errors and warnings stay
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// When to use colour; NO_COLOR in the environment turns it off too
    #[arg(long, global = true, value_name = "WHEN", default_value = "auto")]
    pub color: ColorWhen,
}

#[derive(Clone, Copy, ValueEnum, PartialEq)]
pub(super) enum ColorWhen {
    Auto,
    Always,
    Never,
}

#[derive(Subcommand)]
pub(super) enum Command {
    Begin(Begin),
    Check(Check),
    Finish(Finish),
    Merge(Merge),
    Exhibit(Exhibit),
    Community(Community),
    Portfolio(Portfolio),
    Ledger(Ledger),
    Estimate(Estimate),
    Key(Key),
    Audit(Audit),
    Deposit(Deposit),
    Explain(Explain),
    Completions(Completions),
    Man(Man),
}

/// Say more about a kind of finding
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom explain                                  every kind, a line each
  offloom explain ambiguous-count                  one, with a bad and a good example")]
pub(super) struct Explain {
    /// The finding's name, as `check` shows it in brackets
    pub name: Option<String>,
}

/// Print completions for a shell
#[derive(Args)]
pub(super) struct Completions {
    /// The shell
    pub shell: clap_complete::Shell,
}

/// Print the man page
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom man > offloom.1 && man ./offloom.1
  offloom man finish                               the page of one command")]
pub(super) struct Man {
    /// One command's page
    pub command: Option<String>,
}
