-- The house: clubs with their keys, the catalogue, looms in revisions, quotes, tasks, audit, idempotency.
-- Every table of a club's carries club_id, has composite keys that start with it, and a row-level policy that is forced.

-- Where the session user bypasses row-level security (a superuser, as in PGlite), the service works as this role instead.
DO $$
BEGIN
  IF (SELECT rolsuper OR rolbypassrls FROM pg_roles WHERE rolname = session_user)
     AND NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'loomwright_app') THEN
    BEGIN
      CREATE ROLE loomwright_app NOLOGIN NOSUPERUSER NOBYPASSRLS;
    EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL;
    END;
  END IF;
END $$;
--> statement-breakpoint

-- The club of this transaction, or null: then no policy lets a row through.
CREATE FUNCTION loomwright_club() RETURNS uuid LANGUAGE sql STABLE
  AS $$ SELECT nullif(current_setting('loomwright.club', true), '')::uuid $$;
--> statement-breakpoint

CREATE FUNCTION loomwright_is_system() RETURNS boolean LANGUAGE sql STABLE
  AS $$ SELECT coalesce(current_setting('loomwright.system', true), '') = 'on' $$;
--> statement-breakpoint

CREATE TABLE clubs (
  id uuid PRIMARY KEY,
  name text NOT NULL UNIQUE,
  currency text NOT NULL,
  settings jsonb NOT NULL,
  version integer NOT NULL DEFAULT 1,
  created_at timestamptz NOT NULL
);
--> statement-breakpoint

CREATE TABLE keys (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  hash text NOT NULL UNIQUE,
  role text NOT NULL CHECK (role IN ('viewer', 'member', 'editor', 'admin')),
  label text NOT NULL,
  created_at timestamptz NOT NULL,
  revoked_at timestamptz,
  PRIMARY KEY (club_id, id)
);
--> statement-breakpoint

CREATE TABLE parts (
  club_id uuid NOT NULL REFERENCES clubs (id),
  code text COLLATE "C" NOT NULL,
  body jsonb NOT NULL,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, code)
);
--> statement-breakpoint

CREATE TABLE suppliers (
  club_id uuid NOT NULL REFERENCES clubs (id),
  code text COLLATE "C" NOT NULL,
  body jsonb NOT NULL,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, code)
);
--> statement-breakpoint

CREATE TABLE offers (
  club_id uuid NOT NULL REFERENCES clubs (id),
  code text COLLATE "C" NOT NULL,
  supplier_code text COLLATE "C" NOT NULL,
  body jsonb NOT NULL,
  version integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, code),
  CONSTRAINT offers_supplier FOREIGN KEY (club_id, supplier_code) REFERENCES suppliers (club_id, code)
);
--> statement-breakpoint
CREATE INDEX offers_by_supplier ON offers (club_id, supplier_code);
--> statement-breakpoint

-- Which parts an offer sells: keeps a part that is on offer from being removed.
CREATE TABLE offer_parts (
  club_id uuid NOT NULL,
  offer_code text COLLATE "C" NOT NULL,
  part_code text COLLATE "C" NOT NULL,
  PRIMARY KEY (club_id, offer_code, part_code),
  CONSTRAINT offer_parts_offer FOREIGN KEY (club_id, offer_code) REFERENCES offers (club_id, code) ON DELETE CASCADE,
  CONSTRAINT offer_parts_part FOREIGN KEY (club_id, part_code) REFERENCES parts (club_id, code)
);
--> statement-breakpoint
CREATE INDEX offer_parts_by_part ON offer_parts (club_id, part_code);
--> statement-breakpoint

CREATE TABLE looms (
  club_id uuid NOT NULL REFERENCES clubs (id),
  code text COLLATE "C" NOT NULL,
  latest_revision integer NOT NULL,
  created_at timestamptz NOT NULL,
  updated_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, code)
);
--> statement-breakpoint

CREATE TABLE loom_revisions (
  club_id uuid NOT NULL,
  loom_code text COLLATE "C" NOT NULL,
  revision integer NOT NULL,
  body jsonb NOT NULL,
  created_at timestamptz NOT NULL,
  created_by text NOT NULL,
  PRIMARY KEY (club_id, loom_code, revision),
  CONSTRAINT loom_revisions_loom FOREIGN KEY (club_id, loom_code) REFERENCES looms (club_id, code) ON DELETE CASCADE
);
--> statement-breakpoint

-- A revision never changes once it is stored.
CREATE FUNCTION loomwright_refuse_change() RETURNS trigger LANGUAGE plpgsql
  AS $$ BEGIN RAISE EXCEPTION 'a stored revision never changes' USING ERRCODE = 'restrict_violation'; END $$;
--> statement-breakpoint
CREATE TRIGGER loom_revisions_never_change BEFORE UPDATE ON loom_revisions
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_change();
--> statement-breakpoint

-- Which parts a revision names: keeps a part that a loom needs from being removed.
CREATE TABLE loom_parts (
  club_id uuid NOT NULL,
  loom_code text COLLATE "C" NOT NULL,
  revision integer NOT NULL,
  part_code text COLLATE "C" NOT NULL,
  PRIMARY KEY (club_id, loom_code, revision, part_code),
  CONSTRAINT loom_parts_revision FOREIGN KEY (club_id, loom_code, revision)
    REFERENCES loom_revisions (club_id, loom_code, revision) ON DELETE CASCADE,
  CONSTRAINT loom_parts_part FOREIGN KEY (club_id, part_code) REFERENCES parts (club_id, code)
);
--> statement-breakpoint
CREATE INDEX loom_parts_by_part ON loom_parts (club_id, part_code);
--> statement-breakpoint

