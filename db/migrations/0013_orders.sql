-- Orders: the order lists of accepted quotes, as they were, and what came of them.

-- A quote for what is still missing of another one.
ALTER TABLE quotes ADD COLUMN rest_of uuid;
--> statement-breakpoint
ALTER TABLE quotes ADD CONSTRAINT quotes_rest_of FOREIGN KEY (club_id, rest_of) REFERENCES quotes (club_id, id);
--> statement-breakpoint
CREATE INDEX quotes_by_rest_of ON quotes (club_id, rest_of) WHERE rest_of IS NOT NULL;
--> statement-breakpoint

CREATE TABLE orders (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  -- Counts the orders of the club: what people call it by.
  number integer NOT NULL,
  quote_id uuid NOT NULL,
  supplier_code text COLLATE "C" NOT NULL,
  wave integer NOT NULL,
  state text NOT NULL CHECK (state IN ('draft', 'sent', 'partReceived', 'received', 'closed', 'cancelled')),
  as_of date NOT NULL,
  list jsonb NOT NULL,
  -- What one unit of each line puts on the shelf.
  goods jsonb NOT NULL,
  supplier_number text,
  note text,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  created_by text NOT NULL,
  updated_at timestamptz NOT NULL,
  updated_by text NOT NULL,
  PRIMARY KEY (club_id, id),
  CONSTRAINT orders_number UNIQUE (club_id, number),
  -- Of two who accept the same at once, one wins.
  CONSTRAINT orders_once UNIQUE (club_id, quote_id, supplier_code, wave),
  CONSTRAINT orders_quote FOREIGN KEY (club_id, quote_id) REFERENCES quotes (club_id, id)
);
--> statement-breakpoint

CREATE TABLE order_steps (
  club_id uuid NOT NULL REFERENCES clubs (id),
  order_id uuid NOT NULL,
  number integer NOT NULL,
  state text NOT NULL,
  note text,
  made_at timestamptz NOT NULL,
  -- An actor, as the record has them.
  made_by text NOT NULL,
  PRIMARY KEY (club_id, order_id, number),
  CONSTRAINT order_steps_order FOREIGN KEY (club_id, order_id) REFERENCES orders (club_id, id)
);
--> statement-breakpoint

CREATE TABLE receipts (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  order_id uuid NOT NULL,
  -- The supplier's own.
  number text,
  body jsonb NOT NULL,
  made_at timestamptz NOT NULL,
  made_by text NOT NULL,
  PRIMARY KEY (club_id, id),
  CONSTRAINT receipts_once UNIQUE (club_id, order_id, number),
  CONSTRAINT receipts_order FOREIGN KEY (club_id, order_id) REFERENCES orders (club_id, id)
);
--> statement-breakpoint

-- What hangs on a quote is seen with it: the subqueries are held by the policies of the tables that they read.
DO $$
DECLARE r record; seen text;
BEGIN
  FOR r IN SELECT * FROM (VALUES ('orders', 'quotes', 'quote_id'), ('order_steps', 'orders', 'order_id'),
    ('receipts', 'orders', 'order_id')) AS t (child, parent, key)
  LOOP
    seen := format('club_id = loomwright_club() AND EXISTS (SELECT 1 FROM %I p WHERE p.club_id = %I.club_id AND p.id = %I.%I)',
      r.parent, r.child, r.child, r.key);
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', r.child);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', r.child);
    EXECUTE format('CREATE POLICY own_club ON %I USING (%s) WITH CHECK (%s)', r.child, seen, seen);
  END LOOP;
END $$;
--> statement-breakpoint
CREATE TRIGGER order_steps_only_grow BEFORE UPDATE OR DELETE ON order_steps
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_rewriting();
--> statement-breakpoint
CREATE TRIGGER receipts_only_grow BEFORE UPDATE OR DELETE ON receipts
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_rewriting();
--> statement-breakpoint
CREATE INDEX orders_by_state ON orders (club_id, state, number);
--> statement-breakpoint
CREATE INDEX receipts_by_order ON receipts (club_id, order_id, id);
