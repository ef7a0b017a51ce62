//! Student's t: the factor that widens an uncertainty known from few readings.

/// The probability of two standard deviations of a normal distribution, for which the factor is 2 in the limit.
pub const TWO_SIGMA: f64 = 0.954_499_736_103_641_6;

/// Beyond this many degrees of freedom t differs from its limit by less than one in a million.
const AS_GOOD_AS_INFINITE: f64 = 1e7;

/// The factor t with `probability` inside ±t at `degrees_of_freedom` degrees of freedom (any number above zero).
pub fn factor(probability: f64, degrees_of_freedom: f64) -> f64 {
    let limit = normal(probability);
    if degrees_of_freedom.is_nan() || degrees_of_freedom > AS_GOOD_AS_INFINITE {
        return limit;
    }
    // Newton's method from below: the inside probability is concave in t, so every step stays below the root.
    let mut t = limit;
    for _ in 0..MOST_STEPS {
        let step = (probability - inside(t, degrees_of_freedom)) / (2.0 * density(t, degrees_of_freedom));
        t += step;
        if step.abs() <= 1e-12 * t {
            break;
        }
    }
    t
}

const MOST_STEPS: usize = 200;

/// The factor of the normal distribution.
fn normal(probability: f64) -> f64 {
    let mut z = 1.0;
    for _ in 0..MOST_STEPS {
        let density = libm::exp(-z * z / 2.0) * std::f64::consts::FRAC_2_PI.sqrt();
        let step = (probability - libm::erf(z / std::f64::consts::SQRT_2)) / density;
        z += step;
        if step.abs() <= 1e-14 {
            break;
        }
    }
    z
}

fn density(t: f64, degrees_of_freedom: f64) -> f64 {
    let log = libm::lgamma(f64::midpoint(degrees_of_freedom, 1.0)) - libm::lgamma(degrees_of_freedom / 2.0);
    let scale = libm::exp(log) / (degrees_of_freedom * std::f64::consts::PI).sqrt();
    scale * libm::pow(1.0 + t * t / degrees_of_freedom, -f64::midpoint(degrees_of_freedom, 1.0))
}

/// The probability inside ±t: one less the regularised incomplete beta function.
fn inside(t: f64, degrees_of_freedom: f64) -> f64 {
    1.0 - beta(degrees_of_freedom / 2.0, 0.5, degrees_of_freedom / (degrees_of_freedom + t * t))
}

/// The regularised incomplete beta function by its continued fraction (Abramowitz and Stegun 26.5.8).
fn beta(a: f64, b: f64, x: f64) -> f64 {
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - beta(b, a, 1.0 - x);
    }
    let front = libm::exp(
        libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b) + a * libm::log(x) + b * libm::log1p(-x),
    );
    front / (a * fraction(a, b, x))
}

/// The value of 1 + d1/(1 + d2/(1 + …)), by Lentz's method.
fn fraction(a: f64, b: f64, x: f64) -> f64 {
    let (mut value, mut c, mut d) = (1.0, 1.0, 0.0);
    for index in 1..=1000 {
        let m = f64::from(index / 2);
        let numerator = if index % 2 == 0 {
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m))
        } else {
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0))
        };
        d = 1.0 / (1.0 + numerator * d);
        c = 1.0 + numerator / c;
        let change = c * d;
        value *= change;
        if (change - 1.0).abs() < 1e-15 {
            break;
        }
    }
    value
}
