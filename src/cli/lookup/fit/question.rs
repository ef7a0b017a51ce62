//! What `lookup fit` was asked: the size parted from what follows it.

use crate::calc::literal::Literal;
use crate::cli::Trouble;
use crate::cli::workshop::{self, trouble};
use crate::trade::limits::advice::{DUTIES, Duty, duty};
use crate::trade::limits::fit::Fit;

const HOW: &str = "Write a size with its unit, then a class: 50 mm H7/k6, 50 mm H7 or 2 in RC4.";

pub(super) struct Question {
    /// A length without bounds.
    pub size: Literal,
    pub asked: Asked,
}

/// What is asked at the size.
pub(super) enum Asked {
    Fit(Fit),
    Duty(&'static Duty),
    EveryDuty,
}

impl Question {
    /// Reads "50 mm H7/k6", words parted by one blank: the longest end that is a class or a duty, before it the size;
    /// or the class first, as calculations have it. The sign of a diameter in front is left aside.
    pub(super) fn read(text: &str) -> Result<Self, Trouble> {
        let text = text.trim_start_matches(['Ø', 'ø', '⌀']).trim_start();
        let words: Vec<&str> = text.split(' ').collect();
        if let Some(question) = Self::class_first(&words) {
            return Ok(question);
        }
        let parted = |at: usize| (words[..at].join(" "), words[at..].join(" "));
        let known = |(size, end): (String, String)| Some((size, Asked::read(&end)?));
        match (0..words.len()).map(parted).find_map(known) {
            Some((size, _)) if size.is_empty() => {
                Err(trouble(&format!("`{text}` stands without a size"), HOW))
            }
            Some((size, asked)) => Ok(Self { size: nominal(&size)?, asked }),
            None => Self::without_class(text, (1..=words.len()).rev().map(parted)),
        }
    }

    /// Reads "RC5 3.973 in": a class or a duty, all behind it a plain size.
    fn class_first(words: &[&str]) -> Option<Self> {
        (1..words.len()).rev().find_map(|at| {
            let size = nominal(&words[at..].join(" ")).ok()?;
            Some(Self { size, asked: Asked::read(&words[..at].join(" "))? })
        })
    }

    /// The longest beginning that is a size is separated from the rest, which must be nothing then.
    fn without_class(
        text: &str,
        mut parted: impl Iterator<Item = (String, String)>,
    ) -> Result<Self, Trouble> {
        match parted.find(|(size, _)| workshop::quantity(size).is_ok()) {
            Some((size, end)) if end.is_empty() => {
                Ok(Self { size: nominal(&size)?, asked: Asked::EveryDuty })
            }
            Some((_, end)) => Err(no_class(&end)),
            None => Err(trouble(&format!("`{text}` does not begin with a size"), HOW)),
        }
    }
}

impl Asked {
    /// A class, its members parted by a stroke, a blank or a dash; or a duty.
    fn read(text: &str) -> Option<Self> {
        let fit = Fit::parse(text).or_else(|_| Fit::parse(&text.replace([' ', '-'], "/")));
        fit.map(Self::Fit).ok().or_else(|| duty(text).map(Self::Duty))
    }
}

fn nominal(size: &str) -> Result<Literal, Trouble> {
    let literal = workshop::length("size", size)?;
    if literal.is_exact() {
        return Ok(literal);
    }
    Err(trouble(
        &format!("the nominal size `{size}` has bounds"),
        "Write it alone; its class gives the bounds.",
    ))
}

fn no_class(text: &str) -> Trouble {
    match Fit::parse(text) {
        Err(refusal) if text.contains(|letter: char| letter.is_ascii_digit()) => refusal.into(),
        _ => {
            let duties: Vec<&str> = DUTIES.iter().map(|duty| duty.name).collect();
            let help = format!("{HOW} The duties are {}.", duties.join(", "));
            trouble(&format!("`{text}` is no class of a fit and no duty"), &help)
        }
    }
}
