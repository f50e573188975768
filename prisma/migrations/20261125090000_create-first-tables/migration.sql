-- The first tables. Facts are appended and never changed; units have events without evidence; the rest is
-- directories (who and what things are called), claims (keys, references) and projections that can be rebuilt.
-- Roles come from ops/roles.sql. Append-only is a matter of grants: nobody holds update or delete on a fact.

set local lock_timeout = '1s';
set local statement_timeout = '30s';

-- Directory of organisations: an internal id and the slug that tokens and callers use. No row security.
create table organisations (
  id uuid primary key,
  slug text not null unique,
  kind text not null check (kind in ('maker', 'distributor')),
  name text not null,
  added_at timestamptz not null default clock_timestamp()
);

-- Published editions: readable by everyone who has a token. `content` is canonical JSON, `digest` its SHA-256.
create table editions (
  maker text not null,
  edition text not null,
  effective_from timestamptz not null,
  digest text not null,
  content text not null,
  fact uuid not null,
  published_at timestamptz not null,
  primary key (maker, edition)
);

-- One row a fact. The four sections are canonical text (RFC 8785), because what is hashed must not be reordered.
create table facts (
  owner uuid not null,
  id uuid not null,
  kind text not null,
  maker text,
  edition text,
  ruleset text not null,
  performed_from timestamptz not null,
  performed_to timestamptz not null,
  recorded_at timestamptz not null,
  after uuid,
  concerns uuid,
  origin text not null,
  statement text not null,
  judgement text not null,
  origin_salt bytea not null,
  statement_salt bytea not null,
  judgement_salt bytea not null,
  private_digest text,
  entry text not null,
  primary key (owner, id),
  check (performed_from <= performed_to)
);
create index facts_by_id on facts (id);
create index facts_by_kind on facts (owner, kind, recorded_at, id);
create index facts_concerning on facts (owner, concerns) where concerns is not null;

-- Free text and what else may be erased; the digest stays with the fact, so the leaf still verifies.
create table fact_privates (
  owner uuid not null,
  fact uuid not null,
  section text not null,
  salt bytea not null,
  primary key (owner, fact),
  foreign key (owner, fact) references facts (owner, id)
);

-- What a fact did to one unit. No owner, lot, person, instrument, reading or note, and no foreign key to the fact.
create table unit_events (
  unit_id uuid not null,
  seq bigint not null,
  prev text,
  fact uuid not null,
  kind text not null,
  performed_from timestamptz not null,
  performed_to timestamptz not null,
  recorded_at timestamptz not null,
  after uuid,
  effect text not null,
  primary key (unit_id, seq)
);
create index unit_events_by_fact on unit_events (fact);

-- The end of each unit's chain: the row that recordings lock.
create table unit_heads (
  unit_id uuid primary key,
  seq bigint not null,
  entry text not null,
  recorded_at timestamptz not null
);

-- What units are called. The name is compared as name_key (NFKC, trimmed, upper case) and kept as written.
create table unit_names (
  maker text not null,
  unit_kind text not null check (unit_kind in ('pump', 'control')),
  name_kind text not null check (name_kind in ('serial', 'tag')),
  name_key text not null,
  as_written text not null,
  unit_id uuid not null,
  fact uuid not null,
  primary key (maker, unit_kind, name_key)
);
create index unit_names_by_unit on unit_names (unit_id);

-- Projection: the latest state of each unit, folded from its events.
create table unit_states (
  unit_id uuid primary key,
  maker text not null,
  unit_kind text not null,
  seq bigint not null,
  function text,
  status text not null,
  mounted_with uuid,
  state text not null
);
create index unit_states_by_mounting on unit_states (mounted_with) where mounted_with is not null;

-- Projection: what went in where, by lot. Whether it is still in says the unit's state.
create table part_uses (
  owner uuid not null,
  fact uuid not null,
  -- squawk-ignore prefer-bigint-over-int
  line int not null,
  maker text not null,
  unit_id uuid not null,
  role text not null check (role in ('element', 'seal')),
  place text not null,
  item text not null,
  -- squawk-ignore prefer-bigint-over-int
  quantity int not null,
  lot_maker text,
  lot_number text,
  primary key (owner, fact, line)
);
create index part_uses_by_lot on part_uses (lot_maker, lot_number, owner) where lot_number is not null;
create index part_uses_by_unit on part_uses (unit_id);

-- Claims: a key belongs to one request, a reference to one record.
create table idempotency_keys (
  owner uuid not null,
  client text not null,
  key text not null,
  route text not null,
  fingerprint text not null,
  fact uuid not null,
  -- squawk-ignore prefer-bigint-over-smallint
  status smallint not null,
  answer text not null,
  created_at timestamptz not null default clock_timestamp(),
  primary key (owner, client, key)
);
create index idempotency_keys_by_age on idempotency_keys (created_at);

create table record_references (
  owner uuid not null,
  kind text not null,
  reference text not null,
  fact uuid not null,
  primary key (owner, kind, reference)
);

create table registrations (
  owner uuid not null,
  unit_id uuid not null,
  fact uuid not null,
  fingerprint text not null,
  answer text not null,
  primary key (owner, unit_id)
);

