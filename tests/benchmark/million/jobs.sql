-- SPDX-License-Identifier: GPL-3.0-or-later
-- Copies everything that lives are derived from of a shop, :copies times, into the same shop: each copy with keys of its
-- own, scattered as random ones are, and with each vehicle's odometer scaled by a factor of its own in 0.7 to 1.3 and put on
-- whole miles, so that the copies of a life are not equally long. Rows are laid out by job number, as if the
-- copies had worked side by side.
-- What no life depends on (lines, customers' names, the change log) is not copied: the log keeps its sound chain.
--   sqlite3 -cmd ".parameter set :copies 1862" shop.db < jobs.sql
PRAGMA journal_mode = OFF;
PRAGMA synchronous = OFF;
PRAGMA foreign_keys = OFF;
PRAGMA cache_size = -4000000;
PRAGMA locking_mode = EXCLUSIVE;
BEGIN;
CREATE TEMP TABLE copy (k INTEGER PRIMARY KEY);
INSERT INTO copy WITH RECURSIVE upTo(k) AS (SELECT 1 UNION ALL SELECT k + 1 FROM upTo WHERE k < :copies) SELECT k FROM upTo;
CREATE TEMP TABLE counts AS SELECT (SELECT max(number) FROM job) AS jobs;
CREATE TEMP TABLE oldVehicle AS SELECT v.*, v.rowid AS r FROM vehicle v;
CREATE TEMP TABLE oldJob AS SELECT j.*, j.rowid AS r, v.rowid AS vr, e.rowid AS er
    FROM job j JOIN vehicle v ON v.id = j.vehicle_id LEFT JOIN job e ON e.id = j.comeback_of;
CREATE TEMP TABLE oldPart AS SELECT p.*, j.rowid AS jr FROM job_part p JOIN job j ON j.id = p.job_id;
CREATE TEMP TABLE oldCall AS SELECT f.*, f.rowid AS r, j.rowid AS jr, v.rowid AS vr
    FROM follow_up f JOIN job j ON j.id = f.job_id JOIN vehicle v ON v.id = j.vehicle_id;
CREATE TEMP TABLE oldReading AS SELECT o.*, o.rowid AS r, v.rowid AS vr, j.rowid AS jr, f.rowid AS fr
    FROM odometer o JOIN vehicle v ON v.id = o.vehicle_id LEFT JOIN job j ON j.id = o.job_id
    LEFT JOIN follow_up f ON f.id = o.follow_up_id;
-- A key: 32 scattered bits of (row, copy), one to one, before the rest of the old key.
INSERT INTO vehicle
    SELECT printf('%08x', (r * 40503 + k * 2654435761) & 4294967295) || substr(id, 9), '', '', plate, plate_key, maker, model,
           model_year, family_id, customer_id, note, rev
    FROM oldVehicle, copy ORDER BY r, k;
INSERT INTO job
    SELECT printf('%08x', (r * 40503 + k * 2654435761) & 4294967295) || substr(id, 9), counts.jobs + (number - 1) * :copies + k,
           repair_order, repair_order_key, kind,
           printf('%08x', (vr * 40503 + k * 2654435761) & 4294967295) || substr(vehicle_id, 9),
           path_id, written_up, started, delivered,
           CAST(round(round(odometer_in / 1609.344 * f) * 1609.344) AS INTEGER),
           CAST(round(round(odometer_out / 1609.344 * f) * 1609.344) AS INTEGER),
           CAST(round(round(first_seen / 1609.344 * f) * 1609.344) AS INTEGER),
           technician_id, advisor_id, concern_group, concern, cause, correction, soak_hours_before, rattle_tenths_before,
           soak_hours_after, rattle_tenths_after, delivery_check, oil_level, oil_condition, oil_grade, oil_pressure_kpa,
           calibration_before, calibration_after, hours, parts_price, labour_price, sublet, tax, discount, warranty_months,
           warranty_distance,
           printf('%08x', (er * 40503 + k * 2654435761) & 4294967295) || substr(comeback_of, 9),
           comeback_decision, decided_by, comeback_cause, payer, comeback_cost, claim_number, claim_deadline, void_reason, rev,
           comeback_labour, comeback_parts, comeback_rental, comeback_towing, comeback_goodwill, comeback_credit, claim_state,
           claim_amount
    FROM (SELECT *, 0.7 + ((vr * 7919 + k * 104729) % 10007) * 0.6 / 10007 AS f FROM oldJob, copy), counts ORDER BY number, k;
INSERT INTO job_part
    SELECT printf('%08x', (jr * 40503 + k * 2654435761) & 4294967295) || substr(job_id, 9), place, part_id, position, lot,
           quantity, cost
    FROM oldPart, copy ORDER BY jr, k, place;
INSERT INTO follow_up
    SELECT printf('%08x', (r * 40503 + k * 2654435761) & 4294967295) || substr(id, 9),
           printf('%08x', (jr * 40503 + k * 2654435761) & 4294967295) || substr(job_id, 9),
           date, outcome, CAST(round(round(odometer / 1609.344 * f) * 1609.344) AS INTEGER),
           odometer_estimated, CAST(round(round(noise_since / 1609.344 * f) * 1609.344) AS INTEGER),
           staff_id, note, rev, call_on, void_reason
    FROM (SELECT *, 0.7 + ((vr * 7919 + k * 104729) % 10007) * 0.6 / 10007 AS f FROM oldCall, copy) ORDER BY date, r, k;
INSERT INTO odometer
    SELECT printf('%08x', (r * 40503 + k * 2654435761) & 4294967295) || substr(id, 9),
           printf('%08x', (vr * 40503 + k * 2654435761) & 4294967295) || substr(vehicle_id, 9), date,
           CAST(round(round(shown / 1609.344 * f) * 1609.344) AS INTEGER), source,
           CAST(round(round(reset_offset / 1609.344 * f) * 1609.344) AS INTEGER),
           printf('%08x', (jr * 40503 + k * 2654435761) & 4294967295) || substr(job_id, 9),
           printf('%08x', (fr * 40503 + k * 2654435761) & 4294967295) || substr(follow_up_id, 9), moment, rev
    FROM (SELECT *, 0.7 + ((vr * 7919 + k * 104729) % 10007) * 0.6 / 10007 AS f FROM oldReading, copy) ORDER BY date, r, k;
UPDATE counter SET next = (SELECT max(number) + 1 FROM job) WHERE name = 'job';
COMMIT;
