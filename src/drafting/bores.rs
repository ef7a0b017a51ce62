//! The diameters of the hollow: half dimensions beside the face they are bored from, and the chamfers of mouths.

use super::canvas::Canvas;
use super::dimension::{Lane, half_dimension};
use super::drawing::{Pen, Point, Rect};
use super::figure::Figures;
use super::label::{Label, Lettering, Part};
use super::symbol::{DATUM_HEIGHT, datum_below};
use super::turned_outline::{View, first_visible};
use crate::shape::{Bore, BoreForm, Deep, Side, Size};

/// From the face to the first line, mm.
const FIRST: f64 = 8.0;
/// A datum letter hangs from the extension line if no other one runs this far below it.
const CLEAR_BELOW: f64 = DATUM_HEIGHT + 1.5;
/// From a face to the middle of the text that says its mouth's chamfer.
const MOUTH: f64 = 7.8;
/// Mouths with a smaller radius on paper have no room for a leader.
const LEAST_MOUTH: f64 = 9.0;

/// The least height of a leader's knee over the axis, and the least between its text and the axis, mm.
const LED: f64 = 7.0;
const LED_CLEAR: f64 = 2.0;

/// What the dimensions of the hollow take.
pub(crate) struct Beside {
    /// Left and right of the view, above its extension lines.
    pub(crate) room: Rect,
    /// How far datum letters hang down.
    pub(crate) lowest: f64,
}

/// Draws them.
pub(crate) fn bores(
    canvas: &mut Canvas,
    view: &View<'_>,
    figures: &mut Figures,
    lettering: Lettering,
) -> Beside {
    let mut beside = Beside { room: Rect::EMPTY, lowest: f64::NEG_INFINITY };
    for (side, lane) in [(Side::Left, Lane::Left), (Side::Right, Lane::Right)] {
        let mut bores: Vec<&Bore> = view.laid.turned.bores.iter().filter(|bore| bore.side == side).collect();
        bores.sort_by(|a, b| a.form.mouth().total_cmp(&b.form.mouth()));
        let edge = if side == Side::Left { 0.0 } else { view.length() };
        let mut at = edge + FIRST - 2.4;
        let alone = view.cut && bores.len() == 1 && view.r(bores[0].form.mouth()) >= LEAST_MOUTH;
        if let (true, Some(chamfer)) = (alone, bores.first().and_then(|bore| bore.chamfer.as_ref())) {
            let both = has_two_mouths(view, bores[0]);
            let label = figures.label(chamfer, "", if both { " × 45°, both mouths" } else { " × 45°" });
            let place = if both { across_from(view, side) } else { (lane, edge) };
            let room = mouth(canvas, view, place, bores[0].form.mouth(), chamfer, &label, lettering);
            beside.room = beside.room.join(room);
            at = if both { at } else { edge + MOUTH + label.height(lettering) / 2.0 };
        }
        let tip = |bore: &Bore| -view.r(bore.form.mouth());
        let hangs = |index: usize| {
            let next = bores.get(index + 1);
            view.cut && next.is_none_or(|next| tip(bores[index]) - tip(next) > CLEAR_BELOW)
        };
        let controls = &view.laid.turned.true_to;
        let labels: Vec<(Label, Option<char>)> = bores
            .iter()
            .enumerate()
            .map(|(index, bore)| label(bore, figures, controls, (hangs(index), alone)))
            .collect();
        let is_wide =
            |(bore, (label, _)): (&&Bore, &(Label, Option<char>))| label.width(lettering) > -2.0 * tip(bore);
        if !bores.is_empty() && (!view.cut || (!alone && bores.iter().zip(&labels).any(is_wide))) {
            beside.room = beside.room.join(led(canvas, (side, edge), labels, lettering));
            continue;
        }
        for (bore, (label, datum)) in bores.iter().zip(labels) {
            let tip = tip(bore);
            let height = label.height(lettering);
            let (before, after) = if lane == Lane::Left { (2.4, height + 0.8) } else { (height + 2.4, 0.8) };
            at += before;
            let reach = reach(view, bore, side);
            let room = half_dimension(canvas, (lane, at), (tip, reach), &label, lettering);
            beside.room = beside.room.join(room);
            if let Some(letter) = datum {
                let owner = canvas.own();
                datum_below(canvas, owner, lane.point(tip, at), lettering.small, letter);
                beside.lowest = beside.lowest.max(DATUM_HEIGHT - tip);
            }
            at += after;
        }
    }
    beside
}

