//! Who and what is not named to this reader.

use super::Addressee;
use super::form::{one_form, tokens};
use super::words::long_numbers;
use crate::dossier::{Dossier, NoteId, ShopId};
use crate::worked::Privacy;

/// What is not named, each with why.
pub(super) struct Names {
    /// Without what parts its words.
    names: Vec<(String, String)>,
    /// Digits of the contacts' numbers.
    numbers: Vec<String>,
}

const CONTACT: &str = "it holds a contact";
const PERSON: &str = "it names a person";

/// Shorter ones would be found in every other word.
const SHORTEST: usize = 3;

impl Names {
    pub(super) fn of(dossier: &Dossier, privacy: &Privacy, whom: Addressee) -> Self {
        let mut names = Vec::new();
        let mut add = |name: &str, why: &str| names.push((compact(name), why.to_owned()));
        for shop in dossier.shops.ids().filter(|shop| !dossier[*shop].head.for_helpers.goes) {
            let keys = &dossier[shop];
            if let Some(contact) = &keys.contact {
                add(contact, CONTACT);
                people(contact).iter().for_each(|person| add(person, PERSON));
            }
            let spellings =
                if is_elsewhere(dossier, shop, whom) { spellings(dossier, shop) } else { Vec::new() };
            spellings.iter().for_each(|name| add(name, &format!("it names `{}`", keys.id())));
        }
        let done = dossier.steps.iter().filter_map(|step| step.done_by.as_ref());
        done.flat_map(|by| people(&by.text)).for_each(|person| add(&person, PERSON));
        let sold = dossier.parts.iter().filter(|part| !part.head.for_helpers.goes);
        let sold = sold.filter_map(|part| part.from.as_deref()).flat_map(|from| [from, before_comma(from)]);
        sold.for_each(|from| add(from, "it names who sells or makes a part"));
        for note in dossier.notes().filter(|note| privacy.is_private(*note)) {
            let why = format!("it names the private note `{}`", dossier.head(note).id);
            private(dossier, note).iter().for_each(|name| add(name, &why));
        }
        names.retain(|(name, _)| name.chars().count() >= SHORTEST);
        let reader = match whom {
            Addressee::Shop(shop) => spellings(dossier, shop).iter().map(|name| compact(name)).collect(),
            Addressee::Anyone => Vec::new(),
        };
        names.retain(|(name, _)| !reader.contains(name));
        Self { names, numbers: numbers(dossier) }
    }

    /// Why a text of one form is not for this reader, as far as names go.
    pub(super) fn objection(&self, form: &str) -> Option<&str> {
        let tokens = tokens(form);
        let is_told = |name: &str| (0..tokens.len()).any(|at| begins(&tokens[at..], name));
        let named = self.names.iter().find(|(name, _)| is_told(name)).map(|(_, why)| why.as_str());
        let is_known = |number: &String| {
            self.numbers.iter().any(|known| number.contains(known) || known.ends_with(number))
        };
        named.or_else(|| long_numbers(form).iter().any(is_known).then_some(CONTACT))
    }
}

/// Whether the words begin with a name, however they are parted.
fn begins(tokens: &[&str], name: &str) -> bool {
    let mut rest = name;
    for token in tokens {
        match rest.strip_prefix(token) {
            Some("") => return true,
            Some(further) => rest = further,
            None => return false,
        }
    }
    false
}

fn compact(name: &str) -> String {
    tokens(&one_form(name, " ")).concat()
}

/// Another helper; the keeper's own shop and the place where the machine stands are no others.
fn is_elsewhere(dossier: &Dossier, shop: ShopId, whom: Addressee) -> bool {
    whom != Addressee::Shop(shop) && dossier.home != Some(shop) && dossier.site != Some(shop)
}

