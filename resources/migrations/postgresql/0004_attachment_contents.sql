-- The bytes of photos and sounds, once each under their hash. A shop in a folder keeps them as files instead.
CREATE TABLE attachment_file (
    sha256 TEXT COLLATE "C" PRIMARY KEY NOT NULL CHECK (length(sha256) = 64),
    size BIGINT NOT NULL CHECK (size BETWEEN 1 AND 50000000),
    added_at TEXT COLLATE "C" NOT NULL
);
-- next
CREATE TABLE attachment_block (
    sha256 TEXT COLLATE "C" NOT NULL REFERENCES attachment_file (sha256) ON DELETE CASCADE,
    place BIGINT NOT NULL CHECK (place >= 0),
    bytes BYTEA NOT NULL CHECK (length(bytes) > 0),
    PRIMARY KEY (sha256, place)
);
-- next
-- Photos are packed already.
ALTER TABLE attachment_block ALTER COLUMN bytes SET STORAGE EXTERNAL;
