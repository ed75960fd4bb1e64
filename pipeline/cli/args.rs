//! What can be asked on the command line. Help, completions and the man page come from here.

use crate::audit::{Age, Instant};
use crate::record::Paper;
use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

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
    Exhibit(Exhibit),
    Key(Key),
    Audit(Audit),
    Deposit(Deposit),
    Explain(Explain),
    Completions(Completions),
    Man(Man),
}

/// Make a new archive, or a folder for a piece in it
///
/// Nothing that is already there is changed.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom begin my-archive
  offloom begin my-archive --piece sea-door --title 'The Sea Door'

Then fill in my-archive/studio.yaml and my-archive/pieces/sea-door/piece.yaml in a text editor, put the
photographs into my-archive/pieces/sea-door/photos/, and run: offloom check my-archive")]
pub(super) struct Begin {
    /// The archive's folder
    pub archive: PathBuf,
    /// Make a folder for a piece, of this name
    #[arg(long, value_name = "NAME")]
    pub piece: Option<String>,
    /// The piece's title
    #[arg(long, requires = "piece")]
    pub title: Option<String>,
}

/// Find what is wrong or doubtful; nothing is written
///
/// Every finding of one run is shown, the gravest first, with the line it stands on and what to write
/// instead; of pieces, and of exhibitions as they are written. `offloom explain NAME` says more about one.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom check my-archive
  offloom check my-archive --json | python3 -m json.tool
  offloom check my-archive --piece sea-door --find-corners
                                                   where the piece lies in its front photograph")]
pub(super) struct Check {
    /// The archive's folder
    pub archive: PathBuf,
    /// Only this piece; may be given several times
    #[arg(long, value_name = "NAME")]
    pub piece: Vec<String>,
    /// Instead of checking, propose the `corners` of each piece in its front photograph, found by its
    /// edges against an even wall, as a line to paste into piece.yaml
    #[arg(long)]
    pub find_corners: bool,
}

/// Make papers, plates and bundles for finished pieces
///
/// For every piece: care label, certificate, catalogue page, the sheets for its owner, for hanging, packing
/// and condition and for the studio itself, plates of its photographs, record.json, reckoning.json, and a
/// bundle with checksums. The inputs are only read. A piece with a finding of
/// rank error is left alone until it is mended; the others are finished all the same. What has not
/// changed is not made again, and an issued bundle is never overwritten: a changed piece gets the next
/// revision.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom finish my-archive
  offloom finish my-archive --piece sea-door --out /media/stick/finished
  offloom finish my-archive --only certificate     one paper; nothing else is touched
  offloom finish my-archive --proof                every page on one contact sheet besides
  offloom finish my-archive --reissue sea-door     a new revision of the bundle on purpose
  offloom finish my-archive --piece sea-door --explain mass.predicted
                                                   how a figure came about; nothing is written")]
pub(super) struct Finish {
    /// The archive's folder
    pub archive: PathBuf,
    /// Only this piece; may be given several times
    #[arg(long, value_name = "NAME")]
    pub piece: Vec<String>,
    /// Only this paper, and no bundle; several with commas, or given several times
    #[arg(
        long,
        value_name = "PAPER",
        value_delimiter = ',',
        value_parser = papers(),
        conflicts_with = "reissue"
    )]
    pub only: Vec<String>,
    /// Where the output goes [default: ARCHIVE/finished]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Also lay out every page, small, on one contact sheet: proof.pdf, for a last look before printing
    #[arg(long)]
    pub proof: bool,
    /// Issue a new revision of this piece's bundle even if nothing changed
    #[arg(long, value_name = "NAME")]
    pub reissue: Vec<String>,
    /// Print how a figure is reckoned, as arithmetic to redo by hand, and make nothing; `all` for every
    /// figure
    #[arg(long, value_name = "FIGURE", conflicts_with_all = ["out", "reissue", "threads", "only", "proof"])]
    pub explain: Option<String>,
    /// Letters for scripts that the papers' own lack: a folder of .otf, .ttf or .ttc files, or `system`
    /// for those of this machine
    ///
    /// Without it the papers are the same on every machine. With a folder they are the same wherever
    /// that folder is; with `system` they depend on what is installed.
    #[arg(long, value_name = "DIR|system")]
    pub fonts: Option<PathBuf>,
    /// The private key to seal bundles with [default: ARCHIVE/seal/key, where there is one]
    #[arg(long, value_name = "FILE")]
    pub key: Option<PathBuf>,
    /// A file whose first line is the key's passphrase; without it the terminal asks
    #[arg(long, value_name = "FILE")]
    pub passphrase_file: Option<PathBuf>,
    /// Issue bundles without a seal, though the studio has a key
    #[arg(long, conflicts_with = "key")]
    pub no_seal: bool,
    /// Threads to work with [default: every core]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub threads: Option<u16>,
}

