//! What goes to others: the last look at a finished PDF, and the notes of an edition for others.
//!
//! Takes: a project, the bytes of a PDF. Gives: [`Leak`]s, each with what leaks and where it stands; the project without
//! what is confidential.
//! Never: trusts what made the PDF. It reads the file itself: pages, attachments, metadata, alternative texts, bookmarks
//! and destinations.

mod others;
mod pdf;
mod secrets;

pub use others::for_others;
pub use secrets::Secrets;

/// Something in a finished PDF that may not go.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Leak {
    /// "the contact of `gull-yard`".
    pub what: String,
    /// "page 3".
    pub place: String,
}

/// Which of these secrets stand in a PDF, each once a place; `None` where it can't be read back.
pub fn leaks(pdf: &[u8], secrets: &Secrets) -> Option<Vec<Leak>> {
    let mut leaks: Vec<Leak> = Vec::new();
    for (place, text) in pdf::texts(pdf)? {
        leaks.extend(secrets.told_by(&text).map(|what| Leak { what: what.to_owned(), place: place.clone() }));
    }
    leaks.sort();
    leaks.dedup();
    Some(leaks)
}
