//! The workshop functions against published tables and worked examples.

#![allow(clippy::disallowed_methods, reason = "the standard library is the second opinion here")]

mod bad_input;
mod bearing;
mod book;
mod calling;
mod chain;
mod coating;
mod covered;
mod cutting;
mod documented;
mod examples;
mod formula;
mod gear;
mod hazard;
mod key;
mod lifting;
mod limits;
mod material;
mod measuring;
mod outside;
mod pin;
mod press;
mod provenance;
mod repair;
mod section;
mod shaft;
mod slopes;
mod strength_slopes;
mod thermal;
mod thread;
mod tube;
mod weld;
mod worked;
mod worst_case;
