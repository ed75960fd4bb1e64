//! Plants one slip of the pen or of the head into a true piece.

use crate::piece::{Dice, Used, Written, Yarn};
use offloom::reckon::slip::Kind;

/// The slip that was planted.
#[derive(Debug, Clone)]
pub struct Planted {
    pub kind: Kind,
    /// The field, or empty where the kind alone tells it.
    pub field: String,
    /// The figure before and after, for whoever reads what went wrong.
    pub change: String,
}

pub const KINDS: &[Kind] = &[
    Kind::Unit,
    Kind::CountSystem,
    Kind::Plies,
    Kind::Digits,
    Kind::Point,
    Kind::HeightWidth,
    Kind::Top,
    Kind::Hems,
    Kind::BeforeAfter,
    Kind::LeftOut,
    Kind::Twice,
    Kind::Cone,
];

/// Every figure that a pen may slip on, by its field.
fn figures(w: &mut Written) -> Vec<(String, &mut String)> {
    let mut all: Vec<(String, &mut String)> = vec![
        ("loom.sett".into(), &mut w.sett),
        ("loom.ends".into(), &mut w.ends),
        ("loom.width".into(), &mut w.width),
        ("loom.woven".into(), &mut w.woven),
        ("loom.warp_length".into(), &mut w.warp_length),
    ];
    for (i, r) in w.heights.iter_mut().enumerate() {
        all.push((format!("measured.height[{i}]"), r));
    }
    for (i, r) in w.widths.iter_mut().enumerate() {
        all.push((format!("measured.width[{i}]"), r));
    }
    for (i, r) in w.diagonals.iter_mut().flatten().enumerate() {
        all.push((format!("measured.diagonals[{i}]"), r));
    }
    if let Some(r) = &mut w.thickness {
        all.push(("measured.thickness".into(), r));
    }
    if let Some(r) = &mut w.mass {
        all.push(("measured.mass".into(), r));
    }
    for (i, y) in w.weft.iter_mut().enumerate() {
        match &mut y.used {
            Used::Given(r) | Used::Reeled(r) => all.push((format!("weft[{i}].used"), r)),
            Used::Weighed(b, a) => {
                all.push((format!("weft[{i}].weighed.before"), b));
                all.push((format!("weft[{i}].weighed.after"), a));
            }
        }
    }
    all
}

fn counts(w: &mut Written) -> Vec<(String, &mut String)> {
    let mut all = vec![("warp.count".to_string(), &mut w.warp_count)];
    for (i, y) in w.weft.iter_mut().enumerate() {
        if matches!(y.used, Used::Reeled(_)) {
            all.push((format!("weft[{i}].count"), &mut y.count));
        }
    }
    all
}

fn swapped_digits(text: &str, dice: &mut Dice) -> Option<String> {
    let digits: Vec<usize> = text
        .char_indices()
        .filter(|(_, c)| c.is_ascii_digit())
        .map(|(i, _)| i)
        .collect();
    let pairs: Vec<(usize, usize)> = digits
        .windows(2)
        .map(|p| (p[0], p[1]))
        .filter(|(a, b)| text.as_bytes()[*a] != text.as_bytes()[*b])
        // A figure that would begin with a nought is not written.
        .filter(|(a, b)| !(*a == 0 && text.as_bytes()[*b] == b'0'))
        .collect();
    if pairs.is_empty() {
        return None;
    }
    let (a, b) = *dice.one(&pairs);
    let mut octets = text.as_bytes().to_vec();
    octets.swap(a, b);
    String::from_utf8(octets).ok()
}

fn shifted_point(text: &str, dice: &mut Dice) -> Option<String> {
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    let right = dice.chance(0.5);
    let (whole, part) = if right {
        if part.is_empty() {
            (format!("{whole}0"), String::new())
        } else {
            (format!("{whole}{}", &part[..1]), part[1..].to_string())
        }
    } else {
        let cut = whole.len() - 1;
        // Ends are whole numbers: only a nought can be lost.
        if unit.is_empty() && !whole.ends_with('0') {
            return None;
        }
        if unit.is_empty() {
            (whole[..cut].to_string(), String::new())
        } else {
            (whole[..cut].to_string(), format!("{}{part}", &whole[cut..]))
        }
    };
    let whole = whole.trim_start_matches('0');
    let whole = if whole.is_empty() { "0" } else { whole };
    let number = if part.is_empty() {
        whole.to_string()
    } else {
        format!("{whole}.{part}")
    };
    Some(format!("{number} {unit}").trim().to_string())
}

