//! What the commands over many pieces can be asked.

use clap::Args;
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
