//! What may be said to the one who gets a sheet, and what is kept back: money, contacts, private notes, other helpers.

use std::cell::RefCell;

use super::Addressee;
use crate::calc::print;
use crate::calc::units::Units;
use crate::dossier::{Dossier, NoteId, decoded};
use crate::note::body::{Block, BlockShape, Inline, InlineShape, each_block, each_inline};
use crate::photo::Kind;
use crate::render::edition::Edition;
use crate::text::{FileId, Span};

/// A passage that is not in the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptBack {
    /// Where it stands in the notes; the note's beginning for what stands in front matter.
    pub place: Span,
    /// Why, to go on from "kept back: ".
    pub why: String,
}

/// Reads every text before it goes into a sheet.
pub(super) struct Redaction<'a> {
    edition: &'a Edition<'a>,
    /// In small letters, with why it is kept back.
    names: Vec<(String, String)>,
    /// Numbers of the contacts, digits only.
    numbers: Vec<String>,
    kept_back: RefCell<Vec<KeptBack>>,
}

impl<'a> Redaction<'a> {
    pub(super) fn new(edition: &'a Edition<'a>, whom: Addressee) -> Self {
        let dossier = edition.dossier();
        let contacts = dossier.shops.iter().filter_map(|shop| shop.contact.as_deref());
        let numbers = contacts.flat_map(telephone_numbers).collect();
        Self { edition, names: names(dossier, whom), numbers, kept_back: RefCell::default() }
    }

    /// What was kept back so far, in order of place.
    pub(super) fn into_kept_back(self) -> Vec<KeptBack> {
        let mut kept_back = self.kept_back.into_inner();
        kept_back.sort_by_key(|each| (each.place, each.why.clone()));
        kept_back.dedup();
        kept_back
    }

    /// Whether a note may be told of at all.
    pub(super) fn is_open(&self, note: impl Into<NoteId>) -> bool {
        !self.edition.dossier().head(note.into()).private
    }

    /// A text of a note's front matter, if it may be said.
    pub(super) fn text(&self, note: impl Into<NoteId>, text: &str) -> Option<String> {
        match self.objection(text) {
            None => Some(text.to_owned()),
            Some(why) => {
                self.keep_back(self.edition.dossier().head(note.into()).span, why);
                None
            }
        }
    }

    /// The outer blocks of a note's body that may be said. A sentence that leads up to a block, and the block, go
    /// together.
    pub(super) fn blocks(&self, note: impl Into<NoteId>) -> Vec<Span> {
        let body = &self.edition.dossier().head(note.into()).body;
        let objections: Vec<Option<String>> = body.iter().map(|block| self.objection_to(block)).collect();
        for (block, why) in body.iter().zip(&objections) {
            if let Some(why) = why {
                self.keep_back(block.span, why.clone());
            }
        }
        let is_sayable = |at: usize| objections.get(at).is_none_or(Option::is_none);
        let with_next = |at: usize| !leads_on(&body[at]) || is_sayable(at + 1);
        let with_last = |at: usize| at == 0 || !leads_on(&body[at - 1]) || is_sayable(at - 1);
        let said = |at: &usize| is_sayable(*at) && with_next(*at) && with_last(*at);
        (0..body.len()).filter(said).map(|at| body[at].span).collect()
    }

    /// Whether a block may be said that would otherwise be shown.
    pub(super) fn allows(&self, block: &Block) -> bool {
        let objection = self.objection_to(block);
        let allowed = objection.is_none();
        objection.into_iter().for_each(|why| self.keep_back(block.span, why));
        allowed
    }

    fn keep_back(&self, place: Span, why: String) {
        self.kept_back.borrow_mut().push(KeptBack { place, why });
    }

    fn objection_to(&self, block: &Block) -> Option<String> {
        self.objection_to_links(block).or_else(|| self.objection(&self.all_text(block)))
    }

    /// A link to a private note tells that there is one.
    fn objection_to_links(&self, block: &Block) -> Option<String> {
        let file = block.span.file;
        let mut objection = None;
        each_inline(std::slice::from_ref(block), &mut |inline| {
            let InlineShape::Link { target, by_id, .. } = &inline.shape else { return };
            let dossier = self.edition.dossier();
            let note = dossier.link(file, target, *by_id, &self.edition.project.sources);
            let private = note.map(|note| dossier.head(note)).filter(|head| head.private);
            let mail = target.starts_with("mailto:") || target.starts_with("tel:");
            objection = objection
                .take()
                .or_else(|| private.map(|head| format!("it links to the private note `{}`", head.id)))
                .or_else(|| mail.then(|| "it holds a contact".to_owned()));
        });
        objection
    }

