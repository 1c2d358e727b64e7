//! The fields of `salon.toml`: every name, what it wants, what it is, an example.

use chrono::Weekday;

use super::Units;
use crate::form::{Field, Form, Limits, Section, Shape, WRITTEN_BY_HAND, Wants, number, whole, word, words};
use crate::units::worded;

/// The salon's own file, `salon.toml`.
pub static SALON: Form = Form {
    what: "a salon file",
    top: &TOP,
    smallest: "format = 1\nname = \"Example Rooms\"\nbase_address = \"https://care.example.org\"\ntime_zone = \"Europe/London\"\n\n[emergency]\ncountry = \"GB\"\nnumber = \"999\"\n",
    beside: None,
    largest: WRITTEN_BY_HAND,
};

const LINE: Wants = Wants::Text(Shape::Line);
const CODE: Wants = Wants::Text(Shape::Code);
const PHONE: Wants = Wants::Text(Shape::Phone);

worded! {
    /// A day of the week.
    Day, "day of the week" {
        /// Monday.
        Monday = "monday" ["mon"],
        /// Tuesday.
        Tuesday = "tuesday" ["tue", "tues"],
        /// Wednesday.
        Wednesday = "wednesday" ["wed"],
        /// Thursday.
        Thursday = "thursday" ["thu", "thurs"],
        /// Friday.
        Friday = "friday" ["fri"],
        /// Saturday.
        Saturday = "saturday" ["sat"],
        /// Sunday.
        Sunday = "sunday" ["sun"],
    }
}

impl Day {
    /// The same day for the calendar.
    pub(super) const fn weekday(self) -> Weekday {
        match self {
            Self::Monday => Weekday::Mon,
            Self::Tuesday => Weekday::Tue,
            Self::Wednesday => Weekday::Wed,
            Self::Thursday => Weekday::Thu,
            Self::Friday => Weekday::Fri,
            Self::Saturday => Weekday::Sat,
            Self::Sunday => Weekday::Sun,
        }
    }
}

static TOP: Section = Section::new(
    "",
    "the salon's own settings",
    &[
        Field::new("format", whole(1.0, 1.0, ""), "the format of this file, always 1", "1").required(),
        Field::new("name", LINE, "the name shown", "\"Example Rooms\"").required(),
        Field::new(
            "base_address",
            LINE,
            "the address under which the pages are published",
            "\"https://care.example.org\"",
        )
        .required(),
        Field::new("time_zone", LINE, "the salon's time zone", "\"Europe/London\"").required(),
        Field::new("units", word::<Units>(), "the units on pages", "\"metric\""),
        Field::new(
            "language",
            Wants::Text(Shape::Language),
            "the language of pages when the client has none",
            "\"en\"",
        ),
        Field::new("theme", CODE, "the look of the pages, a folder of themes", "\"paper\""),
        Field::new("accent", Wants::Text(Shape::HexColour), "the salon's own colour on pages", "\"#7a4b3a\""),
        Field::new("logo", Wants::Text(Shape::Path), "the salon's sign, a file beside this one", "\"logo.svg\""),
        Field::new("chairs", whole(1.0, 500.0, ""), "the number of chairs", "3"),
        Field::new(
            "page_expires_after_days",
            whole(1.0, 3660.0, "days"),
            "when a page expires, counted from the last visit it proposes",
            "180",
        ),
        Field::new("sealed", Wants::YesNo, "whether pages are sealed unless a client's file says otherwise", "false"),
        Field::new("currency", Wants::Text(Shape::Currency), "the currency of every price", "\"GBP\""),
        Field::section_of(&CONTACT),
        Field::section_of(&EMERGENCY).required(),
        Field::sections_of(&HOURS, 50),
        Field::sections_of(&CLOSED, 200),
        Field::sections_of(&STYLIST, 200),
        Field::sections_of(&SERVICE, 200),
        Field::section_of(&PRACTICE),
        Field::section_of(&BOOK),
        Field::section_of(&RETENTION),
    ],
);

static CONTACT: Section = Section::new(
    "contact",
    "how clients reach the salon",
    &[
        Field::new("phone", PHONE, "the phone number in international form", "\"+44 20 7946 0101\""),
        Field::new("text", PHONE, "the number for text messages, when it is another", "\"+44 7700 900123\""),
        Field::new("email", Wants::Text(Shape::Email), "the e-mail address", "\"hello@example.org\""),
        Field::new("address", LINE, "the street address in one line", "\"1 Sample Street, London\""),
    ],
);

static EMERGENCY: Section = Section::new(
    "emergency",
    "what to call in an emergency, shown on every page",
    &[
        Field::new("country", Wants::Text(Shape::Country), "the country, two capital letters", "\"GB\"").required(),
        Field::new("number", Wants::Text(Shape::Dial), "the emergency number", "\"999\"").required(),
        Field::new("advice_line", Wants::Text(Shape::Dial), "the number for advice that is not urgent", "\"111\""),
    ],
);

static HOURS: Section = Section::new("hours", "when the salon is open", HOURS_OF_DAYS);

