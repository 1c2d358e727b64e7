//! A plan, made: rhythm first, then everything at that rhythm.

use chrono::NaiveDate;

use super::refresh::{self, date_range};
use super::ribbon::ribbon;
use super::visits::{VisitPart, visits, window_of};
use super::what_if::what_if;
use super::window::{day_after, on_open_day};
use super::{Doubt, Plan, Rhythm, Standing, caution, doubt, roots, washing};
use crate::forecast::Forecast;
use crate::record::{AgeCheck, Shareable};
use crate::salon::{Salon, ShadeKind};
use crate::units::PerWeek;

/// Plans the weeks after the latest visit.
#[must_use]
pub fn plan(history: &Shareable, salon: &Salon, forecast: &Forecast) -> Plan {
    let visit = history.latest();
    if !matches!(history.client().age, AgeCheck::Confirmed(_)) {
        return without_age(visit.date, salon, forecast);
    }
    let leading_zone = forecast.leading_zone();
    let shade = leading_zone.map(|index| forecast.zones[index].shade);
    let wished = refresh::wished(visit, &salon.practice, shade);
    let rhythm = washing::rhythm(visit, &salon.practice, shade.unwrap_or(ShadeKind::Toner), forecast, wished);
    let forecast = forecast.with_washes(PerWeek::from_per_week(rhythm.per_week));
    // How long a rhythm keeps the colour is told by the forecast at that rhythm.
    let rhythm = Rhythm { keeps_until: washing::keeps_until(visit.date, &forecast), ..rhythm };
    let nearly_back = forecast.nearly_back.map(|back| date_range(visit.date, back));
    let open = |day| salon.open_on(day);
    let by_colour = |forecast: &Forecast| {
        refresh::window(visit, &salon.practice, shade?, forecast).map(|window| on_open_day(window, &open))
    };
    let refresh = by_colour(&forecast);
    let roots = roots::roots(history, salon);
    let trim = refresh::trim(history, &salon.practice);
    let merged = |refresh| visits(&refresh::needs(salon, shade, refresh, roots, trim), visit.date, &open);
    let visits = merged(refresh);
    let refreshed_in = |forecast: &Forecast| {
        let alone = by_colour(forecast);
        window_of(&merged(alone), VisitPart::Refresh).or(alone)
    };
    let refreshed = window_of(&visits, VisitPart::Refresh).or(refresh);
    let first_wash = day_after(visit.date, forecast.clock.first_wash().to_days()).unwrap_or(visit.date);
    let next = visits.first().map_or(visit.date, |visit| visit.window.latest);
    let last = [refresh.map(|window| window.latest), roots.map(|roots| roots.window.latest)];
    let last = last.into_iter().flatten().max().unwrap_or(next);
    let ribbon = ribbon(visit.date, &forecast, refreshed.map(|window| window.latest));
    let days: Vec<u32> = ribbon.first().map_or_else(Vec::new, |zone| zone.steps.iter().map(|step| step.day).collect());
    Plan {
        standing: Standing::Planned,
        service: visit.date,
        shade,
        leading_zone,
        first_wash,
        wash_dates: washing::wash_dates(first_wash, rhythm.every_days, next),
        rhythm,
        turns: forecast.turns.map(|turns| date_range(visit.date, turns)),
        doubt: doubt::doubt(visit.date, &forecast, nearly_back),
        nearly_back,
        what_if: if shade.is_some() { what_if(visit.date, &forecast, &days, refreshed_in) } else { Vec::new() },
        event: visit.wishes.event,
        refresh,
        roots,
        trim,
        visits,
        top_up_zones: refresh::top_up_zones(&forecast),
        ribbon,
        cautions: caution::cautions(history, &forecast),
        expires: expiry(last, salon),
        forecast,
    }
}

/// Nobody confirmed that the client is 16 or over: no dates for colour, no visits, no booking.
fn without_age(service: NaiveDate, salon: &Salon, forecast: &Forecast) -> Plan {
    Plan {
        standing: Standing::AgeNotConfirmed,
        service,
        shade: None,
        leading_zone: None,
        first_wash: service,
        rhythm: Rhythm::unplanned(),
        wash_dates: Vec::new(),
        forecast: Forecast {
            zones: Vec::new(),
            turns: None,
            nearly_back: None,
            evenness: None,
            edges: Vec::new(),
            returned: Vec::new(),
            wild: Vec::new(),
            ..forecast.clone()
        },
        turns: None,
        nearly_back: None,
        refresh: None,
        doubt: Doubt::default(),
        roots: None,
        trim: None,
        visits: Vec::new(),
        top_up_zones: Vec::new(),
        ribbon: Vec::new(),
        cautions: Vec::new(),
        what_if: Vec::new(),
        event: None,
        expires: expiry(service, salon),
    }
}

fn expiry(last: NaiveDate, salon: &Salon) -> NaiveDate {
    day_after(last, f64::from(salon.page_expires_after_days)).unwrap_or(last)
}
