//! The name that was probably meant.

/// The candidate nearest to `name`: the same letters in another case, else the fewest slips of the pen; `None` when all
/// are too far off. Of equally near ones the alphabetically first.
pub fn nearest<'a>(name: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if name.chars().count() > LONGEST_NAME {
        return None;
    }
    let allowed = match name.chars().count() {
        0..=2 => 0,
        3..=5 => 1,
        _ => 2,
    };
    let distance = |candidate: &str| {
        if candidate.to_lowercase() == name.to_lowercase() {
            return 0;
        }
        // A candidate within a letter's slip of a two-letter name is no hint at all.
        strsim::damerau_levenshtein(name, candidate).max(1)
    };
    candidates
        .into_iter()
        .filter(|candidate| candidate.len().abs_diff(name.len()) <= allowed)
        .map(|candidate| (distance(candidate), candidate))
        .filter(|(distance, _)| *distance <= allowed)
        .min()
        .map(|(_, candidate)| candidate)
}

/// Longer words are not names that anybody mistyped.
const LONGEST_NAME: usize = 60;
