//! `GET /courts/{court}/intake`: a charter's client brings its entries.
//!
//! Entries are judged in the order they come. `accepted` is sent when the entry
//! is durable, in order; refusals are sent at once. At most
//! [`UNANSWERED_LIMIT`] entries of a connection wait for the disk; then nothing
//! more is read from it until some are answered.

use std::net::IpAddr;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use axum::extract::ws::{Message, WebSocket, close_code};
use futures_util::stream::{FuturesOrdered, StreamExt};
use rallytide_bus::{BusError, Next};
use rallytide_chart::{Entry, Header, Kind, MatchId};
use rallytide_court::{
    Accepted, Arrival, CannotDo, Courts, LiveCourt, Notice, NoticeCode, Receipt, Recorder, Replace,
    Seat,
};
use serde_json::Value;
use tokio::sync::watch;
use tokio::time::{Instant, interval};

use crate::access::{KEY_REPLACED, Session};
use crate::answers::desk::CourtPhase;
use crate::error_status::intake_code;
use crate::intake_refusal::IntakeRefusal;
use crate::protocol::{self, CourtNow, FromClient, Hello, MESSAGE_LIMIT, ToClient};
use crate::refusal_counts::RefusalCounts;
use crate::websocket::{self, Gone, PING_EVERY, SILENCE_LIMIT, TOO_MUCH_CHATTER, UnaskedMessages};

/// How many entries of one connection may wait for the disk.
const UNANSWERED_LIMIT: usize = 1024;

/// Where a connection comes from.
pub(crate) struct Peer {
    /// As the host sees it, which is the router's where there is one between.
    pub(crate) address: IpAddr,
    pub(crate) session: Session,
}

/// One charter's connection.
struct Intake {
    socket: WebSocket,
    courts: Arc<Courts>,
    court: Arc<LiveCourt>,
    /// Tells this connection's own notices from those of others.
    number: u64,
    refusals: RefusalCounts,
    /// Who charts what, once it has said hello.
    charter: Option<IntakeClient>,
}

/// Who is at the other end.
#[derive(Clone)]
struct IntakeClient {
    by: Recorder,
    seat: Seat,
    /// The match it said hello for; `None` if there was none on the court.
    match_id: Option<MatchId>,
}

static CONNECTIONS: AtomicU64 = AtomicU64::new(0);

/// An entry on its way to the disk, with its id for the case that it fails.
type PendingEntry = (String, Result<Accepted, BusError>);

