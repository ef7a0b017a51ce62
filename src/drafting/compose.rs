//! From a shape to a sheet: scales, letterings and layouts are tried from the best down until one fits and keeps the
//! law.

use super::axes::Manner;
use super::callout::Spread;
use super::canvas::Canvas;
use super::drawing::{Drawing, Point, Rect};
use super::drill::pointed;
use super::figure::Figures;
use super::flat::flat;
use super::label::Lettering;
use super::law::is_kept;
use super::notes;
use super::scale::Scale;
use super::sheet::{INSET, Projection, Sheet};
use super::title::{self, Facts, Title};
use super::turned::{Sections, Views, turned};
use crate::shape::{
    Across, Body, Cut, Fault, Laid, Shape, Treat, Unit, check, closed, lay_out, sizes, suited,
};

/// Why there is no drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Unplaceable {
    /// The shape is wrong.
    Faulty(Vec<Fault>),
    /// The sizes do not find room on this sheet at any scale: the part has to be split over more.
    NoRoom {
        /// How many sizes there are to place.
        sizes: usize,
    },
}

/// More sizes than this are not tried on one sheet.
const MOST_SIZES: usize = 1200;

/// One layout to be tried.
#[derive(Clone, Copy)]
struct Attempt {
    scale: Scale,
    lettering: Lettering,
    interrupt: Option<f64>,
    arranged: Sections,
    spread: Spread,
}

impl Attempt {
    fn is_kin(&self, other: &Self) -> bool {
        self.scale == other.scale && self.lettering == other.lettering && self.interrupt == other.interrupt
    }
}

