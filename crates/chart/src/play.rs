//! What happened on the court: the kinds of entries that are no corrections.

use serde_json::{Map, Value};

use crate::fields::{Fields, TEXT_LIMIT};
use crate::header::Format;
use crate::identity::{EntryId, ID_RULE};
use crate::refusal::{Refusal, RefusalReason};
use crate::words::{Contact, Cue, Depth, FaultKind, How, Kind, PairOf, Stroke, Team};

/// Points that a `score_fix` may set: games have no cap, so the bound only
/// keeps slips of the keyboard out.
const POINTS_LIMIT: u32 = 999;

/// One thing that happened, as a charter recorded it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Play {
    /// A contact with the ball.
    Shot(Shot),
    /// Something seen about a shot.
    Cue(CueMark),
    /// Where a team stands.
    Depth(DepthMark),
    /// The rally is over.
    RallyEnd(RallyEnd),
    /// The rally does not count.
    Replay,
    /// A team takes a time-out.
    TimeOut(TimeOut),
    /// A technical foul of `team`.
    Penalty {
        /// The offender.
        team: Team,
    },
    /// The referee's word on the score.
    ScoreFix(ScoreFix),
    /// A new starting server from the next game on.
    Lineup(Lineup),
    /// `team` stops; the other wins the match.
    Retire {
        /// The team that stops.
        team: Team,
    },
    /// Free text.
    Note {
        /// At most 500 characters.
        text: String,
    },
}

/// A contact with the ball.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shot {
    /// Who struck it.
    pub team: Team,
    /// How it was struck.
    pub stroke: Stroke,
    /// The contact as recorded; what follows where it is left out is
    /// [`RallyReader`](crate::RallyReader)'s to say.
    pub contact: Option<Contact>,
    /// Which player of the team, 0 or 1.
    pub player: Option<u32>,
    /// The cues recorded together with the shot.
    pub cues: CueSet,
}

/// A set of cues.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct CueSet(u8);

impl CueSet {
    /// Whether `cue` is in the set.
    #[must_use]
    pub fn contains(self, cue: Cue) -> bool {
        self.0 & (1 << cue as u8) != 0
    }

    /// The set with `cue` in it.
    #[must_use]
    pub fn with(self, cue: Cue) -> Self {
        Self(self.0 | 1 << cue as u8)
    }

    /// The cues of the set, in the order of [`Cue::ALL`].
    pub fn iter(self) -> impl Iterator<Item = Cue> {
        Cue::ALL
            .iter()
            .copied()
            .filter(move |cue| self.contains(*cue))
    }
}

impl FromIterator<Cue> for CueSet {
    fn from_iter<I: IntoIterator<Item = Cue>>(cues: I) -> Self {
        cues.into_iter().fold(Self::default(), Self::with)
    }
}

/// Something seen about a shot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CueMark {
    /// What was seen.
    pub cue: Cue,
    /// The shot it is about; `None`: the latest one of the rally.
    pub shot: Option<EntryId>,
}

/// Where a team stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DepthMark {
    /// Which team.
    pub team: Team,
    /// How deep.
    pub depth: Depth,
    /// Which player; `None`: both.
    pub player: Option<u32>,
}

/// The end of a rally.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RallyEnd {
    /// Who won it: as recorded, or as it follows from `how` and `by`.
    pub winner: Team,
    /// How it ended, if recorded.
    pub how: Option<How>,
    /// Whose shot or fault ended it, if recorded.
    pub by: Option<Team>,
    /// Which player of `by`, if recorded.
    pub player: Option<u32>,
    /// Which fault, if recorded.
    pub fault: Option<FaultKind>,
}

/// A time-out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TimeOut {
    /// Who takes it.
    pub team: Team,
    /// A medical one is not counted.
    pub medical: bool,
}

/// The referee's word on the score.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ScoreFix {
    /// Points of the current game.
    pub points: PairOf<u32>,
    /// Who serves next.
    pub serving: Team,
    /// 1 or 2 where a service turn has two servers; `None`: left out.
    pub server: Option<u32>,
    /// Games won, if the referee corrects them too.
    pub games: Option<PairOf<u32>>,
}

/// A new starting server.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lineup {
    /// Which team.
    pub team: Team,
    /// Which player, 0 or 1.
    pub starting_server: u32,
}

impl Play {
    /// Reads the fields of an entry that is no correction. `None` where `kind`
    /// is one of the corrections.
    pub(crate) fn read(
        kind: Kind,
        fields: &Fields<'_>,
        format: &Format,
    ) -> Result<Option<Self>, Refusal> {
        let reader = PlayFields { fields, format };
        Ok(Some(match kind {
            Kind::Shot => Self::Shot(reader.shot()?),
            Kind::Cue => Self::Cue(reader.cue()?),
            Kind::Depth => Self::Depth(reader.depth()?),
            Kind::RallyEnd => Self::RallyEnd(reader.rally_end()?),
            Kind::Replay => {
                fields.text_within("reason", TEXT_LIMIT)?;
                Self::Replay
            }
            Kind::TimeOut => Self::TimeOut(TimeOut {
                team: fields.required_word("team")?,
                medical: fields.truth("medical")?.unwrap_or(false),
            }),
            Kind::Penalty => Self::Penalty {
                team: fields.required_word("team")?,
            },
            Kind::ScoreFix => Self::ScoreFix(reader.score_fix()?),
            Kind::Lineup => Self::Lineup(Lineup {
                team: fields.required_word("team")?,
                starting_server: reader
                    .player("starting_server")?
                    .ok_or_else(|| fields.missing("starting_server", reader.player_rule()))?,
            }),
            Kind::Retire => Self::Retire {
                team: fields.required_word("team")?,
            },
            Kind::Note => Self::Note {
                text: fields
                    .text_within("text", TEXT_LIMIT)?
                    .ok_or_else(|| fields.missing("text", "a text of at most 500 characters"))?
                    .into(),
            },
            Kind::Retract | Kind::Amend | Kind::Insert => return Ok(None),
        }))
    }

