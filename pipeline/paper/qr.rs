//! The record number as a QR code (ISO/IEC 18004), drawn as one path.

use qrcodegen::{QrCode, QrCodeEcc};
use std::fmt::Write;

/// The code as SVG without its quiet zone, one unit a module; `None` if the text is too long for
/// any code. Level M: a seventh of it may be lost.
pub(super) fn svg(text: &str) -> Option<String> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let n = code.size();
    let mut path = String::new();
    for y in 0..n {
        let mut x = 0;
        while x < n {
            let start = x;
            while x < n && code.get_module(x, y) {
                x += 1;
            }
            if x > start {
                let run = x - start;
                // Writing into a String does not fail.
                let _ = write!(path, "M{start} {y}h{run}v1h-{run}z");
            }
            x += 1;
        }
    }
    Some(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {n} {n}\" width=\"{n}\" height=\"{n}\"><path fill=\"#000\" d=\"{path}\"/></svg>"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_has_its_three_finders_and_no_white_lines() {
        let svg = svg("ni:///sha-256;f4OxZX_x_FO5LcGBSKHWXfwtSx-j1ncoSt3SABJtkGk").unwrap();
        // Source, from memory: ISO/IEC 18004, a finder is seven dark modules wide; top left.
        assert!(svg.contains("M0 0h7v1h-7z"));
        assert_eq!(svg.matches("<path").count(), 1);
    }
}