    /// Everything that the block would print.
    fn all_text(&self, block: &Block) -> String {
        let mut text = String::new();
        each_inline(std::slice::from_ref(block), &mut |inline| {
            text.push_str(&self.words(inline));
        });
        each_block(std::slice::from_ref(block), &mut |block| match &block.shape {
            BlockShape::Code(code) => {
                text.push('\n');
                code.lines.iter().for_each(|line| text.push_str(&format!("{}\n", line.text)));
                text.push_str(&self.results(block.span));
            }
            BlockShape::Html(html) => text.push_str(html),
            _ => {}
        });
        text
    }

    fn words(&self, inline: &Inline) -> String {
        match &inline.shape {
            InlineShape::Text(text) | InlineShape::Html(text) | InlineShape::Picture { text, .. } => {
                text.clone()
            }
            InlineShape::Code(text) => match self.edition.project.worked.quote(inline.span) {
                Some(quote) => format!("{text} {}", quote.text),
                None => text.clone(),
            },
            InlineShape::Link { target, by_id: true, .. } => {
                let note = self.edition.dossier().find(target.trim());
                note.map(|note| self.edition.dossier().title(note)).unwrap_or_default()
            }
            InlineShape::SoftBreak | InlineShape::HardBreak => " ".to_owned(),
            _ => String::new(),
        }
    }

    /// Whether a picture may be shown: a drawing may hold words.
    pub(super) fn allows_picture(&self, note: impl Into<NoteId>, target: &str) -> bool {
        let head = self.edition.dossier().head(note.into());
        let objection = self.objection(&self.lettering(head.file, target));
        let allowed = objection.is_none();
        objection.into_iter().for_each(|why| self.keep_back(head.span, why));
        allowed
    }

    /// The words of an SVG drawing: what stands between its tags.
    fn lettering(&self, from: FileId, target: &str) -> String {
        let sources = &self.edition.project.sources;
        let bytes = sources.relative(from, &decoded(target)).and_then(|path| sources.bytes(&path).ok());
        let Some(bytes) = bytes.filter(|bytes| Kind::of(bytes) == Some(Kind::Svg)) else {
            return String::new();
        };
        let text = String::from_utf8_lossy(&bytes);
        let between = text.split('<').filter_map(|piece| piece.split_once('>').map(|(_, words)| words));
        between.collect::<Vec<_>>().join(" ")
    }

    /// What the lines of a calculation come to.
    fn results(&self, block: Span) -> String {
        let Some(block) = self.edition.project.worked.block(block) else { return String::new() };
        let values = block.lines.iter().filter_map(|line| line.value.as_ref());
        values.map(|value| format!("{}\n", print::value(value, &self.edition.dossier().units))).collect()
    }

    /// Why a text is not for this reader.
    pub(super) fn objection(&self, text: &str) -> Option<String> {
        let lower = text.to_lowercase();
        let named = self.names.iter().find(|(name, _)| holds_word(&lower, name)).map(|(_, why)| why.clone());
        named
            .or_else(|| tells_of_money(text).then(|| "it tells of money".to_owned()))
            .or_else(|| self.holds_contact(text).then(|| "it holds a contact".to_owned()))
    }

    fn holds_contact(&self, text: &str) -> bool {
        let is_known = |number: &String| self.numbers.iter().any(|known| number.contains(known));
        telephone_numbers(text).iter().any(is_known) || text.split_whitespace().any(is_mail_address)
    }
}

/// `nell@example.org`, but not `@post.mass`.
fn is_mail_address(word: &str) -> bool {
    let word = word.trim_matches(|letter: char| !letter.is_alphanumeric() && letter != '@');
    word.split_once('@').is_some_and(|(name, host)| !name.is_empty() && host.contains('.'))
}

fn leads_on(block: &Block) -> bool {
    match &block.shape {
        BlockShape::Paragraph(text) => crate::note::body::plain(text).trim_end().ends_with(':'),
        _ => false,
    }
}

