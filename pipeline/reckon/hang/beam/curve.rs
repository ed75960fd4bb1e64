//! The bent bar as polynomials: sag, slope, moment and shear at any place, and their extremes, found from
//! the roots of the polynomials and not by trying places.

/// Where and how much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// The place, mm from the bar's left end.
    pub at: f64,
    /// The figure there: mm of sag downwards, or N mm of moment.
    pub value: f64,
}

/// What is known at one place. Sag and slope are kept times E·I.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct State {
    /// Sag downwards.
    pub sag: f64,
    /// Its slope.
    pub slope: f64,
    /// Moment, N mm; above zero where the bar hollows upwards.
    pub moment: f64,
    /// Upward forces to the left less downward ones, N.
    pub shear: f64,
}

/// A stretch of bar between two cuts, with the load `load + rise · t` at t mm from its left end.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub x: f64,
    pub length: f64,
    pub start: State,
    pub load: f64,
    pub rise: f64,
}

impl Piece {
    /// The state at t mm from its left end: M′ = V, V′ = −q, E·I·w″ = −M.
    pub fn state(&self, t: f64) -> State {
        State {
            sag: value(&self.sag(), t),
            slope: value(&derivative(&self.sag()), t),
            moment: value(&self.moment(), t),
            shear: value(&derivative(&self.moment()), t),
        }
    }

    /// E·I times the sag, lowest power first.
    fn sag(&self) -> Vec<f64> {
        let s = &self.start;
        vec![
            s.sag,
            s.slope,
            -s.moment / 2.0,
            -s.shear / 6.0,
            self.load / 24.0,
            self.rise / 120.0,
        ]
    }

    fn moment(&self) -> Vec<f64> {
        let s = &self.start;
        vec![s.moment, s.shear, -self.load / 2.0, -self.rise / 6.0]
    }
}

/// The polynomial that holds about a place, so that a figure can be redone by hand: with t from `from`,
/// E·I·w = sag + slope t − moment t²/2 − shear t³/6 + load t⁴/24 + rise t⁵/120, and
/// M = moment + shear t − load t²/2 − rise t³/6.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Local {
    /// Where t begins, mm from the bar's left end.
    pub from: f64,
    /// t of the place, mm.
    pub t: f64,
    /// E·I times the sag where t begins.
    pub sag: f64,
    /// E·I times the slope there.
    pub slope: f64,
    /// Moment there, N mm.
    pub moment: f64,
    /// Shear there, N.
    pub shear: f64,
    /// Load there, N/mm.
    pub load: f64,
    /// How much the load grows with each mm, N/mm².
    pub rise: f64,
}

/// A bar under its loads.
#[derive(Debug, Clone, PartialEq)]
pub struct Bent {
    pieces: Vec<Piece>,
    stiffness: f64,
    /// The supports from left to right, mm from the left end.
    pub supports: Vec<f64>,
    /// What each support has to hold up, N; below zero it has to hold down.
    pub reactions: Vec<f64>,
}

impl Bent {
    pub(super) fn new(
        pieces: Vec<Piece>,
        supports: Vec<f64>,
        reactions: Vec<f64>,
        stiffness: f64,
    ) -> Bent {
        Bent {
            pieces,
            stiffness,
            supports,
            reactions,
        }
    }

    /// The bar's length, mm.
    pub fn length(&self) -> f64 {
        self.pieces.last().map_or(0.0, |p| p.x + p.length)
    }

    /// Sag at a place, mm downwards from the line of the supports.
    pub fn sag_at(&self, x: f64) -> f64 {
        self.state_at(x).sag / self.stiffness
    }

    /// Slope of the bar at a place, falling to the right.
    pub fn slope_at(&self, x: f64) -> f64 {
        self.state_at(x).slope / self.stiffness
    }

    /// Moment at a place, N mm.
    pub fn moment_at(&self, x: f64) -> f64 {
        self.state_at(x).moment
    }

