//! What it takes to put the machine right: bill of materials, cost, mass, and how to cut the stock.
//!
//! Takes: a dossier (ids resolved). Gives: lines and totals as plain figures, ready for tables, CSV and JSON.
//! Never: decides what is bought or made, rounds, prints, or knows of pages.

pub mod cut_list;
pub mod mass;
pub mod report;
pub mod roll_up;
pub mod section;
pub mod stock;

pub use roll_up::{Bill, roll_up};
