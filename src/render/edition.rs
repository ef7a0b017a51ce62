//! One edition of the dossier: what is printed, from what, as of when.

use std::cell::OnceCell;
use std::collections::BTreeMap;

use jiff::civil::Date;

use super::amounts::Amounts;
use super::assets::Assets;
use super::names::Names;
use super::remarks::Places;
use crate::calc::literal::Literal;
use crate::dossier::{Dossier, MeasurementId, NoteId};
use crate::worked::Privacy;
use crate::{Outlook, Project};

/// What is printed: a project with all that was worked out from it, and how its pages name, measure and picture it.
pub struct Edition<'a> {
    pub project: &'a Project,
    pub outlook: &'a Outlook,
    /// The day that the dossier bears.
    pub date: Option<Date>,
    /// Quickly made, and no archival copy.
    pub draft: bool,
    pub(super) names: Names<'a>,
    pub(super) amounts: Amounts<'a>,
    pub(super) assets: Assets<'a>,
    privacy: OnceCell<Privacy>,
    remarks: OnceCell<Places>,
}

impl<'a> Edition<'a> {
    pub fn new(project: &'a Project, outlook: &'a Outlook, date: Option<Date>, draft: bool) -> Self {
        Self {
            project,
            outlook,
            date: date.or_else(|| project.dossier.day_zero()),
            draft,
            names: Names::new(project, outlook),
            amounts: Amounts::of(&project.dossier),
            assets: Assets::of(&project.sources),
            privacy: OnceCell::new(),
            remarks: OnceCell::new(),
        }
    }

    /// The same edition with only these notes printed, each under its label: every mention of another is its bare name.
    pub(super) fn printing_only(self, printed: BTreeMap<NoteId, String>) -> Self {
        Self { names: self.names.of_only(printed), remarks: OnceCell::new(), ..self }
    }

    /// What rests on a private note.
    pub(super) fn privacy(&self) -> &Privacy {
        self.privacy.get_or_init(|| Privacy::of(&self.project.dossier, &self.project.worked))
    }

    /// Where what is said of a material stands in full.
    pub(super) fn remarks(&self) -> &Places {
        self.remarks.get_or_init(|| Places::of(self))
    }

    pub(super) fn dossier(&self) -> &'a Dossier {
        &self.project.dossier
    }

    /// The limits that a measurement is held against.
    pub(super) fn limits(&self, id: MeasurementId) -> Option<&'a Literal> {
        self.project.worked.limits(self.dossier(), id)
    }
}