const HOURS_OF_DAYS: &[Field] = &[
    Field::new("days", words::<Day>(), "the days of the week", "[\"tuesday\", \"wednesday\"]").required(),
    Field::new("open", Wants::Time, "when it opens", "09:00:00").required(),
    Field::new("close", Wants::Time, "when it closes", "18:00:00").required(),
];

static CLOSED: Section = Section::new("closed", "days on which the salon is closed", SPAN_OF_DAYS);

static AWAY: Section = Section::new("away", "days on which a stylist is away", SPAN_OF_DAYS);

const SPAN_OF_DAYS: &[Field] = &[
    Field::new("from", Wants::Date, "the first day", "2026-12-24").required(),
    Field::new("to", Wants::Date, "the last day", "2027-01-03").required(),
];

static OWN_HOURS: Section = Section::new("hours", "a stylist's own hours, inside the opening hours", HOURS_OF_DAYS);

static PAUSE: Section = Section::new(
    "pause",
    "a stylist's break",
    &[
        Field::new(
            "days",
            words::<Day>(),
            "the days of the week; every working day when it is missing",
            "[\"friday\"]",
        ),
        Field::new("from", Wants::Time, "when it begins", "13:00:00").required(),
        Field::new("to", Wants::Time, "when it ends", "13:30:00").required(),
    ],
)
.also(&["break"]);

static STYLIST: Section = Section::new(
    "stylist",
    "someone who works here",
    &[
        Field::new("code", CODE, "the code used in visit records", "\"ines\"").required(),
        Field::new("name", LINE, "the name shown", "\"Ines\"").required(),
        Field::new(
            "days",
            words::<Day>(),
            "the working days; every open day when it is missing",
            "[\"tuesday\", \"thursday\"]",
        ),
        Field::new(
            "skills",
            Wants::Texts(Shape::Code, 200),
            "the codes of the services this stylist does; all when it is empty",
            "[\"refresh\"]",
        ),
        Field::new("leaves", Wants::Date, "the last working day of someone who is leaving", "2027-02-27"),
        Field::sections_of(&OWN_HOURS, 50),
        Field::sections_of(&PAUSE, 50),
        Field::sections_of(&AWAY, 200),
    ],
);

static SERVICE: Section = Section::new(
    "service",
    "something the salon does, as spans of chair time",
    &[
        Field::new("code", CODE, "its code", "\"refresh\"").required(),
        Field::new("name", LINE, "the name shown", "\"Colour refresh\"").required(),
        Field::new("hands_on_minutes", number(0.0, 1440.0, "min"), "the work before developing", "30").required(),
        Field::new("developing_minutes", number(0.0, 1440.0, "min"), "the developing, when hands are free", "20"),
        Field::new("finishing_minutes", number(0.0, 1440.0, "min"), "the work after developing", "25"),
        Field::new("buffer_minutes", number(0.0, 240.0, "min"), "the time kept free behind it", "10"),
        Field::new(
            "price",
            Wants::Numbers(&["lowest", "highest"], Limits { low: 0.0, high: 100_000.0, unit: "" }),
            "the lowest and the highest price",
            "[60, 85]",
        ),
    ],
);

const WEEKS: Wants = Wants::Numbers(&["earliest", "usual", "latest"], Limits { low: 0.0, high: 104.0, unit: "weeks" });

/// A section with one field for each shade kind.
macro_rules! by_shade {
    ($section:ident, $name:literal, $doc:literal, $wants:expr, $pastel:literal, $vivid:literal, $toner:literal, $permanent:literal) => {
        static $section: Section = Section::new(
            $name,
            $doc,
            &[
                Field::new("pastel", $wants, "the value for pastels", $pastel),
                Field::new("vivid", $wants, "the value for vivids", $vivid),
                Field::new("toner", $wants, "the value for toners and glosses", $toner),
                Field::new("permanent", $wants, "the value for permanent colour", $permanent),
            ],
        );
    };
}

by_shade!(
    FIRST_WASH,
    "first_wash_hours",
    "the hours before the first wash",
    number(0.0, 336.0, "hours"),
    "72",
    "72",
    "48",
    "48"
);
by_shade!(
    SHARE,
    "refresh_share_percent",
    "the share of the colour still seen when a refresh is due",
    number(5.0, 95.0, "%"),
    "30",
    "30",
    "30",
    "30"
);
by_shade!(
    REFRESH,
    "refresh_weeks",
    "the usual weeks to a refresh",
    WEEKS,
    "[1, 3, 8]",
    "[4, 5, 12]",
    "[4, 5, 6]",
    "[4, 8, 12]"
);
by_shade!(
    WASH_CAP,
    "wash_cap_per_week",
    "the most washes a week advised",
    number(0.5, 14.0, "a week"),
    "3",
    "3",
    "3",
    "4"
);

