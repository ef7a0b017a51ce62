//! One edition of the dossier: what is printed, from what, as of when.

use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use serde::Serialize;

use super::body;
use super::named::Named;
use super::sequence::work_order;
use super::shapes::{DayShape, Doc, Mark, Mention, Picture, RecordShape};
use super::templates::RenderFault;
use crate::calc::literal::{Literal, Piece};
use crate::calc::print::{self, counted, systems};
use crate::calc::units::System;
use crate::calc::units::Unit;
use crate::calc::value::Quantity;
use crate::dossier::{Dossier, NoteId, StepId};
use crate::note::body::{InlineShape, each_inline};
use crate::photo::{Cache, Kind, PhotoFault};
use crate::plan::readiness::{Cause, Obstacle};
use crate::record::MILE;
use crate::record::{Dated, Estimate, PaperSize, PictureMark};
use crate::source::Sources;
use crate::text::FileId;
use crate::typeset::Folder;
use crate::{Outlook, Project};

/// What is printed: a project with all that was worked out from it.
pub struct Edition<'a> {
    pub project: &'a Project,
    pub outlook: &'a Outlook,
    /// The day that the dossier bears.
    pub date: Option<Date>,
    /// Quickly made, and no archival copy.
    pub draft: bool,
    /// The notes that are printed in it; `None` is all of them.
    printed: Option<BTreeSet<NoteId>>,
    /// The pictures that were asked for, by project path.
    pictures: RefCell<BTreeMap<String, Laid>>,
    data: RefCell<Folder>,
    named: OnceCell<Named>,
    numbers: OnceCell<BTreeMap<StepId, usize>>,
}

impl<'a> Edition<'a> {
    pub fn new(project: &'a Project, outlook: &'a Outlook, date: Option<Date>, draft: bool) -> Self {
        let date = date.or_else(|| project.dossier.day_zero());
        Self {
            project,
            outlook,
            date,
            draft,
            printed: None,
            pictures: RefCell::default(),
            data: RefCell::default(),
            named: OnceCell::new(),
            numbers: OnceCell::new(),
        }
    }

    /// The same edition with only these notes printed: every mention of another is its bare name.
    pub(super) fn printing_only(self, printed: BTreeSet<NoteId>) -> Self {
        Self { printed: Some(printed), ..self }
    }

    /// Whether it is a letter about a few notes, which sets its calculations out in short.
    pub(super) fn is_letter(&self) -> bool {
        self.printed.is_some()
    }

