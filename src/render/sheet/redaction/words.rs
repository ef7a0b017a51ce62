//! What tells of money or of how to reach someone, in a text of one form.

use super::form::tokens;
use crate::calc::units::Units;

/// An amount in a currency, a rate, or a word of prices. `own` is the project's currency, in small letters; `typed` is
/// the text as it stands, in which other codes count only in capitals ("try 3 times", "all").
pub(super) fn tells_of_money(form: &str, typed: &str, own: &str) -> bool {
    let tokens = tokens(form);
    form.contains(SIGNS)
        || tokens.iter().any(|word| ALWAYS.contains(word))
        || (0..tokens.len()).any(|at| is_amount_of_money(&tokens, at, typed, own))
        || tokens.iter().any(|word| WITH_A_FIGURE.contains(word)) && tokens.iter().any(|word| is_figure(word))
}

const SIGNS: [char; 17] =
    ['£', '$', '€', '¥', '¢', '₤', '₹', '₽', '₩', '₺', '₴', '₦', '₱', '฿', '₫', '₪', '₿'];

const ALWAYS: [&str; 20] = [
    "price",
    "prices",
    "priced",
    "pricing",
    "invoice",
    "invoices",
    "invoiced",
    "paid",
    "payment",
    "payments",
    "wage",
    "wages",
    "fee",
    "fees",
    "quid",
    "dollars",
    "euros",
    "quotation",
    "discount",
    "salary",
];

/// Words that tell of money only beside a figure.
const WITH_A_FIGURE: [&str; 11] =
    ["charge", "charges", "charged", "cost", "costs", "quote", "quoted", "quotes", "bucks", "pence", "money"];

/// Currencies that count in small letters too.
const USUAL: [&str; 12] =
    ["gbp", "usd", "eur", "chf", "jpy", "cad", "aud", "nzd", "sek", "nok", "dkk", "pln"];

const NUMBERS: [&str; 30] = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
    "thirty",
    "forty",
    "fifty",
    "sixty",
    "seventy",
    "eighty",
    "ninety",
    "hundred",
    "thousand",
    "million",
];

fn is_amount(word: &str) -> bool {
    word.starts_with(|letter: char| letter.is_ascii_digit()) || NUMBERS.contains(&word)
}

/// "A new one" is no figure.
fn is_figure(word: &str) -> bool {
    is_amount(word) && word != "one"
}

/// Whether a text names a currency, without an amount.
pub(super) fn names_a_currency(form: &str, typed: &str, own: &str) -> bool {
    form.contains(SIGNS) || tokens(form).iter().any(|word| word.len() == 3 && is_code(word, typed, own))
}

fn is_code(word: &str, typed: &str, own: &str) -> bool {
    let capitals = word.to_uppercase();
    Units::is_currency(&capitals) && (word == own || USUAL.contains(&word) || typed.contains(&capitals))
}

fn is_amount_of_money(tokens: &[&str], at: usize, typed: &str, own: &str) -> bool {
    let near = |off: isize| at.checked_add_signed(off).and_then(|at| tokens.get(at)).copied();
    let has_amount = [-1, 1].into_iter().any(|off| near(off).is_some_and(is_amount));
    let word = tokens[at];
    let is_code = || is_code(word, typed, own);
    // Pounds are a mass too, but not where money is in pounds.
    let is_pressure =
        (1..4).any(|off| near(off).is_some_and(|next| matches!(next, "square" | "force" | "weight")));
    let is_pounds = matches!(word, "pound" | "pounds") && own == "gbp" && !is_pressure;
    let is_rate = is_amount(word)
        && near(1).is_some_and(|next| matches!(next, "a" | "an" | "per"))
        && near(2).is_some_and(|next| matches!(next, "hour" | "day" | "week" | "piece"));
    has_amount && word.len() == 3 && is_code() || is_pounds && near(-1).is_some_and(is_amount) || is_rate
}

/// A mail address, however its signs are written: `nell@works.example`, `nell (at) works dot example`.
pub(super) fn holds_mail_address(form: &str) -> bool {
    let signs = [("@", [" (at) ", "(at)", "[at]", "{at}"]), (".", [" dot ", "(dot)", "[dot]", "{dot}"])];
    let mut text = form.to_owned();
    for (sign, spellings) in signs {
        text = spellings.iter().fold(text, |text, spelling| text.replace(spelling, sign));
    }
    let text = [" @", "@ "].iter().fold(text, |text, apart| text.replace(apart, "@"));
    let words: Vec<&str> = text.split_whitespace().collect();
    words.iter().any(|word| is_mail_address(word))
        || words.windows(2).any(|pair| pair[0] == "at" && is_host(trimmed(pair[1])))
}

fn trimmed(word: &str) -> &str {
    word.trim_matches(|letter: char| !letter.is_alphanumeric())
}

/// `nell@works.example`, but not `@post.mass`.
fn is_mail_address(word: &str) -> bool {
    let parted = word.trim_matches(|letter: char| !letter.is_alphanumeric() && letter != '@').split_once('@');
    parted.is_some_and(|(name, host)| name.ends_with(char::is_alphanumeric) && is_host(trimmed(host)))
}

/// `works.example`, but neither `3.25` nor `e.g`.
fn is_host(word: &str) -> bool {
    let is_label = |label: &str| {
        label.len() >= 2 && label.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '-')
    };
    let last = word.rsplit('.').next().unwrap_or_default();
    word.contains('.')
        && word.split('.').all(is_label)
        && last.chars().all(|letter| letter.is_ascii_alphabetic())
}

