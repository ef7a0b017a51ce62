//! The title block: the fields of ISO 7200:2004 (legal owner, number, date, sheet, title, approval, creator, document
//! type), with material, scale and projection.

use super::canvas::Canvas;
use super::drawing::{Pen, Point, Rect};
use super::label::{ADVANCE, Label, Lettering, text_width};
use super::sheet::Projection;
use super::symbol;
use crate::shape::{Shape, sizes};

/// What a drawing is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// The part is to be made.
    #[default]
    Make,
    /// The part is there; what has no brackets is made on it.
    Rework,
    /// The part is there, and nothing is made.
    Information,
}

impl Purpose {
    /// By what is drawn: nothing is made where every size stays as it is.
    pub(crate) fn of(self, shape: &Shape) -> Self {
        let all = sizes(shape);
        let stays = !all.is_empty() && all.iter().all(|(_, size)| size.auxiliary);
        if stays { Self::Information } else { self }
    }

    /// The document type in the title block.
    const fn document(self) -> &'static str {
        match self {
            Self::Make => "Part drawing",
            Self::Rework => "Rework drawing",
            Self::Information => "Information",
        }
    }

    /// How many are to be made.
    const fn quantity(self, typed: &str) -> &str {
        match self {
            Self::Make | Self::Rework => typed,
            Self::Information => "none",
        }
    }

    /// What stands over the view where the part is not a new one.
    pub(crate) const fn banner(self) -> Option<&'static str> {
        match self {
            Self::Make => None,
            Self::Rework => Some("REWORK OF AN EXISTING PART"),
            Self::Information => Some("EXISTING PART: INFORMATION ONLY, NOT TO BE MADE"),
        }
    }
}

/// Height of the banner with the room below it, mm.
pub(crate) const BANNER: f64 = 11.0;

/// The banner in a frame of its own, its upper left corner at `corner`.
pub(crate) fn banner(canvas: &mut Canvas, corner: Point, words: &str, width: f64) {
    let owner = canvas.own();
    let roomy = text_width(words, Lettering::ROOMY.main) + 4.0 <= width;
    let lettering = if roomy { Lettering::ROOMY } else { Lettering::TIGHT };
    let label = Label::text(words);
    let wide = label.width(lettering) + 4.0;
    let rect =
        Rect { left: corner.x, top: corner.y, right: corner.x + wide, bottom: corner.y + BANNER - 4.0 };
    canvas.frame(owner, Pen::Outline, rect);
    let middle = f64::midpoint(rect.top, rect.bottom);
    label.draw(canvas, owner, Point::new(corner.x + 2.0, middle), false, lettering);
}

/// What stands in the title block. Empty fields are drawn empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Title {
    /// What the part is.
    pub title: String,
    /// Its number on the drawing.
    pub number: String,
    /// Material, with its standard.
    pub material: String,
    /// Who owns the drawing.
    pub owner: String,
    /// Who made it.
    pub creator: String,
    /// Who approved it.
    pub approval: String,
    /// When it was issued.
    pub date: String,
    /// Index of revision.
    pub revision: String,
    /// This sheet of how many: `1/1`.
    pub sheet: String,
    /// Mass as printed.
    pub mass: String,
    /// How many are to be made, as printed.
    pub quantity: String,
    /// What the drawing is for; of a shape whose sizes all stay it is for information.
    pub purpose: Purpose,
    /// Reasons for which sizes are on hold, each with what settles it.
    pub settles: Vec<(String, String)>,
    /// Further lines for the note block.
    pub notes: Vec<String>,
}

/// Width of the block (ISO 7200: 180 mm) and height of a field.
pub(crate) const WIDTH: f64 = 180.0;
const FIELD: f64 = 10.0;
/// Width of the title's field.
const TITLE: f64 = 78.0;
pub(crate) const HEIGHT: f64 = 3.0 * FIELD;

