//! The first page of a PDF as a drawing, so that what is attached can be seen on paper.

use std::panic::catch_unwind;

use hayro_svg::hayro_interpret::InterpreterSettings;
use hayro_svg::hayro_syntax::Pdf;
use hayro_svg::{RenderCache, SvgRenderSettings};

/// The first page as SVG, its letters as outlines; `None` where it can't be read.
pub fn first_page(pdf: &[u8]) -> Option<Vec<u8>> {
    let bytes = pdf.to_vec();
    // Papers come from strangers: a fault of the reader is no fault of the sheet.
    catch_unwind(move || {
        let pdf = Pdf::new(bytes).ok()?;
        let page = pdf.pages().first()?;
        let white = SvgRenderSettings { bg_color: [255; 4] };
        let svg = hayro_svg::convert(page, &RenderCache::new(), &InterpreterSettings::default(), &white);
        super::size(svg.as_bytes()).is_ok().then(|| svg.into_bytes())
    })
    .ok()
    .flatten()
}

#[cfg(test)]
mod tests {
    use super::first_page;

    #[test]
    fn what_is_no_paper_has_no_page() {
        for bytes in [
            &b""[..],
            b"%PDF-1.7",
            b"%PDF-1.4\n1 0 obj\n<</Type/Catalog/Pages 1 0 R>>\nendobj\ntrailer<</Root 1 0 R>>",
        ] {
            assert_eq!(first_page(bytes), None);
        }
    }
}
