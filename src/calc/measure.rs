//! From the readings of one feature to what a calculation can ask of it.
//!
//! Takes: readings by station, the instrument, nominal size and limits. Gives: `min`, `max`, `mean`, `wear` and the
//! rest as values with uncertainty, and the bare statistics for a page's table. Never: decides what a head of a table means.

use super::cause::{Cause, Origin};
use super::dimension::Dimension;
use super::evaluate::verdict::{Verdict, judge, rank};
use super::rounding::Rounded;
use super::span::Span;
use super::syntax::Comparison;
use super::uncertainty::{Sources, Uncertainty};
use super::units::Unit;
use super::value::{Quantity, Style, Value};

/// The readings of one feature. All lengths and sizes are in SI units.
#[derive(Clone, Debug)]
pub struct Feature {
    /// What the sources of uncertainty are called after: `post-top-journal`.
    pub name: String,
    pub stations: Vec<Station>,
    /// The readings of a station repeat one dimension: their differences are scatter. Else they lie at different
    /// places: their differences are shape.
    pub repeats: bool,
    /// The readings of a station are diameters of one circle in different directions: their differences are out of round.
    pub diameters: bool,
    pub instrument: Option<Instrument>,
    pub nominal: Option<f64>,
    /// Lower and upper limit.
    pub limits: Option<(f64, f64)>,
    pub surface: Surface,
    /// The unit that results print in.
    pub unit: Unit,
}

/// Readings at one place along the feature.
#[derive(Clone, Debug)]
pub struct Station {
    pub place: String,
    /// Its distance along the feature, in metres, if the place is a length.
    pub position: Option<f64>,
    pub readings: Vec<Reading>,
}

#[derive(Clone, Debug)]
pub struct Reading {
    pub value: f64,
    /// One unit of the last digit typed.
    pub step: f64,
    /// The head of its column: an angle, or the number of the repeat.
    pub column: String,
}

#[derive(Clone, Debug)]
pub struct Instrument {
    pub key: String,
    /// Half-width of the error that all its readings share.
    pub within: Option<f64>,
    pub resolution: Option<f64>,
}

/// Which way metal goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Surface {
    /// A shaft: wear makes it smaller.
    #[default]
    Outside,
    /// A bore: wear makes it larger.
    Inside,
}

/// What readings come to.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The fields of `@measurement-id`, in a fixed order; what the readings don't give is left out.
    pub fields: Vec<(String, Value)>,
    /// The readings held against the limits, by the decision rule of every check; none without limits.
    pub within_limits: Option<Verdict>,
    pub statistics: Statistics,
}

/// The bare figures, in SI units, without uncertainty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Statistics {
    pub count: usize,
    pub min: f64,
    pub max: f64,
    pub mean: f64,
    pub spread: f64,
    /// With n - 1; none for a single reading.
    pub sd: Option<f64>,
    pub stations: Vec<StationStatistics>,
    pub out_of_round: Option<f64>,
    pub taper: Option<f64>,
    /// Change per length of the station means, by least squares.
    pub slope: Option<f64>,
    pub wear: Option<f64>,
    pub beyond: Option<f64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct StationStatistics {
    pub place: String,
    pub position: Option<f64>,
    pub count: usize,
    pub min: f64,
    pub max: f64,
    pub mean: f64,
    /// With n - 1; none for a single reading.
    pub sd: Option<f64>,
}

/// Works out a feature; its instrument and every reading become sources of uncertainty.
pub fn measure(feature: &Feature, sources: &mut Sources) -> Measured {
    let work = Work::new(feature, sources);
    let fields = work.fields(sources);
    Measured {
        statistics: work.statistics(&fields),
        within_limits: work.within_limits(),
        fields: work.printed(fields),
    }
}

