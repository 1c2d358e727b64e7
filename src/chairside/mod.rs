//! What runs beside the chair: programs that answer a browser.
//!
//! In: a salon folder. Out: answers over HTTP, records, pages written again. Knows nothing of: the command line.
//!
//! ```text
//! server ─► guard ─► route ─► home · client · visit · finish · done · book · story ─► page ─► HTML
//!                               draft, rows, begin, look, swatch, fields, offer
//! ```
//!
//! [`server`](self::chairside) is the only part that knows HTTP's types; every page is a function of `House` and what was asked.
//! A visit is a table of typed fields by place, kept as a draft at every change; a record is that table written by [`form`](crate::form),
//! read back by [`record`](crate::record) like any file a person wrote. So every fault is told in `check`'s words.

mod ahead;
mod asked_first;
mod begin;
mod board;
mod book;
mod busy;
mod client;
mod condition;
mod correct;
mod done;
mod draft;
mod fields;
mod finish;
mod guard;
mod home;
mod house;
mod left;
mod look;
mod offer;
mod page;
mod questions;
mod reply;
mod route;
mod rows;
mod said;
mod server;
mod sheet;
mod story;
mod swatch;
mod view;
mod visit;

pub use server::{Place, Settings, chairside, open};
pub use view::view;
