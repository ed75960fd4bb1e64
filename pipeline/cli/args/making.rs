//! What begin, check and finish can be asked.

use crate::finish::Part;
use crate::record::Paper;
use clap::Args;
use clap::builder::{PossibleValue, PossibleValuesParser};
use std::path::PathBuf;

/// Make a new archive, a folder for a piece in it, or folders for the works of a list or for loose photographs
///
/// Nothing that is already there is changed.
///
/// --from takes in what you have. From a spreadsheet (csv, xlsx, ods) every row becomes a piece's folder: the columns are
/// told by their head lines, and what no field holds is kept in the piece's notes.md as text. A value that can not be
/// read is told with its cell and stands in piece.yaml as a remark, so that nothing is lost and nothing guessed. From a
/// folder of photographs every group of the same day and the same colours becomes a draft, with copies of them; the
/// originals are only read. --dry-run shows what would be made.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom begin my-archive
  offloom begin my-archive --piece sea-door --title 'The Sea Door'
  offloom begin my-archive --from works.csv --dry-run      which column becomes what; nothing is written
  offloom begin my-archive --from works.xlsx --map 'Breit=width (cm)' --map 'Shelf='
  offloom begin my-archive --from works.csv --map 'Finished=made (day first)' --map 'Size=size (width first)'
  offloom begin my-archive --from ~/Pictures/looms

Then fill in my-archive/studio.yaml and my-archive/pieces/sea-door/piece.yaml in a text editor, put the
photographs into my-archive/pieces/sea-door/photos/, and run: offloom check my-archive")]
pub(in crate::cli) struct Begin {
    /// The archive's folder
    pub archive: PathBuf,
    /// Make a folder for a piece, of this name
    #[arg(long, value_name = "NAME")]
    pub piece: Option<String>,
    /// The piece's title
    #[arg(long, requires = "piece")]
    pub title: Option<String>,
    /// A spreadsheet of works (csv, xlsx, ods), or a folder of loose photographs
    #[arg(long, value_name = "SHEET|FOLDER", conflicts_with = "piece")]
    pub from: Option<PathBuf>,
    /// Only show what would be made
    #[arg(long, requires = "from")]
    pub dry_run: bool,
    /// Make a column a field, with a unit in brackets where its values have none; with nothing behind the = the column is
    /// left out. May be given several times
    ///
    /// Fields: title, made, kind, series, series-number, series-of, technique, inscription, statement, height, width,
    /// size, thickness, mass, loom, sett, ends, warp, warp-count, warp-fibre, weft, weft-count, weft-fibre, dye, owner,
    /// owner-since, owner-address, price, insured, place, photo, folder, notes. In brackets: a unit (cm, in, kg, epi,
    /// GBP …); with made and owner-since (day first) or (month first); with size (width first).
    #[arg(long, value_name = "HEAD LINE=FIELD", requires = "from")]
    pub map: Vec<String>,
    /// The sheet of a workbook to read [default: the one whose head lines are best understood]
    #[arg(long, value_name = "NAME", requires = "from")]
    pub sheet: Option<String>,
}

/// Find what is wrong or doubtful; nothing is written
///
/// Every finding of one run is shown, the gravest first, with the line it stands on and what to write
/// instead; of pieces, and of exhibitions as they are written. `offloom explain NAME` says more about one.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom check my-archive
  offloom check my-archive --without-photos        what is written, in seconds even for thousands of pieces
  offloom check my-archive --json | python3 -m json.tool
  offloom check my-archive --piece sea-door --find-corners
                                                   where the piece lies in its front photograph")]
pub(in crate::cli) struct Check {
    /// The archive's folder
    pub archive: PathBuf,
    /// Only this piece; may be given several times
    #[arg(long, value_name = "NAME")]
    pub piece: Vec<String>,
    /// Do not look into photographs: much faster in a large archive, and blind to what only they show
    #[arg(long, conflicts_with = "find_corners")]
    pub without_photos: bool,
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
  seq 4 | parallel offloom finish my-archive --quiet --part {}/4
                                                   a large archive, in four parts at once
  offloom finish my-archive --reissue sea-door     a new revision of the bundle on purpose
  offloom finish my-archive --piece sea-door --explain mass.predicted
                                                   how a figure came about; nothing is written")]
pub(in crate::cli) struct Finish {
    /// The archive's folder
    pub archive: PathBuf,
    /// Only this piece; may be given several times
    #[arg(long, value_name = "NAME")]
    pub piece: Vec<String>,
    /// Only one part of the archive, such as 2/5: the pieces are dealt out by their names, the same way whenever it
    /// is asked. Parts may run at once, on one machine or many; what many made is brought together by `merge`
    #[arg(long, value_name = "K/N", conflicts_with_all = ["piece", "reissue", "proof", "explain"])]
    pub part: Option<Part>,
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

/// Bring together what several machines finished
///
/// A large archive can be finished in parts on many machines, each with an output folder of its own: by a batch
/// scheduler's array job, make, or hand. This gathers their pieces and bundles in one output folder. What is damaged or
/// not finished to the end is left where it is and named; no issued bundle is overwritten.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom finish my-archive --part 1/2 --out /scratch/a      on one machine
  offloom finish my-archive --part 2/2 --out /scratch/b      on another
  offloom merge my-archive /scratch/a /scratch/b             then, where both can be read")]
pub(in crate::cli) struct Merge {
    /// The archive's folder
    pub archive: PathBuf,
    /// Output folders of the parts
    #[arg(required = true)]
    pub folders: Vec<PathBuf>,
    /// Where it all goes [default: ARCHIVE/finished]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// The papers by name, with who reads each.
fn papers() -> PossibleValuesParser {
    Paper::ALL
        .iter()
        .map(|p| PossibleValue::new(p.name()).help(p.reader()))
        .collect::<Vec<_>>()
        .into()
}
