-- Run as shop_schema, after the migrations. First nothing, then what each role needs.
REVOKE ALL ON ALL TABLES IN SCHEMA milehold FROM PUBLIC, shop_technician, shop_advisor, shop_owner, shop_analyst
-- next
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA milehold FROM PUBLIC
-- next
GRANT EXECUTE ON ALL FUNCTIONS IN SCHEMA milehold TO shop_technician, shop_advisor, shop_owner
-- next
GRANT USAGE ON SCHEMA milehold TO shop_technician, shop_advisor, shop_owner, shop_analyst
-- next
GRANT SELECT ON ALL TABLES IN SCHEMA milehold TO shop_technician, shop_advisor, shop_owner
-- next
-- The log is added to, never changed. A lock on the chain's end counts as an update of a row that holds nothing.
GRANT INSERT ON change_log, change_value, private_salt TO shop_technician, shop_advisor, shop_owner
-- next
GRANT UPDATE ON audit_head, counter TO shop_technician, shop_advisor, shop_owner
-- next
GRANT INSERT, UPDATE ON job, vehicle, follow_up, attachment, shelf_note, given_quote
    TO shop_technician, shop_advisor, shop_owner
-- next
-- The bytes of photos and sounds come and go whole; nobody changes them.
GRANT INSERT ON attachment_file, attachment_block TO shop_technician, shop_advisor, shop_owner
-- next
GRANT DELETE ON attachment_file, attachment_block TO shop_advisor, shop_owner
-- next
-- A job in work may be removed; a delivered one is kept by a trigger, whoever asks.
GRANT DELETE ON job TO shop_technician, shop_advisor, shop_owner
-- next
GRANT INSERT, UPDATE, DELETE ON odometer, job_line, job_part, job_code TO shop_technician, shop_advisor, shop_owner
-- next
GRANT DELETE ON vehicle, follow_up, attachment, shelf_note, given_quote TO shop_advisor, shop_owner
-- next
GRANT INSERT, UPDATE, DELETE ON customer, customer_phone, customer_email, customer_word, engine_family,
    engine_position, part_number, calibration, repair_path, path_line, path_part, path_applies, path_replace_once,
    path_caution TO shop_advisor, shop_owner
-- next
GRANT INSERT, UPDATE, DELETE ON staff TO shop_owner
-- next
GRANT INSERT, UPDATE ON shop TO shop_owner
-- next
-- Forgetting a customer takes the personal values out of the log's side table, and the keys.
GRANT DELETE, UPDATE ON change_value, private_salt TO shop_owner
-- next
-- Technicians see no phone, no address, and no logged value that holds one.
ALTER TABLE customer_phone ENABLE ROW LEVEL SECURITY
-- next
ALTER TABLE customer_email ENABLE ROW LEVEL SECURITY
-- next
ALTER TABLE change_value ENABLE ROW LEVEL SECURITY
-- next
ALTER TABLE private_salt ENABLE ROW LEVEL SECURITY
-- next
DROP POLICY IF EXISTS contact ON customer_phone
-- next
CREATE POLICY contact ON customer_phone TO shop_advisor, shop_owner USING (true) WITH CHECK (true)
-- next
DROP POLICY IF EXISTS contact ON customer_email
-- next
CREATE POLICY contact ON customer_email TO shop_advisor, shop_owner USING (true) WITH CHECK (true)
-- next
DROP POLICY IF EXISTS personal ON change_value
-- next
CREATE POLICY personal ON change_value TO shop_advisor, shop_owner USING (true) WITH CHECK (true)
-- next
DROP POLICY IF EXISTS added ON change_value
-- next
CREATE POLICY added ON change_value FOR INSERT TO shop_technician WITH CHECK (true)
-- next
DROP POLICY IF EXISTS personal ON private_salt
-- next
CREATE POLICY personal ON private_salt TO shop_advisor, shop_owner USING (true) WITH CHECK (true)
-- next
DROP POLICY IF EXISTS added ON private_salt
-- next
CREATE POLICY added ON private_salt FOR INSERT TO shop_technician WITH CHECK (true)
-- next
-- With a customer's key and the log a phone could be guessed number by number.
DROP POLICY IF EXISTS not_of_customers ON private_salt
-- next
CREATE POLICY not_of_customers ON private_salt FOR SELECT TO shop_technician
    USING (NOT EXISTS (SELECT 1 FROM customer c WHERE c.id = row_id))
-- next
-- For whoever reckons: lives without a name, a plate, or a word that somebody typed.
CREATE OR REPLACE VIEW anonymous_vehicle AS
    SELECT id, maker, model, model_year, family_id FROM vehicle
