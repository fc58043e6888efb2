//! The subtitles: what the standard asks of a file (W3C WebVTT, Candidate
//! Recommendation of April 2019, file structure; memory), and one lane of captions.

use std::collections::BTreeSet;

use proptest::prelude::*;
use rallytide_chart::At;
use rallytide_export::webvtt::{Subtitles, Track, VideoStart, webvtt};
use rallytide_simulate::{Detail, Plan};

use crate::support::{chart, details, read, texts, told, with_texts};

struct Read {
    id: String,
    start: i64,
    end: i64,
    lines: Vec<String>,
}

/// Reads the file by blocks; panics where the standard's syntax is not kept.
fn parse(text: &str) -> Vec<Read> {
    let body = text.strip_prefix("WEBVTT\n").expect("the signature");
    let blocks = body.split("\n\n").map(|block| block.trim_matches('\n'));
    blocks
        .filter(|block| !block.is_empty())
        .map(|block| {
            let mut lines = block.split('\n');
            let id = lines.next().unwrap();
            let timing = lines.next().expect("a timing line");
            let (start, end) = timing.split_once(" --> ").expect("an arrow");
            assert!(!id.contains("-->"));
            let lines: Vec<String> = lines.map(str::to_owned).collect();
            assert!(!lines.is_empty() && lines.iter().all(|line| !line.contains("-->")));
            Read {
                id: id.into(),
                start: milliseconds(start),
                end: milliseconds(end),
                lines,
            }
        })
        .collect()
}

fn milliseconds(time: &str) -> i64 {
    let (clock, fraction) = time.split_once('.').unwrap();
    let items: Vec<&str> = clock.split(':').collect();
    assert!(items.len() == 3 && items.iter().all(|part| part.len() >= 2) && fraction.len() == 3);
    let number = |text: &str| text.parse::<i64>().unwrap();
    ((number(items[0]) * 60 + number(items[1])) * 60 + number(items[2])) * 1000 + number(fraction)
}

