//! The light budget: what each piece gets in the show and in its year, what it may get, and what to do.

use super::list::{Listed, Section, Table, numbered};
use super::term;
use super::views::{RegisteredView, ShowView};
use crate::paper::said::{Run, Said};
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet, dates, figures};
use crate::reckon::exposure::Budget;

impl Press {
    /// The light budget. For the registrar, who may know where a piece hangs otherwise and for how long.
    pub fn light_budget(
        &self,
        show: &ShowView,
        registered: &[RegisteredView],
    ) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let mut table = Table::with(
            &t,
            &[
                (&|w| &w.heads.number, 0.0, true),
                (&|w| &w.heads.piece, 2.0, false),
                (&|w| &w.heads.yarn, 1.6, false),
                (&|w| &w.heads.show, 0.0, true),
                (&|w| &w.heads.elsewhere, 0.0, true),
                (&|w| &w.heads.year, 0.0, true),
                (&|w| &w.heads.allowed, 0.0, true),
                (&|w| &w.heads.verdict, 2.2, false),
            ],
        );
        let mut home_unknown = false;
        table.rows = show
            .pieces
            .iter()
            .zip(registered)
            .map(|(p, r)| {
                let title = Said::runs(&t[..1], |_| {
                    vec![Run::Title {
                        title: p.public.title.clone(),
                    }]
                });
                let mut row = vec![numbered(p.number), vec![title]];
                match &r.budget {
                    None => {
                        row.extend(std::iter::repeat_with(Vec::new).take(5));
                        row.push(vec![term(&t, |w| &w.light.unasked)]);
                    }
                    Some(budget) => {
                        home_unknown |= budget.home.is_none();
                        row.extend(figures_of(budget, &t));
                        row.push(vec![verdict(budget, &t)]);
                    }
                }
                row
            })
            .collect();
        let mut notes = vec![term(&t, |w| &w.light.how), term(&t, |w| &w.light.guard)];
        if home_unknown {
            notes.insert(0, term(&t, |w| &w.light.home_unknown));
        }
        let section = Section {
            table: (!table.rows.is_empty()).then_some(table),
            ..Section::default()
        };
        let listed = Listed {
            wide: true,
            sections: vec![section],
            notes,
            ..Listed::default()
        };
        self.list_paper(show, "light", |w| &w.names.light, listed)
    }
}

fn figures_of(budget: &Budget, t: &[&Words]) -> Vec<Vec<Said>> {
    let dose = |value: f64| figures::grouped(value);
    let yarn = match &budget.weakest {
        Some(weakest) => {
            let (low, high) = weakest.grade;
            let grade = if low == high {
                low.to_string()
            } else {
                format!("{low}–{high}")
            };
            vec![Said::own(weakest.name.clone()), Said::own(grade)]
        }
        None => vec![term(t, |w| &w.light.unknown)],
    };
    let star = if budget.home.is_none() { "*" } else { "" };
    vec![
        yarn,
        vec![
            Said::own(dose(budget.show.dose())),
            Said::own(format!("{} lx", figures::grouped(budget.show.lux))),
        ],
        vec![Said::own(format!("{}{star}", dose(budget.elsewhere())))],
        vec![Said::own(dose(budget.year()))],
        vec![Said::own(dose(budget.allowed()))],
    ]
}

fn verdict(budget: &Budget, t: &[&Words]) -> Said {
    let class = budget.class();
    let lux = |value: f64| figures::grouped(value);
    match budget.remedy() {
        None if budget.is_too_bright() => Said::each(t, |w| {
            fill(
                &w.show.light.too_bright,
                &[("lux", &lux(class.brightest()))],
            )
        }),
        None => term(t, |w| &w.light.inside),
        Some(remedy) => Said::each(t, |w| {
            let dimmed = remedy.lux.min(class.brightest());
            let day = remedy.last_day.map(|d| dates::day(d, w));
            let words = &w.show.light;
            let pattern = match (remedy.lux >= 1.0, day.is_some()) {
                (true, true) => &words.over_both,
                (true, false) => &words.over_lux,
                (false, true) => &words.over_day,
                (false, false) => &words.over_all,
            };
            fill(
                pattern,
                &[
                    ("lux", &lux(dimmed)),
                    ("day", day.as_deref().unwrap_or_default()),
                ],
            )
        }),
    }
}
