//! The forms of values: each gives what [`Form`] it is and what reads it.

#![expect(
    clippy::redundant_closure_for_method_calls,
    reason = "a method of `Fields` is not general over its lifetimes"
)]

use super::declare::Declared;
use super::fields::{Fields, Word};
use super::key::{Form, Key};
use super::links::LinkText;
use super::{Dated, Estimate, Typed};
use crate::calc::dimension::Dimension;
use crate::calc::literal::Literal;
use crate::note::yaml::Node;
use crate::text::Span;

/// A field of a record: the forms of the values under its keys, and what reads them.
pub(super) struct Field<const N: usize, R> {
    forms: [Form; N],
    /// Of several keys, what each says.
    meanings: Option<[&'static str; N]>,
    needed: Option<&'static str>,
    read: R,
}

/// Reads a value of the type `T` from `N` keys; `None`: the record can't stand without it.
pub(super) trait Reads<const N: usize, T>:
    Fn(&mut Fields<'_, '_, '_>, [&'static str; N]) -> Option<T>
{
}

impl<const N: usize, T, R> Reads<N, T> for R where
    R: Fn(&mut Fields<'_, '_, '_>, [&'static str; N]) -> Option<T>
{
}

impl<const N: usize, R> Field<N, R> {
    pub(super) fn keys(self, names: [&'static str; N], meaning: &'static str) -> [Key; N] {
        std::array::from_fn(|at| Key {
            name: names[at],
            meaning: self.meanings.map_or(meaning, |meanings| meanings[at]),
            form: self.forms[at],
            needed: self.needed,
        })
    }

    pub(super) fn each_says(self, meanings: [&'static str; N]) -> Self {
        Self { meanings: Some(meanings), ..self }
    }

    pub(super) fn read<T>(self, fields: &mut Fields, names: [&'static str; N]) -> Option<T>
    where
        R: Reads<N, T>,
    {
        (self.read)(fields, names)
    }
}

impl<R> Field<1, R> {
    /// The problem of a note without it says what to do: "say how long it is".
    pub(super) fn needed<T>(self, why: &'static str) -> Field<1, impl Reads<1, T>>
    where
        R: Reads<1, Option<T>>,
    {
        let read = move |fields: &mut Fields, [key]: [&'static str; 1]| {
            if fields.node(key).is_none() {
                fields.missing(key, why);
            }
            (self.read)(fields, [key]).flatten()
        };
        Field { needed: Some(why), ..by(self.forms, read) }
    }

    /// As [`Self::needed`], of a list that must not be empty.
    pub(super) fn some_needed<T>(self, why: &'static str) -> Field<1, impl Reads<1, Vec<T>>>
    where
        R: Reads<1, Vec<T>>,
    {
        let read = move |fields: &mut Fields, [key]: [&'static str; 1]| {
            if fields.node(key).is_none() {
                fields.missing(key, why);
            }
            (self.read)(fields, [key]).filter(|list| !list.is_empty())
        };
        Field { needed: Some(why), ..by(self.forms, read) }
    }

    /// The same value in another form.
    pub(super) fn map<T, U>(self, into: fn(T) -> U) -> Field<1, impl Reads<1, Option<U>>>
    where
        R: Reads<1, Option<T>>,
    {
        let read =
            move |fields: &mut Fields, [key]: [&'static str; 1]| Some((self.read)(fields, [key])?.map(into));
        Field { needed: self.needed, ..by(self.forms, read) }
    }

    /// What is taken where a key that is needed is not there.
    pub(super) fn or_else<T>(self, otherwise: fn() -> T) -> Field<1, impl Reads<1, T>>
    where
        R: Reads<1, T>,
    {
        let read = move |fields: &mut Fields, keys: [&'static str; 1]| {
            (self.read)(fields, keys).or_else(|| Some(otherwise()))
        };
        Field { needed: self.needed, ..by(self.forms, read) }
    }

    /// What is taken where nothing is said, or nothing that can be read.
    pub(super) fn or<T: Clone>(self, usual: T) -> Field<1, impl Reads<1, T>>
    where
        R: Reads<1, Option<T>>,
    {
        let read = move |fields: &mut Fields, [key]: [&'static str; 1]| {
            (self.read)(fields, [key]).map(|value| value.unwrap_or_else(|| usual.clone()))
        };
        Field { needed: self.needed, ..by(self.forms, read) }
    }
}

/// A field whose keys are read by a function of its own.
pub(super) fn by<const N: usize, T, R>(forms: [Form; N], read: R) -> Field<N, R>
where
    R: Fn(&mut Fields<'_, '_, '_>, [&'static str; N]) -> Option<T>,
{
    Field { forms, meanings: None, needed: None, read }
}

/// A field that reads one key, and without which the record stands.
pub(super) fn one<T>(
    form: Form,
    read: impl Fn(&mut Fields<'_, '_, '_>, &'static str) -> T,
) -> Field<1, impl Reads<1, T>> {
    by([form], move |fields, [key]| Some(read(fields, key)))
}

pub(super) fn text() -> Field<1, impl Reads<1, Option<String>>> {
    text_as(Form::Text)
}

/// A text that means more than its words.
pub(super) fn text_as(form: Form) -> Field<1, impl Reads<1, Option<String>>> {
    one(form, |fields, key| fields.text(key))
}

/// Two numbers from 0 to 1.
pub(super) fn fractions() -> Field<1, impl Reads<1, Option<[f64; 2]>>> {
    one(Form::Numbers(2), |fields, key| fields.fractions(key))
}

/// A text with its place.
pub(super) fn typed(form: Form) -> Field<1, impl Reads<1, Option<Typed>>> {
    one(form, |fields, key| fields.typed(key))
}

pub(super) fn texts() -> Field<1, impl Reads<1, Vec<String>>> {
    one(Form::Texts, |fields, key| fields.texts(key))
}

pub(super) fn word<W: Word>() -> Field<1, impl Reads<1, Option<W>>> {
    one(Form::Word(W::words), |fields, key| fields.word(key))
}

pub(super) fn truth() -> Field<1, impl Reads<1, Option<bool>>> {
    one(Form::Truth, |fields, key| fields.truth(key))
}

pub(super) fn count() -> Field<1, impl Reads<1, Option<u32>>> {
    one(Form::Count, |fields, key| fields.count(key))
}

pub(super) fn number() -> Field<1, impl Reads<1, Option<f64>>> {
    one(Form::Number, |fields, key| fields.number(key))
}

pub(super) fn date() -> Field<1, impl Reads<1, Option<Dated>>> {
    one(Form::Date, |fields, key| fields.date(key))
}

/// A day that is not before the one under another key.
pub(super) fn day_after(first: &'static str) -> Field<1, impl Reads<1, Option<Dated>>> {
    one(Form::Date, move |fields, key| fields.day_after(key, first))
}

/// A quantity above zero.
pub(super) fn positive(dimension: Dimension) -> Field<1, impl Reads<1, Option<Literal>>> {
    one(Form::Quantity(Some(dimension)), move |fields, key| fields.positive(key, dimension))
}

/// A quantity of zero or more.
pub(super) fn not_negative(dimension: Dimension) -> Field<1, impl Reads<1, Option<Literal>>> {
    one(Form::Quantity(Some(dimension)), move |fields, key| fields.not_negative(key, dimension))
}

pub(super) fn estimate(dimension: Dimension) -> Field<1, impl Reads<1, Option<Estimate>>> {
    one(Form::Estimate(dimension), move |fields, key| fields.estimate(key, dimension))
}

/// So many lengths, `example`.
pub(super) fn sides<const N: usize>(example: &'static str) -> Field<1, impl Reads<1, Option<[Literal; N]>>> {
    one(Form::Sides(N), move |fields, key| fields.sides(key, example))
}

pub(super) fn link<T: LinkText>() -> Field<1, impl Reads<1, Option<T>>> {
    one(Form::Link(T::TO), |fields, key| fields.typed(key).map(T::from))
}

pub(super) fn links<T: LinkText>() -> Field<1, impl Reads<1, Vec<T>>> {
    one(Form::Links(T::TO), |fields, key| fields.list(key).into_iter().map(T::from).collect())
}

/// A mapping under the key.
pub(super) fn child<T: Declared>() -> Field<1, impl Reads<1, Option<T>>> {
    one(Form::Keys(T::mapping), |fields, key| {
        let node = fields.node(key)?;
        of_node(fields, node)
    })
}

/// A list of mappings under the key.
pub(super) fn items<T: Declared>() -> Field<1, impl Reads<1, Vec<T>>> {
    one(Form::Items(T::mapping), |fields, key| {
        fields.nodes(key).into_iter().filter_map(|node| of_node(fields, node)).collect()
    })
}

/// A list under the key of values as `form` says, which `plain` reads, or of mappings.
pub(super) fn items_or<T: Declared>(
    form: &'static Form,
    plain: fn(Typed) -> T,
) -> Field<1, impl Reads<1, Vec<T>>> {
    one(Form::Eithers(form, T::mapping), move |fields, key| {
        let nodes = fields.nodes(key);
        let one = |node: &Node| match node.is_scalar() {
            true => fields.typed_at(node).map(plain),
            false => of_node(fields, node),
        };
        nodes.into_iter().filter_map(one).collect()
    })
}

/// Mappings by names of one's own.
pub(super) fn by_name<T: Declared>() -> Field<1, impl Reads<1, Vec<T>>> {
    one(Form::ByName(T::mapping), |fields, key| {
        let entries = fields.entries(key).iter();
        let one =
            |entry| Fields::of_entry(entry, &T::mapping(), fields.reader).and_then(|mut it| T::of(&mut it));
        entries.filter_map(one).collect()
    })
}

fn of_node<T: Declared>(fields: &mut Fields, node: &Node) -> Option<T> {
    T::of(&mut Fields::of(node, &T::mapping(), fields.reader)?)
}

/// The name under which the mapping stands among those of one's own.
pub(super) fn own_name() -> Field<0, impl Reads<0, String>> {
    by([], |fields, []| Some(fields.own_key.map_or_else(String::new, |entry| entry.key.clone())))
}

/// Where that name stands.
pub(super) fn own_place() -> Field<0, impl Reads<0, Span>> {
    by([], |fields, []| Some(fields.own_key.map_or(fields.span, |entry| entry.key_span)))
}

/// Where the value of a key stands; without it, the mapping.
pub(super) fn place_of(key: &'static str) -> Field<0, impl Reads<0, Span>> {
    by([], move |fields, []| Some(fields.place(key)))
}

/// Where the mapping stands.
pub(super) fn place() -> Field<0, impl Reads<0, Span>> {
    by([], |fields, []| Some(fields.span))
}
