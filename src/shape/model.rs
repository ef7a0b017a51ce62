//! What a part's shape is made of.

use super::general::General;
use super::size::{Key, Size};

/// The shape of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// The caller's key for the whole.
    pub key: Key,
    /// What holds for sizes without limits of their own.
    pub general: Option<General>,
    /// Surface texture where nothing else is said, as printed: `Ra 3.2`.
    pub finish: Option<String>,
    /// What is done to edges: `break 0.3 mm`.
    pub edges: Option<String>,
    /// The largest radius that may be left in an inside corner without one, as typed: `0.4 mm`.
    pub corners: Option<String>,
    /// Heat treatment.
    pub treat: Option<Treat>,
    /// The side, as drawn, that is up when the part is in its place.
    pub up: Option<String>,
    /// Coating in words.
    pub coat: Option<String>,
    /// What else the drawing has to say, a line each.
    pub notes: Vec<String>,
    /// Turned or flat.
    pub body: Body,
}

/// A heat treatment: words, a hardness with its limits, and where it is limited to a part of the surface.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Treat {
    /// The caller's key.
    pub key: Key,
    /// In words.
    pub words: Option<String>,
    /// The hardness with its limits, as printed: `50 +5/0 HRC`.
    pub hardness: Option<String>,
    /// The named feature that is treated; the whole part if missing.
    pub of: Option<String>,
    /// Of a corner, how far round it: metres, and as typed.
    pub within: Option<(f64, String)>,
}

impl Treat {
    /// All of it in a line: `nose, within 1 in of it: 50 +5/0 HRC; temper straw`.
    pub fn said(&self) -> String {
        let wanted: Vec<&str> =
            [&self.hardness, &self.words].into_iter().flatten().map(String::as_str).collect();
        let wanted = wanted.join("; ");
        let within =
            self.within.as_ref().map_or_else(String::new, |(_, text)| format!(", within {text} of it"));
        match &self.of {
            Some(name) => format!("{name}{within}: {wanted}"),
            None => wanted,
        }
    }
}

impl From<&str> for Treat {
    fn from(words: &str) -> Self {
        Self { words: Some(words.to_owned()), ..Self::default() }
    }
}

/// How the part is made.
#[expect(clippy::large_enum_variant, reason = "one a part")]
#[derive(Clone, Debug, PartialEq)]
pub enum Body {
    /// On a lathe.
    Turned(Turned),
    /// From plate.
    Flat(Flat),
}

/// A turned part, its left face at 0.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Turned {
    /// The outside from the left face on.
    pub outside: Vec<Segment>,
    /// The whole length, if typed.
    pub overall: Option<Size>,
    /// Holes along the axis.
    pub bores: Vec<Bore>,
    /// What is cut across the axis.
    pub across: Vec<Cut>,
    /// Geometrical tolerances between named features.
    pub true_to: Vec<Control>,
}

impl Turned {
    /// Its features in order, each with its name.
    pub fn names(&self) -> impl Iterator<Item = (Key, Option<&str>)> {
        let outer = self.outside.iter().map(|s| (s.key, s.name.as_deref()));
        let inner = self.bores.iter().map(|b| (b.key, b.name.as_deref()));
        let across = self.across.iter().map(|c| (c.key, c.name.as_deref()));
        outer.chain(inner).chain(across)
    }

    /// Its threads, external ones first.
    pub fn threads(&self) -> impl Iterator<Item = &Thread> {
        let outer = self
            .outside
            .iter()
            .filter_map(|s| if let Form::Thread(thread) = &s.form { Some(thread) } else { None });
        let inner = self.bores.iter().filter_map(|b| match &b.form {
            BoreForm::Thread { thread, .. } => Some(thread),
            _ => None,
        });
        outer.chain(inner)
    }
}

/// A length of the outside.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// The caller's key.
    pub key: Key,
    /// The name that calculations and controls use.
    pub name: Option<String>,
    /// Cylinder, taper or thread.
    pub form: Form,
    /// How long; one may be missing if the whole length is typed.
    pub long: Option<Size>,
    /// Chamfer at 45° on its free edges.
    pub chamfer: Option<Size>,
    /// What is at its shoulder.
    pub end: Option<End>,
    /// Surface texture as printed.
    pub finish: Option<String>,
}

