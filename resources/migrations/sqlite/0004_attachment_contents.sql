-- A shop in a folder keeps photos and sounds as files beside its records: only a server needs tables for them.
SELECT 1;
