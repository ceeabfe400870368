//! Branches of a common past against whole runs of the same plans: the same days, bit for bit.

mod batch_support;

use batch_support::{kitchen, member, normals, plan, six_weeks, weather};
use engine::batch::events::Deed;
use engine::batch::vessel::Vessel;
use engine::ensemble::{At, Fork, Member, Plan, branches, simulate};

/// The planted bed, in the order of rungs.
const BED: usize = 2;
const DAYS: usize = 260;
const PARTED: usize = 70;

fn with(trunk: &Plan, deed: Deed) -> Plan {
    let mut deeds = trunk.deeds.clone();
    deeds.push(At {
        day: PARTED as f64,
        deed,
    });
    Plan::new(trunk.vessel, deeds, trunk.days, trunk.courses.clone())
}

#[test]
fn a_branch_gives_the_days_of_a_whole_run() {
    let vessel = Vessel::default();
    let trunk = plan(vessel, six_weeks(DAYS), DAYS, (4, 1));
    let usual = normals(11.0, 8.0);
    // Not a multiple of a pack: the last one is filled up.
    let members: Vec<Member> = (0..19)
        .map(|m| member(&vessel, weather(&usual, (4, 1), DAYS, m), m))
        .collect();
    let plans = [
        trunk.clone(),
        with(&trunk, Deed::Cut(1.4)),
        with(
            &trunk,
            Deed::Place {
                loss: 0.35,
                sun: 1.0,
            },
        ),
        // A later last feed puts every rung off.
        with(&trunk, Deed::Feed(kitchen(4.0, 0.8))),
    ];
    let fork = Fork {
        trunk: &trunk,
        plans: &plans,
        day: PARTED,
        rung: BED,
    };
    let days = branches(fork, &members);
    assert_eq!(days.len(), plans.len());
    for (plan, days) in plans.iter().zip(&days) {
        let whole: Vec<f64> = simulate(plan, &members)
            .outcomes
            .iter()
            .map(|o| o.ready[BED])
            .collect();
        assert_eq!(*days, whole);
    }
    let reached = days[0].iter().filter(|d| d.is_finite()).count();
    assert!(reached > 3, "some arrive, or nothing was compared");
    assert!(days[0].iter().zip(&days[1]).any(|(a, b)| a != b));
}

#[test]
fn parts_of_a_run_joined_are_the_run() {
    let vessel = Vessel::default();
    let trunk = plan(vessel, six_weeks(40), 40, (4, 1));
    let usual = normals(11.0, 8.0);
    let members: Vec<Member> = (0..21)
        .map(|m| member(&vessel, weather(&usual, (4, 1), 40, m), m))
        .collect();
    let mut parts = simulate(&trunk, &[]);
    for some in members.chunks(8) {
        parts.join(simulate(&trunk, some));
    }
    assert_eq!(parts, simulate(&trunk, &members));
}

#[test]
fn company_changes_no_day_of_a_long_run() {
    let vessel = Vessel::default();
    let trunk = plan(vessel, six_weeks(400), 400, (10, 1));
    let usual = normals(8.0, 8.0);
    let members: Vec<Member> = (0..24)
        .map(|m| member(&vessel, weather(&usual, (10, 1), 400, m), m))
        .collect();
    let mut other = members.clone();
    other.rotate_left(3);
    let days = |of: &[Member]| -> Vec<[f64; 5]> {
        simulate(&trunk, of)
            .outcomes
            .iter()
            .map(|o| o.ready)
            .collect()
    };
    let mut back = days(&other);
    back.rotate_right(3);
    assert_eq!(days(&members), back);
}
