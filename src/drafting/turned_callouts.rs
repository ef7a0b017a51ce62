//! The labels above a turned part: diameters, threads, chamfers, radii, undercuts, grooves and cross holes.

use super::callout::Callout;
use super::figure::Figures;
use super::label::{Label, Part};
use super::turned_outline::View;
use crate::shape::{Across, Control, Cut, End, Form, Segment, Size, Span};

/// What is said once in the notes instead of at every edge.
#[derive(Clone, Debug, Default)]
pub(crate) struct Common {
    pub(crate) chamfer: Option<String>,
    pub(crate) radius: Option<String>,
}

/// A size by itself without limits can be said in a note.
pub(crate) fn can_be_noted(size: &Size) -> bool {
    size.limits.is_none() && !size.auxiliary && !size.on_hold()
}

pub(crate) fn common(view: &View<'_>) -> Common {
    let segments = || view.laid.turned.outside.iter();
    let radii =
        segments().filter_map(|s| if let Some(End::Radius(size)) = &s.end { Some(size) } else { None });
    Common { chamfer: commonest(segments().filter_map(|s| s.chamfer.as_ref())), radius: commonest(radii) }
}

/// The text of the size that stands at least twice, and most often.
pub(crate) fn commonest<'a>(sizes: impl Iterator<Item = &'a Size>) -> Option<String> {
    let texts: Vec<&str> = sizes.filter(|size| can_be_noted(size)).map(|size| size.text.as_str()).collect();
    let count = |text: &str| texts.iter().filter(|other| **other == text).count();
    texts
        .iter()
        .map(|text| (count(text), *text))
        .filter(|(n, _)| *n > 1)
        .max_by_key(|(n, _)| *n)
        .map(|(_, t)| t.to_owned())
}

/// Whether a size is the one that the notes state.
fn noted(size: &Size, common: Option<&String>) -> bool {
    can_be_noted(size) && common == Some(&size.text)
}

pub(crate) fn labels(view: &View<'_>, figures: &mut Figures, common: &Common) -> Vec<Callout> {
    let mut all = Vec::new();
    for (index, segment) in view.laid.turned.outside.iter().enumerate() {
        diameter(view, figures, index, segment, &mut all);
        edges(view, figures, index, segment, common, &mut all);
    }
    let cuts = &view.laid.turned.across;
    for (index, cut) in cuts.iter().enumerate() {
        let others = cuts[index + 1..].iter().filter(|other| are_alike(view, cut, other)).count();
        if !cuts[..index].iter().any(|known| are_alike(view, known, cut)) {
            all.extend(across(view, figures, cut, others + 1));
        }
    }
    all
}

/// Whether two cross holes share a label. Those with limits do not: each has a reading of its own to be reported.
fn are_alike(view: &View<'_>, a: &Cut, b: &Cut) -> bool {
    let (Across::Hole { d, through }, Across::Hole { d: other, through: goes }) = (&a.what, &b.what) else {
        return false;
    };
    let same = can_be_noted(d) && can_be_noted(other) && d.text == other.text && d.unit == other.unit;
    same && d.class == other.class
        && a.finish == b.finish
        && reach(view, a, *through) == reach(view, b, *goes)
}

