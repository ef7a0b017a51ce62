//! What the templates see, and the Typst text they make of it.
//!
//! Takes: the dossier with its working, plan and bill. Gives: a folder of virtual files, whole in memory; CSV, JSON and
//! SVG beside the PDF. Never: works anything out, or hands a note's text on unescaped.

mod amounts;
mod assets;
mod assumptions;
mod attached;
mod bill;
mod body;
mod breadth;
mod by_hand;
mod call;
mod cautions;
mod checks;
mod closing;
mod cover;
mod dossier;
mod drawing;
mod edition;
mod engine_words;
mod escape;
mod fields;
mod figures;
mod fit;
mod fitness;
mod graph;
mod held;
mod in_words;
mod index;
mod jobs;
mod letter;
mod log;
mod machine;
mod mathematics;
mod measurement;
mod named;
mod names;
mod next;
mod papers;
mod part_drawing;
mod prerequisites;
mod prose;
mod questions;
mod readings;
mod remarks;
mod sequence;
mod shapes;
mod sheet;
mod since;
mod state;
mod statistics;
mod subjects;
mod svg;
mod templates;
mod upkeep;
mod wall;
mod wear;
mod working;

pub use dossier::{MAIN, bill_csv, dossier};
pub use edition::Edition;
pub use part_drawing::{
    PartDrawing, document as drawing_document, on_sheet as drawing_on_sheet, shape as shape_of,
};
pub use sheet::{Addressee, KeptBack, Lacking, Missing, Sheet, sheet};
pub use state::state_json;
pub use svg::sequence_svg;
pub use templates::{RenderFault, TemplateFault, Templates};
pub use wall::sequence_sheet;
