//! The proof: one contact sheet of every page, for a last look before printing. It is for the studio's own
//! eyes and goes into no bundle.

mod leaf;

pub use leaf::{Leaf, leaves};

use super::plates::Plates;
use super::press::{Draft, Press};
use super::world::Supply;
use super::{PaperError, Sheet};
use serde::Serialize;
use typst::foundations::Bytes;

/// The pages of one piece.
#[derive(Debug, Clone)]
pub struct Stack {
    /// What stands above them.
    pub head: String,
    /// Each page with what stands below it, and a description.
    pub leaves: Vec<(String, Leaf)>,
}

#[derive(Debug, Serialize)]
struct Proof {
    lang: String,
    title: String,
    stacks: Vec<Shown>,
}

#[derive(Debug, Serialize)]
struct Shown {
    head: String,
    leaves: Vec<Place>,
}

/// Where a page's picture lies in the file of them all, how large the page is in mm, and its caption.
#[derive(Debug, Serialize)]
struct Place {
    from: usize,
    to: usize,
    wide: f64,
    tall: f64,
    caption: String,
}

impl Press {
    /// The contact sheet of all pages.
    pub fn proof(&self, title: &str, stacks: &[Stack]) -> Result<Sheet, PaperError> {
        let mut pictures = Vec::new();
        let shown = stacks
            .iter()
            .map(|stack| Shown {
                head: stack.head.clone(),
                leaves: stack
                    .leaves
                    .iter()
                    .map(|(caption, leaf)| {
                        let from = pictures.len();
                        pictures.extend_from_slice(&leaf.jpeg);
                        Place {
                            from,
                            to: pictures.len(),
                            wide: leaf.size.0,
                            tall: leaf.size.1,
                            caption: caption.clone(),
                        }
                    })
                    .collect(),
            })
            .collect();
        let data = Proof {
            lang: "en".to_string(),
            title: title.to_string(),
            stacks: shown,
        };
        let draft = Draft {
            template: "/proof.typ",
            ident: format!("proof#{title}"),
            data: &data,
            plates: &Plates::default(),
            code: None,
            record: None,
            wanting: Vec::new(),
        };
        self.set_with(draft, vec![(Supply::Leaves, Bytes::new(pictures))])
    }
}
