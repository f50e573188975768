-- Calibrations, interim checks and incidents of instruments. Projection: a row for each such fact.
set lock_timeout = '1s';
set statement_timeout = '5s';

-- `statement` is what was said, without the name of the instrument.
create table instrument_events (
  owner uuid not null,
  fact uuid not null,
  instrument text not null,
  kind text not null,
  performed_from timestamptz not null,
  performed_to timestamptz not null,
  statement text not null,
  primary key (owner, fact)
);
create index instrument_events_by_instrument on instrument_events (owner, instrument);

alter table instrument_events enable row level security;
alter table instrument_events force row level security;
create policy instrument_events_own on instrument_events to asfitted_recorder, asfitted_reader
  using (owner = any ((select string_to_array(nullif(current_setting('app.orgs', true), ''), ',')::uuid[])::uuid[]));
create policy instrument_events_of_all on instrument_events to asfitted_projector using (true);

grant select, insert on instrument_events to asfitted_recorder;
grant select on instrument_events to asfitted_reader;
grant select, insert, delete on instrument_events to asfitted_projector;
