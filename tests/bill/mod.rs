//! The bill of materials and the cut list.

mod cut_list;
mod roll_up;
mod stock;
