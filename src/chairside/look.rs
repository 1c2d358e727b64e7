//! One look at a draft: the record it would be, every fault beside its field, and the plan it leads to.
//!
//! In: a draft, the salon. Out: [`Look`]. Knows nothing of: mark-up.

use std::collections::BTreeMap;

use crate::diagnostic::{Diagnostic, Severity, SourceText};
use crate::forecast::forecast;
use crate::form::{FilledIn, Remarks, filled_in, remarks_of};
use crate::plan::{Plan, plan};
use crate::record::{self, ClientFile, History, ServiceRecord, VISIT};
use crate::units::PeroxidePercent;

use super::draft::Draft;
use super::house::Opened;

/// What a draft comes to.
pub(super) struct Look {
    /// The record as it would be written.
    pub(super) written: FilledIn,
    /// What there is to say, by the place it belongs to; the empty place is the visit as a whole.
    pub(super) told: BTreeMap<String, Vec<Diagnostic>>,
    /// The plan of the client with this visit; nothing while there is a fault.
    pub(super) plan: Option<Plan>,
}

impl Look {
    /// Whether something has to be put right first.
    pub(super) fn has_fault(&self) -> bool {
        self.told.values().flatten().any(|one| one.severity == Severity::Fault)
    }
}

/// Looks at a draft.
pub(super) fn look(draft: &Draft, opened: &Opened) -> Look {
    let remarks = draft
        .before
        .as_ref()
        .map_or_else(Remarks::default, |text| remarks_of(&SourceText::new(&*draft.file, &**text), &VISIT));
    let written = filled_in(&VISIT, &draft.typed, &remarks);
    let source = SourceText::new(&*draft.file, &*written.text);
    let read = record::read_visit(&source);
    let mut items = read.report.items;
    let mut made = None;
    if let (Some(visit), Some(known), Some((salon, _))) =
        (read.value, opened.clients.get(&draft.client), opened.house())
    {
        let (history, more) = together(&known.client, &known.visits, visit, salon);
        items.extend(more.into_iter().filter(|one| one.file == draft.file));
        made = history.map(|history| {
            let shareable = history.shareable();
            plan(&shareable, salon, &forecast(&shareable, salon))
        });
    }
    let mut told: BTreeMap<String, Vec<Diagnostic>> = BTreeMap::new();
    for one in items {
        told.entry(place_of(&written, &one)).or_default().push(one);
    }
    Look { written, told, plan: made }
}

/// The client's visits with this one, and what only all of them tell.
fn together(
    client: &ClientFile,
    visits: &[ServiceRecord],
    visit: ServiceRecord,
    salon: &crate::salon::Salon,
) -> (Option<History>, Vec<Diagnostic>) {
    let stylists: Vec<String> = salon.stylists.iter().map(|one| one.code.clone()).collect();
    let limit = PeroxidePercent::try_new(salon.practice.scalp_peroxide_max);
    let known = record::Known {
        stylists: &stylists,
        scalp_peroxide_max: limit.unwrap_or(PeroxidePercent::from_percent(6.0)),
        clients_at_fault: &[],
    };
    let others = visits.iter().filter(|other| other.file != visit.file).cloned();
    let all = others.chain([visit.clone()]).collect();
    let (mut histories, report) = record::histories(vec![client.clone()], all, &known);
    let whole = histories.pop().filter(|history| history.visits.iter().any(|other| other.file == visit.file));
    (whole, report.items)
}

/// The field a word of `check` belongs to. What is missing is told at its section, and names its field.
fn place_of(written: &FilledIn, one: &Diagnostic) -> String {
    let Some(place) = one.span.as_ref().and_then(|span| written.place_of(span)) else {
        let named = named_in(&one.message);
        let top = named.filter(|name| VISIT.top.fields.iter().any(|field| field.name == *name));
        return top.unwrap_or_default().to_owned();
    };
    let mut section = VISIT.top;
    for part in place.split('.').filter(|part| part.parse::<usize>().is_err()) {
        match section.fields.iter().find(|field| field.name == part).map(|field| field.section()) {
            Some(Some(below)) => section = below,
            _ => return place.to_owned(),
        }
    }
    match named_in(&one.message).filter(|name| section.fields.iter().any(|field| field.name == *name)) {
        Some(field) => format!("{place}.{field}"),
        None => place.to_owned(),
    }
}

/// The first name between backquotes.
fn named_in(message: &str) -> Option<&str> {
    message.split('`').nth(1)
}
