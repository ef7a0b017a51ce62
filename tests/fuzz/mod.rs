//! Mutated texts against the laws of each stage: a few here, as many as one has time for with `cargo run --example fuzz`.

pub(crate) mod mutate;
pub(crate) mod targets;

use mutate::{Random, mutated};
use targets::TARGETS;

#[test]
fn the_corpus_and_a_few_mutations_keep_every_law() {
    for target in &TARGETS {
        let corpus = (target.corpus)();
        assert!(!corpus.is_empty(), "{}", target.name);
        let mut random = Random::new(1);
        let some = corpus.iter().take(target.few).cloned();
        let mutations = (0..target.few).map(|_| mutated(&mut random, &corpus, target.words));
        for text in some.chain(mutations) {
            assert_eq!((target.law)(&text), Ok(()), "{}: {text}", target.name);
        }
    }
}
