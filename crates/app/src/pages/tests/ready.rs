//! May I use it now, and the heat record.

use super::*;

/// Undo forms of the log that hold a word.
async fn in_log(app: &Router, words: &str) -> usize {
    look(app, "/log")
        .await
        .1
        .matches(&format!(": {words}</span>"))
        .count()
}

#[tokio::test]
async fn the_pages_say_their_question_and_promise_nothing() {
    let app = demo();
    for (path, says) in [
        ("/ready", "May I use Far now?"),
        ("/ready?chamber=Near", "May I use Near now?"),
        ("/heat", "Heat record of Far"),
        ("/heat?name=near", "Heat record of Near"),
        ("/more", "href=\"/ready\""),
        ("/more", "href=\"/heat\""),
        ("/workings?id=ready.chance", "Judged"),
        ("/workings?id=heat.yardstick", "None binds"),
    ] {
        let (status, body) = look(&app, path).await;
        assert_eq!(status, StatusCode::OK, "{path}");
        assert!(body.contains(says), "{path} does not say {says}");
        let lower = body.to_lowercase();
        for word in [" safe", "certified", "pathogen-free"] {
            assert!(!lower.contains(word), "{path} says{word}");
        }
    }
    for path in ["/ready?chamber=", "/heat?name="] {
        let (status, body) = look(&app, &format!("{path}{}", escaped("<b>"))).await;
        assert_eq!(status, StatusCode::NOT_FOUND, "{path}");
        assert!(body.contains("No chamber is called “&lt;b&gt;”."), "{path}");
    }
}

#[tokio::test]
async fn no_page_waits_and_tests_show_before_the_chance() {
    let app = demo();
    let (_, body) = look(&app, "/ready?chamber=Far").await;
    assert!(body.contains("is being worked out") && body.contains("17 of 20 came up"));
    let desk = Desk::demo().unwrap();
    desk.work_out_forecasts().unwrap();
    let app = crate::serve::guarded(crate::serve::router(Arc::new(desk)));
    let (_, body) = look(&app, "/ready?chamber=Far").await;
    assert!(!body.contains("is being worked out"));
    assert_eq!(
        body.matches(" in 20</span>").count(),
        5,
        "a chance for each rung"
    );
    assert!(
        body.contains("no bag or flask test is noted"),
        "pots wait for a test of breath"
    );
    assert!(body.contains("What would tell most"));
    assert!(!body.contains(", 20 in 20"), "no test at home is that sure");
}

#[tokio::test]
async fn a_test_is_noted_once_and_can_be_undone() {
    let app = demo();
    let form = [
        ("form", "seeds"),
        ("chamber", "Far"),
        ("key", "one-time"),
        ("up", "18"),
        ("sown", "20"),
        ("control_up", "20"),
        ("control_sown", "20"),
    ];
    let (status, place, _) = post(&app, "/ready", &form).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(place.starts_with("/ready?chamber=Far&noted="), "{place}");
    let (_, again, _) = post(&app, "/ready", &form).await;
    assert_eq!(again, place, "the same key is one entry");
    assert_eq!(in_log(&app, "seeds 18 of 20, control 20 of 20").await, 1);
    let (_, body) = look(&app, &place).await;
    assert!(body.contains("Noted. Seeds: 18 of 20 came up") && body.contains("action=\"/undo\""));
    let (status, place, _) = post(
        &app,
        "/ready",
        &[("form", "bag"), ("chamber", "Far"), ("smell", "sour")],
    )
    .await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(
        look(&app, &place)
            .await
            .1
            .contains("Bag: sour. It fell short.")
    );
    let flask = [
        ("form", "flask"),
        ("chamber", "Far"),
        ("rise", "12,5"),
        ("days", "6"),
        ("litres", ""),
    ];
    let (status, place, _) = post(&app, "/ready", &flask).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(look(&app, &place).await.1.contains("class IV of I to V"));
}

