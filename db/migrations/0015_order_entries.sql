-- What is said of an order beside its deliveries: what goes back, what is refunded, what was charged. Only added to.

CREATE TABLE order_entries (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  order_id uuid NOT NULL,
  kind text NOT NULL CHECK (kind IN ('return', 'refund', 'charges')),
  body jsonb NOT NULL,
  made_at timestamptz NOT NULL,
  -- An actor, as the record has them.
  made_by text NOT NULL,
  PRIMARY KEY (club_id, id),
  CONSTRAINT order_entries_order FOREIGN KEY (club_id, order_id) REFERENCES orders (club_id, id)
);
--> statement-breakpoint
ALTER TABLE order_entries ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE order_entries FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
-- Seen with its order: the subquery is held by the policies of the table that it reads.
CREATE POLICY own_club ON order_entries
  USING (club_id = loomwright_club() AND EXISTS (
    SELECT 1 FROM orders p WHERE p.club_id = order_entries.club_id AND p.id = order_entries.order_id))
  WITH CHECK (club_id = loomwright_club() AND EXISTS (
    SELECT 1 FROM orders p WHERE p.club_id = order_entries.club_id AND p.id = order_entries.order_id));
--> statement-breakpoint
CREATE TRIGGER order_entries_only_grow BEFORE UPDATE OR DELETE ON order_entries
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_rewriting();
--> statement-breakpoint
CREATE INDEX order_entries_by_order ON order_entries (club_id, order_id, id);
