//! What is where.

use std::net::SocketAddr;
use std::path::PathBuf;
use std::sync::Arc;

use axum::Router;
use axum::extract::ws::WebSocketUpgrade;
use axum::extract::{ConnectInfo, Path, Query, Request, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, Uri, header};
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Json, Response};
use axum::routing::{get, put};
use rallytide_court::{CourtName, Courts, LiveCourt, Role};
use serde_json::{Value, json};
use tokio::sync::watch;
use tower::ServiceExt;
use tower_http::services::ServeDir;

use crate::doors::Doors;
use crate::feed::{self, FeedQuery};
use crate::gate::{self, Access, Gate};
use crate::keys::Permit;
use crate::pass::Pass;
use crate::plugins::PluginDesk;
use crate::runs::Runs;
use crate::text_files::TextFiles;
use crate::{desk, documents, intake, now, origin, pages, plugins, review, socket};

/// What the routes work on.
#[derive(Clone)]
pub struct Site {
    pub(crate) courts: Arc<Courts>,
    pub(crate) plugins: Arc<dyn PluginDesk>,
    pub(crate) text_files: TextFiles,
    pub(crate) runs: Runs,
    own_pages: Option<ServeDir>,
    extras: Extras,
    pub(crate) access: Access,
    pub(crate) doors: Doors,
    stop: watch::Receiver<bool>,
}

/// What the pages need from the program, besides the courts.
#[derive(Clone)]
pub struct Extras {
    /// Chart and score as a WebAssembly module, for the charters' page.
    pub chart_wasm: &'static [u8],
    /// Makes up a match to practise on: the lines of its chart, from a seed.
    pub made_up: fn(u64) -> Result<Vec<String>, String>,
}

impl Site {
    /// A site over `courts`. Connections end when `stop` becomes true. Files in
    /// `own_pages` win over the pages inside the binary.
    #[must_use]
    pub fn new(
        courts: Arc<Courts>,
        plugins: Arc<dyn PluginDesk>,
        own_pages: Option<PathBuf>,
        extras: Extras,
        access: Access,
        stop: watch::Receiver<bool>,
    ) -> Self {
        Self {
            text_files: TextFiles::new(Arc::clone(&courts)),
            courts,
            plugins,
            runs: Runs::new(),
            own_pages: own_pages.map(pages::own_folder),
            extras,
            access,
            doors: Doors::default(),
            stop,
        }
    }

    /// Who writes the text files for streaming programs; it has to be run.
    #[must_use]
    pub fn text_files(&self) -> TextFiles {
        self.text_files.clone()
    }
}

/// All routes, by what somebody on another machine must be permitted.
pub fn router(site: Site) -> Router {
    let asks = |routes: Router<Site>, needed| {
        let site = site.clone();
        routes.route_layer(from_fn_with_state(Gate { site, needed }, gate::guard))
    };
    Router::new()
        .merge(for_everybody())
        .merge(asks(for_viewers(), Permit::Viewer))
        .merge(asks(for_booths(), Permit::Booth))
        .merge(asks(for_charters(), Permit::Charter))
        .merge(asks(for_desks().merge(desk::routes()), Permit::Desk))
        .fallback(get(other_file))
        .layer(from_fn_with_state(site.clone(), gate::guard_name))
        .with_state(site)
}

/// What tells nothing about a match, and what asks for a key by itself.
fn for_everybody() -> Router<Site> {
    Router::new()
        .route("/", get(index_page))
        .route("/chart/chart.wasm", get(chart_wasm))
        .route("/favicon.ico", get(icon))
        .route("/review/{match}", get(review::review_page))
        .route("/courts/{court}/graphic", get(graphic_page))
        .route("/openapi.json", get(openapi))
        .route("/asyncapi.json", get(asyncapi))
}

/// The feed asks for more where its role is the booth's.
fn for_viewers() -> Router<Site> {
    Router::new()
        .route("/courts", get(list_courts))
        .route("/courts/{court}/feed", get(open_feed))
        .route("/courts/{court}/now", get(show_now))
        .route("/courts/{court}/now/score.txt", get(show_score))
}

fn for_booths() -> Router<Site> {
    Router::new()
        .route("/courts/{court}/booth", get(booth_page))
        .route("/matches.json", get(review::list))
        .route("/matches/{id}/review.json", get(review::show))
}

fn for_charters() -> Router<Site> {
    Router::new()
        .route("/courts/{court}/intake", get(open_intake))
        .route("/courts/{court}/chart.jsonl", get(show_chart))
        .route("/courts/{court}/chart", get(chart_page))
        .route("/practice", get(practice_page))
        .route("/practice/{seed}", get(made_up_match))
}

