//! The list of squares and the roll. Both hold every name and are the studio's alone.

use super::views::{Person, RollView};
use super::{filled, named, number, of_ladder, term};
use crate::paper::common::Common;
use crate::paper::said::Said;
use crate::paper::show::{ListPaper, Section, Table};
use crate::paper::words::{CommunityPart, Words};
use crate::paper::{PaperError, Press, Sheet};
use crate::record::{Age, Consent};

/// A column: its head, its share of the width, whether it is set to the right.
type Column = (Said, f64, bool);

fn table(columns: Vec<Column>, rows: Vec<Vec<Vec<Said>>>) -> Table {
    let mut table = Table {
        heads: Vec::new(),
        widths: Vec::new(),
        right: Vec::new(),
        rows,
    };
    for (head, width, right) in columns {
        table.heads.push(head);
        table.widths.push(width);
        table.right.push(right);
    }
    table
}

fn age(age: Option<Age>, t: &[&Words]) -> Said {
    match age {
        Some(Age::Adult) => term(t, |w| &w.list.adult),
        Some(Age::Minor) => term(t, |w| &w.list.minor),
        None => term(t, |w| &w.list.untold),
    }
}

fn consent(consent: Option<Consent>, t: &[&Words]) -> Said {
    match consent {
        Some(Consent::Yes) => term(t, |w| &w.list.may),
        Some(Consent::No) => term(t, |w| &w.list.may_not),
        Some(Consent::Unknown) => term(t, |w| &w.list.unknown),
        None => term(t, |w| &w.list.untold),
    }
}

fn minors<'a>(people: impl Iterator<Item = &'a Person>) -> (usize, usize) {
    people.fold((0, 0), |(all, minors), p| {
        (all + 1, minors + usize::from(p.age == Some(Age::Minor)))
    })
}

impl Press {
    /// The list of squares. It is the studio's alone.
    ///
    /// # Errors
    /// Where the template has a fault.
    pub fn squares_list(&self, view: &RollView) -> Result<Sheet, PaperError> {
        let t = self.lexicon.choose(&view.public.languages);
        let more = view.squares.iter().any(|s| !s.more.is_empty());
        let mut columns = vec![
            (term(&t, |w| &w.list.number), 0.0, false),
            (term(&t, |w| &w.list.maker), 2.0, false),
            (term(&t, |w| &w.list.age), 0.9, false),
            (term(&t, |w| &w.list.consent), 0.9, false),
        ];
        if more {
            columns.push((term(&t, |w| &w.list.more), 1.4, false));
        }
        // What stands in the cells is told once, in the leading language: the list is nobody's but the studio's.
        let cells = t.get(..1).unwrap_or_default();
        let rows = view
            .squares
            .iter()
            .map(|square| {
                let person = |at: Option<usize>| at.and_then(|i| view.people.get(i));
                let each = |get: &dyn Fn(&Person) -> Said| -> Vec<Said> {
                    let all = square.makers.iter().map(|(_, at)| match person(*at) {
                        Some(p) => get(p),
                        None => term(cells, |w| &w.list.off_roll),
                    });
                    all.collect()
                };
                let names: Vec<Said> = square.makers.iter().map(|(n, _)| Said::own(n)).collect();
                let mut row = vec![
                    vec![Said::own(number(square.at))],
                    if names.is_empty() {
                        vec![Said::own("–")]
                    } else {
                        names
                    },
                    each(&|p| age(p.age, cells)),
                    each(&|p| consent(p.consent, cells)),
                ];
                if more {
                    row.push(square.more.iter().map(|(_, v)| Said::own(v)).collect());
                }
                row
            })
            .collect();
        let missing = view.squares.iter().filter(|s| s.makers.is_empty()).count();
        let sums = vec![filled(
            &t,
            |w| &w.list.sums,
            &[
                ("count", &view.squares.len().to_string()),
                ("missing", &missing.to_string()),
            ],
        )];
        let section = Section {
            table: Some(table(columns, rows)),
            ..Section::default()
        };
        self.private_list(view, &t, "squares-list", |w| &w.names.list, sums, section)
    }

    /// The roll. It is the studio's alone.
    ///
    /// # Errors
    /// Where the template has a fault.
    pub fn roll(&self, view: &RollView) -> Result<Sheet, PaperError> {
        let t = self.lexicon.choose(&view.public.languages);
        let columns = vec![
            (term(&t, |w| &w.list.maker), 2.0, false),
            (term(&t, |w| &w.list.age), 0.9, false),
            (term(&t, |w| &w.list.consent), 0.9, false),
            (term(&t, |w| &w.list.squares), 1.4, false),
        ];
        let cells = t.get(..1).unwrap_or_default();
        let rows = view
            .people
            .iter()
            .map(|p| {
                let squares: Vec<String> = p.squares.iter().map(|s| number(*s)).collect();
                vec![
                    vec![Said::own(&p.name)],
                    vec![age(p.age, cells)],
                    vec![consent(p.consent, cells)],
                    vec![Said::own(if squares.is_empty() {
                        "–".to_string()
                    } else {
                        squares.join(", ")
                    })],
                ]
            })
            .collect();
        let counted = |get: CommunityPart, (all, minors): (usize, usize)| {
            filled(
                &t,
                get,
                &[("count", &all.to_string()), ("minors", &minors.to_string())],
            )
        };
        let agreed = |p: &&Person| p.consent == Some(Consent::Yes);
        let sums = vec![
            counted(|w| &w.list.people, minors(view.people.iter())),
            counted(|w| &w.list.named, minors(view.people.iter().filter(agreed))),
        ];
        let section = Section {
            table: Some(table(columns, rows)),
            ..Section::default()
        };
        self.private_list(view, &t, "roll", |w| &w.names.roll, sums, section)
    }

    fn private_list(
        &self,
        view: &RollView,
        t: &[&Words],
        kind: &str,
        name: CommunityPart,
        sums: Vec<Said>,
        section: Section,
    ) -> Result<Sheet, PaperError> {
        let data = ListPaper {
            common: Common::of(&view.public, t, &named(t, name), &of_ladder(None)),
            name: term(t, name),
            title: view.public.title.clone(),
            under: sums,
            wide: false,
            apart: false,
            cautions: vec![term(t, |w| &w.list.private)],
            sections: vec![section],
            notes: Vec::new(),
            signing: (Said::own(""), Said::own("")),
        };
        self.set_of_many(&view.public, kind, "/show-list.typ", &data, None)
    }
}
