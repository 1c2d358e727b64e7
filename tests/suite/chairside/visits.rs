//! Visits written by plain forms, from the first tap to the code.

use super::tablet::{LEFT_OPEN, Tablet, desk, desk_beside};
use crate::salon_copy::SalonCopy;

const RECORD: &str = "records/2026/2026-11-25-wren-04.toml";

#[test]
fn a_returning_client_is_finished_by_telling_only_what_changed() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let (visit, form) = tablet.ready("wren-04");
    assert!(form.body.contains("Turns") && form.body.contains("Nearly back"), "the forecast is there at once");
    let done = tablet.send(&visit, &form, &[("hair.regrowth_mm", "3"), ("hair.trimmed_mm", "0"), ("do", "finish")]);
    assert_eq!((done.status, done.header("location")), (303, "/done/wren-04"), "{}", done.body);
    let record = salon.read(RECORD);
    assert!(record.starts_with("format = 1\nclient = \"wren-04\"\ndate = 2026-11-25\n"), "{record}");
    assert!(record.contains("regrowth_mm = 3\n") && !record.contains("Lovely to see you again"), "{record}");
    salon.afterhue(&["check"]).assert().success();
    let page = tablet.get("/done/wren-04");
    assert!(
        page.body.contains("<svg class=\"code\"") && page.body.contains("sms:+44") && page.body.contains("mailto:")
    );
    let address =
        page.body.split("class=\"address\">").nth(1).and_then(|rest| rest.split('<').next()).expect("an address");
    let path = address.split_once("/c/").expect("a page").1.to_owned();
    assert!(salon.read(&format!("public/c/{path}")).contains("25 November"), "the client's page is written again");
    assert_eq!(
        std::fs::read_dir(salon.path("private/drafts")).expect("there").count(),
        0,
        "the draft became the record"
    );
}

#[test]
fn a_new_client_goes_from_an_empty_form_to_a_booked_visit_without_script() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let form = tablet.get("/client");
    let fields = [
        ("code", "lark-30"),
        ("first_name", "Ro \"<b>\""),
        ("age.sixteen_or_over", "true"),
        ("consents.service", "2026-11-25"),
    ];
    let begun = tablet.send("/client", &form, &fields);
    assert_eq!(begun.status, 303, "{}", begun.body);
    let visit = begun.header("location").to_owned();
    let form = tablet.get(&visit);
    let refused = tablet.send(&visit, &form, &[("do", "finish")]);
    assert!(refused.header("location").contains("tried=1"), "{}", refused.header("location"));
    let form = tablet.get(refused.header("location"));
    assert!(
        form.body.contains("Not written yet") && form.body.contains("the field `to_mm` is missing"),
        "check's own words"
    );
    let to = form.body.split("id=\"told-placement.0.zone.0.to_mm\"").nth(1).expect("beside its field");
    assert!(to.split("</div>").next().expect("its end").contains("the field `to_mm` is missing"));
    let pressed = tablet.send(
        &visit,
        &form,
        &[
            ("hair.length_mm", "300"),
            ("placement.0.zone.0.to_mm", "300"),
            ("placement.0.zone.0.stage", "9.5"),
            ("pick.placement.0.zone.0", "peach pastel"),
            ("placement.0.toning.0.dye", "direct"),
            LEFT_OPEN,
            ("do", "split:placement.0.zone.0"),
        ],
    );
    let form = tablet.get(pressed.header("location").split('#').next().expect("an address"));
    let form = {
        let pressed = tablet.send(&visit, &form, &[("do", "more:habits.heat_tools.days_per_week:1")]);
        assert_eq!(pressed.status, 303);
        tablet.get(&visit)
    };
    assert!(form.body.contains("roots 0 to 150 mm: peach pastel on 9.5"), "{}", form.body);
    let done = tablet.send(&visit, &form, &[("do", "finish")]);
    assert_eq!(
        done.header("location"),
        "/done/lark-30",
        "{}",
        tablet.get(done.header("location").split('#').next().expect("a place")).body
    );
    let record = salon.read("records/2026/2026-11-25-lark-30.toml");
    assert!(record.contains("[[placement.zone]]\nname = \"ends\"\nfrom_mm = 150\nto_mm = 300\n"), "{record}");
    let page = tablet.get("/done/lark-30");
    assert!(page.body.contains("Ro &quot;&lt;b&gt;&quot;") && !page.body.contains("<b>\""), "names are text");
    let offers = page.body.matches("name=\"stylist\"").count();
    assert_eq!(offers, 2, "the best day and one other");
    let field = |name: &str| page.fields().into_iter().find(|(field, _)| field == name).expect("offered").1;
    let booked = tablet.post(
        "/done/lark-30",
        &[
            ("client", "lark-30"),
            ("do", "accept"),
            ("date", &field("date")),
            ("time", &field("time")),
            ("stylist", &field("stylist")),
        ],
    );
    assert_eq!(booked.status, 303, "{}", booked.body);
    assert!(tablet.get("/done/lark-30").body.contains("Booked: "));
    assert!(salon.read("private/bookings.toml").contains("lark-30"));
}

