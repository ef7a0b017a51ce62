//! The project's own page, dossier.yaml.

use jiff::civil::Date;

use super::Dated;
use super::chapter::{Chapter, chapters};
use super::declare::{Declared, record};
use super::fields::{Fields, Reader, Word};
use super::form::{
    Field, Reads, by, by_name, child, date, day_after, items, link, not_negative, number, one, own_name,
    own_place, place, positive, sides, text, text_as, texts, truth, word,
};
use super::key::{Form, Mapping, Target};
use super::links::TypedShop;
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::calc::units::{Settings, System, Ton, Units};
use crate::diagnostic::{Problem, codes};
use crate::note::yaml::Node;
use crate::record::problems as problem;
use crate::text::{Span, Texts};

record! {
    /// What dossier.yaml says of the whole.
    pub struct About of "dossier.yaml" {
        /// Which machine it is.
        title: String = title();
        /// Words of your own with what they say: built, rated, kind.
        machine: Vec<(String, String)> = machine();
        /// Whose dossier it is.
        keeper: Option<String> = text();
        /// How helpers reach the keeper: printed on every sheet as typed.
        keeper_contact: KeeperContact = child::<KeeperContact>().or(KeeperContact::default());
        /// Words that may go to helpers in any note although they tell of money, a contact, a person or a shop.
        for_helpers: Vec<String> = texts();
        /// Which edition it is, in your words.
        revision: Option<String> = text();
        /// The keeper's declaration that the machine may be used; left out, it is not declared fit for use.
        fit_for_use: Option<FitForUse> = child::<FitForUse>();
        /// The chapters that are printed, in this order, after the cover; left out, all of them in the usual one.
        chapters: Vec<Chapter> = chapters();
        /// How figures are read and printed.
        settings ("units", "money", "ton"): Settings = settings();
        /// The size of the page; left out, A4.
        paper: Paper = word().or(Paper::A4);
        /// Quantities in the other system stand in brackets.
        both: bool = truth().or(false);
        /// Hands-on hours that the keeper has; 8 where nothing is said.
        hours_per_week: f64 = number().or(HOURS_PER_WEEK);
        /// The first day of work.
        start: Option<Date> = date().map(|dated| dated.date);
        /// The shop that is the keeper's own.
        home: Option<TypedShop> = link::<TypedShop>();
        /// The shop where the machine stands, if it is not the keeper's own.
        site: Option<TypedShop> = link::<TypedShop>();
        /// What measurements are made with.
        instruments: Vec<Instrument> = by_name::<Instrument>();
        /// The bars that are bought, by section.
        stock_lengths: Vec<StockLength> = by_name::<StockLength>();
        /// What the keeper carries parts with.
        transport: Option<Transport> = child::<Transport>();
        /// The findings of `check` that are accepted.
        allow: Vec<Allowed> = items::<Allowed>();
    }
}

record! {
    /// The keeper's declaration that the machine may be used. It stands in for no inspection.
    pub struct FitForUse of "the declaration of fitness" {
        /// For what it is fit, and within what limits, in the keeper's words.
        words: String = text().needed("say for what it is fit, and within what limits");
        /// The day of the declaration.
        date: Dated = date().needed("say on which day it is declared");
        /// The last day on which it counts.
        valid_until: Option<Dated> = day_after("date");
        /// Who signed it, as a role: the keeper, the engineer of the trust.
        signed_by: Option<String> = text();
        /// Where it stands.
        span (): Span = place();
    }
}

record! {
    /// How helpers reach the keeper: printed on every sheet as typed.
    #[derive(Default, PartialEq, Eq)]
    pub struct KeeperContact of "the keeper's contact" {
        /// Who answers questions.
        ask_for: Option<String> = text();
        /// The number to call.
        telephone: Option<String> = text();
        /// Where mail is read.
        mail: Option<String> = text();
        /// Where letters go.
        address: Option<String> = text();
        /// Where the machine stands: for jobs that are done there.
        machine_at: Option<String> = text();
    }
}

record! {
    /// What a measurement was made with.
    pub struct Instrument of "an instrument" {
        /// What measurements call it.
        key (): String = own_name();
        /// Where that stands.
        key_span (): Span = own_place();
        /// What it is.
        what: Option<String> = text();
        /// The smallest step that it shows.
        resolution: Option<Literal> = any_positive();
        /// The half-width of what it may be off.
        within: Option<Literal> = any_positive();
        /// From the least to the most that it reads; a single figure is the most.
        measures: Option<Literal> = measure();
    }
}

record! {
    /// What the keeper carries parts with.
    pub struct Transport of "a transport" {
        /// What it bears.
        payload: Literal = positive(Dimension::MASS).needed("say what it bears");
        /// Length and width of its bed.
        bed: [Literal; 2] = sides::<2>("two lengths, `8 ft x 4 ft`").needed("say how long and wide it is");
    }
}

