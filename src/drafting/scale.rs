//! Scales of ISO 5455:1979 (clause 5; the decimal series 1, 2, 5).

/// A scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    /// Length on paper.
    pub paper: u32,
    /// Length of the part.
    pub part: u32,
}

impl Scale {
    /// Recommended scales from the largest down.
    pub const ALL: [Self; 17] = [
        Self::of(50, 1),
        Self::of(20, 1),
        Self::of(10, 1),
        Self::of(5, 1),
        Self::of(2, 1),
        Self::of(1, 1),
        Self::of(1, 2),
        Self::of(1, 5),
        Self::of(1, 10),
        Self::of(1, 20),
        Self::of(1, 50),
        Self::of(1, 100),
        Self::of(1, 200),
        Self::of(1, 500),
        Self::of(1, 1000),
        Self::of(1, 2000),
        Self::of(1, 5000),
    ];

    const fn of(paper: u32, part: u32) -> Self {
        Self { paper, part }
    }

    /// Millimetres on paper for a metre of the part.
    pub fn mm_per_metre(self) -> f64 {
        1000.0 * f64::from(self.paper) / f64::from(self.part)
    }

    /// As it stands in the title block: `1 : 2`.
    pub fn text(self) -> String {
        format!("{} : {}", self.paper, self.part)
    }
}