#[test]
fn a_fault_keeps_everything_that_was_typed() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let (visit, form) = tablet.ready("wren-04");
    let hostile = "\"\"\"\n]]>'<script>alert(1)</script>\\u0000 \u{202e} {{ 7*7 }} \\";
    let changed = [
        ("hair.length_mm", "long <b>"),
        ("habits.washes_per_week", "2,5"),
        ("note", hostile),
        ("date", "25/11/2026"),
        ("placement.0.toning.0.target", "\" \n[[evil]]\nx = 1"),
        ("do", "finish"),
    ];
    let refused = tablet.send(&visit, &form, &changed);
    assert!(refused.header("location").contains("tried=1"));
    let form = tablet.get(refused.header("location").split('#').next().expect("an address"));
    let fields = form.fields();
    for (name, text) in &changed[..4] {
        let kept = fields.iter().find(|(field, _)| field == name).map(|(_, text)| text.as_str());
        assert_eq!(kept, Some(*text), "{name}");
    }
    assert!(!form.body.contains("<script>alert") && form.body.contains("{{ 7*7 }}"), "text stays text");
    assert!(
        form.body.contains("`length_mm` wants a number") || form.body.contains("length_mm"),
        "told beside the field"
    );
    assert!(!salon.path(RECORD).exists());
    // What is hostile and yet a text is a note like any other, once the rest is right.
    let right = [
        ("hair.length_mm", "425"),
        ("habits.washes_per_week", "2"),
        ("date", "2026-11-25"),
        ("note", "\"\"\"\n<script>\\u0000 {{ 7*7 }} \\"),
        ("placement.0.toning.0.target", "rose # \"no\" 'remark'"),
        ("do", "finish"),
    ];
    let done = tablet.send(&visit, &form, &right);
    assert_eq!(done.header("location"), "/done/wren-04");
    salon.afterhue(&["check"]).assert().success();
    let record = salon.read(RECORD);
    assert!(record.contains("target = \"rose # \\\"no\\\" 'remark'\""), "{record}");
}

#[test]
fn a_draft_survives_the_server() {
    let salon = SalonCopy::new();
    let visit = {
        let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
        let visit = tablet.start("plum-03");
        let form = tablet.get(&visit);
        let kept = tablet.send(&format!("{visit}/change"), &form, &[("note", "half a sen")]);
        assert_eq!(kept.status, 200);
        visit
    };
    // Another server: nothing was handed over but the folder.
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    assert!(tablet.get("/").body.contains(&visit), "it is offered on the first page");
    assert!(tablet.get(&visit).body.contains("half a sen"));
}

#[test]
fn two_tablets_that_finish_one_client_keep_both_versions() {
    let salon = SalonCopy::new();
    let (router, _) = desk(&salon.path(""), false);
    let (mut one, mut other) = (Tablet::new(&router), Tablet::new(&router));
    let ((first, form), (second, second_form)) = (one.ready("wren-04"), other.ready("wren-04"));
    assert_ne!(first, second);
    assert_eq!(one.send(&first, &form, &[("note", "from one"), ("do", "finish")]).status, 303);
    let conflict = other.send(&second, &second_form, &[("note", "from the other"), ("do", "finish")]);
    assert_eq!(conflict.status, 409);
    assert!(conflict.body.contains("from one") && conflict.body.contains("from the other"));
    assert!(salon.read(RECORD).contains("from one"), "nothing was written over");
    let settled = other.send(&second, &conflict, &[("do", "mine")]);
    assert_eq!(settled.status, 303, "{}", settled.body);
    assert!(salon.read(RECORD).contains("from the other"));
    let aside: Vec<_> = std::fs::read_dir(salon.path("private/set-aside")).expect("there").flatten().collect();
    assert_eq!(aside.len(), 1);
    assert!(std::fs::read_to_string(aside[0].path()).expect("text").contains("from one"), "the other version is kept");
}

