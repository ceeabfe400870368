//! Local rules on the household page: answered, shown beside the chambers, refused in words.

use super::*;

#[tokio::test]
async fn local_rules_are_answered_by_the_household_and_tell_of_a_large_chamber() {
    let app = demo();
    let (_, body) = look(&app, "/household").await;
    assert!(body.contains("ask your council or local authority"));
    assert!(body.contains("I do not know") && !body.contains("you noted as the most"));
    let (status, place, body) = post(
        &app,
        "/household/rules",
        &[("food", "no"), ("apart", "3"), ("largest", "100")],
    )
    .await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    assert_eq!(place, "/household?done=kept");
    let (_, body) = look(&app, "/household").await;
    assert!(body.contains("Larger than the 100 L you noted as the most"));
    // Once answered, it cannot be sent as not known by a slip.
    assert!(!body.contains("I do not know"));
    let (_, body) = look(&app, "/look?q=cooked+pasta").await;
    assert!(body.contains("Not in this drum") && body.contains("local rule you noted"));
}

#[tokio::test]
async fn a_local_rule_that_cannot_be_is_refused_beside_its_field() {
    let app = demo();
    for (fields, says) in [
        (
            &[("apart", "-3")][..],
            "distance to a neighbour: -3 m is outside 0 to 200 m",
        ),
        (&[("largest", "2")], "2 L is outside 5 to 5000 L"),
        (&[("apart", "3 kg")], "is no measure for this"),
        (&[], "Nothing is answered yet"),
    ] {
        let (status, _, body) = post(&app, "/household/rules", fields).await;
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{fields:?}");
        let lower = body.to_lowercase();
        assert!(lower.contains(&says.to_lowercase()), "{says}: {body}");
        assert!(body.contains("Nothing was recorded"));
    }
}

#[tokio::test]
async fn a_distance_follows_the_measures_of_the_household() {
    let app = demo();
    let us = [("units", "us"), ("english", "british")];
    assert_eq!(post(&app, "/household", &us).await.0, StatusCode::SEE_OTHER);
    let ten = [("apart", "10")];
    assert_eq!(
        post(&app, "/household/rules", &ten).await.0,
        StatusCode::SEE_OTHER
    );
    let (_, body) = look(&app, "/household").await;
    assert!(body.contains("window, feet"), "{body}");
    assert!(
        body.contains(r#"name="apart" type="text" value="10""#),
        "{body}"
    );
}
