//! Which characters the bytes of a text are. UTF-8 and UTF-16 with a mark are said
//! by their marks; UTF-8 without one is known by its form, which other texts
//! practically never have; what is left is taken as Windows-1252, which spreadsheet
//! programs of western Europe and America write.

use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

use crate::unreadable::Unreadable;

/// A text, and the name of what it was written in.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Decoded {
    pub(super) text: String,
    pub(super) name: &'static str,
}

pub(super) fn decode(bytes: &[u8]) -> Result<Decoded, Unreadable> {
    if bytes.is_empty() {
        return Err(Unreadable::Empty);
    }
    let marked = Encoding::for_bom(bytes);
    if marked.is_none() && bytes.contains(&0) {
        let kind = "a file for programs";
        return Err(Unreadable::NoTable { kind });
    }
    let encoding = match marked {
        Some((encoding, _)) => encoding,
        None if std::str::from_utf8(bytes).is_ok() => UTF_8,
        None => WINDOWS_1252,
    };
    let (text, _) = encoding.decode_with_bom_removal(bytes);
    let name = if encoding == WINDOWS_1252 {
        "Windows-1252 (check the accents)"
    } else {
        encoding.name()
    };
    let text = text.into_owned();
    Ok(Decoded { text, name })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(bytes: &[u8], expected: &str) {
        assert_eq!(decode(bytes).unwrap().text, expected);
    }

    /// The bytes: WHATWG Encoding Standard, section 9 and its index of windows-1252
    /// (0x80 is U+20AC, 0x9A is U+0161, 0xF8 is U+00F8); RFC 3629, section 6, for
    /// the mark of UTF-8.
    #[test]
    fn marks_are_believed_then_the_form_then_the_habit() {
        check("Grün".as_bytes(), "Grün");
        check(b"\xef\xbb\xbfGr\xc3\xbcn", "Grün");
        check(b"\xff\xfeG\x00r\x00\xfc\x00n\x00", "Grün");
        check(b"\xfe\xff\x00G\x00r\x00\xfc\x00n", "Grün");
        check(b"Gr\xfcn \x80 \x9a\xf8", "Grün € šø");
    }

    #[test]
    fn bytes_that_are_no_text_are_refused() {
        assert!(matches!(
            decode(b"\x00\x01\x02"),
            Err(Unreadable::NoTable { .. })
        ));
        assert_eq!(decode(b""), Err(Unreadable::Empty));
    }
}
