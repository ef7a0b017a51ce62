//! Stand-ins for sizes on hold, so that a part whose bore is not measured yet can be drawn all the same. They are
//! never printed and nothing is worked out from them.

use super::model::{Shape, Turned};
use super::size::{Origin, Size};
use super::walk::{Role, visit, visit_turned};

/// Where nothing of its kind is known, m.
const NOTHING_KNOWN: f64 = 0.02;
/// An outside that is not known, in diameters of the hollow.
const BUSH: f64 = 1.3;

/// A copy in which every size has a nominal.
pub fn filled(shape: &Shape) -> Shape {
    filled_by(shape, 1.0)
}

/// A copy in which sizes on hold are what they will be about, and whether there are any; `None` if that is not known of one.
pub fn about(shape: &Shape) -> Option<(Shape, bool)> {
    let (mut shape, mut any, mut all_known) = (shape.clone(), false, true);
    visit(&mut shape, &mut |_, size| {
        if size.on_hold() {
            (any, all_known) = (true, all_known && size.nominal.is_some());
            size.origin = Origin::Given;
        }
    });
    all_known.then_some((shape, any))
}

/// Likewise, with stand-ins larger or smaller by a factor.
pub(crate) fn filled_by(shape: &Shape, factor: f64) -> Shape {
    let mut known = Known { factor, ..Known::default() };
    let mut shape = shape.clone();
    visit(&mut shape, &mut |role, size| known.see(role, size));
    visit(&mut shape, &mut |role, size| known.fill(role, size));
    shape
}

pub(crate) fn filled_turned(turned: &Turned) -> Turned {
    let mut known = Known { factor: 1.0, ..Known::default() };
    let mut turned = turned.clone();
    visit_turned(&mut turned, &mut |role, size| known.see(role, size));
    visit_turned(&mut turned, &mut |role, size| known.fill(role, size));
    turned
}

/// Means of what is known.
#[derive(Default)]
struct Known {
    factor: f64,
    outside: Mean,
    least_outside: Option<f64>,
    greatest_bore: f64,
    long: Mean,
    wide: Mean,
}

#[derive(Default)]
struct Mean(f64, f64);

impl Mean {
    fn add(&mut self, value: f64) {
        self.0 += value;
        self.1 += 1.0;
    }

    fn get(&self) -> f64 {
        if self.1 > 0.0 { self.0 / self.1 } else { NOTHING_KNOWN }
    }
}

impl Known {
    fn see(&mut self, role: Role, size: &Size) {
        let Some(value) = size.nominal.filter(|value| value.is_finite()) else { return };
        match role {
            Role::Outside => {
                self.outside.add(value);
                self.least_outside = Some(self.least_outside.map_or(value, |least| least.min(value)));
            }
            Role::Bore => self.greatest_bore = self.greatest_bore.max(value),
            Role::Long => self.long.add(value),
            Role::Wide => self.wide.add(value),
            _ => {}
        }
    }

    fn fill(&self, role: Role, size: &mut Size) {
        let outside = (self.outside.get() * 0.9).max(self.greatest_bore * BUSH);
        let least = self.least_outside.unwrap_or(outside);
        let value = match role {
            Role::Outside => outside,
            Role::Long | Role::Overall => self.long.get(),
            Role::Bore => least * 0.6,
            Role::Cut => least * 0.3,
            Role::Deep => self.long.get() * 0.5,
            Role::Small | Role::At | Role::Control => least * 0.1,
            Role::Wide => self.wide.get(),
            Role::Thick | Role::Hole => self.wide.get() * 0.2,
        };
        if size.on_hold() || size.nominal.is_none() {
            size.nominal = Some(size.nominal.unwrap_or(value) * self.factor);
        }
    }
}
