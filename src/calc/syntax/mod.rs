//! A line of a calculation as a tree.
//!
//! Takes: the text of one line. Gives: a [`Line`], or the one fault that stops it being read; the next line is read
//! all the same. Never: knows what names mean.
//!
//! ```text
//! line       = name "=" to [comment] | "assume" name "=" to [comment] | name "(" names ")" "=" to
//!            | "check" to (("<" | "<=" | ">" | ">=") to | "within" sum ".." sum) [comment] | to [comment] | "#" text
//! to         = or ["to" (unit | "1/" digits unit | "ft-in")]
//! or         = and {"or" and};  and = not {"and" not};  not = "not" not | comparison
//! comparison = bounded [("<" | "<=" | ">" | ">=" | "==" | "!=") bounded]
//! bounded    = sum [(".." | "±") sum]
//! sum        = product {("+" | "-") product};  product = sign {("*" | "/") sign};  sign = "-" sign | power
//! power      = part ["^" sign];  part = first {"." name}
//! first      = literal | name ["(" arguments ")"] | "@" id "." name ["(" arguments ")"] | "(" to ")"
//!            | "[" arguments "]" | text | "if" to "then" to "else" to | "true" | "false"
//! ```

mod expression;
mod line;
mod part;
mod target;
mod tree;

pub(in crate::calc) use line::head;
pub use line::{LONGEST_LINE, parse};
pub use tree::{
    Argument, Call, Comparison, Line, Name, Node, NodeId, Operator, Span, Statement, Target, Tree,
};
