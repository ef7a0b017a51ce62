//! What can be wrong with a shape, each fault at its own place.

use super::chain::chain;
use super::check_flat::check_flat;
use super::fault::{Fault, Lacking};
use super::general::General;
use super::laid::{Flank, Laid, beyond, free, lay_out, shoulder};
use super::model::{Across, Body, Bore, BoreForm, Cut, Deep, End, Form, Shape, Thread, Turned};
use super::profile::{Profile, Span, inside};
use super::size::{Key, Size};
use super::stand_in::filled_by;
use super::walk::{Role, sizes};

/// Lengths closer than this are equal, m.
const EQUAL: f64 = 1e-9;

/// Stand-ins for sizes on hold are tried at these multiples.
const TRIED: [f64; 7] = [1.0, 0.8, 1.25, 0.6, 1.6, 0.4, 2.5];

/// Everything wrong with a shape; empty if it can be drawn. Where sizes are on hold, only what is wrong whatever they
/// come out at.
pub fn check(shape: &Shape) -> Vec<Fault> {
    let mut faults = Vec::new();
    check_sizes(shape, &mut faults);
    check_treat(shape, &mut faults);
    if !faults.is_empty() {
        return faults;
    }
    let mut faults = check_filled(shape, 1.0);
    if is_held(shape) {
        for factor in &TRIED[1..] {
            let others = check_filled(shape, *factor);
            faults.retain(|fault| others.iter().any(|other| other.is_alike(fault)));
        }
    }
    faults
}

/// A copy of a sound shape with stand-ins that suit the sizes that are known.
pub fn suited(shape: &Shape) -> Shape {
    let sound = TRIED.into_iter().find(|factor| check_filled(shape, *factor).is_empty());
    filled_by(shape, sound.unwrap_or(1.0))
}

fn is_held(shape: &Shape) -> bool {
    sizes(shape).iter().any(|(_, size)| size.on_hold() || size.nominal.is_none())
}

fn check_filled(shape: &Shape, factor: f64) -> Vec<Fault> {
    let mut faults = Vec::new();
    let general = shape.general.as_ref();
    match &filled_by(shape, factor).body {
        Body::Turned(turned) => check_turned(shape.key, turned, general, &mut faults),
        Body::Flat(flat) => check_flat(shape.key, flat, &mut faults),
    }
    faults
}

/// A treatment of one feature names it, and says how far it reaches from a corner.
fn check_treat(shape: &Shape, faults: &mut Vec<Fault>) {
    let Some((treat, of)) = shape.treat.as_ref().and_then(|treat| Some((treat, treat.of.as_ref()?))) else {
        return;
    };
    let is_corner = match &shape.body {
        Body::Turned(turned) => turned.names().any(|(_, name)| name == Some(of)).then_some(false),
        Body::Flat(flat) => {
            let corner = flat.corners().iter().any(|corner| corner.name.as_ref() == Some(of));
            (corner || flat.openings().any(|name| name == Some(of))).then_some(corner)
        }
    };
    match is_corner {
        None => faults.push(Fault::NameUnknown { control: treat.key, name: of.clone() }),
        Some(true) if treat.within.is_none() => {
            faults.push(Fault::Missing { feature: treat.key, what: Lacking::TreatedReach });
        }
        Some(_) => {}
    }
}

fn check_sizes(shape: &Shape, faults: &mut Vec<Fault>) {
    let flat = matches!(shape.body, Body::Flat(_));
    for (role, size) in sizes(shape) {
        let Some(value) = size.nominal else {
            if !size.on_hold() {
                faults.push(Fault::Missing { feature: size.key, what: Lacking::Nominal });
            }
            continue;
        };
        let least =
            if role == Role::At { if flat { f64::NEG_INFINITY } else { 0.0 } } else { f64::MIN_POSITIVE };
        if !value.is_finite() || value < least || value.abs() > 1e5 {
            faults.push(Fault::NotPositive { size: size.key, value });
        }
        if size.limits.is_some_and(|limits| limits.lower > limits.upper || !limits.upper.is_finite()) {
            faults.push(Fault::LimitsReversed { size: size.key });
        }
    }
}

