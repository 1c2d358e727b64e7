//! `publish`, run as a person would: into a folder. Servers that others wrote are asked by `tests/servers`.

mod every_field;
mod folder;
