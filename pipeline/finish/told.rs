//! The words in a piece's plates: what the papers tell the public of the piece, and what piece.yaml says
//! of the photograph. Nothing else goes in: neither owners nor prices, and of the original's
//! own side data the day alone.

use super::darkroom::Album;
use crate::paper::Caption;
use crate::picture::{PlateWords, Work};
use crate::record::{At, Photo, Piece};

/// Writes the words into every plate.
pub(super) fn inscribed(album: &mut Album, piece: &Piece, caption: &Caption) {
    album.inscribe(|print| {
        let photo = piece.photos.iter().find(|p| p.file.value == print.file);
        PlateWords {
            taken: print.sight.taken.clone().unwrap_or_default(),
            ..words(photo, caption)
        }
    });
}

fn words(photo: Option<&Photo>, caption: &Caption) -> PlateWords {
    let said = |get: fn(&Photo) -> &Option<At<String>>| {
        photo
            .and_then(|p| get(p).as_ref())
            .map(|text| text.value.clone())
            .unwrap_or_default()
    };
    PlateWords {
        title: caption.title.clone(),
        alt: said(|p| &p.alt),
        taken: String::new(),
        photographer: said(|p| &p.credit),
        credit: said(|p| &p.credit),
        rights: said(|p| &p.rights),
        work: work(caption),
    }
}

/// The work as pictures and papers name it.
pub(super) fn work(caption: &Caption) -> Work {
    Work {
        title: caption.title.clone(),
        maker: caption.weaver.clone(),
        date: caption.date.clone().unwrap_or_default(),
        about_when: match caption.date {
            Some(_) => String::new(),
            None => caption.made.clone(),
        },
        size: caption.size.clone(),
        registered_by: caption.studio.clone(),
        number: caption.number.clone(),
    }
}
