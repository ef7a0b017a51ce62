//! What the writers write.

use crate::parts::cases::*;
use asfound::drafting::*;

fn bush_drawing() -> Drawing {
    draw(&bush(), &Title::default(), &Sheet::A4_LANDSCAPE).expect("drawn")
}

#[test]
fn svg_is_black_and_in_millimetres() {
    let svg = to_svg(&bush_drawing(), "Bush <60> & \"45\"");
    assert!(svg.starts_with("<svg ") && svg.trim_end().ends_with("</svg>"));
    assert!(svg.contains("width=\"297mm\" height=\"210mm\" viewBox=\"0 0 297 210\""));
    assert!(svg.contains("<desc>Bush &lt;60&gt; &amp; &quot;45&quot;</desc>"));
    let colours = svg.split('"').filter(|text| text.starts_with('#'));
    assert!(colours.into_iter().all(|colour| colour == "#000"));
    assert!(!svg.contains("NaN"));
}

/// Pairs of code and value.
fn groups(dxf: &str) -> Vec<(u16, &str)> {
    let lines: Vec<&str> = dxf.lines().collect();
    assert_eq!(lines.len() % 2, 0);
    lines.chunks(2).map(|pair| (pair[0].trim().parse().expect("a code"), pair[1])).collect()
}

#[test]
fn dxf_has_sections_layers_and_an_end() {
    let dxf = to_dxf(&bush_drawing());
    let groups = groups(&dxf);
    assert!(groups.contains(&(1, "AC1009")));
    let count = |value: &str| groups.iter().filter(|(code, v)| *code == 0 && *v == value).count();
    assert_eq!(count("SECTION"), count("ENDSEC"));
    assert_eq!(count("TABLE"), count("ENDTAB"));
    assert_eq!(groups.last(), Some(&(0, "EOF")));
    let layers: Vec<&str> = groups.windows(2).filter(|w| w[0] == (0, "LAYER")).map(|w| w[1].1).collect();
    let used = groups.iter().filter(|(code, _)| *code == 8).map(|(_, value)| *value);
    assert!(used.into_iter().all(|layer| layers.contains(&layer)));
    assert!(dxf.contains("%%c60 r6") && dxf.is_ascii());
}

#[test]
fn contour_of_a_plate_is_closed_and_in_millimetres() {
    let dxf = profile_to_dxf(&slotted()).expect("sound");
    let groups = groups(&dxf);
    let entities: Vec<&str> = groups.iter().filter(|(code, _)| *code == 0).map(|(_, value)| *value).collect();
    let count = |kind: &str| entities.iter().filter(|entity| **entity == kind).count();
    assert_eq!((count("POLYLINE"), count("SEQEND"), count("CIRCLE")), (2, 2, 3));
    // Eight corners of the outline, four of the slot.
    assert_eq!(count("VERTEX"), 12);
    let bulge = libm::tan(std::f64::consts::PI / 8.0);
    assert!(groups.contains(&(42, format!("{bulge:.6}").as_str())));
    assert!(groups.contains(&(8, "TAPPED_HOLES")));
    assert!(groups.contains(&(10, "172.000000")) && groups.contains(&(40, "4.500000")));
}

#[test]
fn same_shape_same_bytes() {
    assert_eq!(to_svg(&bush_drawing(), ""), to_svg(&bush_drawing(), ""));
    assert_eq!(to_dxf(&bush_drawing()), to_dxf(&bush_drawing()));
}
