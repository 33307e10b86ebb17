-- What a customer was told of a repair path, kept to be compared with what happened. Shares are millionths.
CREATE TABLE given_quote (
    id TEXT COLLATE "C" PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    vehicle_id TEXT COLLATE "C" NOT NULL REFERENCES vehicle (id),
    path_id TEXT COLLATE "C" NOT NULL REFERENCES repair_path (id),
    job_id TEXT COLLATE "C" REFERENCES job (id) ON DELETE SET NULL,
    date TEXT COLLATE "C" NOT NULL CHECK (date ~ '^[0-9]{4}-[0-9]{2}-[0-9]{2}$'),
    staff_id TEXT COLLATE "C" REFERENCES staff (id),
    horizon BIGINT NOT NULL CHECK (horizon > 0),
    chance BIGINT CHECK (chance BETWEEN 0 AND 1000000),
    chance_lower BIGINT CHECK (chance_lower BETWEEN 0 AND 1000000),
    chance_upper BIGINT CHECK (chance_upper BETWEEN 0 AND 1000000),
    at_least BIGINT CHECK (at_least BETWEEN 0 AND 1000000),
    worst BIGINT CHECK (worst BETWEEN 0 AND 1000000),
    lives BIGINT NOT NULL CHECK (lives >= 0),
    comebacks BIGINT NOT NULL CHECK (comebacks BETWEEN 0 AND lives),
    yearly BIGINT NOT NULL CHECK (yearly >= 0),
    price BIGINT NOT NULL,
    sentence TEXT COLLATE "C" NOT NULL CHECK (sentence <> ''),
    rev BIGINT NOT NULL CHECK (rev > 0),
    CONSTRAINT chance_within_limits CHECK (chance_lower <= chance AND chance <= chance_upper)
);
-- next
CREATE INDEX given_quote_vehicle ON given_quote (vehicle_id, date);
-- next
CREATE INDEX given_quote_job ON given_quote (job_id);