/// Make everything that hangs, lies or travels with a show
///
/// From one file, exhibitions/NAME.yaml, and the finished pieces it lists: the plan of the walls, wall labels, a
/// catalogue, the list of works, the light budget, loans, the packing list, and a list of prices where it is asked for.
/// What is in the way is told, with the smallest change that would help. Finish the pieces first: plates and record
/// numbers come from there. Everything goes to finished/exhibitions/NAME and may be made again at any time.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom exhibit my-archive slack-water
  offloom exhibit my-archive slack-water --json | python3 -m json.tool

The hang plan is computed: of all ways to hang the show the one that leaves the fewest pieces over, hangs the fewest
in too strong light, keeps to the order, and gives the most air. Where a search had to end before it was sure, it says
so. The plan rates no wall and no fixing.")]
pub(super) struct Exhibit {
    /// The archive's folder
    pub archive: PathBuf,
    /// The exhibition: the name of its file in `exhibitions`
    pub exhibition: String,
    /// The folder of the archive's output, where it is not ARCHIVE/finished
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Letters for scripts that the papers' own lack: a folder of font files, or `system`
    #[arg(long, value_name = "DIR")]
    pub fonts: Option<PathBuf>,
}

/// Make, take, show or close the key that the studio seals its bundles with
///
/// A seal is a signature over a bundle. Anybody can prove it with ssh-keygen, without this program. The
/// archive keeps the list of all the studio's keys with their days in seal/allowed_signers; give that list
/// away freely, and the private key to nobody. Without an option the keys are shown.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom key my-archive                           which keys there are
  offloom key my-archive --make --since 2026-07-01
                                                   a new key; a former one ends that day
  offloom key my-archive --take ~/.ssh/id_ed25519 --since 2026-07-01
                                                   a key that you have already; seal with finish --key
  offloom key my-archive --close 2031-05-01        the key is lost or given up; no new one yet")]
pub(super) struct Key {
    /// The archive's folder
    pub archive: PathBuf,
    /// Make a new Ed25519 key in ARCHIVE/seal/key
    #[arg(long, requires = "since")]
    pub make: bool,
    /// Enter an Ed25519 key of yours, private or public; the file stays where it is
    #[arg(long, value_name = "FILE", requires = "since", conflicts_with = "make")]
    pub take: Option<PathBuf>,
    /// The first day of the key's time
    #[arg(long, value_name = "DAY")]
    pub since: Option<String>,
    /// End the time of the present key on this day
    #[arg(long, value_name = "DAY", conflicts_with_all = ["make", "take", "since"])]
    pub close: Option<String>,
    /// A file whose first line is the new key's passphrase; without it the terminal asks
    #[arg(long, value_name = "FILE", requires = "make")]
    pub passphrase_file: Option<PathBuf>,
    /// Make the key without a passphrase: whoever has the file can seal
    #[arg(long, requires = "make", conflicts_with = "passphrase_file")]
    pub no_passphrase: bool,
}

/// Verify bundles: is anything damaged, missing or added?
///
/// Takes bundles, bags (BagIt, RFC 8493) as folders, zips or tars, folders of them, and whole archives. No bundle is
/// ever changed and nothing is fetched from a network. Of an archive's own bundles the log of audits is kept, in
/// finished/audit-log.jsonl: which bundle was seen when, and how it stood.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom audit my-archive                         every bundle of the archive
  offloom audit my-archive --due 90d               those not seen whole for 90 days
  offloom audit my-archive /media/stick/bundles    and where a damaged file is still good
  offloom audit my-archive /media/stick/bundles --mend-from --mend-into mended
                                                   new bundles from the good files of both
  offloom audit sea-door.r1.zip /media/stick/bundles
  offloom audit /media/stick/bundles --signers my-archive/seal/allowed_signers
                                                   and each sealed by a key of the studio's
  offloom audit my-archive/finished/bundles --between sea-door.r1 sea-door.r3
                                                   which fields, photos and papers changed")]