fn check_turned(key: Key, turned: &Turned, general: Option<&General>, faults: &mut Vec<Fault>) {
    if turned.outside.is_empty() {
        faults.push(Fault::Missing { feature: key, what: Lacking::Outside });
        return;
    }
    check_threads(turned, faults);
    check_names(turned, faults);
    check_lengths(turned, faults);
    if !faults.is_empty() {
        return;
    }
    check_chain(turned, general, faults);
    let Some(laid) = lay_out(turned) else { return };
    check_edges(&laid, faults);
    check_bores(&laid, faults);
    laid.turned.across.iter().for_each(|cut| check_cut(cut, &laid, faults));
    check_meeting(&laid, faults);
}

fn check_threads(turned: &Turned, faults: &mut Vec<Fault>) {
    let sound =
        |t: &Thread| t.pitch > 0.0 && t.pitch.is_finite() && t.major.is_finite() && t.major > 2.0 * t.pitch;
    faults.extend(turned.threads().filter(|t| !sound(t)).map(|t| Fault::ThreadWithoutCore { thread: t.key }));
}

fn check_names(turned: &Turned, faults: &mut Vec<Fault>) {
    check_twice_named(turned.names(), faults);
    let named: Vec<&str> = turned.names().filter_map(|(_, name)| name).collect();
    for control in &turned.true_to {
        for name in [&control.of, &control.to] {
            if !named.contains(&name.as_str()) {
                faults.push(Fault::NameUnknown { control: control.key, name: name.clone() });
            }
        }
    }
}

/// Names that two features have.
pub(crate) fn check_twice_named<'a>(
    all: impl Iterator<Item = (Key, Option<&'a str>)>,
    faults: &mut Vec<Fault>,
) {
    let named: Vec<(Key, &str)> = all.filter_map(|(key, name)| Some((key, name?))).collect();
    for (index, (other, name)) in named.iter().enumerate() {
        if let Some((one, _)) = named[..index].iter().find(|(_, earlier)| earlier == name) {
            faults.push(Fault::NameTwice { one: *one, other: *other });
        }
    }
}

fn check_lengths(turned: &Turned, faults: &mut Vec<Fault>) {
    let missing: Vec<Key> = turned.outside.iter().filter(|s| s.long.is_none()).map(|s| s.key).collect();
    let sum: f64 = turned.outside.iter().filter_map(|s| s.long.as_ref()).map(Size::m).sum();
    match (&turned.overall, missing.as_slice()) {
        (_, []) => check_twice(turned, sum, faults),
        (Some(overall), [only]) if overall.m() - sum <= EQUAL => {
            faults.push(Fault::NothingLeft { feature: *only, left: overall.m() - sum });
        }
        (Some(_), [_]) => {}
        (_, many) => {
            let lacking = |key: &Key| Fault::Missing { feature: *key, what: Lacking::Length };
            faults.extend(many.iter().skip(usize::from(turned.overall.is_some())).map(lacking));
        }
    }
}

/// All lengths and the whole are typed: the whole must agree, unless it has limits and makes a chain.
fn check_twice(turned: &Turned, sum: f64, faults: &mut Vec<Fault>) {
    let Some(overall) = turned.overall.as_ref().filter(|size| size.limits.is_none()) else { return };
    let held = turned.outside.iter().filter_map(|s| s.long.as_ref()).chain([overall]).any(Size::on_hold);
    if !held && (overall.m() - sum).abs() > EQUAL {
        faults.push(Fault::GivenTwice { size: overall.key, typed: overall.m(), sum });
    }
}

fn check_chain(turned: &Turned, general: Option<&General>, faults: &mut Vec<Fault>) {
    let Some(overall) = &turned.overall else { return };
    if let Some(chain) = chain(turned, general).filter(|chain| !chain.holds()) {
        faults.push(Fault::ChainTooWide { size: overall.key, chain });
    }
}

fn check_edges(laid: &Laid, faults: &mut Vec<Fault>) {
    for (index, segment) in laid.turned.outside.iter().enumerate() {
        let place = laid.places[index];
        let long = place.to - place.from;
        if let Some(size) = &segment.chamfer {
            let ends =
                [Flank::Left, Flank::Right].into_iter().filter(|f| free(&laid.places, index, *f)).count();
            let share = if ends == 2 { long / 2.0 } else { long };
            too_large(size, share.min(place.left.min(place.right)).min(least_step(laid, index)), faults);
        }
        match &segment.end {
            Some(End::Radius(size)) => too_large(size, radius_room(laid, index), faults),
            Some(End::Undercut { wide, d }) => check_undercut(laid, index, wide, d.as_ref(), faults),
            None => {}
        }
    }
}

