//! Measurements of one feature before and after the work.

use std::collections::BTreeMap;

use super::{MeasurementId, Noted, PartId, Resolved};
use crate::record::{Measurement, MeasurementState};

/// As found and as left, each by the other; only one of each makes a pair.
pub(super) fn pairs(measurements: &[Noted<Measurement<Resolved>>]) -> BTreeMap<MeasurementId, MeasurementId> {
    let mut features: BTreeMap<(PartId, &str), [Vec<MeasurementId>; 2]> = BTreeMap::new();
    for (id, keys) in MeasurementId::all(measurements.len()).zip(measurements) {
        let of_feature = features.entry((keys.of, keys.feature.as_str())).or_default();
        of_feature[usize::from(keys.state == MeasurementState::AsLeft)].push(id);
    }
    let pair = |[found, left]: &[Vec<MeasurementId>; 2]| match (found.as_slice(), left.as_slice()) {
        ([found], [left]) => vec![(*found, *left), (*left, *found)],
        _ => Vec::new(),
    };
    features.values().flat_map(pair).collect()
}
