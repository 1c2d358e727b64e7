//! Returns, fibre history and top-ups through real records: what the forecast makes of what a stylist wrote.

use afterhue::diagnostic::SourceText;
use afterhue::forecast::{Forecast, forecast, lightening_overlap, returns, salon_estimate, top_up};
use afterhue::plan::plan;
use afterhue::record::{History, Known, Shareable, histories, read_client, read_visit};
use afterhue::salon::{Salon, SalonEstimate, read_salon};
use afterhue::science::dye::class::DyeClass;
use afterhue::science::fade::pooling::ClassEstimate;
use afterhue::science::fade::rate::RateDistribution;
use afterhue::science::hair::porosity::Porosity;
use afterhue::units::{Days, PeroxidePercent, Washes};

const CLIENT: &str =
    "format = 1\n[age]\nsixteen_or_over = true\nconfirmed = 2025-01-01\n[consents]\nservice = 2025-01-01\n";
const SALON: &str = "format = 1\nname = \"Example Rooms\"\nbase_address = \"https://care.example.org\"\ntime_zone = \"Europe/London\"\n[emergency]\ncountry = \"GB\"\nnumber = \"999\"\n";
/// One zone of rose pastel, washed twice a week.
const ROSE: &str = r#"
[[placement]]
kind = "full head"
toning = [{ dye = "direct", dilution = "1:4" }]
zone = [{ from_mm = 0, to_mm = 350, stage = 9.5, porosity = "porous", colour = { lab = [77, 18, 5], found = "matched by eye" } }]
[habits]
washes_per_week = 2
"#;

fn salon() -> Salon {
    read_salon(&SourceText::new("salon.toml", SALON)).value.expect("a salon")
}

/// A history of visits, each a day and the rest of its record.
fn history(visits: &[(&str, &str)]) -> Shareable {
    let client = read_client(&SourceText::new("clients/wren.toml", CLIENT)).value.expect("a client");
    let read = |(date, rest): &(&str, &str)| {
        let text = format!("format = 1\nclient = \"wren\"\ndate = {date}\n{rest}");
        let source = SourceText::new(format!("records/{date}.toml"), text);
        let checked = read_visit(&source);
        checked.value.unwrap_or_else(|| panic!("{date}: {:?}", checked.report))
    };
    let visits = visits.iter().map(read).collect();
    let scalp_peroxide_max = PeroxidePercent::from_percent(6.0);
    let known = Known { stylists: &[], scalp_peroxide_max, clients_at_fault: &[] };
    let (mut found, report): (Vec<History>, _) = histories(vec![client], visits, &known);
    assert!(!report.has_fault(), "{report:?}");
    found.pop().expect("a history").shareable()
}

fn seen(washes: u32, left: &str) -> String {
    format!(
        "{ROSE}[seen]\nwashes_since = {washes}\n[[seen.zone]]\nplacement = 1\nzone = \"all\"\nleft_percent = {left}\n"
    )
}

/// Visits four weeks apart, the first without a return and each other with the same one.
fn returning(times: usize, washes: u32, left: &str) -> Shareable {
    let days = ["2026-01-05", "2026-02-02", "2026-03-02", "2026-03-30", "2026-04-27"];
    let again = seen(washes, left);
    let visits: Vec<(&str, &str)> =
        (0..=times).map(|visit| (days[visit], if visit == 0 { ROSE } else { again.as_str() })).collect();
    history(&visits)
}

fn usual(forecast: &Forecast) -> f64 {
    forecast.nearly_back.and_then(|back| back.usual).map(Days::to_days).expect("a day")
}

fn width(forecast: &Forecast) -> f64 {
    let back = forecast.nearly_back.expect("a day");
    let days = |day: Option<Days>| day.map(Days::to_days).expect("within half a year");
    days(back.latest) / days(back.earliest)
}

#[test]
fn a_client_without_returns_has_the_published_log_normal() {
    let found = forecast(&returning(0, 0, ""), &salon());
    let zone = &found.zones[0];
    assert_eq!(zone.rate, RateDistribution::log_normal(0.0, zone.spread.sigma()));
    assert_eq!((zone.rate, found.returns()), (zone.prior, 0));
    assert!(found.wild.is_empty());
}

