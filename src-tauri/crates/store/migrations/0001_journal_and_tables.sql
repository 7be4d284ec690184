-- The one journal. Everything below it, private texts aside, can be rebuilt from it.
CREATE TABLE journal (
    arrival INTEGER PRIMARY KEY,
    seq INTEGER NOT NULL CHECK (seq >= 1),
    id TEXT NOT NULL UNIQUE CHECK (id <> ''),
    room TEXT CHECK (room <> ''),
    at TEXT NOT NULL CHECK (at GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]*'),
    device TEXT NOT NULL,
    person TEXT,
    command TEXT NOT NULL CHECK (command <> ''),
    form INTEGER NOT NULL CHECK (form >= 1),
    payload BLOB NOT NULL,
    undoes TEXT REFERENCES journal (id),
    inverse_command TEXT,
    inverse_form INTEGER,
    inverse_payload BLOB,
    origin BLOB CHECK (length(origin) = 32),
    hash BLOB NOT NULL CHECK (length(hash) = 32),
    CHECK ((inverse_command IS NULL) = (inverse_form IS NULL)),
    CHECK ((inverse_command IS NULL) = (inverse_payload IS NULL))
) STRICT;

CREATE UNIQUE INDEX journal_chain ON journal (ifnull(room, ''), seq);
CREATE INDEX journal_undoes ON journal (undoes) WHERE undoes IS NOT NULL;

CREATE TRIGGER journal_keeps_what_it_says BEFORE UPDATE ON journal
BEGIN
    SELECT RAISE(ABORT, 'an entry of the journal is never changed');
END;

CREATE TRIGGER journal_keeps_every_entry BEFORE DELETE ON journal
BEGIN
    SELECT RAISE(ABORT, 'an entry of the journal is never removed');
END;

-- The only rows that may be lost: the journal keeps their digest and still verifies.
CREATE TABLE private (
    digest TEXT PRIMARY KEY CHECK (digest GLOB 'sha256:*' AND length(digest) = 71),
    salt BLOB NOT NULL CHECK (length(salt) = 16),
    value TEXT NOT NULL
) STRICT;

CREATE TABLE rooms (
    arrival INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (id <> ''),
    name TEXT NOT NULL,
    place TEXT,
    units TEXT NOT NULL CHECK (units IN ('in', 'mm')),
    created_at TEXT NOT NULL,
    archived_at TEXT
) STRICT;

-- A document without a room belongs to the settings.
CREATE TABLE documents (
    room TEXT REFERENCES rooms (id),
    name TEXT NOT NULL CHECK (name <> ''),
    body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE UNIQUE INDEX documents_name ON documents (ifnull(room, ''), name);
CREATE INDEX documents_room ON documents (room) WHERE room IS NOT NULL;

CREATE TABLE setups (
    arrival INTEGER PRIMARY KEY,
    room TEXT NOT NULL REFERENCES rooms (id),
    id TEXT NOT NULL CHECK (id <> ''),
    survey TEXT NOT NULL,
    instrument TEXT NOT NULL,
    method TEXT NOT NULL,
    sd_mm REAL CHECK (sd_mm >= 0),
    benchmark TEXT,
    benchmark_mm REAL,
    opened_at TEXT NOT NULL,
    opening_text TEXT,
    opening_mm REAL,
    closed_at TEXT,
    closing_text TEXT,
    closing_mm REAL,
    withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
    UNIQUE (room, id),
    CHECK ((opening_text IS NULL) = (opening_mm IS NULL)),
    CHECK ((closing_text IS NULL) = (closing_mm IS NULL)),
    CHECK (closing_mm IS NULL OR closed_at IS NOT NULL)
) STRICT;

CREATE TABLE readings (
    arrival INTEGER PRIMARY KEY,
    room TEXT NOT NULL REFERENCES rooms (id),
    id TEXT NOT NULL CHECK (id <> ''),
    setup TEXT,
    point TEXT NOT NULL CHECK (point <> ''),
    sense TEXT NOT NULL CHECK (sense IN ('down', 'up', 'gap', 'tilt')),
    entered TEXT NOT NULL,
    value REAL NOT NULL,
    length_mm REAL,
    x2_mm REAL,
    y2_mm REAL,
    foot_mm REAL,
    edge TEXT,
    source TEXT NOT NULL CHECK (source <> ''),
    raw BLOB,
    at TEXT NOT NULL,
    by TEXT,
    sd_mm REAL CHECK (sd_mm >= 0),
    note TEXT,
    supersedes TEXT,
    withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
    UNIQUE (room, id),
    FOREIGN KEY (room, setup) REFERENCES setups (room, id),
    FOREIGN KEY (room, supersedes) REFERENCES readings (room, id),
    CHECK (sense <> 'down' OR setup IS NOT NULL),
    CHECK (sense = 'gap' OR length_mm IS NULL),
    CHECK (sense = 'tilt' OR foot_mm IS NULL),
    CHECK (sense IN ('gap', 'tilt') OR x2_mm IS NULL),
    CHECK ((x2_mm IS NULL) = (y2_mm IS NULL)),
    CHECK (supersedes <> id)
) STRICT;

CREATE INDEX readings_setup ON readings (room, setup) WHERE setup IS NOT NULL;
CREATE INDEX readings_supersedes ON readings (room, supersedes) WHERE supersedes IS NOT NULL;

CREATE TABLE answers (
    room TEXT NOT NULL REFERENCES rooms (id),
    question TEXT NOT NULL CHECK (question <> ''),
    subject TEXT NOT NULL,
    answer TEXT NOT NULL,
    note TEXT,
    at TEXT NOT NULL,
    by TEXT,
    PRIMARY KEY (room, question, subject)
) STRICT, WITHOUT ROWID;

CREATE TABLE approvals (
    arrival INTEGER PRIMARY KEY,
    room TEXT NOT NULL REFERENCES rooms (id),
    id TEXT NOT NULL CHECK (id <> ''),
    joist TEXT NOT NULL CHECK (joist <> ''),
    depth_mm REAL NOT NULL CHECK (depth_mm >= 0),
    from_mm REAL NOT NULL,
    to_mm REAL NOT NULL CHECK (to_mm >= from_mm),
    by TEXT NOT NULL,
    date TEXT NOT NULL,
    reference TEXT NOT NULL,
    withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
    UNIQUE (room, id)
) STRICT;

CREATE TABLE ticks (
    room TEXT NOT NULL REFERENCES rooms (id),
    item TEXT NOT NULL CHECK (item <> ''),
    done INTEGER NOT NULL CHECK (done IN (0, 1)),
    PRIMARY KEY (room, item)
) STRICT, WITHOUT ROWID;

CREATE TABLE photographs (
    arrival INTEGER PRIMARY KEY,
    room TEXT NOT NULL REFERENCES rooms (id),
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
    name TEXT NOT NULL,
    taken_at TEXT,
    note TEXT,
    UNIQUE (room, sha256)
) STRICT;
