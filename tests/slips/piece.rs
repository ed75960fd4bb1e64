//! Invented pieces whose figures are true: woven, cut off, measured and weighed as studios do it, every
//! figure rounded as a hand would write it.

/// A generator of its own, so that the same seed gives the same piece everywhere (the constants are
/// Knuth's, MMIX).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66);
        for _ in 0..8 {
            dice.next();
        }
        dice
    }
    /// Evenly from 0 to 1.
    pub fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
    pub fn from(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.next()
    }
    /// About normal: the sum of twelve even figures.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.next()).sum::<f64>() - 6.0
    }
    pub fn chance(&mut self, p: f64) -> bool {
        self.next() < p
    }
    pub fn below(&mut self, n: usize) -> usize {
        ((self.next() * n as f64) as usize).min(n - 1)
    }
    pub fn one<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// A yarn of the weft as written.
#[derive(Clone, Debug)]
pub struct Yarn {
    pub name: String,
    pub count: String,
    pub used: Used,
}

#[derive(Clone, Debug)]
pub enum Used {
    Given(String),
    Weighed(String, String),
    Reeled(String),
}

/// A piece as written.
#[derive(Clone, Debug)]
pub struct Written {
    pub sett: String,
    pub ends: String,
    pub width: String,
    pub woven: String,
    pub warp_length: String,
    pub hems: [String; 2],
    pub warp_count: String,
    pub top: &'static str,
    pub weft: Vec<Yarn>,
    pub lining: Option<String>,
    pub heading: Option<String>,
    pub heights: Vec<String>,
    pub widths: Vec<String>,
    pub diagonals: Option<[String; 2]>,
    pub thickness: Option<String>,
    pub mass: Option<String>,
    /// Day, hours, height.
    pub notes: Vec<(String, String, String)>,
    /// Width over height in the photograph.
    pub photo: Option<f64>,
}

/// A number with so many places.
fn places(x: f64, n: usize) -> String {
    format!("{x:.n$}")
}

