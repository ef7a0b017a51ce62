//! Every text in a PDF, from the file itself.

use hayro_svg::hayro_interpret::font::Glyph;
use hayro_svg::hayro_interpret::hayro_cmap::BfString;
use hayro_svg::hayro_interpret::{
    BlendMode, ClipPath, Context, Device, GlyphDrawMode, Image, InterpreterCache, InterpreterSettings, Paint,
    PathDrawMode, SoftMask, interpret_page,
};
use hayro_svg::hayro_syntax::Pdf;
use hayro_svg::hayro_syntax::content::ops::TypedInstruction;
use hayro_svg::hayro_syntax::object::{Dict, MaybeRef, Object, Stream};
use hayro_svg::hayro_syntax::page::Page;
use kurbo::{Affine, BezPath, Rect};

use crate::guard::guarded;
use crate::photo;

/// Every text with its place: "page 3", "an attachment", "`Alt` of the file"; `None` where the file can't be read.
pub(super) fn texts(pdf: &[u8]) -> Option<Vec<(String, String)>> {
    guarded(|| {
        let pdf = Pdf::new(pdf.to_vec()).ok()?;
        let mut texts = Vec::new();
        for (at, page) in pdf.pages().iter().enumerate() {
            let place = format!("page {}", at + 1);
            texts.push((place.clone(), shown(page)));
            texts.extend(marked(page).into_iter().map(|text| (place.clone(), text)));
        }
        for object in pdf.objects() {
            of_object(&object, "object", &mut texts);
        }
        Some(texts)
    })
    .ok()
    .flatten()
}

/// The letters that a page shows, in the order in which they are drawn.
fn shown(page: &Page) -> String {
    let (width, height) = page.render_dimensions();
    let whole = Rect::new(0.0, 0.0, f64::from(width), f64::from(height));
    let (cache, settings) = (InterpreterCache::new(), InterpreterSettings::default());
    let mut context = Context::new(Affine::IDENTITY, whole, &cache, page.xref(), settings);
    let mut reader = Reader::default();
    interpret_page(page, &mut context, &mut reader);
    reader.text
}

/// The texts beside a page's content that stand for what it shows.
fn marked(page: &Page) -> Vec<String> {
    let mut texts = Vec::new();
    let mut operations = page.typed_operations();
    while let Some(operation) = operations.next() {
        if let TypedInstruction::BeginMarkedContentWithProperties(marked) = operation {
            of_object(marked.1, "mark", &mut texts);
        }
    }
    texts.into_iter().map(|(_, text)| text).collect()
}

/// The texts within an object, but not in those that it refers to: the file lists them all.
fn of_object(object: &Object, key: &str, texts: &mut Vec<(String, String)>) {
    match object {
        Object::String(string) => texts.push((format!("`{key}` of the file"), decoded(string.as_bytes()))),
        Object::Name(name) => texts.push((format!("`{key}` of the file"), name.as_str().to_owned())),
        Object::Array(array) => {
            for item in array.raw_iter() {
                if let MaybeRef::NotRef(item) = item {
                    of_object(&item, key, texts);
                }
            }
        }
        Object::Dict(dict) => of_dict(dict, texts),
        Object::Stream(stream) => of_stream(stream, texts),
        Object::Null(_) | Object::Boolean(_) | Object::Number(_) => {}
    }
}

fn of_dict(dict: &Dict, texts: &mut Vec<(String, String)>) {
    for (key, value) in dict.entries() {
        if let MaybeRef::NotRef(value) = value {
            of_object(&value, key.as_str(), texts);
        }
    }
}

/// What a stream holds, unless it is a picture or a font.
fn of_stream(stream: &Stream, texts: &mut Vec<(String, String)>) {
    of_dict(stream.dict(), texts);
    let is = |key: &str, word: &str| {
        stream.dict().get::<Object>(key).and_then(Object::into_name).is_some_and(|name| name.as_str() == word)
    };
    if is("Subtype", "Image") {
        return;
    }
    let Ok(bytes) = stream.decoded() else { return };
    let place =
        if is("Type", "EmbeddedFile") { "an attachment" } else { "the metadata, or a stream of the file" };
    texts.push((place.to_owned(), String::from_utf8_lossy(&bytes).into_owned()));
    if let Some(words) = photo::lettering(&bytes) {
        texts.push((place.to_owned(), words.concat()));
    }
}

/// A text string (ISO 32000-1, 7.9.2.2): UTF-16 or UTF-8 with its mark, else a letter a byte.
fn decoded(bytes: &[u8]) -> String {
    match bytes {
        [0xfe, 0xff, rest @ ..] => {
            let units = rest.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
            char::decode_utf16(units).map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
        }
        [0xef, 0xbb, 0xbf, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        bytes => bytes.iter().copied().map(char::from).collect(),
    }
}

/// Collects the letters that are drawn.
#[derive(Default)]
struct Reader {
    text: String,
}

impl<'a> Device<'a> for Reader {
    fn draw_glyph(&mut self, glyph: &Glyph<'a>, _: Affine, _: Affine, _: &Paint<'a>, _: &GlyphDrawMode) {
        match glyph.as_unicode() {
            Some(BfString::Char(letter)) => self.text.push(letter),
            Some(BfString::String(letters)) => self.text.push_str(&letters),
            None => {}
        }
    }

    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}
    fn set_blend_mode(&mut self, _: BlendMode) {}
    fn draw_path(&mut self, _: &BezPath, _: Affine, _: &Paint<'a>, _: &PathDrawMode) {}
    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn draw_image(&mut self, _: Image<'a, '_>, _: Affine) {}
    fn pop_clip_path(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}
