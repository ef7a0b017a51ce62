//! Drawings made of lines: whole, and sufficient to themselves.

use std::collections::HashMap;
use std::ops::Range;

use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use roxmltree::{Attribute, Document, Node, NodeId, ParsingOptions};

use super::{Kind, LONGEST_SIDE, PhotoFault, prepare_to};

/// More elements and texts than this are no drawing that a page can show.
const MOST_NODES: u32 = 2_000_000;

/// Elements nested deeper than this are refused.
const DEEPEST: u32 = 500;

/// Elements that stand for others (`use`, patterns, masks) refer to each other no deeper than this.
const DEEPEST_REFERENCE: u32 = 50;

/// An SVG within an SVG within an SVG is the last that is looked into.
const DEEPEST_PICTURE: u32 = 2;

/// The size of an SVG that states none: CSS 2.2, 10.3.2.
const UNSTATED: (f64, f64) = (300.0, 150.0);

/// Width and height in pixels (96 to the inch) of an SVG that is well formed, holds no script, refers to nothing outside
/// itself, and costs no more to draw than what stands in it.
pub(super) fn examine(bytes: &[u8]) -> Result<(u32, u32), PhotoFault> {
    read(text(bytes)?, |document| size(&document.root_element()))?
}

/// The SVG with the pictures within it encoded anew, so that nothing is left in them but pixels; and its size.
///
/// # Errors
/// As [`examine`]; and when a picture within it is none that can be printed.
pub(super) fn clean(bytes: &[u8]) -> Result<(Vec<u8>, (u32, u32)), PhotoFault> {
    clean_within(bytes, 0)
}

fn clean_within(bytes: &[u8], depth: u32) -> Result<(Vec<u8>, (u32, u32)), PhotoFault> {
    let text = text(bytes)?;
    let (size, pictures) = read(text, |document| (size(&document.root_element()), pictures(document)))?;
    let (size, mut cleaned) = (size?, text.to_owned());
    // From the end, so that the places before stay.
    for Embedded { place, line, address } in pictures.into_iter().rev() {
        let fresh = fresh_address(&address, line, depth)?;
        cleaned.replace_range(place, &fresh);
    }
    Ok((cleaned.into_bytes(), size))
}

fn text(bytes: &[u8]) -> Result<&str, PhotoFault> {
    std::str::from_utf8(bytes).map_err(|_| PhotoFault::Malformed("it is not UTF-8 text".to_owned()))
}

/// What `find` finds in an SVG in which nothing is wrong.
fn read<T>(text: &str, find: impl FnOnce(&Document) -> T) -> Result<T, PhotoFault> {
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options)
        .map_err(|error| PhotoFault::Malformed(error.to_string()))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(PhotoFault::Malformed(format!("it is a `{}` document", root.tag_name().name())));
    }
    check_depth(&document)?;
    for node in document.descendants() {
        let line = || document.text_pos_at(node.range().start).row;
        if let Some(what) = reach(&node) {
            return Err(PhotoFault::Reaches { line: line(), what });
        }
        if let Some(what) = effect(&node) {
            return Err(PhotoFault::Costly { line: line(), what });
        }
    }
    Expansion::of(&document).check(&document)?;
    Ok(find(&document))
}

/// A picture within a drawing.
struct Embedded {
    /// Of its address, in the text.
    place: Range<usize>,
    line: u32,
    /// `data:image/jpeg;base64,…`
    address: String,
}

/// The pictures within, in the order of their places, each once.
fn pictures(document: &Document) -> Vec<Embedded> {
    let is_data = |attribute: &Attribute| {
        attribute.name().eq_ignore_ascii_case("href")
            && attribute.value().trim_start().len() > 5
            && !attribute.value().trim_start().starts_with('#')
    };
    let attributes = document.descendants().flat_map(|node| node.attributes());
    let embedded = |attribute: Attribute| Embedded {
        place: attribute.range_value(),
        line: document.text_pos_at(attribute.range().start).row,
        address: attribute.value().to_owned(),
    };
    let mut pictures: Vec<Embedded> = attributes.filter(is_data).map(embedded).collect();
    pictures.sort_by_key(|picture| picture.place.start);
    pictures.dedup_by_key(|picture| picture.place.start);
    pictures
}

/// The address of the same picture with nothing in it but pixels.
fn fresh_address(address: &str, line: u32, depth: u32) -> Result<String, PhotoFault> {
    let within = |why: &str| PhotoFault::Within { line, why: why.to_owned() };
    let Some((_, data)) = address.split_once(";base64,") else {
        return Err(within("its data are not in base64"));
    };
    let packed: String = data.chars().filter(|letter| !letter.is_ascii_whitespace()).collect();
    let bytes = BASE64.decode(packed).map_err(|error| within(&error.to_string()))?;
    let (bytes, kind) = match Kind::recognise(&bytes) {
        Ok(Kind::Svg) if depth >= DEEPEST_PICTURE => {
            return Err(within("drawings lie too deep within each other"));
        }
        Ok(Kind::Svg) => {
            (clean_within(&bytes, depth + 1).map_err(|fault| within(&fault.to_string()))?.0, Kind::Svg)
        }
        Ok(_) => {
            let fresh = prepare_to(&bytes, LONGEST_SIDE).map_err(|fault| within(&fault.to_string()))?;
            (fresh.bytes, fresh.kind)
        }
        Err(fault) => return Err(within(&fault.to_string())),
    };
    Ok(format!("data:{};base64,{}", kind.media_type(), BASE64.encode(bytes)))
}

