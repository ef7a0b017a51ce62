//! The drawing of a shape: a pure function from a checked shape to lines, arcs, hatch areas and texts with places.
//!
//! Takes a [`Shape`](crate::shape::Shape), what stands in the title block and a sheet; gives a [`Drawing`] in
//! millimetres on paper, y downwards. Writers turn it into SVG and DXF. Its law, which [`clashes`] checks: no text
//! meets another text, an outline, or the line of a dimension that is not its own. Where the law cannot be kept at any
//! scale the drawing is refused: the part has to be split over more sheets.

mod axes;
mod bores;
mod callout;
mod canvas;
mod centres;
mod compose;
mod cross;
mod dimension;
mod drawing;
mod drill;
mod dxf;
mod dxf_profile;
mod figure;
mod flat;
mod flat_sizes;
mod hatch;
mod label;
mod law;
mod lengths;
mod notes;
mod scale;
mod section;
mod sheet;
mod svg;
mod symbol;
mod title;
mod turned;
mod turned_callouts;
mod turned_outline;
mod zone;

pub use compose::{Unplaceable, draw};
pub use drawing::{Claim, Drawing, Held, Ink, Mark, Numbered, Pen, Point, Rect, Stated};
pub use dxf::to_dxf;
pub use dxf_profile::{NoProfile, profile_to_dxf};
pub use law::{Clash, clashes};
pub use scale::Scale;
pub use sheet::{Projection, Sheet};
pub use svg::to_svg;
pub use title::{Purpose, Title};
