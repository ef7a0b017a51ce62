//! The lengths of a turned part: dimensions below the view, from its left face.
//!
//! Every shoulder is placed once: from the face, or, where the length has limits of its own, is on hold or stays as it
//! is, from the shoulder before it, because a sum would say something else.

use super::dimension::Dimension;
use super::figure::Figures;
use super::label::Label;
use super::turned_outline::View;
use crate::shape::{Across, Cut, Form, Key, Size, Unit};

/// One length in metres with what it reads.
struct Span {
    from: f64,
    to: f64,
    label: Label,
}

pub(crate) fn lengths(view: &View<'_>, figures: &mut Figures) -> Vec<Dimension> {
    let mut spans = segments(view, figures);
    for cut in &view.laid.turned.across {
        across(cut, view, &mut spans, figures);
    }
    spans.into_iter().map(|span| dimension(view, span)).collect()
}

fn dimension(view: &View<'_>, span: Span) -> Dimension {
    let reach = (view.outer(span.from), view.outer(span.to));
    Dimension { from: view.x(span.from), to: view.x(span.to), reach, label: span.label }
}

/// How the right end of a segment is placed.
enum Placing {
    /// From the shoulder before it.
    Alone,
    /// From the left face, by a sum.
    FromFace(String),
    /// By what stands to its right.
    FromRight,
}

fn segments(view: &View<'_>, figures: &mut Figures) -> Vec<Span> {
    let turned = &view.laid.turned;
    let mut spans = Vec::new();
    let longs: Vec<Option<&Size>> = turned.outside.iter().map(|s| s.long.as_ref()).collect();
    let whole =
        turned.overall.as_ref().filter(|o| view.laid.closing.is_some() || o.limits.is_some() || o.on_hold());
    let ends_in_thread = whole.is_none() && ends_in_thread(view, &longs);
    for (size, (index, place)) in longs.iter().zip(view.laid.places.iter().enumerate()) {
        let Some(size) = size else { continue };
        let (from, label) = match placing(&longs, index, size, whole.is_some(), ends_in_thread) {
            Placing::FromRight => continue,
            Placing::Alone => (place.from, figures.label(size, "", "")),
            Placing::FromFace(text) => (0.0, followed(figures, text, size.key)),
        };
        spans.push(Span { from, to: place.to, label });
    }
    if let (true, Some(text)) = (ends_in_thread, sum(&longs)) {
        let label = Label::text(text);
        figures.state(None, &label);
        spans.push(Span { from: 0.0, to: view.laid.length, label });
    }
    overall(view, figures, &mut spans, whole);
    spans
}

fn placing(
    longs: &[Option<&Size>],
    index: usize,
    size: &Size,
    has_whole: bool,
    ends_in_thread: bool,
) -> Placing {
    let last = index + 1 == longs.len();
    if index == 0 || stands_alone(size) || (last && (has_whole || ends_in_thread)) {
        return Placing::Alone;
    }
    if ends_in_thread && index + 2 == longs.len() {
        return Placing::FromRight;
    }
    sum(&longs[..=index]).map_or(Placing::Alone, Placing::FromFace)
}

/// Whether the part ends in a thread, whose length is then counted from its own end.
fn ends_in_thread(view: &View<'_>, longs: &[Option<&Size>]) -> bool {
    let last = view.laid.turned.outside.last();
    let is_thread = last.is_some_and(|segment| matches!(segment.form, Form::Thread(_)));
    let plain = longs.last().copied().flatten().is_some_and(|size| !stands_alone(size));
    longs.len() > 2 && is_thread && plain && sum(longs).is_some()
}

fn followed(figures: &mut Figures, text: String, key: Key) -> Label {
    let label = Label::text(text);
    figures.state(Some(key), &label);
    label
}