impl Feature {
    /// Its readings and what is added up from them have the decimals of the finest reading, or of the instrument.
    fn style(&self) -> Style {
        let steps = self.stations.iter().flat_map(|station| &station.readings).map(|reading| reading.step);
        let resolution = self.instrument.as_ref().and_then(|instrument| instrument.resolution);
        Style::read(steps.chain(resolution).fold(f64::INFINITY, f64::min), self.unit)
    }
}

impl Measured {
    /// A field that is a figure.
    pub fn figure(&self, name: &str) -> Option<&Quantity> {
        self.fields.iter().find(|(each, _)| each == name).and_then(|(_, value)| value.quantity())
    }

    /// How far a figure is from what it was at an earlier measurement; what one instrument had wrong both times cancels.
    pub fn change(&self, name: &str, since: &Self) -> Option<Quantity> {
        Some(difference(self.figure(name)?, since.figure(name)?))
    }
}

/// Readings with their uncertainties, station by station.
struct Work<'a> {
    feature: &'a Feature,
    style: Style,
    stations: Vec<Worked>,
}

struct Worked {
    place: String,
    position: Option<f64>,
    readings: Vec<Quantity>,
    /// With the scatter of repeats.
    mean: Quantity,
    sd: Option<f64>,
}

/// The derived figures, each if the readings give it.
struct Fields {
    min: Option<Quantity>,
    max: Option<Quantity>,
    mean: Option<Quantity>,
    value: Option<Quantity>,
    spread: Option<Quantity>,
    sd: Option<Quantity>,
    out_of_round: Option<Quantity>,
    taper: Option<Quantity>,
    slope: Option<Quantity>,
    wear: Option<Quantity>,
    beyond: Option<Quantity>,
}

impl<'a> Work<'a> {
    fn new(feature: &'a Feature, sources: &mut Sources) -> Self {
        let stations = feature.stations.iter().filter(|station| !station.readings.is_empty());
        let style = feature.style();
        let stations = stations.map(|station| Worked::new((feature, style), station, sources)).collect();
        Self { feature, style, stations }
    }

    fn readings(&self) -> impl Iterator<Item = &Quantity> + Clone {
        self.stations.iter().flat_map(|station| &station.readings)
    }

    /// What the feature was found to be, place by place: of repeats the mean stands for them.
    fn sizes(&self) -> impl Iterator<Item = &Quantity> + Clone {
        let means = self.stations.iter().filter(|_| self.feature.repeats).map(|station| &station.mean);
        means.chain(self.readings().filter(|_| !self.feature.repeats))
    }

    fn fields(&self, sources: &mut Sources) -> Fields {
        let count = self.readings().count();
        let min = least(self.readings()).cloned();
        let max = greatest(self.readings()).cloned();
        let spread = min.as_ref().zip(max.as_ref()).map(|(min, max)| difference(max, min));
        Fields {
            mean: self.mean(count),
            value: self.readings().next().filter(|_| count == 1).cloned(),
            spread: spread.filter(|_| count > 1),
            sd: self.scatter().map(|sd| self.exact(sd)),
            out_of_round: self.out_of_round(),
            taper: self.taper(),
            slope: self.slope(),
            wear: self.wear(),
            beyond: self.beyond(sources),
            min,
            max,
        }
    }

    /// A size that readings are held against.
    fn limit(&self, value: f64) -> Quantity {
        let limit = Quantity { unit: self.feature.unit, ..self.exact(value) };
        Quantity { style: self.style.with_figures_of(&limit), ..limit }
    }

    fn exact(&self, value: f64) -> Quantity {
        Quantity::exact(value, self.feature.unit.dimension(), self.feature.unit.of_difference())
    }

    /// Over all readings: the station means by their numbers of readings.
    fn mean(&self, count: usize) -> Option<Quantity> {
        let weights: Vec<f64> =
            self.stations.iter().map(|station| share(station.readings.len(), count)).collect();
        let parts: Vec<(&Quantity, f64)> =
            self.stations.iter().map(|station| &station.mean).zip(weights).collect();
        let mean = combined(&parts)?;
        let value = average(self.readings().map(|each| each.value))?;
        Some(mean.clone().rounded(Rounded { value, bound: mean.rounding }))
    }

