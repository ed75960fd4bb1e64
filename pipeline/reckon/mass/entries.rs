//! Masses as entries of the ledger.

use super::{Masses, USUAL_AREAL};
use crate::quantity::Mass;
use crate::reckon::figure::Figure;
use crate::reckon::ledger::Entry;
use crate::reckon::printed::{printed, significant};

impl Masses {
    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let kg = |name: &str, what: &str, f: &Figure<Mass>| {
            Entry::uncertain(name, what, &f.number().times(0.001), "kg")
        };
        let said = |f: &Figure<Mass>| printed(f.value.kg(), f.u.map(Mass::kg));
        let mut all = Vec::new();
        let mut terms: Vec<(String, &Figure<Mass>)> = Vec::new();
        if let Some(warp) = &self.warp {
            all.push(
                kg("mass.warp", "warp in the piece", warp)
                    .by(
                        "ends × length of each in the piece × tex / 1000",
                        format!("{} = {} g", self.warp_worked, significant(warp.value.g(), 5)),
                    )
                    .source("tex is g/km (ISO 1144); Brooks, Cotton Manufacturing, weight of a piece; 3 % for a nominal count (common practice, no source)")
                    .from(["web.ends", "web.end-in-piece", "yarn.warp.tex"]),
            );
            terms.push(("mass.warp".to_string(), warp));
        }
        if let Some(strung) = &self.warp_strung {
            all.push(
                kg("mass.warp-strung", "warp strung on the loom", strung)
                    .by("metres strung × tex / 1000", "")
                    .source(
                        "tex is g/km (ISO 1144); Brooks, Cotton Manufacturing, weight of a piece",
                    )
                    .from(["web.warp-strung", "yarn.warp.tex"]),
            );
        }
        if let (Some(thrums), Some(strung), Some(warp)) =
            (&self.thrums, &self.warp_strung, &self.warp)
        {
            all.push(
                kg("mass.thrums", "warp cut off as thrums", thrums)
                    .by(
                        "warp strung − warp in the piece",
                        format!("({}) − ({}) kg", said(strung), said(warp)),
                    )
                    .source("mass balance")
                    .from(["mass.warp-strung", "mass.warp"]),
            );
        }
        for (i, weft) in self.weft.iter().enumerate() {
            if let Some(mass) = &weft.mass {
                let name = format!("mass.weft-{}", i + 1);
                all.push(
                    kg(&name, &format!("{} in the piece", weft.name), mass)
                        .by(weft.formula, weft.worked.clone())
                        .source("the weaver's scale, or tex (ISO 1144); 2 % for trimmed ends (own rule)")
                        .from(mass.from.clone()),
                );
                terms.push((name, mass));
            }
        }
        for (part, mass) in &self.parts {
            if let Some(mass) = mass {
                let name = format!("mass.part.{}", part.replace(' ', "-"));
                all.push(
                    kg(&name, part, mass)
                        .by("as given", "")
                        .source("the record")
                        .from(mass.from.clone()),
                );
                terms.push((name, mass));
            }
        }
        if let Some(predicted) = &self.predicted {
            let grams: Vec<String> = terms
                .iter()
                .map(|(_, m)| significant(m.value.g(), 5))
                .collect();
            all.push(
                kg(
                    "mass.predicted",
                    "what warp, weft and parts together make",
                    predicted,
                )
                .by(
                    "warp + every weft + every part",
                    format!(
                        "{} = {} g",
                        grams.join(" + "),
                        significant(predicted.value.g(), 5)
                    ),
                )
                .source("mass balance")
                .from(terms.iter().map(|(name, _)| name.clone())),
            );
        }
        if let Some(weighed) = &self.weighed {
            all.push(
                kg("mass.weighed", "what the scale says", weighed)
                    .by("as read", "")
                    .source("the reading; GUM (JCGM 100:2008), 4.3.7")
                    .from(["measured.mass"]),
            );
        }
        if let (Some(r), Some(w), Some(p)) = (&self.residual, &self.weighed, &self.predicted) {
            all.push(
                kg("mass.residual", "scale less yarns", r)
                    .by(
                        "weighed − predicted",
                        format!("({}) − ({}) kg", said(w), said(p)),
                    )
                    .source("mass balance")
                    .from(["mass.weighed", "mass.predicted"]),
            );
        }
        if let Some(areal) = &self.areal {
            let (least, most) = USUAL_AREAL.into_inner();
            let mass = if self.weighed.is_some() {
                "mass.weighed"
            } else {
                "mass.predicted"
            };
            all.push(
                Entry::uncertain("mass.per-area", "mass per area", areal.number(), "g/m2")
                    .by(
                        format!(
                            "mass / area; {least:.0} to {most:.0} g/m2 is usual for a wall tapestry"
                        ),
                        self.areal_worked.clone(),
                    )
                    .source("definition; the usual range is common practice, no source")
                    .from([mass, "size.area"]),
            );
        }
        if !self.unknown.is_empty() {
            all.push(
                Entry::words(
                    "mass.unknown",
                    "left out of the prediction: mass not known",
                    self.unknown.join(", "),
                )
                .source("the record"),
            );
        }
        all
    }
}
