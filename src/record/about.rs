//! The project's own page, dossier.yaml.

use jiff::civil::Date;

use super::Typed;
use super::fields::{Fields, Reader, Word};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::calc::units::{Settings, System, Ton, Units};
use crate::diagnostic::Problem;
use crate::note::yaml::Node;
use crate::record::problems as problem;
use crate::text::Span;

/// What dossier.yaml says of the whole.
#[derive(Clone, Debug)]
pub struct About {
    pub title: String,
    /// Free keys with their words: built, rated, kind.
    pub machine: Vec<(String, String)>,
    pub keeper: Option<String>,
    pub keeper_contact: KeeperContact,
    pub revision: Option<String>,
    pub paper: Paper,
    /// Quantities in the other system stand in brackets.
    pub both: bool,
    /// Hands-on hours that the keeper has.
    pub hours_per_week: f64,
    pub start: Option<Date>,
    /// The shop that is the keeper's own.
    pub home: Option<Typed>,
    /// The shop where the machine stands, if it is not the keeper's own.
    pub site: Option<Typed>,
    pub settings: Settings,
    pub instruments: Vec<Instrument>,
    /// The bars that are bought, by section.
    pub stock_lengths: Vec<StockLength>,
    pub transport: Option<Transport>,
    pub allow: Vec<Allowed>,
}

/// How helpers reach the keeper: printed on every sheet as typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KeeperContact {
    /// Who answers questions.
    pub ask_for: Option<String>,
    pub telephone: Option<String>,
    pub mail: Option<String>,
    pub address: Option<String>,
    /// Where the machine stands: for jobs that are done there.
    pub machine_at: Option<String>,
}

/// The size of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    A4,
    Letter,
}

/// What a measurement was made with.
#[derive(Clone, Debug)]
pub struct Instrument {
    pub key: String,
    pub what: Option<String>,
    pub resolution: Option<Literal>,
    /// The half-width of what it may be off.
    pub within: Option<Literal>,
    /// From the least to the most that it reads; a single figure is the most.
    pub measures: Option<Literal>,
}

/// What the keeper carries parts with.
#[derive(Clone, Debug)]
pub struct Transport {
    /// What it bears, in kilograms.
    pub payload: Literal,
    /// Length and width of its bed, in metres.
    pub bed: [Literal; 2],
}

/// The bar that a section comes in.
#[derive(Clone, Debug)]
pub struct StockLength {
    /// In the words of a part's stock.
    pub section: String,
    /// Of a bar, in metres.
    pub length: Literal,
    /// The width of a cut, in metres, zero or more.
    pub cut: Literal,
}

/// A finding of `check` that is accepted.
#[derive(Clone, Debug)]
pub struct Allowed {
    pub code: String,
    pub id: Option<String>,
    pub why: Option<String>,
    pub span: Span,
}

impl Instrument {
    /// The least and the most that it reads, in SI units.
    pub fn range(&self) -> Option<(f64, f64)> {
        let measures = self.measures.as_ref()?;
        Some(if measures.is_exact() { (0.0, measures.high) } else { (measures.low, measures.high) })
    }
}

impl Word for Paper {
    const WORDS: &'static [(&'static str, Self)] = &[("a4", Self::A4), ("letter", Self::Letter)];
}

impl Word for System {
    const WORDS: &'static [(&'static str, Self)] = &[("inch", Self::Inch), ("metric", Self::Metric)];
}

impl Word for Ton {
    const WORDS: &'static [(&'static str, Self)] =
        &[("short", Self::Short), ("long", Self::Long), ("metric", Self::Metric)];
}

/// What is taken where dossier.yaml says nothing.
const HOURS_PER_WEEK: f64 = 8.0;

const KEYS: &[&str] = &[
    "title",
    "machine",
    "keeper",
    "keeper_contact",
    "revision",
    "units",
    "both",
    "money",
    "paper",
    "hours_per_week",
    "start",
    "home",
    "site",
    "ton",
    "instruments",
    "stock_lengths",
    "transport",
    "allow",
];

impl About {
    /// What stands when dossier.yaml is missing or can't be read, so that the notes can still be checked.
    pub fn unknown() -> (Self, Units) {
        let settings = Settings::default();
        let units = Units::new(&settings);
        let about = Self {
            title: "Untitled".to_owned(),
            machine: Vec::new(),
            keeper: None,
            keeper_contact: KeeperContact::default(),
            revision: None,
            paper: Paper::A4,
            both: false,
            hours_per_week: HOURS_PER_WEEK,
            start: None,
            home: None,
            site: None,
            settings,
            instruments: Vec::new(),
            stock_lengths: Vec::new(),
            transport: None,
            allow: Vec::new(),
        };
        (about, units)
    }

    /// Reads dossier.yaml; what can't be read is a problem and keeps its default.
    pub fn read(node: &Node, problems: &mut Vec<Problem>) -> (Self, Units) {
        let plain = Units::new(&Settings::default());
        let mut reader = Reader { units: &plain, problems };
        let Some(mut fields) = Fields::of(node, "dossier.yaml", KEYS, &mut reader) else {
            return Self::unknown();
        };
        let settings = settings(&mut fields);
        let mut about = Self {
            title: fields.required("title", "say which machine it is").unwrap_or_default(),
            machine: machine(&mut fields),
            keeper: fields.text("keeper"),
            keeper_contact: keeper_contact(&mut fields),
            revision: fields.text("revision"),
            paper: fields.word("paper").unwrap_or(Paper::A4),
            both: fields.truth("both").unwrap_or(false),
            hours_per_week: fields.number("hours_per_week").unwrap_or(HOURS_PER_WEEK),
            start: fields.date("start").map(|dated| dated.date),
            home: fields.typed("home"),
            site: fields.typed("site"),
            allow: allow(&mut fields),
            instruments: Vec::new(),
            stock_lengths: Vec::new(),
            transport: None,
            settings,
        };
        let units = Units::new(&about.settings);
        about.read_quantities(node, &units, problems);
        (about, units)
    }