fn for_desks() -> Router<Site> {
    Router::new()
        .route("/desk", get(desk_page))
        .route("/plugins", get(plugins::report))
        .route("/plugins/{plugin}/switch", put(plugins::switch))
        .route("/plugins/{plugin}/settings", put(plugins::set))
}

/// A sentence for whoever asked for what cannot be had.
pub(crate) struct Refused(pub(crate) StatusCode, pub(crate) String);

impl IntoResponse for Refused {
    fn into_response(self) -> Response {
        let kind = [(header::CONTENT_TYPE, "text/plain; charset=utf-8")];
        (self.0, kind, format!("{}\n", self.1)).into_response()
    }
}

pub(crate) fn court_name(name: &str) -> Result<CourtName, Refused> {
    CourtName::new(name).ok_or_else(|| {
        Refused(
            StatusCode::NOT_FOUND,
            format!("`{name}` is no name of a court: 1 to 64 of A-Z a-z 0-9 _ -"),
        )
    })
}

/// The court of that name, made if there is none: a graphic may be opened
/// before the match is.
pub(crate) fn court(site: &Site, name: &str) -> Result<Arc<LiveCourt>, Refused> {
    site.courts
        .court(&court_name(name)?)
        .map_err(|refusal| Refused(StatusCode::SERVICE_UNAVAILABLE, refusal.message))
}

/// The court of that name, if there is one.
pub(crate) fn known_court(site: &Site, name: &str) -> Result<Arc<LiveCourt>, Refused> {
    let name = court_name(name)?;
    let courts = site.courts.all();
    courts
        .into_iter()
        .find(|court| *court.name() == name)
        .ok_or_else(|| {
            Refused(
                StatusCode::NOT_FOUND,
                format!("there is no court `{name}` yet; `/courts` lists them"),
            )
        })
}

async fn list_courts(State(site): State<Site>) -> Json<Value> {
    let courts: Vec<Value> = site
        .courts
        .all()
        .iter()
        .map(|court| {
            let on = court.match_on();
            json!({
                "court": court.name().as_str(),
                "match": on.map(|(id, title)| json!({"id": id, "title": title})),
            })
        })
        .collect();
    Json(json!({ "courts": courts }))
}

async fn open_intake(
    State(site): State<Site>,
    Path(name): Path<String>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    uri: Uri,
    headers: HeaderMap,
    upgrade: WebSocketUpgrade,
) -> Result<Response, Refused> {
    if !origin::is_own(&headers) {
        return Err(Refused(
            StatusCode::FORBIDDEN,
            "the intake takes entries from this host's own pages and from programs, not from \
             pages of other sites"
                .into(),
        ));
    }
    let court = court(&site, &name)?;
    let from = intake::From {
        address: peer.ip().to_canonical(),
        pass: pass(&site, peer, &headers, &uri, Permit::Charter),
    };
    Ok(socket::set_up(upgrade)
        .on_upgrade(move |socket| intake::run(socket, site.courts, court, from, site.stop)))
}

async fn open_feed(
    State(site): State<Site>,
    Path(name): Path<String>,
    Query(query): Query<FeedQuery>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    uri: Uri,
    headers: HeaderMap,
    upgrade: WebSocketUpgrade,
) -> Result<Response, Refused> {
    let key = gate::key_in(&headers, uri.query());
    let needed = query.permit();
    if !gate::may(&site.access.keys, peer.ip(), key.as_deref(), needed) {
        return Err(gate::no_key(key.as_deref()));
    }
    let court = court(&site, &name)?;
    let pass = pass(&site, peer, &headers, &uri, needed);
    Ok(socket::set_up(upgrade)
        .on_upgrade(move |socket| feed::run(socket, court, query, pass, site.stop)))
}

/// What a connection that was let in is open with.
fn pass(site: &Site, peer: SocketAddr, headers: &HeaderMap, uri: &Uri, needed: Permit) -> Pass {
    let key = gate::key_in(headers, uri.query());
    Pass::new(&site.access.keys, peer.ip(), key, needed)
}

async fn show_now(
    State(site): State<Site>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let court = known_court(&site, &name)?;
    Ok(now::now(&court, Role::Viewer, &headers))
}

async fn show_score(
    State(site): State<Site>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let court = known_court(&site, &name)?;
    Ok(now::score_text(&court, &headers))
}

async fn show_chart(
    State(site): State<Site>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    let court = known_court(&site, &name)?;
    Ok(now::chart_lines(&court, &headers))
}

async fn index_page(State(site): State<Site>, headers: HeaderMap) -> Response {
    folder_page(&site, "index", &headers).await
}

