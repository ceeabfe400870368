//! Pages already written: looked at far more often than anything is noted, they are written once for each state.

use std::collections::HashMap;
use std::sync::Mutex;

use axum::body::{Body, Bytes, to_bytes};
use axum::extract::{Request, State};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;
use desk::Standing;

use super::{Site, key};

/// Pages that say only what the desk says, whatever the hour.
const KEPT: [&str; 7] = [
    "/",
    "/chambers",
    "/chamber",
    "/when",
    "/look",
    "/more",
    "/season",
];
/// Most pages at once, and longest question kept, in bytes (choice: a household looks at a few).
const MOST: usize = 48;
const LONGEST: usize = 80;
/// Largest page kept, bytes; the pages are below it by far.
const LARGEST: usize = 256 * 1024;
/// Where a one-time key stands in a page.
const KEY: &str = "name=\"key\" value=\"";

/// A page as it was written.
type Written = (HeaderMap, Bytes);

/// Pages of one state of the desk, by their address.
#[derive(Default)]
pub(crate) struct Shelf(Mutex<(Option<Standing>, HashMap<String, Written>)>);

impl Shelf {
    fn take(&self, state: &Standing, page: &str) -> Option<Written> {
        let mut shelf = self.0.lock().ok()?;
        if shelf.0.as_ref() != Some(state) {
            *shelf = (Some(state.clone()), HashMap::new());
        }
        shelf.1.get(page).cloned()
    }

    fn put(&self, state: &Standing, page: String, written: Written) {
        if let Ok(mut shelf) = self.0.lock()
            && shelf.0.as_ref() == Some(state)
            && shelf.1.len() < MOST
        {
            shelf.1.insert(page, written);
        }
    }
}

/// Every copy of a page has keys of its own, or two looks would count as one entry.
fn with_own_keys(page: &Bytes) -> Bytes {
    let Some(text) = std::str::from_utf8(page).ok().filter(|t| t.contains(KEY)) else {
        return page.clone();
    };
    let mut out = String::with_capacity(text.len());
    let mut parts = text.split(KEY);
    out.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let end = part.find('"').unwrap_or(0);
        out.push_str(KEY);
        out.push_str(&key());
        out.push_str(&part[end..]);
    }
    out.into()
}

/// Gives a page from the shelf, or has it written and keeps it.
pub(crate) async fn shelf(State(site): State<Site>, request: Request, next: Next) -> Response {
    let uri = request.uri();
    let asked = uri
        .path_and_query()
        .map(|p| p.as_str())
        .filter(|p| p.len() <= LONGEST && KEPT.contains(&uri.path()))
        .map(str::to_owned);
    let (Some(page), &Method::GET) = (asked, request.method()) else {
        return next.run(request).await;
    };
    let Ok(state) = site.ask(desk::Desk::standing).await else {
        return next.run(request).await;
    };
    if let Some((headers, body)) = site.shelf.take(&state, &page) {
        let mut answer = Response::new(Body::from(with_own_keys(&body)));
        *answer.headers_mut() = headers;
        return answer;
    }
    let answer = next.run(request).await;
    if answer.status() != StatusCode::OK {
        return answer;
    }
    let (parts, body) = answer.into_parts();
    match to_bytes(body, LARGEST).await {
        Ok(body) => {
            site.shelf
                .put(&state, page, (parts.headers.clone(), body.clone()));
            Response::from_parts(parts, Body::from(body))
        }
        Err(_) => super::problem(
            StatusCode::INTERNAL_SERVER_ERROR,
            "The page came out too long to send.",
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_copy_has_keys_of_its_own() {
        let page = Bytes::from(
            "<form><input name=\"key\" value=\"a\"></form><form><input name=\"key\" value=\"b\"></form>",
        );
        let (one, two) = (with_own_keys(&page), with_own_keys(&page));
        assert_ne!(one, two);
        let text = String::from_utf8_lossy(&one);
        let keys: Vec<&str> = text
            .split(KEY)
            .skip(1)
            .filter_map(|p| p.split('"').next())
            .collect();
        assert_eq!(keys.len(), 2);
        assert_ne!(keys[0], keys[1]);
        assert!(text.ends_with("\"></form>"));
        let plain = Bytes::from("<p>no form</p>");
        assert_eq!(with_own_keys(&plain), plain);
    }
}
