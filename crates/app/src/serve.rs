//! The pages on this machine, until Ctrl-C.

use std::net::Ipv4Addr;
use std::sync::Arc;

use axum::Router;
use axum::middleware::{from_fn, from_fn_with_state};
use desk::Desk;
use thiserror::Error;

use crate::{api, beside, pages};

/// Why the pages are not served.
#[derive(Debug, Error)]
pub(crate) enum Failed {
    /// The port is taken or not allowed.
    #[error("port {port} cannot be used: {reason}; give another with --port, or --port 0 for any")]
    Port {
        /// Port asked for.
        port: u16,
        /// What the system says.
        reason: std::io::Error,
    },
    /// The system would not run or go on serving.
    #[error("serving stopped: {0}; start it again")]
    System(#[from] std::io::Error),
}

/// Serves on 127.0.0.1 until Ctrl-C; port 0 takes any free one.
///
/// # Errors
/// [`Failed`], with the way out.
pub(crate) fn run(desk: Arc<Desk>, port: u16) -> Result<(), Failed> {
    tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()?
        .block_on(listen(desk, port))
}

async fn listen(desk: Arc<Desk>, port: u16) -> Result<(), Failed> {
    let listener = tokio::net::TcpListener::bind((Ipv4Addr::LOCALHOST, port))
        .await
        .map_err(|reason| Failed::Port { port, reason })?;
    say(&format!("listening on http://{}", listener.local_addr()?));
    let bell = beside::start(Arc::clone(&desk), say)?;
    let app = guarded(router(desk)).layer(from_fn_with_state(bell, beside::ring_after));
    axum::serve(listener, app)
        .with_graceful_shutdown(async {
            // Without a signal to wait for, it serves until it is ended from outside.
            if tokio::signal::ctrl_c().await.is_err() {
                std::future::pending::<()>().await;
            }
        })
        .await?;
    Ok(())
}

#[expect(
    clippy::print_stderr,
    reason = "the address is for the person who started it"
)]
fn say(line: &str) {
    eprintln!("{line}");
}

/// Every page and the JSON beside them, without the guards.
pub(crate) fn router(desk: Arc<Desk>) -> Router {
    api::router(Arc::clone(&desk)).merge(pages::router(desk))
}

/// Puts limits, the same-origin check, headers and compression around a router.
pub(crate) fn guarded(router: Router) -> Router {
    router.layer(from_fn(pages::guard))
}