pub(super) struct Audit {
    /// Bundles, bags, or folders of them
    #[arg(required_unless_present = "between")]
    pub paths: Vec<PathBuf>,
    /// Instead of verifying, tell what changed from one revision to another: two bundles' files, or their
    /// names on the shelf
    #[arg(long, num_args = 2, value_names = ["BEFORE", "AFTER"], conflicts_with = "signers")]
    pub between: Vec<String>,
    /// Each bundle must be sealed by a key of this list, in its time (the form is that of ssh-keygen)
    #[arg(long, value_name = "FILE")]
    pub signers: Option<PathBuf>,
    /// Only what was not seen whole for that long by the log, as 90d, 12w or 2y, or was written since
    #[arg(long, value_name = "AGE", conflicts_with = "between")]
    pub due: Option<Age>,
    /// With --due, list what is due and look into none of it
    #[arg(long, requires = "due")]
    pub list: bool,
    /// Keep the log of audits in this file, whatever is audited
    #[arg(long, value_name = "FILE", conflicts_with = "between")]
    pub log: Option<PathBuf>,
    /// Keep no log
    #[arg(long, conflicts_with_all = ["log", "due"])]
    pub no_log: bool,
    /// The day that counts as today for the log, where the clock is not to be relied on
    #[arg(long, value_name = "DAY")]
    pub today: Option<Instant>,
    /// Put a new bundle together for each damaged one, from the good files of everything audited, and of further
    /// places given here; no damaged bundle is touched
    #[arg(long, value_name = "PATH", num_args = 0.., conflicts_with_all = ["between", "list"])]
    pub mend_from: Option<Vec<PathBuf>>,
    /// The folder for mended bundles
    #[arg(
        long,
        value_name = "DIR",
        requires = "mend_from",
        default_value = "mended"
    )]
    pub mend_into: PathBuf,
}

/// Send bundles that are not there yet to a second place
///
/// The place is a folder, an S3 store's bucket (s3://BUCKET/PREFIX) or a folder behind WebDAV (https://HOST/FOLDER).
/// Only whole bundles are sent. Each gets its name there when all of it has arrived, is read back and compared by
/// SHA-256, and is never overwritten. finished/deposits.json remembers what arrived, so that the next deposit sends
/// only what is new, and a sending in parts that broke off goes on where it stopped.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom deposit my-archive /media/stick/bundles
  offloom deposit my-archive s3://looms/tapestries --dry-run
                                                   what would be sent; nothing is
  offloom deposit my-archive https://dav.example/shelf --reread
                                                   and everything there read back once more

Names and passwords come from the environment and are never shown:
  s3://      AWS_ACCESS_KEY_ID, AWS_SECRET_ACCESS_KEY, AWS_SESSION_TOKEN, AWS_REGION, AWS_ENDPOINT_URL
             (the last for every store but Amazon's own)
  https://   OFFLOOM_WEBDAV_USER, OFFLOOM_WEBDAV_PASSWORD

The folder or the bucket has to be there: none is made, lest a stick that is not plugged in become a folder of
this disk. A deposit of the studio's bundles holds everything private that they hold: choose a place that nobody
else can read.")]
pub(super) struct Deposit {
    /// The archive's folder
    pub archive: PathBuf,
    /// Where to: a folder, s3://BUCKET/PREFIX or https://HOST/FOLDER
    pub place: String,
    /// Only the bundles of this piece; may be given several times
    #[arg(long, value_name = "NAME")]
    pub piece: Vec<String>,
    /// Say what would be sent, and send nothing
    #[arg(long)]
    pub dry_run: bool,
    /// Read back what is there already, even if it was read back before
    #[arg(long)]
    pub reread: bool,
    /// The folder of the archive's output, where it is not ARCHIVE/finished
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
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

/// The papers by name, with who reads each.
fn papers() -> PossibleValuesParser {
    Paper::ALL
        .iter()
        .map(|p| PossibleValue::new(p.name()).help(p.reader()))
        .collect::<Vec<_>>()
        .into()
}