#[test]
fn two_tablets_on_one_draft_do_not_write_over_each_other() {
    let salon = SalonCopy::new();
    let (router, _) = desk(&salon.path(""), false);
    let (mut one, mut other) = (Tablet::new(&router), Tablet::new(&router));
    let visit = one.start("wren-04");
    let (form, same) = (one.get(&visit), other.get(&visit));
    one.send(&format!("{visit}/change"), &form, &[("note", "from one")]);
    let apart = other.send(&format!("{visit}/change"), &same, &[("note", "from the other")]);
    assert!(apart.body.contains("data-apart=\"true\""), "{:.300}", apart.body);
    let id = apart.body.split("data-id=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("a new draft");
    assert!(one.get(&visit).body.contains("from one"));
    assert!(one.get(&format!("/visit/{id}")).body.contains("from the other"));
}

#[test]
fn a_record_corrected_the_same_day_keeps_a_persons_remarks() {
    let salon = SalonCopy::new();
    let text = salon.read("records/2026/2026-11-20-wren-04.toml").replace("2026-11-20", "2026-11-25");
    let text = text
        .replace("format = 1\n", "# written by hand\nformat = 1 # always\n")
        .replace("length_mm = 425", "length_mm = 425   # dry, combed");
    salon.write(RECORD, &text);
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let visit = tablet.start("wren-04");
    let form = tablet.get(&visit);
    assert!(form.body.contains("Bring the photo"), "today's own record is opened, not the last visit");
    let done = tablet.send(&visit, &form, &[("hair.length_mm", "430"), ("do", "finish")]);
    assert_eq!(done.header("location"), "/done/wren-04", "{}", done.body);
    let record = salon.read(RECORD);
    assert!(record.starts_with("# written by hand\nformat = 1  # always\n"), "{record}");
    assert!(
        record.contains("length_mm = 430  # dry, combed") && record.contains("left_percent = \"0 to 10\""),
        "{record}"
    );
}

#[test]
fn buttons_move_rows_without_script() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let (visit, _) = tablet.ready("wren-04");
    let mut press = |word: &str| {
        let form = tablet.get(&visit);
        let pressed = tablet.send(&visit, &form, &[("do", word)]);
        assert_eq!(pressed.status, 303, "{word}");
        tablet.get(pressed.header("location").split('#').next().expect("an address")).body
    };
    assert!(press("earlier:placement.0.toning.1").contains("lightener 40 min, then direct 8 min, then direct 20 min"));
    assert!(
        press("clear:placement.0.lightening")
            .contains("<span class=\"said\" id=\"said-work-0\">direct 8 min, then direct 20 min")
    );
    assert!(press("more:placement.0.toning.0.minutes:5").contains("direct 13 min"));
    assert!(press("merge:placement.0.zone.1").contains("mid-lengths 60 to 425 mm"));
    assert!(press("set:habits.washes_per_week:4").contains("washes a week 4"));
    assert!(press("add:placement").contains("Base and shade 2"));
    assert!(!press("remove:placement.1").contains("Base and shade 2"));
    for nonsense in ["", "set:client:x", "set:../x:1", "more:format:5", "split:placement.9.zone.9", "add:evil.toning"] {
        let body = press(nonsense);
        assert!(body.contains("wren-04"), "{nonsense}");
    }
}

