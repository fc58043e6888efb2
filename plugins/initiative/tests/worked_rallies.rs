//! Whole rallies, worked by hand shot by shot.
//! The rules are common practice of the trade; there is no published standard.

mod charted;

use charted::Charted;

/// Charts entry after entry and compares initiative and depths after each.
#[track_caller]
fn check_each(steps: &[(&str, &str, &str)]) {
    let mut charted = Charted::doubles();
    for (number, (entry, initiative, depths)) in steps.iter().enumerate() {
        charted.chart(entry);
        let at = format!("step {}, `{entry}`", number + 1);
        assert_eq!(charted.initiative(), *initiative, "{at}");
        assert_eq!(charted.depths(), *depths, "{at}");
    }
}

#[test]
fn a_drop_levels_the_rally_and_a_ball_that_sits_up_decides_it() {
    // The example of the README.
    check_each(&[
        ("a serve", "- 0.00", "back? back?"),
        ("b return", "b 1.00 depth:a:r1s2?", "back? line?"),
        ("a drop", "b 1.00 depth:a:r1s3?", "back? line?"),
        ("b dink", "- 0.00", "line? line?"),
        ("a dink", "- 0.00", "line? line?"),
        ("+attackable", "b 1.00 attackable:a:r1e6", "line? line?"),
        (
            "b volley",
            "b 1.00 air:a:r1s6 attackable:a:r1e6",
            "line? line?",
        ),
        ("a block", "b 1.00 air:a:r1s7", "line? line?"),
        (
            "b volley +awkward",
            "- 0.00 air:a:r1s8 body:b:r1s8 contested",
            "line? line?",
        ),
        ("a reset bounce", "- 0.00 carried", "line? line?"),
        ("b speedup bounce", "b 1.00 attack:a:r1s10", "line? line?"),
        (
            "a volley",
            "- 0.00 air:b:r1s11 attack:a:r1s11 contested",
            "line? line?",
        ),
        ("b dink", "- 0.00", "line? line?"),
        ("b wins", "- 0.00", "back? back?"),
    ]);
}

#[test]
fn a_lob_turns_the_rally_around() {
    check_each(&[
        ("b serve", "- 0.00", "back? back?"),
        ("a return", "a 1.00 depth:b:r1s2?", "line? back?"),
        ("b drive", "a 1.00 depth:b:r1s3?", "line? back?"),
        ("a block", "a 1.00 depth:b:r1s4?", "line? back?"),
        ("b lob", "a 1.00 depth:b:r1s5?", "line? back?"),
        // It bounces: b comes in, a is sent back.
        ("a drive bounce", "b 1.00 depth:a:r1s6?", "back? line?"),
        // Seen, so where a is thought to stand is not read.
        ("b overhead", "b 1.00 air:a:r1s7", "back? line?"),
        ("a net", "- 0.00", "back? back?"),
    ]);
}

#[test]
fn a_missed_shot_hides_what_came_before_it() {
    check_each(&[
        ("a serve", "- 0.00", "back? back?"),
        ("b return", "b 1.00 depth:a:r1s2?", "back? line?"),
        (
            "a drop +attackable",
            "b 1.00 attackable:a:r1s3",
            "back? line?",
        ),
        // b's answer was missed: the ball that sat up is shot 3, this is shot 5.
        ("a dink", "- 0.00", "line? line?"),
        ("+attackable @3", "- 0.00", "line? line?"),
        ("b speedup", "b 1.00 attack:a:r1s6", "line? line?"),
        (
            "a volley",
            "- 0.00 air:b:r1s7 attack:a:r1s7 contested",
            "line? line?",
        ),
        ("b out", "- 0.00", "back? back?"),
    ]);
}
