-- What a club knows of money and countries, and what lies on its shelf.
ALTER TABLE clubs ADD COLUMN country text;
--> statement-breakpoint
ALTER TABLE clubs ADD CONSTRAINT clubs_currency UNIQUE (id, currency);
--> statement-breakpoint

CREATE FUNCTION loomwright_club_currency() RETURNS text LANGUAGE sql STABLE
  AS $$ SELECT currency FROM clubs WHERE id = loomwright_club() $$;
--> statement-breakpoint

-- A rate is worth something in one currency of the club: while there are rates, that currency stays.
CREATE TABLE rates (
  club_id uuid NOT NULL REFERENCES clubs (id),
  code text COLLATE "C" NOT NULL,
  currency text NOT NULL,
  club_currency text NOT NULL DEFAULT loomwright_club_currency(),
  day date NOT NULL,
  body jsonb NOT NULL,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, code),
  CONSTRAINT rates_of_a_day UNIQUE (club_id, currency, day),
  CONSTRAINT rates_of_another_currency CHECK (currency <> club_currency),
  CONSTRAINT rates_club_currency FOREIGN KEY (club_id, club_currency) REFERENCES clubs (id, currency)
);
--> statement-breakpoint

CREATE TABLE lanes (
  club_id uuid NOT NULL REFERENCES clubs (id),
  code text COLLATE "C" NOT NULL,
  from_country text NOT NULL,
  to_country text NOT NULL,
  body jsonb NOT NULL,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, code),
  CONSTRAINT lanes_between_two UNIQUE (club_id, from_country, to_country)
);
--> statement-breakpoint

-- A part that lies on the shelf stays.
CREATE TABLE stock (
  club_id uuid NOT NULL REFERENCES clubs (id),
  code text COLLATE "C" NOT NULL,
  part_code text COLLATE "C" NOT NULL,
  body jsonb NOT NULL,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, code),
  CONSTRAINT stock_part FOREIGN KEY (club_id, part_code) REFERENCES parts (club_id, code)
);
--> statement-breakpoint
CREATE INDEX stock_by_part ON stock (club_id, part_code);
--> statement-breakpoint

DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['rates', 'lanes', 'stock'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
    EXECUTE format('CREATE POLICY own_club ON %I USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club())', t);
  END LOOP;
END $$;