/// How a connection ended in good order: by us with close code and reason, else
/// by the client.
type Closing = Option<(u16, &'static str)>;

/// Serves one connection until it ends or the host stops.
pub(crate) async fn run(
    socket: WebSocket,
    courts: Arc<Courts>,
    court: Arc<LiveCourt>,
    peer: Peer,
    refusals: RefusalCounts,
    stop: watch::Receiver<bool>,
) {
    let mut intake = Intake {
        socket,
        courts,
        court,
        number: CONNECTIONS.fetch_add(1, Ordering::Relaxed),
        refusals,
        charter: None,
    };
    let charters = intake.court.charters();
    charters.came_from(intake.number, &peer.address.to_string());
    let ended = intake.serve(peer.session, stop).await;
    intake.court.charters().leave(intake.number);
    if let Some(IntakeClient { by, seat, .. }) = &intake.charter {
        let (client, seat, court) = (&by.client, seat.word(), intake.court.name());
        tracing::info!(%client, seat, %court, "a charter is gone");
    }
    match ended {
        Ok(Some((code, reason))) => websocket::close(intake.socket, code, reason).await,
        Ok(None) => websocket::answer_close(intake.socket).await,
        Err(Gone) => tracing::debug!(court = %intake.court.name(), "an intake is gone"),
    }
}

impl Intake {
    async fn serve(
        &mut self,
        mut session: Session,
        mut stop: watch::Receiver<bool>,
    ) -> Result<Closing, Gone> {
        let mut answers: FuturesOrdered<_> = FuturesOrdered::new();
        let mut notices = self.court.notices();
        let mut pings = interval(PING_EVERY);
        let mut heard = Instant::now();
        let mut chatter = UnaskedMessages::default();
        loop {
            tokio::select! {
                biased;
                // First, so that whoever sends without a break is cut off, too.
                () = session.ended() => return Ok(Some(KEY_REPLACED)),
                Some(answer) = answers.next(), if !answers.is_empty() => {
                    self.answer(answer).await?;
                }
                message = self.socket.recv(), if answers.len() < UNANSWERED_LIMIT => {
                    heard = Instant::now();
                    match message {
                        None => return Err(Gone),
                        Some(Ok(Message::Close(_))) => return Ok(None),
                        Some(Err(error)) => return Ok(Some(websocket::code_of(error))),
                        Some(Ok(Message::Text(text))) => {
                            for receipt in self.message(text.as_str()).await? {
                                answers.push_back(when_durable(receipt));
                            }
                        }
                        Some(Ok(Message::Binary(_))) => {
                            return Ok(Some((close_code::UNSUPPORTED, "messages are JSON text")));
                        }
                        Some(Ok(Message::Ping(_) | Message::Pong(_))) => {
                            if chatter.is_too_much() {
                                return Ok(Some(TOO_MUCH_CHATTER));
                            }
                        }
                    }
                }
                next = notices.next() => {
                    if let Next::Message(notice) = next && self.is_told(&notice) {
                        self.notice(&notice).await?;
                    }
                }
                _ = pings.tick() => {
                    chatter.forget();
                    if heard.elapsed() > SILENCE_LIMIT {
                        return Ok(Some((close_code::AWAY, "nothing was heard for too long")));
                    }
                    websocket::ping(&mut self.socket).await?;
                }
                () = websocket::stopped(&mut stop) => {
                    return Ok(Some((close_code::AWAY, "the host is stopping; come back")));
                }
            }
        }
    }

    /// Takes one message; what is accepted comes back to wait for the disk.
    async fn message(&mut self, text: &str) -> Result<Vec<Receipt>, Gone> {
        if text.len() > MESSAGE_LIMIT {
            let refusal = IntakeRefusal::TooLarge {
                length: text.len(),
                limit: MESSAGE_LIMIT,
            };
            self.refuse(None, &refusal).await?;
            return Ok(Vec::new());
        }
        match protocol::read(text) {
            Ok(FromClient::Beat(at)) => {
                if let Some(at) = at {
                    let now = rallytide_bus::now().as_millisecond();
                    let charters = self.court.charters();
                    charters.beat(self.number, at.milliseconds(), now);
                }
                websocket::send_text(&mut self.socket, ToClient::Beat.encode()).await?;
            }
            Ok(FromClient::Hello(hello)) => self.hello(hello).await?,
            Ok(FromClient::Entries(entries)) => return self.entries(entries).await,
            Err(refusal) => self.refuse(None, &refusal).await?,
        }
        Ok(Vec::new())
    }

    async fn hello(&mut self, hello: Hello) -> Result<(), Gone> {
        let before = self.court.match_id();
        if let Some(chart) = hello.chart {
            let replace = if hello.replace {
                Replace::Any
            } else {
                Replace::OnlyFinished
            };
            let brought = Header::from_json(chart).map_err(CannotDo::from);
            let brought = brought.and_then(|header| {
                // Makes a file durable: other tasks must not wait for that.
                tokio::task::block_in_place(|| {
                    self.courts.start_by_charter(&self.court, header, replace)
                })
            });
            if let Err(error) = brought {
                return self.refuse(None, &error.into()).await;
            }
        }
        if hello.seat == Seat::Cues && before.is_none() {
            let court = self.court.name().to_string();
            let refusal = IntakeRefusal::NoMatchYet { court };
            return self.refuse(None, &refusal).await;
        }
        let welcome = self.court.welcome(&hello.client, hello.after);
        let charters = self.court.charters();
        let now = rallytide_bus::now().as_millisecond();
        let (seat, client) = (hello.seat, &hello.client);
        let others = charters.arrive(self.number, seat, client, hello.arrival, now);
        let (code, does) = match hello.arrival {
            Arrival::Beside => (NoticeCode::CharterArrived, "is connected to"),
            Arrival::TakesOver => (NoticeCode::TakenOver, "has taken over"),
        };
        let what = match seat {
            Seat::Chart => "court",
            Seat::Cues => "the cues of court",
        };
        let court = self.court.name();
        let message = format!("`{client}` {does} {what} `{court}`");
        tracing::info!(%client, seat = seat.word(), %court, "a charter {does} the court");
        self.court.notify(Notice {
            from: Some(self.number),
            seat: Some(seat),
            code,
            message: message.into(),
        });
        let match_id = self.court.match_id();
        charters.charts(self.number, match_id.as_ref().map(MatchId::as_str));
        if match_id != before {
            self.court.notify(Notice::court_changed(Some(self.number)));
        }
        let holder = charters.holder(seat);
        let text = protocol::welcome(&welcome, &others, holder.as_deref());
        self.charter = Some(IntakeClient {
            by: Recorder::on(seat, client),
            seat,
            match_id,
        });
        websocket::send_text(&mut self.socket, text).await
    }

    async fn entries(&mut self, entries: Vec<Value>) -> Result<Vec<Receipt>, Gone> {
        let Some(charter) = self.charter.clone() else {
            self.refuse(None, &IntakeRefusal::HelloFirst).await?;
            return Ok(Vec::new());
        };
        let ids: Vec<Option<String>> = entries.iter().map(id_of).collect();
        let outcomes = submit(&self.court, &charter, entries);
        let mut receipts = Vec::with_capacity(outcomes.len());
        for (id, outcome) in ids.into_iter().zip(outcomes) {
            match outcome {
                Ok(receipt) => receipts.push(receipt),
                Err(refusal) => self.refuse(id.as_deref(), &refusal).await?,
            }
        }
        Ok(receipts)
    }

    /// Whether a notice is for whoever is at the other end: not their own, and
    /// not about a seat they do not sit on.
    fn is_told(&self, notice: &Notice) -> bool {
        let own_seat = self.charter.as_ref().map(|charter| charter.seat);
        let concerns = match (notice.seat, own_seat) {
            (Some(about), Some(own)) => about == own,
            _ => true,
        };
        concerns && notice.from != Some(self.number)
    }

    async fn notice(&mut self, notice: &Notice) -> Result<(), Gone> {
        let code = notice.code.word();
        let text = if notice.code == NoticeCode::CourtChanged {
            self.court_now(code, &notice.message)
        } else {
            let message = &notice.message;
            let court = None;
            (ToClient::Notice {
                code,
                message,
                court,
            })
            .encode()
        };
        websocket::send_text(&mut self.socket, text).await
    }

    /// How the court is now, and where the charter's own match is.
    fn court_now(&self, code: &str, message: &str) -> String {
        let on = self.court.on_court();
        let own = self.charter.as_ref().and_then(|one| one.match_id.as_ref());
        let moved = own
            .filter(|own| on.as_ref().is_none_or(|on| on.header.id != **own))
            .and_then(|own| {
                let mut courts = self.courts.all().into_iter();
                courts.find(|court| court.match_id().as_ref() == Some(own))
            });
        let court = CourtNow {
            header: on.as_ref().map(|on| on.header.to_json()),
            last_seq: (self.court)
                .with_match(|charted| charted.chart().last_seq().0)
                .unwrap_or(0),
            state: CourtPhase::of(&self.courts, on.as_ref()),
            moved_to: moved.as_ref().map(|court| court.name().as_str()),
        };
        (ToClient::Notice {
            code,
            message,
            court: Some(court),
        })
        .encode()
    }

    async fn answer(&mut self, (id, answer): PendingEntry) -> Result<(), Gone> {
        match answer {
            Ok(accepted) => {
                websocket::send_text(&mut self.socket, protocol::accepted(&accepted)).await
            }
            Err(error) => {
                tracing::error!(%error, id, "an entry is not durable");
                let refusal = IntakeRefusal::NotDurable {
                    id: id.clone(),
                    problem: error,
                };
                self.refuse(Some(&id), &refusal).await
            }
        }
    }

    async fn refuse(&mut self, id: Option<&str>, refusal: &IntakeRefusal) -> Result<(), Gone> {
        self.refusals.count(intake_code(refusal));
        websocket::send_text(&mut self.socket, protocol::refused(id, refusal)).await
    }
}

/// An outcome for each of the entries of a message, in their order.
fn submit(
    court: &LiveCourt,
    charter: &IntakeClient,
    entries: Vec<Value>,
) -> Vec<Result<Receipt, IntakeRefusal>> {
    // A charter that came before the match takes what has been brought on since.
    let match_id = charter.match_id.clone().or_else(|| court.match_id());
    let Some(match_id) = match_id else {
        let court = court.name();
        let no_match = |_| {
            let court = court.clone();
            Err(CannotDo::NoMatch { court }.into())
        };
        return entries.iter().map(no_match).collect();
    };
    let objects: Vec<_> = entries.into_iter().map(Entry::fields_of).collect();
    let sources: Vec<_> = objects.iter().flatten().cloned().collect();
    let corrects = |source| Entry::kind_said(source).is_some_and(Kind::is_correction);
    let taken = if sources.iter().any(corrects) {
        // The chart is run again from its start: some milliseconds in which
        // other tasks should not have to wait.
        tokio::task::block_in_place(|| court.submit_all(&charter.by, &match_id, sources))
    } else {
        court.submit_all(&charter.by, &match_id, sources)
    };
    let mut taken = taken.into_iter();
    let of_each = objects.into_iter().filter_map(|object| match object {
        Ok(_) => Some(taken.next()?.map_err(Into::into)),
        Err(refusal) => Some(Err(refusal.into())),
    });
    of_each.collect()
}

fn id_of(entry: &Value) -> Option<String> {
    entry.get("id").and_then(Value::as_str).map(str::to_owned)
}

async fn when_durable(receipt: Receipt) -> PendingEntry {
    let id = receipt.accepted.id.to_string();
    (id, receipt.durable().await)
}
