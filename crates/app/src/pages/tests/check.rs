//! Check, and what it changes on other pages; probes.

use axum::body::Body;
use axum::http::header;

use super::*;

async fn sent(app: &Router, token: Option<&str>, body: &str) -> (StatusCode, serde_json::Value) {
    let mut request = Request::post("/api/readings")
        .header("content-type", "application/json")
        .header("host", "127.0.0.1:4000")
        .header("origin", "null");
    if let Some(token) = token {
        request = request.header(header::AUTHORIZATION, format!("Bearer {token}"));
    }
    let answer = app
        .clone()
        .oneshot(request.body(Body::from(body.to_owned())).unwrap())
        .await
        .unwrap();
    let status = answer.status();
    let bytes = to_bytes(answer.into_body(), usize::MAX).await.unwrap();
    (status, serde_json::from_slice(&bytes).unwrap())
}

#[tokio::test]
async fn a_look_is_noted_said_back_and_undone() {
    let app = demo();
    let (status, body) = look(&app, "/check?chamber=Far").await;
    assert_eq!(status, StatusCode::OK);
    assert!(body.contains("Squeeze a handful") && body.contains("name=\"key\""));
    let fields = [
        ("chamber", "Far"),
        ("squeeze", "drips"),
        ("card", "some"),
        ("smell", "earthy"),
        ("warmth", "warm"),
        ("fingers", "7"),
        ("degrees", "41"),
        ("look", "worms, turned, zzqxv"),
        ("key", "one"),
    ];
    let (status, place, _) = post(&app, "/check", &fields).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert_eq!(
        post(&app, "/check", &fields).await.1,
        place,
        "a double tap is one entry"
    );
    let (status, body) = look(&app, &place).await;
    assert_eq!(status, StatusCode::OK);
    for said in [
        "Squeeze: one to three drops",
        "Card still to be seen: some",
        "Smell: earthy",
        "By hand: warm",
        "Core: 41 °C",
        "85 % full",
        "Creatures: worms",
        "Turned",
        "zzqxv",
        "It is wet. Add no water",
        "The window follows",
        "action=\"/undo\"",
    ] {
        assert!(body.contains(said), "{said} is not said: {body}");
    }
    let (_, log) = look(&app, "/log").await;
    assert!(
        log.contains("squeeze drips, card some"),
        "the words stand in the log"
    );
    let id = place.split('=').nth(1).unwrap();
    assert_eq!(
        post(&app, "/undo", &[("id", id)]).await.0,
        StatusCode::SEE_OTHER
    );
    let (_, body) = look(&app, &place).await;
    assert!(body.contains("This was undone"));
}

#[tokio::test]
async fn what_cannot_be_is_hollow() {
    let app = demo();
    let (_, place, _) = post(&app, "/check", &[("chamber", "Far"), ("degrees", "85")]).await;
    let (_, body) = look(&app, &place).await;
    assert!(
        body.contains("hollow") && body.contains("before it has measured"),
        "{body}"
    );
    assert!(body.contains("Nothing of it counts."));
    let (_, log) = look(&app, "/log").await;
    assert!(log.contains("The temperature is kept but does not count"));
}

