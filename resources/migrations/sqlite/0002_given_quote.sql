-- What a customer was told of a repair path, kept to be compared with what happened. Shares are millionths.
CREATE TABLE given_quote (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    vehicle_id TEXT NOT NULL REFERENCES vehicle (id),
    path_id TEXT NOT NULL REFERENCES repair_path (id),
    job_id TEXT REFERENCES job (id) ON DELETE SET NULL,
    date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    staff_id TEXT REFERENCES staff (id),
    horizon INTEGER NOT NULL CHECK (horizon > 0),
    chance INTEGER CHECK (chance BETWEEN 0 AND 1000000),
    chance_lower INTEGER CHECK (chance_lower BETWEEN 0 AND 1000000),
    chance_upper INTEGER CHECK (chance_upper BETWEEN 0 AND 1000000),
    at_least INTEGER CHECK (at_least BETWEEN 0 AND 1000000),
    worst INTEGER CHECK (worst BETWEEN 0 AND 1000000),
    lives INTEGER NOT NULL CHECK (lives >= 0),
    comebacks INTEGER NOT NULL CHECK (comebacks BETWEEN 0 AND lives),
    yearly INTEGER NOT NULL CHECK (yearly >= 0),
    price INTEGER NOT NULL,
    sentence TEXT NOT NULL CHECK (sentence <> ''),
    rev INTEGER NOT NULL CHECK (rev > 0),
    CONSTRAINT chance_within_limits CHECK (chance_lower <= chance AND chance <= chance_upper)
) STRICT;
-- next
CREATE INDEX given_quote_vehicle ON given_quote (vehicle_id, date);
-- next
CREATE INDEX given_quote_job ON given_quote (job_id);
