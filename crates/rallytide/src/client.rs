//! A charter's client: brings the entries of a chart to a host, at a tempo,
//! through interruptions. An entry counts as delivered when it was accepted or
//! refused; what was not answered when a connection broke is sent again.

use std::collections::VecDeque;
use std::time::Duration;

use anyhow::{Context, bail};
use futures_util::{SinkExt, StreamExt};
use rallytide_chart::{At, Chart};
use serde::Deserialize;
use serde_json::{Map, Value};
use tokio::net::TcpStream;
use tokio::time::{Instant, sleep, sleep_until, timeout};
use tokio_tungstenite::tungstenite::{self, Message};
use tokio_tungstenite::{MaybeTlsStream, WebSocketStream, connect_async};
use url::{Position, Url};

/// The most entries in one message. Far below the limit of a message's size
/// with entries of ordinary length; long ones are counted by bytes as well.
const BATCH: usize = 64;
/// The most bytes of entries in one message: a quarter below the limit.
const BATCH_BYTES: usize = 48 * 1024;
/// How many entries may wait for an answer before the next are sent.
const UNANSWERED: usize = 512;
/// How long the host may take to answer before the connection counts as broken.
const PATIENCE: Duration = Duration::from_secs(15);
/// How often a broken connection is made anew before the client gives up.
const ATTEMPTS: u32 = 10;

type Socket = WebSocketStream<MaybeTlsStream<TcpStream>>;

/// How a chart is brought to a host.
pub(crate) struct Delivery<'a> {
    /// The chart.
    pub(crate) chart: &'a Chart,
    /// The intake, `ws://…/courts/…/intake`.
    pub(crate) intake: String,
    /// 1: as recorded; 2: twice as fast; 0: as fast as it goes.
    pub(crate) pace: f64,
    /// Take a running match off the court.
    pub(crate) replace: bool,
}

/// What came of it.
#[derive(Debug, Default)]
pub(crate) struct Delivered {
    pub(crate) accepted: usize,
    /// Id, code and sentence of each refused entry.
    pub(crate) refused: Vec<(String, String, String)>,
}

/// An entry that waits to be sent or answered.
struct Waiting {
    id: String,
    text: String,
    due: Duration,
}

#[derive(Debug, Deserialize)]
#[serde(tag = "type", rename_all = "snake_case")]
enum FromHost {
    Welcome {},
    Accepted {
        id: String,
    },
    Refused {
        id: Option<String>,
        code: String,
        message: String,
    },
    #[serde(other)]
    Other,
}