#[test]
fn what_is_left_is_tapped_zone_by_zone_and_the_forecast_learns_from_it() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let (visit, form) = tablet.ready("hazel-10");
    assert!(form.body.contains("What is left of it"), "the last colour is shown in its steps");
    let zone = form.body.split("name=\"left.1.").nth(1).and_then(|rest| rest.split('"').next()).expect("a zone");
    let named = format!("name=\"left.1.{zone}\" value=\"");
    let offered: Vec<&str> = form.body.split(&named).skip(1).filter_map(|rest| rest.split('"').next()).collect();
    // The ribbon's steps, the last of them "nearly back", and "not looked at".
    assert!(offered.len() >= 6 && offered[0] == "95 to 100" && offered.last() == Some(&""), "{offered:?}");
    assert!(form.body.contains("about half left") && form.body.contains("nearly back to"));
    let step = offered[offered.len() - 2];
    assert!(step.starts_with("0 to "), "{offered:?}");
    let taken = [(format!("left.1.{zone}"), step)];
    let changed = [(taken[0].0.as_str(), taken[0].1), ("seen.washes_since", "5"), ("do", "finish")];
    let done = tablet.send(&visit, &form, &changed);
    assert_eq!(done.header("location"), "/done/hazel-10", "{}", done.body);
    let record = salon.read("records/2026/2026-11-25-hazel-10.toml");
    let seen = format!("[[seen.zone]]\nplacement = 1\nzone = \"{zone}\"\nleft_percent = \"{step}\"\n");
    assert!(record.contains("washes_since = 5\n") && record.contains(&seen), "{record}");
    let told = salon.afterhue(&["forecast", ".", "hazel-10", "--explain"]).output().expect("it runs");
    let told = String::from_utf8(told.stdout).expect("text");
    assert!(told.contains("return") || told.contains("came back"), "{told}");
}

#[test]
fn whoever_is_forgotten_is_forgotten_in_drafts_and_in_what_was_put_aside() {
    let salon = SalonCopy::new();
    let (router, _) = desk(&salon.path(""), false);
    let (mut one, mut other) = (Tablet::new(&router), Tablet::new(&router));
    let ((first, form), (second, second_form)) = (one.ready("wren-04"), other.ready("wren-04"));
    one.send(&first, &form, &[("note", "from one"), ("do", "finish")]);
    let conflict = other.send(&second, &second_form, &[("note", "from the other"), ("do", "finish")]);
    assert_eq!(other.send(&second, &conflict, &[("do", "mine")]).status, 303);
    one.start("wren-04");
    one.start("plum-03");
    let kept = |part: &str| std::fs::read_dir(salon.path(part)).map_or(0, Iterator::count);
    assert_eq!((kept("private/drafts"), kept("private/set-aside")), (2, 1));
    salon.afterhue(&["forget", "wren-04", "--yes", "--today", crate::salon_copy::TODAY]).assert().success();
    assert_eq!((kept("private/drafts"), kept("private/set-aside")), (1, 0), "only the other client's draft stays");
    let files = salon.files("");
    let named = files
        .iter()
        .filter(|(name, bytes)| name.contains("wren-04") || String::from_utf8_lossy(bytes).contains("wren-04"));
    assert_eq!(named.map(|(name, _)| name.as_str()).collect::<Vec<_>>(), Vec::<&str>::new());
}

#[test]
fn the_book_is_moved_and_called_off_and_says_who_could_come() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let page = tablet.get("/book");
    assert!(page.body.contains("Today, Wed 25 Nov") && page.body.contains("wren-04"), "{}", page.body);
    // A wet thumb calls nobody off: a second tap is asked for.
    let (before, asked) = page.body.split_once("Yes, call off").expect("a visit can be called off");
    assert!(before.ends_with("value=\"cancel\">") && before.rfind("<details") > before.rfind("</details>"), "{asked}");
    let wren = [("client", "wren-04"), ("do", "move"), ("date", "2026-12-17"), ("time", "10:00")];
    let moved = tablet.post("/book", &wren);
    assert_eq!(moved.status, 303, "{}", moved.body);
    assert!(salon.read("private/bookings.toml").contains("2026-12-17"));
    let closed = [("client", "wren-04"), ("do", "move"), ("date", "2026-12-25"), ("time", "10:00")];
    let refused = tablet.post("/book", &closed);
    assert_eq!(refused.status, 409);
    assert!(refused.body.contains("the salon is closed"), "{}", refused.body);
    let off = tablet.post("/book", &[("client", "wren-04"), ("do", "cancel"), ("date", "2026-12-17")]);
    assert_eq!(off.status, 303);
    assert!(!tablet.get("/book").body.contains("value=\"wren-04\""));
    let free = tablet.get("/book?date=2026-12-17&time=10:00&minutes=180");
    assert!(free.body.contains("Not to ask, and why") || free.body.contains("min, +44"), "{}", free.body);
    for bad in [("do", "fly"), ("date", "x"), ("time", "25:99")] {
        let fields: Vec<(&str, &str)> = wren.iter().map(|one| if one.0 == bad.0 { bad } else { *one }).collect();
        assert_eq!(tablet.post("/book", &fields).status, 400, "{bad:?}");
    }
}

