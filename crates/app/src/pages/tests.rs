//! Every page over the demo household: status, main sentence, escaping, limits.

use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use desk::Desk;
use tower::ServiceExt;

use super::_frame::escaped;

mod check;
mod forecast;
mod handover;
mod household;
mod put_right;
mod ready;
mod season;
mod tend;

fn demo() -> Router {
    crate::serve::guarded(crate::serve::router(Arc::new(Desk::demo().unwrap())))
}

async fn send(app: &Router, request: Request<Body>) -> (StatusCode, String, String) {
    let answer = app.clone().oneshot(request).await.unwrap();
    let place = answer
        .headers()
        .get(header::LOCATION)
        .map(|l| l.to_str().unwrap().to_owned());
    let status = answer.status();
    assert!(
        answer.headers()["content-security-policy"]
            .to_str()
            .unwrap()
            .starts_with("default-src 'self'")
    );
    let bytes = to_bytes(answer.into_body(), usize::MAX).await.unwrap();
    (
        status,
        place.unwrap_or_default(),
        String::from_utf8(bytes.to_vec()).unwrap(),
    )
}

async fn look(app: &Router, path: &str) -> (StatusCode, String) {
    let (status, _, body) = send(app, Request::get(path).body(Body::empty()).unwrap()).await;
    (status, body)
}

async fn post(app: &Router, path: &str, fields: &[(&str, &str)]) -> (StatusCode, String, String) {
    let body: Vec<String> = fields
        .iter()
        .map(|(n, v)| format!("{n}={}", escaped(v)))
        .collect();
    let request = Request::post(path)
        .header("content-type", "application/x-www-form-urlencoded")
        .header("sec-fetch-site", "same-origin")
        .body(Body::from(body.join("&")))
        .unwrap();
    send(app, request).await
}

#[tokio::test]
async fn every_page_says_its_question() {
    let app = demo();
    for (path, says) in [
        ("/", "Anything to do now?"),
        ("/add", "How much browns with this?"),
        (
            "/add/answer?entry=full+caddy",
            "Browns that went in with it",
        ),
        ("/chambers", "What is it like inside?"),
        ("/look", "Can this go in?"),
        ("/look?q=eggshell", "crush"),
        ("/stock", "Are there browns enough?"),
        ("/log", "What happened?"),
        ("/workings", "Where does a number come from?"),
        ("/workings?id=mix.cn", "Rynk"),
        ("/household", "What do you know about us?"),
        ("/start", "How to begin?"),
        ("/start?people=3", "A caddy of about 5 L"),
        ("/more", "What else?"),
        ("/put-right", "What is wrong?"),
        (
            "/put-right?symptom=rotten",
            "What is the smallest thing that fixes it?",
        ),
        ("/check", "What did you see?"),
    ] {
        let (status, body) = look(&app, path).await;
        assert_eq!(status, StatusCode::OK, "{path}");
        assert!(body.contains(says), "{path} does not say {says}");
        assert!(
            body.contains("Invented household"),
            "{path} hides that it is a demo"
        );
        assert!(body.contains("aria-label=\"Main\""), "{path} has no bar");
        assert!(!body.to_lowercase().contains(" safe "), "{path} says safe");
    }
}

#[tokio::test]
async fn what_a_person_types_is_never_markup() {
    let app = demo();
    let evil = "<script>alert(1)</script>\"'>";
    for path in [
        "/look?q=",
        "/add?entry=",
        "/add/answer?entry=full+caddy,+",
        "/workings?id=",
        "/start?people=",
        "/put-right?symptom=",
    ] {
        let (_, body) = look(&app, &format!("{path}{}", escaped(evil))).await;
        assert!(!body.contains("<script"), "{path}");
        assert!(body.contains("&lt;script&gt;"), "{path} does not echo it");
    }
    let (status, place, _) = post(
        &app,
        "/household/chamber",
        &[("name", evil), ("litres", "100")],
    )
    .await;
    assert_eq!(
        (status, place.as_str()),
        (StatusCode::SEE_OTHER, "/household?done=kept")
    );
    for path in ["/chambers", "/household", "/add", "/", "/log"] {
        assert!(!look(&app, path).await.1.contains("<script"), "{path}");
    }
}