/// A shape made ready: stand-ins in place, laid out.
enum Ready<'a> {
    Turned(&'a Laid),
    Flat(&'a crate::shape::Flat),
}

/// Draws a shape on a sheet.
///
/// # Errors
/// If the shape has faults, or its sizes find no room.
pub fn draw(shape: &Shape, title: &Title, sheet: &Sheet) -> Result<Drawing, Unplaceable> {
    let faults = check(shape);
    if !faults.is_empty() {
        return Err(Unplaceable::Faulty(faults));
    }
    let filled = suited(shape);
    let count = sizes(shape).len();
    let no_room = Unplaceable::NoRoom { sizes: count };
    if count > MOST_SIZES {
        return Err(no_room);
    }
    let laid;
    let ready = match &filled.body {
        Body::Turned(turned) => {
            laid = pointed(lay_out(turned).ok_or_else(|| no_room.clone())?);
            Ready::Turned(&laid)
        }
        Body::Flat(flat) => Ready::Flat(flat),
    };
    first_that_fits(shape, title, sheet, &ready).ok_or(no_room)
}

/// Tries layouts in order. Where one is too high, others of its scale and lettering, which are higher, are left out.
fn first_that_fits(shape: &Shape, title: &Title, sheet: &Sheet, ready: &Ready<'_>) -> Option<Drawing> {
    let mut too_high: Option<Attempt> = None;
    for attempt in attempts(ready, sheet) {
        if too_high.is_some_and(|high| high.is_kin(&attempt)) {
            continue;
        }
        match compose(shape, title, sheet, ready, attempt) {
            Ok(drawing) => return Some(drawing),
            Err(Miss::TooHigh) => too_high = Some(attempt),
            Err(Miss::Other) => {}
        }
    }
    None
}

/// Why a layout will not do.
enum Miss {
    TooHigh,
    Other,
}

/// Most units decide how sizes are printed.
fn unit(shape: &Shape) -> Unit {
    let all = sizes(shape);
    let inches = all.iter().filter(|(_, size)| size.unit == Unit::Inch).count();
    if inches * 2 > all.len() { Unit::Inch } else { Unit::Millimetre }
}

/// Length and height of the view, m.
fn envelope(ready: &Ready<'_>) -> (f64, f64) {
    match ready {
        Ready::Turned(laid) => (laid.length, laid.outside.greatest() * 2.0),
        Ready::Flat(flat) => {
            let (least, greatest) = closed(flat).extent();
            (greatest[0] - least[0], greatest[1] - least[1])
        }
    }
}

/// From the best layout down. A view is at most 0.62 of the sheet's width and, turned, half its height, so that its
/// sizes find room; nothing that is large enough is enlarged (common practice, no source).
fn attempts(ready: &Ready<'_>, sheet: &Sheet) -> Vec<Attempt> {
    let spreads = [Spread::Low, Spread::Even, Spread::Narrow];
    let sides: &[Sections] = match sections(ready) {
        0 => &[Sections::Row],
        1 => &[Sections::Row, Sections::Below],
        _ => &[Sections::Row, Sections::Column, Sections::Below],
    };
    let mut attempts: Vec<Attempt> = Vec::new();
    for (scale, interrupt) in scales(ready, sheet) {
        for lettering in [Lettering::ROOMY, Lettering::TIGHT] {
            for arranged in sides.iter().copied() {
                attempts.extend(spreads.map(|spread| Attempt {
                    scale,
                    lettering,
                    interrupt,
                    arranged,
                    spread,
                }));
            }
        }
    }
    attempts
}

/// The scales at which the view fits, whole or interrupted.
fn scales(ready: &Ready<'_>, sheet: &Sheet) -> Vec<(Scale, Option<f64>)> {
    let frame = sheet.frame();
    let (long, high) = envelope(ready);
    let is_turned = matches!(ready, Ready::Turned(_));
    let (wide, tall) = (frame.width() * 0.62, frame.height() * if is_turned { 0.5 } else { 0.62 });
    let is_long = is_turned && long > 5.0 * high;
    let may_interrupt = is_turned && is_thin(long, high, wide);
    let mut all = Vec::new();
    for scale in Scale::ALL {
        let (paper_long, paper_high) = (long * scale.mm_per_metre(), high * scale.mm_per_metre());
        let too_large = scale.paper > scale.part && paper_high > 60.0;
        let too_stout = is_long && paper_high > 45.0 && scale.paper >= scale.part;
        let too_small = is_turned && paper_high < 1.0;
        if paper_high > tall || too_large || too_stout || too_small {
            continue;
        }
        if paper_long <= wide {
            all.push((scale, None));
        } else if may_interrupt {
            all.extend([90.0, 45.0, 25.0].map(|most| (scale, Some(most))));
        }
    }
    all
}

/// How many sections a part needs.
fn sections(ready: &Ready<'_>) -> usize {
    let Ready::Turned(laid) = ready else { return 0 };
    let sided = |cut: &&Cut| matches!(cut.what, Across::Keyway { .. } | Across::Flats { .. });
    laid.turned.across.iter().filter(sided).count()
}

/// Whether a part that fits without interruption would be less than 15 mm high on paper.
fn is_thin(long: f64, high: f64, wide: f64) -> bool {
    let whole = Scale::ALL.iter().find(|scale| long * scale.mm_per_metre() <= wide);
    whole.is_none_or(|scale| high * scale.mm_per_metre() < 15.0)
}

fn compose(
    shape: &Shape,
    title: &Title,
    sheet: &Sheet,
    ready: &Ready<'_>,
    attempt: Attempt,
) -> Result<Drawing, Miss> {
    let mut figures = Figures::new(unit(shape));
    let Views { canvas: mut views, notes: drawn } = views(ready, attempt, shape.treat.as_ref(), &mut figures);
    let said = if sheet.framed {
        notes::notes(shape, title, &figures, &drawn)
    } else {
        notes::of_figure(title, &figures, &drawn)
    };
    let mut canvas = Canvas::default();
    let banner = title.purpose.of(shape).banner();
    let room = surround(&mut canvas, shape, title, sheet, (&said, figures.unit, attempt.scale));
    if views.extent().height() > room.whole.height() {
        return Err(Miss::TooHigh);
    }
    let (dx, dy) = room.place(&views).ok_or(Miss::Other)?;
    if !is_kept(&views.marks, &views.claims) {
        return Err(Miss::Other);
    }
    views.shift(dx, dy);
    canvas.add(views);
    let height = if sheet.framed { sheet.height } else { trimmed(&mut canvas) };
    Ok(Drawing {
        width: sheet.width,
        height,
        scale: attempt.scale,
        marks: canvas.marks,
        claims: canvas.claims,
        hatched: canvas.hatched,
        numbered: figures.numbered,
        held: figures.held,
        stated: figures.stated,
        notes: banner.map(str::to_owned).into_iter().chain(said).collect(),
    })
}

fn views(ready: &Ready<'_>, attempt: Attempt, treat: Option<&Treat>, figures: &mut Figures) -> Views {
    let scale = attempt.scale.mm_per_metre();
    match ready {
        Ready::Turned(laid) => {
            let manner = Manner { scale, interrupt: attempt.interrupt };
            turned(laid, manner, (attempt.arranged, attempt.spread), attempt.lettering, figures, treat)
        }
        Ready::Flat(part) => flat(part, scale, attempt.spread, attempt.lettering, figures, treat),
    }
}

/// Takes the empty room above and below a figure away; gives the height that is left.
fn trimmed(canvas: &mut Canvas) -> f64 {
    const EDGE: f64 = 1.0;
    let extent = canvas.extent();
    canvas.shift(0.0, EDGE - extent.top);
    extent.height() + 2.0 * EDGE
}

/// The room for views, with the note block that may stick into it.
struct Room {
    whole: Rect,
    notes: Rect,
    /// The view stands right above the notes, not in the middle of its room.
    low: bool,
}

impl Room {
    /// How far the views have to be moved; `None` if they do not fit.
    fn place(&self, canvas: &Canvas) -> Option<(f64, f64)> {
        let views = canvas.extent();
        if views.width() > self.whole.width() || views.height() > self.whole.height() {
            return None;
        }
        let above = Rect { bottom: self.whole.bottom.min(self.notes.top - INSET), ..self.whole };
        let beside = Rect { left: self.notes.right + INSET, ..self.whole };
        let right = Rect { left: self.whole.right - views.width(), ..self.whole };
        let corner = Rect { bottom: self.whole.top + views.height(), ..right };
        let centred = |room: &Rect| {
            let dx = f64::midpoint(room.left, room.right) - f64::midpoint(views.left, views.right);
            let dy = f64::midpoint(room.top, room.bottom) - f64::midpoint(views.top, views.bottom);
            (dx, if self.low { room.bottom - views.bottom } else { dy })
        };
        let taken = self.notes.grown(INSET - 0.5);
        let fits = |room: &&Rect| {
            let (dx, dy) = centred(room);
            let slack = 1e-6;
            let inside = views.width() <= room.width() + slack && views.height() <= room.height() + slack;
            inside && !canvas.overlaps(taken.moved(-dx, -dy))
        };
        [above, beside, self.whole, right, corner].iter().find(fits).map(centred)
    }
}

/// Frame, title block and notes; gives the room that is left.
fn surround(
    canvas: &mut Canvas,
    shape: &Shape,
    title: &Title,
    sheet: &Sheet,
    (said, unit, scale): (&[String], Unit, Scale),
) -> Room {
    let frame = sheet.frame();
    let mut block = 0.0;
    let purpose = title.purpose.of(shape);
    if sheet.framed {
        notes::frame(canvas, frame);
        let projection = if unit == Unit::Inch { Projection::Third } else { Projection::First };
        let facts = Facts { scale: scale.text(), general: notes::general(shape), projection, purpose };
        title::title(canvas, Point::new(frame.right, frame.bottom), title, &facts);
        block = title::HEIGHT;
    }
    let mut whole = frame.grown(-INSET);
    if let Some(words) = purpose.banner() {
        title::banner(canvas, Point::new(whole.left, whole.top), words, whole.width());
        whole.top += title::BANNER;
    }
    let beside = whole.width() - title::WIDTH - INSET;
    let (width, bottom) = match (sheet.framed, beside > 60.0) {
        (false, _) => (whole.width(), whole.bottom),
        (true, true) => (beside, frame.bottom - 2.0),
        (true, false) => (whole.width(), frame.bottom - block - 2.0),
    };
    let lines = notes::broken(said, width);
    let top = bottom - notes::height(&lines, shape);
    let notes = Rect { left: whole.left, top, right: whole.left + notes::width(&lines).min(width), bottom };
    notes::draw(canvas, notes, &lines, shape);
    Room { whole: Rect { bottom: frame.bottom - block - INSET, ..whole }, notes, low: !sheet.framed }
}