    /// What needs the units that the page itself settles.
    fn read_quantities(&mut self, node: &Node, units: &Units, problems: &mut Vec<Problem>) {
        let mut reader = Reader { units, problems };
        let Some(mut fields) = Fields::of_any_keys(node, "dossier.yaml", &mut reader) else { return };
        self.instruments = instruments(&mut fields);
        self.stock_lengths = stock_lengths(&mut fields);
        self.transport = transport(&mut fields);
    }
}

fn settings(fields: &mut Fields) -> Settings {
    let plain = Settings::default();
    let ton = fields.word("ton");
    Settings {
        ton: ton.unwrap_or(plain.ton),
        ton_assumed: ton.is_none(),
        currency: currency(fields).unwrap_or(plain.currency),
        system: fields.word("units").unwrap_or(plain.system),
    }
}

/// Three capital letters, as in ISO 4217.
fn currency(fields: &mut Fields) -> Option<String> {
    let typed = fields.typed("money")?;
    if typed.text.len() == 3 && typed.text.chars().all(|letter| letter.is_ascii_uppercase()) {
        return Some(typed.text);
    }
    fields.reader.problems.push(problem::currency(typed.span, &typed.text));
    None
}

fn keeper_contact(fields: &mut Fields) -> KeeperContact {
    const KEYS: &[&str] = &["ask_for", "telephone", "mail", "address", "machine_at"];
    let Some(mut contact) = fields.child("keeper_contact", "the keeper's contact", KEYS) else {
        return KeeperContact::default();
    };
    KeeperContact {
        ask_for: contact.text("ask_for"),
        telephone: contact.text("telephone"),
        mail: contact.text("mail"),
        address: contact.text("address"),
        machine_at: contact.text("machine_at"),
    }
}

fn machine(fields: &mut Fields) -> Vec<(String, String)> {
    let mut facts = Vec::new();
    for entry in fields.entries("machine") {
        if let Some(value) = fields.typed_at(&entry.value) {
            facts.push((entry.key.clone(), value.text));
        }
    }
    facts
}

fn instruments(fields: &mut Fields) -> Vec<Instrument> {
    let entries = fields.entries("instruments");
    entries.iter().filter_map(|entry| instrument(&entry.key, &entry.value, fields.reader)).collect()
}

fn stock_lengths(fields: &mut Fields) -> Vec<StockLength> {
    let entries = fields.entries("stock_lengths");
    entries.iter().filter_map(|entry| stock_length(&entry.key, &entry.value, fields.reader)).collect()
}

fn transport(fields: &mut Fields) -> Option<Transport> {
    let mut fields = fields.child("transport", "a transport", &["payload", "bed"])?;
    for (key, why) in [("payload", "say what it bears"), ("bed", "say how long and wide it is")] {
        if fields.node(key).is_none() {
            fields.missing(key, why);
        }
    }
    let (payload, bed) =
        (fields.positive("payload", Dimension::MASS), fields.sides("bed", "two lengths, `8 ft x 4 ft`"));
    Some(Transport { payload: payload?, bed: bed? })
}

fn stock_length(section: &str, node: &Node, reader: &mut Reader) -> Option<StockLength> {
    let mut fields = Fields::of(node, "a stock length", &["length", "cut"], reader)?;
    for (key, why) in [("length", "say how long a bar is"), ("cut", "say how wide the saw cuts")] {
        if fields.node(key).is_none() {
            fields.missing(key, why);
        }
    }
    let (length, cut) =
        (fields.positive("length", Dimension::LENGTH), fields.not_negative("cut", Dimension::LENGTH));
    Some(StockLength { section: section.to_owned(), length: length?, cut: cut? })
}

fn instrument(key: &str, node: &Node, reader: &mut Reader) -> Option<Instrument> {
    let mut fields =
        Fields::of(node, "an instrument", &["what", "resolution", "within", "measures"], reader)?;
    Some(Instrument {
        key: key.to_owned(),
        what: fields.text("what"),
        resolution: fields.any_positive("resolution"),
        within: fields.any_positive("within"),
        measures: fields.typed("measures").and_then(|typed| fields.measure(&typed)),
    })
}

fn allow(fields: &mut Fields) -> Vec<Allowed> {
    fields.nodes("allow").into_iter().filter_map(|node| allowed(fields, node)).collect()
}

fn allowed(fields: &mut Fields, node: &Node) -> Option<Allowed> {
    let mut allowed = Fields::of(node, "an accepted finding", &["code", "id", "why"], &mut *fields.reader)?;
    let code = allowed.required("code", "name the code that `check` prints")?;
    if crate::diagnostic::codes::find(&code).is_none() {
        let place = allowed.node("code").map_or(node.span, |node| node.span);
        let known: Vec<&str> = crate::diagnostic::codes::ALL.iter().map(|code| code.word).collect();
        allowed.reader.problems.push(problem::word_unknown(place, "code", &code, &known));
        return None;
    }
    Some(Allowed { code, id: allowed.text("id"), why: allowed.text("why"), span: node.span })
}

impl Fields<'_, '_, '_> {
    /// A quantity above zero of whatever dimension the instrument reads.
    fn any_positive(&mut self, key: &str) -> Option<Literal> {
        let typed = self.typed(key)?;
        let dimension = self.measure(&typed)?.dimension();
        self.positive(key, dimension)
    }
}
