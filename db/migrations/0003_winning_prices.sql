-- At which price one offer is bought: asked of a quote that is done, and worked as a task of its own.
ALTER TABLE tasks DROP CONSTRAINT tasks_kind_check;
--> statement-breakpoint
ALTER TABLE tasks ADD CONSTRAINT tasks_kind_check CHECK (kind IN ('quote', 'winningPrice'));
--> statement-breakpoint

-- Its subject is the quote. Whoever shows tasks sees no quote: the offer stands here too.
ALTER TABLE tasks ADD COLUMN offer_code text COLLATE "C";
--> statement-breakpoint
ALTER TABLE tasks ADD CONSTRAINT tasks_of_an_offer CHECK ((kind = 'winningPrice') = (offer_code IS NOT NULL));
--> statement-breakpoint

-- One a quote and offer: the answer follows from the quote's job. The offer may be gone from the club since.
CREATE TABLE winning_prices (
  club_id uuid NOT NULL REFERENCES clubs (id),
  quote_id uuid NOT NULL,
  offer_code text COLLATE "C" NOT NULL,
  task_id uuid NOT NULL,
  answer text,
  created_at timestamptz NOT NULL,
  created_by text NOT NULL,
  PRIMARY KEY (club_id, quote_id, offer_code),
  CONSTRAINT winning_prices_quote FOREIGN KEY (club_id, quote_id) REFERENCES quotes (club_id, id) ON DELETE CASCADE,
  CONSTRAINT winning_prices_task FOREIGN KEY (club_id, task_id) REFERENCES tasks (club_id, id)
);
--> statement-breakpoint
CREATE UNIQUE INDEX winning_prices_by_task ON winning_prices (club_id, task_id);
--> statement-breakpoint

ALTER TABLE winning_prices ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE winning_prices FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY own_club ON winning_prices USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club());