impl Written {
    pub fn true_piece(dice: &mut Dice) -> Written {
        let inches = dice.chance(0.3);
        let length = |cm: f64, n: usize| {
            if inches {
                format!("{} in", places(cm / 2.54, n))
            } else {
                format!("{} cm", places(cm, n))
            }
        };
        let (per_cm, sett) = if inches {
            let epi = *dice.one(&[6.0, 8.0, 8.0, 10.0, 12.0]);
            (epi / 2.54, format!("{epi} epi"))
        } else {
            let per = *dice.one(&[2.0, 2.5, 3.0, 3.0, 4.0, 5.0]);
            (per, format!("{per} ends/cm"))
        };
        let (wide, high) = (dice.from(45.0, 230.0), dice.from(45.0, 230.0));
        // Rounded as it was strung.
        let wide = if inches {
            (wide / 2.54).round() * 2.54
        } else {
            wide.round()
        };
        let ends = (2.0 * (per_cm * wide / 2.0).round()).max(2.0);
        let hem = if inches {
            2.54
        } else {
            *dice.one(&[2.0, 2.5, 3.0])
        };
        let strung = (high + 2.0 * hem + dice.from(35.0, 75.0)).round();
        // The warp yarn that leaves between it and its neighbours about three times its diameter.
        let tex_wanted = {
            let diameter = dice.from(0.19, 0.3) / (per_cm / 10.0);
            (diameter / 0.0373) * (diameter / 0.0373)
        };
        let warps = [
            ("Ne 12/4", 590.541 * 4.0 / 12.0),
            ("Ne 12/6", 590.541 * 6.0 / 12.0),
            ("Ne 12/9", 590.541 * 9.0 / 12.0),
            ("Ne 12/12", 590.541),
            ("Ne 12/15", 590.541 * 15.0 / 12.0),
            ("Ne 12/18", 590.541 * 18.0 / 12.0),
            ("NeL 8/5", 1653.516 * 5.0 / 8.0),
        ];
        let (warp_count, warp_tex) = warps
            .iter()
            .min_by(|a, b| {
                let off = |t: f64| libm::log(t / tex_wanted).abs();
                off(a.1).total_cmp(&off(b.1))
            })
            .map(|(c, t)| (c.to_string(), *t))
            .unwrap();
        let across = wide * (1.0 - dice.from(0.0, 0.05));
        let along = high * (1.0 - dice.from(0.005, 0.06));
        let sideways = dice.chance(0.35);
        let (height, width) = if sideways {
            (across, along)
        } else {
            (along, across)
        };
        let area = height * width / 1e4;

        let weft_total = 1000.0 * area * dice.from(0.85, 1.65);
        let n = 2 + dice.below(8);
        let raw: Vec<f64> = (0..n).map(|_| dice.from(0.25, 1.0)).collect();
        let sum: f64 = raw.iter().sum();
        let systems = [
            ("NeW 8/2", 221.453),
            ("Nm 8/2", 250.0),
            ("NeW 12/3", 221.453),
            ("Nm 6/1", 166.667),
        ];
        let mut weft = Vec::new();
        for (i, share) in raw.iter().enumerate() {
            let inside = weft_total * share / sum;
            let used = inside * (1.0 + dice.from(0.0, 0.035));
            let (count, tex) = *dice.one(&systems);
            let grams = |g: f64| format!("{} g", places(g, 0));
            let kilos = |g: f64| format!("{} kg", places(g / 1000.0, 2));
            let ounces = |g: f64| format!("{} oz", places(g / 28.349_523, 1));
            let written = if dice.chance(0.25) {
                let left = dice.from(40.0, 400.0);
                Used::Weighed(grams(used + left), grams(left))
            } else if dice.chance(0.2) {
                Used::Reeled(format!("{} m", places(used / tex * 1000.0, 0)))
            } else if inches {
                Used::Given(ounces(used))
            } else if used > 250.0 {
                Used::Given(kilos(used))
            } else {
                Used::Given(grams(used))
            };
            weft.push(Yarn {
                name: format!("yarn {}", char::from(b'a' + i as u8)),
                count: count.to_string(),
                used: written,
            });
        }
        let warp =
            ends * (high + 2.0 * hem) / 100.0 * warp_tex / 1000.0 * (1.0 + 0.025 * dice.normal());
        let lining = dice.chance(0.45).then(|| area * dice.from(170.0, 260.0));
        let heading = dice.chance(0.5).then(|| width * dice.from(0.35, 0.6));
        let total = warp + weft_total + lining.unwrap_or(0.0) + heading.unwrap_or(0.0);
        let weighed = total * (1.0 + 0.012 * dice.normal());
        let mass = dice.chance(0.92).then(|| {
            if inches {
                format!("{} lb", places(weighed / 453.592_37, 2))
            } else {
                format!("{} kg", places(weighed / 1000.0, 2))
            }
        });
        let readings = |dice: &mut Dice, x: f64, n: usize| -> Vec<String> {
            (0..n)
                .map(|_| length(x * (1.0 + 0.002 * dice.normal()), 1))
                .collect()
        };
        let (many_h, many_w) = (1 + dice.below(3), 1 + dice.below(3));
        let heights = readings(dice, height, many_h);
        let widths = readings(dice, width, many_w);
        let diagonal = (height * height + width * width).sqrt();
        let diagonals = dice.chance(0.6).then(|| {
            let lean = 0.002 * dice.normal();
            [
                length(diagonal * (1.0 + lean), 1),
                length(diagonal * (1.0 - lean), 1),
            ]
        });
        let thickness = dice.chance(0.7).then(|| {
            let mm = weighed / area / 1000.0 / 0.42 * (1.0 + 0.2 * dice.normal()).max(0.5);
            format!("{} mm", places((2.0 * mm).round().max(2.0) / 2.0, 1))
        });
        let notes = if dice.chance(0.6) {
            Written::notes(dice, area, high, &length)
        } else {
            Vec::new()
        };
        let grams = |g: f64| format!("{} g", places(g, 0));
        Written {
            sett,
            ends: places(ends, 0),
            width: length(wide, 0),
            woven: length(high, 0),
            warp_length: length(strung, 0),
            hems: [length(hem, 1), length(hem, 1)],
            warp_count,
            top: if sideways { "left" } else { "finish" },
            weft,
            lining: lining.map(grams),
            heading: heading.map(grams),
            heights,
            widths,
            diagonals,
            thickness,
            mass,
            notes,
            photo: dice
                .chance(0.8)
                .then(|| width / height * (1.0 + 0.015 * dice.normal())),
        }
    }