/// The lowest shoulder at a free edge of a segment: a chamfer that is larger would cut into the neighbour. One with a
/// diameter on hold is not known.
fn least_step(laid: &Laid, index: usize) -> f64 {
    let (places, outside) = (&laid.places, &laid.turned.outside);
    let held = |form: &Form| match form {
        Form::Plain { d } => d.on_hold(),
        Form::Taper { d, to } => d.on_hold() || to.on_hold(),
        Form::Thread(_) => false,
    };
    let step = |flank: Flank| {
        let (beside, own) = match flank {
            Flank::Left => (index.checked_sub(1)?, places[index].left),
            Flank::Right => (index + 1, places[index].right),
        };
        let is_known = !held(&outside.get(beside)?.form) && !held(&outside[index].form);
        let other = beyond(places, index, flank)?;
        (is_known && free(places, index, flank)).then_some(own - other)
    };
    [Flank::Left, Flank::Right].into_iter().filter_map(step).fold(f64::INFINITY, f64::min)
}

fn too_large(size: &Size, room: f64, faults: &mut Vec<Fault>) {
    if size.m() > room + EQUAL {
        faults.push(Fault::TooLarge { size: size.key, value: size.m(), room });
    }
}

/// A radius must end on its face and on the smaller side.
fn radius_room(laid: &Laid, index: usize) -> f64 {
    let places = &laid.places;
    match shoulder(places, index, false).filter(|_| index + 1 < places.len()) {
        None => (places[index].to - places[index].from).min(places[index].right),
        Some((_, _, smaller)) => {
            let step = (places[index].right - places[index + 1].left).abs();
            step.min(places[smaller].to - places[smaller].from)
        }
    }
}

fn check_undercut(laid: &Laid, index: usize, wide: &Size, d: Option<&Size>, faults: &mut Vec<Fault>) {
    let segment = &laid.turned.outside[index];
    let Some(diameter) = segment.undercut_diameter() else {
        faults.push(Fault::Missing { feature: segment.key, what: Lacking::UndercutDiameter });
        return;
    };
    let is_thread = matches!(segment.form, Form::Thread(_));
    let smaller = shoulder(&laid.places, index, is_thread).map_or(index, |(_, _, smaller)| smaller);
    let place = laid.places[smaller];
    too_large(wide, place.to - place.from, faults);
    let there = place.left.min(place.right) * 2.0;
    if diameter >= there - EQUAL || diameter <= 0.0 {
        faults.push(Fault::NothingCut { size: d.map_or(segment.key, |d| d.key), value: diameter, there });
    }
}

fn check_bores(laid: &Laid, faults: &mut Vec<Fault>) {
    let bores = &laid.turned.bores;
    for (index, bore) in bores.iter().enumerate() {
        check_depth(bore, laid.length, faults);
        for other in &bores[..index] {
            check_pair(other, bore, laid.length, faults);
        }
    }
    if faults.is_empty() {
        check_hidden(laid, faults);
    }
    check_walls(laid, faults);
}

fn reach(bore: &Bore, length: f64) -> f64 {
    match &bore.deep {
        Deep::Through => length,
        Deep::To(size) => size.m(),
    }
}

fn check_depth(bore: &Bore, length: f64, faults: &mut Vec<Fault>) {
    let mut deep = reach(bore, length);
    if let BoreForm::Thread { drill: Some(drill), .. } = &bore.form {
        if drill.m() < deep - EQUAL {
            faults.push(Fault::DrillTooShort { size: drill.key, drill: drill.m(), thread: deep });
        }
        deep = drill.m();
    }
    if deep > length + EQUAL {
        faults.push(Fault::BoreTooDeep { bore: bore.key, deep, length });
    }
}

/// Two bores from one face that end at one place: which is meant?
fn check_pair(one: &Bore, other: &Bore, length: f64, faults: &mut Vec<Fault>) {
    if one.side == other.side && (reach(one, length) - reach(other, length)).abs() <= EQUAL {
        faults.push(Fault::SameDepth { one: one.key, other: other.key });
    }
}

