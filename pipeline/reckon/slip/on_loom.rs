//! Slips in what was written down at the loom.

use super::candidate::{Desk, Kind, LENGTHS};
use super::facts::Value;
use super::rewriting::transposed;
use crate::record::Piece;

const SETTS: &[&str] = &["ends/cm", "epi"];

impl Desk<'_> {
    pub(super) fn loom(&mut self, piece: &Piece) {
        let l = &piece.loom;
        if let Some(r) = &l.sett {
            self.reading("loom.sett", "`sett`", r, SETTS, |f, v| {
                f.sett = Some(Value {
                    v: v.v / 1000.0,
                    u: v.u,
                });
            });
        }
        if let Some(ends) = &l.ends {
            for text in transposed(&ends.value.to_string()) {
                if let Ok(n) = text.parse::<f64>() {
                    let mut facts = self.facts.clone();
                    facts.ends = Some(Value::exact(n));
                    let words = format!("`ends` is `{text}` and not `{}`", ends.value);
                    self.add(Kind::Digits, "loom.ends", &ends.place, words, facts);
                }
            }
            for n in [ends.value * 10, ends.value / 10] {
                if n > 0 && (n > ends.value || ends.value % 10 == 0) {
                    let mut facts = self.facts.clone();
                    facts.ends = Some(Value::exact(f64::from(n)));
                    let words = format!("`ends` is `{n}` and not `{}`", ends.value);
                    self.add(Kind::Point, "loom.ends", &ends.place, words, facts);
                }
            }
        }
        if let Some(r) = &l.width {
            self.reading("loom.width", "the loom's `width`", r, LENGTHS, |f, v| {
                f.loom_width = Some(v);
            });
        }
        if let Some(r) = &l.woven {
            self.reading("loom.woven", "`woven`", r, LENGTHS, |f, v| {
                f.woven = Some(v)
            });
            let hems = self.facts.both_hems();
            if hems > 0.0 {
                let mut facts = self.facts.clone();
                facts.woven = facts.woven.map(|w| Value {
                    v: w.v - hems,
                    u: w.u,
                });
                let words = format!(
                    "`woven`, `{}`, counts the hems and should not",
                    r.value.text
                );
                self.add(Kind::Hems, "loom.woven", &r.place, words, facts);
            }
        }
        if let (Some(width), Some(_)) = (&l.width, &l.woven) {
            let mut facts = self.facts.clone();
            std::mem::swap(&mut facts.loom_width, &mut facts.woven);
            let words = "the loom's `width` and `woven` have changed places".to_string();
            self.add(Kind::HeightWidth, "loom", &width.place, words, facts);
        }
        if let Some(r) = &l.warp_length {
            self.reading("loom.warp_length", "`warp_length`", r, LENGTHS, |f, v| {
                f.warp_length = Some(v);
            });
        }
        if let Some(hems) = &l.hems {
            let hems = [(&hems.start, "start"), (&hems.finish, "finish")];
            for (i, (hem, name)) in hems.into_iter().enumerate() {
                if let Some(r) = hem {
                    let label = format!("the hem at the {name}");
                    let field = format!("loom.hems.{name}");
                    self.reading(&field, &label, r, LENGTHS, |f, v| f.hems[i] = Some(v));
                }
            }
        }
        if let Some(count) = &piece.warp.count {
            self.count("warp.count", "the warp's `count`", count, |f, tex| {
                f.warp_tex = Some(Value::exact(tex));
            });
        }
        let last = piece
            .notes
            .entries
            .iter()
            .filter_map(|n| n.height.as_ref())
            .max_by(|a, b| a.value.value.mm().total_cmp(&b.value.value.mm()));
        if let Some(last) = last {
            self.reading(
                "notes.height",
                "the last height noted",
                last,
                LENGTHS,
                |f, v| {
                    f.last_height = Some(v);
                },
            );
        }
    }
}