-- Refused bodies, kept.
create table attempts (
  owner uuid not null,
  id uuid not null,
  at timestamptz not null,
  kind text not null,
  origin text not null,
  body text not null,
  findings text not null,
  primary key (owner, id)
);
create index attempts_by_time on attempts (owner, at, id);

-- Stock and people of a distributor: the current version of each, made from its facts.
-- `people` holds what may be erased: the shop's own id, the name, the token subject.
create table people (
  owner uuid not null,
  id uuid not null,
  own_id text not null,
  name text,
  subject text,
  primary key (owner, id),
  unique (owner, own_id)
);

create table stock_items (
  owner uuid not null,
  kind text not null check (kind in ('shop', 'technician', 'instrument', 'lot')),
  key text not null,
  fact uuid not null,
  -- squawk-ignore prefer-bigint-over-int
  version int not null,
  fingerprint text not null,
  statement text not null,
  primary key (owner, kind, key)
);

create table intakes (
  owner uuid not null,
  fact uuid not null,
  lot_maker text not null,
  lot_number text not null,
  shop text not null,
  -- squawk-ignore prefer-bigint-over-int
  quantity int not null,
  performed_to timestamptz not null,
  primary key (owner, fact)
);
create index intakes_by_lot on intakes (owner, lot_maker, lot_number);

-- Leaves wait here for the sequencer; deliveries read the outbox. Both are bare pointers.
create table staged_leaves (
  id bigint generated always as identity primary key,
  fact uuid not null,
  entry text not null
);
create table outbox (
  id bigint generated always as identity primary key,
  owner uuid not null,
  fact uuid not null,
  kind text not null,
  recorded_at timestamptz not null
);

-- What a reader may know of any unit it can name: run as the owner, because readers hold no grant on unit tables.
create view unit_current as
  select unit_id, maker, unit_kind, seq, function, status, mounted_with, state from unit_states;
create view unit_dates as
  select unit_id, seq, fact, kind, performed_from, performed_to, recorded_at from unit_events;

-- Row security: a transaction names the organisations it works for in app.orgs, the maker's people theirs in app.makers.
do $$
declare
  secured text;
begin
  foreach secured in array array[
    'facts', 'fact_privates', 'part_uses', 'idempotency_keys', 'record_references', 'registrations', 'attempts',
    'people', 'stock_items', 'intakes', 'outbox'
  ] loop
    execute format('alter table %I enable row level security', secured);
    execute format('alter table %I force row level security', secured);
    execute format(
      'create policy %I on %I to asfitted_recorder, asfitted_reader, asfitted_jobs, asfitted_eraser '
      'using (owner = any ((select string_to_array(nullif(current_setting(''app.orgs'', true), ''''), '','')::uuid[])::uuid[]))',
      secured || '_own', secured);
  end loop;
  foreach secured in array array[
    'facts', 'fact_privates', 'part_uses', 'record_references', 'registrations', 'people', 'stock_items', 'intakes', 'outbox'
  ] loop
    execute format('create policy %I on %I to asfitted_projector using (true)', secured || '_of_all', secured);
  end loop;
  foreach secured in array array['facts', 'part_uses'] loop
    execute format(
      'create policy %I on %I for select to asfitted_analyst '
      'using (maker = any ((select string_to_array(nullif(current_setting(''app.makers'', true), ''''), '','')::text[])::text[]))',
      secured || '_of_maker', secured);
  end loop;
end
$$;

grant usage on schema public to asfitted_recorder, asfitted_reader, asfitted_analyst, asfitted_jobs, asfitted_eraser,
  asfitted_projector;

grant select on organisations, editions, unit_names to asfitted_recorder, asfitted_reader, asfitted_analyst, asfitted_jobs;
grant select, insert on editions to asfitted_recorder;

grant select, insert on
  facts, fact_privates, unit_events, unit_names, part_uses, registrations, attempts, intakes, idempotency_keys,
  record_references
  to asfitted_recorder;
grant select, insert, update on unit_heads, unit_states, people, stock_items to asfitted_recorder;
grant insert on staged_leaves, outbox to asfitted_recorder;

grant select on facts, fact_privates, part_uses, record_references, registrations, attempts, people, stock_items, intakes
  to asfitted_reader;
grant select on unit_current, unit_dates to asfitted_reader, asfitted_analyst;
grant select on facts, part_uses to asfitted_analyst;
grant select on staged_leaves, outbox, facts, unit_events to asfitted_jobs;

grant select, delete on fact_privates to asfitted_eraser;
grant select, update on people to asfitted_eraser;

-- What the command that verifies and rebuilds projections reads and renews. Facts and events it can't change.
grant select on
  facts, fact_privates, unit_events, unit_heads, unit_states, unit_names, part_uses, record_references, registrations,
  stock_items, intakes, editions, staged_leaves, outbox
  to asfitted_projector;
grant select (owner, id, own_id) on people to asfitted_projector;
grant insert, delete on unit_heads, unit_states, unit_names, part_uses, record_references, stock_items, intakes
  to asfitted_projector;
