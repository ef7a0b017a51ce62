//! Figures say what the readings and the standards say.

use std::path::Path;

use super::{build, outside};
use crate::check::folder::write;

/// Where the filled dots of a page stand, in the order in which they were drawn: the middles of closed curves of four
/// arcs, as `pdftocairo -svg` writes a circle.
fn dots(pdf: &Path, page: usize) -> Option<Vec<(f64, f64)>> {
    let page = page.to_string();
    let svg = outside("pdftocairo", &["-svg", "-f", &page, "-l", &page, pdf.to_str()?, "-"])?;
    let filled = |line: &&str| line.contains("fill-rule:nonzero") && line.matches(" C ").count() == 4;
    Some(svg.lines().filter(filled).filter_map(middle).collect())
}

/// The middle of the box round a path's points.
fn middle(path: &str) -> Option<(f64, f64)> {
    let curve = path.split_once(" d=\"")?.1.split_once('"')?.0;
    let numbers: Vec<f64> = curve.split(' ').filter_map(|word| word.parse().ok()).collect();
    let between = |values: Vec<f64>| {
        let least = values.iter().copied().fold(f64::INFINITY, f64::min);
        f64::midpoint(least, values.into_iter().fold(f64::NEG_INFINITY, f64::max))
    };
    let of = |offset: usize| between(numbers.iter().copied().skip(offset).step_by(2).collect());
    Some((of(0), of(1)))
}

fn page_with(pdf: &Path, words: &str) -> Option<usize> {
    let text = outside("pdftotext", &[pdf.to_str()?, "-"])?;
    let page = text.split('\u{c}').position(|page| page.contains(words));
    Some(page.unwrap_or_else(|| panic!("no page says `{words}`")) + 1)
}

fn plate(dir: &Path) {
    let head = "title: The plate\nunits: metric\ninstruments:\n  gauge: {what: a gauge, resolution: 0.01 mm, within: 0.005 mm}\n";
    write(dir, "dossier.yaml", head);
    write(dir, "parts/plate.md", "---\nkind: part\nname: Plate\ndisposition: reuse\n---\n");
}

/// A hundred published readings, plotted and read back from the page: the place of each dot gives its reading to half a
/// unit of the last place.
///
/// Source: NIST Statistical Reference Datasets, univariate, set "Michelso" (A. A. Michelson's measurements of 1879; here
/// as millimetres, `nist_strd_univariate.csv` says what is from memory), twenty rows of five.
#[test]
fn published_readings_stand_where_they_were_read() {
    let table = include_str!("../reference/nist_strd_univariate.csv");
    let set = table.lines().find_map(|row| row.strip_prefix("Michelso,")).unwrap();
    let readings: Vec<&str> = set.rsplit(',').next().unwrap().split(' ').collect();
    let rows: String = readings
        .chunks(5)
        .enumerate()
        .map(|(row, five)| format!("| {} | {} |\n", row + 1, five.join(" | ")))
        .collect();
    let head = "kind: measurement\nof: plate\nfeature: thickness\nstate: as-found\ninstrument: gauge\nunit: mm\nnominal: 299.85 mm";
    let dir = tempfile::tempdir().unwrap();
    plate(dir.path());
    let note = format!("---\n{head}\n---\n| row | 1 | 2 | 3 | 4 | 5 |\n|---|---|---|---|---|---|\n{rows}");
    write(dir.path(), "measurements/thickness.md", note);
    build(dir.path());
    let pdf = dir.path().join("out/dossier.pdf");
    let Some(page) = page_with(&pdf, "from nominal at the worst reading") else { return };
    let dots = dots(&pdf, page).unwrap();
    let values: Vec<f64> = readings.iter().map(|reading| reading.parse().unwrap()).collect();
    assert_eq!((dots.len(), values.len()), (100, 100));

    let least = (0..100).min_by(|one, two| values[*one].total_cmp(&values[*two])).unwrap();
    let most = (0..100).max_by(|one, two| values[*one].total_cmp(&values[*two])).unwrap();
    let a_point = (values[most] - values[least]) / (dots[most].1 - dots[least].1);
    assert!(a_point < 0.0, "greater readings stand higher");
    for (at, (dot, value)) in dots.iter().zip(&values).enumerate() {
        let read = values[least] + (dot.1 - dots[least].1) * a_point;
        assert!((read - value).abs() < 0.005, "reading {at}: {read} for {value}");
        let station = at / 5 * 5;
        assert!((dot.0 - dots[station].0).abs() < 0.01, "reading {at} stands over its row");
        assert!(station == 0 || dot.0 > dots[station - 1].0 + 1.0, "row {} stands to the right", at / 5 + 1);
    }
}

