//! The materials table: every row found by every name, and what happens when a name is not enough.

use std::collections::BTreeSet;

use asfound::calc::function::{Answer, Argument, Call, Field, Refusal};
use asfound::calc::real::Real;
use asfound::trade::material::{self, Basis, Material, NotFound, Property};

use super::calling::Calling;
use super::worked::in_si;
use asfound::trade::strength;

fn look_up(function: &str, words: &str) -> Result<Answer, Refusal> {
    let function = material::FUNCTIONS.iter().find(|each| each.name == function).expect("a look-up");
    (function.body)(&Call::new(function, vec![Some(Argument::Text(words.to_owned()))]))
}

fn field(answer: &Answer, name: &str) -> Option<Field> {
    answer.fields.iter().find(|(each, _)| *each == name).map(|(_, field)| field.clone())
}

fn number(answer: &Answer, name: &str) -> f64 {
    match field(answer, name) {
        Some(Field::Number(real)) => real.value(),
        Some(Field::Bounded { middle, .. }) => middle,
        other => panic!("{name} is {other:?}"),
    }
}

fn candidates(words: &str) -> Vec<String> {
    match material::find(words) {
        Err(NotFound::Ambiguous { candidates, .. }) => candidates,
        other => panic!("{words}: {other:?}"),
    }
}

/// Every row by its name; by each designation it is found, or is among the candidates.
#[test]
fn every_name_leads_to_its_row() {
    let (mut alone, mut shared) = (0, 0);
    for row in material::materials() {
        assert_eq!(material::find(&row.name).expect("its own name").name, row.name);
        for designation in &row.designations {
            match material::find(designation) {
                Ok(found) => alone += usize::from(found.name == row.name),
                Err(NotFound::Ambiguous { candidates, .. }) => {
                    assert!(candidates.contains(&row.name), "{designation}: {candidates:?}");
                    shared += 1;
                }
                Err(unknown) => panic!("{designation}: {unknown:?}"),
            }
        }
    }
    let rows = material::materials().len();
    println!("{rows} materials; designations: {alone} lead to one row, {shared} to several");
    let all: usize = material::materials().iter().map(|row| row.designations.len()).sum();
    assert_eq!((rows, alone + shared), (44, all));
}

/// What is printed lowest is used where the grade is not known; each grade has its own row. Blackheart 180/260
/// (Mechanical Engineer's Data Handbook, table of physical properties), BS 310 grade by grade (6.1.3 there), EN 1562 by a
/// material card, ASTM A47 by a bolt maker's page.
#[test]
fn malleable_iron_of_no_grade_takes_the_least() {
    let strengths = |words: &str| {
        let iron = look_up("material", words).unwrap_or_else(|why| panic!("{words}: {why:?}"));
        (number(&iron, "yield") / 1e6, number(&iron, "uts") / 1e6)
    };
    for words in ["malleable cast iron", "malleable iron", "old malleable iron"] {
        assert_eq!(strengths(words), (170.0, 260.0), "{words}");
    }
    assert_eq!(strengths("EN-GJMB-350-10"), (200.0, 350.0));
    assert_eq!(strengths("ASTM A47"), (220.0, 340.0));
    assert_eq!(strengths("BS 310 B18/6"), (170.0, 280.0));
    assert_eq!(strengths("BS 310 grade B20/10"), (190.0, 310.0));
    assert_eq!(strengths("B22/14"), (200.0, 340.0));
    let of_no_grade = material::find("malleable cast iron").expect("a row");
    assert_eq!(of_no_grade.basis(Property::Yield), Some(Basis::Typical));
}

/// Porous metals bear 0.7 MPa·m/s (Mechanical Engineer's Data Handbook, 2.9.3), where a textbook has 1.75; carbon graphite
/// runs dry at 0.11, reinforced resin at 0.35 (tribology handbook, characteristics of rubbing bearing materials). No figure
/// is above what 3000 and 15 000 psi·ft/min come to.
#[test]
fn a_lining_takes_the_lower_of_two_printed_limits() {
    let limits = |words: &str| {
        let lining = look_up("bearing_material", words).unwrap_or_else(|why| panic!("{words}: {why:?}"));
        ["pressure", "speed", "pv"].map(|name| field(&lining, name).map(|_| number(&lining, name)))
    };
    assert_eq!(limits("porous iron"), [Some(30e6), Some(4.06), Some(0.7e6)]);
    assert_eq!(limits("porous bronze"), [Some(30e6), Some(7.5), Some(0.7e6)]);
    assert_eq!(limits("carbon graphite"), [Some(1.4e6), Some(1.25), Some(0.11e6)]);
    assert_eq!(limits("phenolic laminate"), [Some(35e6), Some(12.5), Some(0.35e6)]);
    for (words, most) in [("acetal", 3000.0), ("nylon", 3000.0), ("graphite, metallised", 15_000.0)] {
        let [_, _, pv] = limits(words);
        let psi_feet_per_minute = 6894.757 * 0.3048 / 60.0;
        assert!(pv.expect("a limit") <= most * psi_feet_per_minute, "{words}");
    }
}

