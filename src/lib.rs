//! asfound builds the dossier of one machine's restoration from plain-text notes.
//!
//! ```text
//! files ─ source ─▶ texts ─ note ─▶ trees ─ record ─▶ typed data ─ dossier ─▶ ids resolved
//!       ─ worked ─▶ figures with their uncertainty ─ plan, bill ─▶ what can be done, what it costs
//!       ─ render ─▶ Typst text ─ typeset ─▶ PDF
//! ```
//!
//! Data goes down this list once; nothing reaches back. `calc`, `trade`, `shape` and `drafting` know nothing of notes;
//! only `source` reads the disk, only `typeset` uses Typst, only `cli` prints.

pub mod bill;
pub mod calc;
pub mod cli;
pub mod closing;
pub mod cycles;
pub mod diagnostic;
pub mod dossier;
pub mod drafting;
pub mod estimate;
pub mod fitness;
pub mod guard;
pub mod hazard;
pub mod issued;
pub mod limits;
pub mod note;
pub mod outlook;
pub mod photo;
pub mod plan;
mod project;
pub mod record;
pub mod release;
pub mod render;
pub mod shape;
pub mod source;
pub mod text;
pub mod trade;
pub mod typeset;
pub mod worked;

pub use outlook::Outlook;
pub use project::Project;
