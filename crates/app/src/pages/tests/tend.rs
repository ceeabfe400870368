//! One tap for a turning, water in words, measured weather pasted, and what the card buys.

use super::*;

/// A posting form of a page by its address: the names and values it holds.
fn hidden(body: &str, action: &str) -> Vec<(String, String)> {
    let form = body
        .split("<form")
        .find(|f| f.contains(&format!("action=\"{action}\"")))
        .unwrap_or_else(|| panic!("no form for {action}"));
    let form = form.split("</form>").next().unwrap();
    let value = |tag: &str, name: &str| {
        let at = tag.split(&format!("{name}=\"")).nth(1)?;
        Some(at.split('"').next()?.to_owned())
    };
    form.split("<input")
        .filter(|tag| tag.contains("type=\"hidden\""))
        .filter_map(|tag| Some((value(tag, "name")?, value(tag, "value")?)))
        .collect()
}

async fn send_form(
    app: &Router,
    page: &str,
    action: &str,
    more: &[(&str, &str)],
) -> (StatusCode, String, String) {
    let (_, body) = look(app, page).await;
    let held = hidden(&body, action);
    let mut fields: Vec<(&str, &str)> =
        held.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    assert!(fields.iter().any(|(n, _)| *n == "key"), "a one-time key");
    fields.extend(more);
    // Sent twice, as by a second tap: one entry.
    let first = post(app, action, &fields).await;
    let second = post(app, action, &fields).await;
    assert_eq!((first.0, &first.1), (second.0, &second.1));
    first
}

async fn count(app: &Router, text: &str) -> usize {
    look(app, "/log").await.1.matches(text).count()
}

#[tokio::test]
async fn today_takes_one_tap_for_a_turning_and_says_so() {
    let app = demo();
    let (_, before) = look(&app, "/").await;
    assert!(!before.contains("Turned today"));
    let (status, place, _) = send_form(&app, "/", "/turned", &[]).await;
    assert_eq!(
        (status, place.as_str()),
        (StatusCode::SEE_OTHER, "/?done=turned")
    );
    let (_, after) = look(&app, &place).await;
    assert!(after.contains("Turned today: Far and Near. If that was a slip"));
    assert!(
        look(&app, "/")
            .await
            .1
            .contains("Turned today: Far and Near.")
    );
    let turned = "<span translate=\"no\">turned</span>";
    assert_eq!(count(&app, turned).await, 2, "an entry a chamber, no more");
}

#[tokio::test]
async fn a_chamber_takes_a_turning_and_water_also_while_it_is_worked_out() {
    let app = demo();
    let page = "/chamber?name=Near";
    let (status, place, _) = send_form(&app, page, "/turned", &[]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(place.starts_with("/log?noted="), "{place}");
    let (_, log) = look(&app, &place).await;
    assert!(log.contains("Noted for <b>Near</b>") && log.contains("turned"));
    let (status, place, _) =
        send_form(&app, page, "/watered", &[("amount", "half a bucket")]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (_, log) = look(&app, &place).await;
    assert!(log.contains("watered: half a bucket"), "{log}");
    let (status, _, body) = send_form(&app, page, "/watered", &[("amount", "<b>lots")]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        body.contains("&lt;b&gt;lots") && !body.contains("<b>lots"),
        "what was typed stays, escaped"
    );
    assert!(body.contains("href=\"#water-amount\"") && body.contains("id=\"water-amount\""));
    let (status, _, body) = post(&app, "/turned", &[("chamber", "Nowhere")]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(body.contains("Nowhere"), "{body}");
}

#[tokio::test]
async fn measured_weather_is_pasted_once_and_its_slips_are_told_by_line() {
    let app = demo();
    let file = "date,tmin,tmax\n2026-09-01,9.5,20\n2026-09-02,10,21.5\n";
    let (status, _, body) =
        send_form(&app, "/household", "/household/weather", &[("days", file)]).await;
    assert_eq!(status, StatusCode::OK);
    let kept = "Weather kept: 2 days, 1 September 2026 to 2 September 2026.";
    assert!(body.contains(kept), "{body}");
    assert!(body.contains("Measured: 2 days"));
    assert_eq!(
        count(&app, "weather of 2 days").await,
        2,
        "entry and its undo button"
    );
    let bad = "date,tmin,tmax\n2026-09-01,9.5,20\n2026-09-02,cold,21.5\n";
    let (status, _, body) =
        send_form(&app, "/household", "/household/weather", &[("days", bad)]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        body.contains("line 3, tmin") && body.contains("cold"),
        "{body}"
    );
}

#[tokio::test]
async fn what_the_card_buys_is_told_once_it_is_known() {
    let path = "/add/answer?entry=full+caddy";
    let (_, waiting) = look(&demo(), path).await;
    assert!(!waiting.contains("dose.days"), "no page waits for it");
    let desk = Desk::demo().unwrap();
    desk.work_out_forecasts().unwrap();
    let app = crate::serve::guarded(crate::serve::router(Arc::new(desk)));
    let (_, known) = look(&app, path).await;
    assert!(known.contains("/workings?id=dose.days"), "{known}");
    assert!(known.contains("a dozen of your usual caddies"));
    let (_, api) = look(&app, "/api/dose?entry=full+caddy").await;
    let api: serde_json::Value = serde_json::from_str(&api).unwrap();
    assert!(api["card_buys"]["torn"]["doubt_days"].as_f64().unwrap() > 0.0);
    assert_eq!(look(&app, "/workings?id=dose.days").await.0, StatusCode::OK);
}

#[tokio::test]
async fn some_goes_into_the_other_chamber_and_a_slip_stays_in_its_field() {
    let app = demo();
    let page = "/chamber?name=Near";
    let more = [("amount", "a third"), ("to", "Far")];
    let (status, place, _) = send_form(&app, page, "/moved", &more).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (_, log) = look(&app, &place).await;
    assert!(log.contains("a third moved into Far"), "{log}");
    let more = [("amount", "<i>lots"), ("to", "Far")];
    let (status, _, body) = send_form(&app, page, "/moved", &more).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(body.contains("&lt;i&gt;lots") && body.contains("id=\"move-amount\""));
    assert!(
        body.contains("<details open"),
        "the form with the slip is open"
    );
}
