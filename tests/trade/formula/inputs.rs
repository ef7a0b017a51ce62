//! Inputs for a function: those of its example, and others drawn near them.

use std::fmt;

use asfound::calc::dimension::Dimension;
use asfound::calc::formula;
use asfound::calc::function::{Absent, Function, Parameter, Takes};
use asfound::calc::sheet::goes_on;
use asfound::calc::syntax::{Line, Node, NodeId, parse};
use asfound::calc::units::{Settings, Units};

/// The arguments of one call, each an expression as text.
#[derive(Clone)]
pub(super) struct Inputs {
    pub given: Vec<(String, String)>,
}

impl Inputs {
    /// The call with every argument by the name that it has been given.
    pub(super) fn call(&self, function: &str) -> String {
        let arguments: Vec<String> = self.given.iter().map(|(name, _)| format!("{name}: {name}")).collect();
        format!("{function}({})", arguments.join(", "))
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.given.iter().any(|(each, _)| each == name)
    }
}

impl fmt::Debug for Inputs {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let each: Vec<String> = self.given.iter().map(|(name, text)| format!("{name}: {text}")).collect();
        out.write_str(&each.join(", "))
    }
}

/// A call of an example: its arguments, those that are lists taken apart.
pub(super) struct Called {
    given: Vec<(String, Vec<String>, bool)>,
}

/// A random number generator that gives the same everywhere (SplitMix64, G. L. Steele and others, 2014).
pub(super) struct Seed(u64);

impl Seed {
    pub(super) fn new(name: &str) -> Self {
        Self(name.bytes().fold(20_260_301, |seed, byte| seed.wrapping_mul(131).wrapping_add(u64::from(byte))))
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From 0 up to 1.
    fn share(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, count: usize) -> usize {
        (self.share() * count as f64) as usize
    }

    /// From 0.5 to 2, as often below 1 as above; nearer to 1 in half of the sets, or geometry refuses most of them.
    fn factor(&mut self, width: f64) -> f64 {
        2f64.powf(width * (2.0 * self.share() - 1.0))
    }
}

fn units() -> Units {
    Units::new(&Settings::default())
}

/// The lines of a text, those with an open bracket joined.
fn logical(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for line in text.lines() {
        match lines.last_mut() {
            Some(last) if goes_on(last) => {
                last.push(' ');
                last.push_str(line.trim());
            }
            _ => lines.push(line.to_owned()),
        }
    }
    lines
}

/// Every call of the function in a text, with the lines before it.
pub(super) fn calls(function: &Function, text: &str) -> Vec<(Vec<String>, Called)> {
    let units = units();
    let lines = logical(text);
    let mut calls = Vec::new();
    for (index, text) in lines.iter().enumerate() {
        let line = parse(text, &units).unwrap_or_else(|fault| panic!("{text}: {}", fault.message));
        for call in &line.tree.calls {
            if line.at(line.tree.names[call.name as usize].name) != function.name {
                continue;
            }
            let given = call.arguments.iter().enumerate().map(|(place, argument)| {
                let name = argument.name.map_or(function.parameters[place].name, |name| line.at(name));
                let (values, is_list) = values(&line, argument.value);
                (name.to_owned(), values, is_list)
            });
            let before = lines[..index].iter().filter(|line| !line.starts_with("check")).cloned().collect();
            calls.push((before, Called { given: given.collect() }));
        }
    }
    calls
}

fn values(line: &Line, id: NodeId) -> (Vec<String>, bool) {
    let text = |id: NodeId| line.text[line.tree.span(id)].to_owned();
    match line.tree.node(id) {
        Node::List { first, count } => {
            (line.tree.list(first, count).iter().map(|id| text(*id)).collect(), true)
        }
        _ => (vec![text(id)], false),
    }
}

impl Called {
    pub(super) fn as_typed(&self) -> Inputs {
        let given = self.given.iter().map(|(name, values, is_list)| (name.clone(), joined(values, *is_list)));
        Inputs { given: given.collect() }
    }

