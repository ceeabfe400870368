//! Loading what the next event may depend on.

use rusqlite::Connection;

use super::fail::Inner;
use super::read;
use crate::tables::Ledger;

pub(super) fn load(conn: &Connection, household: &str) -> Inner<Ledger> {
    Ok(Ledger {
        settings: read::settings(conn, household)?,
        chambers: read::chambers(conn, household)?
            .into_iter()
            .map(|it| (it.id.clone(), it))
            .collect(),
        now: read::fills(conn, household, "emptied IS NULL")?
            .into_iter()
            .map(|it| (it.chamber.clone(), it))
            .collect(),
        stock: read::stock(conn, household)?
            .into_iter()
            .map(|it| (it.material.clone(), it))
            .collect(),
        own: read::own_names(conn, household)?.into_iter().collect(),
    })
}
