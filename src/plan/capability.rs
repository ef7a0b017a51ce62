//! Who can do it: what a step calls for against what each shop has.

use std::cmp::Ordering;

use crate::calc::dimension::Dimension;

/// One figure of a step's demand or a shop's means: `press: 30 tonf`.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// The word: press, lift, swing.
    pub what: String,
    /// The lower end in SI units: what a shop has for certain.
    pub low: f64,
    /// The upper end in SI units: what a step may need.
    pub high: f64,
    /// The dimension of both.
    pub dimension: Dimension,
    /// As the person typed it, for printing.
    pub typed: String,
    /// Who asks for it.
    pub asked: Asked,
}

/// Who asks for a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// The step.
    ByStep,
    /// What its parts weigh and measure: held only against a shop that states the same figure, and a length not against that
    /// of a lathe.
    ByParts,
    /// The shape of what it makes: held only against a shop that states the same figure, and a length against that of a
    /// lathe.
    ByShape,
}

/// Figures and processes: of a step what it calls for, of a shop what it has.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Means {
    /// The figures.
    pub measures: Vec<Measure>,
    /// Names of processes: torch, tig.
    pub processes: Vec<String>,
}

/// One thing a shop lacks for a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Lack {
    /// A figure is too small, or the shop has none of that name.
    Measure {
        /// The word.
        what: String,
        /// What is needed, as typed.
        needed: String,
        /// What there is, as typed.
        has: Option<String>,
        /// What there is as a part of what is needed, 0 to 1.
        part: f64,
    },
    /// The two figures of one name are of different kinds and can't be compared.
    Kind {
        /// The word.
        what: String,
        /// What is needed, as typed.
        needed: String,
        /// What the shop has, as typed.
        has: String,
    },
    /// A process the shop does not do.
    Process {
        /// Its name.
        name: String,
    },
}

/// Which shops can do a step.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Verdict {
    /// The shops that can, as indices, in the order they were given.
    pub able: Vec<usize>,
    /// Where none can: for each thing needed that no shop has, the nearest that is known.
    pub misses: Vec<Miss>,
    /// Where none can: the shop that comes nearest and what it lacks.
    pub nearest: Option<(usize, Vec<Lack>)>,
}

/// A thing needed that no shop has enough of, and the best that is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    /// The shop that comes nearest in this, if any has it at all.
    pub shop: Option<usize>,
    /// What it lacks.
    pub lack: Lack,
    /// What else this shop lacks and another has.
    pub also: Vec<Lack>,
}

impl Means {
    /// Whether nothing is called for; what the parts weigh and measure may still be held against what shops state.
    pub fn is_empty(&self) -> bool {
        self.called().next().is_none() && self.processes.is_empty()
    }

    /// Whether there is nothing to hold against a shop.
    pub fn asks_nothing(&self) -> bool {
        self.measures.is_empty() && self.processes.is_empty()
    }

    /// What the step itself calls for.
    pub fn called(&self) -> impl Iterator<Item = &Measure> {
        self.measures.iter().filter(|measure| measure.asked == Asked::ByStep)
    }

    /// What `shop` lacks to meet this demand; empty when it can.
    pub fn lacking_in(&self, shop: &Means) -> Vec<Lack> {
        let measures = self.measures.iter().filter_map(|needed| lack(needed, shop));
        let processes = self.processes.iter().filter(|name| !shop.does(name));
        measures.chain(processes.map(|name| Lack::Process { name: name.clone() })).collect()
    }

    fn does(&self, process: &str) -> bool {
        self.processes.iter().any(|own| same_word(own, process))
    }
}

/// Holds a step's demand against every shop. A lift given as a mass and one given as a force are compared by standard
/// gravity.
pub fn judge(demand: &Means, shops: &[Means]) -> Verdict {
    let lacks: Vec<Vec<Lack>> = shops.iter().map(|shop| demand.lacking_in(shop)).collect();
    let able: Vec<usize> = (0..shops.len()).filter(|&shop| lacks[shop].is_empty()).collect();
    if !able.is_empty() || demand.asks_nothing() {
        return Verdict { able, ..Verdict::default() };
    }
    let has_some_of_it = |shop: &usize| shortfall(&lacks[*shop]) < demand.count();
    let nearest = (0..shops.len()).filter(has_some_of_it).min_by(|&one, &two| {
        let fewer = lacks[one].len().cmp(&lacks[two].len());
        fewer.then_with(|| shortfall(&lacks[one]).total_cmp(&shortfall(&lacks[two])))
    });
    let misses = misses(demand, shops);
    Verdict { able, misses, nearest: nearest.map(|shop| (shop, lacks[shop].clone())) }
}

impl Means {
    #[expect(clippy::cast_precision_loss, reason = "a step calls for few things")]
    fn count(&self) -> f64 {
        (self.measures.len() + self.processes.len()) as f64
    }

    /// Each thing called for, alone.
    fn singly(&self) -> impl Iterator<Item = Means> {
        let measures =
            self.measures.iter().map(|one| Means { measures: vec![one.clone()], processes: Vec::new() });
        let processes =
            self.processes.iter().map(|one| Means { measures: Vec::new(), processes: vec![one.clone()] });
        measures.chain(processes)
    }
}

