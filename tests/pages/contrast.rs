//! Every colour of the look can be read on white paper.

use std::fs;
use std::path::Path;

/// Success criterion 1.4.3, level AA.
const LEAST: f64 = 4.5;

/// Relative luminance and contrast ratio of a colour against white.
///
/// Source: WCAG 2.2 (W3C Recommendation), definitions of "relative luminance" and "contrast ratio".
fn contrast_with_white([red, green, blue]: [u8; 3]) -> f64 {
    let linear = |channel: u8| {
        let share = f64::from(channel) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { libm::pow((share + 0.055) / 1.055, 2.4) }
    };
    let luminance = 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
    1.05 / (luminance + 0.05)
}

/// A channel as the look writes it: 0 to 255, or a share.
fn channel(text: &str) -> Option<u8> {
    match text.strip_suffix('%') {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of 255")]
        Some(share) => share.parse::<f64>().ok().map(|share| (share * 2.55).round() as u8),
        None => text.parse().ok(),
    }
}

/// The colour in `luma(90)`, `rgb("#8a2a16")` or `rgb(138, 42, 22)`; `arguments` is what stands in the brackets.
fn colour(function: &str, arguments: &str) -> Option<[u8; 3]> {
    if function == "luma" {
        return channel(arguments.trim()).map(|grey| [grey; 3]);
    }
    if let Some(hex) = arguments.trim().trim_matches('"').strip_prefix('#') {
        let pair = |at: usize| u8::from_str_radix(hex.get(at..at + 2)?, 16).ok();
        return (hex.len() == 6).then_some([pair(0)?, pair(2)?, pair(4)?]);
    }
    let channels: Vec<u8> = arguments.split(',').filter_map(|each| channel(each.trim())).collect();
    channels.try_into().ok()
}

/// What is no colour by these functions, and so could slip past the test.
const OTHER_WAYS: &[&str] = &[
    "cmyk(",
    "oklab(",
    "oklch(",
    "hsl(",
    "hsv(",
    "linear-rgb(",
    ".lighten(",
    ".darken(",
    ".transparentize(",
    "gradient.",
];

/// Names of Typst's own colours, but for black and white.
const NAMED: &[&str] = &[
    "gray", "silver", "navy", "blue", "aqua", "teal", "eastern", "purple", "fuchsia", "maroon", "red",
    "orange", "yellow", "olive", "green", "lime",
];

fn look() -> Vec<(String, String)> {
    let templates = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates");
    let folders = [templates.join("look"), templates];
    let files =
        folders.iter().flat_map(|folder| fs::read_dir(folder).unwrap()).map(|entry| entry.unwrap().path());
    let texts = files.filter(|path| path.extension().is_some_and(|ending| ending == "typ"));
    texts.map(|path| (path.display().to_string(), fs::read_to_string(&path).unwrap())).collect()
}

/// Without its comments.
fn code(line: &str) -> &str {
    line.split("// ").next().unwrap_or_default()
}

#[test]
fn the_formula_agrees_with_the_published_extremes() {
    // WCAG 2.2: ratios range from 1 to 21. #767676 is the lightest grey that reaches 4.5 to 1 (W3C, Technique G18's usual
    // example; from memory).
    assert!((contrast_with_white([0; 3]) - 21.0).abs() < 1e-9);
    assert!((contrast_with_white([255; 3]) - 1.0).abs() < 1e-9);
    assert!(contrast_with_white([0x76; 3]) >= LEAST && contrast_with_white([0x77; 3]) < LEAST);
}

#[test]
fn every_colour_of_the_look_can_be_read_on_white() {
    let mut found = 0;
    for (file, text) in look() {
        for line in text.lines().map(code) {
            for way in OTHER_WAYS {
                assert!(!line.contains(way), "{file}: `{way}` is not read by this test: {line}");
            }
            let is_name = |word: &&str| NAMED.contains(word);
            let paints = line.contains("fill:") || line.contains("stroke:") || line.contains("paint:");
            let names = line.split(|letter: char| !letter.is_alphanumeric() && letter != '-').find(is_name);
            assert!(!paints || names.is_none(), "{file}: {line}");
            for function in ["luma", "rgb"] {
                for (at, _) in line.match_indices(&format!("{function}(")) {
                    let arguments = &line[at + function.len() + 1..];
                    let arguments = arguments.split(')').next().unwrap_or_default();
                    let colour =
                        colour(function, arguments).unwrap_or_else(|| panic!("{file}: not read: {line}"));
                    let ratio = contrast_with_white(colour);
                    assert!(ratio >= LEAST, "{file}: {function}({arguments}) is {ratio:.2} to 1 on white");
                    found += 1;
                }
            }
        }
    }
    assert!(found >= 3, "{found} colours");
}
