//! What stays with the keeper: contacts, private texts, costs.

use unicode_normalization::UnicodeNormalization;
use unicode_normalization::char::is_combining_mark;

use crate::Project;
use crate::dossier::{Dossier, NoteId};
use crate::note::body::{BlockShape, Cell, Table, each_block, plain};
use crate::text::Texts;
use crate::worked::Privacy;

/// What may not be in a PDF that goes to others.
#[derive(Clone, Debug, Default)]
pub struct Secrets(Vec<Secret>);

#[derive(Clone, Debug)]
struct Secret {
    /// Letters and figures alone.
    form: String,
    what: String,
}

/// A shorter text is found in others by chance.
const FEWEST_LETTERS: usize = 16;
/// A telephone number has as many figures.
const FEWEST_FIGURES: usize = 7;

impl Secrets {
    /// Of a project; what its notes let through for helpers, and how to reach the keeper, is no secret.
    pub fn of(project: &Project) -> Self {
        let (dossier, texts) = (&project.dossier, &project.sources);
        let privacy = Privacy::of(dossier, &project.worked);
        let mut all: Vec<Secret> = Vec::new();
        for note in dossier.notes() {
            if privacy.is_private(note) {
                all.extend(private(dossier, note, texts));
            } else {
                all.extend(contact(dossier, note));
            }
            all.extend(costs(dossier, note, texts));
            all.extend(priced_rows(dossier, note));
        }
        let may_go = may_go(dossier);
        let public = public(dossier, &privacy, texts);
        let is_secret = |secret: &Secret| {
            !secret.form.is_empty()
                && !may_go.contains(&secret.form)
                && (!secret.what.starts_with(PRIVATE) || !public.contains(&secret.form))
        };
        all.retain(is_secret);
        Self(all)
    }

    /// What of it a text tells.
    pub(super) fn told_by(&self, text: &str) -> impl Iterator<Item = &str> {
        let form = form(text);
        self.0.iter().filter(move |secret| is_in(&secret.form, &form)).map(|secret| secret.what.as_str())
    }
}

const PRIVATE: &str = "a text of the private note";

/// Whether a secret is in a text, both in their form; a number is not the end of a larger one.
fn is_in(secret: &str, text: &str) -> bool {
    let begins_with_figure = secret.starts_with(|letter: char| letter.is_ascii_digit());
    let mut found = text.match_indices(secret);
    found.any(|(at, _)| !(begins_with_figure && text[..at].ends_with(|letter: char| letter.is_ascii_digit())))
}