/// A pivot in its bush: a bore within its zone and a journal past it.
fn pivot(dir: &Path) {
    plate(dir);
    let part =
        |name: &str, more: &str| format!("---\nkind: part\nname: {name}\ndisposition: reuse\n{more}---\n");
    write(dir, "parts/pin.md", part("Pin", ""));
    write(dir, "parts/bush.md", part("Bush", "fit: {with: pin, at: 60 mm, class: H7/f7}\n"));
    let measured = |of: &str, surface: &str, reading: &str| {
        format!(
            "---\nkind: measurement\nof: {of}\nfeature: {surface} diameter\nstate: as-found\nsurface: {surface}\ninstrument: fine\nunit: mm\n---\n{reading}\n"
        )
    };
    let head = "title: The pivot\nunits: metric\ninstruments:\n  fine: {what: a gauge, resolution: 0.001 mm, within: 0.001 mm}\n";
    write(dir, "dossier.yaml", head);
    write(
        dir,
        "measurements/inside.md",
        measured(
            "bush",
            "inside",
            "| at | 0° | 90° |\n|---|---|---|\n| a | 60.010 | 60.012 |\n| b | 60.014 | 60.015 |",
        ),
    );
    write(
        dir,
        "measurements/outside.md",
        measured(
            "pin",
            "outside",
            "| at | 0° | 90° |\n|---|---|---|\n| a | 59.930 | 59.945 |\n| b | 59.941 | 59.950 |",
        ),
    );
}

/// Limits of 60 H7/f7, and where the readings stand against them.
///
/// Source: ISO 286-1:2010, Tables 1, 4 and 5, over 50 up to 65 mm: H7 is 0/+30 µm, f7 is -60/-30 µm. The uncertainty by JCGM
/// 100:2008, 4.3.7: half a step of 0.5 µm and the gauge's 1 µm, 2 · √(0.5² + 1²)/√3 = 1.3 µm, printed up to the micrometre
/// that the readings have.
#[test]
fn measured_bores_and_journals_are_judged_against_the_fit() {
    let dir = tempfile::tempdir().unwrap();
    pivot(dir.path());
    build(dir.path());
    let pdf = dir.path().join("out/dossier.pdf");
    let Some(text) = outside("pdftotext", &["-layout", pdf.to_str().unwrap(), "-"]) else { return };
    let line = |holds: &str| {
        let mut lines = text.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
        lines.find(|line| line.contains(holds)).unwrap_or_else(|| panic!("no line `{holds}` in {text}"))
    };
    assert!(line("Hole, H7").contains("60.000 60.030"), "{}", line("Hole, H7"));
    assert!(line("Shaft, f7").contains("59.940 59.970"), "{}", line("Shaft, f7"));
    let bore = line("60.010 60.015");
    assert!(bore.contains("holds, 10 µm inside, known to ± 2 µm"), "{bore}");
    let journal = line("59.930 59.950");
    assert!(journal.contains("fails, worn 10 µm past, known to ± 2 µm"), "{journal}");
    let said = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("Outside its zone: outside diameter, as found (worn 10 µm past, known to ± 2 µm)."),
        "{text}"
    );
    assert!(said.contains("f7 at 60 mm gives 30 to 90 µm of clearance"), "{text}");
}
