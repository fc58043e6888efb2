//! The document for HTTP (OpenAPI 3.1): a line an operation.

use rallytide_court::{Review, Snapshot};
use rallytide_plugin_host::PluginSettings;
use schemars::generate::SchemaGenerator;
use schemars::{JsonSchema, Schema};
use serde_json::{Map, Value, json};

use super::{Way, generator};
use crate::answers::courts::{CourtList, Finish, Pause, PutMatch};
use crate::answers::desk::{HostState, TextFilesChoice};
use crate::answers::entries::{EntriesOfDesk, EntryList, Preview, Taken};
use crate::answers::event::EventDay;
use crate::answers::links::{Links, NewKey, OtherMachines};
use crate::answers::matches::{BegunMatches, EXPORT_FILES, ImportAnswer, PlannedMatch};
use crate::answers::operations::Health;
use crate::answers::plugins::Switch;
use crate::answers::readings::IndicatorReadings;
use crate::plugin_desk::PluginReport;

/// Writes the document.
#[must_use]
pub fn openapi() -> Value {
    let mut document = Document::default();
    document.pages();
    document.courts();
    document.matches();
    document.desk();
    document.plugins();
    let mut schemas = document.sent.take_definitions(true);
    schemas.extend(document.taken.take_definitions(true));
    json!({
        "openapi": "3.1.0",
        "info": {
            "title": "Rallytide host",
            "version": "1",
            "description": "Who holds the initiative in a pickleball match: state, feed, intake \
                and pages of one host. From this machine no key is needed; another one sends the \
                key of its role as `?key=KEY` or `authorization: Bearer KEY`.",
        },
        "paths": document.paths,
        "components": {"schemas": schemas},
    })
}

struct Document {
    sent: SchemaGenerator,
    taken: SchemaGenerator,
    paths: Map<String, Value>,
}

impl Default for Document {
    fn default() -> Self {
        Self {
            sent: generator(Way::Sent),
            taken: generator(Way::Taken),
            paths: Map::new(),
        }
    }
}

/// An operation that is being described.
struct Operation {
    method: &'static str,
    path: &'static str,
    value: Value,
}

impl Operation {
    fn new(method: &'static str, path: &'static str, summary: &str) -> Self {
        let mut parameters = Vec::new();
        for name in path
            .split('{')
            .skip(1)
            .filter_map(|rest| rest.split('}').next())
        {
            let schema = match name {
                "court" | "match" | "id" => json!({"type": "string", "pattern": ID}),
                "seed" => json!({"type": "integer", "minimum": 0}),
                "file" => json!({"enum": EXPORT_FILES}),
                _ => json!({"type": "string"}),
            };
            parameters.push(json!({"name": name, "in": "path", "required": true,
                "schema": schema}));
        }
        let value = json!({"summary": summary, "parameters": parameters, "responses": {}});
        Self {
            method,
            path,
            value,
        }
    }

    fn answers(mut self, status: u16, description: &str, content: &[(&str, Value)]) -> Self {
        let mut answer = json!({"description": description});
        if !content.is_empty() {
            let content = content
                .iter()
                .map(|(media_type, schema)| ((*media_type).to_owned(), json!({"schema": schema})));
            answer["content"] = Value::Object(content.collect());
        }
        self.value["responses"][status.to_string()] = answer;
        self
    }

    fn gives(self, media_type: &str) -> Self {
        self.answers(200, "It.", &[(media_type, json!({"type": "string"}))])
    }

    fn json(self, schema: &Schema) -> Self {
        self.answers(
            200,
            "It.",
            &[("application/json", schema.as_value().clone())],
        )
    }

    /// Answers with a status and one sentence.
    fn or(self, statuses: &[u16]) -> Self {
        statuses.iter().fold(self, |operation, status| {
            let description = match status {
                304 => return operation.answers(304, "It is still what you have.", &[]),
                400 => "The request cannot be understood; one sentence.",
                403 => {
                    "The key that is needed is missing, or a page of another site asks; one \
                        sentence."
                }
                404 => "There is no such thing; one sentence.",
                409 => "It does not go with how things are; one sentence.",
                413 => "It is too large; one sentence.",
                422 => "What was sent does not fit; one sentence.",
                503 => {
                    "It cannot be done now: the disk did not take it, or too many ask; one \
                        sentence."
                }
                _ => "No; one sentence.",
            };
            let sentence = json!({"type": "string"});
            operation.answers(*status, description, &[("text/plain", sentence)])
        })
    }

