//! The calculation engine: one line of nine operations with two uncertain inputs, and ten thousand lines.

use asfound::calc::bench::PressFit;
use asfound::calc::sheet::{Block, Scope, SourceLine, evaluate};
use asfound::calc::uncertainty::Sources;
use asfound::calc::units::{Settings, Units};

fn main() {
    divan::main();
}

/// Runs of the line in one sample: the timer's own step is no part of the figure.
const RUNS: u32 = 1000;

#[divan::bench(sample_size = RUNS)]
fn parse_and_evaluate(bencher: divan::Bencher) {
    let mut press_fit = PressFit::new();
    bencher.bench_local(|| press_fit.parse_and_evaluate());
}

#[divan::bench(sample_size = RUNS)]
fn evaluate_alone(bencher: divan::Bencher) {
    let mut press_fit = PressFit::new();
    let line = press_fit.parsed();
    bencher.bench_local(|| press_fit.evaluate(&line));
}

/// A chain of notes, each with a block of ten lines that uses the note before; working and figures included.
#[divan::bench]
fn ten_thousand_lines(bencher: divan::Bencher) {
    let scopes: Vec<Scope> = (0..1000).map(note).collect();
    let units = Units::new(&Settings::default());
    bencher.bench_local(|| {
        let evaluation = evaluate(divan::black_box(&scopes), &units, &[], Sources::new());
        assert!(evaluation.faults.is_empty());
        evaluation
    });
}

fn note(index: usize) -> Scope {
    let before = match index % 20 {
        0 => "50 mm".to_owned(),
        _ => format!("@note-{}.clearance", index - 1),
    };
    let text = format!(
        "journal = 2.7478 in ± 0.0002 in\n\
         bore = 2 3/4 in +0.0018/-0\n\
         before = {before}\n\
         clearance = bore - journal\n\
         area = pi / 4 * (bore^2 - journal^2) to mm^2\n\
         pressure = 12 kN / (journal * 4 in) to MPa\n\
         check clearance within 0.0015 in .. 0.0050 in \"running fit\"\n\
         speed = journal / 2 * 12 rpm to m/s\n\
         pv = pressure * speed\n\
         rest = before + clearance"
    );
    let mut offset = 0;
    let lines = text.lines().map(|line| {
        let start = offset;
        offset += line.len() + 1;
        SourceLine { text: line.to_owned(), offset: start }
    });
    Scope { id: format!("note-{index}"), blocks: vec![Block { lines: lines.collect() }], ..Scope::default() }
}
