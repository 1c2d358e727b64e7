//! `publish`, run as a person would: into a folder, and to a server that speaks like S3 and that others wrote.

mod folder;
mod server;
mod site;
