//! What the commands that keep bundles can be asked.

use crate::audit::{Age, Instant};
use clap::Args;
use std::path::PathBuf;

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
pub(in crate::cli) struct Key {
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
pub(in crate::cli) struct Audit {
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
pub(in crate::cli) struct Deposit {
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