    /// The largest difference at one station, where its readings are diameters of one circle.
    fn out_of_round(&self) -> Option<Quantity> {
        if self.feature.repeats || !self.feature.diameters {
            return None;
        }
        let differences =
            self.stations.iter().filter(|station| station.readings.len() > 1).filter_map(|station| {
                Some(difference(greatest(&station.readings)?, least(&station.readings)?))
            });
        differences.max_by(|a, b| a.value.total_cmp(&b.value))
    }

    fn taper(&self) -> Option<Quantity> {
        let means = || self.stations.iter().map(|station| &station.mean);
        let (max, min) = (greatest(means())?, least(means())?);
        (self.stations.len() > 1).then(|| difference(max, min))
    }

    /// Least squares over the stations whose place is a length.
    fn slope(&self) -> Option<Quantity> {
        let placed: Vec<(f64, &Quantity)> =
            self.stations.iter().filter_map(|station| Some((station.position?, &station.mean))).collect();
        let middle = placed.iter().map(|(position, _)| position).sum::<f64>() * share(1, placed.len());
        let width: f64 = placed.iter().map(|(position, _)| (position - middle) * (position - middle)).sum();
        if placed.len() < 2 || width <= 0.0 {
            return None;
        }
        let parts: Vec<(&Quantity, f64)> =
            placed.iter().map(|(position, mean)| (*mean, (position - middle) / width)).collect();
        let dimension = self.feature.unit.dimension().per(Dimension::LENGTH)?;
        let unit = if dimension == Dimension::NONE { Unit::NONE } else { Unit::coherent(dimension) };
        Some(Quantity { dimension, unit, style: Style::Derived, ..combined(&parts)? })
    }

    /// The standard deviation: of repeats that of one place, pooled over the places (ISO 5725-2:2019, 7.4.5), so that
    /// shape is no scatter; else that of all readings.
    fn scatter(&self) -> Option<f64> {
        if !self.feature.repeats {
            return deviation(self.readings().map(|each| each.value));
        }
        let places = || self.stations.iter().filter_map(|place| Some((place.readings.len() - 1, place.sd?)));
        let degrees_of_freedom: usize = places().map(|(degrees, _)| degrees).sum();
        let squares: f64 = places().map(|(degrees, sd)| share(degrees, 1) * sd * sd).sum();
        (degrees_of_freedom > 0).then(|| libm::sqrt(squares * share(1, degrees_of_freedom)))
    }

    /// Wear from nominal at the worst place.
    fn wear(&self) -> Option<Quantity> {
        let nominal = self.limit(self.feature.nominal?);
        Some(match self.feature.surface {
            Surface::Outside => difference(&nominal, least(self.sizes())?),
            Surface::Inside => {
                Quantity { style: nominal.style, ..difference(greatest(self.sizes())?, &nominal) }
            }
        })
    }

    /// Wear beyond the limit at the worst place: 0 if the limit is held, with room for what the bounds may have it
    /// exceeded by.
    fn beyond(&self, sources: &mut Sources) -> Option<Quantity> {
        let (low, high) = self.feature.limits?;
        let beyond = match self.feature.surface {
            Surface::Outside => difference(&self.limit(low), least(self.sizes())?),
            Surface::Inside => {
                let limit = self.limit(high);
                Quantity { style: limit.style, ..difference(greatest(self.sizes())?, &limit) }
            }
        };
        let ends = Span::new(0.0, beyond.ends().high.max(0.0));
        if beyond.value > 0.0 {
            let uncertainty = beyond.uncertainty.clone().within(ends.moved(-beyond.value));
            return Some(Quantity { uncertainty, ..beyond });
        }
        let is_held = ends.high <= beyond.rounding;
        let uncertainty = if is_held { Uncertainty::NONE } else { Uncertainty::NONE.bent(ends, sources) };
        Some(Quantity { uncertainty, ..self.exact(0.0) })
    }

