//! What is kept about a client beside the client's file and the records.

use std::path::Path;

use serde::Deserialize;

use crate::diagnostic::SourceText;
use crate::record::{ClientCode, client_named_in};
use crate::workspace;

/// A draft of the chairside, as far as it tells whose it is.
#[derive(Deserialize)]
struct Whose {
    client: String,
}

/// What the chairside keeps about a client beside the records, relative to the salon folder: drafts, and versions that were put aside.
#[must_use]
pub fn kept_about(folder: &Path, client: &ClientCode) -> Vec<String> {
    let text = |name: &str| workspace::kept_private(folder, name).ok().flatten();
    let drafts = workspace::private_names(folder, "drafts").into_iter().map(|file| format!("drafts/{file}"));
    let drafts = drafts.filter(|name| {
        let draft = text(name).and_then(|text| serde_json::from_str::<Whose>(&text).ok());
        draft.is_some_and(|draft| draft.client == client.as_str())
    });
    let aside = workspace::private_names(folder, "set-aside").into_iter().map(|file| format!("set-aside/{file}"));
    let aside = aside.filter(|name| {
        let named = text(name).and_then(|text| client_named_in(&SourceText::new(name.as_str(), text)));
        named.as_ref() == Some(client)
    });
    drafts.chain(aside).map(|name| format!("private/{name}")).collect()
}

/// Every client whom a draft or a version put aside names.
pub(super) fn named_in_kept(folder: &Path) -> Vec<ClientCode> {
    let files = ["drafts", "set-aside"]
        .into_iter()
        .flat_map(|part| workspace::private_names(folder, part).into_iter().map(move |name| format!("{part}/{name}")));
    let whose = |name: String| {
        let text = workspace::kept_private(folder, &name).ok().flatten()?;
        match serde_json::from_str::<Whose>(&text) {
            Ok(draft) => ClientCode::try_new(&draft.client),
            Err(_) => client_named_in(&SourceText::new(name, text)),
        }
    };
    files.filter_map(whose).collect()
}
