//! What it takes to make a part, by its shape.

use super::Formed;
use crate::dossier::Dossier;
use crate::shape::{Allowance, Blank, Needs, Unit, about, unit, work_out};
use crate::trade::material::density;

/// What it takes to make a part, by its shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Making {
    /// What a lathe has to take, m.
    pub needs: Needs,
    /// What to saw it from, m.
    pub blank: Blank,
    /// Mass of one piece at the upper end of its material's density, kg.
    pub mass_kg: Option<f64>,
    /// The unit of its sizes.
    pub unit: Unit,
    /// A size is on hold, and the figures hold for what it will be about.
    pub is_about: bool,
}

impl Making {
    /// `None` while the shape has faults, or a size on hold of which not even `about` is known.
    pub(in crate::worked) fn of(dossier: &Dossier, formed: &Formed) -> Option<Self> {
        if !formed.is_sound() {
            return None;
        }
        let (shape, is_about) = about(&formed.shape)?;
        let worked = work_out(&shape, &Allowance::USUAL).ok()?;
        let material = dossier[formed.part].material.as_deref();
        Some(Self {
            needs: worked.needs,
            blank: worked.blank,
            mass_kg: material.and_then(density).map(|density| density.high * worked.volume),
            unit: unit(&shape),
            is_about,
        })
    }

    /// A length of it in its unit, and why it is known: `3.5 in by its shape`.
    pub fn says(&self, metres: f64) -> String {
        let about = if self.is_about { "about " } else { "" };
        format!("{about}{} by its shape", super::problems::length(metres, self.unit))
    }
}