/// One leader to where the axis meets the face (ISO 15786:2008), with what is bored there in rows, the narrowest first: where
/// the hollow is hidden, or narrower than what is said of it.
fn led(
    canvas: &mut Canvas,
    (side, edge): (Side, f64),
    labels: Vec<(Label, Option<char>)>,
    lettering: Lettering,
) -> Rect {
    let mut all = Label::default();
    for (label, datum) in labels {
        all.rows.extend(label.rows);
        let letter = datum.map(Part::Datum);
        all.rows.last_mut().into_iter().for_each(|row| row.extend(letter.clone()));
    }
    let owner = canvas.own();
    let (width, high) = (all.width(lettering), all.height(lettering) / 2.0);
    let out = if side == Side::Left { -1.0 } else { 1.0 };
    let up = (high + LED_CLEAR).max(LED);
    let (tip, knee) = (Point::new(edge, 0.0), Point::new(edge + out * up, -up));
    canvas.chain(owner, Pen::Thin, &[tip, knee, knee.moved(out * 1.6, 0.0)]);
    canvas.arrow(owner, tip, knee);
    let left = if side == Side::Left { knee.x - 2.6 - width } else { knee.x + 2.6 };
    all.draw(canvas, owner, Point::new(left, -up), false, lettering);
    Rect { left, top: -up - high, right: left + width, bottom: high - up }
}

/// Whether a cylinder that goes through has its chamfer at both mouths, and nothing else is bored.
fn has_two_mouths(view: &View<'_>, bore: &Bore) -> bool {
    bore.both_mouths && matches!(bore.form, BoreForm::Plain { .. }) && view.laid.turned.bores.len() == 1
}

/// The lane and the face on the other side.
fn across_from(view: &View<'_>, side: Side) -> (Lane, f64) {
    if side == Side::Left { (Lane::Right, view.length()) } else { (Lane::Left, 0.0) }
}

/// The chamfer of a mouth in the cut half: a leader square to it, from a text that reads upwards.
fn mouth(
    canvas: &mut Canvas,
    view: &View<'_>,
    (lane, edge): (Lane, f64),
    radius: f64,
    chamfer: &Size,
    label: &Label,
    lettering: Lettering,
) -> Rect {
    let owner = canvas.own();
    let long = view.laid.length;
    let half =
        (if edge > 0.0 { view.length() - view.x(long - chamfer.m()) } else { view.x(chamfer.m()) }) / 2.0;
    let along = -f64::midpoint(view.r(radius), view.r(radius + chamfer.m()));
    let tip = lane.point(along, edge - half);
    let knee = along + half + MOUTH;
    let shelf = lane.point(knee + 1.6, edge + MOUTH);
    canvas.chain(owner, Pen::Thin, &[tip, lane.point(knee, edge + MOUTH), shelf]);
    canvas.arrow(owner, tip, lane.point(knee, edge + MOUTH));
    label.draw(canvas, owner, lane.point(knee + 2.6, edge + MOUTH), true, lettering);
    let (width, high) = (label.width(lettering), label.height(lettering) / 2.0);
    Rect::around(
        lane.point(knee + 2.6, edge + MOUTH - high),
        lane.point(knee + 2.6 + width, edge + MOUTH + high),
    )
}

/// Where the extension line begins, in the lane's own direction: where the bore comes out of a wider one.
fn reach(view: &View<'_>, bore: &Bore, side: Side) -> f64 {
    let start = first_visible(view, bore);
    match side {
        Side::Left => -view.x(start),
        Side::Right => view.x(view.laid.length - start),
    }
}

/// What stands at a bore's dimension, and apart from it the letter of a datum that hangs from its extension line. The
/// mouth's chamfer stands there too where it has no leader.
fn label(
    bore: &Bore,
    figures: &mut Figures,
    controls: &[crate::shape::Control],
    (hangs, mouth_apart): (bool, bool),
) -> (Label, Option<char>) {
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
    if let Some(chamfer) = bore.chamfer.as_ref().filter(|_| !mouth_apart) {
        let prefix = match (bore.both_mouths, bore.side) {
            (true, _) => "both mouths ",
            (false, Side::Left) => "left mouth ",
            (false, Side::Right) => "right mouth ",
        };
        label.rows.push(figures.parts(chamfer, prefix, " × 45°"));
    }
    figures.state(Some(bore.key), &label);
    let datum = if hangs { label.take_datum() } else { None };
    (label, datum)
}

/// Runs a size on after a text, in the same part if neither has limits.
fn append(parts: &mut Vec<Part>, figures: &mut Figures, size: &Size, prefix: &str, suffix: &str) {
    let more = figures.parts(size, prefix, suffix);
    match (parts.last_mut(), more.as_slice()) {
        (Some(Part::Text(before)), [Part::Text(text)]) => *before = format!("{before}, {text}"),
        _ => parts.extend(more),
    }
}
