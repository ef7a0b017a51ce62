//! Every size of a shape with what it is.

use super::model::{
    Across, Body, Bore, BoreForm, Corner, Cut, Deep, End, Flat, Form, Hole, Outline, Segment, Shape, Slot,
    Spot, Turned, Vertex,
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

/// The sizes that have a name, as a calculation says them: of a named feature its diameter or width by the name alone, the
/// others behind a stop (`journal`, `journal.long`); of the whole behind `shape` (`shape.thick`). A thread has no diameter.
pub fn features(shape: &Shape) -> Vec<(String, &Size)> {
    match &shape.body {
        Body::Turned(turned) => {
            let whole = turned.overall.iter().map(|size| ("shape.long".to_owned(), size));
            let outside = turned.outside.iter().flat_map(|one| named(one.name.as_deref(), of_segment(one)));
            let bores = turned.bores.iter().flat_map(|one| named(one.name.as_deref(), of_bore(one)));
            let cuts = turned.across.iter().flat_map(|one| named(one.name.as_deref(), of_cut(one)));
            whole.chain(outside).chain(bores).chain(cuts).collect()
        }
        Body::Flat(flat) => {
            let whole = named(Some("shape"), of_whole(flat));
            let holes = flat.holes.iter().flat_map(|one| named(one.name.as_deref(), of_hole(one)));
            let slots = flat.slots.iter().flat_map(|one| named(one.name.as_deref(), of_slot(one)));
            let corners = flat.corners().iter().flat_map(|one| named(one.name.as_deref(), of_corner(one)));
            whole.into_iter().chain(holes).chain(slots).chain(corners).collect()
        }
    }
}

/// Sizes of one feature, each with its word; `""` for the one that goes by the feature's name.
type Fields<'a> = Vec<(&'static str, &'a Size)>;

fn named<'a>(name: Option<&str>, fields: Fields<'a>) -> Vec<(String, &'a Size)> {
    let Some(name) = name else { return Vec::new() };
    let whole = |word: &str| if word.is_empty() { name.to_owned() } else { format!("{name}.{word}") };
    fields.into_iter().map(|(word, size)| (whole(word), size)).collect()
}

fn of_segment(segment: &Segment) -> Fields<'_> {
    let mut fields = match &segment.form {
        Form::Plain { d } => vec![("", d)],
        Form::Taper { d, to } => vec![("", d), ("to", to)],
        Form::Thread(_) => Vec::new(),
    };
    fields.extend(segment.long.iter().map(|size| ("long", size)));
    fields.extend(segment.chamfer.iter().map(|size| ("chamfer", size)));
    match &segment.end {
        Some(End::Radius(size)) => fields.push(("radius", size)),
        Some(End::Undercut { wide, .. }) => fields.push(("undercut", wide)),
        None => {}
    }
    fields
}

fn of_bore(bore: &Bore) -> Fields<'_> {
    let mut fields = match &bore.form {
        BoreForm::Plain { d } => vec![("", d)],
        BoreForm::Taper { d, to } => vec![("", d), ("to", to)],
        BoreForm::Thread { drill, .. } => drill.iter().map(|size| ("drill", size)).collect(),
    };
    if let Deep::To(size) = &bore.deep {
        fields.push(("deep", size));
    }
    fields.extend(bore.chamfer.iter().map(|size| ("chamfer", size)));
    fields
}

fn of_cut(cut: &Cut) -> Fields<'_> {
    let mut fields = match &cut.what {
        Across::Hole { d, .. } => vec![("", d)],
        Across::Keyway { wide, long, deep } => vec![("", wide), ("long", long), ("deep", deep)],
        Across::Flats { size, long, .. } => vec![("", size), ("long", long)],
        Across::Groove { wide, d } | Across::BoreGroove { wide, d } => vec![("", wide), ("d", d)],
        Across::OilGroove { wide, long, deep } => vec![("", wide), ("long", long), ("deep", deep)],
    };
    fields.push(("at", &cut.at));
    fields
}

fn of_whole(flat: &Flat) -> Fields<'_> {
    let mut fields = vec![("thick", &flat.thick)];
    match &flat.outline {
        Outline::Rectangle { wide, high, .. } => fields.extend([("wide", wide), ("high", high)]),
        Outline::Disc { d } => fields.push(("d", d)),
        Outline::Polygon(_) => {}
    }
    fields
}

fn of_hole(hole: &Hole) -> Fields<'_> {
    let mut fields = if hole.thread.is_none() { vec![("", &hole.d)] } else { Vec::new() };
    match &hole.spot {
        Spot::At([x, y]) => fields.extend([("x", x), ("y", y)]),
        Spot::Circle { d, .. } => fields.push(("on_circle", d)),
    }
    fields
}

fn of_slot(slot: &Slot) -> Fields<'_> {
    let ([x, y], [to_x, to_y]) = (&slot.from, &slot.to);
    vec![("", &slot.wide), ("x", x), ("y", y), ("to_x", to_x), ("to_y", to_y)]
}

fn of_corner(vertex: &Vertex) -> Fields<'_> {
    let mut fields = vec![("x", &vertex.at[0]), ("y", &vertex.at[1])];
    match &vertex.corner {
        Some(Corner::Round(size)) => fields.push(("radius", size)),
        Some(Corner::Cut(size)) => fields.push(("cut", size)),
        None => {}
    }
    fields
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
        Across::Keyway { wide, long, deep } | Across::OilGroove { wide, long, deep } => {
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
        Across::BoreGroove { wide, d } => {
            see(Role::Small, wide);
            see(Role::Bore, d);
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