#[tokio::test]
async fn a_caddy_goes_in_once_and_comes_out_again() {
    let app = demo();
    let (status, place, _) = post(&app, "/add", &[("entry", "full caddy, cucumber")]).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(
        place.starts_with("/add/answer?entry=full+caddy%2C+cucumber"),
        "{place}"
    );
    let (_, body) = look(&app, &place).await;
    assert!(
        body.contains("ucumber") && body.contains("handful"),
        "{body}"
    );
    let went_in = [
        ("caddy", "full caddy, cucumber"),
        ("chamber", "Near"),
        ("browns", "3 handfuls card"),
        ("key", "one"),
    ];
    let (status, place, _) = post(&app, "/went-in", &went_in).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (_, again, _) = post(&app, "/went-in", &went_in).await;
    assert_eq!(place, again, "a double tap is one entry");
    let (_, body) = look(&app, &place).await;
    assert!(body.contains("full caddy, cucumber, 3 handfuls card"));
    let id = place.strip_prefix("/log?noted=").unwrap();
    let (status, place, _) = post(&app, "/undo", &[("id", id), ("key", "two")]).await;
    assert_eq!(
        (status, place.as_str()),
        (StatusCode::SEE_OTHER, "/log?done=undone")
    );
    assert!(
        look(&app, "/log")
            .await
            .1
            .contains("<s>full caddy, cucumber, 3 handfuls card</s>")
    );
}

#[tokio::test]
async fn a_tap_answers_a_caddy_and_gathers_the_rest() {
    let app = demo();
    let (_, place, _) = post(
        &app,
        "/add",
        &[("entry", "2 eggshells"), ("quick", "coffee grounds")],
    )
    .await;
    assert_eq!(place, "/add?entry=2+eggshells%2C+coffee+grounds");
    assert!(
        look(&app, &place)
            .await
            .1
            .contains("value=\"2 eggshells, coffee grounds\"")
    );
    let (_, place, _) = post(
        &app,
        "/add",
        &[("entry", ""), ("quick", "half caddy"), ("chamber", "Near")],
    )
    .await;
    assert_eq!(place, "/add/answer?entry=half+caddy&chamber=Near");
}

#[tokio::test]
async fn what_does_not_read_is_said_and_kept() {
    let app = demo();
    type Case<'a> = (&'a str, &'a [(&'a str, &'a str)], &'a str, &'a str);
    let cases: [Case<'_>; 7] = [
        ("/add", &[("entry", "zzqxv")], "zzqxv", "Nothing understood"),
        (
            "/went-in",
            &[
                ("caddy", "full caddy"),
                ("chamber", "Near"),
                ("browns", "qqq"),
            ],
            "qqq",
            "Nothing understood",
        ),
        (
            "/stock",
            &[("text", "zzqxv")],
            "zzqxv",
            "Nothing understood",
        ),
        ("/log", &[("lines", "full caddy\nzzqxv")], "zzqxv", "Line 2"),
        (
            "/household",
            &[("caddy_l", "lots")],
            "lots",
            "is not a number",
        ),
        (
            "/household",
            &[("latitude", "123")],
            "123",
            "outside -90 to 90",
        ),
        (
            "/chambers/part-full",
            &[("chamber", "Near"), ("level", "140"), ("text", "leaves")],
            "140",
            "outside 0 to 100",
        ),
    ];
    for (path, fields, kept, says) in cases {
        let (status, _, body) = post(&app, path, fields).await;
        assert_eq!(
            status,
            StatusCode::UNPROCESSABLE_ENTITY,
            "{path} {fields:?}"
        );
        assert!(body.contains(says), "{path} does not say {says}: {body}");
        assert!(body.contains(kept), "{path} loses {kept}");
        assert!(
            body.contains("aria-invalid=\"true\""),
            "{path} does not mark the field"
        );
    }
    assert!(
        !look(&app, "/log").await.1.contains("zzqxv"),
        "nothing half-written"
    );
}

#[tokio::test]
async fn limits_and_strangers_are_refused_in_words() {
    let app = demo();
    let long = "x".repeat(70 * 1024);
    let (status, _, body) = post(&app, "/add", &[("entry", &long)]).await;
    assert_eq!(status, StatusCode::PAYLOAD_TOO_LARGE);
    assert!(body.contains("64 kB at most"));
    let foreign = Request::post("/undo")
        .header("host", "127.0.0.1:4000")
        .header("origin", "http://else.example")
        .body(Body::empty())
        .unwrap();
    let (status, _, body) = send(&app, foreign).await;
    assert_eq!(status, StatusCode::FORBIDDEN);
    assert!(body.contains("another site"));
    let (status, body) = look(&app, "/nowhere").await;
    assert_eq!(status, StatusCode::NOT_FOUND);
    assert!(body.contains("no such page"));
    assert_eq!(
        look(&app, "/workings?id=no.such").await.0,
        StatusCode::NOT_FOUND
    );
    assert_eq!(
        post(&app, "/look", &[]).await.0,
        StatusCode::METHOD_NOT_ALLOWED
    );
}

