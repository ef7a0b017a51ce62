//! Limits and fits: which size a bore and a journal may have.
//!
//! Takes: a class (`H7`), a fit (`H7/k6`, `RC4`) or a duty in words, a nominal size, measured extremes. Gives: the
//! limits, the clearance or interference, its kind in words, and how measured parts stand against it. Never:
//! interpolates: what the standard leaves empty is refused, and what it gives near by is named.

use crate::calc::function::Function;

pub mod advice;
pub mod ansi_b41;
pub mod fit;
mod functions;
pub mod iso286;
pub mod judge;

/// The functions of this room.
pub const FUNCTIONS: &[&Function] = &[
    &functions::FIT,
    &functions::TOLERANCE_LIMITS,
    &advice::ADVISE_FIT,
    &judge::JUDGE_JOURNAL,
    &judge::JUDGE_BORE,
    &judge::JUDGE_FIT,
];