#[tokio::test]
async fn what_cannot_be_is_told_beside_its_field_and_not_written() {
    let app = demo();
    let seeds = |up, sown, cu, cs| {
        vec![
            ("form", "seeds"),
            ("chamber", "Far"),
            ("up", up),
            ("sown", sown),
            ("control_up", cu),
            ("control_sown", cs),
        ]
    };
    for (fields, field, says) in [
        (
            seeds("30", "20", "19", "20"),
            "seeds-up",
            "cannot come up of 20 sown",
        ),
        (seeds("0", "0", "19", "20"), "seeds-up", "none was sown"),
        (
            seeds("17", "20", "0", "20"),
            "seeds-control_up",
            "at least 16 must",
        ),
        (seeds("", "20", "", "20"), "seeds-up", "How many came up"),
        (
            seeds("17", "20", "19", ""),
            "seeds-control_sown",
            "How many were sown in plain mix",
        ),
        (
            seeds("lots", "20", "19", "20"),
            "seeds-up",
            "is not a number",
        ),
        (
            vec![("form", "flask"), ("rise", "400")],
            "flask-rise",
            "between 0 and 75 K",
        ),
        (
            vec![("form", "flask"), ("rise", "9"), ("litres", "900")],
            "flask-litres",
            "between 0.2 and 10 L",
        ),
        (
            vec![("form", "words"), ("text", "<i>qqq</i>")],
            "words-text",
            "Nothing understood",
        ),
        (
            vec![("form", "bag"), ("smell", "lovely")],
            "bag-smell",
            "Nothing understood",
        ),
    ] {
        let mut fields = fields;
        fields.push(("chamber", "Far"));
        let (status, _, body) = post(&app, "/ready", &fields).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        assert!(body.contains(says), "{fields:?} does not say {says}");
        assert!(
            body.contains(&format!("href=\"#{field}\""))
                && body.contains(&format!("id=\"{field}\"")),
            "{field}"
        );
        assert!(!body.contains("<i>qqq"), "what was typed is never markup");
    }
    assert_eq!(in_log(&app, "seeds 30 of 20, control 19 of 20").await, 0);
    let (status, _, _) = post(
        &app,
        "/ready",
        &[("form", "bag"), ("chamber", "Nowhere"), ("smell", "earthy")],
    )
    .await;
    assert_eq!(status, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn three_criteria_stand_open_and_the_rest_are_folded() {
    let app = demo();
    let (_, body) = look(&app, "/heat?name=Far").await;
    let (open, folded) = body
        .split_once("Criteria beside it")
        .and_then(|(_, after)| after.split_once("<details>"))
        .unwrap();
    let rows = |text: &str| text.matches(" for ").count();
    assert_eq!(open.matches("<li>").count(), 3, "{open}");
    let told = folded.split("</details>").next().unwrap();
    let more = told.matches("<li>").count();
    assert!(
        told.contains(&format!("{more} more, from other places")),
        "{told}"
    );
    assert!(more >= 9 && rows(told) >= more);
    // The nearest to kitchen scraps are those that stand open.
    assert!(open.contains("kitchen waste"), "{open}");
}

#[tokio::test]
async fn no_celsius_is_left_where_warmth_is_read_in_fahrenheit() {
    let app = demo();
    let us = [("units", "us"), ("english", "british")];
    assert_eq!(post(&app, "/household", &us).await.0, StatusCode::SEE_OTHER);
    let seen = [("chamber", "Far"), ("look", "85 C")];
    assert_eq!(post(&app, "/check", &seen).await.0, StatusCode::SEE_OTHER);
    let wrong = Desk::symptoms()
        .into_iter()
        .map(|s| format!("/put-right?symptom={}", s.id));
    let others = ["/heat?name=Far", "/log", "/check?chamber=Far", "/handover"].map(String::from);
    for path in others.into_iter().chain(wrong) {
        let (status, body) = look(&app, &path).await;
        assert_eq!(status, StatusCode::OK, "{path}");
        let at = body
            .find("°C")
            .map(|at| &body[at.saturating_sub(80)..(at + 20).min(body.len())]);
        assert_eq!(at, None, "{path}");
    }
    let (_, body) = look(&app, "/heat?name=Far").await;
    assert!(
        body.contains("131 °F for 72 h, or 140 °F for 48 h"),
        "{body}"
    );
    assert!(look(&app, "/log").await.1.contains("185\u{a0}°F exactly"));
}
