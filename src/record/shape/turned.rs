//! A turned part: lengths of the outside, bores from either face, what is cut across, what runs true to what.

use super::keys::{
    self, ACROSS, ALONG, AS, BORE_GROOVE, BORED, BORED_RIGHT, BOTH_MOUTHS, CHAMFER, COAXIAL, COUNT, CUT_D,
    CUT_DEEP, CUT_LONG, D, DEEP, DRILL, FLATS, GROOVE, HELD_TO, HOLE, KEYWAY, LONG, OF, OIL_GROOVE, OVERALL,
    RUN_OUT, TAPER_TO, THREAD, THROUGH, TOTAL_RUN_OUT, TRUE_TO, TURNED,
};
use super::size::size;
use super::{Ledger, NoteKey, end, finish, needed, one_of, thread};
use crate::note::yaml::{Node, Shape};
use crate::record::fields::Fields;
use crate::record::problems as problem;
use crate::shape::{Across, Bore, BoreForm, Control, ControlKind, Cut, Deep, Form, Segment, Side, Turned};

pub(super) fn read(shape: &mut Fields, ledger: &mut Ledger) -> Option<Turned> {
    let outside = each(shape, TURNED, ledger, segment);
    let overall = size(shape, OVERALL, ledger);
    let left = each(shape, BORED, ledger, |fields, node, ledger| bore(fields, node, Side::Left, ledger));
    let right =
        each(shape, BORED_RIGHT, ledger, |fields, node, ledger| bore(fields, node, Side::Right, ledger));
    let across = each(shape, ACROSS, ledger, cut);
    let true_to = each(shape, TRUE_TO, ledger, control);
    let bores = left?.into_iter().chain(right?).collect();
    Some(Turned { outside: outside?, overall, bores, across: across?, true_to: true_to? })
}

/// Every item under a key; all are read before a wrong one ends it.
fn each<T>(
    shape: &mut Fields,
    key: NoteKey,
    ledger: &mut Ledger,
    read: impl Fn(&mut Fields, &Node, &mut Ledger) -> Option<T>,
) -> Option<Vec<T>> {
    let items: Vec<Option<T>> =
        shape.nodes(key.name).into_iter().map(|node| read(shape, node, ledger)).collect();
    items.into_iter().collect()
}