    /// The same, every number scaled, texts chosen among those that the formula knows.
    pub(super) fn drawn(&self, function: &Function, lines: &[Line], seed: &mut Seed) -> Inputs {
        let width = if seed.share() < 0.5 { 1.0 } else { 0.15 };
        let mut given = Vec::new();
        for (name, values, is_list) in &self.given {
            let takes = function.parameters.iter().find(|each| each.name == name).map(|each| each.takes);
            let values: Vec<String> =
                values.iter().map(|value| moved(value, takes, lines, name, width, seed)).collect();
            given.push((name.clone(), joined(&values, *is_list)));
        }
        let is_left = |parameter: &&Parameter| self.given.iter().all(|(name, ..)| name != parameter.name);
        for parameter in function.parameters.iter().filter(is_left) {
            let Absent::Number(number) = parameter.absent else { continue };
            if number != 0.0 && seed.share() < 0.5 {
                let value = si(number, parameter.takes);
                let value = moved(&value, Some(parameter.takes), lines, parameter.name, width, seed);
                given.push((parameter.name.to_owned(), value));
            }
        }
        Inputs { given }
    }
}

fn joined(values: &[String], is_list: bool) -> String {
    if is_list { format!("[{}]", values.join(", ")) } else { values.join("") }
}

fn moved(
    value: &str,
    takes: Option<Takes>,
    lines: &[Line],
    name: &str,
    width: f64,
    seed: &mut Seed,
) -> String {
    match takes {
        Some(Takes::Text) => {
            let mut choices = vec![value.to_owned()];
            choices.extend(lines.iter().flat_map(|line| texts(line, name)));
            choices[seed.below(choices.len())].clone()
        }
        Some(Takes::Truth) => (seed.share() < 0.5).to_string(),
        Some(Takes::Material) | None => value.to_owned(),
        Some(Takes::TemperaturePoint) => format!("{value} + {:.6} K", 40.0 * (seed.share() - 0.5)),
        Some(Takes::Count) => match value.trim().parse::<f64>() {
            Ok(count) => format!("{}", (count * seed.factor(1.0)).round().max(1.0)),
            Err(_) => value.to_owned(),
        },
        Some(Takes::List(Dimension::NONE)) if value.trim().parse::<u32>().is_ok() => {
            let count: f64 = value.trim().parse().unwrap();
            format!("{}", (count * seed.factor(1.0)).round().max(1.0))
        }
        Some(_) => format!("({value})*{:.15}", seed.factor(width)),
    }
}

/// The texts that a line compares a name with.
fn texts(line: &Line, name: &str) -> Vec<String> {
    let quoted: Vec<&str> = line.text.split('"').collect();
    let before =
        |index: usize| quoted[index - 1].trim_end().trim_end_matches("==").trim_end().ends_with(name);
    (1..quoted.len())
        .step_by(2)
        .filter(|index| before(*index))
        .map(|index| format!("\"{}\"", quoted[index]))
        .collect()
}

/// A number of SI units as it is typed.
pub(super) fn si(number: f64, takes: Takes) -> String {
    match takes {
        Takes::TemperaturePoint => format!("{} degC", number - 273.15),
        Takes::Angle(_) => format!("{number} rad"),
        Takes::Turning(_) => format!("{number} rad/s"),
        Takes::Positive(dimension) | Takes::NotNegative(dimension) | Takes::Signed(dimension) => {
            let bases = ["m", "kg", "s", "A", "K", "mol", "cd"];
            let unit: String = bases
                .iter()
                .zip(dimension.exponents())
                .filter(|(_, exponent)| !exponent.is_zero())
                .map(|(base, exponent)| {
                    format!("*(1 {base})^({}/{})", exponent.numerator(), exponent.denominator())
                })
                .collect();
            format!("{number}{unit}")
        }
        _ => number.to_string(),
    }
}

/// The names that an expression uses, fields of records left out.
pub(super) fn names(text: &'static str) -> Vec<String> {
    let line = &formula::read(text).expect("an expression")[0];
    used(line).map(str::to_owned).collect()
}

/// The names that a line uses, the engine's own left out.
pub(super) fn used(line: &Line) -> impl Iterator<Item = &str> {
    let names = line.tree.names.iter().filter(|name| !name.called).map(|name| line.at(name.name));
    names.filter(|name| !["pi", "g_n"].contains(name))
}
