//! Whether a piece of made text does no more than it should.

use typst::syntax::{SyntaxKind, SyntaxNode, parse, parse_code};

/// How a piece of text stands in the file that it goes into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fragment {
    /// Between square brackets.
    Markup,
    /// An expression of code.
    Code,
}

/// Whether a text is whole in itself, calls nothing but functions of these names, and does nothing else than call.
pub fn calls_only(text: &str, how: Fragment, functions: &[&str]) -> bool {
    let root = match how {
        Fragment::Markup => parse(text),
        Fragment::Code => parse_code(text),
    };
    root.errors_and_warnings().0.is_empty() && is_fit(&root, functions)
}

fn is_fit(node: &SyntaxNode, functions: &[&str]) -> bool {
    let own = match node.kind() {
        SyntaxKind::FuncCall | SyntaxKind::MathCall => {
            callee(node).is_some_and(|name| functions.contains(&name.as_str()))
        }
        kind => !acts(kind),
    };
    own && node.children().all(|child| is_fit(child, functions))
}

/// The name of the function that a call is of; none where it is worked out.
fn callee(call: &SyntaxNode) -> Option<String> {
    let first = call.children().next()?;
    matches!(first.kind(), SyntaxKind::Ident | SyntaxKind::MathIdent).then(|| first.leaf_text().to_string())
}

/// What can do more than say what stands there.
fn acts(kind: SyntaxKind) -> bool {
    matches!(
        kind,
        SyntaxKind::CodeBlock
            | SyntaxKind::LetBinding
            | SyntaxKind::SetRule
            | SyntaxKind::ShowRule
            | SyntaxKind::Contextual
            | SyntaxKind::Conditional
            | SyntaxKind::WhileLoop
            | SyntaxKind::ForLoop
            | SyntaxKind::ModuleImport
            | SyntaxKind::ModuleInclude
            | SyntaxKind::Closure
            | SyntaxKind::DestructAssignment
            | SyntaxKind::FuncReturn
    )
}

#[cfg(test)]
mod tests {
    use super::{Fragment, calls_only};

    #[test]
    fn a_fragment_calls_what_it_may_and_does_nothing_else() {
        let fits = |text| calls_only(text, Fragment::Markup, &["emph", "eq", "frac"]);
        assert!(fits("A #emph[b], #eq(\"x\", $frac(a, b) plus.minus \"c\"$) \\u{23}evil()"));
        for text in [
            "#evil()",
            "// note\n#evil()",
            "#emph[#evil()]",
            "]#emph[a",
            "#emph[a",
            "$evil(a)$",
            "#let a = 1",
            "#import \"a.typ\": *",
            "#{ 1 }",
            "#emph.with()",
            "#show: emph",
            "#context 1",
        ] {
            assert!(!fits(text), "{text}");
        }
        assert!(calls_only("(eq(\"a\", $a$), )", Fragment::Code, &["eq"]));
    }
}
