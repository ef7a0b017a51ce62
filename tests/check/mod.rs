//! `check`: what it says of small projects, of bad files, and of the notes and sums shown in the book.

mod book;
mod calculations;
mod cases;
mod files;
pub(crate) mod folder;
mod pages;
mod places;
mod references;
mod yaml;
