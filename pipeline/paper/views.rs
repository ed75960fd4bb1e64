//! What each circle may see of a piece. A paper is given one of these views and nothing else, so
//! that it can not print what belongs to a narrower circle: owners' names, addresses, prices, hours
//! and costs, coordinates, and makers who have not agreed to be named are not in the public view at
//! all.

use super::figures::{Extent, Stated};
use super::letters::{line, paragraphs};
use crate::quantity::{Day, Edtf, Length, Mass, Money, Reading, Sett};
use crate::reckon::{FibreContent, Reckoning};
use crate::record::{At, Measures, Owner, PaperSize, Piece, RecordNumber, Share, Studio, Top};

/// What anybody may know.
#[derive(Debug, Clone, PartialEq)]
pub struct PublicView {
    pub(super) languages: Vec<String>,
    pub(super) sheet: PaperSize,
    pub(super) measures: Measures,
    pub(super) number: RecordNumber,
    pub(super) code: String,
    pub(super) studio: String,
    pub(super) weaver: String,
    pub(super) place: Option<String>,
    /// How the public may reach the studio.
    pub(super) contact: Option<String>,
    /// Width of the care label's tape.
    pub(super) tape: Length,
    pub(super) title: String,
    pub(super) made: Edtf,
    pub(super) series: Option<Place>,
    pub(super) top: Option<Top>,
    pub(super) technique: Option<String>,
    pub(super) inscription: Option<String>,
    pub(super) issued: Option<Day>,
    /// The last day the record tells of: for dating a file where it was never issued.
    pub(super) last_day: Option<Day>,
    pub(super) statement: Vec<String>,
    pub(super) credits: Vec<String>,
    pub(super) warp: Yarn,
    pub(super) weft: Vec<Yarn>,
    pub(super) sett: Option<Reading<Sett>>,
    pub(super) fibres: Vec<FibreContent>,
    pub(super) extent: Extent,
    pub(super) mass: Option<Reading<Mass>>,
    pub(super) measured_on: Option<Day>,
    pub(super) measured_by: Option<String>,
    pub(super) cleaning: Option<String>,
    pub(super) cleaning_because: Option<String>,
    /// How the public may hear of the present owner.
    pub(super) kept_by: Option<String>,
    pub(super) makers: Option<Company>,
    /// Height woven by the end of each day that has one.
    pub(super) growth: Vec<(Day, Length)>,
}

/// A piece's place in a series.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Place {
    pub name: String,
    /// The number; several where nobody is sure which.
    pub numbers: Vec<u32>,
    pub of: Option<u32>,
}

/// A yarn by name, count and fibres.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Yarn {
    pub name: Option<String>,
    pub count: Option<String>,
    pub fibres: Vec<String>,
}

/// The makers of a community piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Company {
    /// Everybody, named or not.
    pub count: usize,
    /// Those who agreed to be named, in the order of the roll.
    pub names: Vec<String>,
}

/// What the owner of a piece may know: the public view, and what is between owner and studio.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnerView {
    /// The public's part.
    pub public: PublicView,
    /// Owners in the order of time. Former ones only as the public may hear of them.
    pub(super) line: Vec<Keeper>,
    /// The present owner's address.
    pub(super) address: Option<String>,
    /// The price paid.
    pub(super) price: Option<Money>,
    /// The fingerprint of the key that the studio seals its bundles with.
    pub(super) seal_key: Option<String>,
}

/// One owner as the present owner may hear of them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Keeper {
    pub from: Edtf,
    pub who: String,
    pub how: Option<String>,
}

