//! What the commands over many pieces can be asked.

use clap::{Args, ValueEnum};
use std::path::PathBuf;

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
pub(in crate::cli) struct Exhibit {
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

/// Estimate the next piece from the finished ones
///
/// Hours, months, yarn to order, cost and price, each from your own record, with an interval that widens where few
/// pieces tell. Pieces count whose notes give all their hours; those made by many and studies are left aside unless
/// asked for. The pieces it leans on are listed, each with what the others would have foretold for it. Nothing is
/// written unless a quote is asked for.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom estimate my-archive --height 150cm --width 200cm --sett 8epi --colours 24
  offloom estimate my-archive --height '4 ft' --width '6 ft' --hours-a-week 30
  offloom estimate my-archive --height 150cm --width 200cm --start 2027-01-11
                                                   and when it may leave the loom
  offloom estimate my-archive --height 150cm --width 200cm --quote sea-gate --client 'M. Tallowby'
                                                   a page for the client: finished/quotes/sea-gate.pdf

The model: what a square metre takes is as often more as less, on logarithms by Student's t; the sett is taken in from
6 pieces on, the colours from 9, the size from 12. What this kind of work usually takes: 2.5 to 3 months full time for a
commission, 3 to 6 for a large piece (common practice, no source).")]
pub(in crate::cli) struct Estimate {
    /// The archive's folder
    pub archive: PathBuf,
    /// Height as it will hang, with its unit
    #[arg(long, value_name = "LENGTH")]
    pub height: String,
    /// Width as it will hang, with its unit
    #[arg(long, value_name = "LENGTH")]
    pub width: String,
    /// Sett, as 8epi or 3ends/cm [default: the middle one of your pieces]
    #[arg(long)]
    pub sett: Option<String>,
    /// Colours of the weft [default: the middle number of your pieces]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=2000))]
    pub colours: Option<u16>,
    /// Woven on its side: the warp lies level when it hangs
    #[arg(long)]
    pub sideways: bool,
    /// Hours at the loom in a week [default: as the finished ones ran]
    #[arg(long, value_name = "HOURS")]
    pub hours_a_week: Option<f64>,
    /// Of 100 such pieces so many fall into an interval
    #[arg(long, value_name = "PERCENT", default_value_t = 90.0)]
    pub level: f64,
    /// The first day at the loom, to reckon the days from
    #[arg(long, value_name = "DAY")]
    pub start: Option<String>,
    /// Count this piece too, whatever its kind; may be given several times
    #[arg(long, value_name = "NAME")]
    pub with: Vec<String>,
    /// Do not count this piece; may be given several times
    #[arg(long, value_name = "NAME")]
    pub without: Vec<String>,
    /// Make a quote of a page for the client, kept under this name in finished/quotes
    #[arg(long, value_name = "NAME")]
    pub quote: Option<String>,
    /// What the piece is called, for the quote
    #[arg(long, requires = "quote")]
    pub title: Option<String>,
    /// Whom the quote is for
    #[arg(long, requires = "quote", value_name = "NAME")]
    pub client: Option<String>,
    /// The price on the quote [default: the likely one, up to the next ten]
    #[arg(long, requires = "quote", value_name = "MONEY")]
    pub price: Option<String>,
    /// The folder of the archive's output, where it is not ARCHIVE/finished
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Letters for scripts that the papers' own lack: a folder of font files, or `system`
    #[arg(long, value_name = "DIR")]
    pub fonts: Option<PathBuf>,
}

/// Make the portfolio: the life's work as pages
///
/// Writes finished/portfolio: a page with every work in the order of time, filters, search and years, a page for each
/// work with a plate to enlarge, the series with their numbers, a plain list, a feed. The pages open from a disk and ask
/// nothing of any network; put the folder on any web host as it is. They hold what everybody may know. Finish the pieces
/// first: plates come from there. A portfolio for the studio, with owners, prices and hours, goes to
/// finished/portfolio-studio and says on every page that it is private.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom portfolio my-archive                     then open my-archive/finished/portfolio/index.html
  offloom portfolio my-archive --address https://loom.example/work/
                                                   with a site map for that address
  offloom portfolio my-archive --for studio        with owners and prices, for yourself

Photographs of a piece where it hangs are shown only where `display: {place: public}` says that the room is public.")]
pub(in crate::cli) struct Portfolio {
    /// The archive's folder
    pub archive: PathBuf,
    /// Whom it is for
    #[arg(long = "for", value_enum, default_value = "public")]
    pub edition: ForWhom,
    /// The address it will stand at [default: `portfolio` in studio.yaml]
    #[arg(long, value_name = "URL")]
    pub address: Option<String>,
    /// The folder of the archive's output, where it is not ARCHIVE/finished
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

#[derive(Clone, Copy, ValueEnum, PartialEq)]
pub(in crate::cli) enum ForWhom {
    /// Everybody: what is public
    Public,
    /// The studio: with owners, prices and hours
    Studio,
}

/// Write the ledger of all works
///
/// Writes finished/works.csv and finished/works.json: a row for each piece with its title, dates, series, size, mass,
/// where it is, the record's number, the bundle's revision, what its papers lack, and what it is insured for. It holds
/// owners and sums: it is the studio's own.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom ledger my-archive
  offloom ledger my-archive --json | python3 -m json.tool
  offloom ledger my-archive --columns              what each column holds")]
pub(in crate::cli) struct Ledger {
    /// The archive's folder
    #[arg(required_unless_present = "columns")]
    pub archive: Option<PathBuf>,
    /// Say what each column holds, and write nothing
    #[arg(long)]
    pub columns: bool,
    /// The folder of the archive's output, where it is not ARCHIVE/finished
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
}

/// Make the papers of a piece that many people made
///
/// From the roll and the map of squares of one piece: a panel that names those who agreed, a map of the squares for
/// mounting, seen from the front and from the back, the list of squares and the roll for the studio, and a sheet of thanks
/// for each maker. Who did not agree, or was not asked, is counted and not named; a child is named only with consent.
/// Everything goes to finished/community/NAME and may be made again at any time.
#[derive(Args)]
#[command(after_help = "\
Examples:
  offloom community my-archive many-windows
  offloom community my-archive many-windows --json | python3 -m json.tool

credits-panel.pdf and squares-map.pdf may go to everybody. The other files hold every name and stay in the studio; of the
sheets of thanks each goes to the person named on it, a child's to a parent or guardian.")]
pub(in crate::cli) struct Community {
    /// The archive's folder
    pub archive: PathBuf,
    /// The piece: the name of its folder in `pieces`
    pub piece: String,
    /// The folder of the archive's output, where it is not ARCHIVE/finished
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Letters for scripts that the papers' own lack: a folder of font files, or `system`
    #[arg(long, value_name = "DIR")]
    pub fonts: Option<PathBuf>,
}
