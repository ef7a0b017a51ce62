//! What the outcome of a line keeps of what was read: references, what a check asks, the literal, where a fault lies.

use asfound::calc::one::{Session, evaluate_line};
use asfound::calc::sheet::{Block, LineOutcome, Quote, Reference, Referent, Scope, SourceLine, evaluate};
use asfound::calc::syntax::Comparison;
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Units};

use super::functions;

fn units() -> Units {
    Units::new(&Settings::default())
}

/// A line behind others, as at the prompt.
fn last(lines: &[&str]) -> LineOutcome {
    let mut session = Session::new(functions::ALL);
    let outcomes = lines.iter().map(|line| {
        evaluate_line(line, &units(), &mut session)
            .unwrap_or_else(|faults| panic!("{line}: {faults:?}"))
            .outcome
    });
    outcomes.last().expect("a line")
}

fn told(reference: &Reference) -> (Option<&str>, &str, Option<&str>, Referent) {
    (reference.note.as_deref(), &reference.name, reference.field.as_deref(), reference.referent)
}

#[test]
fn a_line_tells_what_it_refers_to() {
    let text = "gap = one.x-@other.two.y + twice(pi*depth) - round(3) \"as @other.three\"";
    let blocks = ["one = 3 mm\ndepth = 2 mm\ntwice(x) = 2*x", text].map(|text| Block {
        lines: text.lines().map(|line| SourceLine { text: line.to_owned(), offset: 100 }).collect(),
    });
    let quotes = vec![Quote { text: "depth to in".to_owned(), offset: 7, named: None }];
    let own = Scope { id: "own".to_owned(), blocks: blocks.to_vec(), quotes, ..Scope::default() };
    let other = Scope { id: "other".to_owned(), ..Scope::default() };
    let outcome = evaluate(&[own, other], &units(), functions::ALL, Sources::new());
    let line = &outcome.scopes[0].blocks[1].lines[0];
    assert_eq!(
        line.references.iter().map(told).collect::<Vec<_>>(),
        [
            (None, "one", Some("x"), Referent::Line),
            (Some("other"), "two", Some("y"), Referent::Unknown),
            (None, "twice", None, Referent::Function),
            (None, "depth", None, Referent::Line),
        ]
    );
    for reference in &line.references {
        let typed = &text[reference.range.start - 100..reference.range.end - 100];
        let note = reference.note.as_ref().map(|note| format!("@{note}.")).unwrap_or_default();
        let field = reference.field.as_ref().map(|field| format!(".{field}")).unwrap_or_default();
        assert_eq!(typed, format!("{note}{}{field}", reference.name));
    }
    let quoted = &outcome.scopes[0].quotes[0].references;
    assert_eq!(quoted.iter().map(told).collect::<Vec<_>>(), [(None, "depth", None, Referent::Line)]);
    assert_eq!(quoted[0].range, 7..12);
}

/// An inch mark is no quote, and brackets belong to what is asked.
#[test]
fn a_check_keeps_its_sides() {
    let asked = last(&["check (2 in + 1/2\") >= 2 5/16\" \"as drawn\""]).asked.expect("a check");
    assert_eq!(asked.text, "(2 in + 1/2\") >= 2 5/16\"");
    assert_eq!(asked.relation, Comparison::AtLeast);
    assert!(asked.subject.literal.is_none() && asked.high.is_none());
    let low = asked.low.expect("a limit");
    assert_eq!(low.text, "2 5/16\"");
    assert_eq!(low.literal.map(|literal| literal.print()).as_deref(), Some("2 5/16 in"));
    let asked = last(&["check 3 mm within (1 mm +\n 1 mm) .. 4 mm # why"]).asked.expect("a check");
    assert_eq!(asked.text, "3 mm within (1 mm + 1 mm) .. 4 mm");
    assert!(asked.low.is_some_and(|low| low.literal.is_none()));
    assert!(asked.high.is_some_and(|high| high.literal.is_some()));
}

#[test]
fn a_value_is_a_literal_or_computed() {
    assert!(last(&["wall = 3 mm"]).literal.is_some());
    assert!(last(&["wall = 3 mm", "both = 2*wall"]).literal.is_none());
}

/// The innermost function is the one to look at.
#[test]
fn a_fault_knows_the_function_that_it_lies_in() {
    let mut session = Session::new(functions::ALL);
    for line in ["f(x) = x + 1 kg", "g(x) = f(x)"] {
        evaluate_line(line, &units(), &mut session).expect("a function");
    }
    let faults = evaluate_line("g(2 mm)", &units(), &mut session).expect_err("a fault");
    assert_eq!(faults[0].function.as_deref(), Some("f"));
    assert_eq!(faults[0].says(), format!("in `f`: {}", faults[0].message));
}