    /// Every place has to be inside: the worst of them decides.
    fn within_limits(&self) -> Option<Verdict> {
        let (low, high) = self.feature.limits?;
        let limit = |value: f64| Some(self.limit(value));
        let verdict = |value: &Quantity| judge(value.clone(), Comparison::Within, limit(low), limit(high));
        self.sizes().map(verdict).reduce(worse)
    }

    fn statistics(&self, fields: &Fields) -> Statistics {
        let value = |field: &Option<Quantity>| field.as_ref().map(|quantity| quantity.value);
        Statistics {
            count: self.readings().count(),
            min: value(&fields.min).unwrap_or_default(),
            max: value(&fields.max).unwrap_or_default(),
            mean: value(&fields.mean).unwrap_or_default(),
            spread: value(&fields.spread).unwrap_or_default(),
            sd: value(&fields.sd),
            stations: self.stations.iter().map(Worked::statistics).collect(),
            out_of_round: value(&fields.out_of_round),
            taper: value(&fields.taper),
            slope: value(&fields.slope),
            wear: value(&fields.wear),
            beyond: value(&fields.beyond),
        }
    }

    fn printed(&self, fields: Fields) -> Vec<(String, Value)> {
        let named = [
            ("min", fields.min),
            ("max", fields.max),
            ("mean", fields.mean),
            ("value", fields.value),
            ("spread", fields.spread),
            ("sd", fields.sd),
            ("out_of_round", fields.out_of_round),
            ("taper", fields.taper),
            ("slope", fields.slope),
            ("wear", fields.wear),
            ("beyond", fields.beyond),
        ];
        let present =
            named.into_iter().filter_map(|(name, field)| Some((name.to_owned(), Value::Quantity(field?))));
        let mut fields: Vec<(String, Value)> = present.collect();
        if !self.stations.is_empty() {
            fields.push((
                "readings".to_owned(),
                Value::list(self.readings().cloned().map(Value::Quantity).collect()),
            ));
        }
        fields
    }
}

impl Worked {
    fn new((feature, style): (&Feature, Style), station: &Station, sources: &mut Sources) -> Self {
        let readings: Vec<Quantity> =
            station.readings.iter().map(|each| reading((feature, style), station, each, sources)).collect();
        let values = || readings.iter().map(|each| each.value);
        let (count, sd) = (readings.len(), deviation(values()));
        let each = share(1, count);
        let bounds = Uncertainty::sum(readings.iter().map(|reading| (&reading.uncertainty, each)));
        let scatter = match sd.filter(|_| feature.repeats) {
            Some(sd) => {
                let label = format!("{}: scatter at {}", feature.name, station.place);
                let source = sources.fresh(Cause::of(Origin::Scatter, label));
                let degrees_of_freedom = u32::try_from(count - 1).unwrap_or(u32::MAX);
                Uncertainty::scatter(source, sd * each.sqrt(), degrees_of_freedom)
            }
            None => Uncertainty::NONE,
        };
        let dimension = feature.unit.dimension();
        let mean = Quantity {
            uncertainty: bounds.plus(scatter),
            style,
            ..Quantity::exact(average(values()).unwrap_or_default(), dimension, feature.unit)
        };
        Self { place: station.place.clone(), position: station.position, readings, mean, sd }
    }

    fn statistics(&self) -> StationStatistics {
        let values = || self.readings.iter().map(|each| each.value);
        StationStatistics {
            place: self.place.clone(),
            position: self.position,
            count: self.readings.len(),
            min: values().fold(f64::INFINITY, f64::min),
            max: values().fold(f64::NEG_INFINITY, f64::max),
            mean: self.mean.value,
            sd: self.sd,
        }
    }
}

