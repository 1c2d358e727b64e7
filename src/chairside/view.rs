//! The site as it will be published, served to browsers on this machine only.

use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::Path;

use axum::Router;
use axum::extract::Request;
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, HOST, HeaderValue, REFERRER_POLICY, X_CONTENT_TYPE_OPTIONS};
use axum::middleware::{Next, from_fn};
use axum::response::{IntoResponse, Response};
use tower_http::services::{ServeDir, ServeFile};

/// Serves a folder on the loopback address until the process ends; port 0 takes any that is free.
///
/// `ready` is told the address once browsers can open it. A folder is never listed, and what is missing gets `404.html`.
///
/// # Errors
/// When the port is taken or the system refuses.
pub fn view(public: &Path, port: u16, ready: impl FnOnce(SocketAddr)) -> io::Result<()> {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_io().enable_time().build()?;
    runtime.block_on(async {
        let listener = tokio::net::TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await?;
        ready(listener.local_addr()?);
        axum::serve(listener, router(public)).await
    })
}

fn router(public: &Path) -> Router {
    let missing = ServeFile::new(public.join("404.html"));
    let files = ServeDir::new(public).append_index_html_on_directories(false).not_found_service(missing);
    Router::new().fallback_service(files).layer(from_fn(guarded))
}

/// Refuses whoever asks for another host: a page elsewhere could otherwise read this one through a name of its own that leads here (DNS rebinding).
async fn guarded(request: Request, next: Next) -> Response {
    let host = request.headers().get(HOST).and_then(|host| host.to_str().ok());
    // A whole address in the request line goes before the Host header (RFC 9112 §3.2.2).
    let asked = request.uri().authority().map(|authority| authority.as_str());
    if !(host.is_some_and(is_this_machine) && asked.is_none_or(is_this_machine)) {
        return (StatusCode::FORBIDDEN, "afterhue view answers to 127.0.0.1 and localhost only.\n").into_response();
    }
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    headers.insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
    headers.insert(REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    headers.insert(X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    response
}

/// Whether a Host header (RFC 9110 §7.2) names this machine, with a port or without.
fn is_this_machine(host: &str) -> bool {
    let (name, port) = host.split_once(':').unwrap_or((host, "0"));
    let plain = port.chars().all(|c| c.is_ascii_digit());
    plain && (name.eq_ignore_ascii_case("localhost") || name == "127.0.0.1")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_names_of_this_machine_are_answered() {
        for good in ["localhost", "LOCALHOST:8080", "127.0.0.1", "127.0.0.1:80"] {
            assert!(is_this_machine(good), "{good}");
        }
        for bad in [
            "",
            "evil.example",
            "localhost.evil.example",
            "127.0.0.1.evil.example",
            "127.0.0.1:80@evil.example",
            "192.168.0.2",
        ] {
            assert!(!is_this_machine(bad), "{bad}");
        }
    }
}
