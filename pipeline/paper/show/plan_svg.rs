//! The hang plan as one drawing for other programs: every wall's elevation in millimetres, one below the other
//! (SVG 1.1). No pictures and no words but numbers and names, which are escaped.

use super::plan::EYE;
use super::views::{PlanView, ShowView, WallView};
use std::fmt::Write;

/// Room round every wall, mm.
const MARGIN: f64 = 400.0;
/// How high a wall is drawn whose height nobody told, mm.
const DRAWN_HIGH: f64 = 2800.0;

impl PlanView {
    /// The drawing. One unit is one millimetre.
    pub fn to_svg(&self, show: &ShowView) -> String {
        let high = |w: &WallView| {
            let top = w.pieces.iter().map(|p| p.bottom.mm() + p.height.mm());
            w.height.map_or(top.fold(DRAWN_HIGH, f64::max), |h| h.mm())
        };
        let wide = self.walls.iter().map(|w| w.width.mm()).fold(0.0, f64::max) + 2.0 * MARGIN;
        let tall: f64 = self.walls.iter().map(|w| high(w) + 2.0 * MARGIN).sum();
        let mut out = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{tall}mm\" viewBox=\"0 0 {wide} {tall}\">\n<title>{}</title>\n",
            escaped(&show.title)
        );
        let mut put = |line: String| {
            out.push_str(&line);
            out.push('\n');
        };
        let mut y = 0.0;
        for wall in &self.walls {
            let floor = y + MARGIN + high(wall);
            put(format!(
                "<g id=\"{}\" fill=\"none\" stroke=\"black\" stroke-width=\"5\" font-family=\"serif\" font-size=\"90\">",
                escaped(&wall.name)
            ));
            put(format!(
                "<text x=\"{MARGIN}\" y=\"{}\" fill=\"black\" stroke=\"none\">{}</text>",
                y + MARGIN - 60.0,
                escaped(&wall.name)
            ));
            put(format!(
                "<rect x=\"{MARGIN}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                y + MARGIN,
                wall.width.mm(),
                high(wall)
            ));
            for (from, to, what) in &wall.clear {
                let what = what.as_deref().unwrap_or_default();
                put(format!(
                    "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#ddd\" stroke=\"none\"><title>{}</title></rect>",
                    MARGIN + from.mm(),
                    y + MARGIN,
                    (to.mm() - from.mm()).max(0.0),
                    high(wall),
                    escaped(what)
                ));
            }
            put(format!(
                "<line x1=\"{MARGIN}\" y1=\"{0}\" x2=\"{1}\" y2=\"{0}\" stroke-dasharray=\"60 30\" stroke-width=\"2\"/>",
                floor - EYE,
                MARGIN + wall.width.mm()
            ));
            for p in &wall.pieces {
                let piece = show.pieces.get(p.index);
                put(format!(
                    "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"><title>{}</title></rect>",
                    MARGIN + p.left.mm(),
                    floor - p.bottom.mm() - p.height.mm(),
                    p.width.mm(),
                    p.height.mm(),
                    escaped(&piece.map_or(String::new(), |s| format!(
                        "{} {}",
                        s.number, s.public.title
                    )))
                ));
                for x in &p.across {
                    put(format!(
                        "<circle cx=\"{}\" cy=\"{}\" r=\"15\" fill=\"black\" stroke=\"none\"/>",
                        MARGIN + x.mm(),
                        floor - p.above.mm()
                    ));
                }
                put(format!(
                    "<text x=\"{}\" y=\"{}\" text-anchor=\"middle\" fill=\"black\" stroke=\"none\">{}</text>",
                    MARGIN + p.left.mm() + p.width.mm() / 2.0,
                    floor - p.bottom.mm() - p.height.mm() / 2.0,
                    piece.map_or(0, |s| s.number)
                ));
            }
            put("</g>".to_owned());
            y += high(wall) + 2.0 * MARGIN;
        }
        out.push_str("</svg>\n");
        out
    }
}

/// Text as the content or an attribute of XML.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        let _ = match c {
            '&' => write!(out, "&amp;"),
            '<' => write!(out, "&lt;"),
            '>' => write!(out, "&gt;"),
            '"' => write!(out, "&quot;"),
            c => write!(out, "{c}"),
        };
    }
    out
}