/// One reading: the instrument's error, which all its readings share, and the rounding of this one.
fn reading(
    (feature, style): (&Feature, Style),
    station: &Station,
    reading: &Reading,
    sources: &mut Sources,
) -> Quantity {
    let instrument = feature.instrument.as_ref();
    let step = instrument.and_then(|instrument| instrument.resolution).unwrap_or(reading.step);
    let label = format!("{}: reading at {} {}", feature.name, station.place, reading.column);
    let cause = Cause::of(Origin::Reading, label.trim_end()).bounded(step / 2.0, feature.unit);
    let own = sources.fresh(cause);
    let mut uncertainty = Uncertainty::bound(own, step / 2.0);
    if let Some(Instrument { key, within: Some(within), .. }) = instrument {
        let cause = Cause::of(Origin::Instrument, format!("instrument {key}")).bounded(*within, feature.unit);
        let shared = sources.shared(cause);
        uncertainty = uncertainty.plus(Uncertainty::bound(shared, *within));
    }
    Quantity { uncertainty, style, ..Quantity::exact(reading.value, feature.unit.dimension(), feature.unit) }
}

/// One place that is outside for certain is enough; of those alike the one nearest to its limit, or furthest past it.
fn worse(one: Verdict, other: Verdict) -> Verdict {
    let order =
        rank(one.outcome).cmp(&rank(other.outcome)).then(one.margin.value.total_cmp(&other.margin.value));
    if order.is_gt() { other } else { one }
}

fn least<'a>(values: impl IntoIterator<Item = &'a Quantity>) -> Option<&'a Quantity> {
    values.into_iter().min_by(|one, other| one.value.total_cmp(&other.value))
}

fn greatest<'a>(values: impl IntoIterator<Item = &'a Quantity>) -> Option<&'a Quantity> {
    values.into_iter().max_by(|one, other| one.value.total_cmp(&other.value))
}

fn difference(a: &Quantity, b: &Quantity) -> Quantity {
    a.difference(b)
}

/// A sum of values, each times its share.
fn combined(parts: &[(&Quantity, f64)]) -> Option<Quantity> {
    let (first, _) = parts.first()?;
    let none = Rounded::plain(0.0);
    let value = parts.iter().fold(none, |sum, (quantity, share)| {
        let part = Rounded::product(quantity.as_rounded(), Rounded { bound: 0.0, ..Rounded::plain(*share) });
        Rounded::sum(sum, part, 1.0)
    });
    let uncertainty = Uncertainty::sum(parts.iter().map(|(quantity, share)| (&quantity.uncertainty, *share)));
    Some(Quantity { uncertainty, ..(*first).clone() }.rounded(value))
}

fn share(part: usize, whole: usize) -> f64 {
    let number = |count: usize| u32::try_from(count).map_or(f64::INFINITY, f64::from);
    number(part) / number(whole)
}

/// The mean: found roughly, then once more from the differences, which are small where the values are large.
pub fn average(values: impl Iterator<Item = f64> + Clone) -> Option<f64> {
    let count = values.clone().count();
    if count == 0 {
        return None;
    }
    let each = share(1, count);
    let rough = values.clone().sum::<f64>() * each;
    Some(rough + values.map(|value| value - rough).sum::<f64>() * each)
}

/// The standard deviation with n - 1.
pub fn deviation(values: impl Iterator<Item = f64> + Clone) -> Option<f64> {
    let count = values.clone().count();
    let mean = average(values.clone()).filter(|_| count > 1)?;
    // A mean that was rounded is no scatter.
    let apart = |value: f64| Rounded::sum(Rounded::typed(value), Rounded::typed(mean), -1.0).value;
    let squares: f64 = values.map(|value| apart(value) * apart(value)).sum();
    Some((squares * share(1, count - 1)).sqrt())
}