/// The usual ways of writing.
#[test]
fn forms_of_a_name() {
    let name =
        |words: &str| material::find(words).map(|found| found.name).unwrap_or_else(|why| format!("{why:?}"));
    for words in ["GJL-150", "EN-GJL-150", "gjl 150", "gray cast iron class 20"] {
        assert_eq!(name(words), "grey cast iron class 20 / GJL-150", "{words}");
    }
    for words in ["C93200", "UNS C93200", "SAE 660", "cusn7znpb", "Rg7", "bearing bronze"] {
        assert_eq!(name(words), "bearing bronze SAE 660", "{words}");
    }
    assert_eq!(name("S235"), "mild steel (generic structural)");
    assert_eq!(name("1045 cold drawn"), "carbon steel 1045 cold drawn");
    assert_eq!(name("aluminum bronze"), "aluminium bronze");
}

/// Ambiguous: the candidates in the order of the table; unknown: the nearest.
#[test]
fn refused_with_candidates() {
    assert_eq!(candidates("EN 3"), ["mild steel (generic structural)", "carbon steel 1020"]);
    assert_eq!(candidates("SAE 1045"), ["carbon steel 1045 hot rolled", "carbon steel 1045 cold drawn"]);
    assert_eq!(candidates("grey cast iron").len(), 3);
    let refusal = look_up("material", "4140").unwrap_err();
    assert_eq!(refusal.message, "\"4140\" fits 3 of the materials in the table");
    assert!(refusal.help.starts_with("Write one of \"alloy steel 4140 annealed\", "), "{}", refusal.help);
    let near = look_up("material", "wrougth iron").unwrap_err();
    assert_eq!(near.message, "\"wrougth iron\" is not among the materials in the table");
    assert!(near.help.contains("\"wrought iron\""), "{}", near.help);
    for nothing in ["", "  ", "-", "unobtainium", "old", "unknown unobtainium"] {
        assert!(material::find(nothing).is_err(), "{nothing}");
    }
    assert!(material::find(&"steel ".repeat(100_000)).is_err());
}

/// A range is its middle with bounds, one uncertainty a row; of a strength the lower end is used, and said.
#[test]
fn ranges_and_lower_bounds() {
    let iron = look_up("material", "GJL-150").expect("in the table");
    let Some(Field::Bounded { middle, half_width, source }) = field(&iron, "E") else { panic!("a range") };
    assert!((middle - 90.5e9).abs() < 1.0 && (half_width - 12.5e9).abs() < 1.0);
    assert_eq!(source.label, "grey cast iron class 20 / GJL-150: modulus of elasticity");
    assert!((number(&iron, "uts") - 150e6).abs() < 1.0 && (number(&iron, "compressive") - 570e6).abs() < 1.0);
    assert!(
        (number(&iron, "density") - 7150.0).abs() < 1e-9 && (number(&iron, "poisson") - 0.26).abs() < 1e-12
    );
    let [(strengths, bound), (figures, memory)] = iron.remarks_of.as_slice() else { panic!("two remarks") };
    assert_eq!(*strengths, ["yield", "uts", "compressive"]);
    assert_eq!(
        bound.to_string(),
        "grey cast iron class 20 / GJL-150: as cast, of a separate test bar: thick walls have less; brittle, no yield point; of each strength the lower end is used; ultimate tensile strength, compressive strength: from memory, ± 20 %"
    );
    assert!(figures.contains(&"cte") && memory.text.contains("from memory"));
    let single = look_up("material", "ductile cast iron 400-15").expect("in the table");
    assert!(!single.remarks_of.iter().any(|(_, remark)| remark.text.contains("lower end")));
}