static PRACTICE: Section = Section::new(
    "practice",
    "the salon's own habits and limits; what is missing is common practice",
    &[
        Field::section_of(&FIRST_WASH),
        Field::section_of(&SHARE),
        Field::section_of(&REFRESH),
        Field::section_of(&WASH_CAP),
        Field::new("scalp_retouch_weeks", WEEKS, "the weeks to a retouch of on-scalp lightener", "[4, 6, 8]"),
        Field::new("tint_roots_weeks", WEEKS, "the weeks to roots of tint or white cover", "[4, 5, 6]"),
        Field::new("foils_weeks", WEEKS, "the weeks to the next foils", "[8, 10, 12]"),
        Field::new("freehand_weeks", WEEKS, "the weeks to the next freehand work", "[10, 13, 16]"),
        Field::new("trim_weeks", WEEKS, "the weeks to a trim", "[8, 10, 12]"),
        Field::new(
            "regrowth_warn_mm",
            number(1.0, 200.0, "mm"),
            "the regrowth at which a retouch of lightener is urged",
            "20",
        ),
        Field::new("regrowth_stop_mm", number(1.0, 200.0, "mm"), "the regrowth at which it takes two stages", "25"),
        Field::new(
            "relighten_min_weeks",
            number(0.0, 52.0, "weeks"),
            "the least time between lightening the same hair",
            "4",
        ),
        Field::new(
            "scalp_peroxide_max_percent",
            number(0.0, 12.0, "%"),
            "the strongest peroxide allowed on the scalp",
            "6",
        ),
        Field::new(
            "alert_test_lead_hours",
            number(48.0, 336.0, "hours"),
            "how long before a service an alert test is made",
            "48",
        ),
        Field::new(
            "alert_test_valid_months",
            whole(0.0, 24.0, "months"),
            "how long an alert test counts where the leaflet allows it; 0 means a test every time",
            "0",
        ),
        Field::new(
            "growth_mm_per_day",
            number(0.1, 0.8, "mm a day"),
            "how fast hair grows when the client's own growth is not known",
            "0.37",
        ),
        Field::new("water_max_celsius", number(20.0, 60.0, "°C"), "the warmest wash water advised", "38"),
        Field::new("iron_max_celsius", number(60.0, 230.0, "°C"), "the hottest tool advised on lightened hair", "150"),
        Field::new(
            "heat_days_per_week",
            number(0.0, 7.0, "days a week"),
            "the most days a week with hot tools advised",
            "2",
        ),
    ],
);

static RETENTION: Section = Section::new(
    "retention",
    "how long what concerns health is kept",
    &[
        Field::new(
            "incident_card_reason",
            LINE,
            "why the tests, reactions and incidents of a client who is forgotten are kept, sealed; none are without a reason and days",
            "\"a claim may be made for three years\"",
        ),
        Field::new(
            "incident_card_days",
            whole(1.0, 3660.0, "days"),
            "for how many days after forgetting they are kept",
            "1096",
        ),
        Field::new(
            "alert_test_days",
            whole(1.0, 3660.0, "days"),
            "for how many days an alert test stays on record before `check` tells it and `forget --old-tests` takes it out",
            "1096",
        ),
    ],
);

const MINUTES: Wants = number(0.0, 240.0, "min");

/// What a day or a change is worth, in the salon's currency.
const WORTH: Wants = number(0.0, 100_000.0, "");

static BOOK: Section = Section::new(
    "book",
    "how the book is kept: times, extras, and what a day too early or too late is worth",
    &[
        Field::new(
            "share_developing",
            Wants::YesNo,
            "whether a stylist may see a second client while a colour develops; never while lightener works",
            "false",
        ),
        Field::new(
            "step_minutes",
            whole(5.0, 60.0, "min"),
            "the step on which appointments begin, a part of an hour",
            "15",
        ),
        Field::new("consultation_minutes", MINUTES, "the talk before every service with colour", "15"),
        Field::new("long_hair_from_mm", number(50.0, 2000.0, "mm"), "the length from which hair takes longer", "450"),
        Field::new("long_hair_minutes", MINUTES, "how much longer long hair takes", "30"),
        Field::new("dense_hair_minutes", MINUTES, "how much longer dense hair takes", "30"),
        Field::new(
            "long_regrowth_minutes",
            MINUTES,
            "how much longer roots take with regrowth over `regrowth_stop_mm`",
            "30",
        ),
        Field::new("most_extra_minutes", MINUTES, "the most that all extras come to", "60"),
        Field::new("trim_minutes", MINUTES, "the time for a trim at a visit with colour", "30"),
        Field::new(
            "show_time",
            Wants::YesNo,
            "whether the client's page tells the time of a booking beside its day",
            "true",
        ),
        Field::new("early_price_per_day", WORTH, "what a day before the colour needs it costs", "1"),
        Field::new("late_price_per_day", WORTH, "what a day after the colour is gone costs", "2.5"),
        Field::new("move_price", WORTH, "what it costs to move a proposal that stands", "15"),
        Field::new("other_stylist_price", WORTH, "what it costs to send a client to another stylist", "8"),
        Field::new("left_out_price", WORTH, "what it costs to leave a client without a time", "250"),
    ],
);
