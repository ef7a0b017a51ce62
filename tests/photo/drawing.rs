//! SVG: passed untouched, or refused with the line that is wrong.

use asfound::photo::{self, Kind, PhotoFault};
use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;

use super::pictures::{app1, exif, jpeg, jpeg_with, scene};

pub(crate) const GOOD: &str = r##"<?xml version="1.0" encoding="UTF-8"?>
<!-- drawn for the tests -->
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 120 60" width="60mm">
  <style>.edge { stroke: #000; fill: url(#hatch) }</style>
  <defs><pattern id="hatch" width="4" height="4"><path id="line" d="M0 4 4 0"/></pattern></defs>
  <rect class="edge" width="120" height="60"/>
  <use xlink:href="#line" x="10"/>
  <text x="5" y="20">post, seen from the quay: url(not a reference)</text>
</svg>
"##;

/// A drawing with this as its third line.
fn with(line: &str) -> String {
    format!(
        "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink'>\n\n{line}\n</svg>"
    )
}

#[test]
fn a_good_drawing_passes_untouched() {
    let prepared = photo::prepare(GOOD.as_bytes(), 112.0).unwrap();
    assert_eq!((prepared.kind, &prepared.bytes[..]), (Kind::Svg, GOOD.as_bytes()));
    // 60 mm at 96 to the inch, and half as high by its view box.
    assert_eq!((prepared.width, prepared.height), (227, 113));
    let marked = format!("\u{feff}{GOOD}");
    assert!(photo::prepare(marked.as_bytes(), 112.0).is_ok(), "a byte order mark does no harm");
}

/// A photograph within a drawing is freed of place and camera as any other, and so is one in a drawing within it.
#[test]
fn pictures_within_a_drawing_are_nothing_but_pixels() {
    let photograph = jpeg_with(&jpeg(&scene(60, 40)), &[(0xe1, app1(&exif(6, true)))]);
    let address = |kind: &str, bytes: &[u8]| format!("data:image/{kind};base64,{}", BASE64.encode(bytes));
    let inner = with(&format!("<image href='{}'/>", address("jpeg", &photograph)));
    let outer = with(&format!(
        "<image xlink:href='{}'/><image href='{}'/>",
        address("svg+xml", inner.as_bytes()),
        address("jpeg", &photograph)
    ));
    let fresh = address("jpeg", &photo::prepare(&photograph, 1000.0).unwrap().bytes);
    let fresh_inner = with(&format!("<image href='{fresh}'/>"));
    let expected = with(&format!(
        "<image xlink:href='{}'/><image href='{fresh}'/>",
        address("svg+xml", fresh_inner.as_bytes())
    ));
    let prepared = photo::prepare(outer.as_bytes(), 112.0).unwrap();
    assert_eq!(String::from_utf8(prepared.bytes).unwrap(), expected);
}

#[test]
fn a_picture_within_that_can_not_be_printed_is_refused_with_its_line() {
    let cases = [
        ("<image href='data:image/png;base64,iVBORw0KGgo='/>", "line 3: the picture within it: "),
        (
            "<image href='data:image/svg+xml,%3Csvg/%3E'/>",
            "line 3: the picture within it: its data are not in base64",
        ),
        ("<image href='data:image/png;base64,§'/>", "line 3: the picture within it: "),
        ("<image href='data:text/html;base64,PGI+'/>", "line 3: the picture within it: it is no picture"),
    ];
    for (line, says) in cases {
        let fault = photo::prepare(with(line).as_bytes(), 112.0).unwrap_err();
        assert!(fault.to_string().starts_with(says) && fault.help().contains("again"), "{line}: {fault}");
    }
}

/// What can take any time and memory to draw: effects by pixels, and references that multiply.
#[test]
fn a_drawing_that_can_not_be_drawn_in_reasonable_time_is_refused() {
    let doubling: String = (1..40)
        .map(|step| format!("<g id='a{step}'><use href='#a{0}'/><use href='#a{0}'/></g>", step - 1))
        .collect();
    let cases = [
        ("<filter id='f'><feTurbulence baseFrequency='0'/></filter>".to_owned(), "line 3: it holds a filter"),
        ("<rect filter='blur(9000px)'/>".to_owned(), "line 3: it uses a filter"),
        ("<rect style='fill: red; filter : blur(3px)'/>".to_owned(), "line 3: it uses a filter"),
        ("<style>.a { filter: blur(3px) }</style>".to_owned(), "line 3: it uses a filter"),
        (format!("<rect id='a0'/>{doubling}"), "line 3: its references stand for more than 2000000 elements"),
    ];
    for (line, says) in cases {
        let fault = photo::prepare(with(&line).as_bytes(), 112.0).unwrap_err();
        assert_eq!(fault.to_string(), says);
        assert!(matches!(fault, PhotoFault::Costly { .. }));
    }
    for line in ["<rect style='filter:none'/>", "<use id='u' href='#u'/>", "<g id='g'><use href='#g'/></g>"] {
        assert!(photo::prepare(with(line).as_bytes(), 112.0).is_ok(), "{line}");
    }
}

#[test]
fn a_drawing_of_no_size_is_refused() {
    for sides in ["width='0' height='10'", "width='10' height='0'", "width='0.0'"] {
        let drawing = format!("<svg xmlns='http://www.w3.org/2000/svg' {sides}/>");
        let fault = photo::size(drawing.as_bytes()).unwrap_err();
        assert_eq!(fault.to_string(), "it is no well-formed SVG: its width or height is 0");
    }
}

#[test]
fn scripts_and_references_are_refused_with_their_line() {
    let cases = [
        ("<script>alert(1)</script>", "line 3: it holds a script"),
        ("<g><x:SCRIPT xmlns:x='http://www.w3.org/2000/svg'/></g>", "line 3: it holds a script"),
        ("<rect onload='go()'/>", "line 3: it holds a script, `onload`"),
        ("<image href='https://example.org/a.png'/>", "line 3: it refers to `https://example.org/a.png`"),
        ("<image xlink:href='../photos/a.jpg'/>", "line 3: it refers to `../photos/a.jpg`"),
        ("<use href='other.svg#post'/>", "line 3: it refers to `other.svg#post`"),
        ("<a href='javascript:go()'/>", "line 3: it refers to `javascript:go()`"),
        ("<image href='&#104;ttp://example.org'/>", "line 3: it refers to `http://example.org`"),
        ("<rect fill='url(other.svg#hatch)'/>", "line 3: its style refers to `other.svg#hatch`"),
        ("<rect style='fill: URL( \"//example.org/x\" )'/>", "line 3: its style refers to `//example.org/x`"),
        ("<style>@import 'x.css';</style>", "line 3: its style imports another"),
        ("<?xml-stylesheet href='x.css'?>", "line 3: it uses a style sheet"),
    ];
    for (line, says) in cases {
        let fault = photo::prepare(with(line).as_bytes(), 112.0).unwrap_err();
        assert_eq!(fault.to_string(), says, "{line}");
        assert!(matches!(fault, PhotoFault::Reaches { .. }) && fault.help().contains("embedded"));
        assert_eq!(photo::size(with(line).as_bytes()), Err(fault));
    }
}

#[test]
fn a_long_reference_is_told_in_part() {
    let line = format!("<image href='http://{}'/>", "ä".repeat(5000));
    let says = photo::prepare(with(&line).as_bytes(), 112.0).unwrap_err().to_string();
    assert!(says.chars().count() < 100 && says.ends_with("…`"), "{says}");
}

#[test]
fn what_is_not_well_formed_is_refused() {
    let deep = format!("<svg>{}{}</svg>", "<g>".repeat(100_000), "</g>".repeat(100_000));
    let laughs = "<!DOCTYPE svg [<!ENTITY a 'ha'><!ENTITY b '&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;'>\
        <!ENTITY c '&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;'><!ENTITY d '&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;'>\
        <!ENTITY e '&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;'>]><svg><text>&e;</text></svg>";
    let cases = [
        "<svg><rect></svg>",
        "<svg",
        "<html><svg/></html>",
        "<svg/><svg/>",
        &deep,
        laughs,
        "<svg>&unknown;</svg>",
    ];
    for text in cases {
        let fault = photo::prepare(text.as_bytes(), 112.0).unwrap_err();
        assert!(matches!(fault, PhotoFault::Malformed(_)), "{fault}");
    }
    let latin = b"<?xml version='1.0' encoding='ISO-8859-1'?><svg><title>B\xfcgel</title></svg>";
    assert_eq!(photo::size(latin), Err(PhotoFault::Malformed("it is not UTF-8 text".to_owned())));
}

/// CSS Values and Units 3, 6.2: an inch is 96 px, 72 pt, 6 pc, 2.54 cm, 101.6 Q; CSS 2.2, 10.3.2: 300 x 150 if
/// nothing is stated.
#[test]
fn the_size_is_read_in_any_unit() {
    let cases = [
        ("width='2in' height='1in'", (192, 96)),
        ("width='72pt' height='6pc'", (96, 96)),
        ("width='2.54cm' height='101.6Q'", (96, 96)),
        ("width='40' height='30px'", (40, 30)),
        ("width='100%' height='100%' viewBox='0,0,80 20'", (80, 20)),
        ("height='10' viewBox='0 0 80 20'", (40, 10)),
        ("viewBox='0 0 -1 nonsense'", (300, 150)),
        ("width='-1' height='-5'", (300, 150)),
        ("", (300, 150)),
    ];
    for (attributes, size) in cases {
        assert_eq!(photo::size(format!("<svg {attributes}/>").as_bytes()), Ok(size), "{attributes}");
    }
}
