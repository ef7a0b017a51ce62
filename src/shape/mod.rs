//! The shape of a part: typed features in; stations, volume, centroid, envelope, blank and faults out.
//!
//! Knows neither notes nor files nor drawings. Lengths are in metres, angles in radians. Every size and feature carries
//! a [`Key`] of the caller's, by which a fault points at its own place.

mod chain;
mod check;
mod check_flat;
mod cut;
mod edge;
mod fault;
mod general;
mod laid;
mod model;
mod outline;
mod profile;
mod size;
mod solid;
mod stand_in;
mod stock;
mod walk;

pub use chain::{Chain, Link, chain};
pub use check::{check, suited};
pub use edge::{Edge, Path, Turn, segment_distance};
pub use fault::{Fault, Lacking};
pub use general::{Class, General, SizeKind};
pub use laid::{Laid, Place, Sharp, lay_out, sharp_shoulder};
pub use model::{
    Across, Body, Bore, BoreForm, Control, ControlKind, Corner, Cut, Deep, End, Flat, Form, Hole, Outline,
    Segment, Shape, Side, Slot, Spot, Thread, Treat, Turned, Vertex,
};
pub use outline::{HoleAt, closed, holes};
pub use profile::{Profile, Round, Span, inside};
pub use size::{Key, Limits, Origin, Size, Unit};
pub use solid::{NotKnown, Worked, slot_path, work_out};
pub use stand_in::{about, filled};
pub use stock::{Allowance, Blank, Needs};
pub use walk::{Role, Visitor, features, sizes, unit, visit};