    /// The polynomial about a place.
    pub fn local(&self, x: f64) -> Option<Local> {
        let piece = self.piece_at(x)?;
        let s = &piece.start;
        Some(Local {
            from: piece.x,
            t: x - piece.x,
            sag: s.sag,
            slope: s.slope,
            moment: s.moment,
            shear: s.shear,
            load: piece.load,
            rise: piece.rise,
        })
    }

    /// Most sag downwards between two places.
    pub fn most_sag(&self, from: f64, to: f64) -> Peak {
        let peaks = self.sags(from, to);
        peaks.fold(START, |best, p| if p.value > best.value { p } else { best })
    }

    /// The sag that is largest either way between two places: a rise is below zero.
    pub fn widest_sag(&self, from: f64, to: f64) -> Peak {
        self.sags(from, to).fold(NOTHING, wider)
    }

    /// The moment that is largest either way.
    pub fn widest_moment(&self) -> Peak {
        let all = self.pieces.iter().flat_map(|p| {
            let moment = p.moment();
            let at = roots(&derivative(&moment), 0.0, p.length);
            ends(at, 0.0, p.length)
                .into_iter()
                .map(move |t| Peak {
                    at: p.x + t,
                    value: value(&moment, t),
                })
                .collect::<Vec<_>>()
        });
        all.fold(NOTHING, wider)
    }

    fn sags(&self, from: f64, to: f64) -> impl Iterator<Item = Peak> {
        self.pieces.iter().flat_map(move |p| {
            let (low, high) = ((from - p.x).max(0.0), (to - p.x).min(p.length));
            let sag = p.sag();
            let at = if low <= high {
                ends(roots(&derivative(&sag), low, high), low, high)
            } else {
                Vec::new()
            };
            at.into_iter()
                .map(|t| Peak {
                    at: p.x + t,
                    value: value(&sag, t) / self.stiffness,
                })
                .collect::<Vec<_>>()
        })
    }

    fn state_at(&self, x: f64) -> State {
        let piece = self.piece_at(x);
        piece.map_or(State::default(), |p| {
            p.state((x - p.x).clamp(0.0, p.length))
        })
    }

    fn piece_at(&self, x: f64) -> Option<&Piece> {
        let piece = self.pieces.iter().rev().find(|p| p.x <= x);
        piece.or(self.pieces.first())
    }
}

const START: Peak = Peak {
    at: 0.0,
    value: f64::NEG_INFINITY,
};
const NOTHING: Peak = Peak {
    at: 0.0,
    value: 0.0,
};

fn wider(best: Peak, p: Peak) -> Peak {
    if p.value.abs() > best.value.abs() {
        p
    } else {
        best
    }
}

fn ends(mut places: Vec<f64>, low: f64, high: f64) -> Vec<f64> {
    places.extend([low, high]);
    places
}

/// A polynomial's value, lowest power first (Horner).
fn value(polynomial: &[f64], t: f64) -> f64 {
    polynomial.iter().rev().fold(0.0, |sum, c| sum * t + c)
}

fn derivative(polynomial: &[f64]) -> Vec<f64> {
    let all = polynomial.iter().enumerate().skip(1);
    all.map(|(i, c)| i as f64 * c).collect()
}

/// Where a polynomial changes its sign between two places: between neighbouring turning points it does
/// so once at most, and there halving finds it.
fn roots(polynomial: &[f64], low: f64, high: f64) -> Vec<f64> {
    if polynomial.len() < 2 || low >= high {
        return Vec::new();
    }
    let mut turns = vec![low];
    turns.extend(roots(&derivative(polynomial), low, high));
    turns.push(high);
    let mut found = Vec::new();
    for pair in turns.windows(2) {
        let (mut a, mut b) = (pair[0], pair[1]);
        let above = value(polynomial, a) > 0.0;
        if above == (value(polynomial, b) > 0.0) {
            continue;
        }
        // 120 halvings reach the last bit of any two lengths.
        for _ in 0..120 {
            let middle = a + (b - a) / 2.0;
            if (value(polynomial, middle) > 0.0) == above {
                a = middle;
            } else {
                b = middle;
            }
        }
        found.push(a);
    }
    found
}