#[tokio::test]
async fn an_export_comes_back_with_nothing_new() {
    let app = demo();
    let (status, all) = look(&app, "/log/export").await;
    assert_eq!(status, StatusCode::OK);
    assert!(all.lines().count() > 100, "{} lines", all.lines().count());
    let (status, place, body) = post(&app, "/log/import", &[("export", &all)]).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    assert_eq!(place, "/log?done=imported&new=0");
}

#[tokio::test]
async fn chambers_close_and_empty_and_say_so() {
    let app = demo();
    let (status, place, _) = post(
        &app,
        "/chambers/close",
        &[("chamber", "Near"), ("key", "c")],
    )
    .await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(place.starts_with("/log?noted="), "{place}");
    let (status, _, body) = post(
        &app,
        "/chambers/close",
        &[("chamber", "Near"), ("key", "d")],
    )
    .await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(body.contains("closed already"));
    assert!(look(&app, "/").await.1.contains("Hold the caddy back."));
    let (status, _, _) = post(
        &app,
        "/chambers/empty",
        &[("chamber", "Far"), ("litres", "30 L")],
    )
    .await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    assert!(look(&app, "/chambers").await.1.contains("Far is empty."));
}

#[tokio::test]
async fn a_new_household_finds_its_way() {
    let folder = std::env::temp_dir().join(format!("loamwright-pages-{}", super::_frame::key()));
    std::fs::create_dir_all(&folder).unwrap();
    let desk = Arc::new(Desk::open(&folder.join("journal.db"), None).unwrap());
    let app = crate::serve::guarded(crate::serve::router(desk));
    for path in [
        "/",
        "/add",
        "/chambers",
        "/stock",
        "/log",
        "/household",
        "/start",
        "/more",
    ] {
        let (status, body) = look(&app, path).await;
        assert_eq!(status, StatusCode::OK, "{path}");
        assert!(!body.contains("Invented household"), "{path}");
    }
    assert!(look(&app, "/").await.1.contains("How to begin"));
    let (_, body) = look(&app, "/add/answer?entry=full+caddy").await;
    assert!(
        body.contains("name a chamber first"),
        "the dose needs no chamber: {body}"
    );
    let chamber = [("name", "Left"), ("length", "36"), ("across", "68 cm")];
    let (status, _, body) = post(&app, "/household/chamber", &chamber).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    assert!(look(&app, "/household").await.1.contains("131 L"));
    let own = [
        ("material", "our lawn grass"),
        ("water", "77,5"),
        ("carbon", "45"),
        ("cn", "19"),
    ];
    let (status, _, body) = post(&app, "/household/own", &own).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    assert!(look(&app, "/household").await.1.contains("our lawn grass"));
    assert!(look(&app, "/look?q=our+lawn+grass").await.1.contains("19"));
    let (status, _, body) = post(
        &app,
        "/household/own",
        &[("material", "mud"), ("water", "120")],
    )
    .await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{body}");
    assert!(body.contains("0 to 100"), "{body}");
    let part = [
        ("chamber", "Left"),
        ("level", "50"),
        ("days", "60"),
        ("text", "20 kg kitchen scraps, 2 sacks dry leaves"),
    ];
    let (status, _, body) = post(&app, "/chambers/part-full", &part).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    let (_, body) = look(&app, "/chambers").await;
    assert!(body.contains("Left is filling."));
    assert!(body.contains("wants a second container"), "it has no other");
    assert!(
        look(&app, "/add/answer?entry=full+caddy")
            .await
            .1
            .contains("Went in: Left")
    );
    std::fs::remove_dir_all(&folder).unwrap();
}

#[tokio::test]
async fn catching_up_notes_a_line_an_entry() {
    let app = demo();
    let lines = "2 days ago, full caddy, 4 handfuls card\n\nyesterday, half caddy";
    let (status, place, body) = post(&app, "/log", &[("lines", lines), ("key", "k")]).await;
    assert_eq!(
        (status, place.as_str()),
        (StatusCode::SEE_OTHER, "/log?done=caught-up"),
        "{body}"
    );
    let (_, body) = look(&app, "/log").await;
    assert!(
        body.contains("2 days ago, full caddy, 4 handfuls card")
            && body.contains("yesterday, half caddy")
    );
}