/// An effect that is worked out pixel by pixel when the page is made: it can take any time and memory.
fn effect(node: &Node) -> Option<String> {
    if node.tag_name().name() == "filter" {
        return Some("it holds a filter".to_owned());
    }
    let calls = |declarations: &str| {
        let declared = declarations.split([';', '{', '}']).filter_map(|each| each.split_once(':'));
        declared.into_iter().any(|(name, value)| name.trim() == "filter" && value.trim() != "none")
    };
    let in_style = node.is_text() && node.parent().is_some_and(|parent| parent.tag_name().name() == "style");
    let uses_one = (in_style && node.text().is_some_and(calls))
        || node.attribute("style").is_some_and(calls)
        || node.attribute("filter").is_some_and(|value| value.trim() != "none");
    uses_one.then(|| "it uses a filter".to_owned())
}

/// How many elements are drawn once every reference is followed.
struct Expansion<'a> {
    by_id: HashMap<&'a str, Node<'a, 'a>>,
    known: HashMap<NodeId, u64>,
}

impl<'a> Expansion<'a> {
    fn of(document: &'a Document<'a>) -> Self {
        let named = |node: Node<'a, 'a>| node.attribute("id").map(|id| (id, node));
        Self { by_id: document.descendants().filter_map(named).collect(), known: HashMap::new() }
    }

    fn check(mut self, document: &'a Document<'a>) -> Result<(), PhotoFault> {
        let (mut drawn, most) = (0_u64, u64::from(MOST_NODES));
        for node in document.descendants() {
            drawn = drawn.saturating_add(1);
            if let Some(target) = self.target(&node) {
                drawn = drawn.saturating_add(self.drawn_below(target, 0));
            }
            if drawn > most {
                let line = document.text_pos_at(node.range().start).row;
                let what = format!("its references stand for more than {MOST_NODES} elements");
                return Err(PhotoFault::Costly { line, what });
            }
        }
        Ok(())
    }

    fn drawn_below(&mut self, node: Node<'a, 'a>, depth: u32) -> u64 {
        if let Some(known) = self.known.get(&node.id()) {
            return *known;
        }
        if depth > DEEPEST_REFERENCE {
            return u64::MAX;
        }
        // What refers to itself is not drawn.
        self.known.insert(node.id(), 0);
        let mut drawn = 0_u64;
        for below in node.descendants() {
            let further = self.target(&below).map_or(0, |target| self.drawn_below(target, depth + 1));
            drawn = drawn.saturating_add(1).saturating_add(further);
        }
        self.known.insert(node.id(), drawn);
        drawn
    }

    /// The element of this drawing that another stands for or is painted with.
    fn target(&self, node: &Node<'a, 'a>) -> Option<Node<'a, 'a>> {
        let referred = |attribute: Attribute<'a, 'a>| {
            let value = attribute.value().trim();
            let painted = || value.split_once("url(").map(|(_, rest)| rest.trim_start_matches(['"', '\'']));
            let id = if attribute.name() == "href" { Some(value) } else { painted() }?.strip_prefix('#')?;
            let end = id.find([')', '"', '\'']).unwrap_or(id.len());
            self.by_id.get(&id[..end]).copied()
        };
        node.attributes().find_map(referred)
    }
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
            .map(|_| "it uses a style sheet".to_owned());
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

/// What a style loads from outside, by `@import` or `url(…)`.
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

/// How wide it is in the units that its own sizes are in.
pub(super) fn own_width(root: &Node) -> f64 {
    let stated = || root.attribute("width").and_then(length);
    view_box(root).map(|(width, _)| width).or_else(stated).unwrap_or(UNSTATED.0)
}

fn size(root: &Node) -> Result<(u32, u32), PhotoFault> {
    let (own_width, own_height) = view_box(root).unwrap_or(UNSTATED);
    let is_nothing = |name| root.attribute(name).is_some_and(|stated| stated.trim().parse() == Ok(0.0_f64));
    if ["width", "height"].into_iter().any(is_nothing) {
        return Err(PhotoFault::Malformed("its width or height is 0".to_owned()));
    }
    let ratio = own_width / own_height;
    let stated = |name| root.attribute(name).and_then(length);
    let (width, height) = match (stated("width"), stated("height")) {
        (Some(width), Some(height)) => (width, height),
        (Some(width), None) => (width, width / ratio),
        (None, Some(height)) => (height * ratio, height),
        (None, None) => (own_width, own_height),
    };
    Ok((pixels(width), pixels(height)))
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