    pub(super) fn dossier(&self) -> &'a Dossier {
        &self.project.dossier
    }

    pub(super) fn sources(&self) -> &'a Sources {
        &self.project.sources
    }

    /// What the calculations of all notes name.
    pub(super) fn named(&self) -> &Named {
        self.named.get_or_init(|| Named::of(self.project))
    }

    /// The number of every step in the order of the work, from 1.
    pub(super) fn numbers(&self) -> &BTreeMap<StepId, usize> {
        let numbered = || work_order(self).into_iter().enumerate().map(|(at, step)| (step, at + 1)).collect();
        self.numbers.get_or_init(numbered)
    }

    /// The label of a note; `None` if it is not printed in this edition.
    pub(super) fn label(&self, note: NoteId) -> Option<String> {
        let is_printed = self.printed.as_ref().is_none_or(|printed| printed.contains(&note));
        is_printed.then(|| self.dossier().head(note).id.clone())
    }

    pub(super) fn mention(&self, note: NoteId) -> Mention {
        let dossier = self.dossier();
        let state = match note {
            NoteId::Step(id) => Some(self.project.state(id)),
            NoteId::Question(id) => Some(dossier[id].state.word()),
            NoteId::Finding(id) if !dossier.mended_by(id).is_empty() => Some("mended"),
            NoteId::Finding(id) => dossier[id].severity.map(crate::record::Severity::word),
            _ => None,
        };
        let head = dossier.head(note);
        Mention {
            label: self.label(note),
            id: head.id.clone(),
            name: self.name(note),
            kind: note.kind(),
            state,
            number: self.number(note),
        }
    }

    /// A letter numbers its jobs itself.
    fn number(&self, note: NoteId) -> Option<usize> {
        match note {
            NoteId::Step(step) if !self.is_letter() => self.numbers().get(&step).copied(),
            _ => None,
        }
    }

    /// What a mention calls a note: a measurement is told by its state and date too.
    fn name(&self, note: NoteId) -> String {
        let dossier = self.dossier();
        match note {
            NoteId::Measurement(id) => {
                format!("{}, {}", dossier[id].feature, dossier[id].state.word().replace('-', " "))
            }
            NoteId::Entry(id) => day(dossier[id].date.date).says,
            _ => dossier.title(note),
        }
    }

    pub(super) fn mentions<I: Into<NoteId>>(&self, notes: impl IntoIterator<Item = I>) -> Vec<Mention> {
        notes.into_iter().map(|note| self.mention(note.into())).collect()
    }

    pub(super) fn record(&self, note: NoteId) -> RecordShape {
        self.record_without(note, None)
    }

    /// The record's common shape; the block of its body at `without` is set elsewhere.
    pub(super) fn record_without(&self, note: NoteId, without: Option<crate::text::Span>) -> RecordShape {
        let head = self.dossier().head(note);
        RecordShape {
            id: head.id.clone(),
            label: head.id.clone(),
            body: body::markup(self, note, without),
            named_in: self.named_in(note, &[]),
        }
    }

    /// The notes that name this one, in order of id, without those that the record lists elsewhere.
    pub(super) fn named_in(&self, note: NoteId, listed: &[NoteId]) -> Vec<Mention> {
        let others = self.project.named_in(note).into_iter().filter(|other| !listed.contains(other));
        let mut named_in: Vec<Mention> = self.mentions(others);
        named_in.sort_by(|one, two| one.id.cmp(&two.id));
        named_in
    }

    /// The first picture in the body of the first part without a parent: the machine as a whole.
    pub(super) fn frontispiece(&self) -> Option<Picture> {
        let whole = self.dossier().parts.iter().find(|part| part.within.is_none())?;
        let mut found = None;
        each_inline(&whole.head.body, &mut |inline| {
            if let InlineShape::Picture { target, text } = &inline.shape {
                found = found.take().or(Some((target, text)));
            }
        });
        let (target, text) = found?;
        self.picture(whole.head.file, target, Some(text), &[], COLUMN)
    }

    /// What keeps a step back, told with names instead of ids.
    pub(super) fn because(&self, cause: &Cause) -> String {
        let name = self.dossier().title(cause.note);
        match cause.obstacle {
            Obstacle::Step => format!("first: {name}"),
            Obstacle::Question => format!("open question: {name}"),
            Obstacle::Part => format!("waits for the part: {name}"),
            Obstacle::Record => format!("no record as found: {name}"),
            Obstacle::Recovery => "nothing says how to recover if it goes wrong".to_owned(),
            Obstacle::Capability | Obstacle::Day => self.clause(cause),
            Obstacle::Paper => format!("{name}: {}", self.clause(cause)),
        }
    }

    /// A shop by its place in the dossier, as a reader calls it.
    pub(super) fn shop(&self, place: usize) -> String {
        self.dossier().shops[place].name.clone()
    }

    /// What a cause has to do with what it keeps back, told with names instead of ids.
    pub(super) fn clause(&self, cause: &Cause) -> String {
        cause.clause(self.dossier(), |shop| self.shop(shop))
    }

    /// A quantity in the dossier's system: as it was typed, or converted with what was typed in brackets. What was typed
    /// in the dossier's own has the other system in brackets where the dossier asks for both.
    pub(super) fn typed(&self, literal: &Literal) -> String {
        self.typed_together(&[literal], "")
    }

    /// A nominal size in the dossier's system, as typed or converted to a tenth of a thou or a micrometre: it is exact, so
    /// rounding by the figures it was typed with would move it.
    pub(super) fn typed_size(&self, size: &Literal) -> String {
        let units = &self.dossier().units;
        let is_foreign =
            size.unit.system().is_some_and(|system| system != self.dossier().about.settings.system);
        match units.counterpart(size.unit, size.nominal).filter(|_| is_foreign && size.half_width() == 0.0) {
            Some(unit) => {
                let converted = print::exact(unit.from_si(size.nominal), unit).value();
                format!("{converted} ({})", printed_pieces(size))
            }
            None => self.typed(size),
        }
    }

    /// Several quantities as one: `11 ft × 9 in × 9 in (3.35 m × 229 mm × 229 mm)`.
    pub(super) fn typed_together(&self, literals: &[&Literal], between: &str) -> String {
        let own = self.dossier().about.settings.system;
        let is_foreign = |literal: &&Literal| literal.unit.system().is_some_and(|system| system != own);
        let other = |literal: &&Literal| systems::other_literal(literal, &self.dossier().units);
        let typed: Vec<String> = literals.iter().map(|literal| printed_pieces(literal)).collect();
        let others: Vec<Option<String>> = literals.iter().map(other).collect();
        let leads: Vec<String> = literals
            .iter()
            .zip(&typed)
            .zip(&others)
            .map(|((literal, typed), other)| {
                other.clone().filter(|_| is_foreign(literal)).unwrap_or_else(|| typed.clone())
            })
            .collect();
        if leads == typed && !self.shows_both() {
            return leads.join(between);
        }
        let seconds: Vec<String> = leads
            .iter()
            .zip(typed)
            .zip(others)
            .map(|((lead, typed), other)| if *lead == typed { other.unwrap_or(typed) } else { typed })
            .collect();
        if seconds == leads {
            return leads.join(between);
        }
        format!("{} ({})", leads.join(between), seconds.join(between))
    }

    /// Whether the other system stands in brackets.
    pub(super) fn shows_both(&self) -> bool {
        self.dossier().about.both
    }

    /// A worked-out value in the other system, without its uncertainty, where the dossier asks for both.
    pub(super) fn other(&self, value: &Quantity) -> Option<String> {
        let other = systems::other(value, &self.dossier().units).filter(|_| self.shows_both())?;
        Some(other.plain().value())
    }

    /// A time or cost with its range.
    pub(super) fn estimate(&self, estimate: &Estimate) -> String {
        let unit = estimate.unit;
        let figure = |value: f64| print::exact(unit.from_si(value), unit).number;
        let says = if estimate.low < estimate.high {
            format!("{} to {}", figure(estimate.low), figure(estimate.high))
        } else {
            figure(estimate.likely)
        };
        format!("{says} {}", several(&unit.shown(), &says))
    }

    pub(super) fn mass_unit(&self) -> Unit {
        let name = match self.dossier().about.settings.system {
            System::Inch => "lb",
            System::Metric => "kg",
        };
        self.dossier().units.named(name).unwrap_or_default()
    }

    /// A mass in the dossier's unit, from kilograms.
    pub(super) fn mass_number(&self, kilograms: f64) -> String {
        print::exact(self.mass_unit().from_si(kilograms), self.mass_unit()).number
    }

    /// The ends of a mass in the dossier's unit, from kilograms: `560 to 700`; one figure where they are the same.
    pub(super) fn mass_numbers(&self, (low, high): (f64, f64)) -> String {
        let (low, high) = (self.mass_number(low), self.mass_number(high));
        if low == high { low } else { format!("{low} to {high}") }
    }

    /// The ends with the unit.
    pub(super) fn masses(&self, (low, high): (f64, f64)) -> String {
        let alike = self.mass_number(low) == self.mass_number(high);
        if alike { self.mass(high) } else { format!("{} to {}", self.mass_number(low), self.mass(high)) }
    }

    pub(super) fn mass(&self, kilograms: f64) -> String {
        let unit = self.mass_unit();
        let other = self.other(&Quantity::exact(kilograms, unit.dimension(), unit));
        let other = other.map(|other| format!(" ({other})")).unwrap_or_default();
        format!("{} {}{other}", self.mass_number(kilograms), unit.shown())
    }

    /// How far a shop is, from metres: `17 miles`, `0.2 miles`, `27 km`.
    pub(super) fn away(&self, metres: f64) -> String {
        let figure = |distance: f64| match distance {
            near if near < 9.95 => format!("{near:.1}").trim_end_matches(".0").to_owned(),
            far => format!("{far:.0}"),
        };
        match self.dossier().about.settings.system {
            System::Inch => counted(figure(metres / MILE), "mile"),
            System::Metric => format!("{} km", figure(metres / 1e3)),
        }
    }

    /// A length in the dossier's unit alone, from metres: a cell of a table.
    pub(super) fn length(&self, metres: f64) -> String {
        let name = match self.dossier().about.settings.system {
            System::Inch => "in",
            System::Metric => "mm",
        };
        let unit = self.dossier().units.named(name).unwrap_or_default();
        print::exact(unit.from_si(metres), unit).value()
    }

    /// Whole units of the dossier's money, thousands apart.
    pub(super) fn money(&self, amount: f64) -> String {
        let digits = format!("{amount:.2}");
        let (sign, digits) = digits.strip_prefix('-').map_or(("", digits.as_str()), |rest| ("-", rest));
        let (digits, cents) = digits.split_once('.').unwrap_or((digits, "00"));
        let cents = if cents == "00" { String::new() } else { format!(".{cents}") };
        let groups: Vec<&str> =
            digits.as_bytes().rchunks(3).rev().filter_map(|group| std::str::from_utf8(group).ok()).collect();
        format!("{sign}{}{cents}", groups.join("\u{2009}"))
    }

    /// A picture named in a note, printed at most so many millimetres wide; `None` when it can't be read (a problem says so).
    pub(super) fn picture(
        &self,
        from: FileId,
        target: &str,
        caption: Option<&str>,
        marks: &[PictureMark],
        width: f64,
    ) -> Option<Picture> {
        let path = self.sources().relative(from, &crate::dossier::decoded(target))?;
        let kind = Kind::of(&self.sources().beginning(&path, Kind::BEGINNING).ok()?)?;
        let mut pictures = self.pictures.borrow_mut();
        let number = pictures.len() + 1;
        // A raster has no ending: what it is made into is known only once it is made, and Typst looks at its bytes.
        let ending = if kind == Kind::Svg { ".svg" } else { "" };
        let laid = pictures
            .entry(path)
            .or_insert_with(|| Laid { path: format!("/pictures/{number}{ending}"), width: 0.0 });
        laid.width = laid.width.max(width);
        let shown = laid.path.clone();
        let caption = caption.map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned);
        let name = target.rsplit('/').next().unwrap_or(target);
        let alt = caption.clone().unwrap_or_else(|| format!("Picture {name}, without a description"));
        let mark = |mark: &PictureMark| Mark { x: mark.at[0], y: mark.at[1], says: mark.says.clone() };
        Some(Picture { path: shown, alt, caption, marks: marks.iter().map(mark).collect() })
    }

    /// Lays a table of data into the folder; the path that the template reads it from.
    pub(super) fn lay_data(&self, name: &str, data: &impl Serialize) -> String {
        let path = format!("/data/{name}.json");
        let bytes = serde_json::to_vec(data).expect("plain shapes always serialise");
        self.data.borrow_mut().insert(path.clone(), bytes);
        path
    }

    /// Lays a file made here into the folder.
    pub(super) fn lay_bytes(&self, path: &str, bytes: Vec<u8>) {
        self.data.borrow_mut().insert(path.to_owned(), bytes);
    }

    /// The data and the pictures that the chapters asked for.
    ///
    /// # Errors
    /// Pictures that can't be printed.
    pub(super) fn lay_files(&self, folder: &mut Folder) -> Result<(), RenderFault> {
        folder.extend(self.data.borrow().clone());
        let faults = self.lay_pictures(folder);
        if faults.is_empty() { Ok(()) } else { Err(RenderFault::Pictures(faults)) }
    }

    /// Every picture made ready for its size, without what a camera writes beside it; those that can't be printed.
    fn lay_pictures(&self, folder: &mut Folder) -> Vec<(String, PhotoFault)> {
        let cache = Cache::of_project(self.sources().root());
        let pictures = self.pictures.borrow();
        let jobs: Vec<(&String, f64)> = pictures.iter().map(|(path, laid)| (path, laid.width)).collect();
        let sources = self.sources();
        let made = cache.prepare_all(&jobs, |path| sources.bytes(path));
        cache.sweep();
        let mut faults = Vec::new();
        for ((path, laid), made) in pictures.iter().zip(made) {
            match made {
                Ok(prepared) => {
                    folder.insert(laid.path.clone(), prepared.bytes);
                }
                Err(fault) => faults.push((path.clone(), fault)),
            }
        }
        faults
    }

    pub(super) fn doc(&self) -> Doc {
        let about = &self.dossier().about;
        let undated = DayShape { year: 1970, month: 1, day: 1, says: "undated".to_owned() };
        Doc {
            title: about.title.clone(),
            keeper: about.keeper.clone(),
            revision: about.revision.clone(),
            language: "en",
            paper: match about.paper {
                PaperSize::A4 => "a4",
                PaperSize::Letter => "us-letter",
            },
            date: self.date.map_or(undated, day),
        }
    }
}

