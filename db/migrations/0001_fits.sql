-- What a club knows of how its parts go together. A part that a fit names stays.
CREATE TABLE fits (
  club_id uuid NOT NULL REFERENCES clubs (id),
  from_part text COLLATE "C" NOT NULL,
  relation text COLLATE "C" NOT NULL CHECK (relation IN ('mates', 'takes', 'seals', 'covers', 'standsInFor')),
  to_part text COLLATE "C" NOT NULL,
  body jsonb NOT NULL,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, from_part, relation, to_part),
  CONSTRAINT fits_of_two_parts CHECK (from_part <> to_part),
  CONSTRAINT fits_from FOREIGN KEY (club_id, from_part) REFERENCES parts (club_id, code),
  CONSTRAINT fits_to FOREIGN KEY (club_id, to_part) REFERENCES parts (club_id, code)
);
--> statement-breakpoint
CREATE INDEX fits_by_to ON fits (club_id, to_part);
--> statement-breakpoint
ALTER TABLE fits ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE fits FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY own_club ON fits USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club());
