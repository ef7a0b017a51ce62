//! The kinds of fault: the one list of them, each with its word and how bad it is.

use super::Severity;

/// Hands the list to the macro `$then`, behind what else that is given. A line is the kind, its name among the problem codes,
/// how bad it is, its word, and what it means.
macro_rules! fault_codes {
    ($then:ident $($given:tt)*) => {
        $then! { $($given)* faults {
            Syntax CALC_SYNTAX Error "calc-syntax" "It can't be read."
            Literal CALC_LITERAL Error "calc-literal" "A number or its unit can't be read."
            Limit CALC_LIMIT Error "calc-limit" "More than the engine takes on."
            Redefined CALC_REDEFINED Error "calc-redefined" "A name is given a second meaning."
            UnknownName CALC_UNKNOWN_NAME Error "calc-unknown-name" "A name has no value."
            UnknownNote CALC_UNKNOWN_NOTE Error "calc-unknown-note" "No note has the id behind `@`."
            UnknownFunction CALC_UNKNOWN_FUNCTION Error "calc-unknown-function" "No function has the name."
            NameIsUnit CALC_NAME_IS_UNIT Caution "calc-name-is-unit" "A name was read as a unit."
            Circle CALC_CIRCLE Error "calc-circle" "Lines need each other."
            Dimension CALC_DIMENSION Error "calc-dimension" "Dimensions that don't go together."
            Kind CALC_KIND Error "calc-kind" "A text where a number belongs, and the like."
            Temperature CALC_TEMPERATURE Error "calc-temperature" "A temperature on its scale taken for a difference."
            Arithmetic CALC_ARITHMETIC Error "calc-arithmetic" "A sum that has no result."
            Argument CALC_ARGUMENT Error "calc-argument" "An argument too many, too few or twice."
            Range CALC_RANGE Error "calc-range" "An argument is outside what the function takes."
            Validity CALC_VALIDITY Error "calc-validity" "A function does not hold for what it is given."
            Angle CALC_ANGLE Caution "calc-angle" "A turn that falls away or appears unsaid."
            Curved CALC_CURVED Caution "calc-curved" "Nonlinearity outweighs the shares of a budget."
            Bounds CALC_BOUNDS Caution "calc-bounds" "Part of the bounds has no result."
            Warning CALC_WARNING Caution "calc-warning" "A function says that a limit is passed."
            ConditionNotSettled CONDITION_NOT_SETTLED Caution "condition-not-settled" "An `if` may go either way."
            CheckFails CHECK_FAILS Caution "check-fails" "A check fails for certain."
            CheckNotSettled CHECK_NOT_SETTLED Caution "check-not-settled" "A check may hold or fail."
        } }
    };
}
pub(crate) use fault_codes;

macro_rules! define {
    (faults { $($kind:ident $name:ident $severity:ident $word:literal $means:literal)* }) => {
        /// The kind of a fault.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Code {
            $(#[doc = $means] $kind,)*
        }

        impl Code {
            /// Every kind, in the order of the stages.
            pub const ALL: &[Self] = &[$(Self::$kind),*];

            /// Its stable word: what `explain` explains and `allow` accepts.
            pub const fn word(self) -> &'static str {
                match self { $(Self::$kind => $word,)* }
            }

            pub const fn severity(self) -> Severity {
                match self { $(Self::$kind => Severity::$severity,)* }
            }
        }
    };
}

fault_codes! { define }

impl std::fmt::Display for Code {
    fn fmt(&self, out: &mut std::fmt::Formatter) -> std::fmt::Result {
        out.write_str(self.word())
    }
}