record! {
    /// The bar that a section comes in.
    pub struct StockLength of "a stock length" {
        /// In the words of a part's stock.
        section (): String = own_name();
        /// How long a bar is.
        length: Literal = positive(Dimension::LENGTH).needed("say how long a bar is");
        /// The width of a cut, zero or more.
        cut: Literal = not_negative(Dimension::LENGTH).needed("say how wide the saw cuts");
    }
}

record! {
    /// A finding of `check` that is accepted.
    pub struct Allowed of "an accepted finding" {
        /// The code that `check` prints.
        code: String = known_code().needed("name the code that `check` prints");
        /// The note it is about; left out, it is accepted everywhere.
        id: Option<String> = text_as(Form::Link(Target::AnyNote));
        /// Why it is accepted.
        why: Option<String> = text();
        /// Where it stands.
        span (): Span = place();
    }
}

/// The size of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    A4,
    Letter,
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

impl About {
    /// The keys of dossier.yaml.
    pub fn mapping() -> Mapping {
        <Self as Declared>::mapping()
    }

    /// What stands when dossier.yaml is missing or can't be read, so that the notes can still be checked.
    pub fn unknown() -> (Self, Units) {
        let settings = Settings::default();
        let units = Units::new(&settings);
        let nothing = Node::no_keys(Texts::default().add(String::new(), String::new()));
        let about = Self::with(&units, &nothing, &mut Vec::new()).expect("every key has its default");
        (about, units)
    }

    /// Reads dossier.yaml; what can't be read is a problem and keeps its default.
    pub fn read(node: &Node, problems: &mut Vec<Problem>) -> (Self, Units) {
        let plain = Units::new(&Settings::default());
        // A first reading finds the units that the page itself settles; what is wrong is reported by the second.
        let Some(first) = Self::with(&plain, node, &mut Vec::new()) else {
            let _ = Self::with(&plain, node, problems);
            return Self::unknown();
        };
        let units = Units::new(&first.settings);
        let about = Self::with(&units, node, problems).unwrap_or(first);
        (about, units)
    }

    fn with(units: &Units, node: &Node, problems: &mut Vec<Problem>) -> Option<Self> {
        let mut reader = Reader { units, problems, body: &[] };
        Self::of(&mut Fields::of(node, &Self::mapping(), &mut reader)?)
    }
}

fn title() -> Field<1, impl Reads<1, String>> {
    text().needed("say which machine it is").or_else(|| "Untitled".to_owned())
}

fn settings() -> Field<3, impl Reads<3, Settings>> {
    let forms = [Form::Word(System::words), Form::Text, Form::Word(Ton::words)];
    let meanings = [
        "How lengths print; typed they may be mixed.",
        "The currency: three letters, as in ISO 4217.",
        "What a bare ton, tonf or cwt means.",
    ];
    let read = |fields: &mut Fields, [units, money, ton]: [&'static str; 3]| {
        let plain = Settings::default();
        let ton = fields.word(ton);
        Some(Settings {
            ton: ton.unwrap_or(plain.ton),
            ton_assumed: ton.is_none(),
            currency: currency(fields, money).unwrap_or(plain.currency),
            system: fields.word(units).unwrap_or(plain.system),
        })
    };
    by(forms, read).each_says(meanings)
}

/// Three capital letters, as in ISO 4217.
fn currency(fields: &mut Fields, key: &str) -> Option<String> {
    let typed = fields.typed(key)?;
    if typed.text.len() == 3 && typed.text.chars().all(|letter| letter.is_ascii_uppercase()) {
        return Some(typed.text);
    }
    fields.reader.problems.push(problem::currency(typed.span, &typed.text));
    None
}

fn machine() -> Field<1, impl Reads<1, Vec<(String, String)>>> {
    one(Form::Facts, |fields, key| {
        let entries = fields.entries(key).iter();
        entries.filter_map(|entry| Some((entry.key.clone(), fields.typed_at(&entry.value)?.text))).collect()
    })
}

fn known_code() -> Field<1, impl Reads<1, Option<String>>> {
    one(Form::Code, |fields, key| {
        let typed = fields.typed(key)?;
        if codes::find(&typed.text).is_none() {
            let known: Vec<&str> = codes::ALL.iter().map(|code| code.word).collect();
            fields.reader.problems.push(problem::word_unknown(typed.span, key, &typed.text, &known));
            return None;
        }
        Some(typed.text)
    })
}

/// A quantity above zero of whatever dimension the instrument reads.
fn any_positive() -> Field<1, impl Reads<1, Option<Literal>>> {
    one(Form::Quantity(None), |fields, key| {
        let typed = fields.typed(key)?;
        let dimension = fields.measure(&typed)?.dimension();
        fields.positive(key, dimension)
    })
}

fn measure() -> Field<1, impl Reads<1, Option<Literal>>> {
    one(Form::Quantity(None), |fields, key| {
        let typed = fields.typed(key)?;
        fields.measure(&typed)
    })
}
