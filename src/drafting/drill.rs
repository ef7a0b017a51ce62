//! The points of drilled holes: cones of 120° beyond their depth (ISO 6410-1:1993 draws those of tapped holes so).

use crate::shape::{Bore, BoreForm, Deep, Laid, Side, Span};

/// What the notes say of them.
pub(crate) const SAID: &str = "Depth of a drilled hole: without its point, drawn at 120°";
/// A blind cylinder is drilled if it is no wider than this, m, and deeper than wide; else it is bored, with a flat bottom. A
/// rule of our own.
const WIDEST: f64 = 0.020;

/// A part with the points of its drilled holes, which a shape leaves out, in its hollow.
pub(crate) fn pointed(mut laid: Laid) -> Laid {
    for bore in laid.turned.bores.clone() {
        laid.inside.spans.extend(point(&bore, &laid));
    }
    laid.inside.spans.sort_by(|a, b| a.x0.total_cmp(&b.x0));
    laid
}

/// Whether a hole ends in a point.
pub(crate) fn has_points(laid: &Laid) -> bool {
    laid.inside.spans.iter().any(|span| span.r0.min(span.r1) < 1e-12)
}

/// `None` where a wider hole or the outside leaves no room for it.
fn point(bore: &Bore, laid: &Laid) -> Option<Span> {
    let (BoreForm::Plain { d }, Deep::To(deep)) = (&bore.form, &bore.deep) else { return None };
    let (radius, deep) = (d.m() / 2.0, deep.m());
    let long = radius * libm::tan(std::f64::consts::FRAC_PI_6);
    let point = match bore.side {
        Side::Left => Span::line(deep, deep + long, radius, 0.0),
        Side::Right => Span::line(laid.length - deep - long, laid.length - deep, 0.0, radius),
    };
    let is_drilled = d.m() <= WIDEST && deep > d.m();
    let is_inside = point.x0 > 1e-9 && point.x1 < laid.length - 1e-9;
    let is_free = || laid.inside.spans.iter().all(|s| s.x1 < point.x0 + 1e-9 || s.x0 > point.x1 - 1e-9);
    let is_covered = || laid.outside.least(point.x0, point.x1).is_some_and(|outer| outer > radius);
    (is_drilled && is_inside && is_free() && is_covered()).then_some(point)
}
