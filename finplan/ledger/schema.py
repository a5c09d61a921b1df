"""The tables of a ledger, as ordered steps: each leads from one version of the file to the next, in one transaction.

Times are ISO 8601 in universal time, ids of steps those of the plan, amounts in the unit that the column names. What
has happened is never changed: ticks and what befalls a lot are only added to, and an entry that was wrong is taken back
by another. So what was known at any moment, say when a plan was made, can be read again by the last entry of then. A
step of this file that was ever released is never changed either: what is to be otherwise is a new one.
"""

from __future__ import annotations

from collections.abc import Sequence

APPLICATION_ID = 0x46504C47
"""``FPLG`` in the header of the file, which tells a ledger from what other programs keep in such files."""

_ONLY_ADDED_TO = """
CREATE TRIGGER {table}_is_not_changed BEFORE UPDATE ON {table}
  BEGIN SELECT RAISE(ABORT, '{table} is only added to'); END;
CREATE TRIGGER {table}_is_not_deleted BEFORE DELETE ON {table}
  BEGIN SELECT RAISE(ABORT, '{table} is only added to'); END;
"""

_PLANS_AND_TICKS = """
CREATE TABLE job (
  id INTEGER PRIMARY KEY,
  files TEXT NOT NULL UNIQUE,           -- JSON: the piece files planned together, as seen from the ledger
  begun TEXT NOT NULL
) STRICT;

CREATE TABLE plan (
  id INTEGER PRIMARY KEY,
  job INTEGER NOT NULL REFERENCES job,
  number INTEGER NOT NULL CHECK (number >= 1),
  made TEXT NOT NULL,
  version TEXT NOT NULL,                -- of the program
  digest TEXT NOT NULL,                 -- of the bytes of all files
  wishes TEXT NOT NULL,                 -- JSON: what was asked beside them
  done TEXT NOT NULL,                   -- JSON: when steps had ended that were done before, by id
  answer TEXT NOT NULL,                 -- JSON: what is said of the plan as a whole
  last_tick INTEGER NOT NULL,           -- the last entry that was known when it was made
  UNIQUE (job, number)
) STRICT;

CREATE TABLE planned (                  -- the rows of a plan: when everything begins and ends
  plan INTEGER NOT NULL REFERENCES plan,
  position INTEGER NOT NULL,
  step TEXT NOT NULL,
  number INTEGER,                       -- the short number of the step; null where its row has none
  begins TEXT NOT NULL,
  ends TEXT NOT NULL,
  person TEXT,
  row TEXT NOT NULL,                    -- JSON: all else that stands in it
  PRIMARY KEY (plan, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE tick (
  id INTEGER PRIMARY KEY,
  job INTEGER NOT NULL REFERENCES job,
  plan INTEGER REFERENCES plan,         -- whose numbers were ticked
  kind TEXT NOT NULL CHECK (kind IN ('done', 'dry', 'void')),
  at TEXT NOT NULL,                     -- when it was so
  entered TEXT NOT NULL,                -- when it was written down
  person TEXT,
  used_ml REAL CHECK (used_ml >= 0),
  used_g REAL CHECK (used_g >= 0),
  can_before_g REAL CHECK (can_before_g > 0),
  can_after_g REAL CHECK (can_after_g >= 0 AND can_after_g <= can_before_g),
  took_min REAL CHECK (took_min > 0),
  air_c REAL,
  humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100),
  note TEXT,
  voids INTEGER UNIQUE REFERENCES tick, -- the entry that is taken back
  CHECK ((kind = 'void') = (voids IS NOT NULL))
) STRICT;

CREATE TABLE ticked (                   -- the steps that one entry ticks
  tick INTEGER NOT NULL REFERENCES tick,
  step TEXT NOT NULL,
  PRIMARY KEY (tick, step)
) STRICT, WITHOUT ROWID;

CREATE TABLE observation (              -- what is learnt from a tick: what was done, for it to be reckoned again
  tick INTEGER NOT NULL REFERENCES tick,
  kind TEXT NOT NULL CHECK (kind IN ('amount', 'minutes', 'drying')),
  basis TEXT NOT NULL,                  -- JSON
  PRIMARY KEY (tick, kind)
) STRICT, WITHOUT ROWID;

CREATE INDEX tick_of_job ON tick (job);
""" + "".join(_ONLY_ADDED_TO.format(table=table) for table in ("plan", "planned", "tick", "ticked", "observation"))