    /// What kind of entry this is.
    #[must_use]
    pub fn kind(&self) -> Kind {
        match self {
            Self::Shot(_) => Kind::Shot,
            Self::Cue(_) => Kind::Cue,
            Self::Depth(_) => Kind::Depth,
            Self::RallyEnd(_) => Kind::RallyEnd,
            Self::Replay => Kind::Replay,
            Self::TimeOut(_) => Kind::TimeOut,
            Self::Penalty { .. } => Kind::Penalty,
            Self::ScoreFix(_) => Kind::ScoreFix,
            Self::Lineup(_) => Kind::Lineup,
            Self::Retire { .. } => Kind::Retire,
            Self::Note { .. } => Kind::Note,
        }
    }
}

struct PlayFields<'a> {
    fields: &'a Fields<'a>,
    format: &'a Format,
}

impl PlayFields<'_> {
    fn player_rule(&self) -> &'static str {
        match self.format.team_size() {
            1 => "`0`: in singles a team has one player",
            _ => "`0` or `1`",
        }
    }

    fn player(&self, name: &str) -> Result<Option<u32>, Refusal> {
        self.fields
            .number(name, 0..=self.format.team_size() - 1, self.player_rule())
    }

    fn shot(&self) -> Result<Shot, Refusal> {
        Ok(Shot {
            team: self.fields.required_word("team")?,
            stroke: self.fields.required_word("stroke")?,
            contact: self.fields.word("contact")?,
            player: self.player("player")?,
            cues: self.fields.word_list("cues")?.into_iter().collect(),
        })
    }

    fn cue(&self) -> Result<CueMark, Refusal> {
        Ok(CueMark {
            cue: self.fields.required_word("cue")?,
            shot: read_id(self.fields, "shot")?,
        })
    }

    fn depth(&self) -> Result<DepthMark, Refusal> {
        Ok(DepthMark {
            team: self.fields.required_word("team")?,
            depth: self.fields.required_word("depth")?,
            player: self.player("player")?,
        })
    }

    fn rally_end(&self) -> Result<RallyEnd, Refusal> {
        let fields = self.fields;
        let won_by: Option<Team> = fields.word("won_by")?;
        let how: Option<How> = fields.word("how")?;
        let by: Option<Team> = fields.word("by")?;
        let derived = match (how, by) {
            (Some(How::Winner | How::Ace), Some(by)) => Some(by),
            (Some(How::Net | How::Out | How::Fault), Some(by)) => Some(by.other()),
            _ => None,
        };
        let winner = match (won_by, derived) {
            (Some(recorded), Some(derived)) if recorded != derived => {
                return Err(fields.refused(RefusalReason::Contradiction {
                    field: fields.path("won_by"),
                    recorded,
                    derived,
                }));
            }
            (Some(winner), _) | (None, Some(winner)) => winner,
            (None, None) => {
                return Err(fields.missing(
                    "won_by",
                    match (how, by) {
                        (None, _) => "`a` or `b`, unless `how` and `by` stand there instead",
                        (Some(How::Unknown), _) => {
                            "`a` or `b`: with `how` `unknown` nothing else says who won"
                        }
                        (Some(_), _) => "`a` or `b`, unless `by` stands beside `how`",
                    },
                ));
            }
        };
        Ok(RallyEnd {
            winner,
            how,
            by,
            player: self.player("player")?,
            fault: fields.word("fault")?,
        })
    }

    fn score_fix(&self) -> Result<ScoreFix, Refusal> {
        let fields = self.fields;
        let points = read_pair(&fields.required_object("points")?, POINTS_LIMIT, "points")?;
        let serving = fields.required_word("serving")?;
        let servers = if self.format.has_two_servers() { 2 } else { 1 };
        let server = fields.number(
            "server",
            1..=servers,
            match servers {
                2 => "`1` or `2`",
                _ => "`1` or nothing: this format has one server a turn",
            },
        )?;
        let games = match fields.object("games")? {
            None => None,
            Some(games) => Some(read_pair(
                &games,
                self.format.games_to_win() - 1,
                "games won so far, fewer than win the match",
            )?),
        };
        Ok(ScoreFix {
            points,
            serving,
            server,
            games,
        })
    }
}

fn read_pair(fields: &Fields<'_>, limit: u32, what: &str) -> Result<PairOf<u32>, Refusal> {
    let allowed = format!("a whole number from 0 to {limit} ({what})");
    Ok(PairOf {
        a: fields.required_number("a", 0..=limit, &allowed)?,
        b: fields.required_number("b", 0..=limit, &allowed)?,
    })
}

/// Reads an id from `name`, if it is there.
pub(crate) fn read_id(fields: &Fields<'_>, name: &str) -> Result<Option<EntryId>, Refusal> {
    let allowed = format!("an entry's id: {ID_RULE}");
    match fields.get(name) {
        None => Ok(None),
        Some(value) => value
            .as_str()
            .and_then(EntryId::new)
            .map(Some)
            .ok_or_else(|| fields.bad(name, allowed)),
    }
}

/// The own fields of an effective entry as JSON: `id` and `at` first.
pub(crate) fn with_identity(id: &str, at: &str, fields: &Map<String, Value>) -> Map<String, Value> {
    let mut object = Map::new();
    object.insert("id".into(), id.into());
    object.insert("at".into(), at.into());
    for (name, value) in fields {
        if name != "id" && name != "at" {
            object.insert(name.clone(), value.clone());
        }
    }
    object
}