#[test]
fn returns_move_the_date_and_narrow_its_range() {
    let none = forecast(&returning(0, 0, ""), &salon());
    let quick = forecast(&returning(3, 8, "\"0 to 10\""), &salon());
    // The usual rate leaves a tenth after eight washes.
    let slow = forecast(&returning(3, 8, "\"30 to 40\""), &salon());
    assert_eq!((quick.returns(), slow.returns()), (3, 3));
    assert!(usual(&quick) < usual(&none) - 2.0, "{} {}", usual(&quick), usual(&none));
    assert!(usual(&slow) > usual(&none) + 5.0, "{} {}", usual(&slow), usual(&none));
    let (quick_width, slow_width, none_width) = (width(&quick), width(&slow), width(&none));
    assert!(quick_width < none_width - 0.2 && slow_width < none_width - 0.2, "{quick_width} {slow_width} {none_width}");
    let once = forecast(&returning(1, 8, "\"30 to 40\""), &salon());
    assert!(usual(&none) < usual(&once) && usual(&once) < usual(&slow), "more returns, more belief");
}

#[test]
fn returns_that_no_client_of_the_class_comes_near_move_the_date_but_narrow_nothing() {
    // Seven times the usual share, three times over: either the hair or the eye is odd, and the range says so.
    let none = forecast(&returning(0, 0, ""), &salon());
    let credible = forecast(&returning(3, 8, "\"30 to 40\""), &salon());
    let odd = forecast(&returning(3, 8, "\"70 to 80\""), &salon());
    assert!(usual(&odd) > usual(&none) + 5.0, "{} {}", usual(&odd), usual(&none));
    assert!(width(&odd) > width(&credible) + 0.2, "{} {}", width(&odd), width(&credible));
}

#[test]
fn washes_counted_on_return_are_what_the_share_is_held_against() {
    let few = forecast(&returning(2, 4, "50"), &salon());
    let many = forecast(&returning(2, 16, "50"), &salon());
    assert!(usual(&many) > usual(&few), "the same share after more washes is a slower fading");
}

#[test]
fn a_wild_return_is_told_and_changes_little() {
    let days = ["2026-01-05", "2026-02-02", "2026-03-02", "2026-03-30", "2026-04-27"];
    let (usual_return, wild) = (seen(8, "30"), seen(16, "100"));
    let with = |last: &str| {
        let visits = [(days[0], ROSE), (days[1], usual_return.as_str()), (days[2], usual_return.as_str())];
        let more = [(days[3], usual_return.as_str()), (days[4], last)];
        forecast(&history(&[&visits[..], &more].concat()), &salon())
    };
    let (tame, odd) = (with(&usual_return), with(&wild));
    assert!(tame.wild.is_empty(), "{:?}", tame.wild);
    assert_eq!(odd.wild.iter().map(|wild| (wild.class, wild.seen_at)).collect::<Vec<_>>(), [(DyeClass::Direct, 4)]);
    assert!((usual(&odd) / usual(&tame) - 1.0).abs() < 0.3, "{} {}", usual(&odd), usual(&tame));
}

#[test]
fn what_is_seen_after_a_trim_is_about_the_last_colour() {
    let back = seen(8, "\"0 to 10\"");
    let trim = "[hair]\ntrimmed_mm = 10\n";
    let between = history(&[("2026-01-05", ROSE), ("2026-01-20", trim), ("2026-02-02", back.as_str())]);
    let found = returns(&between, &salon());
    assert_eq!(found.iter().map(|one| (one.about, one.seen_at)).collect::<Vec<_>>(), [(0, 2)]);
    let plain = forecast(&returning(1, 8, "\"0 to 10\""), &salon());
    assert_eq!(forecast(&between, &salon()).zones[0].rate, plain.zones[0].rate);
}

#[test]
fn only_the_stored_estimate_moves_a_client_without_returns() {
    let mut salon = salon();
    let newcomer = returning(0, 0, "");
    let plain = forecast(&newcomer, &salon);
    let others: Vec<Shareable> = (0..12).map(|_| returning(3, 8, "\"0 to 10\"")).collect();
    let learned = salon_estimate(&others, &salon).rounded();
    let direct = learned.of(DyeClass::Direct).expect("there were returns");
    assert!(direct.shift > 0.1 && direct.returns == 36, "{direct:?}");
    assert_eq!(forecast(&newcomer, &salon), plain, "nothing is live");
    salon.estimate = learned.clone();
    let moved = forecast(&newcomer, &salon);
    assert!(usual(&moved) < usual(&plain));
    assert_eq!(salon_estimate(&others, &salon).rounded(), learned, "making it twice gives the same");
}

