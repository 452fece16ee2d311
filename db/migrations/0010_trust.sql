-- What a club trusts: what members proposed and an editor has not confirmed yet, what people say of fits, which parts were
-- merged into which, and whose is what lies on the shelf.

ALTER TABLE parts ADD COLUMN standing text NOT NULL DEFAULT 'confirmed' CHECK (standing IN ('proposed', 'confirmed'));
--> statement-breakpoint
ALTER TABLE offers ADD COLUMN standing text NOT NULL DEFAULT 'confirmed' CHECK (standing IN ('proposed', 'confirmed'));
--> statement-breakpoint
CREATE INDEX parts_proposed ON parts (club_id, code) WHERE standing = 'proposed';
--> statement-breakpoint
CREATE INDEX offers_proposed ON offers (club_id, code) WHERE standing = 'proposed';
--> statement-breakpoint

-- Always the part that is left in the end: where that one is merged too, this follows it. An archive brings parts in any order.
ALTER TABLE parts ADD COLUMN merged_into text COLLATE "C" CHECK (merged_into <> code);
--> statement-breakpoint
ALTER TABLE parts ADD CONSTRAINT parts_merged_into FOREIGN KEY (club_id, merged_into) REFERENCES parts (club_id, code)
  DEFERRABLE INITIALLY IMMEDIATE;
--> statement-breakpoint
CREATE INDEX parts_merged ON parts (club_id, merged_into) WHERE merged_into IS NOT NULL;
--> statement-breakpoint

-- Nothing new names a merged part. The look waits for a merge that is under way, which holds its part FOR UPDATE.
CREATE FUNCTION loomwright_refuse_merged() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  named text;
  heir text;
BEGIN
  -- A restored revision names what it has always named.
  IF TG_TABLE_NAME = 'loom_parts' AND coalesce(current_setting('loomwright.restoring', true), '') = 'on' THEN RETURN NEW; END IF;
  FOREACH named IN ARRAY CASE TG_TABLE_NAME
    WHEN 'fits' THEN ARRAY[to_jsonb(NEW) ->> 'from_part', to_jsonb(NEW) ->> 'to_part']
    ELSE ARRAY[to_jsonb(NEW) ->> 'part_code'] END
  LOOP
    SELECT merged_into INTO heir FROM parts WHERE club_id = NEW.club_id AND code = named FOR KEY SHARE;
    IF heir IS NOT NULL THEN
      RAISE EXCEPTION 'the part % was merged into %', named, heir
        USING ERRCODE = 'foreign_key_violation', CONSTRAINT = 'named_part_merged';
    END IF;
  END LOOP;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER offer_parts_merged BEFORE INSERT OR UPDATE ON offer_parts
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_merged();
--> statement-breakpoint
CREATE TRIGGER loom_parts_merged BEFORE INSERT OR UPDATE ON loom_parts
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_merged();
--> statement-breakpoint
CREATE TRIGGER fits_merged BEFORE INSERT OR UPDATE ON fits
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_merged();
--> statement-breakpoint
CREATE TRIGGER stock_merged BEFORE INSERT OR UPDATE ON stock
  FOR EACH ROW EXECUTE FUNCTION loomwright_refuse_merged();
--> statement-breakpoint

-- What people found of a fit, one row a finding. The fit's status stays the club's word.
CREATE TABLE fit_reports (
  club_id uuid NOT NULL REFERENCES clubs (id),
  from_part text COLLATE "C" NOT NULL,
  relation text COLLATE "C" NOT NULL,
  to_part text COLLATE "C" NOT NULL,
  id uuid NOT NULL,
  member_id uuid,
  actor text NOT NULL,
  says text NOT NULL CHECK (says IN ('fits', 'doesNotFit')),
  vehicle text,
  loom_code text COLLATE "C",
  note text,
  photo text,
  at timestamptz NOT NULL,
  PRIMARY KEY (club_id, from_part, relation, to_part, id),
  CONSTRAINT fit_reports_fit FOREIGN KEY (club_id, from_part, relation, to_part)
    REFERENCES fits (club_id, from_part, relation, to_part) ON UPDATE CASCADE ON DELETE CASCADE,
  CONSTRAINT fit_reports_member FOREIGN KEY (club_id, member_id) REFERENCES members (club_id, id)
);
--> statement-breakpoint
ALTER TABLE fit_reports ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE fit_reports FORCE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY own_club ON fit_reports USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club());
--> statement-breakpoint

ALTER TABLE stock ADD COLUMN owner_id uuid;
--> statement-breakpoint
ALTER TABLE stock ADD CONSTRAINT stock_owner FOREIGN KEY (club_id, owner_id) REFERENCES members (club_id, id);
