-- The events, as they were written. Nothing here is ever changed or taken away.
CREATE TABLE event (
    seq       INTEGER PRIMARY KEY,                    -- order of writing
    id        TEXT    NOT NULL UNIQUE CHECK (length(id) = 36),
    household TEXT    NOT NULL CHECK (household <> ''),
    at        TEXT    NOT NULL CHECK (length(at) = 30),       -- RFC 3339, UTC, nine decimals:
    recorded  TEXT    NOT NULL CHECK (length(recorded) = 30), -- sorts as text
    kind      TEXT    NOT NULL CHECK (kind <> ''),
    version   INTEGER NOT NULL CHECK (version >= 1),
    key       TEXT,
    target    TEXT    REFERENCES event (id) CHECK (target <> id), -- of an undo or a correction
    body      TEXT    NOT NULL CHECK (json_type(body) = 'object'),
    UNIQUE (household, key)
) STRICT;

CREATE INDEX event_when ON event (household, at, recorded, id);
CREATE INDEX event_target ON event (target) WHERE target IS NOT NULL;

CREATE TRIGGER event_no_update BEFORE UPDATE ON event
BEGIN
    SELECT RAISE(ABORT, 'an event is never changed; write a correction');
END;

CREATE TRIGGER event_no_delete BEFORE DELETE ON event
BEGIN
    SELECT RAISE(ABORT, 'an event is never deleted; write an undo');
END;

-- REPLACE deletes without a delete trigger unless the connection asks for one.
CREATE TRIGGER event_no_replace BEFORE INSERT ON event
WHEN EXISTS (
    SELECT 1 FROM event
    WHERE seq = NEW.seq OR id = NEW.id OR (household = NEW.household AND key = NEW.key)
)
BEGIN
    SELECT RAISE(ABORT, 'an event is never replaced; write a correction');
END;