/// Every strength says what it is, and has the scatter of that: JCSS Probabilistic Model Code, part 3.2, table of mean
/// values: rolled steel has a coefficient of variation of 0.07 in yield, so 0.15 is just over two of them.
#[test]
fn strengths_have_the_scatter_of_what_they_are() {
    let strengths = Property::ALL.into_iter().filter(|property| property.is_strength());
    for (row, property) in
        material::materials().iter().flat_map(|row| strengths.clone().map(move |each| (row, each)))
    {
        assert_eq!(
            row.basis(property).is_some(),
            row.property(property).is_some(),
            "{} {property:?}",
            row.name
        );
    }
    let share =
        |words: &str, name: &str| match field(&look_up("material", words).expect("in the table"), name) {
            Some(Field::Bounded { middle, half_width, .. }) => half_width / middle,
            Some(Field::Number(_)) => 0.0,
            other => panic!("{other:?}"),
        };
    for (words, name, expected) in [
        ("S235", "yield", 0.0),
        ("EN 8", "yield", 0.15),
        ("wrought iron", "yield", 0.20),
        ("oak", "compressive", 0.35),
        ("unknown steel", "uts", 0.20),
    ] {
        assert!((share(words, name) - expected).abs() < 1e-12, "{words}: {}", share(words, name));
    }
    let iron = material::find("old iron").expect("joined");
    assert_eq!(iron.basis(Property::Tensile), Some(Basis::Memory));
    assert_eq!(iron.basis(Property::Modulus), None);
}

/// What the table does not state is absent; a function that needs it refuses, with the name.
#[test]
fn not_stated() {
    let iron = look_up("material", "GJL-150").expect("in the table");
    assert!(field(&iron, "yield").is_none());
    let shaft = Calling::of(strength::FUNCTIONS, "shear_pin_guard")
        .number("pin", 0.006)
        .number("shaft", 0.04)
        .number("strength", 3e8)
        .material("material", &[("E", 9e10), ("uts", 150e6)]);
    let refusal = shaft.outcome().unwrap_err();
    assert_eq!(refusal.message, "the materials table states no yield strength for test material");
    assert_eq!(refusal.help, material::HELP_NOT_STATED);
}

/// Old iron of unknown grade: the widest range and the least strength of all that it may be, and it is said.
#[test]
fn old_iron_of_unknown_grade() {
    let old = material::find("old iron").expect("joined");
    let irons: Vec<&Material> =
        material::materials().iter().filter(|row| row.name.contains("iron")).collect();
    let least = irons.iter().filter_map(|row| row.property(Property::Tensile)).map(|range| range.low);
    assert!(
        (old.property(Property::Tensile).expect("stated").low - least.fold(f64::MAX, f64::min)).abs() < 1.0
    );
    let modulus = old.property(Property::Modulus).expect("stated");
    assert!((modulus.low - 78e9).abs() < 1.0 && (modulus.high - 195e9).abs() < 1.0);
    assert!(old.property(Property::Yield).is_none(), "grey iron has none");
    let answer = look_up("material", "unknown steel").expect("joined");
    let steels = material::materials().iter().filter(|row| row.name.contains("steel")).count();
    assert!((number(&answer, "yield") - 200e6).abs() < 1.0);
    assert!(
        answer.remarks[0]
            .to_string()
            .starts_with("grade unknown: the widest range and the least strength of mild steel")
    );
    println!("old iron joins {} rows, unknown steel {steels}", irons.len());
}

/// Every cell of the table is read: as many properties as cells with something in them, all in their place.
#[test]
fn every_figure_is_read() {
    let columns =
        ["density_kg_m3", "E_GPa", "poisson", "yield_MPa", "uts_MPa", "compressive_MPa", "cte_1e-6_per_K"];
    let rows = asfound::trade::table::rows(include_str!("../../src/trade/data/materials.csv"));
    let cells = rows.iter().flat_map(|row| columns.map(|column| !row.text(column).is_empty()));
    let written = cells.filter(|written| *written).count();
    let ranges =
        material::materials().iter().flat_map(|row| Property::ALL.map(|property| row.property(property)));
    let read: Vec<_> = ranges.flatten().collect();
    println!("{} figures of {} materials", read.len(), rows.len());
    assert_eq!(read.len(), written);
    assert!(read.iter().all(|range| range.low > 0.0 && range.low <= range.high));
    let steel = material::find("S235").expect("in the table");
    let near = |property, low: f64| (steel.property(property).expect("stated").low / low - 1.0).abs() < 1e-12;
    assert!(
        near(Property::Modulus, 200e9) && near(Property::Expansion, 11e-6) && near(Property::Density, 7850.0)
    );
}

