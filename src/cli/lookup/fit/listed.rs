//! A fit for scripts.

use serde::Serialize;

use crate::cli::workshop::{Said, tidy};
use crate::trade::limits::fit::{Clearance, Fit, Limits, Resolved, Unit};

/// In the unit of the standard's table; a member that was not asked for is left out.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Listed {
    Metric {
        size_mm: f64,
        #[serde(skip_serializing_if = "Option::is_none")]
        hole: Option<Metric>,
        #[serde(skip_serializing_if = "Option::is_none")]
        shaft: Option<Metric>,
        #[serde(skip_serializing_if = "Option::is_none")]
        clearance_um: Option<Ends>,
        #[serde(skip_serializing_if = "Option::is_none")]
        kind: Option<&'static str>,
        #[serde(flatten)]
        said: Said,
    },
    Inch {
        size_in: f64,
        fit: String,
        hole: Option<Inch>,
        shaft: Option<Inch>,
        clearance_thou: Option<Ends>,
        kind: Option<&'static str>,
        #[serde(flatten)]
        said: Said,
    },
}

#[derive(Serialize)]
pub(super) struct Metric {
    class: String,
    lower_um: f64,
    upper_um: f64,
}

#[derive(Serialize)]
pub(super) struct Inch {
    lower_thou: f64,
    upper_thou: f64,
}

/// Of a clearance; negative where it is interference.
#[derive(Serialize)]
pub(super) struct Ends {
    min: f64,
    max: f64,
}

impl Listed {
    pub(super) fn of(fit: Fit, resolved: &Resolved, said: Said) -> Self {
        let clearance = resolved.clearance().map(Ends::of);
        let kind = resolved.clearance().map(|clearance| clearance.kind().word());
        let Resolved { size, unit, hole, shaft, .. } = resolved;
        match unit {
            Unit::Micrometre => Self::Metric {
                size_mm: tidy(size * 1e3),
                hole: hole.as_ref().map(Metric::of),
                shaft: shaft.as_ref().map(Metric::of),
                clearance_um: clearance,
                kind,
                said,
            },
            Unit::Thou => Self::Inch {
                size_in: tidy(size / 0.0254),
                fit: fit.to_string(),
                hole: hole.as_ref().map(Inch::of),
                shaft: shaft.as_ref().map(Inch::of),
                clearance_thou: clearance,
                kind,
                said,
            },
        }
    }
}

impl Metric {
    fn of(limits: &Limits) -> Self {
        Self { class: limits.class.clone(), lower_um: limits.lower, upper_um: limits.upper }
    }
}

impl Inch {
    fn of(limits: &Limits) -> Self {
        Self { lower_thou: limits.lower, upper_thou: limits.upper }
    }
}

impl Ends {
    pub(super) fn of(clearance: Clearance) -> Self {
        Self { min: clearance.min, max: clearance.max }
    }
}
