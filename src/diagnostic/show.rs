//! The three forms in which problems are printed.

use std::fmt::Write;

use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use serde::Serialize;

use super::{Problem, Severity, escaped_controls, without_commands};
use crate::text::{FileId, Place, Span, Texts};

/// How a list of problems is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// The line shown, with a mark under the place.
    Text {
        /// With the terminal's colours.
        styled: bool,
        /// The columns of the terminal, if there is one.
        width: Option<usize>,
    },
    /// One line a problem.
    Short,
    Json,
}

/// The problems in this form.
pub fn show(problems: &[Problem], sources: &Texts, format: Format) -> String {
    match format {
        Format::Text { styled, width } => {
            let renderer = if styled { Renderer::styled() } else { Renderer::plain() };
            let renderer = width.map_or(renderer.clone(), |width| renderer.term_width(width));
            let shown: Vec<String> =
                problems.iter().map(|problem| text(problem, sources, &renderer)).collect();
            shown.join("\n")
        }
        Format::Short => problems.iter().map(|problem| short(problem, sources)).collect(),
        Format::Json => json(problems, sources),
    }
}

fn text(problem: &Problem, sources: &Texts, renderer: &Renderer) -> String {
    let (message, help) = (without_commands(&problem.message), without_commands(&problem.help));
    let level = match problem.code.severity {
        Severity::Error => Level::ERROR,
        Severity::Caution => Level::WARNING.with_name("caution"),
    };
    let title = level.primary_title(message.as_str()).id(problem.code.word);
    let mut group = match problem.place {
        Some(span) if sources.file(span.file).text.is_empty() => {
            Group::with_title(title).element(Origin::path(without_commands(&sources.file(span.file).path)))
        }
        _ => Group::with_title(title),
    };
    for (file, annotations) in marked(problem, sources) {
        let file = sources.file(file);
        group = group.element(
            Snippet::source(file.text.as_str()).path(without_commands(&file.path)).annotations(annotations),
        );
    }
    if !help.is_empty() {
        group = group.element(Level::HELP.message(help.as_str()));
    }
    format!("{}\n", renderer.render(&[group]))
}

/// The places of a problem file by file, its own first: those of one file are marked in one picture.
fn marked<'a>(problem: &'a Problem, sources: &Texts) -> Vec<(FileId, Vec<Annotation<'a>>)> {
    let own = problem.place.map(|span| (span, None, AnnotationKind::Primary));
    let others = problem.also.iter().map(|(span, why)| (*span, Some(why.as_str()), AnnotationKind::Context));
    let mut files: Vec<(FileId, Vec<Annotation>)> = Vec::new();
    for (span, label, kind) in own.into_iter().chain(others) {
        let text = &sources.file(span.file).text;
        if text.is_empty() {
            continue;
        }
        let annotation = kind.span(first_line(span, text)).label(label.map(without_commands));
        match files.iter_mut().find(|(file, _)| *file == span.file) {
            Some((_, annotations)) => annotations.push(annotation),
            None => files.push((span.file, vec![annotation])),
        }
    }
    files
}

/// A place that runs over several lines is shown by its first: the eye needs one.
fn first_line(span: Span, text: &str) -> std::ops::Range<usize> {
    let shown = text.get(span.range()).unwrap_or_default();
    let length = shown.find(['\n', '\r']).unwrap_or(shown.len());
    span.start..span.start + length
}

fn short(problem: &Problem, sources: &Texts) -> String {
    let mut line = String::new();
    if let Some((file, Place { line: row, column })) = located(problem, sources) {
        let _ = write!(line, "{file}:{row}:{column}: ");
    }
    let _ = writeln!(line, "{}[{}]: {}", problem.code.severity.word(), problem.code.word, problem.message);
    without_commands(&line)
}

fn located<'a>(problem: &Problem, sources: &'a Texts) -> Option<(&'a str, Place)> {
    problem.place.map(|span| (sources.file(span.file).path.as_str(), sources.place(span)))
}

#[derive(Serialize)]
struct Listing<'a> {
    problems: Vec<Listed<'a>>,
}

#[derive(Serialize)]
struct Listed<'a> {
    code: &'a str,
    severity: &'a str,
    file: Option<&'a str>,
    line: Option<usize>,
    column: Option<usize>,
    message: &'a str,
    help: &'a str,
    places: Vec<Spot<'a>>,
}

/// One place of a problem, from its first character to behind its last; lines and columns from 1.
#[derive(Serialize)]
struct Spot<'a> {
    file: &'a str,
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
    /// What it has to do with the problem; `null` for the problem's own place.
    says: Option<&'a str>,
}

/// The problem's own place first, then the others that belong to it.
fn spots<'a>(problem: &'a Problem, sources: &'a Texts) -> Vec<Spot<'a>> {
    let own = problem.place.map(|span| (span, None));
    let others = problem.also.iter().map(|(span, why)| (*span, Some(why.as_str())));
    let spot = |(span, says): (Span, Option<&'a str>)| {
        let (start, end) = (sources.place(span), sources.end(span));
        Spot {
            file: &sources.file(span.file).path,
            line: start.line,
            column: start.column,
            end_line: end.line,
            end_column: end.column,
            says,
        }
    };
    own.into_iter().chain(others).map(spot).collect()
}

fn json(problems: &[Problem], sources: &Texts) -> String {
    let listed = |problem| {
        let place = located(problem, sources);
        Listed {
            code: problem.code.word,
            severity: problem.code.severity.word(),
            file: place.map(|(file, _)| file),
            line: place.map(|(_, place)| place.line),
            column: place.map(|(_, place)| place.column),
            message: &problem.message,
            help: &problem.help,
            places: spots(problem, sources),
        }
    };
    let listing = Listing { problems: problems.iter().map(listed).collect() };
    let text = serde_json::to_string_pretty(&listing).expect("plain strings and numbers always serialise");
    format!("{}\n", escaped_controls(&text))
}