fn overall(view: &View<'_>, figures: &mut Figures, spans: &mut Vec<Span>, whole: Option<&Size>) {
    let length = view.laid.length;
    let label = match whole {
        Some(size) => figures.label(size, "", ""),
        None if spans.iter().any(|s| s.from < 1e-9 && (s.to - length).abs() < 1e-9) => return,
        None => {
            let longs: Vec<Option<&Size>> =
                view.laid.turned.outside.iter().map(|s| s.long.as_ref()).collect();
            let Some(text) = whole_sum(&longs) else { return };
            figures.auxiliary = true;
            let label = Label::text(format!("({text})"));
            figures.state(None, &label);
            label
        }
    };
    spans.push(Span { from: 0.0, to: length, label });
}

/// Whether a length is drawn by itself, not as a sum from the face.
fn stands_alone(size: &Size) -> bool {
    size.limits.is_some() || size.auxiliary || size.on_hold() || size.class.is_some()
}

/// The sum of lengths of one unit, exactly as it would be typed; `None` if one is not known.
fn sum(longs: &[Option<&Size>]) -> Option<String> {
    if longs.iter().flatten().any(|size| size.auxiliary) { None } else { whole_sum(longs) }
}

/// Likewise, with what stays as it is.
fn whole_sum(longs: &[Option<&Size>]) -> Option<String> {
    let sizes: Option<Vec<&Size>> = longs.iter().copied().collect();
    let sizes = sizes?;
    let unit = sizes.first()?.unit;
    if sizes.iter().any(|size| size.on_hold() || size.unit != unit) {
        return None;
    }
    let total = sizes.iter().map(|size| size.m()).sum::<f64>() / unit.metres();
    let fractions = sizes.iter().any(|size| size.text.contains('/'));
    Some(if unit == Unit::Inch && fractions { fraction(total) } else { plain(total) })
}

fn plain(figure: f64) -> String {
    let text = format!("{figure:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Whole inches and 128ths, reduced; a decimal if it is none.
fn fraction(total: f64) -> String {
    let parts = (total * 128.0).round();
    if (parts / 128.0 - total).abs() > 1e-9 {
        return plain(total);
    }
    let whole = (parts / 128.0).floor();
    let (mut numerator, mut denominator) = (parts - whole * 128.0, 128.0);
    while numerator > 0.0 && numerator % 2.0 == 0.0 {
        (numerator, denominator) = (numerator / 2.0, denominator / 2.0);
    }
    match (whole > 0.0, numerator > 0.0) {
        (true, true) => format!("{whole} {numerator}/{denominator}"),
        (false, true) => format!("{numerator}/{denominator}"),
        _ => format!("{whole}"),
    }
}

/// Whether a cut runs out at the right end, so that its length alone says where it begins.
fn is_placed_by_the_end(cut: &Cut, view: &View<'_>) -> bool {
    let (Across::Keyway { long, .. } | Across::Flats { long, .. }) = &cut.what else { return false };
    let ends = (cut.at.m() + long.m() - view.laid.length).abs() < 1e-9;
    ends && cut.at.limits.is_none() && !cut.at.on_hold() && !long.on_hold()
}

fn across(cut: &Cut, view: &View<'_>, spans: &mut Vec<Span>, figures: &mut Figures) {
    let at = cut.at.m();
    let known = spans.iter().any(|s| s.from < 1e-9 && (s.to - at).abs() < 1e-9) && !stands_alone(&cut.at);
    if at > 1e-9 && !known && !is_placed_by_the_end(cut, view) {
        let label = figures.label(&cut.at, "", "");
        spans.push(Span { from: 0.0, to: at, label });
    }
    if let Across::Keyway { long, .. } | Across::Flats { long, .. } | Across::OilGroove { long, .. } =
        &cut.what
    {
        let same = |s: &Span| (s.from - at).abs() < 1e-9 && (s.to - at - long.m()).abs() < 1e-9;
        if !spans.iter().any(same) || stands_alone(long) {
            let label = figures.label(long, "", "");
            spans.push(Span { from: at, to: at + long.m(), label });
        }
    }
}
