//! What phones hold: told of first, bounded for each person, asked for by the office after days, smaller ones said to be so.

use axum::http::StatusCode;
use serde_json::json;
use tackbook::clock::Clock;
use tackbook::domain::recorded::photos::Photo;
use tackbook::domain::words::fingerprint::Fingerprint;
use tackbook::web::{App, router};

use crate::camera::{Phone, jpeg, new_capture};
use crate::house::House;

#[tokio::test]
async fn after_three_days_the_office_is_told_whose_phone_holds_photographs() {
    let mut house = House::new().await;
    Phone::new(&house).await.tell(&new_capture(), &jpeg(1), "").await;
    let asked = "1 photograph is still on somebody&#39;s phone, unsent for 3 days or more: ask fabricator to open";
    for (now, said) in [("2026-05-06T23:00:00Z", false), ("2026-05-07T00:00:00Z", true)] {
        let clock = Clock::held_at(now.parse().unwrap());
        house.router = router(App { clock, ..house.app.clone() });
        let open = house.browser("office").await.get("/builds/pine-coupe?see=all").await.text;
        assert!(open.contains("still on somebody&#39;s phone"), "{open}");
        assert_eq!(open.contains(asked), said, "{now}: {open}");
    }
}

#[tokio::test]
async fn one_person_tells_of_so_many_photographs_a_day_and_no_more() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let (bytes, first) = (jpeg(1), new_capture());
    phone.tell(&first, &bytes, "").await;
    let build = house.store.builds().await.unwrap().remove(0).id;
    let like = house.store.photos(build).await.unwrap().remove(0);
    let more = move |number: u32| Photo {
        capture: uuid::Uuid::now_v7().into(),
        sha256: Fingerprint::of(&number.to_le_bytes()),
        ..like.clone()
    };
    let entry = crate::books::earlier_entry("photos", "2026-01-02T08:00:00Z".parse().unwrap());
    house
        .store
        .change::<_, tackbook::store::StoreError, _>(move |write| {
            Box::pin(async move {
                for number in 1..2_000 {
                    write.add_photo(&more(number)).await?;
                }
                Ok(((), Some(entry)))
            })
        })
        .await
        .unwrap();
    let refused = phone.tell(&new_capture(), &jpeg(2), "").await;
    assert_eq!((refused.status, refused.header("retry-after").as_str()), (StatusCode::TOO_MANY_REQUESTS, "600"));
    assert!(refused.text.contains("2000 photos were told of under this name within a day"), "{}", refused.text);
    assert_eq!(phone.tell(&first, &bytes, "").await.status, StatusCode::OK, "what was told of goes on");
    assert_eq!(house.store.photos(build).await.unwrap().len(), 2_000);
}

#[tokio::test]
async fn a_picture_that_the_phone_made_smaller_says_so_wherever_it_is_shown() {
    let house = House::new().await;
    let phone = Phone::new(&house).await;
    let bytes = jpeg(1);
    let tell = |camera: u64| {
        let told = json!({
            "sha256": Fingerprint::of(&bytes), "size": bytes.len(), "type": "image/jpeg", "camera_size": camera,
        });
        told.to_string().into_bytes()
    };
    let capture = format!("/captures/{}", new_capture());
    let larger = phone.ask("PUT", &capture, &[], tell(1)).await;
    assert_eq!(larger.status, StatusCode::UNPROCESSABLE_ENTITY, "no picture is made smaller from fewer bytes");
    assert_eq!(phone.ask("PUT", &capture, &[], tell(4_100_000)).await.status, StatusCode::CREATED);
    let said = "Made smaller on the phone: the camera's own picture has 4.1 MB and is not here.";
    let last = phone.send(&bytes, 0, bytes.len(), true).await;
    assert!(last.text.contains(said), "the receipt: {}", last.text);
    let build = house.store.builds().await.unwrap().remove(0).id;
    let photo = house.store.photos(build).await.unwrap().remove(0);
    assert_eq!(photo.camera_size, Some(4_100_000));
    assert_eq!(photo.received.unwrap().remarks, [said], "the record, which the packet prints");
    let office = house.browser("office").await;
    let escaped = said.replace('\'', "&#39;");
    for sheet in ["/builds/pine-coupe/photos".to_owned(), format!("/builds/pine-coupe/photos/{}", photo.sha256)] {
        assert!(office.get(&sheet).await.text.contains(&escaped), "{sheet}");
    }
}
