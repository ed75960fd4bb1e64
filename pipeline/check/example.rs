//! A small archive written down beside a check: it shows the weaver what is meant, and a test holds
//! the check to it.

/// Files of a small archive by their paths. `photos` files may be given as text; the sights of
/// pictures are made by the test from `sights`.
pub struct Example {
    /// Path in the archive and content.
    pub files: &'static [(&'static str, &'static str)],
    /// What would be seen in photographs: path below `photos/` of the piece `pieces/p`, width, height.
    pub sights: &'static [(&'static str, u32, u32)],
}