    fn takes(mut self, schema: &Schema) -> Self {
        self.value["requestBody"] = json!({"required": true,
            "content": {"application/json": {"schema": schema}}});
        self
    }

    fn query(mut self, name: &str, schema: &Value, description: &str) -> Self {
        let parameter = json!({"name": name, "in": "query", "schema": schema,
            "description": description});
        if let Some(parameters) = self.value["parameters"].as_array_mut() {
            parameters.push(parameter);
        }
        self
    }
}

/// The rule for names of courts, matches and entries.
const ID: &str = "^[A-Za-z0-9_-]{1,64}$";

impl Document {
    fn add(&mut self, operation: Operation) {
        let path = self
            .paths
            .entry(operation.path)
            .or_insert_with(|| json!({}));
        path[operation.method] = operation.value;
    }

    fn sent<T: JsonSchema>(&mut self) -> Schema {
        self.sent.subschema_for::<T>()
    }

    fn taken<T: JsonSchema>(&mut self) -> Schema {
        self.taken.subschema_for::<T>()
    }

    fn pages(&mut self) {
        for (path, summary, statuses) in [
            ("/", "The way in", &[][..]),
            ("/event", "The page for everybody", &[403]),
            (
                "/courts/{court}/graphic",
                "The graphic, to lay over the video",
                &[403, 404],
            ),
            (
                "/courts/{court}/booth",
                "The commentator's page",
                &[403, 404],
            ),
            ("/courts/{court}/chart", "The charter's page", &[403, 404]),
            (
                "/courts/{court}/cues",
                "The second seat's page: cues and depths",
                &[403, 404],
            ),
            ("/practice", "The page to practice charting on", &[403]),
            ("/review/{match}", "The review page of a match", &[403]),
            ("/desk", "The streamer's page", &[403]),
        ] {
            self.add(
                Operation::new("get", path, summary)
                    .gives("text/html")
                    .or(statuses),
            );
        }
        let wasm = "Chart and score as a WebAssembly module, for the charter's page";
        self.add(Operation::new("get", "/chart/chart.wasm", wasm).gives("application/wasm"));
        self.add(Operation::new("get", "/favicon.ico", "The pages' icon").gives("image/svg+xml"));
        let made_up = Operation::new(
            "get",
            "/practice/matches/{seed}",
            "A made-up match to practice on",
        );
        self.add(made_up.gives("application/jsonl").or(&[403]));
        for (path, summary) in [
            ("/openapi.json", "This document"),
            ("/asyncapi.json", "The messages of intake and feed"),
        ] {
            let document = json!({"type": "object"});
            let operation = Operation::new("get", path, summary);
            self.add(operation.answers(200, "It.", &[("application/json", document)]));
        }
        let health = self.sent::<Health>();
        self.add(
            Operation::new("get", "/health", "Whether the host does what it is for").json(&health),
        );
        let metrics = "Counts and times in the text format of Prometheus";
        self.add(
            Operation::new("get", "/metrics", metrics)
                .gives("text/plain")
                .or(&[403]),
        );
    }