async fn graphic_page(
    State(site): State<Site>,
    Path(name): Path<String>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    uri: Uri,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    court_name(&name)?;
    let key = gate::key_in(&headers, uri.query());
    if !gate::may(&site.access.keys, peer.ip(), key.as_deref(), Permit::Viewer) {
        // A streaming program shows on air whatever a page holds, and loads it
        // anew by itself: the sentence is for the tab of whoever looks it up.
        let Refused(status, sentence) = gate::no_key(key.as_deref());
        return Ok((status, pages::unseen(&sentence)).into_response());
    }
    Ok(folder_page(&site, "graphic", &headers).await)
}

async fn booth_page(
    State(site): State<Site>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    court_name(&name)?;
    Ok(folder_page(&site, "booth", &headers).await)
}

async fn chart_page(
    State(site): State<Site>,
    Path(name): Path<String>,
    headers: HeaderMap,
) -> Result<Response, Refused> {
    court_name(&name)?;
    Ok(folder_page(&site, "chart", &headers).await)
}

async fn practice_page(State(site): State<Site>, headers: HeaderMap) -> Response {
    folder_page(&site, "training", &headers).await
}

/// Browsers ask for it unbidden, for the documents among other things.
async fn icon(State(site): State<Site>, headers: HeaderMap) -> Response {
    page(&site, "shared/icon.svg", &headers).await
}

async fn desk_page(State(site): State<Site>, headers: HeaderMap) -> Response {
    folder_page(&site, "desk", &headers).await
}

async fn chart_wasm(State(site): State<Site>, headers: HeaderMap) -> Response {
    now::tagged(site.extras.chart_wasm, "application/wasm", &headers)
}

async fn openapi(headers: HeaderMap) -> Response {
    now::tagged(documents::OPENAPI.as_bytes(), "application/json", &headers)
}

async fn asyncapi(headers: HeaderMap) -> Response {
    now::tagged(documents::ASYNCAPI.as_bytes(), "application/json", &headers)
}

/// A made-up match as a chart file, the same for the same seed.
async fn made_up_match(
    State(site): State<Site>,
    Path(seed): Path<u64>,
) -> Result<Response, Refused> {
    let lines = (site.extras.made_up)(seed)
        .map_err(|sentence| Refused(StatusCode::INTERNAL_SERVER_ERROR, sentence))?;
    let kind = [(header::CONTENT_TYPE, "application/jsonl; charset=utf-8")];
    Ok((kind, lines.join("\n") + "\n").into_response())
}

/// The page of a folder, shown under another address.
pub(crate) async fn folder_page(site: &Site, folder: &str, headers: &HeaderMap) -> Response {
    /// Pages are some kilobytes; this only bounds a mistake.
    const PAGE_LIMIT: usize = 4 * 1024 * 1024;
    let response = page(site, &format!("{folder}/index.html"), headers).await;
    if response.status() != StatusCode::OK {
        return response;
    }
    let (mut parts, body) = response.into_parts();
    let text = match axum::body::to_bytes(body, PAGE_LIMIT).await {
        Ok(bytes) => String::from_utf8_lossy(&bytes).into_owned(),
        Err(error) => {
            tracing::error!(%error, folder, "a page could not be read");
            let sentence = format!("the page `{folder}` could not be read");
            return Refused(StatusCode::INTERNAL_SERVER_ERROR, sentence).into_response();
        }
    };
    parts.headers.remove(header::CONTENT_LENGTH);
    Response::from_parts(parts, pages::at_home(&text, folder).into())
}

async fn other_file(State(site): State<Site>, uri: Uri, headers: HeaderMap) -> Response {
    let path = uri.path().trim_start_matches('/').to_owned();
    page(&site, &path, &headers).await
}

/// A file of the pages: the streamer's own if there is one, else the one inside.
pub(crate) async fn page(site: &Site, path: &str, request: &HeaderMap) -> Response {
    if let Some(own) = &site.own_pages
        && let Some(response) = own_file(own.clone(), path).await
    {
        return response;
    }
    pages::file(path, request)
}

async fn own_file(own: ServeDir, path: &str) -> Option<Response> {
    let request = Request::builder()
        .uri(format!("/{path}"))
        .body(axum::body::Body::empty())
        .ok()?;
    let mut response = own.oneshot(request).await.ok()?;
    if response.status() != StatusCode::OK {
        return None;
    }
    let headers = response.headers_mut();
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
    headers.insert(
        header::ACCESS_CONTROL_ALLOW_ORIGIN,
        HeaderValue::from_static("*"),
    );
    Some(response.map(axum::body::Body::new))
}
