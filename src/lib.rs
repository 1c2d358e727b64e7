//! afterhue turns a finished-service record into the client's own care page.

pub mod units;

pub mod diagnostic;

pub mod form;

pub mod science;

pub mod record;
pub mod salon;

pub mod forecast;

pub mod plan;

pub mod care;
pub mod schedule;

pub mod page;

pub mod workspace;

pub mod site;

pub mod pipeline;