#[tokio::test]
async fn pages_follow_the_measures_and_words_of_the_household() {
    let app = demo();
    let american = [
        ("caddy_l", "6"),
        ("units", "us"),
        ("english", "american"),
        ("key", "us"),
    ];
    let (status, _, body) = post(&app, "/household", &american).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    for (path, says, not) in [
        ("/", "about 5.5 gal", " L)"),
        ("/stock", "about 11 gal", "40 L"),
        ("/chambers", "Zucchini", "Courgette"),
        ("/household", "34 gal", "130 L"),
        ("/start?people=3", "A caddy of about 5.5 qt", " L "),
        ("/more", "mold spores", "mould spores"),
        ("/add/answer?entry=full+caddy", " lb", " kg"),
    ] {
        let (_, body) = look(&app, path).await;
        let body = body.replace('\u{a0}', " ");
        assert!(body.contains(says), "{path} does not say {says}: {body}");
        assert!(!body.contains(not), "{path} still says {not}");
        assert!(body.contains("lang=\"en-US\""), "{path}");
    }
    let kept = [("caddy_l", "6.3"), ("caddy_kg", "6"), ("key", "kept")];
    assert_eq!(
        post(&app, "/household", &kept).await.0,
        StatusCode::SEE_OTHER
    );
    let back = [("units", "metric"), ("english", "british"), ("key", "back")];
    assert_eq!(
        post(&app, "/household", &back).await.0,
        StatusCode::SEE_OTHER
    );
    let (_, body) = look(&app, "/household").await;
    assert!(
        body.contains("value=\"6\"") && body.contains("130 L"),
        "a size left as shown is left as it was: {body}"
    );
    let (status, _, body) = post(&app, "/household", &[("caddy_l", "6 kg")]).await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(body.contains("no measure for this"), "{body}");
}

#[tokio::test]
async fn an_entry_that_is_not_there_is_not_found() {
    let app = demo();
    let unknown = "01a21352-ffc6-7708-80da-c051b32f52e3";
    for id in ["x", unknown] {
        let (status, body) = look(&app, &format!("/log?after={id}")).await;
        assert_eq!(status, StatusCode::NOT_FOUND, "{body}");
        assert!(
            body.contains(id) && body.contains("Back to Today"),
            "{body}"
        );
        let (status, _, body) = post(&app, "/undo", &[("id", id), ("key", "k")]).await;
        assert_eq!(status, StatusCode::NOT_FOUND, "{body}");
    }
}

#[tokio::test]
async fn names_of_a_household_never_change_with_its_words() {
    let app = demo();
    let american = [("units", "us"), ("english", "american"), ("key", "us")];
    assert_eq!(
        post(&app, "/household", &american).await.0,
        StatusCode::SEE_OTHER
    );
    for name in ["Card", "Litre & Co"] {
        let chamber = [("name", name), ("litres", "30"), ("key", name)];
        assert_eq!(
            post(&app, "/household/chamber", &chamber).await.0,
            StatusCode::SEE_OTHER
        );
    }
    let own = [
        ("material", "Mouldy fibre"),
        ("water", "60"),
        ("carbon", "45"),
        ("nitrogen", "1"),
        ("density", "200"),
        ("key", "own"),
    ];
    let (status, _, body) = post(&app, "/household/own", &own).await;
    assert_eq!(status, StatusCode::SEE_OTHER, "{body}");
    for path in ["/", "/chambers", "/household", "/add", "/log"] {
        let (_, body) = look(&app, path).await;
        for changed in [
            "Cardboard (",
            "Cut across Cardboard",
            ">Cardboard<",
            "Liter &amp; Co",
            "Moldy fiber",
        ] {
            assert!(!body.contains(changed), "{path} says {changed}");
        }
    }
    let (_, body) = look(&app, "/add/answer?entry=2+gal+mouldy+fibre%2C+qqq+card").await;
    assert!(
        body.contains("Mouldy fibre") && !body.contains("Moldy fiber"),
        "{body}"
    );
    let (_, body) = look(&app, "/chambers").await;
    assert!(body.contains("Cut across Card<") && body.contains("Cut across Litre &amp; Co<"));
}

#[tokio::test]
async fn a_time_zone_that_was_not_given_stays_empty() {
    let desk = Desk::demo().unwrap();
    let given = desk.household().unwrap();
    let app = crate::serve::guarded(crate::serve::router(Arc::new(desk)));
    let (_, body) = look(&app, "/household").await;
    let field = body.split("id=\"settings-zone\"").nth(1).unwrap();
    let field = field.split('>').next().unwrap();
    assert_eq!(
        field.contains(&format!("value=\"{}\"", given.zone)),
        given.zone_given().is_some(),
        "{field}"
    );
    assert!(body.contains(&format!("Days now follow {}.", given.zone_used)));
}
