//! What stands between the network and the pages: same origin, headers, compression.

use std::io::Write;

use axum::Json;
use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse as _, Response};
use flate2::Compression;
use flate2::write::GzEncoder;

use super::problem;
use crate::api::readings::token;

const HEADERS: [(&str, &str); 7] = [
    (
        "content-security-policy",
        "default-src 'self'; base-uri 'none'; object-src 'none'; form-action 'self'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    // With "no-referrer" a browser would send a form from this page with the origin "null".
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    (
        "permissions-policy",
        "camera=(), geolocation=(), microphone=()",
    ),
];

/// Refuses what another site sends, then answers with guarding headers.
pub(crate) async fn guard(request: Request, next: Next) -> Response {
    let packs = accepts_gzip(request.headers());
    let refused = refusal(request.method(), request.uri().path(), request.headers());
    let mut answer = match refused {
        // A program that asks wants its answer in its own tongue.
        Some(text) if request.uri().path().starts_with("/api/") => (
            StatusCode::FORBIDDEN,
            Json(crate::json::failure("refused", text)),
        )
            .into_response(),
        Some(text) => problem(StatusCode::FORBIDDEN, text),
        None => next.run(request).await,
    };
    let headers = answer.headers_mut();
    for (name, value) in HEADERS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    if !headers.contains_key(header::CACHE_CONTROL) {
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    if packs { packed(answer).await } else { answer }
}

/// Why a request is not answered; `None` if it may pass.
fn refusal(method: &Method, path: &str, headers: &HeaderMap) -> Option<&'static str> {
    let host = headers.get(header::HOST).and_then(|h| h.to_str().ok());
    // A foreign name that points at this machine must not read the log.
    if host.is_some_and(|h| !is_local(h)) {
        return Some(
            "These pages answer only at 127.0.0.1 and localhost. Use the address the program printed.",
        );
    }
    if [Method::GET, Method::HEAD, Method::OPTIONS].contains(method) {
        return None;
    }
    // A probe shows its token: no page of another site can send one without asking first.
    if path == "/api/readings" && token(headers).is_some() {
        return None;
    }
    const ELSEWHERE: &str =
        "That form came from another site. Nothing was recorded. Send it from the page here.";
    let text = |name: &str| {
        headers
            .get(name)
            .map(|v| v.to_str().unwrap_or("unreadable"))
    };
    if text("sec-fetch-site").is_some_and(|site| site != "same-origin" && site != "none") {
        return Some(ELSEWHERE);
    }
    let origin = text("origin")?;
    let from: Option<Uri> = origin.parse().ok();
    let same = from
        .as_ref()
        .and_then(Uri::authority)
        .is_some_and(|a| Some(a.as_str()) == host);
    (!same).then_some(ELSEWHERE)
}

fn is_local(host: &str) -> bool {
    let name = match host.strip_prefix('[') {
        Some(rest) => rest.split(']').next().unwrap_or_default(),
        None => host.split(':').next().unwrap_or_default(),
    };
    ["127.0.0.1", "localhost", "::1"].contains(&name)
}

fn accepts_gzip(headers: &HeaderMap) -> bool {
    headers
        .get(header::ACCEPT_ENCODING)
        .and_then(|v| v.to_str().ok())
        .is_some_and(|v| {
            v.split(',')
                .any(|part| part.split(';').next().is_some_and(|p| p.trim() == "gzip"))
        })
}

/// The answer compressed, if it is text of some length.
async fn packed(answer: Response) -> Response {
    const WORTH_IT: usize = 600;
    // An answer is built whole in memory; this only bounds a mistake.
    const MOST: usize = 256 * 1024 * 1024;
    let (mut parts, body) = answer.into_parts();
    let Ok(bytes) = to_bytes(body, MOST).await else {
        return problem(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The page came out too long to send.",
        );
    };
    if bytes.len() < WORTH_IT {
        return Response::from_parts(parts, Body::from(bytes));
    }
    let mut encoder = GzEncoder::new(Vec::with_capacity(bytes.len() / 3), Compression::default());
    let done = encoder.write_all(&bytes).and_then(|()| encoder.finish());
    let Ok(small) = done else {
        return Response::from_parts(parts, Body::from(bytes));
    };
    parts
        .headers
        .insert(header::CONTENT_ENCODING, HeaderValue::from_static("gzip"));
    parts
        .headers
        .insert(header::VARY, HeaderValue::from_static("accept-encoding"));
    parts.headers.remove(header::CONTENT_LENGTH);
    Response::from_parts(parts, Body::from(small))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        pairs
            .iter()
            .map(|&(n, v)| (n.parse().unwrap(), HeaderValue::from_static(v)))
            .collect()
    }

    #[test]
    fn another_site_can_neither_post_nor_read() {
        let here = [
            ("host", "127.0.0.1:4000"),
            ("origin", "http://127.0.0.1:4000"),
        ];
        assert_eq!(refusal(&Method::POST, "/add", &asked(&here)), None);
        let there = [
            ("host", "127.0.0.1:4000"),
            ("origin", "http://else.example"),
        ];
        assert!(refusal(&Method::POST, "/add", &asked(&there)).is_some());
        let hidden = [("host", "127.0.0.1:4000"), ("origin", "null")];
        assert!(refusal(&Method::POST, "/add", &asked(&hidden)).is_some());
        let fetched = [("host", "localhost:4000"), ("sec-fetch-site", "cross-site")];
        assert!(refusal(&Method::POST, "/add", &asked(&fetched)).is_some());
        assert_eq!(refusal(&Method::GET, "/add", &asked(&fetched)), None);
        let probe = [
            ("host", "127.0.0.1:4000"),
            ("origin", "null"),
            ("authorization", "Bearer abc"),
        ];
        assert_eq!(
            refusal(&Method::POST, "/api/readings", &asked(&probe)),
            None
        );
        assert!(refusal(&Method::POST, "/undo", &asked(&probe)).is_some());
        let renamed = [("host", "else.example:4000")];
        assert!(refusal(&Method::GET, "/add", &asked(&renamed)).is_some());
        assert_eq!(
            refusal(&Method::GET, "/add", &asked(&[("host", "[::1]:4000")])),
            None
        );
    }
}