/// The form of a segment.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// A cylinder.
    Plain {
        /// Its diameter.
        d: Size,
    },
    /// A cone.
    Taper {
        /// Diameter at its left end.
        d: Size,
        /// Diameter at its right end.
        to: Size,
    },
    /// An external thread.
    Thread(Thread),
}

/// A thread.
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    /// The caller's key.
    pub key: Key,
    /// Its designation as printed: `M24 × 2`.
    pub text: String,
    /// Major diameter, m.
    pub major: f64,
    /// Pitch, m.
    pub pitch: f64,
}

impl Thread {
    /// The minor diameter of the internal thread: d − 1.0825 P (ISO 68-1).
    pub fn minor(&self) -> f64 {
        self.major - 1.082_532 * self.pitch
    }
}

/// What is made at the shoulder of a segment: to its right, or to its left if there is none to its right.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    /// A radius in the corner; at a free end, the edge is rounded.
    Radius(Size),
    /// An undercut on the smaller side.
    Undercut {
        /// Its width along the axis.
        wide: Size,
        /// Its diameter; a thread's follows from the pitch.
        d: Option<Size>,
    },
}

/// From which end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// From the left face.
    Left,
    /// From the right face.
    Right,
}

/// A hole along the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Bore {
    /// The caller's key.
    pub key: Key,
    /// The name that calculations and controls use.
    pub name: Option<String>,
    /// The face from which it is made and its depth counted.
    pub side: Side,
    /// Cylinder, taper or thread.
    pub form: BoreForm,
    /// How deep.
    pub deep: Deep,
    /// Chamfer at 45° at its mouth.
    pub chamfer: Option<Size>,
    /// Of one that goes through: the chamfer is at the far mouth as well.
    pub both_mouths: bool,
    /// Surface texture as printed.
    pub finish: Option<String>,
}

/// The form of a bore.
#[derive(Clone, Debug, PartialEq)]
pub enum BoreForm {
    /// A cylinder; the point of a drilling counts neither to its depth nor to the volume.
    Plain {
        /// Its diameter.
        d: Size,
    },
    /// A cone.
    Taper {
        /// Diameter at its mouth.
        d: Size,
        /// Diameter at its end.
        to: Size,
    },
    /// A tapped hole; its drilling ends in a cone of 120°.
    Thread {
        /// The thread.
        thread: Thread,
        /// Full depth of the drilling; the thread's depth if missing.
        drill: Option<Size>,
    },
}

/// How deep a hole is.
#[derive(Clone, Debug, PartialEq)]
pub enum Deep {
    /// From one face to the other.
    Through,
    /// To a depth.
    To(Size),
}

/// Something cut across the axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The caller's key.
    pub key: Key,
    /// The name that calculations use.
    pub name: Option<String>,
    /// What is cut.
    pub what: Across,
    /// From the left face: to a hole's centre, to the left end of everything else.
    pub at: Size,
    /// Surface texture as printed.
    pub finish: Option<String>,
}

/// What is cut across the axis.
#[derive(Clone, Debug, PartialEq)]
pub enum Across {
    /// A hole through the axis.
    Hole {
        /// Its diameter.
        d: Size,
        /// Right through; else from the outside to the hollow, or to the axis.
        through: bool,
    },
    /// A keyway; its ends are round where they do not run out at a face.
    Keyway {
        /// Its width.
        wide: Size,
        /// Its length over the ends.
        long: Size,
        /// Its depth from the surface.
        deep: Size,
    },
    /// Flats: two, or a square or hexagon.
    Flats {
        /// Size across flats.
        size: Size,
        /// Number of flats: 2, 4 or 6.
        count: u32,
        /// Along the axis.
        long: Size,
    },
    /// A groove all round.
    Groove {
        /// Its width along the axis.
        wide: Size,
        /// Its diameter at the bottom.
        d: Size,
    },
    /// A groove all round in the hollow.
    BoreGroove {
        /// Its width along the axis.
        wide: Size,
        /// Its diameter at the bottom.
        d: Size,
    },
    /// A groove along the hollow, on the side that is cut, with square ends.
    OilGroove {
        /// Its width.
        wide: Size,
        /// Its length along the axis.
        long: Size,
        /// Its depth from the surface of the hollow.
        deep: Size,
    },
}

