//! A match read from its log.

use rallytide_bus::{Opened, Timestamp, TopicName};
use rallytide_chart::{Admission, Chart, Entry, EntryId, Header, Refusal, Seq};
use serde_json::{Map, Value};

use crate::seat::{Recorder, Seat};

/// A match as its log holds it.
pub(crate) struct LoggedMatch {
    pub(crate) chart: Chart,
    /// Who recorded which entry.
    pub(crate) recorders: Vec<(EntryId, Recorder)>,
    /// When the last entry was received.
    pub(crate) received: Option<Timestamp>,
}

/// Reads a match from its log. Records that do not fit are reported and left
/// out; the rest keeps its positions.
pub(crate) fn read_log(topic: &TopicName, opened: &Opened) -> Result<LoggedMatch, Refusal> {
    for damage in &opened.damage {
        tracing::warn!(%topic, "the log is damaged: {damage}");
    }
    let mut chart = Chart::new(Header::from_text(&opened.head)?);
    let mut recorders = Vec::new();
    for stored in &opened.records {
        let taken = read_record(&stored.text, &chart);
        match taken {
            Ok((entry, by)) => {
                if let Some(by) = by {
                    recorders.push((entry.id.clone(), by));
                }
                chart.push_at(Seq(stored.seq), entry);
            }
            Err(flaw) => {
                tracing::warn!(%topic, seq = stored.seq, "a stored entry was left out: {flaw}");
            }
        }
    }
    Ok(LoggedMatch {
        chart,
        recorders,
        received: opened.records.last().map(|stored| stored.received),
    })
}

/// Why a record of a log is left out.
#[derive(Debug, thiserror::Error)]
enum RecordFlaw {
    #[error("not a JSON object: {0}")]
    NotAnObject(#[from] serde_json::Error),
    #[error("{0}")]
    Refused(#[from] Refusal),
    #[error("entry `{id}` stands at {first} already")]
    Repeated { id: EntryId, first: Seq },
}

fn read_record(text: &str, chart: &Chart) -> Result<(Entry, Option<Recorder>), RecordFlaw> {
    let source: Map<String, Value> = serde_json::from_str(text)?;
    let by = recorder(&source);
    let entry = Entry::from_json(source, &chart.header().format)?;
    match chart.admit(&entry)? {
        Admission::New => Ok((entry, by)),
        Admission::Repeat(first) => Err(RecordFlaw::Repeated {
            id: entry.id,
            first,
        }),
    }
}

/// Who recorded a line, as the host wrote it down.
fn recorder(source: &Map<String, Value>) -> Option<Recorder> {
    let word = |name| source.get(name).and_then(Value::as_str);
    Some(Recorder {
        client: word("client")?.into(),
        seat: word("seat").and_then(Seat::from_word),
    })
}
