//! The limits of a shape's diameters, held against the fit that the part's note or its mate's note gives at the same size.

use super::Formed;
use super::problems as problem;
use crate::diagnostic::Problem;
use crate::dossier::{Dossier, PartId};
use crate::shape::{Role, Size, sizes, unit};
use crate::trade::limits::iso286::Member;
use crate::worked::Fitted;

/// Nominal sizes this near are one, m.
const SAME: f64 = 1e-7;
/// Limits this near agree, m: what is lost where a limit is printed to the ten-thousandth of an inch.
const AGREE: f64 = 3e-6;

/// Cautions: where diameters of the size of a fit have limits, and none of them those of the fit. One a fit and member.
pub(super) fn problems(dossier: &Dossier, formed: &Formed, fits: &[Fitted]) -> Vec<Problem> {
    let all = sizes(&formed.shape);
    let concerned = fits.iter().filter(|fitted| touches(dossier, fitted, formed.part));
    let members = concerned.flat_map(|fitted| [(fitted, Member::Hole), (fitted, Member::Shaft)]);
    members.filter_map(|(fitted, member)| disagreeing(dossier, formed, &all, fitted, member)).collect()
}

fn touches(dossier: &Dossier, fitted: &Fitted, part: PartId) -> bool {
    fitted.part == part || dossier[fitted.part].fit.as_ref().is_some_and(|fit| fit.with == part)
}

fn disagreeing(
    dossier: &Dossier,
    formed: &Formed,
    all: &[(Role, Size)],
    fitted: &Fitted,
    member: Member,
) -> Option<Problem> {
    let limits = fitted.limits.as_ref().ok()?;
    let (least, most) = limits.sizes(member)?;
    let is_of_member = |role: Role| match member {
        Member::Hole => matches!(role, Role::Bore | Role::Hole),
        Member::Shaft => role == Role::Outside,
    };
    let ends = |size: &Size| Some((size.m() + size.limits?.lower, size.m() + size.limits?.upper));
    let is_same =
        |size: &Size| size.is_toleranced() && !size.on_hold() && (size.m() - limits.size).abs() < SAME;
    let found: Vec<(&Size, (f64, f64))> = all
        .iter()
        .filter(|(role, size)| is_of_member(*role) && is_same(size))
        .filter_map(|(_, size)| Some((size, ends(size)?)))
        .collect();
    let agrees = |(low, high): (f64, f64)| (low - least).abs() <= AGREE && (high - most).abs() <= AGREE;
    let (size, (low, high)) = *found.first().filter(|_| !found.iter().any(|(_, ends)| agrees(*ends)))?;
    let part = &dossier[formed.part];
    let place = part.shape.as_ref()?.place(size.key);
    let of = unit(&formed.shape);
    let said = |low: f64, high: f64| format!("{} to {}", problem::length(low, of), problem::length(high, of));
    let owner = &dossier[fitted.part];
    let (class, class_place) = owner.fit.as_ref().map(|fit| (fit.class.text.as_str(), fit.class.span))?;
    Some(problem::fit(&part.head, (place, &said(low, high)), (class, class_place, &said(least, most))))
}