impl PublicView {
    /// The public's part of a piece.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> PublicView {
        let m = &piece.measured;
        PublicView {
            languages: studio.languages.iter().map(|l| l.value.clone()).collect(),
            sheet: studio.paper,
            measures: studio.measures,
            code: code(studio, number),
            number: number.clone(),
            studio: line(&studio.studio),
            weaver: line(&studio.weaver),
            place: text(&studio.place),
            contact: text(&studio.contact),
            tape: studio.tape.width(),
            title: line(&piece.title),
            made: piece.made.value.clone(),
            series: piece.series.as_ref().map(|s| Place {
                name: line(&s.name),
                numbers: s
                    .number
                    .as_ref()
                    .map(|n| n.value.clone())
                    .unwrap_or_default(),
                of: s.of.as_ref().map(|n| n.value),
            }),
            top: piece.top.as_ref().map(|t| t.value),
            technique: text(&piece.technique),
            inscription: text(&piece.inscription),
            issued: piece.issued.as_ref().map(|d| d.value),
            last_day: m
                .on
                .as_ref()
                .map(|d| d.value)
                .or_else(|| piece.made.latest())
                .or_else(|| piece.made.earliest()),
            statement: piece
                .statement
                .as_ref()
                .map(|s| paragraphs(s))
                .unwrap_or_default(),
            credits: piece
                .credits
                .iter()
                .map(|c| match &c.who {
                    Some(who) => format!("{} ({})", line(&c.what), line(who)),
                    None => line(&c.what),
                })
                .collect(),
            warp: Yarn {
                name: text(&piece.warp.yarn),
                count: piece.warp.count.as_ref().map(|c| line(&c.text)),
                fibres: names(&piece.warp.fibre),
            },
            weft: piece
                .weft
                .iter()
                .map(|w| Yarn {
                    name: text(&w.name),
                    count: w.count.as_ref().map(|c| line(&c.text)),
                    fibres: names(&w.fibre),
                })
                .collect(),
            sett: piece.loom.sett.as_ref().map(|s| s.value.clone()),
            fibres: reckoning.fibre.clone(),
            extent: Extent {
                height: Stated::greatest(&m.height),
                width: Stated::greatest(&m.width),
                depth: m.thickness.as_ref().map(|t| Stated::of(&t.value)),
            },
            mass: m.mass.as_ref().map(|r| r.value.clone()),
            measured_on: m.on.as_ref().map(|d| d.value),
            measured_by: text(&m.by),
            cleaning: piece.care.as_ref().and_then(|c| text(&c.cleaning)),
            cleaning_because: piece.care.as_ref().and_then(|c| text(&c.because)),
            kept_by: piece.owners.last().and_then(|o| text(&o.public)),
            // One name on the roll makes no company.
            makers: piece
                .makers
                .as_ref()
                .filter(|m| m.roll.len() > 1)
                .map(|makers| Company {
                    count: makers.roll.len(),
                    names: makers
                        .roll
                        .iter()
                        .filter(|maker| maker.may_be_named())
                        .map(|maker| line(&maker.name))
                        .collect(),
                }),
            growth: reckoning
                .time
                .iter()
                .flat_map(|t| &t.points)
                .filter_map(|p| Some((p.day, p.height?)))
                .collect(),
        }
    }
}

impl PublicView {
    /// The same in other languages than the studio's.
    pub fn in_languages(mut self, languages: &[String]) -> PublicView {
        self.languages = languages.to_vec();
        self
    }
}

impl OwnerView {
    /// The owner's part of a piece, the public's within it.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> OwnerView {
        let present = piece.owners.len().saturating_sub(1);
        OwnerView {
            public: PublicView::of(studio, piece, reckoning, number),
            line: piece
                .owners
                .iter()
                .enumerate()
                .filter_map(|(i, o)| keeper(o, i == present))
                .collect(),
            address: piece.owners.last().and_then(|o| text(&o.address)),
            price: piece
                .money
                .as_ref()
                .and_then(|m| m.price.as_ref())
                .map(|p| p.value.clone()),
            seal_key: None,
        }
    }

    /// The same with the fingerprint of the key that seals the bundles.
    pub fn sealed_by(mut self, fingerprint: Option<&str>) -> OwnerView {
        self.seal_key = fingerprint.map(str::to_string);
        self
    }

    /// Where the present owner is reached, for papers that need it; the certificate does not.
    pub fn address(&self) -> Option<&str> {
        self.address.as_deref()
    }

    /// The price paid, for papers that need it; the certificate does not.
    pub fn price(&self) -> Option<&Money> {
        self.price.as_ref()
    }
}

fn keeper(owner: &Owner, present: bool) -> Option<Keeper> {
    let name = owner.name.as_ref().filter(|_| present);
    let who = name.or(owner.public.as_ref())?;
    Some(Keeper {
        from: owner.from.value.clone(),
        who: line(who),
        how: text(&owner.how),
    })
}

/// What the QR code holds: the studio's own web address with the spoken number behind it, or else
/// the full name of the record.
fn code(studio: &Studio, number: &RecordNumber) -> String {
    match &studio.record_base {
        Some(base) => format!("{}{}", line(base), number.spoken().0),
        None => number.ni(),
    }
}

fn text(value: &Option<At<String>>) -> Option<String> {
    value.as_ref().map(|v| line(v)).filter(|v| !v.is_empty())
}

fn names(shares: &[Share]) -> Vec<String> {
    shares.iter().map(|s| line(&s.fibre)).collect()
}
