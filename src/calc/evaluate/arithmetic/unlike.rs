//! What to say of two quantities that do not go together, and the likely repair.

use crate::calc::dimension::Dimension;
use crate::calc::evaluate::{Evaluator, Site, Stop};
use crate::calc::fault;
use crate::calc::literal::Piece;
use crate::calc::syntax::Node;
use crate::calc::value::{Quantity, with_article};

impl Evaluator<'_> {
    pub(super) fn unlike(&self, site: &Site, doing: &str, a: &Quantity, b: &Quantity) -> Stop {
        let name = |quantity: &Quantity| match quantity.is_point() {
            true => "a temperature".to_owned(),
            false => with_article(&quantity.dimension.to_string()),
        };
        let mut fault = fault::unlike(site.range(), doing, (site.left(), name(a)), (site.right(), name(b)));
        let help = mixed_number(site).or_else(|| weight(a, b));
        fault.help = help.unwrap_or_else(|| self.advice(a, b));
        fault.into()
    }

    /// The likely repair of a sum of unlike things.
    fn advice(&self, a: &Quantity, b: &Quantity) -> String {
        let plain = [a, b].into_iter().position(|quantity| quantity.dimension == Dimension::NONE);
        if let Some(index) = plain {
            let other = if index == 0 { b } else { a };
            let examples = self.known.units.examples(other.dimension);
            return format!("Give the plain number a unit, such as {examples}.");
        }
        let (large, small, quotient) = match (a.dimension.per(b.dimension), b.dimension.per(a.dimension)) {
            (Some(quotient), _) if FACTORS.contains(&quotient) => (a, b, quotient),
            (_, Some(quotient)) if FACTORS.contains(&quotient) => (b, a, quotient),
            _ => return "Only values of one kind go together; check the formula.".to_owned(),
        };
        let name = |dimension: Dimension| with_article(&dimension.to_string());
        let (large, small) = (name(large.dimension), name(small.dimension));
        let large = format!("{}{}", large[..1].to_uppercase(), &large[1..]);
        format!("{large} is {small} times {}: is a factor missing?", name(quotient))
    }
}

/// What is likely to have been left out of a formula.
const FACTORS: [Dimension; 7] = [
    Dimension::LENGTH,
    Dimension::AREA,
    Dimension::VOLUME,
    Dimension::TIME,
    Dimension::SPEED,
    Dimension::ACCELERATION,
    Dimension::FORCE,
];

/// A mass where its weight is wanted, or the other way round.
pub(in crate::calc::evaluate) fn weight(a: &Quantity, b: &Quantity) -> Option<String> {
    weight_of(a.dimension, b).or_else(|| weight_of(b.dimension, a))
}

/// What to do with a mass, or a mass over an area or times an arm, where `wanted` has a force in its place.
pub(in crate::calc::evaluate) fn weight_of(wanted: Dimension, found: &Quantity) -> Option<String> {
    if wanted.per(found.dimension) != Some(Dimension::ACCELERATION) {
        return None;
    }
    let names = [("lb", "lbf"), ("kg", "kgf"), ("oz", "ozf"), ("ton", "tonf"), ("t", "tf")];
    let typed = found.unit.to_string();
    let is_in = |name: &str| typed.split(['·', '/', '(', ')', '^', ' ']).any(|word| word == name);
    let [mass, force] = names.into_iter().find(|(mass, _)| is_in(mass)).map_or(["lb", "lbf"], <[_; 2]>::from);
    Some(format!(
        "A mass is no force: `* g_n` makes its weight of it; a force is written in `{force}`, not in `{mass}`."
    ))
}

/// `2 - 5/16 in`: a whole number less a value with a unit, which may be meant for a mixed number.
fn mixed_number(site: &Site) -> Option<String> {
    let line = &site.frame.entry.line;
    let whole = match line.tree.node(site.left) {
        Node::Literal(index) => line.tree.literals[index as usize].plain_number()?,
        _ => return None,
    };
    let Node::Literal(index) = line.tree.node(site.right) else { return None };
    let [Piece::Figures(figures), Piece::Unit(unit)] = line.tree.literals[index as usize].pieces() else {
        return None;
    };
    let (above, below) = figures.split_once('/')?;
    let [above, below] = [above, below].map(|part| part.parse::<f64>().ok());
    let is_mixed = above.is_some_and(|above| Some(above) < below) && whole.fract() == 0.0;
    let subtract = format!("to subtract give the first a unit too: `{whole} {unit} - {figures} {unit}`.");
    Some(match is_mixed {
        true => format!("A mixed number is written `{whole} {figures} {unit}`; {subtract}"),
        false => format!("{}{}", subtract[..1].to_uppercase(), &subtract[1..]),
    })
}
