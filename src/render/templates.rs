//! The templates: compiled in, and replaced one by one by a keeper's own.

use std::ops::Range;
use std::path::Path;

use serde::Serialize;
use tera::{Context, ErrorKind, Kwargs, State, Tera, Value};

use super::escape::{Markup, escape, literal};
use crate::diagnostic::nearest;
use crate::photo::PhotoFault;
use crate::source::own_files;
use crate::typeset::Folder;

macro_rules! built_in {
    ($folder:literal: $($name:literal)*) => {
        &[$((concat!($folder, $name), include_str!(concat!("../../templates/", $folder, $name)))),*]
    };
}

/// The templates of chapters and sheets.
const CHAPTERS: &[(&str, &str)] = built_in! { "":
    "assumptions.typ" "attached.typ" "bill.typ" "checks.typ" "closing.typ" "cover.typ" "dossier.typ" "drawing.typ"
    "finding.typ" "index.typ" "inspector.typ" "next.typ" "papers.typ"
    "job.typ" "jobs.typ" "log.typ" "machine.typ" "measurement.typ" "part.typ" "questions.typ" "reading.typ"
    "sequence.typ" "sheet.typ" "since.typ" "sources.typ" "step.typ" "wall.typ"
};

/// The look: plain Typst.
const LOOK: &[(&str, &str)] = built_in! { "look/":
    "axis.typ" "base.typ" "bill.typ" "body.typ" "caution.typ" "cover.typ" "dates.typ" "figure.typ" "fit.typ" "fitness.typ"
    "flow.typ" "index.typ" "lists.typ" "look.typ" "mark.typ" "page.typ" "part.typ" "plot.typ" "readings.typ"
    "record.typ" "sequence.typ" "sheet.typ" "table.typ" "tree.typ" "wall.typ" "working.typ"
};

/// Why a dossier can't be put together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RenderFault {
    /// A template that can't be read or filled in.
    Template(TemplateFault),
    /// Pictures that can't be printed, by their project path.
    Pictures(Vec<(String, PhotoFault)>),
    /// A paper's file that can't be read.
    Paper {
        /// Its project path.
        path: String,
        why: String,
    },
}

/// What is wrong with a template.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TemplateFault {
    pub message: String,
    /// What to do, if it is another thing than to mend the template.
    pub help: Option<String>,
    /// The template's name and text, and where in it, if the fault has a place.
    pub place: Option<(String, String, Range<usize>)>,
}

/// The templates, ready to be filled in.
pub struct Templates {
    tera: Tera,
    chapters: Vec<(String, String)>,
    look: Vec<(String, String)>,
}

impl Templates {
    /// The built-in ones, each replaced by the file of the same name in `own`, if it is there.
    ///
    /// # Errors
    /// A file of `own` that can't be read or is no valid template.
    pub fn load(own: Option<&Path>) -> Result<Self, RenderFault> {
        let own = own.map_or_else(|| Ok(Vec::new()), of_folder)?;
        let mut tera = Tera::new();
        tera.autoescape_on(vec![".typ"]);
        tera.set_escape_fn(|text, out| out.write_all(escape(text).as_bytes()));
        tera.register_filter("literal", as_literal);
        tera.register_filter("safe", as_made);
        let templates = Self { tera, chapters: replaced(CHAPTERS, &own), look: replaced(LOOK, &own) };
        templates.read()
    }

    fn read(mut self) -> Result<Self, RenderFault> {
        let chapters = self.chapters.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        match self.tera.add_raw_templates(chapters) {
            Ok(()) => Ok(self),
            Err(error) => Err(self.fault(&error)),
        }
    }

    fn fault(&self, error: &tera::Error) -> RenderFault {
        let report = match error.kind() {
            ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) => report,
            _ => {
                return RenderFault::Template(TemplateFault {
                    message: told(error),
                    ..TemplateFault::default()
                });
            }
        };
        let text = self.chapters.iter().find(|(name, _)| name == report.filename());
        RenderFault::Template(TemplateFault {
            message: report.message().to_owned(),
            help: None,
            place: text.map(|(name, text)| (name.clone(), text.clone(), report.span().range.clone())),
        })
    }

    /// Fills in a template.
    ///
    /// # Errors
    /// When the template asks for something that is not there.
    pub fn fill(&self, name: &str, context: &impl Serialize) -> Result<String, RenderFault> {
        let filled = Context::from_serialize(context).and_then(|context| self.tera.render(name, &context));
        filled.map_err(|error| self.fault(&error))
    }

    /// Lays the look into the folder.
    pub fn lay_look(&self, folder: &mut Folder) {
        for (name, text) in &self.look {
            folder.insert(format!("/{name}"), text.clone().into_bytes());
        }
    }
}

impl TemplateFault {
    fn of_folder(message: String, help: impl Into<String>) -> RenderFault {
        RenderFault::Template(Self { message, help: Some(help.into()), place: None })
    }
}

/// The keeper's own templates, each with its name.
fn of_folder(folder: &Path) -> Result<Vec<(String, String)>, RenderFault> {
    let unreadable = |error: std::io::Error| {
        let message = format!("{} can't be read: {error}", folder.display());
        TemplateFault::of_folder(
            message,
            "Give the folder that holds your templates, or leave `--templates` out.",
        )
    };
    let files = own_files(folder, "typ").map_err(unreadable)?;
    known(files.iter().map(|(name, _)| name.as_str()))?;
    Ok(files)
}

/// An error with what lies behind it.
fn told(error: &tera::Error) -> String {
    let causes = std::iter::successors(std::error::Error::source(error), |cause| cause.source());
    std::iter::once(error.to_string()).chain(causes.map(ToString::to_string)).collect::<Vec<_>>().join(": ")
}

/// A file of the keeper's folder that is no template of ours would be passed over in silence.
fn known<'a>(mut files: impl Iterator<Item = &'a str>) -> Result<(), RenderFault> {
    let names = || CHAPTERS.iter().chain(LOOK).map(|(name, _)| *name);
    let stranger = files.find(|file| names().all(|name| name != *file));
    stranger.map_or(Ok(()), |file| {
        let message = format!("`{file}` has the name of no template");
        let near = nearest(file, names()).map(|near| format!("Did you mean `{near}`? "));
        let help =
            "The templates that can be replaced are those in the folder `templates` of asfound's source.";
        Err(TemplateFault::of_folder(message, format!("{}{help}", near.unwrap_or_default())))
    })
}

fn replaced(built_in: &[(&str, &str)], own: &[(String, String)]) -> Vec<(String, String)> {
    let text_of = |name: &str, text: &str| {
        own.iter().find(|(file, _)| file == name).map_or_else(|| text.to_owned(), |(_, text)| text.clone())
    };
    built_in.iter().map(|(name, text)| ((*name).to_owned(), text_of(name, text))).collect()
}

/// The filter `literal`: a value as a Typst literal.
fn as_literal(value: &Value, _: Kwargs, _: &State) -> Value {
    let plain = serde_json::to_value(value).unwrap_or_default();
    Value::safe_string(&literal(&plain))
}

/// The filter `safe`: made text as it is, anything else escaped like everywhere.
fn as_made(value: &Value, _: Kwargs, _: &State) -> Value {
    let plain = serde_json::to_value(value).unwrap_or_default();
    let text = Markup::in_template(&plain).map(str::to_owned);
    Value::safe_string(&text.unwrap_or_else(|| escape(plain.as_str().unwrap_or_default())))
}