/// How far a cross hole goes.
fn reach(view: &View<'_>, cut: &Cut, through: bool) -> &'static str {
    let is_hollow = view.laid.inside.at(cut.at.m()) > 1e-9;
    match (is_hollow, view.cut, through) {
        (true, true, true) => " through both walls",
        (true, true, false) => " through one wall",
        (_, _, true) => " through",
        (true, false, false) => " to meet the bore",
        (false, _, false) => " to the axis",
    }
}

fn diameter(view: &View<'_>, figures: &mut Figures, index: usize, segment: &Segment, all: &mut Vec<Callout>) {
    let parts = match &segment.form {
        Form::Plain { d } => figures.parts(d, "⌀", ""),
        Form::Thread(thread) => vec![Part::Text(thread.text.clone())],
        Form::Taper { d, to } => taper(figures, d, to),
    };
    let label = finished(parts, figures, segment, view);
    let (from, to) = longest(view, index);
    let (first, last) = (view.x(from), view.x(to));
    let x = clear_of_breaks(view, clear_of_cuts(view, (first, last)));
    let inset = ((last - first) / 2.0).min(1.5);
    let range = (first + inset, last - inset);
    let y = -view.outer(f64::midpoint(from, to));
    all.push(Callout { range, ..Callout::at(x, y, label) });
}

fn stated(parts: Vec<Part>, figures: &mut Figures, segment: &Segment) -> Label {
    let label = Label::of(parts);
    figures.state(Some(segment.key), &label);
    label
}

/// Both ends of a taper, from left to right.
pub(crate) fn taper(figures: &mut Figures, d: &Size, to: &Size) -> Vec<Part> {
    let (mut first, second) = (figures.parts(d, "taper ⌀", ""), figures.parts(to, "to ⌀", ""));
    match (first.last_mut(), second.as_slice()) {
        (Some(Part::Text(before)), [Part::Text(text)]) => *before = format!("{before} {text}"),
        _ => first.extend(second),
    }
    first
}

fn finished(mut parts: Vec<Part>, figures: &mut Figures, segment: &Segment, view: &View<'_>) -> Label {
    parts.extend(segment.finish.as_ref().map(|text| Part::Texture(text.clone())));
    add_controls(&mut parts, segment.name.as_deref(), &view.laid.turned.true_to, figures);
    stated(parts, figures, segment)
}

/// Adds the tolerance frames of a named feature and its datum letter.
pub(crate) fn add_controls(
    parts: &mut Vec<Part>,
    name: Option<&str>,
    controls: &[Control],
    figures: &mut Figures,
) {
    let Some(name) = name else { return };
    for control in controls.iter().filter(|control| control.of == name) {
        let within = match figures.parts(&control.within, "", "").pop() {
            Some(Part::Text(text) | Part::Boxed(text)) => text,
            _ => control.within.text.clone(),
        };
        parts.push(Part::Control(control.kind, within, letter(&control.to, controls)));
    }
    if controls.iter().any(|control| control.to == name) {
        parts.push(Part::Datum(letter(name, controls)));
    }
}

/// Datum letters in the order in which datums are named.
fn letter(name: &str, controls: &[Control]) -> char {
    let index = datums(controls).iter().position(|known| *known == name).unwrap_or(0);
    char::from(b'A' + u8::try_from(index.min(25)).unwrap_or(25))
}

/// The features that are datums, each once.
pub(crate) fn datums(controls: &[Control]) -> Vec<&str> {
    let mut names: Vec<&str> = Vec::new();
    for control in controls {
        if !names.contains(&control.to.as_str()) {
            names.push(&control.to);
        }
    }
    names
}

/// The longest stretch of a segment that nothing has cut into.
fn longest(view: &View<'_>, index: usize) -> (f64, f64) {
    let place = view.laid.places[index];
    let own = view.laid.outside.spans.iter().filter(|s| s.x0 >= place.from - 1e-9 && s.x1 <= place.to + 1e-9);
    let plain = own.filter(|s| s.round.is_none() && s.r0.max(s.r1) >= place.left.min(place.right) - 1e-9);
    let long = |s: &&Span| s.x1 - s.x0;
    plain.max_by(|a, b| long(a).total_cmp(&long(b))).map_or((place.from, place.to), |s| (s.x0, s.x1))
}

/// The middle of a stretch, or a quarter of it where something is cut in the middle.
fn clear_of_cuts(view: &View<'_>, (first, last): (f64, f64)) -> f64 {
    let middle = f64::midpoint(first, last);
    let is_cut = view.laid.turned.across.iter().any(|cut| (view.x(cut.at.m()) - middle).abs() < 6.0);
    if is_cut { first + (last - first) / 4.0 } else { middle }
}

fn clear_of_breaks(view: &View<'_>, x: f64) -> f64 {
    let over = view.axes.breaks.iter().find(|(left, right)| x > left - 3.0 && x < right + 3.0);
    over.map_or(x, |(left, _)| left - 4.0)
}

fn edges(
    view: &View<'_>,
    figures: &mut Figures,
    index: usize,
    segment: &Segment,
    common: &Common,
    all: &mut Vec<Callout>,
) {
    let place = view.laid.places[index];
    if let Some(size) = segment.chamfer.as_ref().filter(|size| !noted(size, common.chamfer.as_ref())) {
        all.extend(chamfer(view, figures, index, size));
    }
    match &segment.end {
        Some(End::Radius(size)) if !noted(size, common.radius.as_ref()) => {
            let round = view.laid.outside.spans.iter().filter(|s| s.round.is_some());
            let near = |s: &&Span| (s.x0 - place.to).abs().min((s.x1 - place.to).abs());
            if let Some(span) = round.min_by(|a, b| near(a).total_cmp(&near(b))) {
                let middle = f64::midpoint(span.x0, span.x1);
                let label = figures.label(size, "R", "");
                all.push(Callout::at(view.x(middle), -view.r(span.at(middle)), label));
            }
        }
        Some(End::Undercut { wide, d }) => {
            let label = undercut(figures, segment, wide, d.as_ref());
            let radius = segment.undercut_diameter().unwrap_or(0.0) / 2.0;
            let spans = view.laid.outside.spans.iter();
            let own = spans.filter(|s| (s.r0 - radius).abs() < 1e-9 && (s.x1 - s.x0 - wide.m()).abs() < 1e-9);
            let near = |s: &Span| (s.x0 - place.from).abs().min((s.x1 - place.to).abs());
            let at = own
                .min_by(|a, b| near(a).total_cmp(&near(b)))
                .map_or(place.to, |s| f64::midpoint(s.x0, s.x1));
            all.push(Callout::at(view.x(at), -view.outer(at), label));
        }
        _ => {}
    }
}

fn chamfer(view: &View<'_>, figures: &mut Figures, index: usize, size: &Size) -> Option<Callout> {
    let place = view.laid.places[index];
    let slanted = |s: &&Span| s.round.is_none() && (s.r0 - s.r1).abs() > 1e-9;
    let own = view.laid.outside.spans.iter().filter(|s| s.x0 >= place.from - 1e-9 && s.x1 <= place.to + 1e-9);
    let spans: Vec<&Span> = own.filter(slanted).filter(|s| (s.x1 - s.x0 - size.m()).abs() < 1e-9).collect();
    let span = spans.last()?;
    let suffix = if spans.len() > 1 { " × 45°, both ends" } else { " × 45°" };
    let label = figures.label(size, "", suffix);
    let middle = f64::midpoint(span.x0, span.x1);
    Some(Callout::at(view.x(middle), -view.r(span.at(middle)), label))
}

fn undercut(figures: &mut Figures, segment: &Segment, wide: &Size, d: Option<&Size>) -> Label {
    let diameter = match (d, segment.undercut_diameter()) {
        (Some(d), _) => figures.parts(d, "× ⌀", ""),
        (None, Some(metres)) => {
            let figure = metres / figures.unit.metres();
            let text = format!("{figure:.4}");
            vec![Part::Text(format!("× ⌀{}", text.trim_end_matches('0').trim_end_matches('.')))]
        }
        (None, None) => Vec::new(),
    };
    let mut parts = figures.parts(wide, "undercut ", "");
    match (parts.last_mut(), diameter.as_slice()) {
        (Some(Part::Text(before)), [Part::Text(text)]) => *before = format!("{before} {text}"),
        _ => parts.extend(diameter),
    }
    stated(parts, figures, segment)
}

fn across(view: &View<'_>, figures: &mut Figures, cut: &Cut, count: usize) -> Option<Callout> {
    let at = cut.at.m();
    let mut callout = match &cut.what {
        Across::Hole { d, through } => {
            let prefix = if count > 1 { format!("{count} × ⌀") } else { "⌀".to_owned() };
            let (y, round) =
                if view.cut { (-view.outer(at), 0.0) } else { (0.0, super::cross::half(view, d.m())) };
            let label = Label::of(figures.parts(d, &prefix, reach(view, cut, *through)));
            Callout { round, ..Callout::at(view.x(at), y, label) }
        }
        Across::Groove { wide, d } => {
            let rows = vec![figures.parts(wide, "groove ", ""), figures.parts(d, "× ⌀", "")];
            let middle = at + wide.m() / 2.0;
            let room = ((view.x(at + wide.m()) - view.x(at)) / 2.0 - 0.8).max(0.0);
            let x = view.x(middle);
            Callout { range: (x - room, x + room), ..Callout::at(x, -view.outer(middle), Label { rows }) }
        }
        Across::BoreGroove { wide, d } => {
            let rows = vec![figures.parts(wide, "groove in bore ", ""), figures.parts(d, "× ⌀", "")];
            let groove = in_hollow(view, (at, wide.m()), (0.5, d.m() / 2.0), Label { rows });
            Callout { y: if view.cut { -groove.y } else { groove.y }, ..groove }
        }
        Across::OilGroove { wide, long, deep } => {
            let rows = vec![figures.parts(wide, "oil groove ", ""), figures.parts(deep, "× ", " deep")];
            in_hollow(view, (at, long.m()), (0.25, view.laid.groove_floor(cut)?), Label { rows })
        }
        Across::Keyway { .. } | Across::Flats { .. } => return None,
    };
    if let (Some(row), Some(text)) = (callout.label.rows.last_mut(), &cut.finish) {
        row.push(Part::Texture(text.clone()));
    }
    figures.state(Some(cut.key), &callout.label);
    Some(callout)
}

/// A label whose leader ends on the floor of a groove in the hollow, in the upper wall, at a share of its length:
/// the middle of a long one is where its hole is.
fn in_hollow(view: &View<'_>, (at, long): (f64, f64), (share, floor): (f64, f64), label: Label) -> Callout {
    let (from, to) = (view.x(at), view.x(at + long));
    let x = from + (to - from) * share;
    let room = (x - from - 0.4).max(0.0);
    Callout { range: (x - room, x + room), ..Callout::at(x, -view.r(floor), label) }
}
