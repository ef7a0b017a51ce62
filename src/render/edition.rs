//! One edition of the dossier: what is printed, from what, as of when.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::amounts::Amounts;
use super::assets::Assets;
use super::names::Names;
use crate::dossier::{Dossier, NoteId};
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
        }
    }

    /// The same edition with only these notes printed: every mention of another is its bare name.
    pub(super) fn printing_only(self, printed: BTreeSet<NoteId>) -> Self {
        Self { names: self.names.of_only(printed), ..self }
    }

    pub(super) fn dossier(&self) -> &'a Dossier {
        &self.project.dossier
    }
}
