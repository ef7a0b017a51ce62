//! Repeatable chance: the same seed draws the same numbers on every machine.

/// The `SplitMix64` generator. Source: Steele, Lea and Flood, "Fast splittable pseudorandom number generators",
/// OOPSLA 2014 (constants from memory, checked in the tests against three published outputs).
#[derive(Clone, Debug)]
pub struct Random {
    state: u64,
}

impl Random {
    /// A generator that starts at `seed`.
    pub const fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 inclusive to 1 exclusive.
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit a float exactly")]
    pub fn fraction(&mut self) -> f64 {
        const STEPS: f64 = (1_u64 << 53) as f64;
        (self.bits() >> 11) as f64 / STEPS
    }

    /// A whole number from `-reach` to `reach`.
    pub fn within(&mut self, reach: i64) -> i64 {
        let choices = reach.unsigned_abs().saturating_mul(2).saturating_add(1);
        (self.bits() % choices).cast_signed() - reach.abs()
    }
}