/// Every pair by its own label; the words of a person; candidates where the condition is missing.
#[test]
fn friction_of_every_pair() {
    for row in material::frictions() {
        let found =
            material::find_friction(&row.label()).unwrap_or_else(|why| panic!("{}: {why:?}", row.label()));
        assert_eq!(found.label(), row.label());
    }
    let labels: BTreeSet<String> = material::frictions().iter().map(material::Friction::label).collect();
    println!("{} pairs of friction, {} bearing materials", labels.len(), material::pv_limits().len());
    assert_eq!((labels.len(), material::pv_limits().len()), (30, 23));
    let oiled = look_up("friction", "steel on bronze, oiled").expect("one row");
    assert!((number(&oiled, "mu") - 0.16).abs() < 1e-12);
    assert!(oiled.warnings[0].contains("in a press fit it is three to six times too high"));
    let press = look_up("friction", "steel on steel, press fit, oiled").expect("one row");
    let Some(Field::Bounded { middle, half_width, .. }) = field(&press, "mu") else { panic!("a range") };
    assert!(
        (middle - 0.075).abs() < 1e-12 && (half_width - 0.025).abs() < 1e-12 && press.warnings.is_empty()
    );
    let bare = look_up("friction", "steel on cast iron").unwrap_err();
    assert!(bare.message.contains("fits 6 of the pairs"), "{}", bare.message);
    assert!(bare.help.contains("\"steel / cast iron, flat surfaces, dry\""), "{}", bare.help);
}

/// Limits of bearing materials: textbook table 16-1 prints psi, ft/min and psi ft/min.
#[test]
fn limits_of_bearing_materials() {
    for row in material::pv_limits() {
        let found =
            material::find_pv_limit(&row.material).unwrap_or_else(|why| panic!("{}: {why:?}", row.material));
        assert_eq!(found.material, row.material);
    }
    let bronze = look_up("bearing_material", "SAE 660").expect("one row");
    let psi = in_si("1 psi");
    for (name, printed) in
        [("pressure", 3000.0 * psi), ("speed", 750.0 * 0.00508), ("pv", 75000.0 * psi * 0.00508)]
    {
        assert!((number(&bronze, name) / printed - 1.0).abs() < 0.003, "{name}");
    }
    assert!(bronze.remarks.iter().any(|remark| remark.text == "not above 260 °C"));
    let tin = look_up("bearing_material", "babbitt high tin").expect("one row");
    assert!(field(&tin, "pressure").is_none() && field(&tin, "pv").is_some());
    assert_eq!(
        look_up("bearing_material", "babbitt").unwrap_err().message,
        "\"babbitt\" fits 4 of the bearing materials in the table"
    );
}

/// A material from the table goes into a formula: G of mild steel by E/(2 (1 + poisson)) is about 79 GPa.
#[test]
fn table_into_formula() {
    let steel = look_up("material", "S235").expect("in the table");
    let fields = steel.fields.iter().map(|(name, field)| {
        let argument = match field {
            Field::Number(real) => Argument::Number(*real),
            Field::Bounded { middle, .. } => Argument::Number(Real::exact(*middle)),
            Field::Text(text) => Argument::Text(text.clone()),
            other => panic!("{other:?}"),
        };
        ((*name).to_owned(), argument)
    });
    let twist = strength::FUNCTIONS.iter().find(|each| each.name == "twist").expect("a function");
    let number = |value| Some(Argument::Number(Real::exact(value)));
    let arguments = vec![
        number(100.0),
        number(1.0),
        number(0.03),
        number(0.0),
        Some(Argument::Fields(fields.collect())),
        None,
    ];
    let answer = (twist.body)(&Call::new(twist, arguments)).expect("a twist");
    let Some(Field::Number(stiffness)) = field(&answer, "stiffness") else { panic!("a number") };
    let polar = std::f64::consts::PI / 32.0 * 0.03_f64.powi(4);
    let modulus = stiffness.value() / polar;
    assert!((modulus / 79e9 - 1.0).abs() < 0.01, "{modulus:e}");
}

/// No key of the tables' own lists of sources reaches a reader (`materials.csv`: M1 to M8, `friction_pv.csv`: P1 to P10).
#[test]
fn sources_are_written_out() {
    let materials = material::materials().iter().flat_map(|each| &each.sources);
    let pairs = material::frictions().iter().flat_map(|each| &each.sources);
    let bearings = material::pv_limits().iter().flat_map(|each| &each.sources);
    let told = materials.chain(pairs).chain(bearings).map(ToString::to_string);
    let notes = material::pv_limits().iter().flat_map(|each| [each.note.clone(), each.material.clone()]);
    for source in told.chain(notes) {
        let words = || source.split(|c: char| !c.is_ascii_alphanumeric());
        let is_key = |word: &str| matches!(word.as_bytes(), [b'M' | b'P', b'1'..=b'9']);
        assert!(!words().any(is_key), "{source}");
    }
}
