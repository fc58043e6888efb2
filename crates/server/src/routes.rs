//! Which address leads to which handler, and what somebody on another machine
//! must be permitted there.

mod courts;
mod desk;
mod documents;
mod event;
mod operations;
mod pages;
mod plugins;
mod readings;
mod review;
mod sockets;

use std::convert::Infallible;
use std::time::Duration;

use axum::Router;
use axum::http::{HeaderName, HeaderValue, header};
use axum::middleware::from_fn_with_state;
use axum::routing::{MethodRouter, get, put};
use tower_http::set_header::SetResponseHeaderLayer;
use tower_http::timeout::RequestBodyTimeoutLayer;

use crate::access::{Gate, Permit, guard, guard_host};
use crate::state::AppState;

/// How long a request's body may stand still.
const BODY_LIMIT: Duration = Duration::from_secs(10);

/// All routes, by what they ask for.
pub fn router(state: AppState) -> Router {
    let asks = |routes: Router<AppState>, needed| {
        let access = state.access.clone();
        routes.route_layer(from_fn_with_state(Gate { access, needed }, guard))
    };
    Router::new()
        .merge(for_everybody())
        .merge(asks(for_viewers(), Permit::Viewer))
        .merge(asks(for_booths(), Permit::Booth))
        .merge(asks(for_charters(), Permit::Charter))
        .merge(asks(for_desks().merge(desk::routes()), Permit::Desk))
        .fallback(get(pages::other_file))
        .layer(RequestBodyTimeoutLayer::new(BODY_LIMIT))
        .layer(from_fn_with_state(state.access.clone(), guard_host))
        .with_state(state)
}

/// What tells nothing about a match, and what asks for a key by itself.
fn for_everybody() -> Router<AppState> {
    Router::new()
        .route("/", get(pages::index))
        .route("/chart/chart.wasm", get(pages::chart_wasm))
        .route("/favicon.ico", get(pages::icon))
        .route("/review/{match}", get(pages::review))
        .route("/courts/{court}/graphic", get(pages::graphic))
        .route("/health", get(operations::health))
        .route("/openapi.json", get(documents::openapi))
        .route("/asyncapi.json", get(documents::asyncapi))
}

fn for_viewers() -> Router<AppState> {
    Router::new()
        .route("/event", get(event::page))
        .route("/event.json", get(event::show))
        .route("/courts", get(courts::list))
        .route("/courts/{court}/feed", get(sockets::open_feed))
        .route("/courts/{court}/now", get(courts::now))
        .route("/courts/{court}/now/score.txt", get(courts::score))
        .route(
            "/courts/{court}/now/reading/{indicator}",
            get(readings::show),
        )
}

fn for_booths() -> Router<AppState> {
    Router::new()
        .route("/courts/{court}/booth", unframed(get(pages::booth)))
        .route("/matches.json", get(review::list))
        .route("/matches/{id}/review.json", get(review::show))
}

fn for_charters() -> Router<AppState> {
    Router::new()
        .route("/courts/{court}/intake", get(sockets::open_intake))
        .route("/courts/{court}/chart.jsonl", get(courts::chart))
        .route("/courts/{court}/chart", unframed(get(pages::chart)))
        .route("/courts/{court}/cues", unframed(get(pages::cues)))
        .route("/practice", get(pages::practice))
        .route("/practice/matches/{seed}", get(pages::made_up_match))
}

fn for_desks() -> Router<AppState> {
    Router::new()
        .route("/desk", unframed(get(pages::desk)))
        .route("/metrics", get(operations::metrics))
        .route("/plugins", get(plugins::report))
        .route("/plugins/{plugin}/switch", put(plugins::switch))
        .route("/plugins/{plugin}/settings", put(plugins::set))
}

/// A page that changes something, or shows what only the booth may see, is never
/// laid invisibly into a page of another site.
fn unframed(page: MethodRouter<AppState>) -> MethodRouter<AppState> {
    let fixed = |name: HeaderName, value| {
        SetResponseHeaderLayer::overriding(name, HeaderValue::from_static(value))
    };
    let alone = fixed(header::CONTENT_SECURITY_POLICY, "frame-ancestors 'none'");
    page.layer::<_, Infallible>(alone)
        .layer::<_, Infallible>(fixed(header::X_FRAME_OPTIONS, "DENY"))
}