_STOCK = """
CREATE TABLE lot (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('finishes', 'solvents', 'abrasives', 'consumables')),
  material TEXT NOT NULL,               -- the name of its record in the catalogue
  component TEXT,                       -- of a finish of two components
  grit TEXT,                            -- of an abrasive
  measure TEXT NOT NULL CHECK (measure IN ('ml', 'g', 'pieces')),
  pack REAL NOT NULL CHECK (pack >= 0), -- what it holds when full
  batch TEXT,
  price REAL CHECK (price >= 0),
  entered TEXT NOT NULL
) STRICT;

CREATE TABLE lot_event (
  id INTEGER PRIMARY KEY,
  lot INTEGER NOT NULL REFERENCES lot,
  kind TEXT NOT NULL CHECK (kind IN ('received', 'opened', 'counted', 'drawn', 'discarded', 'void')),
  at TEXT NOT NULL,
  entered TEXT NOT NULL,
  amount REAL CHECK (amount >= 0),      -- received or counted: what there is; drawn: what was taken
  tick INTEGER REFERENCES tick,         -- the coat that took it
  note TEXT,
  voids INTEGER UNIQUE REFERENCES lot_event,
  CHECK ((kind = 'void') = (voids IS NOT NULL)),
  CHECK ((kind IN ('received', 'counted', 'drawn')) = (amount IS NOT NULL))
) STRICT;

CREATE INDEX event_of_lot ON lot_event (lot);

ALTER TABLE plan ADD COLUMN last_event INTEGER NOT NULL DEFAULT 0;  -- of a lot, likewise
""" + "".join(_ONLY_ADDED_TO.format(table=table) for table in ("lot", "lot_event"))

_REPAIRS = """
CREATE TABLE repair (                   -- a coat that went wrong, and what is mended of it
  id INTEGER PRIMARY KEY,
  job INTEGER NOT NULL REFERENCES job,
  at TEXT NOT NULL,                     -- when that was told, or taken back
  fault TEXT,                           -- the name of its record in the catalogue
  coat TEXT,                            -- the step that put it on
  after TEXT,                           -- the step after which it is mended
  share REAL CHECK (share > 0 AND share <= 1),  -- how much of the faces
  parts TEXT,                           -- JSON: the parts that are mended; null for all of the item
  voids INTEGER UNIQUE REFERENCES repair,  -- the repair that is taken back
  CHECK ((fault IS NULL) = (voids IS NOT NULL)),
  CHECK ((coat IS NULL) = (fault IS NULL) AND (after IS NULL) = (fault IS NULL) AND (share IS NULL) = (fault IS NULL))
) STRICT;

CREATE INDEX repair_of_job ON repair (job);
""" + _ONLY_ADDED_TO.format(table="repair")

_RESULTS = """
ALTER TABLE tick ADD COLUMN result TEXT CHECK (result IN ('lead', 'clear'));  -- what a test of an old coating came to
"""

STEPS: Sequence[str] = (_PLANS_AND_TICKS, _STOCK, _REPAIRS, _RESULTS)
"""What leads from version 0, an empty file, to 1, from there to 2, and so on."""
VERSION = len(STEPS)
"""The version that this program writes."""
TABLES = ("job", "plan", "planned", "tick", "ticked", "observation", "lot", "lot_event", "repair")
"""All of them, those first to which others refer. Entries refer to earlier entries alone."""
