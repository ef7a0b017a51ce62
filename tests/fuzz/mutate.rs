//! Seeded mutations of texts: the same seed makes the same texts on every machine.

/// Random numbers by splitmix64 (S. Vigna's public-domain generator, constants from memory).
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// Less than `count`, and 0 for 0.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(count.max(1)).unwrap()).unwrap()
    }

    pub(crate) fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// Numbers and signs that break a careless reader.
const EXTREMES: [&str; 22] = [
    "0",
    "-0",
    "-1",
    "1e308",
    "1e-308",
    "1e400",
    "9999999999999999999999",
    "0.1",
    "nan",
    "inf",
    "-",
    "\u{2212}",
    "½",
    "\u{202f}",
    "\u{200b}",
    "\u{feff}",
    "\u{202e}",
    "\u{0}",
    "\u{7}",
    "e\u{301}",
    "🔧",
    "図",
];

/// One of the texts with one to eight changes: deleted, doubled, swapped, spliced, cut off, or with a word put in.
pub(crate) fn mutated(random: &mut Random, corpus: &[String], words: &[&str]) -> String {
    let mut text = random.of(corpus).clone();
    for _ in 0..=random.below(8) {
        text = changed(random, &text, corpus, words);
        if text.len() > 60_000 {
            break;
        }
    }
    text
}

fn changed(random: &mut Random, text: &str, corpus: &[String], words: &[&str]) -> String {
    let mut lines: Vec<&str> = text.split('\n').collect();
    let (one, other) = (random.below(lines.len()), random.below(lines.len()));
    let (start, end) = range(random, text);
    match random.below(10) {
        0 => {
            lines.remove(one);
        }
        1 => lines.insert(one, lines[one]),
        2 => lines.swap(one, other),
        3 => {
            let donor = random.of(corpus).as_str();
            let line = *random.of(&donor.split('\n').collect::<Vec<_>>());
            return [&text[..start], line, &text[end..]].concat();
        }
        4 => return [&text[..start], &text[end..]].concat(),
        5 => return [&text[..end], &text[start..]].concat(),
        6 => return text[..end].to_owned(),
        7 => return with_number(random, text),
        8 => return [&text[..start], *random.of(&EXTREMES), &text[start..]].concat(),
        _ => return [&text[..start], *random.of(words), &text[start..]].concat(),
    }
    lines.join("\n")
}

/// A short range between characters.
fn range(random: &mut Random, text: &str) -> (usize, usize) {
    let at = |mut index: usize| {
        while !text.is_char_boundary(index) {
            index -= 1;
        }
        index
    };
    let start = random.below(text.len() + 1);
    let end = (start + random.below(24)).min(text.len());
    (at(start), at(end))
}

/// The first number behind a random place becomes an extreme one.
fn with_number(random: &mut Random, text: &str) -> String {
    let (from, _) = range(random, text);
    let digits = |c: char| c.is_ascii_digit();
    let Some(start) = text[from..].find(digits).map(|at| from + at) else { return text.to_owned() };
    let end = text[start..].find(|c| !digits(c)).map_or(text.len(), |at| start + at);
    [&text[..start], *random.of(&EXTREMES), &text[end..]].concat()
}
