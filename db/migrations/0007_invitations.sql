-- Invitations: a code that lets one person join a club, once, until a moment.

CREATE TABLE invitations (
  club_id uuid NOT NULL REFERENCES clubs (id),
  id uuid NOT NULL,
  -- Of the code, which is stored nowhere.
  hash text NOT NULL UNIQUE,
  role text NOT NULL CHECK (role IN ('viewer', 'member', 'editor', 'admin')),
  name text,
  note text,
  -- An actor, as the record has them.
  made_by text NOT NULL,
  created_at timestamptz NOT NULL,
  ends_at timestamptz NOT NULL,
  -- Withdrawn before it was used.
  ended_at timestamptz,
  used_at timestamptz,
  -- Who joined by it.
  member_id uuid,
  PRIMARY KEY (club_id, id),
  CONSTRAINT invitations_member FOREIGN KEY (club_id, member_id) REFERENCES members (club_id, id)
);
--> statement-breakpoint
ALTER TABLE invitations ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE invitations FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY own_club ON invitations USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club());
--> statement-breakpoint
-- Who has a code does not know yet of which club it is.
CREATE POLICY system ON invitations FOR SELECT USING (loomwright_is_system());