-- next
CREATE OR REPLACE VIEW anonymous_job AS
    SELECT id, number, kind, vehicle_id, path_id, written_up, started, delivered, odometer_in, odometer_out,
        first_seen, technician_id, concern_group, soak_hours_before, rattle_tenths_before, soak_hours_after,
        rattle_tenths_after, delivery_check, oil_level, oil_condition, hours, parts_price, labour_price, sublet, tax,
        discount, warranty_months, warranty_distance, comeback_of, comeback_decision, payer, comeback_cost,
        void_reason <> '' AS voided, comeback_labour, comeback_parts, comeback_rental, comeback_towing,
        comeback_goodwill, comeback_credit, claim_state, claim_deadline, claim_amount FROM job
-- next
CREATE OR REPLACE VIEW anonymous_follow_up AS
    SELECT id, job_id, date, outcome, odometer, odometer_estimated, noise_since FROM follow_up
    WHERE void_reason = ''
-- next
GRANT SELECT ON anonymous_vehicle, anonymous_job, anonymous_follow_up, engine_family, repair_path TO shop_analyst
-- next
-- The server keeps samples of the columns that it looks through, and would keep a forgotten name among them.
ALTER TABLE customer ALTER COLUMN name SET STATISTICS 0, ALTER COLUMN best_time SET STATISTICS 0,
    ALTER COLUMN note SET STATISTICS 0
-- next
ALTER TABLE customer_phone ALTER COLUMN phone SET STATISTICS 0, ALTER COLUMN digits SET STATISTICS 0,
    ALTER COLUMN last_digits SET STATISTICS 0
-- next
ALTER TABLE customer_email ALTER COLUMN email SET STATISTICS 0
-- next
ALTER TABLE customer_word ALTER COLUMN word SET STATISTICS 0
-- next
ALTER TABLE vehicle ALTER COLUMN vin SET STATISTICS 0, ALTER COLUMN vin_tail SET STATISTICS 0,
    ALTER COLUMN plate SET STATISTICS 0, ALTER COLUMN plate_key SET STATISTICS 0, ALTER COLUMN note SET STATISTICS 0
-- next
ALTER TABLE job ALTER COLUMN concern SET STATISTICS 0, ALTER COLUMN cause SET STATISTICS 0,
    ALTER COLUMN correction SET STATISTICS 0, ALTER COLUMN comeback_cause SET STATISTICS 0,
    ALTER COLUMN void_reason SET STATISTICS 0
-- next
ALTER TABLE follow_up ALTER COLUMN note SET STATISTICS 0, ALTER COLUMN void_reason SET STATISTICS 0
-- next
ALTER TABLE attachment ALTER COLUMN name SET STATISTICS 0
-- next
ALTER TABLE change_value ALTER COLUMN before SET STATISTICS 0, ALTER COLUMN after SET STATISTICS 0
-- next
-- Removed rows stay in the server's files until they are cleaned, which only the tables' own role may have done.
-- This writes one of the tables that hold people anew, without them, for an owner who forgets a customer.
CREATE OR REPLACE FUNCTION write_anew(of_table TEXT) RETURNS void
    LANGUAGE plpgsql SECURITY DEFINER SET search_path = milehold, pg_temp AS $$
DECLARE
    by_index TEXT;
BEGIN
    SELECT i.relname INTO by_index FROM pg_catalog.pg_index x
        JOIN pg_catalog.pg_class i ON i.oid = x.indexrelid
        JOIN pg_catalog.pg_class t ON t.oid = x.indrelid
        JOIN pg_catalog.pg_namespace n ON n.oid = t.relnamespace
        WHERE n.nspname = 'milehold' AND t.relname = of_table AND x.indisprimary
            AND of_table IN ('customer', 'customer_phone', 'customer_email', 'customer_word', 'vehicle', 'job',
                'follow_up', 'attachment', 'attachment_file', 'attachment_block', 'change_value', 'private_salt');
    IF by_index IS NULL THEN
        RAISE EXCEPTION 'rule: this table holds nobody' USING ERRCODE = 'check_violation';
    END IF;
    EXECUTE format('CLUSTER milehold.%I USING %I', of_table, by_index);
END
$$
-- next
REVOKE ALL ON FUNCTION write_anew(TEXT) FROM PUBLIC, shop_technician, shop_advisor, shop_analyst
-- next
GRANT EXECUTE ON FUNCTION write_anew(TEXT) TO shop_owner