    fn notes(
        dice: &mut Dice,
        area: f64,
        high: f64,
        length: &dyn Fn(f64, usize) -> String,
    ) -> Vec<(String, String, String)> {
        let rate = 65.0 * libm::exp(0.4 * dice.normal());
        let mut hours = area * 1e4 / rate;
        let all = hours;
        let mut notes = Vec::new();
        let mut day = 0;
        while hours > 0.0 {
            let today = dice.from(4.0, 7.5).min(hours.max(0.5));
            hours -= today;
            let done = high * (1.0 - (hours / all).max(0.0));
            notes.push((
                format!(
                    "{}-{:02}-{:02}",
                    2020 + day / 336,
                    1 + day / 28 % 12,
                    1 + day % 28
                ),
                format!("{} h", places(today, 1)),
                length(done, 1),
            ));
            day += 1;
        }
        notes
    }

    /// piece.yaml.
    pub fn yaml(&self) -> String {
        let mut out = format!(
            "title: Trial\nmade: 2020/2024\ntop: {}\nloom:\n  sett: {}\n  ends: {}\n  width: {}\n  woven: {}\n  warp_length: {}\n  hems: {{start: {}, finish: {}}}\nwarp: {{count: {}, fibre: {{cotton: 100}}}}\nweft:\n",
            self.top,
            self.sett,
            self.ends,
            self.width,
            self.woven,
            self.warp_length,
            self.hems[0],
            self.hems[1],
            self.warp_count
        );
        for y in &self.weft {
            let used = match &y.used {
                Used::Given(t) | Used::Reeled(t) => format!("used: {t}"),
                Used::Weighed(b, a) => format!("weighed: {{before: {b}, after: {a}}}"),
            };
            out.push_str(&format!(
                "  - {{name: {}, count: {}, fibre: {{wool: 100}}, {used}}}\n",
                y.name, y.count
            ));
        }
        if self.lining.is_some() || self.heading.is_some() {
            out.push_str("parts:\n");
        }
        if let Some(g) = &self.lining {
            out.push_str(&format!(
                "  lining: {{fibre: {{cotton: 100}}, used: {g}}}\n"
            ));
        }
        if let Some(g) = &self.heading {
            out.push_str(&format!(
                "  heading: {{method: hook-and-loop, fibre: {{polyamide: 100}}, used: {g}}}\n"
            ));
        }
        out.push_str(&format!(
            "measured:\n  height: [{}]\n  width: [{}]\n",
            self.heights.join(", "),
            self.widths.join(", ")
        ));
        if let Some([p, q]) = &self.diagonals {
            out.push_str(&format!("  diagonals: [{p}, {q}]\n"));
        }
        if let Some(t) = &self.thickness {
            out.push_str(&format!("  thickness: {t}\n"));
        }
        if let Some(m) = &self.mass {
            out.push_str(&format!("  mass: {m}\n"));
        }
        out
    }

    /// notes.md.
    pub fn notes_md(&self) -> String {
        self.notes
            .iter()
            .map(|(day, hours, height)| format!("## {day} · {hours} · {height}\n\n"))
            .collect()
    }
}