/// A picture in the folder.
#[derive(Clone, Debug)]
struct Laid {
    /// Its virtual path.
    path: String,
    /// The widest that it is printed, in millimetres.
    width: f64,
}

/// The printed width of a picture that stands alone, of one of two, of one of more, in millimetres.
pub(super) const COLUMN: f64 = 112.0;
const HALF: f64 = 54.0;
const THIRD: f64 = 34.7;

/// The printed width of each of so many pictures side by side.
pub(super) fn width_of_each(count: usize) -> f64 {
    match count {
        0 | 1 => COLUMN,
        2 => HALF,
        _ => THIRD,
    }
}

/// "14 March 2027".
pub(super) fn day(date: Date) -> DayShape {
    DayShape {
        year: date.year(),
        month: date.month(),
        day: date.day(),
        says: date.strftime("%-d %B %Y").to_string(),
    }
}

/// A quantity as typed: `2 5/16 in`, `25 mm +0.021/−0`.
fn printed_pieces(literal: &Literal) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Figures(figures) => figures.clone(),
        Piece::Unit(unit) => several(&unit.shown(), &literal.print()),
        Piece::PlusMinus => "±".to_owned(),
        Piece::To => "to".to_owned(),
        Piece::Limits(upper, lower) => format!("{upper}/{lower}"),
    };
    let pieces: Vec<String> = literal.pieces().iter().map(piece).filter(|piece| !piece.is_empty()).collect();
    pieces.join(" ")
}

/// A text that begins a sentence.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// "the post" for "The post", in the middle of a sentence; what begins with two capitals stays as it is.
pub(super) fn decapital(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_lowercase() => {
            first.to_lowercase().chain(std::iter::once(second)).chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

/// An uncertainty is not parted from its sign.
pub(super) fn joined(says: &str) -> String {
    says.replace("± ", "±\u{a0}")
}

/// "weeks", unless it is one.
fn several(unit: &str, figures: &str) -> String {
    let is_one = figures == "1"
        || figures.starts_with("1 ") && !figures.contains(['/', '.']) && !figures.contains(" to ");
    match unit {
        "day" | "week" | "month" | "year" if !is_one => format!("{unit}s"),
        _ => unit.to_owned(),
    }
}

pub(super) fn said(dated: Option<Dated>) -> Option<String> {
    dated.map(|dated| day(dated.date).says)
}