impl Delivery<'_> {
    /// Brings the chart to the host.
    pub(crate) async fn run(&self) -> anyhow::Result<Delivered> {
        let mut unsent = self.entries();
        let mut unanswered = VecDeque::new();
        let mut delivered = Delivered::default();
        let start = Instant::now();
        let mut attempt = 0;
        let mut reached = false;
        loop {
            let known = delivered.accepted + delivered.refused.len();
            let outcome = self
                .session(
                    start,
                    &mut reached,
                    &mut unsent,
                    &mut unanswered,
                    &mut delivered,
                )
                .await;
            match outcome {
                Ok(()) => return Ok(delivered),
                Err(broken) => {
                    let progress = delivered.accepted + delivered.refused.len() > known;
                    attempt = if progress { 1 } else { attempt + 1 };
                    // A host that was never reached is more likely a slip in the
                    // link than a Wi-Fi that comes back.
                    let hopeless = broken.is::<PermanentFailure>() || !reached;
                    if hopeless || attempt > ATTEMPTS {
                        return Err(broken);
                    }
                    tracing::warn!("the connection broke, trying again: {broken:#}");
                    sleep(Duration::from_millis(100 * u64::from(attempt * attempt))).await;
                }
            }
            // The host may have some of these; sending them again is harmless.
            while let Some(waiting) = unanswered.pop_back() {
                unsent.push_front(waiting);
            }
        }
    }

    /// The entries with the time each is due, counted from the first.
    fn entries(&self) -> VecDeque<Waiting> {
        let first = self.chart.entries().first().map(|(_, entry)| entry.at);
        let mut due = Duration::ZERO;
        self.chart
            .entries()
            .iter()
            .map(|(_, entry)| {
                due = due.max(self.due(first.unwrap_or(entry.at), entry.at));
                Waiting {
                    id: entry.id.to_string(),
                    text: Value::Object(entry.to_json().clone()).to_string(),
                    due,
                }
            })
            .collect()
    }

    fn due(&self, first: At, at: At) -> Duration {
        if self.pace == 0.0 {
            return Duration::ZERO;
        }
        let gap = (at.milliseconds() - first.milliseconds()).max(0);
        Duration::from_secs_f64(gap as f64 / 1000.0 / self.pace)
    }

    async fn session(
        &self,
        start: Instant,
        reached: &mut bool,
        unsent: &mut VecDeque<Waiting>,
        unanswered: &mut VecDeque<Waiting>,
        delivered: &mut Delivered,
    ) -> anyhow::Result<()> {
        let mut socket = self.connect().await?;
        *reached = true;
        while !(unsent.is_empty() && unanswered.is_empty()) {
            let next = unsent.front().map(|waiting| start + waiting.due);
            let may_send = unanswered.len() < UNANSWERED;
            tokio::select! {
                biased;
                message = timeout(PATIENCE, socket.next()), if !unanswered.is_empty() => {
                    let message = message.context("the host did not answer in time")?;
                    let message = message.context("the host closed the connection")??;
                    take_answer(&message, unanswered, delivered)?;
                }
                () = sleep_until(next.unwrap_or(start)), if next.is_some() && may_send => {
                    let text = batch(start, unsent, unanswered);
                    socket.send(Message::text(text)).await?;
                }
            }
        }
        socket
            .close(None)
            .await
            .context("could not close the connection")
    }

    async fn connect(&self) -> anyhow::Result<Socket> {
        let (mut socket, _) = timeout(PATIENCE, connect_async(&self.intake))
            .await
            .with_context(|| format!("`{}` did not answer in time", self.intake))?
            .map_err(|error| match error {
                // Its text already stands in what it wraps.
                tungstenite::Error::Io(error) => anyhow::Error::new(error),
                error => anyhow::Error::new(error),
            })
            .with_context(|| format!("could not connect to `{}`", self.intake))?;
        let mut hello = Map::new();
        hello.insert("type".into(), "hello".into());
        hello.insert("client".into(), "feed".into());
        hello.insert(
            "chart".into(),
            Value::Object(self.chart.header().to_json().clone()),
        );
        if self.replace {
            hello.insert("replace".into(), true.into());
        }
        socket
            .send(Message::text(Value::Object(hello).to_string()))
            .await?;
        loop {
            let message = timeout(PATIENCE, socket.next())
                .await
                .context("the host did not answer the greeting in time")?
                .context("the host closed the connection")??;
            match read(&message)? {
                Some(FromHost::Welcome {}) => return Ok(socket),
                Some(FromHost::Refused { code, message, .. }) => {
                    bail!(PermanentFailure(format!(
                        "the host refused the match ({code}): {message}"
                    )))
                }
                _ => {}
            }
        }
    }
}

/// What another attempt would not mend.
#[derive(Debug)]
pub(crate) struct PermanentFailure(String);

impl std::fmt::Display for PermanentFailure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for PermanentFailure {}

/// The next message: all that is due by now, within its limits.
fn batch(
    start: Instant,
    unsent: &mut VecDeque<Waiting>,
    unanswered: &mut VecDeque<Waiting>,
) -> String {
    let now = Instant::now();
    let mut texts = Vec::new();
    let mut bytes = 0;
    while let Some(waiting) = unsent.pop_front() {
        let fits =
            texts.is_empty() || (texts.len() < BATCH && bytes + waiting.text.len() <= BATCH_BYTES);
        if !fits || start + waiting.due > now {
            unsent.push_front(waiting);
            break;
        }
        bytes += waiting.text.len();
        texts.push(waiting.text.clone());
        unanswered.push_back(waiting);
    }
    format!("{{\"type\":\"entries\",\"entries\":[{}]}}", texts.join(","))
}

