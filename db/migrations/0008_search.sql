-- What the catalogue is found by: words of parts and offers, numbers of others, and words that a club takes for each other.

-- Read out of the body, so that lists can be asked for one kind.
ALTER TABLE parts ADD COLUMN kind text COLLATE "C" GENERATED ALWAYS AS (body ->> 'kind') STORED;
--> statement-breakpoint
CREATE INDEX parts_by_kind ON parts (club_id, kind, code);
--> statement-breakpoint

-- One row a word of a thing, where it says most. Searched by equality and ranges alone: both work under the policies.
CREATE TABLE search_words (
  club_id uuid NOT NULL REFERENCES clubs (id),
  thing text COLLATE "C" NOT NULL CHECK (thing IN ('part', 'offer')),
  code text COLLATE "C" NOT NULL,
  word text COLLATE "C" NOT NULL,
  field text COLLATE "C" NOT NULL,
  weight smallint NOT NULL,
  PRIMARY KEY (club_id, thing, code, word)
);
--> statement-breakpoint
CREATE INDEX search_words_by_word ON search_words (club_id, thing, word, code) INCLUDE (weight);
--> statement-breakpoint

-- Words of letters by their ends and by what is left of them without one letter: parts of words and slips are found so.
-- It only grows: a word that nothing has any more finds nothing.
CREATE TABLE search_pieces (
  club_id uuid NOT NULL REFERENCES clubs (id),
  how text COLLATE "C" NOT NULL CHECK (how IN ('end', 'slip')),
  piece text COLLATE "C" NOT NULL,
  word text COLLATE "C" NOT NULL,
  PRIMARY KEY (club_id, how, piece, word)
);
--> statement-breakpoint

-- What the things found are counted by.
CREATE TABLE search_things (
  club_id uuid NOT NULL REFERENCES clubs (id),
  thing text COLLATE "C" NOT NULL CHECK (thing IN ('part', 'offer')),
  code text COLLATE "C" NOT NULL,
  kind text COLLATE "C",
  size text COLLATE "C",
  colour text COLLATE "C",
  supplier text COLLATE "C",
  PRIMARY KEY (club_id, thing, code)
);
--> statement-breakpoint

-- The numbers under which others have a part, its maker's own among them; folded: letters and digits alone, lower case.
CREATE TABLE part_numbers (
  club_id uuid NOT NULL,
  part_code text COLLATE "C" NOT NULL,
  whose text NOT NULL,
  number text NOT NULL,
  whose_folded text COLLATE "C" NOT NULL,
  folded text COLLATE "C" NOT NULL,
  PRIMARY KEY (club_id, part_code, whose_folded, folded),
  FOREIGN KEY (club_id, part_code) REFERENCES parts (club_id, code) ON DELETE CASCADE
);
--> statement-breakpoint
CREATE INDEX part_numbers_by_number ON part_numbers (club_id, folded, whose_folded, part_code);
--> statement-breakpoint

CREATE TABLE synonyms (
  club_id uuid PRIMARY KEY REFERENCES clubs (id),
  groups jsonb NOT NULL,
  version integer NOT NULL,
  updated_at timestamptz NOT NULL,
  updated_by text
);
--> statement-breakpoint

-- Clubs whose words are still to be gathered, and how far that has come. Clubs made from now on need none.
CREATE TABLE search_marks (
  club_id uuid NOT NULL REFERENCES clubs (id),
  thing text COLLATE "C" NOT NULL CHECK (thing IN ('part', 'offer')),
  after_code text COLLATE "C" NOT NULL,
  PRIMARY KEY (club_id, thing)
);
--> statement-breakpoint
DO $$
BEGIN
  PERFORM set_config('loomwright.system', 'on', true);
  INSERT INTO search_marks SELECT id, thing, '' FROM clubs, (VALUES ('part'), ('offer')) AS things (thing);
  PERFORM set_config('loomwright.system', '', true);
END $$;
--> statement-breakpoint
DO $$
DECLARE t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['search_words', 'search_pieces', 'search_things', 'part_numbers', 'synonyms', 'search_marks'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
    EXECUTE format('CREATE POLICY own_club ON %I USING (club_id = loomwright_club()) WITH CHECK (club_id = loomwright_club())', t);
  END LOOP;
END $$;
--> statement-breakpoint
CREATE POLICY system ON search_marks FOR SELECT USING (loomwright_is_system());
