//! Tables that spreadsheets read: CSV after RFC 4180, in UTF-8, with a head line.

/// An empty table.
pub(super) fn sheet() -> csv::Writer<Vec<u8>> {
    csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(Vec::new())
}

/// A cell that a spreadsheet would take for a formula gets an apostrophe before it.
pub(super) fn tamed(text: &str) -> String {
    let text = text.replace(['\r', '\n'], " ");
    if text.starts_with(['=', '+', '-', '@', '\t']) {
        format!("'{text}")
    } else {
        text
    }
}
