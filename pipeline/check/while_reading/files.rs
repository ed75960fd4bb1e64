//! Files and folders that can not be taken as they are.

use crate::check::{Check, Example, Rule};
use crate::read::kinds;

pub const UNREADABLE_FILE: Check = Check {
    kind: kinds::UNREADABLE_FILE,
    doc: "A file is not there, may not be read, is not text, or is far too large to be what it should be.",
    bad: Example {
        more: &[("pieces/r/sketch.txt", "a piece without its piece.yaml")],
        ..Example::PLAIN
    },
    good: Example {
        more: &[("drafts/r/sketch.txt", "not among the pieces")],
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const LEAVES_FOLDER: Check = Check {
    kind: kinds::LEAVES_FOLDER,
    doc: "A path or a link leads out of its folder. A piece is complete in its own folder, and \
          nothing from elsewhere on the computer may come into its bundle.",
    bad: Example {
        piece: "photos: [{file: ../../q/photos/front.jpg, view: front, alt: Bands}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Bands}]",
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const NOT_ARCHIVED: Check = Check {
    kind: kinds::NOT_ARCHIVED,
    doc: "Something in the piece's folder is no file that can be archived: a pipe, a socket, or a \
          file whose name is not UTF-8.",
    bad: Example {
        sockets: &["pieces/p/talk.sock"],
        ..Example::PLAIN
    },
    good: Example {
        more: &[("pieces/p/talk.txt", "what was said")],
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};

pub const NO_PIECES: Check = Check {
    kind: kinds::NO_PIECES,
    doc: "The archive has no folder `pieces`, or nothing in it. Perhaps the command was given the \
          folder of one piece, or the folder above the archive.",
    bad: Example {
        only: &[(
            "studio.yaml",
            "studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n",
        )],
        ..Example::PLAIN
    },
    good: Example::PLAIN,
    rule: Rule::WhileReading,
};

pub const AWKWARD_FOLDER: Check = Check {
    kind: kinds::AWKWARD_FOLDER,
    doc: "The name of a piece's folder is too long, is not UTF-8, or holds a line end. It becomes part \
          of file names and must be sayable.",
    bad: Example {
        more: &[("pieces/low\nwater/piece.yaml", "title: Low Water\n")],
        ..Example::PLAIN
    },
    good: Example {
        more: &[(
            "pieces/low-water/piece.yaml",
            "title: Ebb\nmade: 2026\nwarp: {yarn: twine}\nweft: [{name: green}]\nmeasured: {height: 1 m, width: 1 m}\n",
        )],
        ..Example::PLAIN
    },
    rule: Rule::WhileReading,
};
