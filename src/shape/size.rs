//! One size of a part: its figure, its limits, how it was typed and where it came from.

/// What the caller calls a feature or a size: faults and numbered sizes give it back.
pub type Key = usize;

/// The unit in which a size is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Millimetre,
    /// Inches of 25.4 mm.
    Inch,
}

impl Unit {
    /// Metres in one of it.
    pub const fn metres(self) -> f64 {
        match self {
            Self::Millimetre => 0.001,
            Self::Inch => 0.0254,
        }
    }

    /// Its symbol.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Inch => "in",
        }
    }
}

/// Deviations from the nominal size, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// The upper deviation.
    pub upper: f64,
    /// The lower deviation; not above the upper.
    pub lower: f64,
}

/// Where a size came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Typed.
    Given,
    /// Taken from a reading.
    Measured,
    /// The result of a calculation.
    Calculated,
    /// Not known before something is measured.
    Hold {
        /// What has to be done first.
        why: String,
    },
}

/// One size.
#[derive(Clone, Debug, PartialEq)]
pub struct Size {
    /// The caller's key.
    pub key: Key,
    /// The nominal size in metres; while it is on hold, what it will be about, if that is known.
    pub nominal: Option<f64>,
    /// Its own limits.
    pub limits: Option<Limits>,
    /// A fit's class, `f7`.
    pub class: Option<String>,
    /// The nominal size as typed, without unit: `1 3/16`; while it is on hold, what it will be about, empty if not known.
    pub text: String,
    /// The unit it is printed in.
    pub unit: Unit,
    /// Where it came from.
    pub origin: Origin,
    /// Stays as it is on a part that is reworked: printed in brackets, no size to make.
    pub auxiliary: bool,
    /// The upper and lower deviation, or with `as_limits` the two limits, as typed, without unit: `1/64`; worked out from
    /// the limits if missing.
    pub deviations: Option<(String, String)>,
    /// Print the two limits of size in place of the nominal with deviations.
    pub as_limits: bool,
}

impl Size {
    /// A size in millimetres as typed.
    pub fn mm(key: Key, figure: f64) -> Self {
        Self::typed(key, figure * 0.001, &plain(figure), Unit::Millimetre)
    }

    /// A size in inches as typed.
    pub fn inch(key: Key, figure: f64, text: &str) -> Self {
        Self::typed(key, figure * 0.0254, text, Unit::Inch)
    }

    /// A size of `nominal` metres, printed as `text`.
    pub fn typed(key: Key, nominal: f64, text: &str, unit: Unit) -> Self {
        Self {
            key,
            nominal: Some(nominal),
            limits: None,
            class: None,
            text: text.to_owned(),
            unit,
            origin: Origin::Given,
            auxiliary: false,
            deviations: None,
            as_limits: false,
        }
    }

    /// A size that is not known yet.
    pub fn hold(key: Key, why: &str, unit: Unit) -> Self {
        let origin = Origin::Hold { why: why.to_owned() };
        Self { nominal: None, origin, ..Self::typed(key, 0.0, "", unit) }
    }

    /// With what it will be about while it is on hold, in metres and as typed: the drawing is laid out for that.
    #[must_use]
    pub fn about(mut self, metres: f64, text: &str) -> Self {
        self.nominal = Some(metres);
        text.clone_into(&mut self.text);
        self
    }

    /// With deviations in metres.
    #[must_use]
    pub fn within(mut self, lower: f64, upper: f64) -> Self {
        self.limits = Some(Limits { upper, lower });
        self
    }

    /// With a fit's class and its deviations in metres.
    #[must_use]
    pub fn class(mut self, class: &str, lower: f64, upper: f64) -> Self {
        self.class = Some(class.to_owned());
        self.within(lower, upper)
    }

    /// With another origin.
    #[must_use]
    pub fn from(mut self, origin: Origin) -> Self {
        self.origin = origin;
        self
    }

    /// As an auxiliary size.
    #[must_use]
    pub fn stays(mut self) -> Self {
        self.auxiliary = true;
        self
    }

    /// The nominal size in metres, 0 while on hold without a stand-in.
    pub fn m(&self) -> f64 {
        self.nominal.unwrap_or(0.0)
    }

    /// Whether it is on hold.
    pub const fn on_hold(&self) -> bool {
        matches!(self.origin, Origin::Hold { .. })
    }

    /// Whether it has limits of its own to be worked to and reported.
    pub const fn is_toleranced(&self) -> bool {
        self.limits.is_some() && !self.auxiliary
    }
}

/// A figure without trailing zeros, to 1e-6.
pub(crate) fn plain(figure: f64) -> String {
    let text = format!("{figure:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
