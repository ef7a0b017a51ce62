//! Numbers with their noun.

use std::fmt::Display;

/// `1 step`, `3 steps`, `0.5 miles`: a noun that takes an s wherever there is not just one.
pub fn counted(number: impl Display, noun: &str) -> String {
    let number = number.to_string();
    let ending = if number == "1" { "" } else { "s" };
    format!("{number} {noun}{ending}")
}

#[cfg(test)]
mod tests {
    use super::counted;

    #[test]
    fn one_alone_is_singular() {
        let told =
            [counted(0, "finding"), counted(1, "finding"), counted(2, "finding"), counted(1.0, "hour")];
        assert_eq!(told, ["0 findings", "1 finding", "2 findings", "1 hour"]);
        assert_eq!(counted(0.5, "mile"), "0.5 miles");
    }
}
