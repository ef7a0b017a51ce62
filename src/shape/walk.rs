//! Every size of a shape with what it is.

use super::model::{
    Across, Body, Bore, BoreForm, Corner, Cut, Deep, End, Flat, Form, Outline, Segment, Shape, Spot, Turned,
};
use super::size::{Size, Unit};

/// What a size is to its part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// A diameter of the outside.
    Outside,
    /// A length along the axis.
    Long,
    /// The whole length.
    Overall,
    /// A diameter of the hollow.
    Bore,
    /// A depth.
    Deep,
    /// A chamfer, radius, undercut or groove width.
    Small,
    /// A place; may be 0 or, on a flat part, negative.
    At,
    /// The width of a cut or a cross hole's diameter.
    Cut,
    /// A width or diameter of a flat part's outline.
    Wide,
    /// A thickness.
    Thick,
    /// A hole's diameter in a flat part, a slot's width.
    Hole,
    /// The width of a geometrical tolerance.
    Control,
}

/// Every size of a shape in order, copied.
pub fn sizes(shape: &Shape) -> Vec<(Role, Size)> {
    let mut all = Vec::new();
    let mut shape = shape.clone();
    visit(&mut shape, &mut |role, size| all.push((role, size.clone())));
    all
}

/// The unit in which most is typed: that of the first size.
pub fn unit(shape: &Shape) -> Unit {
    sizes(shape).first().map_or(Unit::Millimetre, |(_, size)| size.unit)
}

/// Every named feature with the size that it is called by: its diameter or its width. A thread has none.
pub fn features(shape: &Shape) -> Vec<(&str, &Size)> {
    match &shape.body {
        Body::Turned(turned) => {
            let outside = turned.outside.iter().filter_map(|segment| match &segment.form {
                Form::Plain { d } | Form::Taper { d, .. } => Some((segment.name.as_deref()?, d)),
                Form::Thread(_) => None,
            });
            let bores = turned.bores.iter().filter_map(|bore| match &bore.form {
                BoreForm::Plain { d } | BoreForm::Taper { d, .. } => Some((bore.name.as_deref()?, d)),
                BoreForm::Thread { .. } => None,
            });
            let cuts = turned.across.iter().filter_map(|cut| match &cut.what {
                Across::Hole { d: size, .. }
                | Across::Keyway { wide: size, .. }
                | Across::Flats { size, .. }
                | Across::Groove { wide: size, .. } => Some((cut.name.as_deref()?, size)),
            });
            outside.chain(bores).chain(cuts).collect()
        }
        Body::Flat(flat) => {
            let holes = flat.holes.iter().filter_map(|hole| Some((hole.name.as_deref()?, &hole.d)));
            holes
                .chain(flat.slots.iter().filter_map(|slot| Some((slot.name.as_deref()?, &slot.wide))))
                .collect()
        }
    }
}

/// What is done with every size.
pub type Visitor<'a> = &'a mut dyn FnMut(Role, &mut Size);

/// Every size of a shape in order, to be changed.
pub fn visit(shape: &mut Shape, see: Visitor<'_>) {
    match &mut shape.body {
        Body::Turned(turned) => visit_turned(turned, see),
        Body::Flat(flat) => visit_flat(flat, see),
    }
}

pub(crate) fn visit_turned(turned: &mut Turned, see: Visitor<'_>) {
    turned.outside.iter_mut().for_each(|segment| visit_segment(segment, see));
    turned.overall.iter_mut().for_each(|size| see(Role::Overall, size));
    turned.bores.iter_mut().for_each(|bore| visit_bore(bore, see));
    turned.across.iter_mut().for_each(|cut| visit_cut(cut, see));
    turned.true_to.iter_mut().for_each(|control| see(Role::Control, &mut control.within));
}

fn visit_segment(segment: &mut Segment, see: Visitor<'_>) {
    match &mut segment.form {
        Form::Plain { d } => see(Role::Outside, d),
        Form::Taper { d, to } => [d, to].into_iter().for_each(|size| see(Role::Outside, size)),
        Form::Thread(_) => {}
    }
    segment.long.iter_mut().for_each(|size| see(Role::Long, size));
    segment.chamfer.iter_mut().for_each(|size| see(Role::Small, size));
    match &mut segment.end {
        Some(End::Radius(size)) => see(Role::Small, size),
        Some(End::Undercut { wide, d }) => {
            see(Role::Small, wide);
            d.iter_mut().for_each(|size| see(Role::Outside, size));
        }
        None => {}
    }
}

fn visit_bore(bore: &mut Bore, see: Visitor<'_>) {
    match &mut bore.form {
        BoreForm::Plain { d } => see(Role::Bore, d),
        BoreForm::Taper { d, to } => [d, to].into_iter().for_each(|size| see(Role::Bore, size)),
        BoreForm::Thread { drill, .. } => drill.iter_mut().for_each(|size| see(Role::Deep, size)),
    }
    if let Deep::To(size) = &mut bore.deep {
        see(Role::Deep, size);
    }
    bore.chamfer.iter_mut().for_each(|size| see(Role::Small, size));
}

fn visit_cut(cut: &mut Cut, see: Visitor<'_>) {
    match &mut cut.what {
        Across::Hole { d, .. } => see(Role::Cut, d),
        Across::Keyway { wide, long, deep } => {
            see(Role::Cut, wide);
            see(Role::Long, long);
            see(Role::Small, deep);
        }
        Across::Flats { size, long, .. } => {
            see(Role::Cut, size);
            see(Role::Long, long);
        }
        Across::Groove { wide, d } => {
            see(Role::Small, wide);
            see(Role::Outside, d);
        }
    }
    see(Role::At, &mut cut.at);
}

fn visit_flat(flat: &mut Flat, see: Visitor<'_>) {
    see(Role::Thick, &mut flat.thick);
    match &mut flat.outline {
        Outline::Rectangle { wide, high, corner } => {
            [wide, high].into_iter().for_each(|size| see(Role::Wide, size));
            corner.iter_mut().for_each(|corner| visit_corner(corner, see));
        }
        Outline::Disc { d } => see(Role::Wide, d),
        Outline::Polygon(vertices) => {
            for vertex in vertices {
                vertex.at.iter_mut().for_each(|size| see(Role::At, size));
                vertex.corner.iter_mut().for_each(|corner| visit_corner(corner, see));
            }
        }
    }
    visit_openings(flat, see);
}

fn visit_corner(corner: &mut Corner, see: Visitor<'_>) {
    let (Corner::Round(size) | Corner::Cut(size)) = corner;
    see(Role::Small, size);
}

fn visit_openings(flat: &mut Flat, see: Visitor<'_>) {
    for hole in &mut flat.holes {
        see(Role::Hole, &mut hole.d);
        match &mut hole.spot {
            Spot::At(at) => at.iter_mut().for_each(|size| see(Role::At, size)),
            Spot::Circle { d, about, .. } => {
                see(Role::Wide, d);
                about.iter_mut().flatten().for_each(|size| see(Role::At, size));
            }
        }
    }
    for slot in &mut flat.slots {
        see(Role::Hole, &mut slot.wide);
        slot.from.iter_mut().chain(&mut slot.to).for_each(|size| see(Role::At, size));
    }
}
