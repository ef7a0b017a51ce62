//! A turned part laid out along its axis: stations of its segments and the profiles of outside and hollow.

use super::model::{Across, Cut, End, Form, Segment, Thread, Turned};
use super::profile::{Profile, Round, Span, inside};
use super::size::Key;
use super::stand_in::filled_turned;

/// Where a segment lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Its left end, m from the left face.
    pub from: f64,
    /// Its right end, m.
    pub to: f64,
    /// Radius at its left end before edges are worked, m.
    pub left: f64,
    /// Radius at its right end, m.
    pub right: f64,
}

/// A turned part along its axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// The part, with stand-ins for sizes on hold.
    pub turned: Turned,
    /// Whole length, m.
    pub length: f64,
    /// One for each segment.
    pub places: Vec<Place>,
    /// The segment whose length follows from the others.
    pub closing: Option<usize>,
    /// The outside.
    pub outside: Profile,
    /// The hollow.
    pub inside: Profile,
}

impl Laid {
    /// Which ends of a keyway, left and right, are open: nothing stands above its floor there.
    pub fn open_ends(&self, cut: &Cut) -> [bool; 2] {
        let Across::Keyway { long, deep, .. } = &cut.what else { return [false; 2] };
        let (from, to) = (cut.at.m(), cut.at.m() + long.m());
        let floor = self.outside.at(f64::midpoint(from, to)) - deep.m();
        let beyond = [self.outside.around(from).0, self.outside.around(to).1];
        beyond.map(|radius| radius <= floor + 1e-9)
    }
}

impl Laid {
    /// The radius of the floor of an oil groove, m; `None` where there is no hollow all along it, and of other cuts.
    pub fn groove_floor(&self, cut: &Cut) -> Option<f64> {
        let Across::OilGroove { long, deep, .. } = &cut.what else { return None };
        let hollow = inside(&self.turned, self.length);
        hollow.least(cut.at.m(), cut.at.m() + long.m()).map(|radius| radius + deep.m())
    }
}

/// Lays a turned part out; `None` if a length is missing that nothing closes, or is not above 0.
pub fn lay_out(turned: &Turned) -> Option<Laid> {
    let turned = filled_turned(turned);
    let (lengths, closing) = lengths(&turned)?;
    let places = places(&turned.outside, &lengths);
    let length = places.last()?.to;
    let mut outside = bare(&places);
    work_edges(&mut outside, &turned, &places);
    cut_grooves(&mut outside, &turned);
    let mut inside = inside(&turned, length);
    cut_bore_grooves(&mut inside, &turned);
    Some(Laid { turned, length, places, closing, outside, inside })
}

fn lengths(turned: &Turned) -> Option<(Vec<f64>, Option<usize>)> {
    let typed: f64 = turned.outside.iter().filter_map(|s| s.long.as_ref()).map(super::Size::m).sum();
    let missing: Vec<usize> =
        (0..turned.outside.len()).filter(|i| turned.outside[*i].long.is_none()).collect();
    let rest = match (missing.len(), &turned.overall) {
        (0, _) => 0.0,
        (1, Some(overall)) => overall.m() - typed,
        _ => return None,
    };
    let lengths: Vec<f64> =
        turned.outside.iter().map(|segment| segment.long.as_ref().map_or(rest, super::Size::m)).collect();
    let sound = lengths.iter().all(|long| long.is_finite() && *long > 1e-9);
    sound.then(|| (lengths, missing.first().copied()))
}

fn places(segments: &[Segment], lengths: &[f64]) -> Vec<Place> {
    let mut from = 0.0;
    let mut places = Vec::with_capacity(segments.len());
    for (segment, long) in segments.iter().zip(lengths) {
        let (left, right) = segment.form.radii();
        places.push(Place { from, to: from + long, left, right });
        from += long;
    }
    places
}

impl Form {
    /// Radius at the left and at the right end, m.
    pub fn radii(&self) -> (f64, f64) {
        match self {
            Self::Plain { d } => (d.m() / 2.0, d.m() / 2.0),
            Self::Taper { d, to } => (d.m() / 2.0, to.m() / 2.0),
            Self::Thread(thread) => (thread.major / 2.0, thread.major / 2.0),
        }
    }
}