/// A bore that lies wholly within another takes nothing away.
fn check_hidden(laid: &Laid, faults: &mut Vec<Fault>) {
    let bores = &laid.turned.bores;
    let hollow =
        |bore: &Bore| inside(&Turned { bores: vec![bore.clone()], ..Turned::default() }, laid.length);
    let hollows: Vec<Profile> = bores.iter().map(hollow).collect();
    for (index, own) in hollows.iter().enumerate() {
        let hides = |other: &Profile| own.spans.iter().all(|span| covers(other, span));
        let behind = (0..bores.len()).find(|other| *other != index && hides(&hollows[*other]));
        if let Some(behind) = behind.filter(|behind| !covers_all(own, &hollows[*behind]) || *behind < index) {
            faults.push(Fault::BoreHidden { bore: bores[index].key, behind: bores[behind].key });
        }
    }
}

fn covers_all(outer: &Profile, inner: &Profile) -> bool {
    inner.spans.iter().all(|span| covers(outer, span))
}

/// Whether a hollow is at least as wide as a piece of another all along it.
fn covers(outer: &Profile, piece: &Span) -> bool {
    let shares = [0.001, 0.25, 0.5, 0.75, 0.999];
    shares
        .into_iter()
        .map(|share| piece.x0 + (piece.x1 - piece.x0) * share)
        .all(|x| outer.at(x) >= piece.at(x) - EQUAL)
}

fn check_walls(laid: &Laid, faults: &mut Vec<Fault>) {
    for bore in &laid.turned.bores {
        let alone = Turned { bores: vec![bore.clone()], ..Turned::default() };
        let hollow = inside(&alone, laid.length);
        let thread = if let BoreForm::Thread { thread, .. } = &bore.form { thread.major / 2.0 } else { 0.0 };
        let worst = walls(laid, &hollow)
            .map(|(x, outer, inner)| (x, outer, if inner > 0.0 { inner.max(thread) } else { inner }));
        let worst =
            worst.filter(|(_, _, inner)| *inner > 0.0).min_by(|a, b| (a.1 - a.2).total_cmp(&(b.1 - b.2)));
        if let Some((at, outer, inner)) = worst.filter(|(_, outer, inner)| outer - inner <= EQUAL) {
            let (bore_d, outside_d) = (inner * 2.0, outer * 2.0);
            faults.push(Fault::BoreOutside { bore: bore.key, at, bore_d, outside_d });
        }
    }
}

/// Outside and hollow on both sides of every station.
pub(crate) fn walls<'a>(laid: &'a Laid, hollow: &'a Profile) -> impl Iterator<Item = (f64, f64, f64)> + 'a {
    let places = laid.outside.stations().into_iter().chain(hollow.stations());
    places.flat_map(move |x| {
        let (outer, inner) = (laid.outside.around(x), hollow.around(x));
        let left = (x > EQUAL).then_some((x, outer.0, inner.0));
        let right = (x < laid.length - EQUAL).then_some((x, outer.1, inner.1));
        left.into_iter().chain(right)
    })
}

/// From where to where a cut reaches.
pub(crate) fn extent(cut: &Cut) -> (f64, f64) {
    let at = cut.at.m();
    match &cut.what {
        Across::Hole { d, .. } => (at - d.m() / 2.0, at + d.m() / 2.0),
        Across::Keyway { long, .. } | Across::Flats { long, .. } | Across::OilGroove { long, .. } => {
            (at, at + long.m())
        }
        Across::Groove { wide, .. } | Across::BoreGroove { wide, .. } => (at, at + wide.m()),
    }
}

fn check_cut(cut: &Cut, laid: &Laid, faults: &mut Vec<Fault>) {
    let (from, to) = extent(cut);
    if from < -EQUAL || to > laid.length + EQUAL {
        faults.push(Fault::CutOutside { cut: cut.key, from, to, length: laid.length });
        return;
    }
    let (least, _) = around(laid, from, to);
    let mut large = |size: &Size, room: f64| {
        if size.m() >= room - EQUAL {
            faults.push(Fault::CutTooLarge { cut: cut.key, value: size.m(), room });
        }
    };
    match &cut.what {
        Across::Hole { d, .. } => large(d, least * 2.0),
        Across::Keyway { wide, deep, long } => {
            large(wide, (least * 2.0).min(long.m() + 2.0 * EQUAL));
            large(deep, least - widest_hollow(laid, from, to));
        }
        Across::Flats { size, count, .. } => check_flats(cut.key, size, *count, laid, faults),
        Across::Groove { d, .. } => check_groove(d, laid, (from, to), faults),
        Across::BoreGroove { .. } | Across::OilGroove { .. } => check_in_bore(cut, laid, (from, to), faults),
    }
}

