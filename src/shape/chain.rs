//! The lengths of a part against its whole length: worst case, and root of the sum of squares.

use super::general::{General, SizeKind};
use super::model::Turned;
use super::size::{Key, Limits, Size};

/// One length of a chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// The size.
    pub size: Key,
    /// Middle of its limits, m.
    pub middle: f64,
    /// Half its tolerance, m.
    pub half: f64,
    /// Whether the limits are the general ones.
    pub general: bool,
}

/// A tolerance chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// The lengths.
    pub links: Vec<Link>,
    /// The least and the greatest whole permitted, m.
    pub permitted: (f64, f64),
    /// The least and the greatest whole if every length is at its worst, m.
    pub worst: (f64, f64),
    /// Likewise with half tolerances added as the root of their squares, m.
    pub likely: (f64, f64),
}

impl Chain {
    /// Whether the whole holds whatever the lengths come out at.
    pub fn holds(&self) -> bool {
        within(self.worst, self.permitted)
    }

    /// Whether it holds for independent, centred lengths.
    pub fn holds_likely(&self) -> bool {
        within(self.likely, self.permitted)
    }
}

fn within(inner: (f64, f64), outer: (f64, f64)) -> bool {
    let slack = 1e-9;
    outer.0 - slack <= inner.0 && inner.1 <= outer.1 + slack
}

/// The chain of a turned part all of whose lengths are typed and whose whole length has limits of its own. `None` if
/// that is not so, or a length has neither limits nor a general tolerance.
pub fn chain(turned: &Turned, general: Option<&General>) -> Option<Chain> {
    let overall = turned.overall.as_ref().filter(|size| !size.on_hold())?;
    let limits = overall.limits?;
    let links: Option<Vec<Link>> =
        turned.outside.iter().map(|segment| link(segment.long.as_ref()?, general)).collect();
    let links = links?;
    let middle: f64 = links.iter().map(|link| link.middle).sum();
    let sum: f64 = links.iter().map(|link| link.half).sum();
    let root = links.iter().map(|link| link.half * link.half).sum::<f64>().sqrt();
    Some(Chain {
        links,
        permitted: (overall.m() + limits.lower, overall.m() + limits.upper),
        worst: (middle - sum, middle + sum),
        likely: (middle - root, middle + root),
    })
}

fn link(size: &Size, general: Option<&General>) -> Option<Link> {
    let nominal = size.nominal.filter(|_| !size.on_hold())?;
    let limits = size.limits.or_else(|| {
        let deviation = general?.deviation(SizeKind::Linear, nominal)?;
        Some(Limits { upper: deviation, lower: -deviation })
    })?;
    let middle = nominal + f64::midpoint(limits.upper, limits.lower);
    let half = (limits.upper - limits.lower) / 2.0;
    Some(Link { size: size.key, middle, half, general: size.limits.is_none() })
}
