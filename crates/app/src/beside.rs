//! Forecasts, worked out beside the pages so that no page waits for one.
//!
//! After every answer the worker looks whether the journal or the day has moved on; if not, that costs one
//! look at the journal's mark. Once a minute it looks by itself: another program may have written.

use std::sync::Arc;
use std::sync::mpsc::{RecvTimeoutError, SyncSender, sync_channel};
use std::time::Duration;

use axum::extract::{Request, State};
use axum::middleware::Next;
use axum::response::Response;
use desk::Desk;

const LOOK_AGAIN: Duration = Duration::from_secs(60);
/// Between two looks: under load the bell would never be still, and the look would cost as much as the pages.
const BREATH: Duration = Duration::from_millis(200);

/// Wakes the worker; it ends when every one of these is gone.
pub(crate) type Bell = SyncSender<()>;

/// Starts the worker. What goes wrong is told once, by `tell`.
///
/// # Errors
/// Where the system gives no thread.
pub(crate) fn start(desk: Arc<Desk>, tell: fn(&str)) -> std::io::Result<Bell> {
    // One ring waiting is enough: it stands for everything written since.
    let (bell, rung) = sync_channel(1);
    std::thread::Builder::new()
        .name("forecasts".into())
        .spawn(move || {
            let mut told = None;
            loop {
                let wrong = desk.work_out_forecasts();
                let wrong = wrong
                    .and(desk.work_out_season())
                    .err()
                    .map(|e| e.to_string());
                if let Some(text) = wrong.as_ref().filter(|_| wrong != told) {
                    tell(&format!("a forecast could not be worked out: {text}"));
                }
                told = wrong;
                std::thread::sleep(BREATH);
                if rung.recv_timeout(LOOK_AGAIN) == Err(RecvTimeoutError::Disconnected) {
                    return;
                }
            }
        })?;
    Ok(bell)
}

/// Lets a request through, then rings.
pub(crate) async fn ring_after(State(bell): State<Bell>, request: Request, next: Next) -> Response {
    let answer = next.run(request).await;
    // Full means that it will look anyway.
    _ = bell.try_send(());
    answer
}
