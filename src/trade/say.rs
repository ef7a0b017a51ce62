//! Figures in the words of a message: four figures, metric with inch beside.

use crate::calc::real::Real;

const INCH: f64 = 0.0254;
const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// `50.8 mm (2 in)`.
pub(super) fn length(value: Real) -> String {
    let value = value.value();
    format!("{} mm ({} in)", figures(value * 1e3), figures(value / INCH))
}

/// `120 N·m (88.51 ft·lbf)`.
pub(super) fn torque(value: Real) -> String {
    let value = value.value();
    format!("{} N·m ({} ft·lbf)", figures(value), figures(value / (12.0 * INCH * POUND_FORCE)))
}

/// `12 kN (2698 lbf)`.
pub(super) fn force(value: Real) -> String {
    let value = value.value();
    format!("{} kN ({} lbf)", figures(value * 1e-3), figures(value / POUND_FORCE))
}

/// `235 MPa (34.08 ksi)`.
pub(super) fn stress(value: Real) -> String {
    let value = value.value();
    format!("{} MPa ({} ksi)", figures(value * 1e-6), figures(value * INCH * INCH / POUND_FORCE * 1e-3))
}

/// `3.81 m/s (750 ft/min)`.
pub(super) fn speed(value: Real) -> String {
    let value = value.value();
    format!("{} m/s ({} ft/min)", figures(value), figures(value * 60.0 / (12.0 * INCH)))
}

/// `2.63 MPa·m/s (75088 psi·ft/min)`.
pub(super) fn pv(value: Real) -> String {
    let value = value.value();
    let psi_ft_per_min = POUND_FORCE / (INCH * INCH) * 12.0 * INCH / 60.0;
    format!("{} MPa·m/s ({} psi·ft/min)", figures(value * 1e-6), figures(value / psi_ft_per_min))
}

/// `950 rpm`.
pub(super) fn rate(value: Real) -> String {
    format!("{} rpm", figures(value.value() * 30.0 / std::f64::consts::PI))
}

/// A number to four figures, without closing zeros.
pub(super) fn figures(value: f64) -> String {
    let size = value.abs();
    let decimals = [1e3, 1e2, 1e1, 1.0, 1e-1, 1e-2, 1e-3].iter().position(|limit| size >= *limit);
    let text = match decimals {
        Some(decimals) => format!("{value:.decimals$}"),
        None if size == 0.0 => "0".to_owned(),
        None => format!("{value:.3e}"),
    };
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::figures;

    #[test]
    fn four_figures() {
        let printed = [12345.6, 1234.56, 50.8, 0.25, 0.012_346, 0.0].map(figures);
        assert_eq!(printed, ["12346", "1235", "50.8", "0.25", "0.01235", "0"]);
    }
}
