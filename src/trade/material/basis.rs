//! How sure a strength of the table is: by what it is, since the part in hand is no test bar.

/// What a strength of the table is; of several the later is the less certain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// The lower limit that a standard sets for the product: taken as it stands, since no more is known than that it is
    /// not less.
    Minimum,
    /// A typical figure.
    Typical,
    /// Recalled, with no second source seen.
    Memory,
    /// Of clear, seasoned wood of one kind.
    Wood,
}

impl Basis {
    /// In the order of certainty.
    pub const ALL: [Self; 4] = [Self::Minimum, Self::Typical, Self::Memory, Self::Wood];

    pub(super) fn read(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|basis| basis.word() == word)
    }

    /// Its word in the table and in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Minimum => "minimum",
            Self::Typical => "typical",
            Self::Memory => "memory",
            Self::Wood => "wood",
        }
    }

    /// The half-width of its bounds, as a share of the figure: about two coefficients of variation.
    ///
    /// - Typical: rolled steel has 0.07 in its yield strength and 0.04 in its tensile strength, half as much again in
    ///   America (JCSS Probabilistic Model Code, part 3.2, static properties of structural steel, table of mean values and
    ///   coefficients of variation). That other metals scatter alike is common practice, no source.
    /// - Memory: common practice, no source.
    /// - Wood: 0.16 in bending and 0.18 in compression along the grain (Wood Handbook, Forest Products Laboratory, average
    ///   coefficients of variation of clear wood; from memory).
    pub fn share(self) -> f64 {
        match self {
            Self::Minimum => 0.0,
            Self::Typical => 0.15,
            Self::Memory => 0.20,
            Self::Wood => 0.35,
        }
    }

    /// What is said of a strength that is used.
    pub fn words(self) -> &'static str {
        match self {
            Self::Minimum => "the lower limit of a standard",
            Self::Typical => "a typical figure, ± 15 %",
            Self::Memory => "from memory, ± 20 %",
            Self::Wood => "of clear wood, ± 35 %",
        }
    }
}
