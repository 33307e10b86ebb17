-- The roles belong to the whole server: one that is there already is kept. None can log in; people's own log-ins are
-- made members of them. shop_schema owns the tables, and nobody who works in the shop is a member of it.
DO $$
DECLARE
    wanted TEXT;
BEGIN
    FOREACH wanted IN ARRAY ARRAY['shop_schema', 'shop_technician', 'shop_advisor', 'shop_owner', 'shop_analyst'] LOOP
        IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = wanted) THEN
            EXECUTE format('CREATE ROLE %I NOLOGIN', wanted);
        END IF;
    END LOOP;
    IF NOT pg_has_role(current_user, 'shop_schema', 'MEMBER') THEN
        EXECUTE format('GRANT shop_schema TO %I', current_user);
    END IF;
    EXECUTE format('REVOKE ALL ON DATABASE %I FROM PUBLIC', current_database());
    EXECUTE format('GRANT CONNECT ON DATABASE %I TO shop_technician, shop_advisor, shop_owner, shop_analyst',
                   current_database());
    EXECUTE format('GRANT CONNECT, CREATE ON DATABASE %I TO shop_schema', current_database());
END
$$
-- next
REVOKE ALL ON SCHEMA public FROM PUBLIC
-- next
CREATE SCHEMA IF NOT EXISTS milehold AUTHORIZATION shop_schema
