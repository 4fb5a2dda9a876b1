-- The logs of a job are read in the order of their loading; what is said of a log is read
-- without the log itself, which PostgreSQL keeps apart.

-- +goose Up
CREATE INDEX logs_heads ON logs (job_id, id);

-- +goose Down
DROP INDEX logs_heads;
