//! The beam against closed forms and handbook tables (`handbook`) and the laws it must keep (`laws`).
//! Loads of 1 N/mm over lengths of round numbers, E·I chosen so that the coefficient itself comes out.

mod handbook;
mod laws;

use super::*;

fn even(length: f64, supports: &[f64]) -> Beam {
    Beam {
        length,
        stiffness: 1.0,
        supports: supports.to_vec(),
        spread: vec![Spread::even(0.0, length, 1.0)],
        points: Vec::new(),
    }
}

fn solved(beam: &Beam) -> Bent {
    beam.solve().expect("the beam stands")
}

fn near(got: f64, want: f64, slack: f64) {
    assert!((got - want).abs() <= slack, "{got} is not {want}");
}