/// What other helpers and suppliers are called, their contacts, and the ids of private notes.
fn names(dossier: &Dossier, whom: Addressee) -> Vec<(String, String)> {
    let mut names = Vec::new();
    for shop in dossier.shops.ids() {
        let keys = &dossier[shop];
        names.extend(
            keys.contact.iter().map(|contact| (contact.to_lowercase(), "it holds a contact".to_owned())),
        );
        if whom != Addressee::Shop(shop) && dossier.home != Some(shop) {
            let why = format!("it names `{}`", keys.id());
            names.extend(spellings(keys.id(), &keys.name).into_iter().map(|name| (name, why.clone())));
        }
    }
    let reader = match whom {
        Addressee::Shop(shop) => spellings(dossier[shop].id(), &dossier[shop].name),
        Addressee::Anyone => Vec::new(),
    };
    let suppliers =
        dossier.parts.iter().filter_map(|part| part.from.as_ref()).map(|from| from.to_lowercase());
    let suppliers = suppliers.filter(|from| !reader.contains(from));
    names.extend(suppliers.map(|from| (from, "it names who sells or makes a part".to_owned())));
    let private = dossier.notes().map(|note| dossier.head(note)).filter(|head| head.private);
    names.extend(
        private.map(|head| (head.id.to_lowercase(), format!("it names the private note `{}`", head.id))),
    );
    names.retain(|(name, _)| name.chars().count() >= SHORTEST_NAME);
    names
}

/// Shorter ones would be found in every other word.
const SHORTEST_NAME: usize = 3;

/// The ways in which a shop is written of: `gull-yard`, "gull yard", "The Gull Yard, machine shop", "Gull Yard".
fn spellings(id: &str, name: &str) -> Vec<String> {
    let (id, name) = (id.to_lowercase(), name.to_lowercase());
    let bare = name.strip_prefix("the ").unwrap_or(&name).to_owned();
    let short = bare.split(',').next().unwrap_or(&bare).to_owned();
    vec![id.replace('-', " "), id, name, bare, short]
}

/// Whether `name` stands in `text` with no letter or digit on either side.
fn holds_word(text: &str, name: &str) -> bool {
    let is_free = |letter: Option<char>| !letter.is_some_and(char::is_alphanumeric);
    text.match_indices(name).any(|(at, found)| {
        is_free(text[..at].chars().next_back()) && is_free(text[at + found.len()..].chars().next())
    })
}

/// An amount in a currency, or a word of prices.
fn tells_of_money(text: &str) -> bool {
    const WORDS: [&str; 8] = ["price", "prices", "priced", "money", "invoice", "paid", "payment", "wages"];
    let words: Vec<&str> = text
        .split(|letter: char| !letter.is_alphanumeric() && !matches!(letter, '.' | ','))
        .filter(|word| !word.is_empty())
        .collect();
    let is_amount = |word: Option<&&str>| {
        word.is_some_and(|word| word.starts_with(|letter: char| letter.is_ascii_digit()))
    };
    let is_currency = |at: usize| {
        let near = [at.checked_sub(1), at.checked_add(1)];
        Units::is_currency(words[at])
            && near.iter().any(|near| is_amount(near.and_then(|near| words.get(near))))
    };
    let trimmed = |word: &str| word.trim_matches(['.', ',']).to_lowercase();
    text.contains(['£', '$', '€', '¥'])
        || (0..words.len()).any(is_currency)
        || words.iter().any(|word| WORDS.contains(&trimmed(word).as_str()))
}

/// Runs of six digits or more, as one dials them, without blanks and signs.
fn telephone_numbers(text: &str) -> Vec<String> {
    let runs = text.split(|letter: char| {
        !(letter.is_ascii_digit() || matches!(letter, ' ' | '-' | '(' | ')' | '/' | '+'))
    });
    let digits = runs.map(|run| run.chars().filter(char::is_ascii_digit).collect::<String>());
    digits.filter(|number| number.len() >= 6).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn money_is_an_amount_in_a_currency() {
        for text in
            ["for 42 GBP an hour", "GBP 42", "£ 3", "so that the price is right", "0.5 * (42 GBP / 1 h)"]
        {
            assert!(tells_of_money(text), "{text}");
        }
        for text in ["ALL of it", "2 3/4 in", "try 3 times", "42 h"] {
            assert!(!tells_of_money(text), "{text}");
        }
    }

    #[test]
    fn a_name_is_a_whole_word() {
        assert!(holds_word("ask the boatyard's man", "boatyard"));
        assert!(holds_word("boatyard", "boatyard"));
        assert!(!holds_word("the boatyards", "boatyard"));
    }

    #[test]
    fn a_number_is_known_however_it_is_written() {
        assert_eq!(telephone_numbers("ring 01234 567-890, mornings"), ["01234567890"]);
        assert_eq!(telephone_numbers("3.9872 3.9914"), Vec::<String>::new());
    }
}