    fn courts(&mut self) {
        let day = self.sent::<EventDay>();
        let event = "Courts, schedule and results, for everybody";
        let event = Operation::new("get", "/event.json", event).json(&day);
        self.add(event.or(&[304, 403]));
        let list = self.sent::<CourtList>();
        let courts = Operation::new("get", "/courts", "The courts and what is on them");
        self.add(courts.json(&list).or(&[403]));
        let socket = "The connection is a WebSocket now; see `/asyncapi.json`.";
        let intake = Operation::new("get", "/courts/{court}/intake", "The intake for charters");
        self.add(intake.answers(101, socket, &[]).or(&[403, 404, 503]));
        let feed = Operation::new("get", "/courts/{court}/feed", "The feed for viewers")
            .query(
                "role",
                &json!({"enum": ["viewer", "booth"], "default": "viewer"}),
                "Prompts go to the booth only.",
            )
            .query(
                "after",
                &json!({"type": "integer", "minimum": 0}),
                "Everything up to this position is known.",
            )
            .query(
                "match",
                &json!({"type": "string"}),
                "The match that position belongs to.",
            );
        self.add(feed.answers(101, socket, &[]).or(&[403, 404, 503]));
        let snapshot = self.sent::<Snapshot<'_>>();
        let now = Operation::new("get", "/courts/{court}/now", "The state now");
        self.add(now.json(&snapshot).or(&[304, 403, 404]));
        let readings = self.sent::<IndicatorReadings>();
        let reading = Operation::new(
            "get",
            "/courts/{court}/now/reading/{indicator}",
            "The current readings of one indicator",
        )
        .query("team", &json!({"enum": ["a", "b"]}), "Those of a team.")
        .query("player", &json!({"enum": [0, 1]}), "Those of a player.")
        .query(
            "slot",
            &json!({"type": "string"}),
            "Those with this distinction.",
        );
        let both = [
            ("application/json", readings.as_value().clone()),
            ("text/plain", json!({"type": "string"})),
        ];
        self.add(
            reading
                .answers(200, "JSON, or a line a reading.", &both)
                .or(&[304, 403, 404]),
        );
        let score = "The call and the names, for scoreboards that poll";
        let score = Operation::new("get", "/courts/{court}/now/score.txt", score);
        self.add(score.gives("text/plain").or(&[304, 403, 404]));
        let chart = "The chart of the match that is on, for whoever charts on";
        let chart = Operation::new("get", "/courts/{court}/chart.jsonl", chart)
            .query(
                "after",
                &json!({"type": "integer", "minimum": 0}),
                "Only what stands after this position.",
            )
            .query(
                "seats",
                &json!({"type": "boolean"}),
                "Each entry with the `seat` it was recorded from.",
            );
        self.add(chart.gives("application/jsonl").or(&[304, 403, 404]));
    }

    fn matches(&mut self) {
        let begun = self.sent::<BegunMatches>();
        let list = Operation::new("get", "/matches.json", "The matches that have been begun");
        self.add(list.json(&begun).or(&[403]));
        let review = self.sent::<Review<'_>>();
        let told = "The match rally by rally, with what happened beside the rallies";
        let told = Operation::new("get", "/matches/{id}/review.json", told);
        self.add(told.json(&review).or(&[304, 403, 404, 503]));
        for (path, summary) in [
            (
                "/matches/{id}/chart.jsonl",
                "The chart as a file, under the header in use",
            ),
            ("/matches/{id}/feed.jsonl", "The recording of its feed"),
            (
                "/matches/{id}/readings.jsonl",
                "Its final readings, one a line",
            ),
        ] {
            let file = Operation::new("get", path, summary).gives("application/jsonl");
            self.add(file.or(&[403, 404, 503]));
        }
        let export = "The match in another form, as `rallytide export` writes it";
        let export = Operation::new("get", "/matches/{id}/export/{file}", export)
            .query(
                "bom",
                &json!({"type": "boolean"}),
                "Tables: begin with the byte order mark.",
            )
            .query(
                "start",
                &json!({"type": "string", "format": "date-time"}),
                "Subtitles: when the video begins, on the charter's clock.",
            )
            .query(
                "offset",
                &json!({"type": "number"}),
                "Subtitles: seconds into the video at the first entry.",
            );
        let forms =
            ["text/csv", "text/vtt", "text/html"].map(|one| (one, json!({"type": "string"})));
        self.add(
            export
                .answers(200, "The file, as an attachment.", &forms)
                .or(&[403, 404, 422, 503]),
        );
        let header = json!({"type": "object", "required": ["teams", "format", "first_serve"],
            "description": "As in the chart file; `kind`, `chart` and `id` may be left out."});
        let header: Schema = header.try_into().unwrap_or_default();
        let planned = self.sent::<PlannedMatch>();
        let content = [("application/json", planned.as_value().clone())];
        let plan = Operation::new("post", "/matches", "Plan a match").takes(&header);
        self.add(plan.answers(201, "It.", &content).or(&[403, 409, 422, 503]));
        let give = Operation::new("put", "/matches/{id}", "Give a match another header");
        self.add(
            give.takes(&header)
                .json(&planned)
                .or(&[403, 404, 409, 422, 503]),
        );
        self.add(nothing(
            "delete",
            "/matches/{id}",
            "Give up a planned match",
        ));
        let answer = self.sent::<ImportAnswer>();
        let mut import = Operation::new(
            "post",
            "/matches/import",
            "Plan an event's matches from a sheet, all or nothing",
        )
        .query("dry", &json!({"type": "boolean"}), "Only check.")
        .query("tab", &json!({"type": "string"}), "The tab of a workbook; left out: the first with matches.")
        .query("heading", &json!({"type": "integer", "minimum": 0}), "The row of the headings, 0: there are none; left out: it is found.")
        .query("columns", &json!({"type": "string"}), "What each column means, from the left, separated by commas, empty: nothing; left out: told by the headings.");
        let binary = json!({"schema": {"type": "string", "format": "binary"}});
        import.value["requestBody"] = json!({"required": true,
        "content": {
            "text/csv": {"schema": {"type": "string"}},
            "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": binary.clone(),
            "application/vnd.oasis.opendocument.spreadsheet": binary,
        }});
        let problems = [("application/json", answer.as_value().clone())];
        let import = import.json(&answer).or(&[400, 403, 413, 503]);
        self.add(import.answers(422, "Nothing was planned; every problem.", &problems));
    }

