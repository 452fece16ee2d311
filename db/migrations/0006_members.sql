-- The people of a club: who has which keys, who put in and changed what, and what is seen by its owner alone.

-- The member who asks, or null: a key of no member.
CREATE FUNCTION loomwright_member() RETURNS uuid LANGUAGE sql STABLE
  AS $$ SELECT nullif(current_setting('loomwright.member', true), '')::uuid $$;
--> statement-breakpoint

-- The service at work for a club, such as a worker: it sees private rows too.
CREATE FUNCTION loomwright_whole() RETURNS boolean LANGUAGE sql STABLE
  AS $$ SELECT coalesce(current_setting('loomwright.whole', true), '') = 'on' $$;
--> statement-breakpoint

CREATE TABLE members (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  name text NOT NULL,
  email text,
  note text,
  role text NOT NULL CHECK (role IN ('viewer', 'member', 'editor', 'admin')),
  joined_at timestamptz NOT NULL,
  left_at timestamptz,
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (club_id, id)
);
--> statement-breakpoint
ALTER TABLE members ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE members FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY own_club ON members USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club());
--> statement-breakpoint
-- Keys are looked up with the role of their member.
CREATE POLICY system ON members FOR SELECT USING (loomwright_is_system());
--> statement-breakpoint

ALTER TABLE keys ADD COLUMN member_id uuid;
--> statement-breakpoint
ALTER TABLE keys ADD CONSTRAINT keys_member FOREIGN KEY (club_id, member_id) REFERENCES members (club_id, id);
--> statement-breakpoint
CREATE INDEX keys_by_member ON keys (club_id, member_id);
--> statement-breakpoint

-- Who put in an entry, and who last changed it: an actor, as the record has them. Null: before members were kept.
DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['parts', 'suppliers', 'offers', 'rates', 'lanes', 'stock', 'fits', 'looms'] LOOP
    EXECUTE format('ALTER TABLE %I ADD COLUMN created_by text, ADD COLUMN updated_by text', t);
  END LOOP;
END $$;
--> statement-breakpoint

-- What was, and what is since: the record of a club. `thing` is what changed; `private_to`, who alone sees the row.
ALTER TABLE audit ADD COLUMN thing text COLLATE "C";
--> statement-breakpoint
ALTER TABLE audit ADD COLUMN before jsonb, ADD COLUMN after jsonb;
--> statement-breakpoint
ALTER TABLE audit ADD COLUMN member_id uuid, ADD COLUMN private_to uuid;
--> statement-breakpoint
DO $$
BEGIN
  PERFORM set_config('loomwright.system', 'on', true);
  -- A revision is of its loom, an offer's winning price of its quote.
  UPDATE audit SET thing = split_part(action, '.', 1) || ':' ||
    CASE WHEN action LIKE 'loom.%' OR action LIKE 'winning-price.%' THEN split_part(subject, '/', 1) ELSE subject END;
  PERFORM set_config('loomwright.system', '', true);
END $$;
--> statement-breakpoint
ALTER TABLE audit ALTER COLUMN thing SET NOT NULL;
--> statement-breakpoint
CREATE INDEX audit_by_thing ON audit (club_id, thing, at, id);
--> statement-breakpoint
CREATE INDEX audit_by_member ON audit (club_id, member_id, at, id);
--> statement-breakpoint
CREATE FUNCTION loomwright_refuse_rewriting() RETURNS trigger LANGUAGE plpgsql
  AS $$ BEGIN RAISE EXCEPTION 'the record is only added to' USING ERRCODE = 'restrict_violation'; END $$;
--> statement-breakpoint
CREATE TRIGGER audit_only_grows BEFORE UPDATE OR DELETE ON audit
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_rewriting();
--> statement-breakpoint
DROP POLICY own_club ON audit;
--> statement-breakpoint
CREATE POLICY own_club ON audit
  USING (club_id = loomwright_club() AND (private_to IS NULL OR private_to = loomwright_member() OR loomwright_whole()))
  WITH CHECK (club_id = loomwright_club());
--> statement-breakpoint

-- An answer that is given again goes to whoever had it.
ALTER TABLE idempotency ADD COLUMN caller text NOT NULL DEFAULT '';
--> statement-breakpoint
ALTER TABLE idempotency DROP CONSTRAINT idempotency_pkey;
--> statement-breakpoint
ALTER TABLE idempotency ADD PRIMARY KEY (club_id, caller, key);
--> statement-breakpoint

-- A loom or quote of nobody's is the club's.
DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['looms', 'quotes', 'tasks'] LOOP
    EXECUTE format('ALTER TABLE %I ADD COLUMN owner_id uuid, ADD COLUMN private boolean NOT NULL DEFAULT false', t);
    EXECUTE format('ALTER TABLE %I ADD CONSTRAINT %I FOREIGN KEY (club_id, owner_id) REFERENCES members (club_id, id)',
      t, t || '_owner');
    EXECUTE format('ALTER TABLE %I ADD CONSTRAINT %I CHECK (NOT private OR owner_id IS NOT NULL)', t, t || '_private_to_owner');
    EXECUTE format('DROP POLICY own_club ON %I', t);
    EXECUTE format($p$CREATE POLICY own_club ON %I
      USING (club_id = loomwright_club() AND (NOT private OR owner_id = loomwright_member() OR loomwright_whole()))
      WITH CHECK (club_id = loomwright_club() AND (NOT private OR owner_id = loomwright_member() OR loomwright_whole()))$p$, t);
  END LOOP;
END $$;
--> statement-breakpoint

-- What hangs on a loom or a quote is seen with it: the subqueries are held by the policies above.
DO $$
DECLARE r record; seen text;
BEGIN
  FOR r IN SELECT * FROM (VALUES
    ('loom_revisions', 'looms', 'code', 'loom_code'),
    ('loom_parts', 'looms', 'code', 'loom_code'),
    ('quote_looms', 'quotes', 'id', 'quote_id'),
    ('winning_prices', 'quotes', 'id', 'quote_id')) AS v (child, parent, key, named)
  LOOP
    seen := format('club_id = loomwright_club() AND EXISTS (SELECT 1 FROM %I p WHERE p.club_id = %I.club_id AND p.%I = %I.%I)',
      r.parent, r.child, r.key, r.child, r.named);
    EXECUTE format('DROP POLICY own_club ON %I', r.child);
    EXECUTE format('CREATE POLICY own_club ON %I USING (%s) WITH CHECK (%s)', r.child, seen, seen);
  END LOOP;
END $$;