-- The task row is the truth; a queue only wakes.
CREATE TABLE tasks (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  kind text NOT NULL CHECK (kind IN ('quote')),
  -- What the task is for: the quote that it is to answer.
  subject uuid NOT NULL,
  state text NOT NULL CHECK (state IN ('queued', 'running', 'done', 'failed', 'cancelled')),
  lease_token uuid,
  lease_until timestamptz,
  attempts integer NOT NULL DEFAULT 0,
  wake_number integer NOT NULL DEFAULT 1,
  woken_at timestamptz NOT NULL,
  cancel_asked boolean NOT NULL DEFAULT false,
  progress_number integer NOT NULL DEFAULT 1,
  progress jsonb NOT NULL,
  problem jsonb,
  created_at timestamptz NOT NULL,
  started_at timestamptz,
  finished_at timestamptz,
  work_seconds double precision,
  PRIMARY KEY (club_id, id),
  CONSTRAINT tasks_running_has_lease CHECK ((state = 'running') = (lease_token IS NOT NULL AND lease_until IS NOT NULL))
);
--> statement-breakpoint
CREATE INDEX tasks_open ON tasks (created_at) WHERE state IN ('queued', 'running');
--> statement-breakpoint
CREATE UNIQUE INDEX tasks_by_id ON tasks (id);
--> statement-breakpoint

CREATE TABLE quotes (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  task_id uuid NOT NULL,
  as_of date NOT NULL,
  request jsonb NOT NULL,
  job text,
  job_hash text,
  result text,
  created_at timestamptz NOT NULL,
  created_by text NOT NULL,
  PRIMARY KEY (club_id, id),
  CONSTRAINT quotes_task FOREIGN KEY (club_id, task_id) REFERENCES tasks (club_id, id)
);
--> statement-breakpoint
CREATE UNIQUE INDEX quotes_by_task ON quotes (club_id, task_id);
--> statement-breakpoint

CREATE TABLE quote_looms (
  club_id uuid NOT NULL,
  quote_id uuid NOT NULL,
  loom_code text COLLATE "C" NOT NULL,
  revision integer NOT NULL,
  PRIMARY KEY (club_id, quote_id, loom_code),
  CONSTRAINT quote_looms_quote FOREIGN KEY (club_id, quote_id) REFERENCES quotes (club_id, id) ON DELETE CASCADE,
  CONSTRAINT quote_looms_revision FOREIGN KEY (club_id, loom_code, revision)
    REFERENCES loom_revisions (club_id, loom_code, revision)
);
--> statement-breakpoint
CREATE INDEX quote_looms_by_loom ON quote_looms (club_id, loom_code, revision);
--> statement-breakpoint

CREATE TABLE audit (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  at timestamptz NOT NULL,
  actor text NOT NULL,
  request_id text NOT NULL,
  action text NOT NULL,
  subject text NOT NULL,
  PRIMARY KEY (club_id, id)
);
--> statement-breakpoint
CREATE INDEX audit_by_time ON audit (club_id, at, id);
--> statement-breakpoint

-- What was answered to a POST that carried an Idempotency-Key, so that a repeat gets the same answer.
CREATE TABLE idempotency (
  club_id uuid NOT NULL REFERENCES clubs (id),
  key text NOT NULL,
  route text NOT NULL,
  body_hash text NOT NULL,
  status integer NOT NULL,
  headers jsonb NOT NULL,
  body text NOT NULL,
  created_at timestamptz NOT NULL,
  PRIMARY KEY (club_id, key)
);
--> statement-breakpoint
CREATE INDEX idempotency_by_time ON idempotency (created_at);
--> statement-breakpoint

-- Row-level security on every table, forced on the owner too.
DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['keys', 'parts', 'suppliers', 'offers', 'offer_parts', 'looms', 'loom_revisions', 'loom_parts',
                           'tasks', 'quotes', 'quote_looms', 'audit', 'idempotency'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
    EXECUTE format('CREATE POLICY own_club ON %I USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club())', t);
  END LOOP;
  ALTER TABLE clubs ENABLE ROW LEVEL SECURITY;
  ALTER TABLE clubs FORCE ROW LEVEL SECURITY;
  CREATE POLICY own_club ON clubs USING (id = loomwright_club()) WITH CHECK (id = loomwright_club());
  -- The system looks up keys, makes clubs, claims and sweeps tasks, forgets old answers; it sees no catalogue and no loom.
  FOREACH t IN ARRAY ARRAY['clubs', 'keys', 'tasks', 'audit', 'idempotency'] LOOP
    EXECUTE format('CREATE POLICY system ON %I USING (loomwright_is_system()) WITH CHECK (loomwright_is_system())', t);
  END LOOP;
END $$;
--> statement-breakpoint

DO $$
BEGIN
  IF EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'loomwright_app')
     AND (SELECT rolsuper FROM pg_roles WHERE rolname = session_user) THEN
    EXECUTE format('GRANT USAGE ON SCHEMA %I TO loomwright_app', current_schema());
    EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA %I TO loomwright_app', current_schema());
    EXECUTE format('ALTER DEFAULT PRIVILEGES IN SCHEMA %I GRANT SELECT, INSERT, UPDATE, DELETE ON TABLES TO loomwright_app', current_schema());
  END IF;
END $$;
