//! Handing over: a sheet that waits for nothing, claims nothing, and says how the record goes along.

use super::*;

#[tokio::test]
async fn the_sheet_waits_for_nothing_and_then_holds_what_the_next_person_needs() {
    let desk = Arc::new(Desk::demo().unwrap());
    let app = crate::serve::guarded(crate::serve::router(Arc::clone(&desk)));
    let (status, body) = look(&app, "/handover").await;
    assert_eq!(status, StatusCode::OK);
    assert!(body.contains("is being worked out") && body.contains("Look again"));
    assert!(body.contains("Last looks: level"));

    desk.work_out_forecasts().unwrap();
    let (_, body) = look(&app, "/handover").await;
    for says in [
        "tubs or bags of about",
        "Chances in 20, by forecast and tests: mulch",
        "Scraps go in here. With a full caddy:",
        "Put nothing in: it finishes.",
        "Lift no more than 12 kg at once",
        "mould spores",
        "exports them all as one file",
        "ask your council or local authority",
    ] {
        assert!(body.contains(says), "{says}: {body}");
    }
    let lower = body.to_lowercase();
    for claim in ["safe", "pathogen", "germ-free", "sterile"] {
        assert!(!lower.contains(claim), "{claim}");
    }
    assert!(look(&app, "/more").await.1.contains("/handover"));
}

#[tokio::test]
async fn it_follows_the_measures_and_the_rules_of_the_household() {
    let app = demo();
    for (path, fields) in [
        (
            "/household",
            &[("units", "us"), ("english", "american")][..],
        ),
        ("/household/rules", &[("food", "no"), ("apart", "10")]),
    ] {
        assert_eq!(post(&app, path, fields).await.0, StatusCode::SEE_OTHER);
    }
    let (_, body) = look(&app, "/handover").await;
    assert!(body.contains("Lift no more than 26 lb at once"), "{body}");
    assert!(body.contains("10 ft or more from a neighbor"), "{body}");
    assert!(body.contains("Cooked food and meat stay out."));
    assert!(!body.contains(" kg") && !body.contains("°C"));
}