/// What the drawing itself knows.
pub(crate) struct Facts {
    pub(crate) scale: String,
    pub(crate) general: String,
    pub(crate) projection: Projection,
    pub(crate) purpose: Purpose,
}

/// Draws the block with its lower right corner at `corner`.
pub(crate) fn title(canvas: &mut Canvas, corner: Point, title: &Title, facts: &Facts) {
    let owner = canvas.own();
    let whole = Rect { left: corner.x - WIDTH, top: corner.y - HEIGHT, right: corner.x, bottom: corner.y };
    canvas.frame(owner, Pen::Frame, whole);
    let number = if title.revision.is_empty() {
        title.number.clone()
    } else {
        format!("{} rev. {}", title.number, title.revision)
    };
    let mut top = whole.top;
    for row in rows(title, &number, facts) {
        let mut left = whole.left;
        for (width, caption, value) in row {
            let rect = Rect { left, top, right: left + width, bottom: top + FIELD };
            field(canvas, owner, rect, caption, value);
            left += width;
        }
        top += FIELD;
    }
    symbol::projection(canvas, owner, Point::new(corner.x - 11.0, whole.top + FIELD / 2.0), facts.projection);
}

/// Width, caption and value of every field.
fn rows<'a>(title: &'a Title, number: &'a str, facts: &'a Facts) -> [Vec<(f64, &'static str, &'a str)>; 3] {
    [
        vec![
            (72.0, "Material", &title.material),
            (40.0, "General tolerances", &facts.general),
            (24.0, "Mass", &title.mass),
            (22.0, "Scale", &facts.scale),
            (22.0, "", ""),
        ],
        vec![
            (TITLE, "Title", &title.title),
            (28.0, "Document type", facts.purpose.document()),
            (52.0, "Number", number),
            (22.0, "Quantity", facts.purpose.quantity(&title.quantity)),
        ],
        vec![
            (52.0, "Owner", &title.owner),
            (42.0, "Drawn", &title.creator),
            (42.0, "Approved", &title.approval),
            (24.0, "Date", &title.date),
            (20.0, "Sheet", &title.sheet),
        ],
    ]
}

fn field(canvas: &mut Canvas, owner: usize, rect: Rect, caption: &str, value: &str) {
    let (corner, low) = (Point::new(rect.right, rect.bottom), Point::new(rect.left, rect.bottom));
    canvas.line(owner, Pen::Thin, low, corner);
    canvas.line(owner, Pen::Thin, Point::new(rect.right, rect.top), corner);
    let lettering = Lettering::TIGHT;
    let mut write = |text: String, y: f64| {
        if !text.is_empty() {
            Label::small(text).draw(
                canvas,
                owner,
                Point::new(rect.left + 1.2, rect.top + y),
                false,
                lettering,
            );
        }
    };
    write(caption.to_owned(), 2.6);
    write(cut(value, rect.width() - 2.0, lettering.small), 7.1);
}

/// A value that does not fit ends in an ellipsis; the notes say it in full.
pub(crate) fn cut(value: &str, room: f64, height: f64) -> String {
    let most = (0..value.chars().count() + 1).rev().find(|n| {
        let n = u32::try_from(*n).unwrap_or(u32::MAX);
        f64::from(n) * ADVANCE * height <= room
    });
    let most = most.unwrap_or(0);
    if value.chars().count() <= most {
        return value.to_owned();
    }
    value.chars().take(most.saturating_sub(1)).chain(['…']).collect()
}

/// Values too long for their fields, in full.
pub(crate) fn in_full(title: &Title) -> Vec<String> {
    let fields = [
        ("Material", &title.material, 70.0),
        ("Title", &title.title, TITLE - 2.0),
        ("Owner", &title.owner, 50.0),
    ];
    let long = fields.into_iter().filter(|(_, value, room)| cut(value, *room, 2.5) != **value);
    long.map(|(name, value, _)| format!("{name}: {value}")).collect()
}
