//! The pages, carried inside the binary. A folder of the streamer's own can
//! stand in front: a file in it wins over the one inside.

use std::borrow::Cow;
use std::path::PathBuf;

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use rust_embed::RustEmbed;
use tower_http::services::ServeDir;

/// The `overlay` folder without what is only there for checks.
#[derive(RustEmbed)]
#[folder = "../../overlay"]
#[include = "*.html"]
#[include = "*.css"]
#[include = "*.js"]
#[include = "*.svg"]
#[include = "*.woff2"]
#[include = "samples/*"]
#[exclude = "node_modules/*"]
#[exclude = "tests/*"]
struct Inside;

/// A page that is reached under another address than its folder's: its links
/// are meant beside it.
pub(crate) fn at_home(page: &str, folder: &str) -> String {
    page.replacen("<head>", &format!("<head><base href=\"/{folder}/\">"), 1)
}

/// Answers with the file at `path` of the pages.
pub(crate) fn file(path: &str, request: &HeaderMap) -> Response {
    let Some(file) = Inside::get(path.trim_start_matches('/')) else {
        return (
            StatusCode::NOT_FOUND,
            format!("there is nothing at `/{path}`; the way in is `/`\n"),
        )
            .into_response();
    };
    let hash = u64::from_be_bytes(first_eight(&file.metadata.sha256_hash()));
    let tag = format!("\"{hash:016x}\"");
    let known = request.get(header::IF_NONE_MATCH).is_some_and(|value| {
        value
            .as_bytes()
            .windows(tag.len())
            .any(|part| part == tag.as_bytes())
    });
    let mut response = if known {
        StatusCode::NOT_MODIFIED.into_response()
    } else {
        let body = match file.data {
            Cow::Borrowed(bytes) => Body::from(bytes),
            Cow::Owned(bytes) => Body::from(bytes),
        };
        let mut response = Response::new(body);
        if let Ok(kind) = HeaderValue::from_str(&content_type(file.metadata.mimetype())) {
            response.headers_mut().insert(header::CONTENT_TYPE, kind);
        }
        response
    };
    let headers = response.headers_mut();
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-cache"));
    // A streamer's own page, opened from a file or another site, may use the
    // elements; there is nothing secret in them.
    headers.insert(
        header::ACCESS_CONTROL_ALLOW_ORIGIN,
        HeaderValue::from_static("*"),
    );
    if let Ok(tag) = HeaderValue::from_str(&tag) {
        headers.insert(header::ETAG, tag);
    }
    response
}

/// A page with nothing on it, whose title says why. The sentence is one of ours
/// and holds no markup.
pub(crate) fn unseen(sentence: &str) -> Html<String> {
    Html(format!(
        "<!doctype html>\n<html lang=\"en\"><meta charset=\"utf-8\"><title>{sentence}</title></html>\n"
    ))
}

/// A folder whose files win over the ones inside.
pub(crate) fn own_folder(folder: PathBuf) -> ServeDir {
    ServeDir::new(folder).append_index_html_on_directories(false)
}

fn content_type(kind: &str) -> String {
    if kind.starts_with("text/") {
        format!("{kind}; charset=utf-8")
    } else {
        kind.to_owned()
    }
}

fn first_eight(hash: &[u8; 32]) -> [u8; 8] {
    std::array::from_fn(|place| hash[place])
}