#[track_caller]
fn check_one_lane(subtitles: &Subtitles) {
    let cues = parse(&subtitles.text);
    assert_eq!(cues.len(), subtitles.cues);
    let ids: BTreeSet<&str> = cues.iter().map(|cue| cue.id.as_str()).collect();
    assert_eq!(ids.len(), cues.len(), "ids differ");
    for cue in &cues {
        assert!(cue.end > cue.start, "{}", cue.id);
    }
    for pair in cues.windows(2) {
        assert!(
            pair[1].start >= pair[0].end,
            "{} and {}",
            pair[0].id,
            pair[1].id
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn whatever_the_names_are_cues_are_sound_in_order_and_never_overlap(
        seed in 0u64..1000, detail in details(), texts in texts(), offset in -600_000i64..600_000,
    ) {
        let record = with_texts(seed, detail, &texts);
        for track in [Track::Captions, Track::Chapters] {
            check_one_lane(&webvtt(&record, track, VideoStart::FirstEntryAt(offset)));
        }
    }
}

#[test]
fn every_rally_has_its_captions_and_its_chapter() {
    for detail in Detail::ALL {
        let record = told(&chart(&Plan {
            detail: *detail,
            ..Plan::new(4)
        }));
        let start = VideoStart::FirstEntryAt(60_000);
        let captions = parse(&webvtt(&record, Track::Captions, start).text);
        let chapters = parse(&webvtt(&record, Track::Chapters, start).text);
        for rally in record.rallies() {
            let end = format!("rally-{}-end", rally.number);
            assert!(captions.iter().any(|cue| cue.id == end), "{end}");
        }
        assert_eq!(chapters.len(), record.rallies().count());
    }
}

const RALLY: &str = concat!(
    r#"{"kind":"match","chart":1,"id":"h","teams":{"a":{"name":"Reed & Lund"},"b":{"name":"Marsh / Ford"}},"format":{"discipline":"doubles","scoring":"side_out","points":11,"win_by":2,"games":1},"first_serve":"a"}"#,
    "\n",
    r#"{"id":"s1","at":"2026-05-02T10:00:00.000Z","kind":"shot","team":"a","stroke":"serve"}"#,
    "\n",
    r#"{"id":"s2","at":"2026-05-02T10:00:01.250Z","kind":"shot","team":"b","stroke":"return"}"#,
    "\n",
    r#"{"id":"e1","at":"2026-05-02T10:00:04.000Z","kind":"rally_end","how":"out","by":"a"}"#,
    "\n",
    r#"{"id":"n1","at":"2026-05-02T10:00:05.000Z","kind":"note","text":"a private word"}"#,
    "\n",
    r#"{"id":"t1","at":"2026-05-02T10:00:06.000Z","kind":"time_out","team":"a"}"#,
    "\n",
);

#[test]
fn a_rally_by_hand_is_captioned_from_its_serve_to_its_result() {
    let record = told(&read(RALLY));
    let subtitles = webvtt(&record, Track::Captions, VideoStart::FirstEntryAt(0));
    let expected = "WEBVTT

rally-1
00:00:00.000 --> 00:00:01.250
0–0–2, Reed &amp; Lund serves

rally-1-1
00:00:00.000 --> 00:00:01.250
0–0–2
Reed &amp; Lund on offense: high ball
";
    // The first state begins with the serve itself, so the bare call gives way.
    let expected = expected.replace(
        "rally-1\n00:00:00.000 --> 00:00:01.250\n0–0–2, Reed &amp; Lund serves\n\n",
        "",
    ) + "
rally-1-2
00:00:01.250 --> 00:00:04.000
0–0–2
Marsh / Ford on offense: high ball

rally-1-end
00:00:04.000 --> 00:00:06.000
Won by Marsh / Ford, ball out by Reed &amp; Lund
Side out: 0–0–1

event-3
00:00:06.000 --> 00:00:10.000
Time-out for Reed &amp; Lund, 1 left
0–0–1
";
    assert_eq!(subtitles.text, expected);
    let chapters = webvtt(&record, Track::Chapters, VideoStart::FirstEntryAt(0));
    assert!(chapters.text.ends_with(
        "rally-1\n00:00:00.000 --> 00:00:09.000\nGame 1, 0–0–2, to Marsh / Ford (rally 1, 2 shots, 0:04)\n"
    ));
}

#[test]
fn the_charters_notes_are_never_shown() {
    let record = told(&read(RALLY));
    for track in [Track::Captions, Track::Chapters] {
        let subtitles = webvtt(&record, track, VideoStart::FirstEntryAt(0));
        assert!(!subtitles.text.contains("private"));
    }
}

#[test]
fn the_video_may_begin_before_or_after_the_first_entry() {
    let record = told(&read(RALLY));
    let at = |text: &str| VideoStart::At(At::parse(text).unwrap());
    let earlier = webvtt(&record, Track::Captions, at("2026-05-02T09:59:50Z"));
    assert_eq!(parse(&earlier.text)[0].start, 10_000);
    assert_eq!(
        earlier,
        webvtt(&record, Track::Captions, VideoStart::FirstEntryAt(10_000))
    );
    let later = webvtt(&record, Track::Captions, at("2026-05-02T10:00:02Z"));
    assert_eq!(
        later.before_video, 1,
        "the serve is over when the video begins"
    );
    let first = &parse(&later.text)[0];
    assert_eq!((first.start, first.end), (0, 2_000));
    assert_eq!(first.lines[0], "0–0–2");
}

#[test]
fn a_chart_without_entries_is_a_file_without_cues() {
    let header = RALLY.lines().next().unwrap();
    let subtitles = webvtt(
        &told(&read(header)),
        Track::Captions,
        VideoStart::FirstEntryAt(0),
    );
    assert_eq!(subtitles.text, "WEBVTT\n");
}
