-- What a comeback cost by kind (minor units; a credit lessens it) and what became of the supplier's claim; the day
-- that was promised for a call, and why a call that was logged by mistake does not count. `comeback_cost` stays for a
-- cost that nobody broke down.
ALTER TABLE job ADD COLUMN comeback_labour INTEGER NOT NULL DEFAULT 0;
-- next
ALTER TABLE job ADD COLUMN comeback_parts INTEGER NOT NULL DEFAULT 0;
-- next
ALTER TABLE job ADD COLUMN comeback_rental INTEGER NOT NULL DEFAULT 0;
-- next
ALTER TABLE job ADD COLUMN comeback_towing INTEGER NOT NULL DEFAULT 0;
-- next
ALTER TABLE job ADD COLUMN comeback_goodwill INTEGER NOT NULL DEFAULT 0;
-- next
ALTER TABLE job ADD COLUMN comeback_credit INTEGER NOT NULL DEFAULT 0;
-- next
ALTER TABLE job ADD COLUMN claim_state TEXT NOT NULL DEFAULT 'none'
    CHECK (claim_state IN ('none', 'to-file', 'filed', 'credited', 'denied', 'lapsed'));
-- next
ALTER TABLE job ADD COLUMN claim_amount INTEGER CHECK (claim_amount >= 0);
-- next
-- A number was given by the supplier to a claim that was filed; a deadline alone waits for one.
UPDATE job SET claim_state = CASE WHEN claim_number <> '' THEN 'filed' ELSE 'to-file' END
    WHERE claim_number <> '' OR claim_deadline IS NOT NULL;
-- next
CREATE INDEX job_claim ON job (claim_state, claim_deadline) WHERE claim_state <> 'none';
-- next
ALTER TABLE follow_up ADD COLUMN call_on TEXT
    CHECK (call_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]')
    CHECK (call_on > date)
    CHECK (call_on IS NULL OR outcome = 'call-later');
-- next
ALTER TABLE follow_up ADD COLUMN void_reason TEXT NOT NULL DEFAULT '';
