-- What lists are sorted by, so that a page of a long one is read without reading all of it. The newest change stands first, and
-- what was changed at once by its code: hence the time that is left until a day far away, written as db/sorting.ts writes it.

CREATE INDEX parts_by_change ON parts (club_id, (timestamptz '3000-01-01 00:00:00+00' - updated_at), code);
--> statement-breakpoint
CREATE INDEX offers_by_change ON offers (club_id, (timestamptz '3000-01-01 00:00:00+00' - updated_at), code);
--> statement-breakpoint
CREATE INDEX fits_by_change ON fits
  (club_id, (timestamptz '3000-01-01 00:00:00+00' - updated_at), from_part, relation, to_part);
--> statement-breakpoint
CREATE INDEX parts_by_name ON parts (club_id, (lower((body ->> 'description') COLLATE "C")), code);