#[test]
fn lightening_is_said_anew_and_never_written_unsaid() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let visit = tablet.start("wren-04");
    let form = tablet.get(&visit);
    assert!(form.body.contains("Lightened today? Last time: lightener on roots, 40 min"), "{}", form.body);
    assert!(!form.fields().iter().any(|(name, _)| name.contains(".lightening.")), "a proposal is no step");
    let refused = tablet.send(&visit, &form, &[LEFT_OPEN, ("do", "finish")]);
    assert!(refused.header("location").contains("tried=1&at=hair"), "{}", refused.header("location"));
    let form = tablet.get(refused.header("location").split('#').next().expect("an address"));
    assert!(form.body.contains("say whether it was lightened today"), "{}", form.body);
    tablet.send(&visit, &form, &[("do", "lightened:none")]);
    let form = tablet.get(&visit);
    assert!(!form.body.contains("Lightened today?"));
    let done = tablet.send(&visit, &form, &[("do", "finish")]);
    assert_eq!(done.header("location"), "/done/wren-04", "{}", done.body);
    assert!(!salon.read(RECORD).contains("lightening"), "{}", salon.read(RECORD));
    // The one who says "the same" gets the steps, and the record holds them.
    let (visit, form) = tablet.ready("slate-02");
    let steps = form.fields().iter().filter(|(name, _)| name.contains(".lightening.")).count();
    let done = tablet.send(&visit, &form, &[("do", "finish")]);
    assert_eq!(done.header("location"), "/done/slate-02", "{}", done.body);
    let record = salon.read("records/2026/2026-11-25-slate-02.toml");
    assert_eq!(steps > 0, record.contains("[[placement.lightening]]"), "{record}");
}

#[test]
fn questions_are_answered_or_left_open_with_the_reason() {
    let salon = SalonCopy::new();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let visit = tablet.start("wren-04");
    let form = tablet.get(&visit);
    tablet.send(&visit, &form, &[("do", "lightened:none")]);
    let form = tablet.get(&visit);
    let refused = tablet.send(&visit, &form, &[("do", "finish")]);
    assert!(refused.header("location").contains("tried=1&at=tests"), "{}", refused.header("location"));
    let form = tablet.get(refused.header("location").split('#').next().expect("an address"));
    assert!(
        form.body.contains("not recorded: black henna, medicine, pregnancy, scalp, breathing"),
        "check's words: {}",
        form.body
    );
    assert!(!salon.path(RECORD).exists());
    // What is on record is taken over by one tap, and only then.
    assert!(form.body.contains("on record: no"), "{}", form.body);
    tablet.send(&visit, &form, &[("health.answers.medicine", "true"), ("do", "asked:unchanged")]);
    let form = tablet.get(&visit);
    let answer = |name: &str| {
        let fields = form.fields();
        fields.into_iter().find(|(field, _)| field == &format!("health.answers.{name}")).map(|(_, text)| text)
    };
    assert_eq!(answer("medicine").as_deref(), Some("true"), "what was answered today stays");
    assert_eq!(answer("black_henna").as_deref(), Some("false"));
    let done = tablet.send(&visit, &form, &[("do", "finish")]);
    assert_eq!(done.header("location"), "/done/wren-04", "{}", done.body);
    let record = salon.read(RECORD);
    assert!(record.contains("answers = { black_henna = false, medicine = true, pregnancy = false"), "{record}");
    // Or left open, with the reason in the record.
    let (visit, form) = tablet.ready("plum-03");
    let done = tablet.send(&visit, &form, &[("do", "finish")]);
    assert_eq!(done.header("location"), "/done/plum-03", "{}", done.body);
    assert!(salon.read("records/2026/2026-11-25-plum-03.toml").contains("left_open = \"Did not want to say\""));
}

