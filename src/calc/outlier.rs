//! Readings far from their fellows: slips of the eye and of the pen.
//!
//! Takes: the readings of one feature and the least difference that is worth a word. Gives: which of them are far off.
//! Never: leaves one out of a result.

/// Which readings are far from the others, by their place in `values`.
///
/// `repeats` of one dimension differ by scatter: up to nine of them are held to Dixon's ratio, more to the modified score.
/// Readings at different places differ by shape, and are far off only beyond `SHAPE` times the median deviation and
/// `WEAR` of the size. A difference of no more than `least` is never far.
pub fn far(values: &[f64], repeats: bool, least: f64) -> Vec<usize> {
    let Some(middle) = median(values.to_vec()) else { return Vec::new() };
    let deviation = median(values.iter().map(|value| (value - middle).abs()).collect()).unwrap_or_default();
    let beyond = |limit: f64| -> Vec<usize> {
        (0..values.len()).filter(|at| (values[*at] - middle).abs() > limit.max(least)).collect()
    };
    match (repeats, values.len()) {
        (true, ..3) | (false, ..5) => Vec::new(),
        (true, count @ 3..10) => {
            let found = dixon(values, DIXON[count - 3]);
            found.filter(|at| (values[*at] - middle).abs() > least).into_iter().collect()
        }
        (true, _) => beyond(SCORE * deviation / NORMAL),
        (false, _) => beyond((SHAPE * deviation).max(WEAR * middle.abs())),
    }
}

/// The modified score beyond which a reading is a likely outlier (B. Iglewicz and D. Hoaglin, How to Detect and Handle
/// Outliers, ASQC 1993).
const SCORE: f64 = 3.5;
/// The median deviation of a normal distribution with a standard deviation of one (the same).
const NORMAL: f64 = 0.6745;
/// The ratio of gap to range for three to nine readings, at 99 % two-sided (D. Rorabacher, Analytical Chemistry 63, 1991,
/// table 1, from memory; the test by R. Dean and W. Dixon, 1951).
const DIXON: [f64; 7] = [0.994, 0.926, 0.821, 0.740, 0.680, 0.634, 0.598];
/// Times the median deviation (common practice, no source).
const SHAPE: f64 = 10.0;
/// Of the size: wear seldom takes a hundredth of it at one place alone (common practice, no source).
const WEAR: f64 = 0.01;

/// The lowest or highest value, where the gap to its neighbour is more than `critical` of the whole range.
fn dixon(values: &[f64], critical: f64) -> Option<usize> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|one, other| values[*one].total_cmp(&values[*other]));
    let (first, last) = (*order.first()?, *order.last()?);
    let limit = critical * (values[last] - values[first]);
    let below = values[order[1]] - values[first];
    let above = values[last] - values[order[order.len() - 2]];
    if above >= below { (above > limit).then_some(last) } else { (below > limit).then_some(first) }
}

/// The middle one; of an even number the middle of two.
pub fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let middle = values.len() / 2;
    let upper = *values.get(middle)?;
    Some(if values.len() % 2 == 1 { upper } else { f64::midpoint(values[middle - 1], upper) })
}

#[cfg(test)]
mod tests {
    use super::far;

    /// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17: the modified score.
    #[test]
    fn many_repeats_by_the_modified_score() {
        let mut values = vec![2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3];
        assert_eq!(far(&values, true, 0.0), [8, 9]);
        values.truncate(8);
        assert!(far(&values, true, 0.0).is_empty());
    }

    /// R. Dean and W. Dixon's own kind of example: 0.167 among ten readings of 0.18 is no outlier at 99 %.
    #[test]
    fn few_repeats_by_gap_and_range() {
        assert_eq!(far(&[1.6252, 1.6256, 1.7256], true, 0.0005), [2]);
        assert!(far(&[1.6252, 1.6252, 1.6256], true, 0.0005).is_empty());
        assert!(far(&[0.189, 0.169, 0.187, 0.183, 0.186, 0.182, 0.181, 0.184, 0.177], true, 0.0).is_empty());
        assert!(far(&[1.0, 9.0], true, 0.0).is_empty());
    }

    #[test]
    fn shape_is_no_slip() {
        let oval = [9.441, 9.468, 9.489, 9.466, 9.434, 9.463, 9.488, 9.464];
        assert!(far(&oval, false, 0.005).is_empty());
        let mut slip = oval;
        slip[2] = 9.989;
        assert_eq!(far(&slip, false, 0.005), [2]);
        // A groove of three thou in a shaft that is even otherwise.
        assert!(far(&[2.5, 2.5, 2.5, 2.5, 2.497], false, 0.0005).is_empty());
    }
}