fn bare(places: &[Place]) -> Profile {
    let spans = places.iter().map(|p| Span::line(p.from, p.to, p.left, p.right)).collect();
    Profile { spans }
}

/// The two ends of a segment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Flank {
    Left,
    Right,
}

/// The radius on the other side of a segment's end, `None` at the part's own end.
pub(crate) fn beyond(places: &[Place], index: usize, flank: Flank) -> Option<f64> {
    match flank {
        Flank::Left => index.checked_sub(1).map(|before| places[before].right),
        Flank::Right => places.get(index + 1).map(|next| next.left),
    }
}

/// Whether an end of a segment is a free edge.
pub(crate) fn free(places: &[Place], index: usize, flank: Flank) -> bool {
    let own = if flank == Flank::Left { places[index].left } else { places[index].right };
    beyond(places, index, flank).is_none_or(|other| other < own - 1e-12)
}

fn work_edges(outside: &mut Profile, turned: &Turned, places: &[Place]) {
    for (index, segment) in turned.outside.iter().enumerate() {
        if let Some(size) = &segment.chamfer {
            for flank in [Flank::Left, Flank::Right].into_iter().filter(|f| free(places, index, *f)) {
                chamfer(outside, places[index], flank, size.m());
            }
        }
        match &segment.end {
            Some(End::Radius(size)) => radius(outside, places, index, size.m()),
            Some(End::Undercut { wide, .. }) => undercut(outside, segment, places, index, wide.m()),
            None => {}
        }
    }
}

fn chamfer(outside: &mut Profile, place: Place, flank: Flank, size: f64) {
    let size = size.min(place.to - place.from);
    if size <= 1e-9 {
        return;
    }
    outside.replace(match flank {
        Flank::Left => Span::line(place.from, place.from + size, place.left - size, place.left),
        Flank::Right => Span::line(place.to - size, place.to, place.right, place.right - size),
    });
}

/// The shoulder that a segment's end belongs to: the one to its right, else to its left; then the smaller side of it.
/// Gives the shoulder's place, whether the smaller side lies to its left, and the smaller side's segment.
pub(crate) fn shoulder(places: &[Place], index: usize, is_thread: bool) -> Option<(f64, bool, usize)> {
    let right = places.get(index + 1).map(|next| (places[index].to, places[index].right, next.left, index));
    let left = index.checked_sub(1).map(|b| (places[index].from, places[b].right, places[index].left, b));
    let prefers_left = is_thread && right.is_none_or(|(_, own, next, _)| next < own);
    let chosen =
        if prefers_left { left.filter(|(_, b, own, _)| b > own).or(right).or(left) } else { right.or(left) };
    let (x, before, after, first) = chosen?;
    let smaller_left = before <= after;
    Some((x, smaller_left, if smaller_left { first } else { first + 1 }))
}

/// A shoulder with nothing in its corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sharp {
    /// The segment on its smaller side.
    pub feature: Key,
    /// Diameters on the smaller and on the larger side, m.
    pub d: (f64, f64),
}

/// The first shoulder without radius or undercut that is cut on this part; one where a thread runs out is none.
pub fn sharp_shoulder(turned: &Turned) -> Option<Sharp> {
    let laid = lay_out(turned)?;
    let (outside, places) = (&laid.turned.outside, &laid.places);
    let is_worked = |at: f64| {
        let ends = outside.iter().enumerate().filter(|(_, segment)| segment.end.is_some());
        ends.into_iter().any(|(index, segment)| {
            let is_thread = matches!(segment.form, Form::Thread(_));
            let is_free_edge = matches!(segment.end, Some(End::Radius(_))) && index + 1 == places.len();
            !is_free_edge && shoulder(places, index, is_thread).is_some_and(|(x, ..)| (x - at).abs() < 1e-9)
        })
    };
    let stays = |segment: &Segment| match &segment.form {
        Form::Plain { d } => d.auxiliary,
        Form::Taper { d, to } => d.auxiliary && to.auxiliary,
        Form::Thread(_) => true,
    };
    let sharp = |index: usize| {
        let (before, after) = (places[index].right, places[index + 1].left);
        let smaller = if before < after { index } else { index + 1 };
        let is_step = (before - after).abs() > 1e-9;
        (is_step && !stays(&outside[smaller]) && !is_worked(places[index].to)).then(|| Sharp {
            feature: outside[smaller].key,
            d: (before.min(after) * 2.0, before.max(after) * 2.0),
        })
    };
    (0..places.len().saturating_sub(1)).find_map(sharp)
}

