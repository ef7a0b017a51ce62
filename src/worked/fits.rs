//! The parts' key `fit:`: the limits of both members, and how the measured bores and journals stand in them.

use super::statistics::feature;
use crate::calc::dimension::Dimension;
use crate::calc::evaluate::verdict::Verdict;
use crate::calc::function::Refusal;
use crate::calc::measure::{self, Feature, Measured};
use crate::calc::uncertainty::Sources;
use crate::dossier::{Dossier, MeasurementId, PartId, Resolved};
use crate::record::{Fit as Keys, MeasurementState, Surface};
use crate::trade::limits::fit::{Fit, Resolved as Limited, resolve};
use crate::trade::limits::iso286::Member;

/// A measured size this near to the size of the fit, as a part of it, is taken for a member of the fit.
/// A rule of our own: worn and oversize members lie within it, the next feature of a stepped shaft rarely does.
const NEAR: f64 = 0.02;

/// What the key `fit:` of a part comes to.
#[derive(Clone, Debug)]
pub struct Fitted {
    pub part: PartId,
    /// The limits; or why there are none.
    pub limits: Result<Limited, Refusal>,
    /// Every measured bore and journal that is near the size of the fit: bores before journals, as found before as left.
    pub judged: Vec<Judged>,
}

/// A measured bore or journal held against the limits of its fit.
#[derive(Clone, Debug)]
pub struct Judged {
    pub measurement: MeasurementId,
    pub member: Member,
    /// The smallest and the largest size that counts, in metres: of repeats their mean.
    pub extremes: (f64, f64),
    pub verdict: Verdict,
}

/// Every fit of the dossier, in the order of the parts.
pub(super) fn all(dossier: &Dossier, measured: &[Measured]) -> Vec<Fitted> {
    let one = |part: PartId| {
        let keys = dossier[part].fit.as_ref()?;
        let limits = Fit::parse(&keys.class.text).and_then(|class| resolve(class, keys.at.nominal));
        let judged = limits
            .as_ref()
            .map_or_else(|_| Vec::new(), |limits| judged(dossier, measured, part, keys, limits));
        Some(Fitted { part, limits, judged })
    };
    dossier.parts.ids().filter_map(one).collect()
}

fn judged(
    dossier: &Dossier,
    measured: &[Measured],
    part: PartId,
    keys: &Keys<Resolved>,
    limits: &Limited,
) -> Vec<Judged> {
    let size = keys.at.nominal;
    let is_near = |id: &MeasurementId| {
        let (of, unit) = (dossier[*id].of, dossier[*id].readings.unit);
        let off = (measured[id.index()].statistics.mean - size).abs();
        [part, keys.with].contains(&of) && unit.dimension() == Dimension::LENGTH && off <= NEAR * size
    };
    let mut near: Vec<MeasurementId> = dossier.measurements.ids().filter(is_near).collect();
    near.sort_by_key(|id| {
        let keys = &dossier[*id];
        (keys.surface == Surface::Outside, keys.feature.clone(), keys.state == MeasurementState::AsLeft)
    });
    near.into_iter().filter_map(|id| judge(dossier, &measured[id.index()], id, limits)).collect()
}

/// `None` when the fit says nothing of this member.
fn judge(dossier: &Dossier, measured: &Measured, id: MeasurementId, limits: &Limited) -> Option<Judged> {
    let member = match dossier[id].surface {
        Surface::Inside => Member::Hole,
        Surface::Outside => Member::Shaft,
    };
    let against = Feature { limits: Some(limits.sizes(member)?), ..feature(dossier, id, None) };
    // Nothing else is calculated from this verdict, so the sources of its uncertainty may be its own.
    let verdict = measure::measure(&against, &mut Sources::new()).within_limits?;
    Some(Judged { measurement: id, member, extremes: extremes(measured, against.repeats), verdict })
}

fn extremes(measured: &Measured, repeats: bool) -> (f64, f64) {
    let stations = measured.statistics.stations.iter();
    let ends = stations.map(|each| if repeats { (each.mean, each.mean) } else { (each.min, each.max) });
    ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), (low, high)| {
        (least.min(low), most.max(high))
    })
}

impl Judged {
    /// Whether it says how the feature is now: as found no longer does once it was measured as left.
    pub fn is_latest(&self, dossier: &Dossier) -> bool {
        dossier.is_latest(self.measurement)
    }
}
