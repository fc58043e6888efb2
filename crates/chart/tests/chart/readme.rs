//! The example in the README is a sound chart and means what it says there.

use rallytide_chart::{Play, Team, read_chart_file};

use crate::file::{noted, problems};

#[test]
fn the_example_in_the_readme_is_a_chart_of_one_rally() {
    let readme = include_str!("../../README.md");
    let example = readme
        .split("```json\n")
        .nth(1)
        .expect("there is an example");
    let example = example.split("```").next().expect("it ends");
    let file = read_chart_file(example.as_bytes());
    assert_eq!((problems(&file), noted(&file)), (vec![], vec![]));
    let effective = file.chart.unwrap().effective();
    let ids: Vec<&str> = effective.iter().map(|entry| entry.id.as_str()).collect();
    assert_eq!(ids, ["r1s1", "c1", "r1e"]);
    let Play::RallyEnd(end) = effective[2].play.as_ref() else {
        panic!("{:?}", effective[2]);
    };
    assert_eq!(
        (end.winner, end.how.map(rallytide_chart::How::word)),
        (Team::A, Some("out"))
    );
}
