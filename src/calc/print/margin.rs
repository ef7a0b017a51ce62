//! How far a value is from a limit, with the uncertainty beside it and what would settle the question: one rule for all
//! three. Nothing reads better than it is: a distance inside is rounded down, one outside up, the uncertainty up, and what
//! it has to come to down; and the figures never contradict each other.

use super::{Printed, Quantity, Way, exact_to, in_unit, money_decimals, most_decimals, plain, round};
use crate::calc::units::Unit;

/// A distance from a limit in figures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Apart {
    /// `20 mm`
    pub distance: String,
    /// `21 mm`, beside the distance as beside the value itself; none where there is no uncertainty.
    pub uncertainty: Option<String>,
    /// The uncertainty that would be small enough, rounded down.
    pub settles: String,
}

/// `distance`, in SI units and with its sign (positive inside), as part of a verdict by `margin` on `value`.
pub fn apart(distance: f64, margin: &Quantity, value: &Quantity, unit: Unit) -> Apart {
    let way = if distance < 0.0 { Way::Up } else { Way::Down };
    let size = unit.interval_from_si(distance.abs());
    if margin.shows_no_uncertainty() {
        let figure = |way| exact_to(size, unit, way).value();
        return Apart { distance: figure(way), uncertainty: None, settles: figure(Way::Down) };
    }
    let figures = Figures::of(size, margin, value, unit);
    let (distance, uncertainty, decimals) = figures.told(way);
    let with_unit = |figure: String| plain(figure, figures.power, unit).value();
    let settles = figures.something(decimals, Way::Down).0;
    Apart {
        distance: with_unit(distance),
        uncertainty: Some(with_unit(uncertainty)),
        settles: with_unit(settles),
    }
}

/// A size that an uncertainty has to come to, rounded down to two figures.
pub fn to_reach(size: &Quantity, unit: Unit) -> String {
    let figures = Figures::of(unit.interval_from_si(size.value.abs()), size, size, unit);
    plain(figures.something(figures.of_size, Way::Down).0, figures.power, unit).value()
}

/// Both sizes times the power of ten that is split off.
struct Figures {
    power: i32,
    size: f64,
    uncertainty: f64,
    /// The decimals that show two figures of the size, where its readings have as many.
    of_size: i32,
    of_uncertainty: i32,
    /// The uncertainty as it is printed beside the value.
    beside: Option<String>,
}

/// Beyond so many more figures two sizes are the same.
const MOST_FURTHER: i32 = 8;

impl Figures {
    fn of(size: f64, margin: &Quantity, value: &Quantity, unit: Unit) -> Self {
        let uncertainty = unit.interval_from_si(margin.expanded());
        let power = round::power_for(size, uncertainty);
        let scale = round::ten(-power);
        let decimals = |size: f64| {
            let two = || round::decimals_for(size * scale).min(most_decimals(margin, unit, power));
            money_decimals(unit).unwrap_or_else(two)
        };
        let shown = in_unit(value, unit);
        let is_same = (margin.expanded() - value.expanded()).abs() <= SAME * value.expanded();
        let beside = |shown: Printed| shown.expanded.filter(|_| is_same && shown.power == power);
        Self {
            power,
            size: size * scale,
            uncertainty: uncertainty * scale,
            of_size: decimals(size),
            of_uncertainty: decimals(uncertainty),
            beside: beside(shown),
        }
    }

    /// Distance and uncertainty in as many figures as show which is the larger, and the decimals of the distance.
    fn told(&self, way: Way) -> (String, String, i32) {
        let (distance, decimals) = self.something(self.of_size.max(self.of_uncertainty), way);
        let uncertainty = || round::to(self.uncertainty, self.of_uncertainty, Way::Up);
        let first = (distance, self.beside.clone().unwrap_or_else(uncertainty), decimals);
        let finer = (1..MOST_FURTHER).map(|further| {
            let decimals = decimals + further;
            let uncertainty = round::to(self.uncertainty, decimals, Way::Up);
            (round::to(self.size, decimals, way), uncertainty, decimals)
        });
        std::iter::once(first.clone()).chain(finer).find(|each| self.tells(each)).unwrap_or(first)
    }

    fn tells(&self, (distance, uncertainty, _): &(String, String, i32)) -> bool {
        let read = |figure: &str| figure.parse::<f64>().unwrap_or(f64::NAN);
        if self.uncertainty < self.size * (1.0 - SAME) {
            return read(uncertainty) < read(distance);
        }
        (self.uncertainty <= self.size) == (read(uncertainty) <= read(distance))
    }

    /// The size with so many decimals, or with as many more as make it something.
    fn something(&self, decimals: i32, way: Way) -> (String, i32) {
        let figures = (decimals..decimals + MOST_FURTHER).map(|each| (round::to(self.size, each, way), each));
        let is_something = |(figure, _): &(String, i32)| {
            self.size == 0.0 || figure.parse::<f64>().is_ok_and(|size| size > 0.0)
        };
        let first = (round::to(self.size, decimals, way), decimals);
        figures.into_iter().find(is_something).unwrap_or(first)
    }
}

/// Uncertainties that differ by no more, as a share, are one.
const SAME: f64 = 1e-9;
