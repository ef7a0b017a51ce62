//! The codes: stable words, each with its severity and its page of the book.

use crate::calc::fault::{self, fault_codes};

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// A note that can't be read or contradicts another.
    Error,
    /// What a careful person would mend.
    Caution,
}

impl Severity {
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Caution => "caution",
        }
    }
}

/// A kind of problem: what `explain` explains and `allow` accepts.
#[derive(Debug)]
pub struct Code {
    pub word: &'static str,
    pub severity: Severity,
    /// Markdown: what it means and how to mend it; the same page stands in the book.
    pub page: &'static str,
}

/// The code of this word.
pub fn find(word: &str) -> Option<&'static Code> {
    ALL.iter().copied().find(|code| code.word == word)
}

macro_rules! codes {
    (
        before { $($before:ident $before_severity:ident $before_word:literal)* }
        after { $($after:ident $after_severity:ident $after_word:literal)* }
        faults { $($kind:ident $fault:ident $fault_severity:ident $fault_word:literal $means:literal)* }
    ) => {
        $(codes!(one $before $before_severity $before_word);)*
        $(codes!(one $fault $fault_severity $fault_word);)*
        $(codes!(one $after $after_severity $after_word);)*

        /// Every code, stage by stage.
        pub static ALL: &[&Code] = &[$(&$before,)* $(&$fault,)* $(&$after),*];

        /// The code of a fault of the engine.
        pub fn of_fault(code: fault::Code) -> &'static Code {
            match code { $(fault::Code::$kind => &$fault,)* }
        }
    };
    (one $name:ident $severity:ident $word:literal) => {
        pub static $name: Code = Code {
            word: $word,
            severity: Severity::$severity,
            page: include_str!(concat!("../../book/src/problems/", $word, ".md")),
        };
    };
}

// Those of calculations stand with the engine.
fault_codes! { codes
    before {
        // The files
        NO_DOSSIER Error "no-dossier"
        NOT_A_FILE Error "not-a-file"
        TOO_LARGE Error "too-large"
        NOT_TEXT Error "not-text"
        LINK_OUTSIDE Error "link-outside"
        LINK_LOOP Error "link-loop"
        UNREADABLE Error "unreadable"
        // The shape of a note
        FRONT_MATTER_OPEN Error "front-matter-open"
        YAML_SYNTAX Error "yaml-syntax"
        YAML_ALIAS Error "yaml-alias"
        YAML_REMARK Error "yaml-remark"
        YAML_SHAPE Error "yaml-shape"
        BODY_UNREADABLE Error "body-unreadable"
        TABLE_CELL Error "table-cell"
        LIMIT Error "limit"
        // What a note says
        KIND_MISSING Error "kind-missing"
        KIND_UNKNOWN Error "kind-unknown"
        KEY_UNKNOWN Error "key-unknown"
        KEY_MISSING Error "key-missing"
        VALUE_SHAPE Error "value-shape"
        WORD_UNKNOWN Error "word-unknown"
        QUANTITY Error "quantity"
        UNIT_MISSING Error "unit-missing"
        UNIT_DIMENSION Error "unit-dimension"
        DATE Error "date"
        ID_SHAPE Error "id-shape"
        READINGS Error "readings"
        PRIVATE_FOR_HELPERS Error "private-for-helpers"
        DECIMAL_POINT Error "decimal-point"
        // How the notes fit together
        ID_TWICE Error "id-twice"
        ID_UNKNOWN Error "id-unknown"
        ID_KIND Error "id-kind"
        PART_CIRCLE Error "part-circle"
        STEP_CIRCLE Error "step-circle"
        FILE_MISSING Error "file-missing"
        PICTURE Error "picture"
        PICTURE_UNTOLD Caution "picture-untold"
        LINK_NOWHERE Error "link-nowhere"
        DONE_TOO_EARLY Error "done-too-early"
        DONE_UNSAID Caution "done-unsaid"
        ANSWER_MISSING Error "answer-missing"
        ONE_WAY_NO_RECORD Caution "one-way-no-record"
        ONE_WAY_NO_RECOVERY Caution "one-way-no-recovery"
        DISPOSITION_OPEN Caution "disposition-open"
        COST_MISSING Caution "cost-missing"
        INSTRUMENT_MISSING Caution "instrument-missing"
        HAZARD_UNKNOWN Caution "hazard-unknown"
        FEATURE_NEAR Caution "feature-near"
        READING_FAR Caution "reading-far"
        READING_OUTSIDE Caution "reading-outside"
        TRAP_NOT_FREED Caution "trap-not-freed"
        NOT_TAKEN_OFF Caution "not-taken-off"
        PLACE_CANNOT Caution "place-cannot"
        LAST_DAY_MISSED Caution "last-day-missed"
        NO_DAY_ZERO Caution "no-day-zero"
        CALLS_FOR_LESS Caution "calls-for-less"
        LIFT_UNSAID Caution "lift-unsaid"
        PAPER_EXPIRED Caution "paper-expired"
        FITNESS_AHEAD Caution "fitness-ahead"
        FITNESS_ENDED Caution "fitness-ended"
        FITNESS_CONTRADICTED Caution "fitness-contradicted"
        LOAD_TAG Caution "load-tag"
        ALLOW_UNUSED Caution "allow-unused"
        ISSUED_UNREADABLE Caution "issued-unreadable"
        CAPABILITY_WORD Caution "capability-word"
        HOURS_UNUSED Caution "hours-unused"
        TON_ASSUMED Caution "ton-assumed"
        FIT_CLASS Error "fit-class"
        // The shapes of parts
        SHAPE_SIZE Error "shape-size"
        SHAPE_CLASS Error "shape-class"
        SHAPE_THREAD Error "shape-thread"
        SHAPE_LENGTHS Error "shape-lengths"
        SHAPE_BORE Error "shape-bore"
        SHAPE_PLACE Error "shape-place"
        SHAPE_NAME Error "shape-name"
        SHAPE_MASS Caution "shape-mass"
        SHAPE_STOCK Caution "shape-stock"
        SHAPE_CORNER Caution "shape-corner"
        SHAPE_FIT Caution "shape-fit"
    }
    after {
        // The dossier's pages
        TEMPLATE Error "template"
        TYPESET Error "typeset"
    }
}
