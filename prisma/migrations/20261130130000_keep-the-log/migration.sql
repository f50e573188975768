-- The log: a staged leaf gets its place, once and for ever, and every head of the tree that was signed is kept. The tiles
-- are files (LOG_DIR), made of these. A log that is begun after a restore has a number of its own and names the one before.
set lock_timeout = '1s';
set statement_timeout = '5s';

create table logs (
  -- squawk-ignore prefer-bigint-over-int
  number int primary key,
  origin text not null unique,
  begun_at timestamptz not null default clock_timestamp(),
  -- The signed note that names the log before this one.
  follows text,
  size bigint not null,
  -- The hashes of the nodes at the right edge of the tree, from left to right.
  frontier bytea not null
);

create table log_leaves (
  -- squawk-ignore prefer-bigint-over-int
  log int not null,
  index bigint not null,
  fact uuid not null,
  entry text not null,
  primary key (log, index)
);
create index log_leaves_by_entry on log_leaves (entry);

create table log_checkpoints (
  -- squawk-ignore prefer-bigint-over-int
  log int not null,
  size bigint not null,
  root text not null,
  note text not null,
  signed_at timestamptz not null default clock_timestamp(),
  primary key (log, size)
);

-- Every leaf of the facts that are kept, once: waiting, or with a place in the log that is written now.
create view all_leaves with (security_invoker = true) as
  select fact, entry from staged_leaves
  union all
  select fact, entry from log_leaves where log = (select max(number) from logs);

grant select, insert on logs to asfitted_jobs;
grant update (size, frontier) on logs to asfitted_jobs;
grant select, insert on log_leaves, log_checkpoints to asfitted_jobs;
grant insert, delete on staged_leaves to asfitted_jobs;

-- Public, as the log is; which fact a leaf is of is not.
grant select (log, index, entry) on log_leaves to asfitted_reader;
grant select (number, origin, size) on logs to asfitted_reader;

grant select on logs, log_leaves, log_checkpoints, all_leaves to asfitted_projector;
