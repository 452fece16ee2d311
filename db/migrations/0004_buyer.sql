-- Who orders: printed on order lists.
ALTER TABLE clubs ADD COLUMN buyer jsonb;
