//! The published worked examples (`tests/reference/worked_examples.yaml`), in SI units.
//!
//! ```text
//! worked_examples! {
//!     /// V. B. Bhandari, Design of Machine Elements, 3rd ed., Example 22.6
//!     shrunk_jacket "PF-01" => |example| {
//!         let interference = …example.input("d_interface")…;
//!         example.check("interference_diametral", interference);
//!     }
//! }
//! ```
//!
//! makes the test `shrunk_jacket`, which fails unless every expected value was checked, and the list `WORKED` of ids,
//! by which `every_example_is_exercised` (in `mod.rs`) sees that none is left out.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use serde::Deserialize;
use serde_yaml::Value;

/// How close a result must come to the value recomputed at full precision from exact unit definitions.
const RECOMPUTED: f64 = 1e-6;

#[derive(Deserialize)]
struct File {
    examples: Vec<Example>,
    cross_checks: Vec<Example>,
}

/// One example; everything it gives is in SI units, angles in radians.
#[derive(Clone, Deserialize)]
pub(super) struct Example {
    pub id: String,
    pub topic: String,
    inputs: BTreeMap<String, Value>,
    expected: BTreeMap<String, Expected>,
    #[serde(default)]
    recomputed: BTreeMap<String, Value>,
    #[serde(skip)]
    checked: RefCell<BTreeSet<String>>,
}

#[derive(Clone, Deserialize)]
struct Expected {
    value: Value,
    unit: String,
    rtol: f64,
}

fn text() -> &'static str {
    include_str!("../reference/worked_examples.yaml")
}

fn parsed() -> Vec<Example> {
    let file: File = serde_yaml::from_str(text()).expect("the examples are well-formed");
    file.examples.into_iter().chain(file.cross_checks).collect()
}

thread_local! {
    static EXAMPLES: OnceLock<Vec<Example>> = const { OnceLock::new() };
}

/// The example of that id; the cross-checks (`XC-…`) too.
pub(super) fn example(id: &str) -> Example {
    let found = EXAMPLES.with(|all| all.get_or_init(parsed).iter().find(|each| each.id == id).cloned());
    found.unwrap_or_else(|| panic!("no example {id}"))
}

/// The ids of all examples of a topic, in the order of the file.
pub(super) fn ids(topic: &str) -> Vec<String> {
    parsed().into_iter().filter(|each| each.topic == topic).map(|each| each.id).collect()
}

/// All topics of the file.
pub(super) fn topics() -> BTreeSet<String> {
    parsed().into_iter().map(|each| each.topic).collect()
}

impl Example {
    fn raw(&self, name: &str) -> &Value {
        self.inputs.get(name).unwrap_or_else(|| panic!("{} has no input {name}", self.id))
    }

    /// An input in SI units; a plain number is taken as it stands.
    pub(super) fn input(&self, name: &str) -> f64 {
        match self.raw(name) {
            Value::String(quantity) => in_si(quantity),
            number => number.as_f64().unwrap_or_else(|| panic!("{} {name} is no number", self.id)),
        }
    }

    /// An input that is a list of plain numbers, in the unit that its name tells.
    pub(super) fn list(&self, name: &str) -> Vec<f64> {
        let list = self.raw(name).as_sequence().unwrap_or_else(|| panic!("{} {name} is no list", self.id));
        list.iter().map(|each| each.as_f64().expect("a number")).collect()
    }

    /// The published value, in SI units.
    pub(super) fn published(&self, name: &str) -> f64 {
        let expected = self.expectation(name);
        expected.value.as_f64().expect("a number") * unit(&expected.unit)
    }

    fn expectation(&self, name: &str) -> &Expected {
        self.expected.get(name).unwrap_or_else(|| panic!("{} expects no {name}", self.id))
    }

