//! Turns texts into one short mark that changes when any of them does.

use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// SHA-256 over the texts, each ended by a zero byte, as 64 hex digits.
pub fn fingerprint<'t>(texts: impl IntoIterator<Item = &'t str>) -> String {
    let mut hash = Sha256::new();
    for text in texts {
        hash.update(text.as_bytes());
        hash.update([0]);
    }
    hash.finalize().iter().fold(String::new(), |mut digits, byte| {
        let _ = write!(digits, "{byte:02x}");
        digits
    })
}

#[cfg(test)]
mod tests {
    use super::fingerprint;

    /// `printf 'abc\0' | sha256sum`; nothing at all is the empty hash of FIPS 180-4.
    #[test]
    fn is_what_the_standard_tool_says() {
        assert_eq!(fingerprint(["abc"]), "dc1114cd074914bd872cc1f9a23ec910ea2203bc79779ab2e17da25782a624fc");
        assert_eq!(fingerprint([]), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
        assert_ne!(fingerprint(["a", "b"]), fingerprint(["ab"]));
    }
}