fn segment(shape: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Segment> {
    let mut fields = Fields::of(node, &keys::segment(), &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let form = outside_form(&mut fields, ledger);
    let (long, chamfer) = (size(&mut fields, LONG, ledger), size(&mut fields, CHAMFER, ledger));
    let end = end(&mut fields, ledger);
    let (finish, name) = (finish(&mut fields), fields.text(AS.name));
    Some(Segment { key, name, form: form?, long, chamfer, end, finish })
}

fn outside_form(fields: &mut Fields, ledger: &mut Ledger) -> Option<Form> {
    one_of(fields, D, THREAD);
    if fields.node(THREAD.name).is_some() {
        return thread(fields, ledger).map(Form::Thread);
    }
    let (d, to) = (needed(fields, D, "give its diameter", ledger), size(fields, TAPER_TO, ledger));
    Some(match to {
        None => Form::Plain { d: d? },
        Some(to) => Form::Taper { d: d?, to },
    })
}

fn bore(shape: &mut Fields, node: &Node, side: Side, ledger: &mut Ledger) -> Option<Bore> {
    let mut fields = Fields::of(node, &keys::bore(), &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let form = bore_form(&mut fields, ledger);
    let deep = deep(&mut fields, ledger);
    let chamfer = size(&mut fields, CHAMFER, ledger);
    let both_mouths = both_mouths(&mut fields, deep.as_ref());
    let (finish, name) = (finish(&mut fields), fields.text(AS.name));
    Some(Bore { key, name, side, form: form?, deep: deep?, chamfer, both_mouths, finish })
}

/// Whether the chamfer is at both mouths, which only a bore that goes through has.
fn both_mouths(fields: &mut Fields, deep: Option<&Deep>) -> bool {
    let both = fields.truth(BOTH_MOUTHS.name) == Some(true);
    let Some(node) = fields.node(BOTH_MOUTHS.name).filter(|_| both) else { return false };
    if let Some(Deep::To(_)) = deep {
        let wanted = "`deep: through` of a bore with two mouths";
        fields.reader.problems.push(problem::shape(node.span, wanted, "a depth"));
    } else if fields.node(CHAMFER.name).is_none() {
        fields.missing(CHAMFER.name, "say how large it is at both mouths");
    }
    both
}

fn bore_form(fields: &mut Fields, ledger: &mut Ledger) -> Option<BoreForm> {
    one_of(fields, D, THREAD);
    if fields.node(THREAD.name).is_some() {
        let (thread, drill) = (thread(fields, ledger), size(fields, DRILL, ledger));
        return Some(BoreForm::Thread { thread: thread?, drill });
    }
    let (d, to) = (needed(fields, D, "give its diameter", ledger), size(fields, TAPER_TO, ledger));
    Some(match to {
        None => BoreForm::Plain { d: d? },
        Some(to) => BoreForm::Taper { d: d?, to },
    })
}

fn deep(fields: &mut Fields, ledger: &mut Ledger) -> Option<Deep> {
    match fields.node(DEEP.name) {
        Some(Node { shape: Shape::Scalar { text, .. }, .. }) if text.trim() == "through" => {
            Some(Deep::Through)
        }
        _ => needed(fields, DEEP, "say how deep it is, or `through`", ledger).map(Deep::To),
    }
}

fn cut(shape: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Cut> {
    let mut fields = Fields::of(node, &keys::cut(), &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let what = across(&mut fields, ledger);
    let at = needed(&mut fields, ALONG, "say how far from the left face it is", ledger);
    let (finish, name) = (finish(&mut fields), fields.text(AS.name));
    Some(Cut { key, name, what: what?, at: at?, finish })
}

fn across(fields: &mut Fields, ledger: &mut Ledger) -> Option<Across> {
    const KINDS: [NoteKey; 6] = [HOLE, KEYWAY, FLATS, GROOVE, BORE_GROOVE, OIL_GROOVE];
    let given: Vec<NoteKey> = KINDS.into_iter().filter(|kind| fields.node(kind.name).is_some()).collect();
    let [kind] = given[..] else {
        let found = if given.is_empty() { "none of them" } else { "more than one" };
        let problem = problem::shape(
            fields.span,
            "`hole`, `keyway`, `flats`, `groove`, `bore_groove` or `oil_groove`",
            found,
        );
        fields.reader.problems.push(problem);
        return None;
    };
    let wide = size(fields, kind, ledger);
    match kind {
        kind if kind.is(HOLE) => {
            Some(Across::Hole { d: wide?, through: fields.truth(THROUGH.name).unwrap_or(true) })
        }
        kind if kind.is(KEYWAY) => {
            let long = needed(fields, CUT_LONG, "say how long it is over its ends", ledger);
            let deep = needed(fields, CUT_DEEP, "say how deep it is below the surface", ledger);
            Some(Across::Keyway { wide: wide?, long: long?, deep: deep? })
        }
        kind if kind.is(OIL_GROOVE) => {
            let long = needed(fields, CUT_LONG, "say how long it is along the axis", ledger);
            let deep = needed(fields, CUT_DEEP, "say how deep it is below the bore", ledger);
            Some(Across::OilGroove { wide: wide?, long: long?, deep: deep? })
        }
        kind if kind.is(FLATS) => {
            let count = fields.count(COUNT.name).unwrap_or(2);
            let long = needed(fields, CUT_LONG, "say how long they are along the axis", ledger);
            Some(Across::Flats { size: wide?, count, long: long? })
        }
        _ => {
            let d = needed(fields, CUT_D, "give the diameter at its bottom", ledger);
            let (wide, d) = (wide?, d?);
            Some(if kind.is(GROOVE) { Across::Groove { wide, d } } else { Across::BoreGroove { wide, d } })
        }
    }
}

fn control(shape: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Control> {
    const KINDS: [(NoteKey, ControlKind); 3] = [
        (RUN_OUT, ControlKind::RunOut),
        (TOTAL_RUN_OUT, ControlKind::TotalRunOut),
        (COAXIAL, ControlKind::Coaxial),
    ];
    let mut fields = Fields::of(node, &keys::control(), &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let of = fields.required(OF.name, "name the feature that is held");
    let to = fields.required(HELD_TO.name, "name the feature that it runs true to");
    let kind = KINDS.into_iter().find(|(key, _)| fields.node(key.name).is_some());
    let Some((within, kind)) = kind else {
        fields.missing(RUN_OUT.name, "say how much; `total_run_out` and `coaxial` are the other kinds");
        return None;
    };
    let within = size(&mut fields, within, ledger);
    Some(Control { key, of: of?, to: to?, kind, within: within? })
}
