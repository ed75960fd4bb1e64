//! Quantities as a weaver writes them: lengths, masses, yarn counts, setts, times, light, money and
//! fuzzy dates. Each is parsed from text, held with its unit as a type, and remembers how precisely
//! it was written. This folder opens no file and knows no YAML.

mod cost;
mod count;
mod date_hint;
mod day;
mod dimension;
mod edtf;
mod error;
mod money;
mod number;
mod reading;

pub use cost::Cost;
pub(crate) use cost::exact;
pub use count::{CountSystem, LinearDensity, YarnCount};
pub use date_hint::dates_meant;
pub use day::Day;
pub use dimension::{
    Area, ArealMass, Dimension, Hours, Humidity, Illuminance, Length, Mass, Sett, Temperature,
};
pub use edtf::{Edtf, EdtfDate, End, Month};
pub use error::{ErrorKind, QuantityError};
pub use money::{Currency, Money, amounts_meant};
pub use number::Number;
pub use reading::Reading;
