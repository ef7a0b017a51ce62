//! The words of a drawing made of lines, and how small they are.

use roxmltree::{Document, Node, ParsingOptions};

use super::svg;

/// The words of an SVG in the order of the file, titles and descriptions too; `None` where it can't be read, or holds
/// a further drawing whose words can't. A picture of another kind has none.
pub fn lettering(bytes: &[u8]) -> Option<Vec<String>> {
    if super::Kind::of(bytes) != Some(super::Kind::Svg) {
        return Some(Vec::new());
    }
    let text = std::str::from_utf8(bytes).ok()?;
    let document = parse(text)?;
    let hides = document.descendants().flat_map(|node| node.attributes()).any(|attribute| {
        attribute.name() == "href"
            && attribute.value().trim_start().to_lowercase().starts_with("data:image/svg")
    });
    let words = document.descendants().filter(Node::is_text).filter_map(|node| node.text());
    (!hides).then(|| words.map(str::to_owned).collect())
}

/// The height of the smallest lettering of an SVG as a part of the drawing's width; `None` without any.
///
/// Sizes are read from `font-size` as attribute or style, of the text or of what it stands in, with the scale of what it
/// stands in; a size in a style sheet inside the drawing is not found.
pub fn smallest_lettering(bytes: &[u8]) -> Option<f64> {
    let text = std::str::from_utf8(bytes).ok()?;
    let document = parse(text)?;
    let width = svg::own_width(&document.root_element());
    let written = document.descendants().filter(|node| {
        node.is_text()
            && node.text().is_some_and(|text| !text.trim().is_empty())
            && node.ancestors().any(|above| above.tag_name().name() == "text")
    });
    let sizes = written.filter_map(|node| node.parent_element().map(|text| height(&text)));
    sizes.reduce(f64::min).map(|least| least / width)
}

fn parse(text: &str) -> Option<Document<'_>> {
    Document::parse_with_options(text, ParsingOptions { allow_dtd: true, ..ParsingOptions::default() }).ok()
}

/// Of an element's letters, in the drawing's own units.
fn height(text: &Node) -> f64 {
    /// CSS 2.2, 15.7: `medium`, as viewers have it.
    const USUAL: f64 = 16.0;
    let size = text.ancestors().find_map(|node| font_size(&node)).unwrap_or(USUAL);
    let scale: f64 = text.ancestors().filter_map(|node| scale(node.attribute("transform")?)).product();
    size * scale
}

fn font_size(node: &Node) -> Option<f64> {
    let styled = node.attribute("style").and_then(|style| {
        let entries = style.split(';').filter_map(|entry| entry.split_once(':'));
        entries.into_iter().find(|(key, _)| key.trim() == "font-size").map(|(_, value)| value.trim())
    });
    let value = styled.or_else(|| node.attribute("font-size"))?;
    let end = value.find(|letter: char| !letter.is_ascii_digit() && letter != '.').unwrap_or(value.len());
    let (figures, unit) = value.split_at(end);
    let factor = match unit.trim() {
        "" | "px" => 1.0,
        "pt" => 4.0 / 3.0,
        "mm" => 96.0 / 25.4,
        _ => return None,
    };
    figures.parse::<f64>().ok().filter(|size| *size > 0.0).map(|size| size * factor)
}

/// Of `scale(…)`; other transforms leave the height, or are rare.
fn scale(transform: &str) -> Option<f64> {
    let inside = transform.split("scale(").nth(1)?.split(')').next()?;
    let factor = inside.split([',', ' ']).next()?.trim().parse::<f64>().ok()?;
    (factor != 0.0).then(|| factor.abs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_read_as_they_are_drawn() {
        let svg = br#"<!DOCTYPE svg [<!ENTITY w "Yard">]><svg xmlns="http://www.w3.org/2000/svg"><text>The G&#117;ll <tspan>&w;</tspan></text></svg>"#;
        assert_eq!(lettering(svg).map(|words| words.concat()), Some("The Gull Yard".to_owned()));
        let nested = br#"<svg xmlns="http://www.w3.org/2000/svg"><image href="data:image/svg+xml;base64,AAAA"/></svg>"#;
        assert_eq!(lettering(nested), None);
    }

    #[test]
    fn the_smallest_letters_count() {
        let svg = br#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 40" font-size="10"><text>a</text><g transform="scale(0.5)"><text style="font-size:8px">b</text></g></svg>"#;
        assert_eq!(smallest_lettering(svg), Some(4.0 / 200.0));
        assert_eq!(smallest_lettering(b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>"), None);
    }
}