/// Small letters without accents and figures, nothing between them.
fn form(text: &str) -> String {
    let letters = text.nfkd().filter(|letter| !is_combining_mark(*letter) && letter.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

/// What goes by the keeper's own word, one after the other.
fn may_go(dossier: &Dossier) -> String {
    let about = &dossier.about;
    let keeper = &about.keeper_contact;
    let own = [&keeper.ask_for, &keeper.telephone, &keeper.mail, &keeper.address, &keeper.machine_at];
    let words = dossier.notes().flat_map(|note| &dossier.head(note).for_helpers.words);
    let all = own.into_iter().flatten().chain(&about.for_helpers).chain(words);
    all.map(|text| form(text) + " ").collect()
}

/// The texts of all notes that are not private.
fn public(dossier: &Dossier, privacy: &Privacy, texts: &Texts) -> String {
    let open = dossier.notes().filter(|note| !privacy.is_private(*note));
    open.map(|note| form(&texts.file(dossier.head(note).file).text) + " ").collect()
}

/// Each sentence and each value of a private note.
fn private(dossier: &Dossier, note: NoteId, texts: &Texts) -> Vec<Secret> {
    let head = dossier.head(note);
    let pieces = texts.file(head.file).text.split(['\n', '.', ';', '!', '?']);
    let value = |piece: &str| {
        let is_key = |word: &str| word.chars().all(|letter| letter.is_ascii_lowercase() || letter == '_');
        form(piece.split_once(": ").filter(|(key, _)| is_key(key.trim())).map_or(piece, |(_, value)| value))
    };
    let forms = pieces.map(value).filter(|form| form.chars().count() >= FEWEST_LETTERS);
    forms.map(|form| Secret { form, what: format!("{PRIVATE} `{}`", head.id) }).collect()
}

/// A shop's contact: as a whole, its mail addresses and its telephone numbers.
fn contact(dossier: &Dossier, note: NoteId) -> Vec<Secret> {
    let NoteId::Shop(shop) = note else { return Vec::new() };
    let Some(contact) = dossier[shop].contact.as_deref().filter(|_| !dossier[shop].head.for_helpers.goes)
    else {
        return Vec::new();
    };
    let mails = contact.split_whitespace().filter(|word| word.contains('@')).map(form);
    let is_number = |letter: char| letter.is_ascii_digit() || " ()+-./".contains(letter);
    let numbers =
        contact.split(|letter| !is_number(letter)).map(form).filter(|form| form.len() >= FEWEST_FIGURES);
    let whole = Some(form(contact)).filter(|form| form.chars().count() >= FEWEST_LETTERS);
    let forms = mails.chain(numbers).chain(whole);
    forms.map(|form| Secret { form, what: format!("the contact of `{}`", dossier.head(note).id) }).collect()
}

/// The keys under which money stands.
pub(super) const MONEY_KEYS: [&str; 2] = ["cost", "rate"];

/// Each amount under the keys of money, with its currency.
fn costs(dossier: &Dossier, note: NoteId, texts: &Texts) -> Vec<Secret> {
    let head = dossier.head(note);
    let currency = form(&dossier.about.settings.currency);
    let amounts = MONEY_KEYS.into_iter().filter(|key| head.has(key)).flat_map(|key| {
        let typed = texts.slice(head.at(key));
        typed
            .split(|letter: char| !(letter.is_ascii_digit() || ".,".contains(letter)))
            .map(form)
            .collect::<Vec<_>>()
    });
    let amounts = amounts.filter(|amount| amount.len() > 1);
    amounts
        .flat_map(|amount| [format!("{amount}{currency}"), format!("{currency}{amount}")])
        .map(|form| Secret { form, what: format!("the cost in `{}`", head.id) })
        .collect()
}

/// The amounts in the columns of a note's tables whose heads name money, each with the cells before it in its row.
fn priced_rows(dossier: &Dossier, note: NoteId) -> Vec<Secret> {
    let (head, currency) = (dossier.head(note), &dossier.about.settings.currency);
    let mut forms: Vec<String> = Vec::new();
    each_block(&head.body, &mut |block| {
        let BlockShape::Table(table) = &block.shape else { return };
        for column in money_columns(table, currency) {
            forms.extend(table.rows.iter().filter_map(|row| up_to(row, column)));
        }
    });
    forms.into_iter().map(|form| Secret { form, what: format!("a cost in `{}`", head.id) }).collect()
}

/// The columns of a table under whose heads bare figures are money.
fn money_columns<'a>(table: &'a Table, currency: &'a str) -> impl Iterator<Item = usize> + 'a {
    let heads = table.head.iter().enumerate();
    heads.filter(move |(_, cell)| tells_of_money(&plain(&cell.text), currency)).map(|(column, _)| column)
}

/// A row up to an amount, in the form of a secret; a figure without a name is found anywhere by chance.
fn up_to(row: &[Cell], column: usize) -> Option<String> {
    let amount = form(&plain(&row.get(column)?.text));
    let row: String = row[..=column].iter().map(|cell| form(&plain(&cell.text))).collect();
    let has_name = row.chars().filter(|letter| letter.is_alphabetic()).count() >= FEWEST_OF_A_NAME;
    (has_name && amount.contains(|letter: char| letter.is_ascii_digit())).then_some(row)
}

/// Letters of what is priced.
const FEWEST_OF_A_NAME: usize = 3;

/// Whether a text has the sign of a currency or names the project's.
pub(super) fn tells_of_money(text: &str, currency: &str) -> bool {
    let mut words = text.split(|letter: char| !letter.is_alphabetic());
    text.contains(['£', '$', '€', '¥']) || words.any(|word| word.eq_ignore_ascii_case(currency))
}

#[cfg(test)]
mod tests {
    use super::{form, is_in, tells_of_money};

    #[test]
    fn a_secret_is_found_however_it_is_parted_and_no_number_within_another() {
        assert!(is_in(&form("01632 960123"), &form("Ring (01632) 960-\n123.")));
        assert!(is_in(&form("café Gull"), &form("Cafe\u{301} gu\u{ad}ll")));
        assert!(is_in("42gbp", &form("for 42\u{a0}GBP")));
        assert!(!is_in("42gbp", &form("for 142 GBP")));
    }

    #[test]
    fn money_is_known_by_its_currency() {
        assert!(tells_of_money("3 h at 41 GBP/h", "GBP"));
        assert!(!tells_of_money("a gbpost", "GBP"));
    }
}
