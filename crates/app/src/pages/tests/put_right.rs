//! What is wrong, over the demo household.

use super::*;

/// Value of a hidden field of the first form that notes.
fn hidden(body: &str, name: &str) -> String {
    let at = format!("name=\"{name}\" value=\"");
    let rest = body.split(&at).nth(1).unwrap();
    rest.split('"').next().unwrap().replace("&amp;", "&")
}

#[tokio::test]
async fn every_symptom_has_a_button_and_an_answer_with_a_runner_up() {
    let app = demo();
    let (_, start) = look(&app, "/put-right").await;
    for s in Desk::symptoms() {
        let path = format!("/put-right?symptom={}", s.id);
        assert!(start.contains(&path), "no button for {}", s.id);
        let (status, body) = look(&app, &path).await;
        assert_eq!(status, StatusCode::OK, "{path}");
        let at = |text: &str| {
            body.find(text)
                .unwrap_or_else(|| panic!("{path} lacks {text}"))
        };
        assert!(
            at("class=\"big\"") < at("chances in 20"),
            "{path}: the act comes first"
        );
        assert!(at("chances in 20") < at("Look again on"), "{path}");
        assert!(
            at("Look again on") < at("tells the two likeliest apart"),
            "{path}"
        );
        assert!(
            body.contains(">Done: note it<") || body.contains(">Note it<"),
            "{path}"
        );
    }
    for id in ["fix.chance", "fix.amount"] {
        assert_eq!(
            look(&app, &format!("/workings?id={id}")).await.0,
            StatusCode::OK
        );
    }
}

#[tokio::test]
async fn words_are_understood_asked_back_or_refused() {
    let app = demo();
    let (status, body) = look(&app, "/put-right?symptom=it+stinks").await;
    assert_eq!(status, StatusCode::OK);
    assert!(body.contains("Smells rotten or sour"), "{body}");
    let (status, body) = look(&app, "/put-right?symptom=caddy&chamber=Far").await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(body.contains("could be several things"), "{body}");
    assert!(body.contains("chamber=Far"), "the chamber is kept");
    let (status, body) = look(&app, "/put-right?symptom=zzqxv").await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(body.contains("“zzqxv” is not known here"), "{body}");
    let (status, body) = look(&app, "/put-right?symptom=slimy&chamber=attic").await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    assert!(body.contains("attic"), "{body}");
}

#[tokio::test]
async fn a_page_does_not_wait_and_says_what_it_rests_on() {
    let (_, soon) = look(&demo(), "/put-right?symptom=slimy").await;
    assert!(soon.contains("still being worked out"), "{soon}");
    let desk = Desk::demo().unwrap();
    desk.work_out_forecasts().unwrap();
    let app = crate::serve::guarded(crate::serve::router(Arc::new(desk)));
    let (_, dry) = look(&app, "/put-right?symptom=dry_unchanged").await;
    assert!(
        dry.contains("Squeeze a handful first. If it crumbles: sprinkle in"),
        "what denies it is told: {dry}"
    );
    let (_, body) = look(&app, "/put-right?symptom=slimy").await;
    assert!(body.contains("Weighed with the log of Near"), "{body}");
    assert!(body.contains("The same for Far") && body.contains("class=\"flag\""));
}

#[tokio::test]
async fn what_is_done_is_noted_once_and_can_be_undone() {
    let desk = Desk::demo().unwrap();
    desk.work_out_forecasts().unwrap();
    let app = crate::serve::guarded(crate::serve::router(Arc::new(desk)));
    let (_, body) = look(&app, "/put-right?symptom=slimy").await;
    let names = [
        "symptom", "chamber", "cause", "act", "text", "key", "material", "kg",
    ];
    let values: Vec<String> = names.iter().map(|n| hidden(&body, n)).collect();
    let fields: Vec<(&str, &str)> = names
        .iter()
        .copied()
        .zip(values.iter().map(String::as_str))
        .collect();
    let (status, place, _) = post(&app, "/put-right", &fields).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (again, same, _) = post(&app, "/put-right", &fields).await;
    assert_eq!(
        (again, &same),
        (StatusCode::SEE_OTHER, &place),
        "a double tap is one entry"
    );
    let (_, log) = look(&app, &place).await;
    assert!(
        log.contains("Put right, wet and slimy") && log.contains("action=\"/undo\""),
        "{log}"
    );
    let wrong = [("symptom", "slimy"), ("cause", "gremlins"), ("act", "turn")];
    let (status, _, body) = post(&app, "/put-right", &wrong).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(body.contains("gremlins"), "{body}");
}