fn read(message: &Message) -> anyhow::Result<Option<FromHost>> {
    match message {
        Message::Text(text) => serde_json::from_str(text.as_str())
            .map(Some)
            .with_context(|| format!("could not understand this message of the host: {text}")),
        Message::Close(_) => bail!("the host closed the connection"),
        _ => Ok(None),
    }
}

/// Notes what the host answered about an entry.
fn take_answer(
    message: &Message,
    unanswered: &mut VecDeque<Waiting>,
    delivered: &mut Delivered,
) -> anyhow::Result<()> {
    let mut answered = |id: &str| {
        let place = unanswered.iter().position(|waiting| waiting.id == id);
        place.and_then(|place| unanswered.remove(place)).is_some()
    };
    match read(message)? {
        Some(FromHost::Accepted { id }) => delivered.accepted += usize::from(answered(&id)),
        Some(FromHost::Refused {
            id: Some(id), code, ..
        }) if code == "not_stored" => {
            bail!("the host could not store entry `{id}`")
        }
        Some(FromHost::Refused {
            id: Some(id),
            code,
            message,
        }) if answered(&id) => delivered.refused.push((id, code, message)),
        Some(FromHost::Refused {
            id: None,
            code,
            message,
        }) => {
            bail!(PermanentFailure(format!(
                "the host refused a message ({code}): {message}"
            )))
        }
        _ => {}
    }
    Ok(())
}

/// The intake that a link means: a host's address, or a court's intake.
pub(crate) fn intake_url(link: &str, court: &str) -> Result<String, String> {
    let whole = if link.contains("://") {
        link.to_owned()
    } else {
        format!("ws://{link}")
    };
    let mut url = Url::parse(&whole)
        .ok()
        .filter(|url| matches!(url.scheme(), "http" | "ws"))
        .ok_or_else(|| format!("`{link}` is no link to a host: write `http://127.0.0.1:7447`"))?;
    let path: Vec<&str> = url
        .path()
        .split('/')
        .filter(|part| !part.is_empty())
        .collect();
    let path = match path.as_slice() {
        [] => format!("/courts/{court}/intake"),
        ["courts", court, ..] => format!("/courts/{court}/intake"),
        _ => {
            let host = &url[..Position::BeforePath];
            return Err(format!(
                "`{link}` leads to no court: write `{host}` or `{host}/courts/1`"
            ));
        }
    };
    // A link of the desk carries the key that lets another machine in.
    let key = url.query_pairs().find(|(name, _)| name == "key");
    let key = key.map(|(_, key)| key.into_owned());
    url.set_path(&path);
    url.set_query(None);
    if let Some(key) = key {
        url.query_pairs_mut().append_pair("key", &key);
    }
    Ok(format!("ws{}", &url[Position::AfterScheme..]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_to_a_host_or_a_page_of_a_court_leads_to_its_intake() {
        for link in [
            "http://h:1",
            "ws://h:1/",
            "h:1",
            "http://h:1/courts/1",
            "http://h:1/courts/1/graphic",
            "ws://h:1/courts/1/intake",
        ] {
            let url = intake_url(link, "1").unwrap();
            assert_eq!(url, "ws://h:1/courts/1/intake", "{link}");
        }
    }

    #[test]
    fn a_link_with_a_key_keeps_it() {
        for link in [
            "http://h:1/?key=k",
            "http://h:1/courts/1/chart?theme=light&key=k",
        ] {
            let url = intake_url(link, "1").unwrap();
            assert_eq!(url, "ws://h:1/courts/1/intake?key=k", "{link}");
        }
    }

    #[test]
    fn a_link_that_leads_to_no_court_is_refused_with_what_to_write() {
        assert!(
            intake_url("http://h:1/desk", "1")
                .unwrap_err()
                .contains("http://h:1/courts/1")
        );
        assert!(intake_url("ftp://h", "1").unwrap_err().contains("http://"));
    }
}