fn other_unit(text: &str, dice: &mut Dice) -> Option<String> {
    let (number, unit) = text.split_once(' ')?;
    let others: &[&str] = match unit {
        "cm" => &["in", "mm"],
        "in" => &["cm"],
        "mm" => &["cm"],
        "kg" => &["lb", "g"],
        "lb" => &["kg"],
        "g" => &["oz", "kg"],
        "oz" => &["g"],
        "ends/cm" => &["epi"],
        "epi" => &["ends/cm"],
        _ => return None,
    };
    Some(format!("{number} {}", dice.one(others)))
}

/// Plants a slip of the kind; `None` where the piece offers no place for it.
pub fn plant(true_piece: &Written, kind: Kind, dice: &mut Dice) -> Option<(Written, Planted)> {
    let mut w = true_piece.clone();
    let planted = |field: &str, was: &str, now: &str| Planted {
        kind,
        field: field.to_string(),
        change: format!("{was} -> {now}"),
    };
    let told = match kind {
        Kind::Unit | Kind::Digits | Kind::Point => {
            let mut all = figures(&mut w);
            let n = dice.below(all.len());
            let (field, text) = &mut all[n];
            let now = match kind {
                Kind::Unit => other_unit(text, dice)?,
                Kind::Digits => swapped_digits(text, dice)?,
                _ => shifted_point(text, dice)?,
            };
            let told = planted(field, text, &now);
            **text = now;
            told
        }
        Kind::CountSystem | Kind::Plies => {
            let mut all = counts(&mut w);
            let n = dice.below(all.len());
            let (field, text) = &mut all[n];
            let (system, figures) = text.split_once(' ')?;
            let now = if kind == Kind::CountSystem {
                let others: Vec<&str> = ["Ne", "NeW", "NeL", "Nm"]
                    .into_iter()
                    .filter(|s| *s != system)
                    .collect();
                format!("{} {figures}", dice.one(&others))
            } else {
                format!("{system} {}", figures.split_once('/')?.0)
            };
            if text.as_str() == now || offloom::quantity::YarnCount::parse(&now).is_err() {
                return None;
            }
            let told = planted(field, text, &now);
            **text = now;
            told
        }
        Kind::HeightWidth => {
            std::mem::swap(&mut w.heights, &mut w.widths);
            planted("measured", "", "")
        }
        Kind::Top => {
            w.top = if w.top == "left" { "finish" } else { "left" };
            planted("top", "", "")
        }
        Kind::Hems => {
            let add = |text: &str, hems: &[String; 2]| -> Option<String> {
                let (number, unit) = text.split_once(' ')?;
                let both: f64 = hems
                    .iter()
                    .filter_map(|h| h.split_once(' ')?.0.parse::<f64>().ok())
                    .sum();
                Some(format!("{:.1} {unit}", number.parse::<f64>().ok()? + both))
            };
            let hems = w.hems.clone();
            if dice.chance(0.5) {
                let now = add(&w.woven, &hems)?;
                let told = planted("loom.woven", &w.woven, &now);
                w.woven = now;
                told
            } else {
                let (list, name) = if w.top == "left" {
                    (&mut w.widths, "measured.width")
                } else {
                    (&mut w.heights, "measured.height")
                };
                for text in list.iter_mut() {
                    *text = add(text, &hems)?;
                }
                planted(name, "", "")
            }
        }
        Kind::BeforeAfter => {
            let all: Vec<usize> = (0..w.weft.len())
                .filter(|i| matches!(w.weft[*i].used, Used::Weighed(..)))
                .collect();
            if all.is_empty() {
                return None;
            }
            let i = *dice.one(&all);
            if let Used::Weighed(b, a) = &mut w.weft[i].used {
                std::mem::swap(b, a);
            }
            planted(&format!("weft[{i}].weighed"), "", "")
        }
        Kind::LeftOut => {
            if w.weft.len() < 3 {
                return None;
            }
            let i = dice.below(w.weft.len());
            w.weft.remove(i);
            planted("", "", "")
        }
        Kind::Twice => {
            let i = dice.below(w.weft.len());
            let copy: Yarn = w.weft[i].clone();
            w.weft.push(copy);
            planted("", "", "")
        }
        Kind::Cone => {
            let cone = dice.from(40.0, 180.0);
            let all: Vec<usize> = (0..w.weft.len())
                .filter(|i| {
                    matches!(&w.weft[*i].used, Used::Given(t) if t.ends_with(" g"))
                        || matches!(&w.weft[*i].used, Used::Weighed(..))
                })
                .collect();
            if all.is_empty() {
                return None;
            }
            let i = *dice.one(&all);
            if let Used::Given(t) | Used::Weighed(t, _) = &mut w.weft[i].used {
                let grams: f64 = t.split_once(' ')?.0.parse().ok()?;
                *t = format!("{:.0} g", grams + cone);
            }
            planted("", "", "")
        }
    };
    Some((w, told))
}