/// A number that one dials, whoever's it is: at least nine digits from a 0 or a + on, or 555-010-0199; after a word that
/// asks to ring, five digits.
pub(super) fn holds_telephone_number(form: &str) -> bool {
    let runs = runs(form);
    runs.iter().any(|run| is_dialled(run)) || rings(form)
}

/// Groups of digits with what stands before each.
type Run<'a> = Vec<(&'a str, &'a str)>;

/// The groups of digits that only blanks and the signs of numbers part.
fn runs(form: &str) -> Vec<Run<'_>> {
    let is_sign = |letter: char| " -()./+".contains(letter);
    let runs = form.split(|letter: char| !letter.is_ascii_digit() && !is_sign(letter));
    runs.map(|run| {
        let (mut groups, mut rest) = (Vec::new(), run);
        while let Some(at) = rest.find(|letter: char| letter.is_ascii_digit()) {
            let (before, digits) = rest.split_at(at);
            let end = digits.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(digits.len());
            groups.push((before, &digits[..end]));
            rest = &digits[end..];
        }
        groups
    })
    .collect()
}

fn is_dialled(run: &[(&str, &str)]) -> bool {
    const FEWEST: usize = 9;
    let lengths = |groups: &[(&str, &str)]| groups.iter().map(|(_, digits)| digits.len()).collect::<Vec<_>>();
    let begins = |(before, digits): &(&str, &str)| {
        before.ends_with('+') && digits.len() <= 3 && !digits.starts_with('0')
            || digits.len() >= 2 && digits.starts_with('0')
            || *digits == "0" && before.ends_with('(')
    };
    let is_long = |at: usize| {
        let rest = &run[at..];
        let together =
            rest.iter().skip(1).take_while(|(before, _)| before.len() <= 3 && !before.contains("..")).count();
        let digits: usize = rest[..=together].iter().map(|(_, digits)| digits.len()).sum();
        digits >= FEWEST
    };
    (0..run.len()).any(|at| begins(&run[at]) && is_long(at))
        || run
            .windows(3)
            .any(|three| lengths(three) == [3, 3, 4] && three[1..].iter().all(|(before, _)| *before != " "))
}

fn rings(form: &str) -> bool {
    const ASKS: [&str; 8] = ["ring", "call", "phone", "telephone", "tel", "mobile", "text", "dial"];
    const FEWEST: usize = 5;
    let tokens = tokens(form);
    let is_number = |word: &&&str| word.len() >= FEWEST && word.chars().all(|letter| letter.is_ascii_digit());
    tokens.windows(4).chain([tokens.as_slice()].into_iter().filter(|all| all.len() < 4)).any(|few| {
        few.first().is_some_and(|word| ASKS.contains(word)) && few.iter().skip(1).any(|word| is_number(&word))
    })
}

/// The digits of every number of six or more, without what stands between.
pub(super) fn long_numbers(form: &str) -> Vec<String> {
    const FEWEST: usize = 6;
    let digits = runs(form).into_iter().map(|run| run.iter().map(|(_, digits)| *digits).collect::<String>());
    digits.filter(|number| number.len() >= FEWEST).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(text: &str) -> bool {
        tells_of_money(&super::super::form::one_form(text, " "), text, "gbp")
    }

    #[test]
    fn money_is_an_amount_in_a_currency_a_rate_or_a_word_of_prices() {
        for text in [
            "for 42 GBP an hour",
            "GBP 42",
            "42GBP",
            "42 gbp",
            "£ 3",
            "so that the price is right",
            "0.5 * (42 GBP / 1 h)",
            "charges 40 an hour",
            "forty quid",
            "40 pounds",
            "150 dollars",
            "a fee of 90",
            "forty of anybody's money",
            "the money is 40",
        ] {
            assert!(money(text), "{text}");
        }
        for text in [
            "ALL of it",
            "2 3/4 in",
            "try 3 times",
            "42 h",
            "pay out 3 ft of chain",
            "in charge of it",
            "12 all told",
            "either is a year and more money than the crane cost",
            "eighty thousand pounds on the square inch",
        ] {
            assert!(!money(text), "{text}");
        }
    }

    #[test]
    fn mail_addresses_however_they_are_written() {
        for text in [
            "nell@works.example",
            "nell (at) works.example",
            "nell [at] works dot example",
            "nell at works.example",
        ] {
            assert!(holds_mail_address(text), "{text}");
        }
        for text in
            ["@post.mass", "at 3.973 in", "e.g. at the slip", "look at e.g. the bush", "at sea. the rest"]
        {
            assert!(!holds_mail_address(text), "{text}");
        }
    }

    #[test]
    fn telephone_numbers_and_no_sizes() {
        for text in [
            "ring 01234 567-890",
            "07700 900123",
            "+44 1632 960123",
            "01632.960123",
            "+44 (0)1632 960123",
            "(555) 010-0199",
            "ring 960123",
        ] {
            assert!(holds_telephone_number(text), "{text}");
        }
        for text in [
            "3.9872 3.9914",
            "0.0009 in to 0.0022 in",
            "+0.0022/-0",
            "2027-03-01",
            "25.400 +0.013/-0.000",
            "3.9730 in to 3.9752 in",
            "ring oiler 12 mm",
        ] {
            assert!(!holds_telephone_number(text), "{text}");
        }
    }
}
