//! The season's page and the slip.

use super::*;

#[tokio::test]
async fn a_year_not_yet_known_is_said_to_be_on_its_way_and_then_told() {
    let (status, body) = look(&demo(), "/season").await;
    assert_eq!(status, StatusCode::OK);
    assert!(body.contains("is being worked out") && body.contains("Look again"));

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
