//! The fields of a client file, the health section among them.

use super::{FORMAT, LINE, PROSE};
use crate::form::{Field, Section, Shape, Wants, whole, word};
use crate::record::words::HistoryKind;

pub(super) static CLIENT_TOP: Section = Section::new(
    "",
    "who the client is, as far as the salon needs to know",
    &[
        FORMAT,
        Field::new("first_name", LINE, "the client's first name, when the salon keeps it", "\"Wren\""),
        Field::new("show_first_name", Wants::YesNo, "whether the client wants the first name on the page", "false"),
        Field::new("language", Wants::Text(Shape::Language), "the language of the client's page", "\"en\""),
        Field::new(
            "link_number",
            whole(1.0, 9999.0, ""),
            "which link this client has; a new number is a new link",
            "1",
        ),
        Field::new(
            "sealed",
            Wants::YesNo,
            "whether this client's page is sealed; the salon decides when it is missing",
            "false",
        ),
        Field::section_of(&CONTACT),
        Field::section_of(&AGE),
        Field::section_of(&CONSENTS),
        Field::sections_of(&HISTORY, 100),
        Field::section_of(&HEALTH),
    ],
);

static CONTACT: Section = Section::new(
    "contact",
    "how to reach the client",
    &[
        Field::new("phone", Wants::Text(Shape::Phone), "the phone number in international form", "\"+44 7700 900456\""),
        Field::new("email", Wants::Text(Shape::Email), "the e-mail address", "\"wren@example.org\""),
    ],
);

static AGE: Section =
    Section::new(
        "age",
        "whether the client is 16 or over",
        &[
            Field::new("sixteen_or_over", Wants::YesNo, "whether the client is 16 or over", "true")
                .required()
                .slips(&["over_16", "over_sixteen", "sixteen", "adult", "is_adult"]),
            Field::new("confirmed", Wants::Date, "the day on which the age was confirmed", "2026-01-12"),
        ],
    );

static CONSENTS: Section = Section::new(
    "consents",
    "what the client agreed to, each with its day",
    &[
        Field::new("service", Wants::Date, "the day of agreeing to the service and to a page", "2026-01-12"),
        Field::new(
            "health_data",
            Wants::Date,
            "the day of agreeing, in so many words, that health facts are kept",
            "2026-01-12",
        ),
        Field::new("photo", Wants::Date, "the day of agreeing to photos", "2026-01-12"),
        Field::new("marketing", Wants::Date, "the day of agreeing to news from the salon", "2026-01-12"),
    ],
);

static HISTORY: Section = Section::new(
    "history",
    "something done to the hair before",
    &[
        Field::new("what", word::<HistoryKind>(), "what was done", "\"lightening\"").required(),
        Field::new("date", Wants::Date, "the day, as near as it is known", "2025-06-01"),
        Field::new("note", PROSE, "a remark for the salon", "\"elsewhere\""),
    ],
);

pub(super) static HEALTH: Section = Section::new(
    "health",
    "what the salon must know about skin and health; it is never published",
    &[
        Field::new("left_open", LINE, "why questions were left open, when they were", "\"did not want to say\""),
        Field::section_of(&ANSWERS),
        Field::sections_of(&ALERT_TEST, 200),
        Field::sections_of(&REACTION, 100),
        Field::sections_of(&INCIDENT, 100),
    ],
);

static ANSWERS: Section = Section::new(
    "answers",
    "the answers of the consultation; what is missing was not asked",
    &[
        Field::new("black_henna", Wants::YesNo, "whether there ever was a black henna tattoo", "false"),
        Field::new("medicine", Wants::YesNo, "whether a medicine or treatment may change skin or hair", "false"),
        Field::new("pregnancy", Wants::YesNo, "whether the client is pregnant or breastfeeding", "false"),
        Field::new("scalp_condition", Wants::YesNo, "whether the scalp is sore, broken or diseased", "false"),
        Field::new("breathing", Wants::YesNo, "whether lightener ever gave trouble with breathing", "false"),
    ],
);

static ALERT_TEST: Section = Section::new(
    "alert_test",
    "an allergy alert test",
    &[
        Field::new("product", LINE, "the product tested, in the salon's words", "\"our demi range\""),
        Field::new("applied", Wants::Date, "the day it was applied", "2026-01-10").required(),
        Field::new("read", Wants::Date, "the day it was read; an unread test is not clear", "2026-01-12"),
        Field::new("clear", Wants::YesNo, "whether nothing was seen", "true"),
        Field::new("read_by", LINE, "who read it", "\"ines\""),
    ],
);

static REACTION: Section = Section::new(
    "reaction",
    "a reaction to a product",
    &[
        Field::new("to", LINE, "what it was to: a dye class, \"lightener\", or your own words", "\"permanent\"")
            .required(),
        Field::new("date", Wants::Date, "the day, as near as it is known", "2024-01-01"),
        Field::new("note", PROSE, "what happened", "\"itching behind the ears\""),
    ],
);

static INCIDENT: Section = Section::new(
    "incident",
    "something that went wrong",
    &[
        Field::new("date", Wants::Date, "the day", "2024-01-01"),
        Field::new("note", PROSE, "what happened and what was done", "\"a strand broke; stopped and rinsed\"")
            .required(),
    ],
);
