//! One row's cells, field by field, into the page of its piece.

use super::dates::edtf;
use super::fields::Field;
use super::mapping::Column;
use super::page::{Line, Page, as_prose, as_value, as_yaml};
use super::rows::Desk;
use super::slug::serves_as_folder;
use super::values::{self, Bad};
use crate::read::kinds;

impl Desk<'_> {
    pub(super) fn read(&mut self) {
        self.identity();
        self.loom_and_yarns();
        self.measures();
        self.people_and_money();
        self.pictures();
        for column in &self.mapping.columns {
            let Some(text) = self.said(column) else {
                continue;
            };
            if (column.field.is_none() || column.field == Some(Field::Notes)) && !column.dropped {
                let head = match column.head.as_str() {
                    "" => format!("column {}", column.letters),
                    head => head.to_string(),
                };
                self.kept.push((head, text));
            }
        }
    }

    fn identity(&mut self) {
        if let Some(title) = self.take(Field::Title, Line::Title, |t, _| values::text(t)) {
            self.page
                .put(Line::Title, format!("title: {}", as_yaml(&title)));
            self.title = Some(title);
        }
        self.folder = self.take(Field::Folder, Line::Title, |t, _| {
            match serves_as_folder(t) {
                true => Ok(t.to_string()),
                false => Err(Bad::unreadable(
                    "this does not serve as a folder's name",
                    "write letters, figures and hyphens, such as `sea-door`",
                )),
            }
        });
        if let Some(made) = self.date(Field::Made, Line::Made) {
            self.page
                .put(Line::Made, format!("made: {}", as_value(&made)));
        }
        if let Some(kind) = self.take(Field::Kind, Line::Kind, |t, _| values::kind(t)) {
            self.page.put(Line::Kind, format!("kind: {kind}"));
        }
        self.series();
        self.line(Field::Technique, Line::Technique, "", "technique");
        self.line(Field::Inscription, Line::Inscription, "", "inscription");
        if let Some(text) = self.take(Field::Statement, Line::Statement, |t, _| values::prose(t)) {
            for line in as_prose(&text) {
                self.page.put(Line::Statement, line);
            }
        }
    }

    fn date(&mut self, field: Field, at: Line) -> Option<String> {
        self.take(field, at, |text, column| {
            edtf(text, column.unit.as_deref()).map_err(|(what, remedy)| {
                let remedy = remedy.replace(
                    "HEAD LINE=made",
                    &format!("{}={}", column.head, field.name()),
                );
                Bad::unreadable(what, remedy)
            })
        })
    }

    fn series(&mut self) {
        let name = self.take(Field::Series, Line::Series, |t, _| values::text(t));
        let number = self.take(Field::SeriesNumber, Line::Series, |t, _| {
            values::in_series(t).map(|(n, of)| of.map_or(n.clone(), |of| format!("{n}/{of}")))
        });
        let of = self.take(Field::SeriesOf, Line::Series, |t, _| values::whole(t));
        let (number, with) = match number.as_deref().and_then(|n| n.split_once('/')) {
            Some((n, of)) => (Some(n.to_string()), Some(of.to_string())),
            None => (number, None),
        };
        match name {
            Some(name) => {
                self.page.put(Line::Series, "series:");
                self.page
                    .put(Line::Series, format!("  name: {}", as_yaml(&name)));
                for (field, value) in [("number", number), ("of", of.or(with))] {
                    if let Some(value) = value {
                        self.page.put(Line::Series, format!("  {field}: {value}"));
                    }
                }
            }
            None => {
                // A number without a name is of no series yet.
                for (field, value) in [("number", number), ("of", of.or(with))] {
                    if let Some(value) = value {
                        self.page.say(
                            Line::Series,
                            format!("series {field}: {value} - of which series?"),
                        );
                    }
                }
            }
        }
    }

    fn loom_and_yarns(&mut self) {
        let mut loom = self.line(Field::Loom, Line::LoomKind, "  ", "kind");
        let sett = self.take(Field::Sett, Line::Sett, |t, c| {
            values::sett(t, c.unit.as_deref())
        });
        if let Some(sett) = sett {
            self.page
                .put(Line::Sett, format!("  sett: {}", as_value(&sett)));
            loom = true;
        }
        if let Some(ends) = self.take(Field::Ends, Line::Ends, |t, _| values::whole(t)) {
            self.page.put(Line::Ends, format!("  ends: {ends}"));
            loom = true;
        }
        if loom {
            self.page.put(Line::Loom, "loom:");
        }
        self.warp();
        self.wefts();
    }

    fn fibre(&mut self, field: Field, at: Line) -> Option<String> {
        self.take(field, at, |text, _| {
            let fibres = values::fibres(text).ok_or_else(|| {
                Bad::unreadable(
                    format!("`{text}` is not fibres with their shares"),
                    "write each with its share, such as `80 % wool, 20 % silk`",
                )
            })?;
            Ok(braces(&fibres))
        })
    }

    fn warp(&mut self) {
        let yarn = self.take(Field::Warp, Line::WarpYarn, |t, _| values::text(t));
        let mut fibre = self.fibre(Field::WarpFibre, Line::WarpFibre);
        if let Some(yarn) = yarn {
            match values::fibres(&yarn).filter(|_| fibre.is_none()) {
                Some(fibres) => fibre = Some(braces(&fibres)),
                None => self
                    .page
                    .put(Line::WarpYarn, format!("  yarn: {}", as_yaml(&yarn))),
            }
        }
        if let Some(fibre) = fibre {
            self.page.put(Line::WarpFibre, format!("  fibre: {fibre}"));
        }
        if let Some(count) = self.take(Field::WarpCount, Line::WarpCount, |t, _| values::count(t)) {
            self.page
                .put(Line::WarpCount, format!("  count: {}", as_value(&count)));
        }
    }

    fn wefts(&mut self) {
        let columns: Vec<Column> = self.mapping.of(Field::Weft).cloned().collect();
        let mut first = true;
        for column in columns {
            let Some(said) = self.said(&column) else {
                continue;
            };
            let name = match values::text(&said) {
                Ok(name) => name,
                Err(bad) => {
                    self.spoil(&column, Line::WeftName, "weft", &said, bad);
                    continue;
                }
            };
            match (values::fibres(&name), first) {
                (Some(fibres), true) => {
                    self.page
                        .put(Line::WeftFibre, format!("  - fibre: {}", braces(&fibres)));
                }
                (None, true) => self
                    .page
                    .put(Line::WeftName, format!("    name: {}", as_yaml(&name))),
                (found, false) => {
                    // The template's own last line stays; further yarns follow it.
                    if !self.page.has(Line::WeftEnd) {
                        self.page.put(Line::WeftEnd, "#     cost: 48 GBP/kg");
                    }
                    let (fibre, name) = match found {
                        Some(fibres) => (format!(" {}", braces(&fibres)), None),
                        None => (String::new(), Some(name)),
                    };
                    self.page.put(Line::WeftEnd, format!("  - fibre:{fibre}"));
                    if let Some(name) = name {
                        self.page
                            .put(Line::WeftEnd, format!("    name: {}", as_yaml(&name)));
                    }
                }
            }
            first = false;
        }
        if let Some(fibre) = self.fibre(Field::WeftFibre, Line::WeftFibre)
            && !self.page.has(Line::WeftFibre)
        {
            self.page
                .put(Line::WeftFibre, format!("  - fibre: {fibre}"));
        }
        if let Some(count) = self.take(Field::WeftCount, Line::WeftCount, |t, _| values::count(t)) {
            self.page
                .put(Line::WeftCount, format!("    count: {}", as_value(&count)));
        }
        self.line(Field::Dye, Line::WeftDye, "    ", "dye");
    }

    fn measures(&mut self) {
        for (field, at, name) in [
            (Field::Height, Line::Height, "height"),
            (Field::Width, Line::Width, "width"),
            (Field::Thickness, Line::Thickness, "thickness"),
        ] {
            let length = self.take(field, at, |t, c| values::length(t, c.unit.as_deref()));
            if let Some(length) = length {
                self.page
                    .put(at, format!("  {name}: {}", as_value(&length)));
            }
        }
        let mass = self.take(Field::Mass, Line::Mass, |t, c| {
            values::mass(t, c.unit.as_deref())
        });
        if let Some(mass) = mass {
            self.page
                .put(Line::Mass, format!("  mass: {}", as_value(&mass)));
        }
        let Some((column, text)) = self.one(Field::Size) else {
            return;
        };
        self.identified = true;
        match values::size(&text, column.unit.as_deref(), column.width_first) {
            Ok((height, width, third)) => {
                for (at, name, value) in [
                    (Line::Height, "height", height),
                    (Line::Width, "width", width),
                ] {
                    if !self.page.has(at) {
                        self.page.put(at, format!("  {name}: {}", as_value(&value)));
                    }
                }
                if let Some(third) = third {
                    self.page.say(
                        Line::Thickness,
                        format!("a third figure stands with the size: {third}"),
                    );
                }
            }
            Err(bad) => self.spoil(&column, Line::Height, "size", &text, bad),
        }
    }

    fn people_and_money(&mut self) {
        let owner = self.take(Field::Owner, Line::Owners, |t, _| values::text(t));
        let since = self.date(Field::OwnerSince, Line::Owners);
        let address = self.take(Field::OwnerAddress, Line::Owners, |t, _| values::text(t));
        if owner.is_some() || since.is_some() || address.is_some() {
            self.page.put(Line::Owners, "owners:");
            let since = since.map_or(
                "          # since when, for example 2026-07".to_string(),
                |s| format!(" {}", as_value(&s)),
            );
            self.page
                .put(Line::OwnersExample, format!("  - from:{since}"));
            for (name, value) in [("name", owner), ("address", address)] {
                if let Some(value) = value {
                    self.page.put(
                        Line::OwnersExample,
                        format!("    {name}: {}", as_yaml(&value)),
                    );
                }
            }
        }
        if let Some(place) = self.take(Field::Place, Line::Display, |t, _| values::text(t)) {
            self.page.put(Line::Display, "display:");
            self.page
                .put(Line::Display, format!("  place: {}", as_yaml(&place)));
        }
        for (field, name) in [(Field::Price, "price"), (Field::Insured, "insured")] {
            let amount = self.take(field, Line::Money, |t, c| {
                values::money(t, c.unit.as_deref())
            });
            if let Some(amount) = amount {
                if !self.page.has(Line::Money) {
                    self.page.put(Line::Money, "money:");
                }
                self.page.put(Line::Money, format!("  {name}: {amount}"));
            }
        }
    }

    fn pictures(&mut self) {
        let columns: Vec<Column> = self.mapping.of(Field::Photo).cloned().collect();
        for column in columns {
            let Some(said) = self.said(&column) else {
                continue;
            };
            let (good, wrong) = values::photos(&said);
            for name in wrong {
                let bad = Bad {
                    kind: kinds::LEAVES_FOLDER,
                    message: format!("`{name}` is no plain name of a photograph"),
                    remedy: "write the name alone and put the photograph into the piece's folder `photos`"
                        .to_string(),
                };
                self.spoil(&column, Line::Photos, "photo", &name, bad);
            }
            for name in good {
                let file = name.rsplit('/').next().unwrap_or(&name).to_string();
                let listed = |n: &String| n.rsplit('/').next() == Some(file.as_str());
                if !self.photos.iter().any(listed) {
                    self.photos.push(name);
                }
            }
        }
        photo_list(
            &mut self.page,
            self.photos
                .iter()
                .map(|n| n.rsplit('/').next().unwrap_or(n)),
        );
    }
}

/// Lists photographs whose view is still to be chosen.
pub(super) fn photo_list<'n>(page: &mut Page, names: impl Iterator<Item = &'n str>) {
    for (at, name) in names.enumerate() {
        if at == 0 {
            page.put(Line::Photos, "photos:");
            page.put(
                Line::PhotosExample,
                "## Choose each view: front, back, detail, signature, loom, installed or material.",
            );
        }
        page.put(Line::PhotosExample, format!("  - file: {}", as_yaml(name)));
        page.put(Line::PhotosExample, "    view:");
        page.put(
            Line::PhotosExample,
            "#     alt: \"what it shows, for those who can not see it\"",
        );
    }
}

fn braces(fibres: &[(String, String)]) -> String {
    let all: Vec<String> = fibres
        .iter()
        .map(|(name, share)| format!("{name}: {share}"))
        .collect();
    format!("{{{}}}", all.join(", "))
}
