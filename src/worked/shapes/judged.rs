//! Which measurements a shape's limits judge: those that name one of its features and state no limits of their own.

use super::{Formed, limit, said};
use crate::calc::literal::Literal;
use crate::dossier::{Dossier, MeasurementId};
use crate::record::{Disposition, MeasurementState};
use crate::shape::{Shape, Size, features};
use crate::worked::statistics::OfShapes;

/// Those of sizes that are typed.
pub(in crate::worked) fn typed_limits(dossier: &Dossier) -> OfShapes {
    let of = |id: MeasurementId| {
        let shape = &dossier[dossier[id].of].shape.as_ref()?.shape;
        Some((id, limits(dossier, id, shape)?))
    };
    dossier.measurements.ids().filter_map(of).collect()
}

/// Those of all sizes, once they are worked out.
pub(in crate::worked) fn formed_limits(dossier: &Dossier, shapes: &[Formed]) -> OfShapes {
    let of = |id: MeasurementId| {
        let formed = shapes.iter().find(|formed| formed.part == dossier[id].of)?;
        Some((id, limits(dossier, id, &formed.shape)?))
    };
    dossier.measurements.ids().filter_map(of).collect()
}

/// What is found on a part that is reworked is not held against what it is to become.
fn limits(dossier: &Dossier, id: MeasurementId, shape: &Shape) -> Option<Literal> {
    let keys = &dossier[id];
    let is_before = keys.state == MeasurementState::AsFound;
    if is_before && dossier[keys.of].disposition == Disposition::Rework {
        return None;
    }
    let wanted = said(keys.feature.trim());
    let (_, size) = features(shape).into_iter().find(|(name, _)| said(name) == wanted)?;
    let mut size = size.clone();
    limit(&mut size, &mut Vec::new());
    literal(dossier, &size)
}

/// The least and the greatest size as they would be typed.
fn literal(dossier: &Dossier, size: &Size) -> Option<Literal> {
    const PLACES: usize = 6;
    let (limits, nominal) = (size.limits?, size.nominal.filter(|_| size.is_toleranced() && !size.on_hold())?);
    let figure = |deviation: f64| {
        let text = format!("{:.PLACES$}", (nominal + deviation) / size.unit.metres());
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    };
    let (low, high) = (figure(limits.lower), figure(limits.upper));
    let places = |text: &str| text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let count = places(&low).max(places(&high));
    let padded =
        |text: &str| text.parse::<f64>().map_or_else(|_| text.to_owned(), |value| format!("{value:.count$}"));
    let unit = size.unit.symbol();
    Literal::parse(&format!("{} {unit} .. {} {unit}", padded(&low), padded(&high)), &dossier.units).ok()
}
