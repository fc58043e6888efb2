//! How much of a text that a plugin brought stands in a message about it.

/// What a message shows of a name that a plugin brought.
pub(crate) fn shortened(text: &str) -> String {
    shortened_to(text, 40)
}

/// What a message shows of a text that a plugin brought: one line, `longest`
/// characters at most.
pub(crate) fn shortened_to(text: &str, longest: usize) -> String {
    let mut shown: String = text
        .chars()
        .take(longest)
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    if text.chars().nth(longest).is_some() {
        shown.push('…');
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_message_shows_of_a_foreign_text_is_short_and_plain() {
        assert_eq!(shortened("a\nb"), "a\u{fffd}b");
        assert_eq!(shortened(&"x".repeat(99)), format!("{}…", "x".repeat(40)));
    }
}