    fn desk(&mut self) {
        let state = self.sent::<HostState>();
        let show = Operation::new("get", "/desk/state", "Courts, matches, who is connected");
        self.add(show.json(&state).or(&[304, 403]));
        let links = self.sent::<Links>();
        let show = Operation::new(
            "get",
            "/desk/links",
            "What links for other machines are made of",
        );
        self.add(show.json(&links).or(&[403]));
        let others = self.taken::<OtherMachines>();
        let let_in = Operation::new("put", "/desk/others", "Let other machines in, or no more");
        self.add(let_in.takes(&others).json(&links).or(&[403, 409, 422, 503]));
        let key = self.taken::<NewKey>();
        let renew = Operation::new("post", "/desk/keys", "Make a new key for a role");
        self.add(renew.takes(&key).json(&links).or(&[403, 422, 503]));
        let choice = self.taken::<TextFilesChoice>();
        let files = "Write text files for streaming programs, or stop that";
        self.add(nothing("put", "/text-files", files).takes(&choice));
        self.add(nothing(
            "delete",
            "/courts/{court}",
            "Take an empty court off the list",
        ));
        let put = self.taken::<PutMatch>();
        self.add(nothing("put", "/courts/{court}/match", "Put a match on a court").takes(&put));
        self.add(nothing(
            "delete",
            "/courts/{court}/match",
            "Take the match off",
        ));
        let pause = self.taken::<Pause>();
        self.add(
            nothing(
                "put",
                "/courts/{court}/pause",
                "Pause play, or let it go on",
            )
            .takes(&pause),
        );
        let finish = self.taken::<Finish>();
        let over = "Declare the match over, or let it go on";
        self.add(nothing("put", "/courts/{court}/finish", over).takes(&finish));
        let list = self.sent::<EntryList>();
        let entries = "/courts/{court}/entries";
        let show = Operation::new("get", entries, "The entries of the match, newest first")
            .query(
                "before",
                &json!({"type": "integer", "minimum": 1}),
                "Those that stand before the entry of this position.",
            )
            .query(
                "limit",
                &json!({"type": "integer", "minimum": 1, "maximum": 500}),
                "How many.",
            );
        self.add(show.json(&list).or(&[304, 403, 404, 409]));
        let sent = self.taken::<EntriesOfDesk>();
        let taken = self.sent::<Taken>();
        let record = Operation::new("post", entries, "Record entries as the client `desk`");
        self.add(record.takes(&sent).json(&taken).or(&[403, 404, 409, 422]));
        let preview = self.sent::<Preview>();
        let tried = Operation::new("post", "/courts/{court}/preview", "What entries would do");
        self.add(tried.takes(&sent).json(&preview).or(&[403, 404, 409, 422]));
    }

    fn plugins(&mut self) {
        let report = self.sent::<PluginReport>();
        let show = "Every plugin, its state on every court, and every attempt to load one";
        self.add(
            Operation::new("get", "/plugins", show)
                .json(&report)
                .or(&[403]),
        );
        let switch = self.taken::<Switch>();
        let path = "/plugins/{plugin}/switch";
        self.add(nothing("put", path, "Switch a plugin on or off").takes(&switch));
        let settings = self.taken::<PluginSettings>();
        let set = "Choose settings; what is not named has its default";
        self.add(nothing("put", "/plugins/{plugin}/settings", set).takes(&settings));
    }
}

/// An operation of the desk that has nothing to say when it is done.
fn nothing(method: &'static str, path: &'static str, summary: &str) -> Operation {
    let done = Operation::new(method, path, summary).answers(204, "It is done.", &[]);
    done.or(&[403, 404, 409, 422, 503])
}