    /// The published value within its own tolerance, and the recomputed one within 1e-6; `got` is in SI units.
    #[track_caller]
    pub(super) fn check(&self, name: &str, got: f64) {
        let expected = self.expectation(name);
        self.close(name, got, self.published(name), expected.rtol);
        if let Some(recomputed) = self.recomputed.get(name).and_then(Value::as_f64) {
            self.close(name, got, recomputed * unit(&expected.unit), RECOMPUTED);
        }
        self.checked.borrow_mut().insert(name.to_owned());
    }

    #[track_caller]
    fn close(&self, name: &str, got: f64, wanted: f64, rtol: f64) {
        // The file prints nine figures, so that much is forgiven on top.
        let allowed = wanted.abs() * rtol * (1.0 + 1e-9) + wanted.abs() * 1e-9;
        assert!(
            (got - wanted).abs() <= allowed,
            "{} {name}: got {got:e}, wanted {wanted:e} within {rtol:e}",
            self.id
        );
    }

    /// Fails if an expected value was not checked.
    #[track_caller]
    pub(super) fn all_checked(&self) {
        let wanted: BTreeSet<String> = self.expected.keys().cloned().collect();
        assert_eq!(*self.checked.borrow(), wanted, "{}: expected values checked", self.id);
    }
}

/// `40 mm`, `18e-6 1/K`, `0.2 1` in SI units.
pub(super) fn in_si(quantity: &str) -> f64 {
    let (number, of) = quantity.split_once(' ').unwrap_or((quantity, "1"));
    let number: f64 = number.parse().unwrap_or_else(|_| panic!("`{quantity}` has no number"));
    number * unit(of)
}

/// The size of a unit expression (`*`, `/`, `**`) in SI units.
pub(super) fn unit(expression: &str) -> f64 {
    let product = expression.replace("**", "^");
    let mut quotient = product.split('/').map(|factors| factors.split('*').map(power).product::<f64>());
    let first = quotient.next().unwrap_or(1.0);
    quotient.fold(first, |value, divisor| value / divisor)
}

fn power(factor: &str) -> f64 {
    let (name, exponent) = factor.split_once('^').unwrap_or((factor, "1"));
    simple(name).powi(exponent.parse().unwrap_or_else(|_| panic!("`{factor}` is no unit")))
}

fn simple(name: &str) -> f64 {
    const IN: f64 = 0.0254;
    const LB: f64 = 0.453_592_37;
    const LBF: f64 = LB * 9.806_65;
    match name {
        "1" | "m" | "kg" | "s" | "K" | "N" | "Pa" | "W" | "Hz" | "rad" | "H" => 1.0,
        "mm" | "g" | "mPa" | "liter" => 1e-3,
        "um" => 1e-6,
        "cm" => 1e-2,
        "in" => IN,
        "ft" => 12.0 * IN,
        "min" => 60.0,
        "hour" => 3600.0,
        "kN" | "kW" => 1e3,
        "MPa" => 1e6,
        "GPa" => 1e9,
        "psi" => LBF / (IN * IN),
        "ksi" => 1e3 * LBF / (IN * IN),
        "lbf" => LBF,
        "kip" => 1e3 * LBF,
        "lb" => LB,
        "hp" => 550.0 * 12.0 * IN * LBF,
        "deg" => std::f64::consts::PI / 180.0,
        "r" => std::f64::consts::TAU,
        "rpm" => std::f64::consts::TAU / 60.0,
        "gallon" => 231.0 * IN * IN * IN,
        _ => panic!("no unit `{name}`"),
    }
}

/// Makes a test of each example and the list of their ids.
macro_rules! worked_examples {
    ($($(#[$doc:meta])* $name:ident $id:literal => |$example:ident| $body:block)*) => {
        /// The ids of the worked examples that this room exercises.
        pub(super) const WORKED: &[&str] = &[$($id),*];
        $(
            $(#[$doc])*
            #[test]
            fn $name() {
                let example = super::worked::example($id);
                let $example = &example;
                $body
                example.all_checked();
            }
        )*
    };
}
pub(super) use worked_examples;
