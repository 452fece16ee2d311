-- How a task was lost before: what ends a worker from outside is not the task's fault, what ends its thread may be.
-- lost: how often the lease ran out, since the worker's process ended, froze or lost the database.
ALTER TABLE tasks ADD COLUMN lost integer NOT NULL DEFAULT 0;
--> statement-breakpoint

-- crashed: how often its thread ended by itself while its worker had nothing else in hand.
ALTER TABLE tasks ADD COLUMN crashed integer NOT NULL DEFAULT 0;
--> statement-breakpoint

-- alone: from now on a worker takes it only while it has nothing else in hand.
ALTER TABLE tasks ADD COLUMN alone boolean NOT NULL DEFAULT false;
--> statement-breakpoint

-- Turns among clubs: how many tasks of a club are open, and when one of its tasks was last begun.
CREATE INDEX tasks_open_of_club ON tasks (club_id, state) WHERE state IN ('queued', 'running');
--> statement-breakpoint
CREATE INDEX tasks_by_start ON tasks (club_id, started_at);
