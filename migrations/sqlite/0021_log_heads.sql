-- What is said of a log stands beside it: lists of logs are read from here, without walking
-- over the logs themselves, which may be as large as 200 MB.

-- +goose Up
CREATE INDEX logs_heads ON logs (job_id, id, name, format, sha256, loaded_at, person_id, pass_rows, row_gap_m, offset_right_m, behind_m);

-- +goose Down
DROP INDEX logs_heads;
