//! From fields as read to a salon: what the fields mean together.

mod address;
mod book;
mod emergency;
mod house;
mod practice;
mod retention;

use super::{Salon, SalonContact, SalonEstimate, Units};
use crate::diagnostic::{Checked, SourceText};
use crate::form::{self, Filled, Findings};

/// Reads `salon.toml`. What it does not say is common practice, as in [`super::Practice::default`].
#[must_use]
pub fn read_salon(source: &SourceText) -> Checked<Salon> {
    let (filled, mut findings) = form::read(source, &super::SALON);
    let salon = filled.and_then(|filled| salon(&filled, &mut findings));
    findings.check(salon)
}

fn salon(file: &Filled, findings: &mut Findings<'_>) -> Option<Salon> {
    let base_address = address::base_address(file, findings);
    let time_zone = address::time_zone(file, findings);
    let contact = contact(file, findings);
    let hours = house::hours(file, findings);
    let closures = house::closures(file, findings);
    let services = house::services(file, findings);
    let stylists = house::stylists(file, &services, &hours, findings);
    let practice = practice::practice(file.section("practice"), findings);
    let book = book::rules(file.section("book"), findings);
    let retention = retention::retention(file.section("retention"), findings);
    let emergency = file.section("emergency").and_then(|section| emergency::emergency(section, findings));
    Some(Salon {
        name: file.owned("name")?,
        contact,
        base_address: base_address?,
        time_zone: time_zone?,
        units: file.word("units").unwrap_or(Units::Metric),
        language: file.owned("language").unwrap_or_else(|| "en".to_owned()),
        hours,
        closures,
        stylists,
        chairs: file.whole("chairs").unwrap_or(1),
        services,
        practice,
        book,
        retention,
        theme: file.owned("theme").unwrap_or_else(|| "paper".to_owned()),
        accent: file.text("accent").map(str::to_lowercase),
        logo: file.owned("logo"),
        currency: file.owned("currency"),
        emergency: emergency?,
        page_expires_after_days: file.whole("page_expires_after_days").unwrap_or(180),
        sealed: file.yes("sealed").unwrap_or(false),
        estimate: SalonEstimate::default(),
    })
}

fn contact(file: &Filled, findings: &mut Findings<'_>) -> SalonContact {
    let text = |field| file.section("contact").and_then(|contact| contact.owned(field));
    let contact =
        SalonContact { phone: text("phone"), text: text("text"), email: text("email"), address: text("address") };
    let written = |field| file.section("contact").is_some_and(|contact| contact.is_written(field));
    if !["phone", "text", "email"].into_iter().any(written) {
        findings.caution_about_file(
            "the pages cannot tell a client how to reach the salon",
            "Write under [contact] at least one of `phone`, `text` and `email`",
        );
    }
    contact
}
