//! What only all files together tell: unknown clients and stylists, two visits on a day, what a history warns of.

use afterhue::diagnostic::{SourceText, render};
use afterhue::record::{ClientFile, Known, ServiceRecord, histories, read_client, read_visit};
use afterhue::units::PeroxidePercent;

const CLIENT: &str = r#"format = 1
[age]
sixteen_or_over = true
confirmed = 2026-01-12
[consents]
service = 2026-01-12
[[history]]
what = "lightening"
"#;

fn visit_text(client: &str, date: &str, more: &str) -> String {
    format!(
        "format = 1\nclient = \"{client}\"\ndate = {date}\n{more}\n[[placement]]\nkind = \"full head\"\n\
         toning = [{{ dye = \"direct\" }}]\n\
         zone = [{{ from_mm = 0, to_mm = 350, stage = 9.5, colour = {{ hex = \"#e8b4b8\" }} }}]\n"
    )
}

struct Folder {
    sources: Vec<SourceText>,
    clients: Vec<ClientFile>,
    visits: Vec<ServiceRecord>,
}

impl Folder {
    fn new() -> Self {
        Self { sources: Vec::new(), clients: Vec::new(), visits: Vec::new() }
    }

    fn client(mut self, code: &str, text: &str) -> Self {
        let source = SourceText::new(format!("clients/{code}.toml"), text);
        self.clients.push(read_client(&source).value.expect("the client file has no fault"));
        self.sources.push(source);
        self
    }

    fn visit(mut self, name: &str, text: String) -> Self {
        let source = SourceText::new(format!("records/{name}.toml"), text);
        let checked = read_visit(&source);
        self.visits.push(checked.value.unwrap_or_else(|| panic!("{}", render(&checked.report, &self.sources))));
        self.sources.push(source);
        self
    }

    /// The histories as "code: dates", and what is told.
    fn check(self, clients_at_fault: &[String]) -> (Vec<String>, String) {
        let stylists = ["ines".to_owned(), "ada".to_owned()];
        let scalp_peroxide_max = PeroxidePercent::from_percent(6.0);
        let known = Known { stylists: &stylists, scalp_peroxide_max, clients_at_fault };
        let (histories, report) = histories(self.clients, self.visits, &known);
        let told = histories
            .iter()
            .map(|history| {
                let dates: Vec<String> = history.visits.iter().map(|visit| visit.date.to_string()).collect();
                format!("{}: {}", history.client.code, dates.join(", "))
            })
            .collect();
        (told, render(&report, &self.sources))
    }
}

#[test]
fn histories_are_sorted_by_code_and_by_day_and_a_client_without_visits_has_none() {
    let (histories, told) = Folder::new()
        .client("wren-04", CLIENT)
        .client("ash-01", CLIENT)
        .client("elm-02", CLIENT)
        .visit("b", visit_text("wren-04", "2026-11-20", ""))
        .visit("a", visit_text("ash-01", "2026-10-20", "stylist = \"ines\""))
        .visit("c", visit_text("wren-04", "2026-09-20", ""))
        .check(&[]);
    assert_eq!(histories, ["ash-01: 2026-10-20", "wren-04: 2026-09-20, 2026-11-20"]);
    assert_eq!(told, "");
}

#[test]
fn a_visit_that_fits_nobody_is_left_out_and_the_others_go_through() {
    let (histories, told) = Folder::new()
        .client("wren-04", CLIENT)
        .visit("a", visit_text("wren-40", "2026-11-20", ""))
        .visit("b", visit_text("wren-04", "2026-11-20", ""))
        .visit("c", visit_text("wren-04", "2026-11-20", ""))
        .visit("d", visit_text("wren-04", "2026-12-20", "stylist = \"inez\""))
        .visit("e", visit_text("wren-04", "2026-12-21", "stylist = \"zoe\""))
        .visit("f", visit_text("oak-09", "2026-12-21", ""))
        .check(&["oak-09".to_owned()]);
    assert_eq!(histories, ["wren-04: 2026-11-20"]);
    snapshot("left_out", &told);
}

#[test]
fn a_code_without_its_number_and_a_day_unlike_the_files_name_are_asked_about() {
    let (_, told) =
        Folder::new().client("maren-11", CLIENT).visit("a", visit_text("maren", "2026-11-20", "")).check(&[]);
    assert!(told.contains("Did you mean \"maren-11\"?"), "{told}");
    let source = SourceText::new("records/2026/2026-11-20-maren-11.toml", visit_text("maren-11", "2025-11-20", ""));
    let told = render(&read_visit(&source).report, std::slice::from_ref(&source));
    assert!(told.contains("this record says 2025-11-20, and its name says 2026-11-20"), "{told}");
    let source = SourceText::new("records/2026/2026-11-20-maren-11.toml", visit_text("maren-11", "2026-11-20", ""));
    assert!(read_visit(&source).report.items.is_empty());
}

#[test]
fn a_history_warns_of_what_no_single_visit_shows() {
    let client = CLIENT.replace("service = 2026-01-12", "service = 2026-06-01")
        + "[[history]]\nwhat = \"relaxer\"\n[[history]]\nwhat = \"henna\"\ndate = 2025-01-01\n";
    let lightened = "[[placement.lightening]]\non_scalp = true\ndeveloper_percent = 9\nminutes = 30\n";
    let failed =
        visit_text("wren-04", "2026-05-20", "").replace("stage = 9.5", "stage = 9.5, elasticity = \"no return\"");
    let seen =
        "\n[seen]\nwashes_since = 8\n[[seen.zone]]\nplacement = 2\nzone = \"ends\"\nleft_percent = \"30 to 50\"\n";
    let health = "\n[[health.incident]]\nnote = \"a strand broke\"\n";
    let (histories, told) = Folder::new()
        .client("wren-04", &client)
        .visit("a", failed)
        .visit("b", visit_text("wren-04", "2026-07-20", "") + lightened + seen + health)
        .check(&[]);
    assert_eq!(histories.len(), 1);
    snapshot("warns", &told);
}

#[test]
fn what_was_seen_of_no_earlier_visit_and_consent_that_nobody_recorded_are_cautions() {
    let (histories, told) = Folder::new()
        .client("wren-04", "format = 1\n")
        .visit("a", visit_text("wren-04", "2026-05-20", "") + "[seen]\nwashes_since = 8\n")
        .check(&[]);
    assert_eq!(histories.len(), 1);
    snapshot("first_visit", &told);
}

fn snapshot(name: &str, told: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_omit_expression(true);
    settings.set_prepend_module_to_snapshot(false);
    settings.set_snapshot_path("../snapshots");
    settings.bind(|| insta::assert_snapshot!(format!("together__{name}"), told));
}
