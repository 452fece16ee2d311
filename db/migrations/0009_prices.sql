-- Prices that are kept: what each offer asked, and from when to when it was seen; and which offers a quote buys.

ALTER TABLE offers ADD COLUMN seen_on date;
--> statement-breakpoint

-- An offer may be gone: its prices stay.
CREATE TABLE offer_prices (
  club_id uuid NOT NULL REFERENCES clubs (id),
  offer_code text COLLATE "C" NOT NULL,
  number integer NOT NULL,
  seen_first date NOT NULL,
  seen_last date NOT NULL,
  -- false: nobody said when it was seen; both days are the one on which it was put in.
  seen boolean NOT NULL,
  -- The day on which the offer was removed while it had this price.
  gone_on date,
  put_in_at timestamptz NOT NULL,
  -- An actor, as the record has them. Null: before members were kept.
  put_in_by text,
  body jsonb NOT NULL,
  PRIMARY KEY (club_id, offer_code, number),
  CONSTRAINT offer_prices_in_order CHECK (seen_first <= seen_last AND (gone_on IS NULL OR seen_last <= gone_on))
);
--> statement-breakpoint

-- Which offers sell a part or once sold it. They live as long as the part.
CREATE TABLE offer_price_parts (
  club_id uuid NOT NULL REFERENCES clubs (id),
  part_code text COLLATE "C" NOT NULL,
  offer_code text COLLATE "C" NOT NULL,
  PRIMARY KEY (club_id, part_code, offer_code),
  CONSTRAINT offer_price_parts_part FOREIGN KEY (club_id, part_code) REFERENCES parts (club_id, code) ON DELETE CASCADE
);
--> statement-breakpoint

-- What a finished quote buys. The offer may be gone from the club since.
CREATE TABLE quote_offers (
  club_id uuid NOT NULL REFERENCES clubs (id),
  quote_id uuid NOT NULL,
  offer_code text COLLATE "C" NOT NULL,
  PRIMARY KEY (club_id, quote_id, offer_code),
  CONSTRAINT quote_offers_quote FOREIGN KEY (club_id, quote_id) REFERENCES quotes (club_id, id) ON DELETE CASCADE
);
--> statement-breakpoint

-- What is stored already, club by club, since the policies hold whoever migrates.
DO $$
DECLARE club uuid;
BEGIN
  PERFORM set_config('loomwright.system', 'on', true);
  FOR club IN SELECT id FROM clubs ORDER BY id LOOP
    PERFORM set_config('loomwright.club', club::text, true);
    PERFORM set_config('loomwright.whole', 'on', true);
    UPDATE offers SET seen_on = (body ->> 'seenOn')::date WHERE club_id = club AND body ? 'seenOn';
    INSERT INTO offer_prices (club_id, offer_code, number, seen_first, seen_last, seen, put_in_at, put_in_by, body)
      SELECT club_id, code, 1, day, day, seen_on IS NOT NULL, updated_at, coalesce(updated_by, created_by), body
      FROM offers CROSS JOIN LATERAL (SELECT coalesce(seen_on, (updated_at AT TIME ZONE 'UTC')::date) AS day) AS of
      WHERE club_id = club;
    INSERT INTO offer_price_parts (club_id, part_code, offer_code)
      SELECT club_id, part_code, offer_code FROM offer_parts WHERE club_id = club;
    INSERT INTO quote_offers (club_id, quote_id, offer_code)
      SELECT DISTINCT club_id, id, bought ->> 'offer'
      FROM quotes CROSS JOIN LATERAL json_array_elements(result::json -> 'purchases') AS bought
      WHERE club_id = club AND result IS NOT NULL AND bought ->> 'offer' IS NOT NULL;
  END LOOP;
  PERFORM set_config('loomwright.whole', '', true);
  PERFORM set_config('loomwright.club', '', true);
  PERFORM set_config('loomwright.system', '', true);
END $$;
--> statement-breakpoint

-- By age, those of which nobody said when they were seen before all others.
CREATE INDEX offers_by_age ON offers (club_id, (coalesce(seen_on, DATE '0001-01-01')), code);
--> statement-breakpoint
DROP INDEX offers_by_supplier;
--> statement-breakpoint
CREATE INDEX offers_by_supplier ON offers (club_id, supplier_code, code);
--> statement-breakpoint
CREATE INDEX quote_offers_by_offer ON quote_offers (club_id, offer_code, quote_id);
--> statement-breakpoint

DO $$
DECLARE t text; seen text;
BEGIN
  FOREACH t IN ARRAY ARRAY['offer_prices', 'offer_price_parts', 'quote_offers'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
  END LOOP;
  FOREACH t IN ARRAY ARRAY['offer_prices', 'offer_price_parts'] LOOP
    EXECUTE format('CREATE POLICY own_club ON %I USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club())', t);
  END LOOP;
  -- Seen with its quote, which may be a member's own.
  seen := 'club_id = loomwright_club() AND EXISTS (SELECT 1 FROM quotes q WHERE q.club_id = quote_offers.club_id AND q.id = quote_offers.quote_id)';
  EXECUTE format('CREATE POLICY own_club ON quote_offers USING (%s) WITH CHECK (%s)', seen, seen);
END $$;