#[test]
fn a_range_too_wide_to_book_by_asks_first_and_proposes_a_colour_check_after_two_returns() {
    let mut salon = salon();
    let narrow = |history: &Shareable, salon: &Salon| plan(history, salon, &forecast(history, salon)).doubt;
    // Clients of this salon differ wildly, so that two returns cannot narrow the range.
    let shift = ClassEstimate { shift: 0.0, sd: 0.9, returns: 40 };
    salon.estimate = SalonEstimate { classes: [(DyeClass::Direct, shift)].into_iter().collect() };
    let new = narrow(&returning(0, 0, ""), &salon);
    assert!(new.message.is_some() && new.colour_check.is_none(), "{new:?}");
    // Steps that hold almost every share teach almost nothing.
    let known = returning(2, 8, "\"5 to 95\"");
    let check = narrow(&known, &salon).colour_check.expect("a colour check");
    assert!(check.earliest <= check.best && check.best <= check.latest);
    assert!(check.earliest > known.latest().date && narrow(&known, &salon).message.is_none());
    let sure = narrow(&returning(4, 8, "30"), &self::salon());
    assert_eq!(sure, afterhue::plan::Doubt::default());
}

#[test]
fn an_overlap_of_lightening_moves_with_growth_and_ends_where_the_trim_cut() {
    let lighten = |from: u32, to: u32, hair: &str| {
        format!(
            "[hair]\ngrowth_mm_per_day = 0.5\n{hair}\n[[placement]]\nkind = \"full head\"\nlightening = [{{ developer_percent = 6 }}]\nzone = [{{ from_mm = {from}, to_mm = {to}, stage = 9 }}]\n"
        )
    };
    let first = lighten(0, 100, "length_mm = 100");
    // 40 days at 0.5 mm: the old lightening lies at 20 to 120, and a trim of 30 leaves hair of 90 mm.
    let second = lighten(0, 50, "trimmed_mm = 30");
    let found = lightening_overlap(&history(&[("2026-01-01", &first), ("2026-02-10", &second)]), &salon());
    assert_eq!(found.len(), 1, "{found:?}");
    assert!((found[0].from.to_mm() - 20.0).abs() < 1e-9 && (found[0].length() - 30.0).abs() < 1e-9, "{found:?}");
    assert_eq!(found[0].times, 2);
    // All the old lightening is cut off: what is lightened now is lightened once.
    let short = lighten(0, 18, "trimmed_mm = 102");
    let gone = lightening_overlap(&history(&[("2026-01-01", &first), ("2026-02-10", &short)]), &salon());
    assert!(gone.is_empty(), "{gone:?}");
}

#[test]
fn ends_that_empty_first_become_noticeable_and_like_zones_never_do() {
    let two = |porosity: &str| {
        let zone = |name: &str, from: u32, porosity: &str| {
            format!(
                "{{ name = \"{name}\", from_mm = {from}, to_mm = {}, stage = 9.5, porosity = \"{porosity}\", colour = {{ lab = [70, 30, 5], found = \"measured\" }} }}",
                from + 150
            )
        };
        let zones = [zone("mid-lengths", 0, "porous"), zone("ends", 150, porosity)].join(", ");
        format!("[[placement]]\nkind = \"full head\"\ntoning = [{{ dye = \"direct\" }}]\nzone = [{zones}]\n")
    };
    let of = |porosity: &str| forecast(&history(&[("2026-01-05", &two(porosity))]), &salon());
    let (alike, unlike) = (of("porous"), of("over-porous"));
    assert_eq!((alike.edges.len(), alike.evenness), (1, None));
    assert!(!alike.edges[0].from_the_start());
    let edge = unlike.evenness.expect("the ends run ahead");
    assert!((unlike.edges[0].rating_after(&unlike.zones, edge.dose) - 4.0).abs() < 0.02);
    assert!(unlike.edges[0].fresh > 4.5, "{:?}", unlike.edges[0]);
}

#[test]
fn a_top_up_is_weaker_than_the_last_mix_and_weaker_still_on_hair_that_grabs() {
    let client = returning(0, 0, "");
    let found = forecast(&client, &salon());
    let placement = &client.latest().placements[0];
    let of = |porosity| top_up(&found.zones[0], placement, Washes::from_washes(6.0), None, porosity);
    let plain = of(None);
    assert!(plain.top_up.strength > 0.2 && plain.top_up.strength < 1.0, "{plain:?}");
    let clear = plain.parts_clear.expect("something is to be mixed");
    // The last mix was one part in five; this one is weaker by its strength.
    assert!(((clear + 1.0) - 5.0 / plain.top_up.strength).abs() <= 0.25 + 1e-9, "{plain:?}");
    let grabbing = of(Some(Porosity::OverPorous));
    assert!(grabbing.parts_clear > plain.parts_clear);
}
