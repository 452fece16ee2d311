-- What is kept on the shelf for accepted quotes. It changes with them; who changed it stands in the record.

-- The last day on which something is kept for a quote and those for its rest. A day that is over: nothing is kept.
ALTER TABLE quotes ADD COLUMN keep_until date;
--> statement-breakpoint

CREATE TABLE reservations (
  club_id uuid NOT NULL REFERENCES clubs (id),
  stock_code text COLLATE "C" NOT NULL,
  -- The first of the quotes for the same looms: those for its rest use what is kept for it.
  quote_id uuid NOT NULL,
  id uuid NOT NULL,
  count integer NOT NULL CHECK (count > 0),
  -- The last day on which it is kept.
  until date,
  made_at timestamptz NOT NULL,
  -- An actor, as the record has them.
  made_by text NOT NULL,
  PRIMARY KEY (club_id, stock_code, quote_id),
  CONSTRAINT reservations_stock FOREIGN KEY (club_id, stock_code) REFERENCES stock (club_id, code),
  CONSTRAINT reservations_quote FOREIGN KEY (club_id, quote_id) REFERENCES quotes (club_id, id)
);
--> statement-breakpoint
ALTER TABLE reservations ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE reservations FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
-- All of the club see that something is kept, also for a quote that they do not see.
CREATE POLICY own_club ON reservations
  USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club());
--> statement-breakpoint
CREATE UNIQUE INDEX reservations_by_time ON reservations (club_id, id);
--> statement-breakpoint
CREATE INDEX reservations_by_quote ON reservations (club_id, quote_id);
