//! The keys of a shape. One that stands in several mappings means the same in each.

use crate::calc::dimension::Dimension;
use crate::record::{Form, Key, Mapping, Target};

macro_rules! keys {
    ($($(#[doc = $meaning:literal])+ $key:ident $name:literal $form:expr;)*) => {$(
        pub(super) const $key: Key =
            Key { name: $name, meaning: concat!($($meaning),+).trim_ascii(), form: $form, needed: None };
    )*};
}

macro_rules! mappings {
    ($($mapping:ident $owner:literal $keys:expr;)*) => {$(
        pub(in crate::record) fn $mapping() -> Mapping {
            static KEYS: &[Key] = &$keys;
            Mapping { owner: $owner, keys: KEYS }
        }
    )*};
}

keys! {
    /// For sizes without limits: a class of ISO 2768-1 (`f`, `m`, `c`, `v`) or a figure.
    GENERAL "general" Form::Text;
    /// The roughness Ra: of this feature, or where nothing else is said.
    FINISH "finish" Form::Quantity(Some(Dimension::LENGTH));
    /// What is done to edges, in words.
    EDGES "edges" Form::Text;
    /// The largest radius that may be left in an inside corner that has none of its own.
    CORNERS "corners" Form::Quantity(Some(Dimension::LENGTH));
    /// What is done to the metal: words, or a hardness and where.
    TREAT "treat" Form::Either(&Form::Text, treated);
    /// The side, as drawn, that is up when it is in its place: `left`, `right`, `top` or `bottom`.
    UP "up" Form::Text;
    /// How it is coated, in words.
    COAT "coat" Form::Text;
    /// What else the drawing has to say, a line each.
    NOTES "notes" Form::Texts;
    /// The lengths of the outside, from the left face on.
    TURNED "turned" Form::Items(segment);
    /// The length of the whole.
    OVERALL "overall" Form::Size;
    /// Holes along the axis, from the left face.
    BORED "bored" Form::Items(bore);
    /// Holes along the axis, from the right face.
    BORED_RIGHT "bored_right" Form::Items(bore);
    /// What is cut across the axis.
    ACROSS "across" Form::Items(cut);
    /// What runs true to what.
    TRUE_TO "true_to" Form::Items(control);
    /// A part from plate, in the place of `turned`.
    FLAT "flat" Form::Keys(flat);

    /// Diameter.
    D "d" Form::Size;
    /// The diameter at the other end of a taper.
    TAPER_TO "to" Form::Size;
    /// A thread, by its designation.
    THREAD "thread" Form::Text;
    /// Length along the axis.
    LONG "long" Form::Size;
    /// The chamfer at the end.
    CHAMFER "chamfer" Form::Size;
    /// Of a bore that goes through: its chamfer is at both mouths.
    BOTH_MOUTHS "both_mouths" Form::Truth;
    /// Rounded with this radius.
    RADIUS "radius" Form::Size;
    /// An undercut at the shoulder: its width, or more of it.
    UNDERCUT "undercut" Form::Either(&Form::Size, undercut);
    /// A name of your own, by which calculations and `true_to` know it.
    AS "as" Form::Text;
    /// Depth, or `through`.
    DEEP "deep" Form::Size;
    /// Of a tapped hole, the depth of the drilling.
    DRILL "drill" Form::Size;
    /// A hole: its diameter.
    HOLE "hole" Form::Size;
    /// A keyway: its width.
    KEYWAY "keyway" Form::Size;
    /// Flats: the size across.
    FLATS "flats" Form::Size;
    /// A groove: its width.
    GROOVE "groove" Form::Size;
    /// A groove all round in the bore: its width.
    BORE_GROOVE "bore_groove" Form::Size;
    /// A groove along the bore: its width.
    OIL_GROOVE "oil_groove" Form::Size;
    /// Of a keyway, its length over the ends; of flats and of an oil groove, the length along the axis.
    CUT_LONG "long" Form::Size;
    /// Of a keyway or an oil groove, its depth below the surface.
    CUT_DEEP "deep" Form::Size;
    /// Of a groove, the diameter at its bottom.
    CUT_D "d" Form::Size;
    /// How far from the left face.
    ALONG "at" Form::Size;
    /// Of a hole: right through; left out, it is.
    THROUGH "through" Form::Truth;
    /// How many there are: holes on the circle, or flats.
    COUNT "count" Form::Count;
    /// The feature that is held, by its name.
    OF "of" Form::Text;
    /// The feature that it runs true to, by its name.
    HELD_TO "to" Form::Text;
    /// How far it may run out, at any one place.
    RUN_OUT "run_out" Form::Size;
    /// How far it may run out, over its whole length.
    TOTAL_RUN_OUT "total_run_out" Form::Size;
    /// How wide the zone is in which its axis lies.
    COAXIAL "coaxial" Form::Size;
    /// Width.
    WIDE "wide" Form::Size;

    /// Thickness.
    THICK "thick" Form::Size;
    /// A rectangle from its lower left corner.
    RECTANGLE "rectangle" Form::Sides(2);
    /// A disc round the origin: its diameter.
    DISC "disc" Form::Size;
    /// The corners in order round the part.
    OUTLINE "outline" Form::Eithers(&Form::Place, corner);
    /// Corners are cut off by so much.
    CUT "cut" Form::Size;
    /// Holes through it.
    HOLES "holes" Form::Items(hole);
    /// Slots through it.
    SLOTS "slots" Form::Items(slot);
    /// Where it is.
    AT "at" Form::Place;
    /// Equally spaced on a circle of this diameter.
    ON_CIRCLE "on_circle" Form::Size;
    /// The angle of the first hole on the circle; left out, 0.
    FIRST "first" Form::Angle;
    /// The middle of the circle; left out, the origin.
    ABOUT "about" Form::Place;
    /// The middle of its one end.
    FROM "from" Form::Place;
    /// The middle of its other end.
    TO "to" Form::Place;
    /// Where the corner is.
    CORNER "to" Form::Place;
    /// The feature that is treated, by its name; left out, the whole part.
    TREATED "of" Form::Text;
    /// The hardness with its limits: `50 HRC .. 55 HRC`.
    HARDNESS "to" Form::Text;
    /// Of a corner, how far round it.
    WITHIN "within" Form::Quantity(Some(Dimension::LENGTH));
    /// What else there is to say.
    WORDS "words" Form::Text;
    /// What has to be measured before the size is known.
    HOLD "hold" Form::Text;
    /// What it will be near: for the layout of the drawing, the blank and the lathe.
    NEAR "about" Form::Quantity(Some(Dimension::LENGTH));
    /// The steps, questions and measurements that give it.
    SETTLED_BY "settled_by" Form::Links(Target::AnyNote);
}

mappings! {
    shape "a shape" [
        GENERAL, FINISH, EDGES, CORNERS, TREAT, UP, COAT, NOTES, TURNED, OVERALL, BORED, BORED_RIGHT, ACROSS, TRUE_TO,
        FLAT,
    ];
    segment "a length of the outside" [D, TAPER_TO, THREAD, LONG, CHAMFER, RADIUS, UNDERCUT, FINISH, AS];
    bore "a bore" [D, TAPER_TO, THREAD, DEEP, DRILL, CHAMFER, BOTH_MOUTHS, FINISH, AS];
    cut "a cut across" [
        HOLE, KEYWAY, FLATS, GROOVE, BORE_GROOVE, OIL_GROOVE, ALONG, THROUGH, CUT_LONG, CUT_DEEP, CUT_D, COUNT, FINISH, AS,
    ];
    control "a tolerance of one feature to another" [OF, HELD_TO, RUN_OUT, TOTAL_RUN_OUT, COAXIAL];
    undercut "an undercut" [WIDE, D];
    treated "a heat treatment" [TREATED, HARDNESS, WITHIN, WORDS];
    flat "a flat part" [THICK, RECTANGLE, DISC, OUTLINE, RADIUS, CUT, HOLES, SLOTS];
    corner "a corner" [CORNER, RADIUS, CUT, AS];
    hole "a hole" [D, THREAD, AT, ON_CIRCLE, COUNT, FIRST, ABOUT, FINISH, AS];
    slot "a slot" [WIDE, FROM, TO, AS];
    on_hold "a size on hold" [HOLD, NEAR, SETTLED_BY];
}
