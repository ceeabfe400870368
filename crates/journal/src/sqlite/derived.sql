-- What follows from the events. Dropped and rebuilt at will; not part of the migrations.
CREATE TABLE derived (layout INTEGER NOT NULL) STRICT;

-- Every event as it counts now.
CREATE TABLE entry (
    id           TEXT PRIMARY KEY REFERENCES event (id),
    household    TEXT NOT NULL,
    at           TEXT NOT NULL,
    recorded     TEXT NOT NULL,
    kind         TEXT NOT NULL,
    version      INTEGER NOT NULL,
    body         TEXT NOT NULL,
    readable     INTEGER NOT NULL,
    corrected_by TEXT,
    undone_by    TEXT
) STRICT, WITHOUT ROWID;
CREATE INDEX entry_when ON entry (household, at, recorded, id);
CREATE INDEX entry_unreadable ON entry (household) WHERE readable = 0;

CREATE TABLE settings (
    household     TEXT PRIMARY KEY,
    name          TEXT,
    place         TEXT,
    latitude      REAL, -- degrees north
    zone          TEXT,
    units         TEXT,
    english       TEXT,
    caddy_l       REAL,
    caddy_full_kg REAL,
    handful_l     REAL,
    food_allowed  INTEGER,
    apart_m       REAL,
    largest_l     REAL
) STRICT, WITHOUT ROWID;

CREATE TABLE chamber (
    household TEXT NOT NULL,
    id        TEXT NOT NULL,
    name      TEXT,
    litres    REAL,
    shape     TEXT,
    length_cm REAL,
    width_cm  REAL,
    height_cm REAL,
    PRIMARY KEY (household, id)
) STRICT, WITHOUT ROWID;

-- One run of a chamber, from its first portion until it is emptied.
CREATE TABLE fill (
    id         TEXT PRIMARY KEY, -- of the event that started it
    household  TEXT NOT NULL,
    chamber    TEXT NOT NULL,
    started    TEXT NOT NULL,
    since      TEXT,
    level      REAL,             -- share of the chamber
    closed     TEXT,
    emptied    TEXT,
    litres_out REAL,
    moved      TEXT              -- when something last went into it from another, or out of it into one
) STRICT, WITHOUT ROWID;
CREATE INDEX fill_when ON fill (household, started, id);
-- A chamber holds one fill at a time.
CREATE UNIQUE INDEX fill_now ON fill (household, chamber) WHERE emptied IS NULL;

CREATE TABLE portion (
    fill        TEXT NOT NULL REFERENCES fill (id),
    at          TEXT NOT NULL,
    recorded    TEXT NOT NULL,
    event       TEXT NOT NULL,
    row         INTEGER NOT NULL,
    material    TEXT NOT NULL,
    text        TEXT NOT NULL,
    kg_low      REAL NOT NULL,
    kg_mid      REAL NOT NULL,
    kg_high     REAL NOT NULL,
    litres_low  REAL NOT NULL,
    litres_mid  REAL NOT NULL,
    litres_high REAL NOT NULL,
    hand        INTEGER NOT NULL,
    PRIMARY KEY (fill, at, recorded, event, row)
) STRICT, WITHOUT ROWID;

-- Words of a fill that were not understood.
CREATE TABLE unknown (
    fill     TEXT NOT NULL REFERENCES fill (id),
    at       TEXT NOT NULL,
    recorded TEXT NOT NULL,
    event    TEXT NOT NULL,
    row      INTEGER NOT NULL,
    text     TEXT NOT NULL,
    PRIMARY KEY (fill, at, recorded, event, row)
) STRICT, WITHOUT ROWID;

CREATE TABLE stock (
    household TEXT NOT NULL,
    material  TEXT NOT NULL,
    litres    REAL,
    kg        REAL,
    counted   TEXT, -- when it was last counted; never, if absent
    PRIMARY KEY (household, material)
) STRICT, WITHOUT ROWID;

CREATE TABLE own_material (
    household TEXT NOT NULL,
    id        TEXT NOT NULL,
    name      TEXT,
    PRIMARY KEY (household, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE own_figure (
    household TEXT NOT NULL,
    material  TEXT NOT NULL,
    property  TEXT NOT NULL,
    value     REAL NOT NULL,
    low       REAL NOT NULL,
    high      REAL NOT NULL,
    PRIMARY KEY (household, material, property),
    FOREIGN KEY (household, material) REFERENCES own_material (household, id)
) STRICT, WITHOUT ROWID;

-- Weather as it was measured, a day a row.
CREATE TABLE weather (
    household    TEXT NOT NULL,
    day          TEXT NOT NULL,
    mean_c       REAL,
    min_c        REAL,
    max_c        REAL,
    radiation_mj REAL, -- on level ground, MJ/m2 a day
    PRIMARY KEY (household, day)
) STRICT, WITHOUT ROWID;
