//! The season's page and the slip.

use super::*;

#[tokio::test]
async fn a_year_not_yet_known_is_said_to_be_on_its_way_and_then_told() {
    let (status, body) = look(&demo(), "/season").await;
    assert_eq!(status, StatusCode::OK);
    assert!(body.contains("is being worked out") && body.contains("Look again"));
    // A day asked for is not waited for either.
    let (_, body) = look(&demo(), "/season?day=2027-06-01").await;
    assert!(body.contains("is being worked out"));

    let desk = Desk::demo().unwrap();
    desk.work_out_season().unwrap();
    let app = crate::serve::guarded(crate::serve::router(Arc::new(desk)));
    let (status, body) = look(&app, "/season").await;
    assert_eq!(status, StatusCode::OK);
    let at = |text: &str| body.find(text).unwrap();
    assert!(
        at("class=\"big\"") < at("find no room"),
        "the week comes first"
    );
    assert!(at("The plan") < at("What helps, least work first"));
    assert_eq!(
        body.matches("class=\"walls\"").count(),
        48,
        "two strips of twelve months, two chambers"
    );
    for id in [
        "season.overflow",
        "season.plan",
        "season.acts",
        "season.browns",
    ] {
        assert!(body.contains(&format!("/workings?id={id}")), "{id}");
        assert_eq!(
            look(&app, &format!("/workings?id={id}")).await.0,
            StatusCode::OK,
            "{id}"
        );
    }
    let (_, today) = look(&app, "/").await;
    assert!(today.contains("href=\"/season\""), "Today has the line");

    let (status, body) = look(&app, "/season?day=2027-06-01").await;
    assert_eq!(status, StatusCode::OK);
    assert!(body.contains("fit for a planted bed by 1 June 2027 in"));
    for (day, says) in [("soon", "is not a day"), ("2020-01-01", "give a day after")] {
        let (status, body) = look(&app, &format!("/season?day={day}")).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{day}");
        assert!(body.contains(says), "{day}");
    }
}

#[tokio::test]
async fn going_away_gives_a_list_and_a_slip_or_says_what_is_wrong() {
    let app = demo();
    let (status, body) = look(&app, "/away?from=2026-10-03&to=2026-10-24").await;
    assert_eq!(status, StatusCode::OK);
    for text in [
        "Before you go",
        "For whoever looks after it",
        "Near",
        "Leave Far shut",
        "21 days away",
    ] {
        assert!(body.contains(text), "{text}");
    }
    assert!(
        body.contains("still being worked out: look again"),
        "no level is made up while the year is not known"
    );
    for (query, says) in [
        ("from=2026-10-03", "Give both days"),
        ("from=tomorrow&to=2026-10-03", "is not a day"),
        ("from=2026-10-03&to=2026-10-01", "one to 120 days away"),
        ("from=2020-10-03&to=2026-10-04", "is past"),
        ("from=2026-10-03&to=2028-10-04", "one to 120 days away"),
    ] {
        let (status, body) = look(&app, &format!("/away?{query}")).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{query}");
        assert!(body.contains(says), "{query}");
    }
    assert_eq!(look(&app, "/away").await.0, StatusCode::OK);
}

#[tokio::test]
async fn the_slip_knows_the_level_of_its_weeks() {
    let desk = Desk::demo().unwrap();
    desk.work_out_season().unwrap();
    let year = desk.season_if_known().unwrap();
    // A month in which the chamber that fills stands over nine tenths of its room, and one in which it does not.
    let fills = |m: &&desk::MonthFacts| m.state == "filling";
    let share = |m: &desk::MonthFacts| {
        let k = year.chambers.iter().position(|c| *c == m.chamber).unwrap();
        m.level_l.mid / year.room_l[k]
    };
    let full = year.months.iter().filter(fills).find(|m| share(m) > 0.97);
    let roomy = year.months.iter().filter(fills).find(|m| share(m) < 0.7);
    let (full, roomy) = (full.unwrap().clone(), roomy.unwrap().clone());
    let app = crate::serve::guarded(crate::serve::router(Arc::new(desk)));
    let slip = async |m: &desk::MonthFacts| {
        let from = m.month.last_of_month();
        let to = from.saturating_add(jiff::Span::new().days(9));
        look(&app, &format!("/away?from={from}&to={to}")).await.1
    };
    let body = slip(&full).await;
    assert!(
        body.contains(&format!("{} will be nearly full by then", full.chamber)),
        "{body}"
    );
    assert!(body.contains("put nothing in: it is nearly full"), "{body}");
    assert!(body.contains("Close the chamber that fills"));
    let body = slip(&roomy).await;
    assert!(
        body.contains(&format!("{} should have room then", roomy.chamber)),
        "{body}"
    );
    assert!(body.contains(&format!("may go into {}", roomy.chamber)));
    let mut one = (*year).clone();
    one.chambers.truncate(1);
    for (year, says) in [(&*year, "a third"), (&one, "a second")] {
        let said = crate::words::season::act_words(year, "third_container");
        assert!(said.contains(says), "{said}");
    }
    // No level of the year ahead is told to the litre.
    let (_, body) = look(&app, "/season").await;
    for cell in body
        .split("<td>")
        .skip(1)
        .filter_map(|c| c.split("</td>").next())
    {
        let litres = cell
            .split("about ")
            .nth(1)
            .and_then(|l| l.split(' ').next());
        let litres: f64 = litres.map_or(0.0, |l| l.parse().unwrap());
        let step = if litres < 50.0 { 5.0 } else { 10.0 };
        assert!((litres / step).fract().abs() < 1e-9, "{cell}");
    }
    assert!(body.contains("nearly full, about"), "{body}");
}
