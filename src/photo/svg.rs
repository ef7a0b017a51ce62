//! Drawings made of lines: whole, and sufficient to themselves.

use roxmltree::{Attribute, Document, Node, ParsingOptions};

use super::PhotoFault;

/// More elements and texts than this are no drawing that a page can show.
const MOST_NODES: u32 = 2_000_000;

/// Elements nested deeper than this are refused.
const DEEPEST: u32 = 500;

/// The size of an SVG that states none: CSS 2.2, 10.3.2.
const UNSTATED: (f64, f64) = (300.0, 150.0);

/// Width and height in pixels (96 to the inch) of an SVG that is well formed, holds no script and refers to nothing
/// outside itself.
pub(super) fn examine(bytes: &[u8]) -> Result<(u32, u32), PhotoFault> {
    let text =
        std::str::from_utf8(bytes).map_err(|_| PhotoFault::Malformed("it is not UTF-8 text".to_owned()))?;
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options)
        .map_err(|error| PhotoFault::Malformed(error.to_string()))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(PhotoFault::Malformed(format!("it is a `{}` document", root.tag_name().name())));
    }
    check_depth(&document)?;
    for node in document.descendants() {
        if let Some(what) = reach(&node) {
            return Err(PhotoFault::Reaches { line: document.text_pos_at(node.range().start).row, what });
        }
    }
    Ok(size(&root))
}

fn check_depth(document: &Document) -> Result<(), PhotoFault> {
    let mut depths: Vec<u32> = Vec::new();
    for node in document.descendants() {
        let depth =
            node.parent().and_then(|parent| depths.get(parent.id().get_usize())).map_or(0, |above| above + 1);
        if depth > DEEPEST {
            return Err(PhotoFault::Malformed(format!("its elements are nested more than {DEEPEST} deep")));
        }
        depths.push(depth);
    }
    Ok(())
}

/// What in a node runs or leads out of the file.
fn reach(node: &Node) -> Option<String> {
    if node.is_pi() {
        return node
            .pi()
            .filter(|pi| pi.target == "xml-stylesheet")
            .map(|_| "it calls for a style sheet".to_owned());
    }
    if node.is_text() {
        let in_style = node.parent().is_some_and(|parent| parent.tag_name().name() == "style");
        return node.text().filter(|_| in_style).and_then(style_reach);
    }
    if node.tag_name().name().eq_ignore_ascii_case("script") {
        return Some("it holds a script".to_owned());
    }
    node.attributes().find_map(|attribute| attribute_reach(&attribute))
}

fn attribute_reach(attribute: &Attribute) -> Option<String> {
    let (name, value) = (attribute.name(), attribute.value());
    if name.eq_ignore_ascii_case("href") {
        return (!is_within(value)).then(|| format!("it refers to `{}`", shortened(value)));
    }
    if attribute.namespace().is_none() && name.get(..2).is_some_and(|start| start.eq_ignore_ascii_case("on"))
    {
        return Some(format!("it holds a script, `{name}`"));
    }
    style_reach(value)
}

/// What a style calls for from outside, by `@import` or `url(…)`.
fn style_reach(style: &str) -> Option<String> {
    let style = style.to_ascii_lowercase();
    if style.contains("@import") {
        return Some("its style imports another".to_owned());
    }
    let targets = style.split("url(").skip(1).map(|rest| rest.split(')').next().unwrap_or(rest));
    let mut targets = targets.map(|target| target.trim().trim_matches(['"', '\'']));
    targets
        .find(|target| !is_within(target))
        .map(|target| format!("its style refers to `{}`", shortened(target)))
}

/// Whether a reference stays in the file.
fn is_within(target: &str) -> bool {
    let target = target.trim_start();
    target.is_empty()
        || target.starts_with('#')
        || target.get(..5).is_some_and(|start| start.eq_ignore_ascii_case("data:"))
}

fn shortened(target: &str) -> String {
    let (most, mut short) = (60, String::new());
    short.extend(target.chars().take(most));
    if short.len() < target.len() {
        short.push('…');
    }
    short
}

fn size(root: &Node) -> (u32, u32) {
    let (own_width, own_height) = view_box(root).unwrap_or(UNSTATED);
    let ratio = own_width / own_height;
    let stated = |name| root.attribute(name).and_then(length);
    let (width, height) = match (stated("width"), stated("height")) {
        (Some(width), Some(height)) => (width, height),
        (Some(width), None) => (width, width / ratio),
        (None, Some(height)) => (height * ratio, height),
        (None, None) => (own_width, own_height),
    };
    (pixels(width), pixels(height))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates, as it should"
)]
fn pixels(length: f64) -> u32 {
    (length.round() as u32).max(1)
}

fn view_box(root: &Node) -> Option<(f64, f64)> {
    let text = root.attribute("viewBox")?;
    let numbers: Vec<f64> = text
        .split(|each: char| each == ',' || each.is_ascii_whitespace())
        .filter_map(|word| word.parse().ok())
        .collect();
    match numbers[..] {
        [_, _, width, height] if width > 0.0 && height > 0.0 => Some((width, height)),
        _ => None,
    }
}

/// A length in CSS pixels (CSS Values 3, 6.2); `None` for a share of something else, such as `100%`.
fn length(text: &str) -> Option<f64> {
    let text = text.trim();
    let end = text.find(|each: char| each.is_ascii_alphabetic() || each == '%').unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let pixels = match unit.to_ascii_lowercase().as_str() {
        "" | "px" => 1.0,
        "in" => 96.0,
        "cm" => 96.0 / 2.54,
        "mm" => 96.0 / 25.4,
        "q" => 96.0 / 101.6,
        "pt" => 96.0 / 72.0,
        "pc" => 16.0,
        _ => return None,
    };
    number.trim().parse::<f64>().ok().map(|number| number * pixels).filter(|length| *length > 0.0)
}
