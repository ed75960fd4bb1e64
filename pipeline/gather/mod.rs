//! Over many pieces at once, what a show needs; and over the many people of one piece. It stands on what was finished piece
//! by piece, and changes none of it.

pub mod community;
pub mod show;