/// The ways in which a shop is written of: `gull-yard`, "The Gull Yard, machine shop", "Gull Yard".
fn spellings(dossier: &Dossier, shop: ShopId) -> Vec<String> {
    let (id, name) = (dossier[shop].id().to_owned(), dossier[shop].name.clone());
    let bare = name.strip_prefix("The ").unwrap_or(&name).to_owned();
    vec![before_comma(&bare).to_owned(), id, name, bare]
}

fn before_comma(text: &str) -> &str {
    text.split(',').next().unwrap_or(text)
}

/// The id and the name of a private note; of a short word of a reading, nothing, for every other text holds it.
fn private(dossier: &Dossier, note: NoteId) -> Vec<String> {
    const FEWEST_LETTERS: usize = 5;
    let (id, title) = (dossier.head(note).id.clone(), dossier.title(note));
    let is_telling = |name: &String| match note {
        NoteId::Part(_) => true,
        _ => {
            name.contains([' ', '-'])
                || name.len() >= FEWEST_LETTERS && !matches!(note, NoteId::Measurement(_))
        }
    };
    [id, title].into_iter().filter(is_telling).collect()
}

/// The names in a contact: words in capitals but the usual ones, together and alone.
fn people(text: &str) -> Vec<String> {
    let is_capital = |word: &&str| {
        let mut letters = word.chars();
        letters.next().is_some_and(char::is_uppercase) && letters.next().is_some_and(char::is_lowercase)
    };
    let words = text.split(|letter: char| !letter.is_alphanumeric() && !matches!(letter, '\'' | '-'));
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    let is_name = |word: &&str| {
        is_capital(word) && ![word, word.trim_end_matches('s')].iter().any(|word| NO_NAMES.contains(word))
    };
    let mut names: Vec<String> = words.split(|word| !is_name(word)).map(|run| run.join(" ")).collect();
    let single: Vec<String> = names.iter().flat_map(|name| name.split(' ')).map(str::to_owned).collect();
    names.extend(single);
    names.retain(|name| !name.is_empty());
    names
}

/// Words in capitals that are no names.
const NO_NAMES: [&str; 46] = [
    "A",
    "After",
    "Always",
    "An",
    "And",
    "Any",
    "Ask",
    "At",
    "Before",
    "By",
    "Call",
    "Come",
    "E-mail",
    "Email",
    "For",
    "From",
    "Friday",
    "In",
    "It",
    "Knock",
    "Leave",
    "Mail",
    "Monday",
    "Mornings",
    "Morning",
    "Mr",
    "Never",
    "No",
    "Not",
    "On",
    "Only",
    "Or",
    "Phone",
    "Post",
    "Ring",
    "Saturday",
    "Sunday",
    "Tel",
    "Telephone",
    "The",
    "They",
    "Thursday",
    "Tuesday",
    "Two",
    "Wednesday",
    "Write",
];

fn numbers(dossier: &Dossier) -> Vec<String> {
    let closed = dossier.shops.iter().filter(|shop| !shop.head.for_helpers.goes);
    let contacts = closed.filter_map(|shop| shop.contact.as_deref());
    contacts.flat_map(|contact| long_numbers(&one_form(contact, " "))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_whole_words_however_they_are_parted() {
        let holds = |text: &str| {
            let form = one_form(text, " ");
            let tokens = tokens(&form);
            (0..tokens.len()).any(|at| begins(&tokens[at..], "gullyard"))
        };
        for text in ["the Gull Yard's man", "Gullyard", "gull-yard", "G u l l  Y a r d", "GULL  YARD"] {
            assert!(holds(text), "{text}");
        }
        for text in ["the gullyards", "seagull yard", "gull"] {
            assert!(!holds(text), "{text}");
        }
    }

    #[test]
    fn people_stand_in_a_contact() {
        assert_eq!(people("Ask for Nell on 01234 567890"), ["Nell", "Nell"]);
        assert_eq!(people("Nell Harker, nell@works.example"), ["Nell Harker", "Nell", "Harker"]);
        assert_eq!(people("Two weeks' notice and no Fridays"), Vec::<String>::new());
    }
}
