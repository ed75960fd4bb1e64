//! The kinds of quantity, each a type of its own with its table of units. A length can not be
//! added to a mass, nor passed where a sett is due.

/// A kind of quantity with its units and its base unit.
pub trait Dimension: Copy + std::fmt::Debug + PartialEq + 'static {
    /// The kind's name in a sentence, such as "a length".
    const WHAT: &'static str;
    /// Every way to write a unit, with the factor to the base unit.
    const UNITS: &'static [(&'static str, f64)];
    /// How a value of the kind is written.
    const EXAMPLE: &'static str;
    /// Whether zero and less are possible.
    const SIGNED: bool = false;
    /// Makes a value from base units.
    fn of(base: f64) -> Self;
    /// The value in base units.
    fn base(self) -> f64;
}

macro_rules! dimension {
    ($(#[$doc:meta])* $name:ident, $what:literal, $example:literal, [$($unit:literal => $factor:expr),* $(,)?]) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);
        impl Dimension for $name {
            const WHAT: &'static str = $what;
            const UNITS: &'static [(&'static str, f64)] = &[$(($unit, $factor)),*];
            const EXAMPLE: &'static str = $example;
            fn of(base: f64) -> Self { $name(base) }
            fn base(self) -> f64 { self.0 }
        }
        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self { $name(self.0 + other.0) }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self { $name(self.0 - other.0) }
        }
        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self { $name(self.0 * factor) }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self { $name(all.map(|x| x.0).sum()) }
        }
    };
}

dimension!(
    /// A length. The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
    Length, "a length", "`121.4 cm` or `56 1/8 in`",
    ["mm" => 1.0, "cm" => 10.0, "m" => 1000.0, "in" => 25.4, "ft" => 304.8, "yd" => 914.4]
);
impl Length {
    /// Millimetres.
    pub fn mm(self) -> f64 {
        self.0
    }
    /// Centimetres.
    pub fn cm(self) -> f64 {
        self.0 / 10.0
    }
    /// Metres.
    pub fn m(self) -> f64 {
        self.0 / 1000.0
    }
    /// Inches of 25.4 mm.
    pub fn inches(self) -> f64 {
        self.0 / 25.4
    }
    /// A length of so many millimetres.
    pub fn from_mm(mm: f64) -> Self {
        Length(mm)
    }
    /// The rectangle of two lengths.
    pub fn by(self, other: Length) -> Area {
        Area(self.m() * other.m())
    }
}

dimension!(
    /// A mass in grams. The avoirdupois pound is 453.59237 g exactly (agreement of 1959).
    Mass, "a mass", "`4.31 kg` or `520 g`",
    ["g" => 1.0, "kg" => 1000.0, "oz" => 28.349523125, "lb" => 453.59237]
);
impl Mass {
    /// Grams.
    pub fn g(self) -> f64 {
        self.0
    }
    /// Kilograms.
    pub fn kg(self) -> f64 {
        self.0 / 1000.0
    }
    /// A mass of so many grams.
    pub fn from_g(g: f64) -> Self {
        Mass(g)
    }
}

dimension!(
    /// The closeness of the warp, in ends a metre.
    Sett, "a sett", "`3 ends/cm` or `8 epi`",
    ["ends/cm" => 100.0, "ends/in" => 39.370_078_740_157_48, "epi" => 39.370_078_740_157_48,
     "ends/inch" => 39.370_078_740_157_48, "end/cm" => 100.0]
);
impl Sett {
    /// Ends a centimetre.
    pub fn per_cm(self) -> f64 {
        self.0 / 100.0
    }
    /// Ends an inch.
    pub fn epi(self) -> f64 {
        self.0 * 0.0254
    }
}

dimension!(
    /// A time at work, in hours.
    Hours, "a time", "`5.5 h`",
    ["h" => 1.0, "hours" => 1.0, "hour" => 1.0, "min" => 1.0 / 60.0]
);
impl Hours {
    /// Hours.
    pub fn hours(self) -> f64 {
        self.0
    }
}

dimension!(
    /// Light falling on a surface, in lux.
    Illuminance, "a light level", "`50 lx`",
    ["lx" => 1.0, "lux" => 1.0]
);

dimension!(
    /// Relative humidity, in percent.
    Humidity, "a relative humidity", "`55 %`",
    ["%" => 1.0, "% RH" => 1.0, "%RH" => 1.0]
);

dimension!(
    /// An area, in square metres. Never written by hand, only reckoned.
    Area, "an area", "`2.01 m2`",
    ["m2" => 1.0, "m²" => 1.0, "cm2" => 1e-4, "cm²" => 1e-4]
);
impl Area {
    /// Square metres.
    pub fn m2(self) -> f64 {
        self.0
    }
    /// Square centimetres.
    pub fn cm2(self) -> f64 {
        self.0 * 1e4
    }
}

dimension!(
    /// Mass per area, in grams a square metre.
    ArealMass, "a mass per area", "`1800 g/m2`",
    ["g/m2" => 1.0, "g/m²" => 1.0, "kg/m2" => 1000.0]
);

/// A temperature in degrees Celsius. It may be below zero, and Fahrenheit has an offset, so it does
/// not come from the macro.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(f64);
impl Dimension for Temperature {
    const WHAT: &'static str = "a temperature";
    const UNITS: &'static [(&'static str, f64)] =
        &[("C", 1.0), ("°C", 1.0), ("F", 5.0 / 9.0), ("°F", 5.0 / 9.0)];
    const EXAMPLE: &'static str = "`20 C`";
    const SIGNED: bool = true;
    fn of(base: f64) -> Self {
        Temperature(base)
    }
    fn base(self) -> f64 {
        self.0
    }
}
impl Temperature {
    /// Degrees Celsius.
    pub fn celsius(self) -> f64 {
        self.0
    }
}

/// Every unit of every kind, so that a unit of the wrong kind can be named as what it is.
pub(super) const ALL_KINDS: &[(&str, &[(&str, f64)])] = &[
    (Length::WHAT, Length::UNITS),
    (Mass::WHAT, Mass::UNITS),
    (Sett::WHAT, Sett::UNITS),
    (Hours::WHAT, Hours::UNITS),
    (Illuminance::WHAT, Illuminance::UNITS),
    (Humidity::WHAT, Humidity::UNITS),
    (Temperature::WHAT, Temperature::UNITS),
    (Area::WHAT, Area::UNITS),
    (ArealMass::WHAT, ArealMass::UNITS),
    (
        "a yarn count",
        &[
            ("tex", 1.0),
            ("dtex", 0.1),
            ("den", 1.0 / 9.0),
            ("yd/lb", 0.0),
            ("m/kg", 0.0),
        ],
    ),
];