/// A geometrical tolerance of one named feature to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    /// The caller's key.
    pub key: Key,
    /// The feature that is controlled.
    pub of: String,
    /// The feature that is the datum.
    pub to: String,
    /// Which tolerance.
    pub kind: ControlKind,
    /// Its width.
    pub within: Size,
}

/// The kinds of geometrical tolerance (ISO 1101).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ControlKind {
    /// Circular run-out.
    RunOut,
    /// Total run-out.
    TotalRunOut,
    /// Coaxiality.
    Coaxial,
}

/// A part cut from plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Flat {
    /// Thickness.
    pub thick: Size,
    /// The outline.
    pub outline: Outline,
    /// Round holes.
    pub holes: Vec<Hole>,
    /// Slots.
    pub slots: Vec<Slot>,
}

impl Flat {
    /// The corners of its outline; none of a rectangle or a disc.
    pub fn corners(&self) -> &[Vertex] {
        if let Outline::Polygon(all) = &self.outline { all } else { &[] }
    }

    /// The names of its holes and slots.
    pub fn openings(&self) -> impl Iterator<Item = Option<&str>> {
        let holes = self.holes.iter().map(|hole| hole.name.as_deref());
        holes.chain(self.slots.iter().map(|slot| slot.name.as_deref()))
    }
}

/// The outline of a flat part.
#[expect(clippy::large_enum_variant, reason = "one a part")]
#[derive(Clone, Debug, PartialEq)]
pub enum Outline {
    /// A rectangle from the origin.
    Rectangle {
        /// Along x.
        wide: Size,
        /// Along y.
        high: Size,
        /// At all four corners.
        corner: Option<Corner>,
    },
    /// A disc whose centre is the origin.
    Disc {
        /// Its diameter.
        d: Size,
    },
    /// A polygon.
    Polygon(Vec<Vertex>),
}

/// A corner of a polygon.
#[derive(Clone, Debug, PartialEq)]
pub struct Vertex {
    /// The caller's key.
    pub key: Key,
    /// The name that calculations use.
    pub name: Option<String>,
    /// Its place, x and y.
    pub at: [Size; 2],
    /// How the corner is made.
    pub corner: Option<Corner>,
}

/// How a corner is made.
#[derive(Clone, Debug, PartialEq)]
pub enum Corner {
    /// Rounded to a radius.
    Round(Size),
    /// Cut off this far from the corner along both sides.
    Cut(Size),
}

/// A hole or a circle of equal holes, through.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// The caller's key.
    pub key: Key,
    /// The name that calculations use.
    pub name: Option<String>,
    /// The diameter; a tapped hole's is its tapping size.
    pub d: Size,
    /// The thread, if it is tapped.
    pub thread: Option<Thread>,
    /// Where.
    pub spot: Spot,
    /// Surface texture as printed.
    pub finish: Option<String>,
}

/// Where a hole is.
#[derive(Clone, Debug, PartialEq)]
pub enum Spot {
    /// At a point.
    At([Size; 2]),
    /// Equally spaced on a circle.
    Circle {
        /// Diameter of the circle.
        d: Size,
        /// How many.
        count: u32,
        /// Angle of the first from the x axis, counter-clockwise, rad.
        first: f64,
        /// Centre of the circle; the origin if missing.
        about: Option<[Size; 2]>,
    },
}

/// A slot with round ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Slot {
    /// The caller's key.
    pub key: Key,
    /// The name that calculations use.
    pub name: Option<String>,
    /// Its width.
    pub wide: Size,
    /// Centre of one end.
    pub from: [Size; 2],
    /// Centre of the other end.
    pub to: [Size; 2],
}