fn radius(outside: &mut Profile, places: &[Place], index: usize, size: f64) {
    if size <= 1e-9 {
        return;
    }
    let place = places[index];
    match shoulder(places, index, false).filter(|_| index + 1 < places.len()) {
        None => {
            let (from, size) = (place.to - size, size.min(place.to - place.from));
            let round = Round { x: from, r: place.right - size, radius: size, convex: true };
            let r1 = place.right - size;
            outside.replace(Span { x0: from, x1: place.to, r0: place.right, r1, round: Some(round) });
        }
        Some((x, smaller_left, smaller)) => fillet(outside, x, smaller_left, places[smaller], size),
    }
}

fn fillet(outside: &mut Profile, x: f64, smaller_left: bool, place: Place, size: f64) {
    let size = size.min(place.to - place.from);
    let low = if smaller_left { place.right } else { place.left };
    let centre = if smaller_left { x - size } else { x + size };
    let round = Some(Round { x: centre, r: low + size, radius: size, convex: false });
    outside.replace(if smaller_left {
        Span { x0: centre, x1: x, r0: low, r1: low + size, round }
    } else {
        Span { x0: x, x1: centre, r0: low + size, r1: low, round }
    });
}

fn undercut(outside: &mut Profile, segment: &Segment, places: &[Place], index: usize, wide: f64) {
    let Some(d) = segment.undercut_diameter() else { return };
    let is_thread = matches!(segment.form, Form::Thread(_));
    let (x, smaller_left) =
        shoulder(places, index, is_thread).map_or((places[index].to, true), |(x, left, _)| (x, left));
    let (from, to) = if smaller_left { (x - wide, x) } else { (x, x + wide) };
    outside.turn_down(from, to, d / 2.0);
}

impl Segment {
    /// The diameter of its undercut, m: as typed, else the one that suits a thread's pitch.
    pub fn undercut_diameter(&self) -> Option<f64> {
        let Some(End::Undercut { d, .. }) = &self.end else { return None };
        match (d, &self.form) {
            (Some(d), _) => Some(d.m()),
            (None, Form::Thread(thread)) => Some(thread.undercut()),
            (None, _) => None,
        }
    }
}

/// Pitch and what an undercut's diameter is below the major one, mm: DIN 76-1:2004, table 1, external threads. From
/// memory; an open reprint has the same figures but for 2.5 mm (3.8).
const UNDERCUTS: [(f64, f64); 15] = [
    (0.5, 0.8),
    (0.7, 1.1),
    (0.8, 1.3),
    (1.0, 1.6),
    (1.25, 2.0),
    (1.5, 2.3),
    (1.75, 2.6),
    (2.0, 3.0),
    (2.5, 3.6),
    (3.0, 4.4),
    (3.5, 5.0),
    (4.0, 5.7),
    (4.5, 6.4),
    (5.0, 7.0),
    (6.0, 8.3),
];

impl Thread {
    /// The diameter of an undercut, m: by the table, else 1.5 pitches below the major one (common practice).
    fn undercut(&self) -> f64 {
        let known = UNDERCUTS.iter().find(|(pitch, _)| (pitch * 1e-3 - self.pitch).abs() < 1e-9);
        self.major - known.map_or(1.5 * self.pitch, |(_, below)| below * 1e-3)
    }
}

fn cut_bore_grooves(inside: &mut Profile, turned: &Turned) {
    for cut in &turned.across {
        if let Across::BoreGroove { wide, d } = &cut.what {
            inside.bore_out(cut.at.m(), cut.at.m() + wide.m(), d.m() / 2.0);
        }
    }
}

fn cut_grooves(outside: &mut Profile, turned: &Turned) {
    for cut in &turned.across {
        if let Across::Groove { wide, d } = &cut.what {
            outside.turn_down(cut.at.m(), cut.at.m() + wide.m(), d.m() / 2.0);
        }
    }
}
