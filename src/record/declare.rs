//! `record!`: a mapping declared once, as a struct. Each field says what its key is, how its value is written and what
//! reads it; its documentation is the key's meaning. From this come the keys that are known, the reading and the resolving.
//!
//! ```text
//! field: Type = form;                      the key has the name of the field
//! field ("one", "other"): Type = form;     it is read from these keys
//! field (): Type = form;                   it has no key of its own
//! ```

/// The names of a field's keys.
macro_rules! names {
    ($field:ident) => {
        [stringify!($field)]
    };
    ($field:ident ($($key:literal),*)) => {
        [$($key),*]
    };
}

macro_rules! record {
    (
        $(#[$about:meta])*
        pub struct $name:ident<$links:ident> of $owner:literal {
            $($(#[doc = $meaning:literal])+ $field:ident $(($($key:literal),*))? : $type:ty = $form:expr;)*
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Debug)]
        pub struct $name<$links: $crate::record::Links> {
            $($(#[doc = $meaning])+ pub $field: $type,)*
        }

        impl<K: $crate::record::Linker> $crate::record::Resolve<K> for $name<$crate::record::AsTyped> {
            type Into = $name<K::To>;
            fn resolve(self, linker: &mut K) -> Option<Self::Into> {
                Some($name { $($field: self.$field.resolve(linker)?,)* })
            }
        }

        $crate::record::declare::record! {
            @reading ($name<$crate::record::AsTyped>) $owner
            $([$($meaning)+] $field $(($($key),*))? = $form;)*
        }
    };
    (
        $(#[$about:meta])*
        pub struct $name:ident of $owner:literal {
            $($(#[doc = $meaning:literal])+ $field:ident $(($($key:literal),*))? : $type:ty = $form:expr;)*
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Debug)]
        pub struct $name {
            $($(#[doc = $meaning])+ pub $field: $type,)*
        }

        $crate::record::links::without_links!($name);

        $crate::record::declare::record! {
            @reading ($name) $owner
            $([$($meaning)+] $field $(($($key),*))? = $form;)*
        }
    };
    (
        @reading ($name:ty) $owner:literal
        $([$($meaning:literal)+] $field:ident $(($($key:literal),*))? = $form:expr;)*
    ) => {
        impl $crate::record::declare::Declared for $name {
            fn mapping() -> $crate::record::Mapping {
                static KEYS: std::sync::LazyLock<Vec<$crate::record::Key>> = std::sync::LazyLock::new(|| {
                    let mut keys = Vec::new();
                    $(keys.extend($form.keys(
                        $crate::record::declare::names!($field $(($($key),*))?),
                        concat!($($meaning),+).trim(),
                    ));)*
                    keys
                });
                $crate::record::Mapping { owner: $owner, keys: &KEYS }
            }

            fn of(fields: &mut $crate::record::fields::Fields) -> Option<Self> {
                let ($($field,)*) = (
                    $($form.read(fields, $crate::record::declare::names!($field $(($($key),*))?)),)*
                );
                Some(Self { $($field: $field?,)* })
            }
        }
    };
}

pub(super) use {names, record};

use super::fields::Fields;
use super::key::Mapping;

/// A mapping that is declared by `record!`.
pub(super) trait Declared: Sized {
    fn mapping() -> Mapping;

    /// All keys are read, and what is wrong with any is reported, before one that is missing ends it.
    fn of(fields: &mut Fields) -> Option<Self>;
}
