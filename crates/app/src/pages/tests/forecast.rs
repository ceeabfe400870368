//! The pages that show a forecast.

use super::*;

/// The demo household with its forecasts worked out.
fn foreseen() -> Router {
    let desk = Desk::demo().unwrap();
    desk.work_out_forecasts().unwrap();
    crate::serve::guarded(crate::serve::router(Arc::new(desk)))
}

#[tokio::test]
async fn a_forecast_not_yet_known_is_said_to_be_on_its_way() {
    let app = demo();
    for path in ["/when?chamber=Far", "/chamber?name=Near"] {
        let (status, body) = look(&app, path).await;
        assert_eq!(status, StatusCode::OK, "{path}");
        assert!(
            body.contains("is being worked out") && body.contains("Look again"),
            "{path}"
        );
    }
    for (path, evil) in [("/when?chamber=", "<b>"), ("/chamber?name=", "<b>")] {
        let (status, body) = look(&app, &format!("{path}{}", escaped(evil))).await;
        assert_eq!(status, StatusCode::NOT_FOUND, "{path}");
        assert!(
            body.contains("No chamber is called “&lt;b&gt;”."),
            "{path}: {body}"
        );
    }
    let (_, _, _) = post(&app, "/chambers/empty", &[("chamber", "Far")]).await;
    let (status, body) = look(&app, "/when?chamber=Far").await;
    assert_eq!(status, StatusCode::OK);
    assert!(
        body.contains("Far is empty, so there is nothing to work out."),
        "{body}"
    );
}

#[tokio::test]
async fn a_forecast_says_what_it_rests_on_before_the_date() {
    let app = foreseen();
    let (status, body) = look(&app, "/when?chamber=Far").await;
    assert_eq!(status, StatusCode::OK);
    let at = |text: &str| body.find(text).unwrap();
    assert!(
        at("readings have moved it") < at("likely"),
        "doubt comes first"
    );
    assert!(at("likely") < at("promise it to no bed"));
    assert!(at("promise it to no bed") < at("What would move it"));
    let dots = body.matches("class=\"dot").count() - body.matches("class=\"dots\"").count();
    let far = body.matches("class=\"far\"").count();
    assert_eq!(dots + far, 20, "{dots} dots on the line and {far} beyond");
    assert_eq!(body.matches("of 20 by today").count(), 5, "five rungs");
    for id in ["forecast.window", "forecast.rung", "forecast.moves"] {
        assert!(body.contains(&format!("/workings?id={id}")), "{id}");
        assert_eq!(
            look(&app, &format!("/workings?id={id}")).await.0,
            StatusCode::OK,
            "{id}"
        );
    }
    let (_, pots) = look(&app, "/when?chamber=Far&rung=pots").await;
    assert!(pots.contains("fit for pots"), "{pots}");
    let (_, near) = look(&app, "/when?chamber=Near").await;
    assert!(
        near.contains("If nothing more went in"),
        "a chamber that fills says so"
    );
}

#[tokio::test]
async fn the_inside_is_said_drawn_and_tabled_alike() {
    let app = foreseen();
    let (status, body) = look(&app, "/chamber?name=Far").await;
    assert_eq!(status, StatusCode::OK);
    let body = body.replace('\u{a0}', " ");
    for says in [
        "readings have moved it",
        "room to turn",
        "a hand",
        "Turn it?",
        "Inside Far today:",
        "scope=\"row\"",
    ] {
        assert!(body.contains(says), "no “{says}”");
    }
    let sentence = body
        .split("Inside Far today:")
        .nth(1)
        .unwrap()
        .split('<')
        .next()
        .unwrap();
    assert!(
        body.matches(sentence).count() >= 2,
        "picture and page say the same: {sentence}"
    );
    let (_, today) = look(&app, "/").await;
    assert!(today.contains("/when?chamber=Far") && today.contains("/chamber?name=Near"));
}
