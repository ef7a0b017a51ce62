//! A turned part: lengths of the outside, bores from either face, what is cut across, what runs true to what.

use super::size::{of_node, size};
use super::{Ledger, end, finish, needed, one_of, thread};
use crate::note::yaml::{Node, Shape};
use crate::record::fields::Fields;
use crate::record::problems as problem;
use crate::shape::{Across, Bore, BoreForm, Control, ControlKind, Cut, Deep, Form, Segment, Side, Turned};

const SEGMENT: &[&str] = &["d", "to", "thread", "long", "chamfer", "radius", "undercut", "finish", "as"];
const BORE: &[&str] = &["d", "to", "thread", "deep", "drill", "chamfer", "finish", "as"];
const CUT: &[&str] =
    &["hole", "keyway", "flats", "groove", "at", "through", "long", "deep", "d", "count", "finish", "as"];
const CONTROL: &[&str] = &["of", "to", "run_out", "total_run_out", "coaxial"];

pub(super) fn read(shape: &mut Fields, ledger: &mut Ledger) -> Option<Turned> {
    let outside = each(shape, "turned", ledger, segment);
    let overall = size(shape, "overall", ledger);
    let left = each(shape, "bored", ledger, |fields, node, ledger| bore(fields, node, Side::Left, ledger));
    let right =
        each(shape, "bored_right", ledger, |fields, node, ledger| bore(fields, node, Side::Right, ledger));
    let across = each(shape, "across", ledger, cut);
    let true_to = each(shape, "true_to", ledger, control);
    let bores = left?.into_iter().chain(right?).collect();
    Some(Turned { outside: outside?, overall, bores, across: across?, true_to: true_to? })
}

/// Every item under a key; all are read before a wrong one ends it.
fn each<T>(
    shape: &mut Fields,
    key: &str,
    ledger: &mut Ledger,
    read: impl Fn(&mut Fields, &Node, &mut Ledger) -> Option<T>,
) -> Option<Vec<T>> {
    let items: Vec<Option<T>> = shape.nodes(key).into_iter().map(|node| read(shape, node, ledger)).collect();
    items.into_iter().collect()
}

fn segment(shape: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Segment> {
    let mut fields = Fields::of(node, "a length of the outside", SEGMENT, &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let form = outside_form(&mut fields, ledger);
    let (long, chamfer) = (size(&mut fields, "long", ledger), size(&mut fields, "chamfer", ledger));
    let end = end(&mut fields, ledger);
    let (finish, name) = (finish(&mut fields), fields.text("as"));
    Some(Segment { key, name, form: form?, long, chamfer, end, finish })
}

fn outside_form(fields: &mut Fields, ledger: &mut Ledger) -> Option<Form> {
    one_of(fields, "d", "thread");
    if fields.node("thread").is_some() {
        return thread(fields, ledger).map(Form::Thread);
    }
    let (d, to) = (needed(fields, "d", "give its diameter", ledger), size(fields, "to", ledger));
    Some(match to {
        None => Form::Plain { d: d? },
        Some(to) => Form::Taper { d: d?, to },
    })
}

fn bore(shape: &mut Fields, node: &Node, side: Side, ledger: &mut Ledger) -> Option<Bore> {
    let mut fields = Fields::of(node, "a bore", BORE, &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let form = bore_form(&mut fields, ledger);
    let deep = deep(&mut fields, ledger);
    let chamfer = size(&mut fields, "chamfer", ledger);
    let (finish, name) = (finish(&mut fields), fields.text("as"));
    Some(Bore { key, name, side, form: form?, deep: deep?, chamfer, finish })
}

fn bore_form(fields: &mut Fields, ledger: &mut Ledger) -> Option<BoreForm> {
    one_of(fields, "d", "thread");
    if fields.node("thread").is_some() {
        let (thread, drill) = (thread(fields, ledger), size(fields, "drill", ledger));
        return Some(BoreForm::Thread { thread: thread?, drill });
    }
    let (d, to) = (needed(fields, "d", "give its diameter", ledger), size(fields, "to", ledger));
    Some(match to {
        None => BoreForm::Plain { d: d? },
        Some(to) => BoreForm::Taper { d: d?, to },
    })
}

fn deep(fields: &mut Fields, ledger: &mut Ledger) -> Option<Deep> {
    match fields.node("deep") {
        Some(Node { shape: Shape::Scalar { text, .. }, .. }) if text.trim() == "through" => {
            Some(Deep::Through)
        }
        _ => needed(fields, "deep", "say how deep it is, or `through`", ledger).map(Deep::To),
    }
}

fn cut(shape: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Cut> {
    let mut fields = Fields::of(node, "a cut across", CUT, &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let what = across(&mut fields, ledger);
    let at = needed(&mut fields, "at", "say how far from the left face it is", ledger);
    let (finish, name) = (finish(&mut fields), fields.text("as"));
    Some(Cut { key, name, what: what?, at: at?, finish })
}

fn across(fields: &mut Fields, ledger: &mut Ledger) -> Option<Across> {
    const KINDS: [&str; 4] = ["hole", "keyway", "flats", "groove"];
    let given: Vec<&str> = KINDS.into_iter().filter(|kind| fields.node(kind).is_some()).collect();
    let [kind] = given[..] else {
        let found = if given.is_empty() { "none of them" } else { "more than one" };
        let problem = problem::shape(fields.span, "`hole`, `keyway`, `flats` or `groove`", found);
        fields.reader.problems.push(problem);
        return None;
    };
    let wide = size(fields, kind, ledger);
    match kind {
        "hole" => Some(Across::Hole { d: wide?, through: fields.truth("through").unwrap_or(true) }),
        "keyway" => {
            let long = needed(fields, "long", "say how long it is over its ends", ledger);
            let deep = needed(fields, "deep", "say how deep it is below the surface", ledger);
            Some(Across::Keyway { wide: wide?, long: long?, deep: deep? })
        }
        "flats" => {
            let count = fields.count("count").unwrap_or(2);
            let long = needed(fields, "long", "say how long they are along the axis", ledger);
            Some(Across::Flats { size: wide?, count, long: long? })
        }
        _ => {
            let d = needed(fields, "d", "give the diameter at its bottom", ledger);
            Some(Across::Groove { wide: wide?, d: d? })
        }
    }
}

fn control(shape: &mut Fields, node: &Node, ledger: &mut Ledger) -> Option<Control> {
    const KINDS: [(&str, ControlKind); 3] = [
        ("run_out", ControlKind::RunOut),
        ("total_run_out", ControlKind::TotalRunOut),
        ("coaxial", ControlKind::Coaxial),
    ];
    let mut fields = Fields::of(node, "a tolerance of one feature to another", CONTROL, &mut *shape.reader)?;
    let key = ledger.key(node.span);
    let of = fields.required("of", "name the feature that is held");
    let to = fields.required("to", "name the feature that it runs true to");
    let kind = KINDS.into_iter().find(|(word, _)| fields.node(word).is_some());
    let Some((word, kind)) = kind else {
        fields.missing("run_out", "say how much; `total_run_out` and `coaxial` are the other kinds");
        return None;
    };
    let within = fields.node(word).and_then(|node| of_node(&mut fields, node, ledger));
    Some(Control { key, of: of?, to: to?, kind, within: within? })
}
