-- 0001_records.sql: the shop's records, the log of their changes, drafts and counters.
-- Keys are UUIDs as text, distances whole metres, money minor units, dates ISO 8601, moments UTC with Z.
PRAGMA application_id = 1296593506;
-- next
CREATE TABLE schema_migration (
    version INTEGER PRIMARY KEY NOT NULL,
    name TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    at TEXT NOT NULL,
    program TEXT NOT NULL
) STRICT;
-- next
CREATE TABLE shop (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    only_row INTEGER NOT NULL UNIQUE DEFAULT 1 CHECK (only_row = 1),
    name TEXT NOT NULL CHECK (name <> ''),
    unit TEXT NOT NULL CHECK (unit IN ('miles', 'kilometres')),
    currency TEXT NOT NULL CHECK (length(currency) = 3),
    locale TEXT NOT NULL,
    warranty_months INTEGER CHECK (warranty_months >= 0),
    warranty_distance INTEGER CHECK (warranty_distance >= 0),
    warranty_terms TEXT NOT NULL,
    default_yearly INTEGER NOT NULL CHECK (default_yearly >= 0),
    quiet_visit_counts INTEGER NOT NULL CHECK (quiet_visit_counts IN (0, 1)),
    lost_after_months INTEGER NOT NULL CHECK (lost_after_months > 0),
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE TABLE counter (
    name TEXT PRIMARY KEY NOT NULL,
    next INTEGER NOT NULL CHECK (next > 0)
) STRICT;
-- next
INSERT INTO counter (name, next) VALUES ('job', 1);
-- next
CREATE TABLE staff (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    technician INTEGER NOT NULL CHECK (technician IN (0, 1)),
    advisor INTEGER NOT NULL CHECK (advisor IN (0, 1)),
    owner INTEGER NOT NULL CHECK (owner IN (0, 1)),
    active INTEGER NOT NULL CHECK (active IN (0, 1)),
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE TABLE customer (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    best_time TEXT NOT NULL,
    do_not_call INTEGER NOT NULL CHECK (do_not_call IN (0, 1)),
    note TEXT NOT NULL,
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE TABLE customer_phone (
    customer_id TEXT NOT NULL REFERENCES customer (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    phone TEXT NOT NULL,
    digits TEXT NOT NULL,
    last_digits TEXT NOT NULL,
    PRIMARY KEY (customer_id, place)
) STRICT;
-- next
CREATE INDEX customer_phone_digits ON customer_phone (digits);
-- next
CREATE INDEX customer_phone_last_digits ON customer_phone (last_digits);
-- next
CREATE TABLE customer_email (
    customer_id TEXT NOT NULL REFERENCES customer (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    email TEXT NOT NULL,
    PRIMARY KEY (customer_id, place)
) STRICT;
-- next
-- Each word of a name, folded, so that a search finds any of them by its beginning.
CREATE TABLE customer_word (
    customer_id TEXT NOT NULL REFERENCES customer (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    word TEXT NOT NULL,
    PRIMARY KEY (customer_id, place)
) STRICT;
-- next
CREATE INDEX customer_word_word ON customer_word (word, customer_id);
-- next
CREATE TABLE engine_family (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    banks INTEGER NOT NULL CHECK (banks IN (1, 2)),
    note TEXT NOT NULL,
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE TABLE engine_position (
    family_id TEXT NOT NULL REFERENCES engine_family (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    position TEXT NOT NULL CHECK (position GLOB 'B[12]-[A-Z][A-Z]'),
    PRIMARY KEY (family_id, place),
    UNIQUE (family_id, position)
) STRICT;
-- next
CREATE TABLE part_number (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    number TEXT NOT NULL CHECK (number <> ''),
    component TEXT NOT NULL CHECK (component IN ('phaser', 'oil-control-valve', 'chain-set', 'tensioner', 'guide',
                                                 'seal', 'fastener', 'oil', 'other')),
    revision_label TEXT NOT NULL,
    what_changed TEXT NOT NULL,
    introduced_on TEXT CHECK (introduced_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    superseded_by TEXT REFERENCES part_number (id) CHECK (superseded_by <> id),
    supplier TEXT NOT NULL,
    claim_months INTEGER CHECK (claim_months >= 0),
    checked_on TEXT CHECK (checked_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    check_again_by TEXT CHECK (check_again_by GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    rev INTEGER NOT NULL CHECK (rev > 0),
    UNIQUE (number, revision_label)
) STRICT;
-- next
CREATE INDEX part_number_superseded_by ON part_number (superseded_by);
-- next
CREATE TRIGGER part_number_insert_no_cycle AFTER INSERT ON part_number WHEN NEW.superseded_by IS NOT NULL BEGIN
    SELECT RAISE(ABORT, 'rule: a part is superseded by itself in the end') WHERE EXISTS (
        WITH RECURSIVE chain(id) AS (
            SELECT NEW.superseded_by
            UNION SELECT p.superseded_by FROM part_number p JOIN chain c ON p.id = c.id
                WHERE p.superseded_by IS NOT NULL)
        SELECT 1 FROM chain WHERE id = NEW.id);
END;
-- next
CREATE TRIGGER part_number_update_no_cycle AFTER UPDATE OF superseded_by ON part_number
    WHEN NEW.superseded_by IS NOT NULL BEGIN
    SELECT RAISE(ABORT, 'rule: a part is superseded by itself in the end') WHERE EXISTS (
        WITH RECURSIVE chain(id) AS (
            SELECT NEW.superseded_by
            UNION SELECT p.superseded_by FROM part_number p JOIN chain c ON p.id = c.id
                WHERE p.superseded_by IS NOT NULL)
        SELECT 1 FROM chain WHERE id = NEW.id);
END;
-- next
CREATE TABLE calibration (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    code TEXT NOT NULL CHECK (code <> ''),
    module TEXT NOT NULL,
    family_id TEXT REFERENCES engine_family (id),
    from_year INTEGER,
    to_year INTEGER,
    supersedes TEXT REFERENCES calibration (id) CHECK (supersedes <> id),
    released_on TEXT CHECK (released_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    checked_on TEXT CHECK (checked_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    check_again_by TEXT CHECK (check_again_by GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    rev INTEGER NOT NULL CHECK (rev > 0),
    UNIQUE (code, module),
    CHECK (from_year IS NULL OR to_year IS NULL OR from_year <= to_year)
) STRICT;
-- next
CREATE INDEX calibration_family ON calibration (family_id);
-- next
CREATE INDEX calibration_supersedes ON calibration (supersedes);
-- next
CREATE TRIGGER calibration_insert_no_cycle AFTER INSERT ON calibration WHEN NEW.supersedes IS NOT NULL BEGIN
    SELECT RAISE(ABORT, 'rule: a calibration supersedes itself in the end') WHERE EXISTS (
        WITH RECURSIVE chain(id) AS (
            SELECT NEW.supersedes
            UNION SELECT p.supersedes FROM calibration p JOIN chain c ON p.id = c.id WHERE p.supersedes IS NOT NULL)
        SELECT 1 FROM chain WHERE id = NEW.id);
END;
-- next
CREATE TRIGGER calibration_update_no_cycle AFTER UPDATE OF supersedes ON calibration
    WHEN NEW.supersedes IS NOT NULL BEGIN
    SELECT RAISE(ABORT, 'rule: a calibration supersedes itself in the end') WHERE EXISTS (
        WITH RECURSIVE chain(id) AS (
            SELECT NEW.supersedes
            UNION SELECT p.supersedes FROM calibration p JOIN chain c ON p.id = c.id WHERE p.supersedes IS NOT NULL)
        SELECT 1 FROM chain WHERE id = NEW.id);
END;
-- next
CREATE TABLE repair_path (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    name TEXT NOT NULL CHECK (name <> ''),
    calibration_id TEXT REFERENCES calibration (id),
    hours INTEGER NOT NULL CHECK (hours >= 0),
    price INTEGER NOT NULL,
    active INTEGER NOT NULL CHECK (active IN (0, 1)),
    checked_on TEXT CHECK (checked_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    check_again_by TEXT CHECK (check_again_by GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE INDEX repair_path_calibration ON repair_path (calibration_id);
-- next
CREATE TABLE path_line (
    path_id TEXT NOT NULL REFERENCES repair_path (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    line TEXT NOT NULL,
    PRIMARY KEY (path_id, place)
) STRICT;
-- next
CREATE TABLE path_part (
    path_id TEXT NOT NULL REFERENCES repair_path (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    part_id TEXT NOT NULL REFERENCES part_number (id),
    position TEXT CHECK (position GLOB 'B[12]-[A-Z][A-Z]'),
    quantity INTEGER NOT NULL CHECK (quantity >= 1),
    PRIMARY KEY (path_id, place)
) STRICT;
-- next
CREATE INDEX path_part_part ON path_part (part_id);
-- next
CREATE TABLE path_applies (
    path_id TEXT NOT NULL REFERENCES repair_path (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
    family_id TEXT NOT NULL REFERENCES engine_family (id),
    from_year INTEGER,
    to_year INTEGER,
    needs_calibration TEXT REFERENCES calibration (id),
    excludes_calibration TEXT REFERENCES calibration (id),
    PRIMARY KEY (path_id, place),
    CHECK (from_year IS NULL OR to_year IS NULL OR from_year <= to_year)
) STRICT;
-- next
CREATE INDEX path_applies_family ON path_applies (family_id);
-- next
CREATE TABLE path_replace_once (
    path_id TEXT NOT NULL REFERENCES repair_path (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    item TEXT NOT NULL,
    PRIMARY KEY (path_id, place)
) STRICT;
-- next
CREATE TABLE path_caution (
    path_id TEXT NOT NULL REFERENCES repair_path (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    caution TEXT NOT NULL,
    PRIMARY KEY (path_id, place)
) STRICT;
-- next
CREATE TABLE shelf_note (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    subject TEXT NOT NULL CHECK (subject IN ('engine-family', 'repair-path', 'part-number', 'calibration')),
    subject_id TEXT NOT NULL CHECK (length(subject_id) = 36),
    text TEXT NOT NULL CHECK (text <> ''),
    source TEXT NOT NULL,
    checked_on TEXT CHECK (checked_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    check_again_by TEXT CHECK (check_again_by GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE INDEX shelf_note_subject ON shelf_note (subject_id);
-- next
CREATE TABLE vehicle (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    vin TEXT NOT NULL,
    vin_tail TEXT NOT NULL,
    plate TEXT NOT NULL,
    plate_key TEXT NOT NULL,
    maker TEXT NOT NULL,
    model TEXT NOT NULL,
    model_year INTEGER,
    family_id TEXT REFERENCES engine_family (id),
    customer_id TEXT REFERENCES customer (id),
    note TEXT NOT NULL,
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE UNIQUE INDEX vehicle_vin ON vehicle (vin) WHERE vin <> '';
-- next
CREATE INDEX vehicle_vin_tail ON vehicle (vin_tail);
-- next
CREATE INDEX vehicle_plate_key ON vehicle (plate_key);
-- next
CREATE INDEX vehicle_customer ON vehicle (customer_id);
-- next
CREATE INDEX vehicle_family ON vehicle (family_id);
-- next
CREATE TABLE job (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    number INTEGER NOT NULL UNIQUE CHECK (number > 0),
    repair_order TEXT NOT NULL,
    repair_order_key TEXT NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('repair', 'visit', 'elsewhere')),
    vehicle_id TEXT NOT NULL REFERENCES vehicle (id),
    path_id TEXT REFERENCES repair_path (id),
    written_up TEXT NOT NULL CHECK (written_up GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    started TEXT CHECK (started GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    delivered TEXT CHECK (delivered GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    odometer_in INTEGER CHECK (odometer_in >= 0),
    odometer_out INTEGER CHECK (odometer_out >= 0),
    first_seen INTEGER CHECK (first_seen >= 0),
    technician_id TEXT REFERENCES staff (id),
    advisor_id TEXT REFERENCES staff (id),
    concern_group TEXT NOT NULL CHECK (concern_group IN ('none', 'startup-rattle', 'timing-code', 'chain-noise',
                                                         'oil-leak', 'other')),
    concern TEXT NOT NULL,
    cause TEXT NOT NULL,
    correction TEXT NOT NULL,
    soak_hours_before INTEGER CHECK (soak_hours_before >= 0),
    rattle_tenths_before INTEGER CHECK (rattle_tenths_before >= 0),
    soak_hours_after INTEGER CHECK (soak_hours_after >= 0),
    rattle_tenths_after INTEGER CHECK (rattle_tenths_after >= 0),
    delivery_check TEXT NOT NULL CHECK (delivery_check IN ('not-done', 'quiet', 'noisy')),
    oil_level TEXT NOT NULL CHECK (oil_level IN ('not-checked', 'low', 'good', 'high')),
    oil_condition TEXT NOT NULL CHECK (oil_condition IN ('not-checked', 'clean', 'dark', 'sludge')),
    oil_grade TEXT NOT NULL,
    oil_pressure_kpa INTEGER CHECK (oil_pressure_kpa >= 0),
    calibration_before TEXT NOT NULL,
    calibration_after TEXT NOT NULL,
    hours INTEGER NOT NULL CHECK (hours >= 0),
    parts_price INTEGER NOT NULL,
    labour_price INTEGER NOT NULL,
    sublet INTEGER NOT NULL,
    tax INTEGER NOT NULL,
    discount INTEGER NOT NULL,
    warranty_months INTEGER CHECK (warranty_months >= 0),
    warranty_distance INTEGER CHECK (warranty_distance >= 0),
    comeback_of TEXT REFERENCES job (id) CHECK (comeback_of <> id),
    comeback_decision TEXT NOT NULL CHECK (comeback_decision IN ('none', 'same-concern', 'other-part', 'workmanship',
                                                                 'wrong-diagnosis', 'not-reproduced', 'unrelated')),
    decided_by TEXT REFERENCES staff (id),
    comeback_cause TEXT NOT NULL,
    payer TEXT NOT NULL CHECK (payer IN ('unknown', 'customer', 'shop', 'supplier', 'maker', 'shared')),
    comeback_cost INTEGER NOT NULL,
    claim_number TEXT NOT NULL,
    claim_deadline TEXT CHECK (claim_deadline GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    void_reason TEXT NOT NULL,
    rev INTEGER NOT NULL CHECK (rev > 0),
    CONSTRAINT delivered_not_before_written_up CHECK (delivered >= written_up),
    CONSTRAINT delivered_repair_is_complete CHECK (kind <> 'repair' OR delivered IS NULL OR (
        path_id IS NOT NULL AND technician_id IS NOT NULL AND odometer_in IS NOT NULL AND odometer_out IS NOT NULL))
) STRICT;
-- next
CREATE INDEX job_vehicle ON job (vehicle_id, written_up, number, id);
-- next
CREATE INDEX job_repair_order_key ON job (repair_order_key) WHERE repair_order_key <> '';
-- next
CREATE INDEX job_path ON job (path_id, number);
-- next
CREATE INDEX job_technician ON job (technician_id, number);
-- next
CREATE INDEX job_advisor ON job (advisor_id);
-- next
CREATE INDEX job_comeback_of ON job (comeback_of);
-- next
CREATE INDEX job_in_work ON job (number) WHERE delivered IS NULL;
-- next
CREATE TRIGGER job_delivered_is_kept BEFORE DELETE ON job WHEN OLD.delivered IS NOT NULL BEGIN
    SELECT RAISE(ABORT, 'rule: a delivered job is voided, never deleted');
END;
-- next
CREATE TRIGGER job_insert_comeback AFTER INSERT ON job WHEN NEW.comeback_of IS NOT NULL BEGIN
    SELECT RAISE(ABORT, 'rule: a comeback points to an earlier delivered job on the same vehicle')
    WHERE NOT EXISTS (SELECT 1 FROM job e WHERE e.id = NEW.comeback_of AND e.vehicle_id = NEW.vehicle_id
                      AND e.delivered IS NOT NULL);
END;
-- next
CREATE TRIGGER job_update_comeback AFTER UPDATE OF comeback_of, vehicle_id ON job
    WHEN NEW.comeback_of IS NOT NULL BEGIN
    SELECT RAISE(ABORT, 'rule: a comeback points to an earlier delivered job on the same vehicle')
    WHERE NOT EXISTS (SELECT 1 FROM job e WHERE e.id = NEW.comeback_of AND e.vehicle_id = NEW.vehicle_id
                      AND e.delivered IS NOT NULL);
END;
-- next
CREATE TABLE job_line (
    job_id TEXT NOT NULL REFERENCES job (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    line TEXT NOT NULL,
    PRIMARY KEY (job_id, place)
) STRICT;
-- next
CREATE TABLE job_part (
    job_id TEXT NOT NULL REFERENCES job (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    part_id TEXT NOT NULL REFERENCES part_number (id),
    position TEXT CHECK (position GLOB 'B[12]-[A-Z][A-Z]'),
    lot TEXT NOT NULL,
    quantity INTEGER NOT NULL CHECK (quantity >= 1),
    cost INTEGER NOT NULL,
    PRIMARY KEY (job_id, place)
) STRICT;
-- next
CREATE INDEX job_part_part ON job_part (part_id);
-- next
CREATE TABLE job_code (
    job_id TEXT NOT NULL REFERENCES job (id) ON DELETE CASCADE,
    place INTEGER NOT NULL CHECK (place >= 0),
    code TEXT NOT NULL CHECK (code <> ''),
    after INTEGER NOT NULL CHECK (after IN (0, 1)),
    PRIMARY KEY (job_id, place)
) STRICT;
-- next
CREATE TABLE follow_up (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    job_id TEXT NOT NULL REFERENCES job (id),
    date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    outcome TEXT NOT NULL CHECK (outcome IN ('quiet', 'noise-back', 'sold', 'scrapped', 'repaired-elsewhere',
                                             'no-answer', 'call-later', 'do-not-call')),
    odometer INTEGER CHECK (odometer >= 0),
    odometer_estimated INTEGER NOT NULL CHECK (odometer_estimated IN (0, 1)),
    noise_since INTEGER CHECK (noise_since >= 0),
    staff_id TEXT REFERENCES staff (id),
    note TEXT NOT NULL,
    rev INTEGER NOT NULL CHECK (rev > 0)
) STRICT;
-- next
CREATE INDEX follow_up_job ON follow_up (job_id, date);
-- next
-- A reading that a job or a call brought follows it; `moment` tells a job's readings apart.
CREATE TABLE odometer (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    vehicle_id TEXT NOT NULL REFERENCES vehicle (id),
    date TEXT NOT NULL CHECK (date GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    shown INTEGER NOT NULL CHECK (shown >= 0),
    source TEXT NOT NULL CHECK (source IN ('job', 'call', 'typed')),
    reset_offset INTEGER,
    job_id TEXT REFERENCES job (id) ON DELETE CASCADE,
    follow_up_id TEXT REFERENCES follow_up (id) ON DELETE CASCADE,
    moment TEXT NOT NULL CHECK (moment IN ('', 'in', 'out')),
    rev INTEGER NOT NULL CHECK (rev > 0),
    CONSTRAINT source_is_named CHECK ((source = 'job') = (job_id IS NOT NULL)
                                      AND (source = 'call') = (follow_up_id IS NOT NULL)
                                      AND (source = 'job') = (moment <> ''))
) STRICT;
-- next
CREATE INDEX odometer_vehicle ON odometer (vehicle_id, date);
-- next
CREATE UNIQUE INDEX odometer_job ON odometer (job_id, moment) WHERE job_id IS NOT NULL;
-- next
CREATE UNIQUE INDEX odometer_follow_up ON odometer (follow_up_id) WHERE follow_up_id IS NOT NULL;
-- next
-- Out is not below in, unless an instrument was replaced on this vehicle; core knows when.
CREATE TRIGGER job_insert_odometers AFTER INSERT ON job WHEN NEW.odometer_out < NEW.odometer_in BEGIN
    SELECT RAISE(ABORT, 'rule: the odometer at delivery is below the one at arrival')
    WHERE NOT EXISTS (SELECT 1 FROM odometer o WHERE o.vehicle_id = NEW.vehicle_id AND o.reset_offset IS NOT NULL);
END;
-- next
CREATE TRIGGER job_update_odometers AFTER UPDATE OF odometer_in, odometer_out, vehicle_id ON job
    WHEN NEW.odometer_out < NEW.odometer_in BEGIN
    SELECT RAISE(ABORT, 'rule: the odometer at delivery is below the one at arrival')
    WHERE NOT EXISTS (SELECT 1 FROM odometer o WHERE o.vehicle_id = NEW.vehicle_id AND o.reset_offset IS NOT NULL);
END;
-- next
CREATE TABLE attachment (
    id TEXT PRIMARY KEY NOT NULL CHECK (length(id) = 36),
    job_id TEXT NOT NULL REFERENCES job (id),
    kind TEXT NOT NULL,
    name TEXT NOT NULL,
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
    size INTEGER NOT NULL CHECK (size >= 0)
) STRICT;
-- next
CREATE INDEX attachment_job ON attachment (job_id);
-- next
CREATE INDEX attachment_sha256 ON attachment (sha256);
-- next
CREATE TABLE draft (
    form TEXT PRIMARY KEY NOT NULL CHECK (form <> ''),
    text TEXT NOT NULL,
    saved_at TEXT NOT NULL
) STRICT;
-- next
CREATE TABLE change_log (
    seq INTEGER PRIMARY KEY NOT NULL CHECK (seq > 0),
    at TEXT NOT NULL,
    staff_id TEXT NOT NULL,
    station TEXT NOT NULL,
    action TEXT NOT NULL CHECK (action IN ('insert', 'update', 'delete', 'export')),
    table_name TEXT NOT NULL,
    row_id TEXT NOT NULL,
    fields TEXT NOT NULL,
    hash_before TEXT NOT NULL,
    hash TEXT NOT NULL CHECK (length(hash) = 64)
) STRICT;
-- next
CREATE INDEX change_log_row ON change_log (row_id, seq);
-- next
CREATE TRIGGER change_log_no_update BEFORE UPDATE ON change_log BEGIN
    SELECT RAISE(ABORT, 'rule: the change log is never changed');
END;
-- next
CREATE TRIGGER change_log_no_delete BEFORE DELETE ON change_log BEGIN
    SELECT RAISE(ABORT, 'rule: the change log is never shortened');
END;
-- next
CREATE TRIGGER change_log_only_appends BEFORE INSERT ON change_log
    WHEN NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM change_log) BEGIN
    SELECT RAISE(ABORT, 'rule: the change log only grows at its end');
END;
-- next
-- Personal values of the log, outside its chain: they can be forgotten.
CREATE TABLE change_value (
    seq INTEGER NOT NULL REFERENCES change_log (seq),
    field TEXT NOT NULL,
    before TEXT,
    after TEXT,
    PRIMARY KEY (seq, field)
) STRICT;
-- next
CREATE TABLE private_salt (
    row_id TEXT PRIMARY KEY NOT NULL,
    salt TEXT NOT NULL
) STRICT;
