//! The diameters of the hollow: half dimensions beside the face they are bored from.

use super::canvas::Canvas;
use super::dimension::{Lane, half_dimension};
use super::drawing::Rect;
use super::figure::Figures;
use super::label::{Label, Lettering, Part};
use super::turned_outline::{View, first_visible};
use crate::shape::{Bore, BoreForm, Deep, Side, Size};

/// From the face to the first line, mm.
const FIRST: f64 = 8.0;

/// Draws them; gives the room they take.
pub(crate) fn bores(
    canvas: &mut Canvas,
    view: &View<'_>,
    figures: &mut Figures,
    lettering: Lettering,
) -> Rect {
    let mut room = Rect::EMPTY;
    for (side, lane) in [(Side::Left, Lane::Left), (Side::Right, Lane::Right)] {
        let mut bores: Vec<&Bore> = view.laid.turned.bores.iter().filter(|bore| bore.side == side).collect();
        bores.sort_by(|a, b| a.form.mouth().total_cmp(&b.form.mouth()));
        let edge = if side == Side::Left { 0.0 } else { view.length() };
        let mut at = edge + FIRST - 2.4;
        for bore in bores {
            let label = label(bore, figures, &view.laid.turned.true_to);
            let height = label.height(lettering);
            let (before, after) = if lane == Lane::Left { (2.4, height + 0.8) } else { (height + 2.4, 0.8) };
            at += before;
            let reach = reach(view, bore, side);
            let tip = -view.r(bore.form.mouth());
            room = room.join(half_dimension(canvas, (lane, at), (tip, reach), &label, lettering));
            at += after;
        }
    }
    room
}

/// Where the extension line begins, in the lane's own direction: where the bore comes out of a wider one.
fn reach(view: &View<'_>, bore: &Bore, side: Side) -> f64 {
    let start = first_visible(view, bore);
    match side {
        Side::Left => -view.x(start),
        Side::Right => view.x(view.laid.length - start),
    }
}

fn label(bore: &Bore, figures: &mut Figures, controls: &[crate::shape::Control]) -> Label {
    let mut parts = match &bore.form {
        BoreForm::Plain { d } => figures.parts(d, "⌀", ""),
        BoreForm::Taper { d, to } => super::turned_callouts::taper(figures, d, to),
        BoreForm::Thread { thread, .. } => vec![Part::Text(thread.text.clone())],
    };
    if let Deep::To(size) = &bore.deep {
        append(&mut parts, figures, size, "", " deep");
    }
    if let BoreForm::Thread { drill: Some(drill), .. } = &bore.form {
        append(&mut parts, figures, drill, "drill ", " deep");
    }
    parts.extend(bore.finish.as_ref().map(|text| Part::Texture(text.clone())));
    super::turned_callouts::add_controls(&mut parts, bore.name.as_deref(), controls, figures);
    let mut label = Label::of(parts);
    if let Some(chamfer) = &bore.chamfer {
        let prefix = if bore.side == Side::Left { "left mouth " } else { "right mouth " };
        label.rows.push(figures.parts(chamfer, prefix, " × 45°"));
    }
    figures.state(Some(bore.key), &label);
    label
}

/// Runs a size on after a text, in the same part if neither has limits.
fn append(parts: &mut Vec<Part>, figures: &mut Figures, size: &Size, prefix: &str, suffix: &str) {
    let more = figures.parts(size, prefix, suffix);
    match (parts.last_mut(), more.as_slice()) {
        (Some(Part::Text(before)), [Part::Text(text)]) => *before = format!("{before}, {text}"),
        _ => parts.extend(more),
    }
}