/// A groove in the hollow: a bore to cut it in, something that it takes away, and a wall left over it.
fn check_in_bore(cut: &Cut, laid: &Laid, (from, to): (f64, f64), faults: &mut Vec<Fault>) {
    let hollow = inside(&laid.turned, laid.length);
    let Some(least) = hollow.least(from, to) else {
        faults.push(Fault::NoBore { cut: cut.key });
        return;
    };
    let wall = around(laid, from, to).0;
    let mut large = |value: f64, room: f64| {
        if value >= room - EQUAL {
            faults.push(Fault::CutTooLarge { cut: cut.key, value, room });
        }
    };
    match &cut.what {
        Across::BoreGroove { d, .. } => {
            large(d.m(), wall * 2.0);
            let there = widest(&hollow, from, to) * 2.0;
            if d.m() <= there + EQUAL {
                faults.push(Fault::NothingCut { size: d.key, value: d.m(), there });
            }
        }
        Across::OilGroove { wide, deep, .. } => {
            large(wide.m(), least * 2.0);
            large(deep.m(), wall - least);
        }
        _ => {}
    }
}

fn check_flats(key: Key, size: &Size, count: u32, laid: &Laid, faults: &mut Vec<Fault>) {
    let Some(cut) = laid.turned.across.iter().find(|cut| cut.key == key) else { return };
    let (from, to) = extent(cut);
    let there = around(laid, from, to).1 * 2.0;
    let hollow = widest_hollow(laid, from, to) * 2.0;
    if ![2, 4, 6].contains(&count) {
        faults.push(Fault::Count { feature: key, count });
    } else if size.m() >= there - EQUAL {
        faults.push(Fault::NothingCut { size: size.key, value: size.m(), there });
    } else if size.m() <= hollow + EQUAL {
        faults.push(Fault::CutTooLarge { cut: key, value: size.m(), room: hollow });
    }
}

/// The groove is part of the profile already, so what was there is the bare outside.
fn check_groove(d: &Size, laid: &Laid, (from, to): (f64, f64), faults: &mut Vec<Fault>) {
    let over = laid.places.iter().filter(|p| p.to > from + EQUAL && p.from < to - EQUAL);
    let there = over.map(|p| p.left.min(p.right)).fold(f64::INFINITY, f64::min) * 2.0;
    if d.m() >= there - EQUAL {
        faults.push(Fault::NothingCut { size: d.key, value: d.m(), there });
    }
}

/// Least and greatest outside radius over a stretch.
pub(crate) fn around(laid: &Laid, from: f64, to: f64) -> (f64, f64) {
    let mut least = f64::INFINITY;
    let mut greatest = 0.0_f64;
    let inner = laid.outside.stations().into_iter().filter(|x| *x > from + EQUAL && *x < to - EQUAL);
    let (first, last) = (laid.outside.around(from).1, laid.outside.around(to).0);
    let within = inner.flat_map(|x| {
        let (a, b) = laid.outside.around(x);
        [a, b]
    });
    for radius in within.chain([first, last]) {
        least = least.min(radius);
        greatest = greatest.max(radius);
    }
    (least, greatest)
}

fn widest_hollow(laid: &Laid, from: f64, to: f64) -> f64 {
    widest(&laid.inside, from, to)
}

fn widest(hollow: &Profile, from: f64, to: f64) -> f64 {
    let over = hollow.spans.iter().filter(|span| span.x1 > from && span.x0 < to);
    over.map(|span| span.r0.max(span.r1)).fold(0.0, f64::max)
}

/// Cuts of one kind must not overlap.
fn check_meeting(laid: &Laid, faults: &mut Vec<Fault>) {
    let cuts = &laid.turned.across;
    for (index, one) in cuts.iter().enumerate() {
        for other in &cuts[index + 1..] {
            let same = std::mem::discriminant(&one.what) == std::mem::discriminant(&other.what);
            let (a, b) = (extent(one), extent(other));
            if same && a.0 < b.1 - EQUAL && b.0 < a.1 - EQUAL {
                faults.push(Fault::CutsMeet { one: one.key, other: other.key });
            }
        }
    }
}