#[test]
fn a_proposal_is_accepted_and_the_board_shows_it() {
    let salon = SalonCopy::new();
    salon.afterhue(&["book", "--today", crate::salon_copy::TODAY]).assert().success();
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let page = tablet.get("/book");
    assert!(page.body.contains("<iframe class=\"board\" src=\"/board\""), "the board stands in the book");
    assert!(page.header("content-security-policy").contains("frame-src 'self'"));
    let form = page.body.split("<form").find(|form| form.contains("value=\"accept\"")).expect("a proposal");
    let value = |name: &str| {
        let begins = format!("name=\"{name}\" value=\"");
        form.split(&begins).nth(1).and_then(|rest| rest.split('"').next()).expect("a field").to_owned()
    };
    let fields = ["client", "date", "time", "stylist"].map(|name| (name, value(name)));
    let mut posted: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (*name, text.as_str())).collect();
    posted.push(("do", "accept"));
    let yes = tablet.post("/book", &posted);
    assert_eq!(yes.status, 303, "{}", yes.body);
    let book = salon.read("private/bookings.toml");
    let own = book
        .split("[[")
        .find(|one| one.contains(&format!("\"{}\"", fields[0].1)) && one.contains(&fields[1].1))
        .expect("it is there");
    assert!(own.contains("booked"), "{own}");
    let board = tablet.get("/board");
    assert_eq!(board.status, 200);
    assert!(board.header("content-security-policy").contains("frame-ancestors 'self'"));
    assert_eq!(board.header("x-frame-options"), "SAMEORIGIN");
    assert!(!board.header("content-security-policy").contains("unsafe"));
    assert!(board.body.contains("sheets.html#"));
    // What is only proposed stands on the board as it stands in the book beside it.
    assert!(board.body.contains("class=\"slot booked\"") && board.body.contains("class=\"slot proposed"));
    assert_eq!(tablet.get("/sheets.html").status, 200, "what the board links is there");
}

#[test]
fn busy_calendars_are_kept_free() {
    let salon = SalonCopy::new();
    let event = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:busy-1\r\nDTSTAMP:20261101T000000Z\r\nDTSTART;VALUE=DATE:20261217\r\nDTEND;VALUE=DATE:20261218\r\nSUMMARY:away\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";
    salon.write("busy.ics", event);
    let calendar = salon.path("busy.ics").display().to_string();
    let wren = [("client", "wren-04"), ("do", "move"), ("date", "2026-12-17"), ("time", "10:00")];
    let mut tablet = Tablet::new(&desk_beside(&salon.path(""), false, std::slice::from_ref(&calendar)).0);
    let refused = tablet.post("/book", &wren);
    assert_eq!(refused.status, 409, "the day is busy elsewhere");
    // A calendar that can no longer be read: nobody knows what is free, so nothing is booked.
    salon.write("busy.ics", "gone");
    let refused = tablet.post(
        "/book",
        &[("date", "2026-12-18")].iter().chain(&wren[..2]).chain(&wren[3..]).copied().collect::<Vec<_>>(),
    );
    assert_eq!(refused.status, 409);
    assert!(refused.body.contains("cannot be read, and its times must stay free"), "{}", refused.body);
    // Without the calendar the same move is made.
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    assert_eq!(tablet.post("/book", &wren).status, 303);
}

#[test]
fn a_time_that_came_free_is_taken_with_one_tap() {
    let salon = SalonCopy::of(&["fern-07", "plum-03"]);
    salon.write("private/bookings.toml", "format = 1\nlast_number = 0\n");
    let mut tablet = Tablet::new(&desk(&salon.path(""), false).0);
    let mut page = tablet.get("/book?date=2026-11-26&time=14:00&minutes=130");
    // The form of that one button alone, as a browser would send it.
    let button = page.body.find(">Takes it</button>").expect("somebody to ask");
    let form = page.body[..button].rfind("<form").expect("the button stands in a form");
    page.body = page.body[form..button].to_owned();
    let fields = page.fields();
    let mut fields: Vec<(&str, &str)> = fields.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    fields.push(("do", "accept"));
    assert!(fields.contains(&("client", "fern-07")), "the tested and consenting one: {fields:?}");
    assert_eq!(tablet.post("/book", &fields).header("location"), "/book");
    let book = salon.read("private/bookings.toml");
    assert!(book.contains("fern-07") && book.contains("2026-11-26") && book.contains("booked"), "{book}");
    assert!(tablet.get("/done/fern-07").body.contains("Thu 26 Nov at 2pm"), "the next visit is told");
}
