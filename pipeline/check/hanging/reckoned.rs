//! The reckoned hanging of a piece that says how it hangs, for the rules that judge it.

use crate::check::Subject;
use crate::reckon::hang::{Held, HungBar};
use crate::reckon::{Masses, Size, Web, hang};
use crate::record::{At, Bar, Hanging};

/// What is written and what follows from it; nothing where the piece says nothing of hanging or its mass
/// is not known.
pub(super) fn reckoned<'s>(subject: &Subject<'s>) -> Option<(&'s Hanging, hang::Hanging)> {
    let piece = subject.piece;
    let written = piece.hanging.as_ref()?;
    let size = Size::of(piece);
    let masses = Masses::of(piece, &Web::of(piece, &size), &size);
    Some((written, hang::Hanging::of(piece, &size, &masses)?))
}

/// The bar as written and reckoned, on its brackets, or on the best ones where none are written.
pub(super) fn on_brackets<'s>(subject: &Subject<'s>) -> Option<(&'s Hanging, HungBar, Held)> {
    let (written, all) = reckoned(subject)?;
    let bar = all.bar?;
    let held = bar.held.clone()?;
    Some((written, bar, held))
}

/// Where the bar is spoken of best: at its section, else at the bar as a whole.
pub(super) fn section_place(bar: &Bar) -> &crate::record::Place {
    bar.section
        .as_ref()
        .map_or(&bar.place, |s: &At<_>| &s.place)
}
