//! The templates: compiled in, and replaced one by one by a keeper's own.

use std::path::Path;

use serde::Serialize;
use tera::{Context, Kwargs, State, Tera, Value};

use super::escape::{escape, literal};
use crate::photo::PhotoFault;
use crate::typeset::Folder;

macro_rules! built_in {
    ($folder:literal: $($name:literal)*) => {
        &[$((concat!($folder, $name), include_str!(concat!("../../templates/", $folder, $name)))),*]
    };
}

/// The templates of chapters and sheets.
const CHAPTERS: &[(&str, &str)] = built_in! { "":
    "assumptions.typ" "attached.typ" "bill.typ" "closing.typ" "cover.typ" "dossier.typ" "finding.typ" "index.typ"
    "job.typ" "jobs.typ" "log.typ" "machine.typ" "measurement.typ" "part.typ" "questions.typ" "reading.typ"
    "sequence.typ" "sheet.typ" "since.typ" "sources.typ" "step.typ"
};

/// The look: plain Typst.
const LOOK: &[(&str, &str)] = built_in! { "look/":
    "axis.typ" "base.typ" "bill.typ" "body.typ" "caution.typ" "chart.typ" "cover.typ" "figure.typ" "fit.typ"
    "index.typ" "lists.typ" "look.typ" "mark.typ" "page.typ" "part.typ" "plot.typ" "readings.typ" "record.typ"
    "sequence.typ" "sheet.typ" "table.typ" "tree.typ" "working.typ"
};

/// Why a dossier can't be put together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RenderFault {
    /// A template that can't be read or filled in: which, where and why.
    Template(String),
    /// Pictures that can't be printed, by their project path.
    Pictures(Vec<(String, PhotoFault)>),
}

/// The templates, ready to be filled in.
pub struct Templates {
    tera: Tera,
    look: Vec<(String, String)>,
}

impl Templates {
    /// The built-in ones, each replaced by the file of the same name in `own`, if it is there.
    ///
    /// # Errors
    /// A file of `own` that can't be read or is no valid template.
    pub fn load(own: Option<&Path>) -> Result<Self, RenderFault> {
        let mut tera = Tera::new();
        tera.autoescape_on(vec![".typ"]);
        tera.set_escape_fn(|text, out| out.write_all(escape(text).as_bytes()));
        tera.register_filter("literal", as_literal);
        let chapters = replaced(CHAPTERS, own)?;
        tera.add_raw_templates(chapters.iter().map(|(name, text)| (name.as_str(), text.as_str())))
            .map_err(fault)?;
        Ok(Self { tera, look: replaced(LOOK, own)? })
    }

    /// Fills in a template.
    ///
    /// # Errors
    /// When the template asks for something that is not there.
    pub fn fill(&self, name: &str, context: &impl Serialize) -> Result<String, RenderFault> {
        let context = Context::from_serialize(context).map_err(fault)?;
        self.tera.render(name, &context).map_err(fault)
    }

    /// Lays the look into the folder.
    pub fn lay_look(&self, folder: &mut Folder) {
        for (name, text) in &self.look {
            folder.insert(format!("/{name}"), text.clone().into_bytes());
        }
    }
}

#[expect(clippy::needless_pass_by_value, reason = "`map_err` hands it over")]
fn fault(error: tera::Error) -> RenderFault {
    let causes = std::iter::successors(std::error::Error::source(&error), |cause| cause.source());
    let said: Vec<String> =
        std::iter::once(error.to_string()).chain(causes.map(ToString::to_string)).collect();
    RenderFault::Template(said.join(": "))
}

fn replaced(built_in: &[(&str, &str)], own: Option<&Path>) -> Result<Vec<(String, String)>, RenderFault> {
    let one = |(name, text): &(&str, &str)| {
        let path = own.map(|folder| folder.join(name)).filter(|path| path.is_file());
        let text = match path {
            None => (*text).to_owned(),
            Some(path) => std::fs::read_to_string(&path)
                .map_err(|error| RenderFault::Template(format!("{}: {error}", path.display())))?,
        };
        Ok(((*name).to_owned(), text))
    };
    built_in.iter().map(one).collect()
}

/// The filter `literal`: a value as a Typst literal.
fn as_literal(value: &Value, _: Kwargs, _: &State) -> Value {
    let plain = serde_json::to_value(value).unwrap_or_default();
    Value::safe_string(&literal(&plain))
}
