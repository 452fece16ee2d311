-- The shelf as a ledger: what happened to each stock item, only added to. The count of an item is its last balance.

CREATE TABLE stock_movements (
  club_id uuid NOT NULL REFERENCES clubs (id),
  -- No foreign key: the item may be gone, what happened to it stays.
  stock_code text COLLATE "C" NOT NULL,
  number integer NOT NULL,
  id uuid NOT NULL,
  kind text NOT NULL
    CHECK (kind IN ('received', 'found', 'counted', 'used', 'cut', 'offcut', 'returned', 'lost', 'moved')),
  change integer NOT NULL,
  balance integer NOT NULL CHECK (balance >= 0),
  moved_at timestamptz NOT NULL,
  -- An actor, as the record has them.
  moved_by text NOT NULL,
  body jsonb NOT NULL,
  PRIMARY KEY (club_id, stock_code, number)
);
--> statement-breakpoint
ALTER TABLE stock_movements ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE stock_movements FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY own_club ON stock_movements
  USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club());
--> statement-breakpoint
CREATE TRIGGER stock_movements_only_grow BEFORE UPDATE OR DELETE ON stock_movements
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_rewriting();
--> statement-breakpoint

-- What is on the shelf already was found there.
DO $$
DECLARE club uuid;
BEGIN
  PERFORM set_config('loomwright.system', 'on', true);
  FOR club IN SELECT id FROM clubs ORDER BY id LOOP
    PERFORM set_config('loomwright.club', club::text, true);
    INSERT INTO stock_movements (club_id, stock_code, number, id, kind, change, balance, moved_at, moved_by, body)
      SELECT club_id, code, 1,
        -- Of version 7, since they are listed in the order of time.
        (lpad(to_hex(floor(extract(epoch FROM updated_at) * 1000)::bigint), 12, '0') || '7'
          || substr(replace(gen_random_uuid()::text, '-', ''), 14))::uuid,
        'found', (body ->> 'count')::int, (body ->> 'count')::int,
        updated_at, coalesce(updated_by, created_by, 'system'),
        jsonb_strip_nulls(jsonb_build_object('part', body -> 'part', 'lengthMm', body -> 'lengthMm'))
      FROM stock WHERE club_id = club;
  END LOOP;
  PERFORM set_config('loomwright.club', '', true);
  PERFORM set_config('loomwright.system', '', true);
END $$;
--> statement-breakpoint
CREATE UNIQUE INDEX stock_movements_by_time ON stock_movements (club_id, id);