/// For each thing that no shop has enough of by itself: the best there is.
fn misses(demand: &Means, shops: &[Means]) -> Vec<Miss> {
    let best = |single: Means| -> Option<Miss> {
        let lacks = shops.iter().map(|shop| single.lacking_in(shop));
        let lacks: Vec<(usize, Lack)> = lacks
            .enumerate()
            .map(|(shop, lack)| Some((shop, lack.into_iter().next()?)))
            .collect::<Option<_>>()?;
        let best = lacks.into_iter().min_by(|one, two| one.1.missing().total_cmp(&two.1.missing()));
        let Some((shop, lack)) = best else {
            let lack = single.lacking_in(&Means::default()).into_iter().next()?;
            return Some(Miss { shop: None, lack, also: Vec::new() });
        };
        let also = demand.lacking_in(&shops[shop]);
        Some(Miss { shop: (lack.missing() < 1.0).then_some(shop), lack, also })
    };
    let mut found: Vec<Miss> = demand.singly().filter_map(best).collect();
    let told: Vec<Lack> = found.iter().map(|miss| miss.lack.clone()).collect();
    for miss in &mut found {
        miss.also.retain(|other| !told.iter().any(|lack| lack.word() == other.word()));
    }
    found
}

fn shortfall(lacks: &[Lack]) -> f64 {
    lacks.iter().map(Lack::missing).sum()
}

impl Lack {
    /// The word of what is lacking.
    fn word(&self) -> &str {
        match self {
            Self::Measure { what, .. } | Self::Kind { what, .. } => what,
            Self::Process { name } => name,
        }
    }

    /// How much is missing, as a part of what is needed, 0 to 1.
    pub fn missing(&self) -> f64 {
        match self {
            Self::Measure { part, .. } => 1.0 - part,
            Self::Kind { .. } | Self::Process { .. } => 1.0,
        }
    }
}

/// Whether two words name the same: case, hyphens and underscores don't count.
pub(super) fn same_word(one: &str, two: &str) -> bool {
    let plain = |word: &str| word.trim().to_lowercase().replace(['_', '-'], " ");
    plain(one) == plain(two)
}

fn lack(needed: &Measure, shop: &Means) -> Option<Lack> {
    let mut alike = shop.measures.iter().filter(|own| is_alike(needed, own));
    let comparable = alike.clone().filter_map(|own| Some((in_terms_of(needed.dimension, own)?, own)));
    let (what, asked) = (needed.what.clone(), needed.typed.clone());
    let is_unstated = needed.asked != Asked::ByStep && alike.clone().next().is_none();
    if is_unstated || is_of_a_lathe(needed, shop) {
        return None;
    }
    let Some((has, own)) = comparable.max_by(|one, two| one.0.total_cmp(&two.0)) else {
        return Some(match alike.next_back() {
            Some(own) => Lack::Kind { what, needed: asked, has: own.typed.clone() },
            None => Lack::Measure { what, needed: asked, has: None, part: 0.0 },
        });
    };
    match has.partial_cmp(&(needed.high * (1.0 - ROUNDING))) {
        Some(Ordering::Less) => {
            let part = (has / needed.high).clamp(0.0, 1.0);
            Some(Lack::Measure { what, needed: asked, has: Some(own.typed.clone()), part })
        }
        _ => None,
    }
}

/// Whether a shop's figure is of what is needed; what is turned lies between centres, whatever a shop calls that.
fn is_alike(needed: &Measure, own: &Measure) -> bool {
    let is_long = |word: &str| LONG.iter().any(|long| same_word(word, long));
    let both_long = needed.asked == Asked::ByShape && is_long(&needed.what) && is_long(&own.what);
    both_long || same_word(&own.what, &needed.what)
}

/// Whether the length of a piece would be held against that of a lathe.
fn is_of_a_lathe(needed: &Measure, shop: &Means) -> bool {
    let is_lathe = || shop.measures.iter().any(|own| LATHE.iter().any(|word| same_word(&own.what, word)));
    needed.asked == Asked::ByParts && needed.dimension == Dimension::LENGTH && is_lathe()
}

/// What a step or a shop may call the length of a piece.
pub(super) const LONG: &[&str] = &["length", "bed", "between centres"];

/// Beside one of these a shop's `length` is that of its lathe, not of the longest piece that it takes.
const LATHE: &[&str] = &["swing", "between centres"];

/// Conversion between units may lose this part of a figure: 1 ft against 12 in.
pub(super) const ROUNDING: f64 = 1e-9;

/// Standard gravity, m/s² (3rd CGPM, 1901).
pub(super) const GRAVITY: f64 = 9.80665;

/// What a shop has for certain, as a figure of the wanted dimension.
fn in_terms_of(wanted: Dimension, own: &Measure) -> Option<f64> {
    match (wanted, own.dimension) {
        (wanted, has) if wanted == has => Some(own.low),
        (Dimension::MASS, Dimension::FORCE) => Some(own.low / GRAVITY),
        (Dimension::FORCE, Dimension::MASS) => Some(own.low * GRAVITY),
        _ => None,
    }
}
