//! What goes in which run of the keeper's own transport, and what no run can take.
//!
//! Every figure at its worst end: the most that a piece may weigh and measure, the least that the transport bears and
//! holds. Pieces lie flat, the longest side along the bed, beside and behind each other, never on each other. The
//! heaviest is loaded first, into the first run that takes it; fewer runs may be possible. Common practice, no source.

use super::travel::{Cargo, Leg, Trip};
use crate::dossier::{Dossier, PartId};
use crate::record::Transport;

/// One run: what is on the bed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Run {
    /// The parts with the number of pieces.
    pub parts: Vec<(PartId, u32)>,
    /// The most that they weigh together, kg.
    pub mass_kg: f64,
}

/// Why no run takes a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Refusal {
    /// It may weigh more than the payload.
    Heavy,
    /// It is longer than the bed.
    Long,
    /// Lying flat it is wider than the bed.
    Wide,
    /// Nobody knows what it weighs.
    Unweighed,
    /// There are more pieces than are laid out one by one.
    Many,
}

impl Refusal {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Heavy => "may weigh more than the payload",
            Self::Long => "longer than the bed",
            Self::Wide => "wider than the bed",
            Self::Unweighed => "mass not known",
            Self::Many => "too many pieces to lay out",
        }
    }
}

/// How the parts of a leg are carried.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loads {
    /// The runs, in order.
    pub runs: Vec<Run>,
    /// The parts that go in none.
    pub refused: Vec<(PartId, Refusal)>,
    /// Parts in the runs whose size nobody knows: they were held against the payload alone.
    pub of_unknown_size: Vec<PartId>,
}

/// The runs of each leg of a trip.
pub fn runs_of(dossier: &Dossier, trip: &Trip) -> Vec<Option<Loads>> {
    trip.legs.iter().map(|leg| loads(dossier, leg)).collect()
}

/// The runs of one leg; `None` if dossier.yaml names no transport.
pub fn loads(dossier: &Dossier, leg: &Leg) -> Option<Loads> {
    let transport = dossier.about.transport.as_ref()?;
    Some(laid_out(dossier, transport, &leg.cargo))
}

/// A piece on the bed: length and width in metres; nothing where they are not known.
#[derive(Clone, Copy)]
struct Piece {
    part: PartId,
    mass_kg: f64,
    floor: Option<[f64; 2]>,
}

/// The most pieces of one leg that are laid out one by one.
const MOST_PIECES: usize = 500;

fn laid_out(dossier: &Dossier, transport: &Transport, cargo: &[Cargo]) -> Loads {
    let mut loads = Loads::default();
    let mut pieces = Vec::new();
    for one in cargo {
        match piece(dossier, transport, one) {
            Err(refusal) => loads.refused.push((one.part, refusal)),
            Ok(_) if pieces.len() + one.pieces as usize > MOST_PIECES => {
                loads.refused.push((one.part, Refusal::Many));
            }
            Ok(piece) => pieces.extend(std::iter::repeat_n(piece, one.pieces as usize)),
        }
    }
    loads.refused.sort_unstable();
    let unknown = |part: &PartId| pieces.iter().any(|piece| piece.part == *part && piece.floor.is_none());
    loads.of_unknown_size = cargo.iter().map(|one| one.part).filter(unknown).collect();
    pieces.sort_by(|one, two| two.mass_kg.total_cmp(&one.mass_kg).then(one.part.cmp(&two.part)));
    let mut beds: Vec<Vec<Piece>> = Vec::new();
    for piece in pieces {
        let bed = beds.iter_mut().find(|bed| takes(transport, bed, piece));
        match bed {
            Some(bed) => bed.push(piece),
            None => beds.push(vec![piece]),
        }
    }
    loads.runs = beds.iter().map(|bed| run(bed)).collect();
    loads
}

/// One piece of a part, if a run can take it.
fn piece(dossier: &Dossier, transport: &Transport, one: &Cargo) -> Result<Piece, Refusal> {
    let floor = dossier[one.part].envelope.as_ref().map(|envelope| {
        let mut sides = [&envelope.length, &envelope.width, &envelope.height].map(|side| side.high);
        sides.sort_by(f64::total_cmp);
        [sides[2], sides[1]]
    });
    match floor {
        Some([length, _]) if length > transport.bed[0].low => return Err(Refusal::Long),
        Some([_, width]) if width > transport.bed[1].low => return Err(Refusal::Wide),
        _ => {}
    }
    let known = one.each.ends_kg.filter(|_| one.each.unknown == 0);
    let (_, mass_kg) = known.ok_or(Refusal::Unweighed)?;
    let piece = Piece { part: one.part, mass_kg, floor };
    if mass_kg > transport.payload.low { Err(Refusal::Heavy) } else { Ok(piece) }
}

fn takes(transport: &Transport, bed: &[Piece], piece: Piece) -> bool {
    let together: f64 = bed.iter().map(|other| other.mass_kg).sum::<f64>() + piece.mass_kg;
    let floors: Vec<[f64; 2]> = bed.iter().chain([&piece]).filter_map(|piece| piece.floor).collect();
    together <= transport.payload.low && lie_beside(floors, [transport.bed[0].low, transport.bed[1].low])
}

/// Whether rectangles lie in rows along a bed: the widest of a row says how much of the width it takes.
fn lie_beside(mut floors: Vec<[f64; 2]>, [length, width]: [f64; 2]) -> bool {
    floors.sort_by(|one, two| two[1].total_cmp(&one[1]));
    let mut rows: Vec<f64> = Vec::new();
    let mut taken = 0.0;
    for [long, wide] in floors {
        match rows.iter_mut().find(|free| **free >= long) {
            Some(free) => *free -= long,
            None => {
                taken += wide;
                rows.push(length - long);
            }
        }
    }
    taken <= width
}

fn run(bed: &[Piece]) -> Run {
    let mut run = Run { mass_kg: bed.iter().map(|piece| piece.mass_kg).sum(), ..Run::default() };
    for piece in bed {
        match run.parts.iter_mut().find(|(part, _)| *part == piece.part) {
            Some((_, count)) => *count += 1,
            None => run.parts.push((piece.part, 1)),
        }
    }
    run
}
