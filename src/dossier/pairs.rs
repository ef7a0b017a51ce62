//! Measurements of one feature before and after the work.

use std::collections::{BTreeMap, BTreeSet};

use super::{MeasurementId, Noted, PartId, Resolved, Table};
use crate::record::{Measurement, MeasurementState};

type Measurements = Table<MeasurementId, Noted<Measurement<Resolved>>>;

/// The measurements of one feature: as found, and as left.
type OfFeature = [Vec<MeasurementId>; 2];

fn by_feature(measurements: &Measurements) -> BTreeMap<(PartId, &str), OfFeature> {
    let mut features: BTreeMap<(PartId, &str), OfFeature> = BTreeMap::new();
    for (id, keys) in measurements.ids().zip(measurements) {
        let of_feature = features.entry((keys.of, keys.feature.as_str())).or_default();
        of_feature[usize::from(keys.state == MeasurementState::AsLeft)].push(id);
    }
    features
}

/// As found and as left, each by the other; only one of each makes a pair.
pub(super) fn pairs(measurements: &Measurements) -> BTreeMap<MeasurementId, MeasurementId> {
    let pair = |[found, left]: &OfFeature| match (found.as_slice(), left.as_slice()) {
        ([found], [left]) => vec![(*found, *left), (*left, *found)],
        _ => Vec::new(),
    };
    by_feature(measurements).values().flat_map(pair).collect()
}

/// What was measured as found of a feature that was measured as left since.
pub(super) fn superseded(measurements: &Measurements) -> BTreeSet<MeasurementId> {
    let was_left = |[_, left]: &OfFeature| !left.is_empty();
    by_feature(measurements).into_values().filter(was_left).flat_map(|[found, _]| found).collect()
}