#[tokio::test]
async fn a_look_that_says_nothing_stays_in_its_form() {
    let app = demo();
    for (fields, says) in [
        (&[("chamber", "Far")][..], "Choose what you saw"),
        (
            &[("chamber", "Far"), ("look", "wibble")],
            "Nothing understood",
        ),
        (
            &[("chamber", "Far"), ("look", "wet")],
            "squeeze a handful and say",
        ),
        (
            &[("chamber", "Nowhere"), ("squeeze", "drips")],
            "No chamber called",
        ),
    ] {
        let (status, _, body) = post(&app, "/check", fields).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        assert!(body.contains(says), "{says}: {body}");
    }
    let (status, _) = look(&app, "/check/seen?id=none").await;
    assert_eq!(status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn today_and_when_tell_which_look_is_worth_taking() {
    let desk = Arc::new(Desk::demo().unwrap());
    desk.work_out_forecasts().unwrap();
    let known = desk.forecast_if_known("far").unwrap();
    let app = crate::serve::guarded(crate::serve::router(Arc::clone(&desk)));
    let (_, when) = look(&app, "/when?chamber=Far").await;
    assert!(when.contains("Of your last 5 batches, 3 landed inside our window."));
    assert!(when.contains("readings have moved it"));
    let (_, today) = look(&app, "/").await;
    assert!(today.contains("Note what you saw inside"));
    if let Some(text) = crate::words::check::worth(&known) {
        assert!(when.contains(&text));
    }
    let both = ["far", "near"].map(|id| desk.forecast_if_known(id).unwrap());
    if let Some(best) = both
        .iter()
        .filter_map(|a| Some((crate::words::check::best(&a.worth)?.days_shorter, a)))
        .max_by(|a, b| a.0.total_cmp(&b.0))
    {
        assert!(today.contains(&crate::words::check::worth(best.1).unwrap()));
        assert_eq!(today.matches("would shorten the window").count(), 1);
    }
    let (_, inside) = look(&app, "/chamber?name=Far").await;
    assert!(!inside.contains("Drawn from arithmetic only"));
    assert!(inside.contains("The middle of 250 runs"));
}

#[tokio::test]
async fn a_probe_is_made_known_sends_and_is_taken_back() {
    let app = demo();
    let made = [("name", "core-1"), ("chamber", "Far")];
    let (status, _, body) = post(&app, "/household/probe", &made).await;
    assert_eq!(status, StatusCode::OK);
    let token = body
        .split("<code>")
        .nth(1)
        .unwrap()
        .split('<')
        .next()
        .unwrap();
    assert_eq!(token.len(), 64);
    let (_, household) = look(&app, "/household").await;
    assert!(household.contains("core-1") && !household.contains(token));

    let batch = r#"[{"sensor":"core-1","at":"2026-09-17T10:00:00Z","celsius":41.2},
                    {"sensor":"core-1","at":"2026-09-17T10:00:00Z","celsius":41.2},
                    {"sensor":"core-1","at":"2026-09-17T10:20:00Z","celsius":85.0}]"#;
    let (status, value) = sent(&app, Some(token), batch).await;
    assert_eq!(status, StatusCode::ACCEPTED, "{value}");
    assert_eq!(value["schema"], "loamwright/readings/1");
    assert_eq!((&value["taken"], &value["known"]), (&2.into(), &1.into()));
    assert_eq!(
        (&value["hours"], &value["set_aside"]),
        (&1.into(), &1.into())
    );
    let (_, again) = sent(&app, Some(token), batch).await;
    assert_eq!((&again["taken"], &again["known"]), (&0.into(), &3.into()));

    for (token, body, expected) in [
        (None, batch, StatusCode::FORBIDDEN),
        (Some("wrong"), batch, StatusCode::UNAUTHORIZED),
        (
            Some(token),
            r#"[{"sensor":"other","at":"2026-09-17T10:00:00Z","celsius":1}]"#,
            StatusCode::CONFLICT,
        ),
        (
            Some(token),
            r#"{"sensor":"core-1"}"#,
            StatusCode::UNPROCESSABLE_ENTITY,
        ),
        (
            Some(token),
            r#"[{"sensor":"core-1","at":"lately","celsius":1}]"#,
            StatusCode::UNPROCESSABLE_ENTITY,
        ),
        (
            Some(token),
            r#"[{"sensor":"core-1","at":"2030-09-17T10:00:00Z","celsius":1}]"#,
            StatusCode::UNPROCESSABLE_ENTITY,
        ),
    ] {
        let (status, value) = sent(&app, token, body).await;
        assert_eq!(status, expected, "{body}: {value}");
        assert!(
            value["error"]["message"]
                .as_str()
                .is_some_and(|m| m.len() > 10),
            "{value}"
        );
    }
    post(&app, "/household/probe/revoke", &[("name", "core-1")]).await;
    let (status, _) = sent(&app, Some(token), batch).await;
    assert_eq!(status, StatusCode::UNAUTHORIZED);
}

#[tokio::test]
async fn the_interface_describes_itself() {
    let app = demo();
    let (status, body) = look(&app, "/api/openapi.json").await;
    assert_eq!(status, StatusCode::OK);
    let value: serde_json::Value = serde_json::from_str(&body).unwrap();
    assert!(value["openapi"].as_str().unwrap().starts_with("3.1"));
    let paths = value["paths"].as_object().unwrap();
    for path in [
        "look", "mix", "dose", "fix", "today", "log", "why", "add", "undo", "readings", "ready",
        "heat", "season",
    ] {
        assert!(paths.contains_key(&format!("/api/{path}")), "{path}");
    }
    assert_eq!(paths.len(), 13);
    let day = &paths["/api/season"]["get"]["parameters"][0];
    assert_eq!(
        (&day["name"], &day["schema"]["format"]),
        (&"day".into(), &"date".into())
    );
}
