-- What the maker's people were shown of a distributor's, for the distributor to see. It is no fact: nobody states it.
-- Who of the maker's people it was, by which program, is kept and not shown.
set lock_timeout = '1s';
set statement_timeout = '5s';

create table accesses (
  owner uuid not null,
  id uuid not null,
  at timestamptz not null default clock_timestamp(),
  maker text not null,
  client text not null,
  subject text not null,
  operation text not null,
  facts uuid[] not null,
  primary key (owner, id)
);

alter table accesses enable row level security;
alter table accesses force row level security;
create policy accesses_own on accesses to asfitted_recorder, asfitted_reader
  using (owner = any ((select string_to_array(nullif(current_setting('app.orgs', true), ''), ',')::uuid[])::uuid[]));

grant insert on accesses to asfitted_recorder;
grant select (owner, id, at, maker, operation, facts) on accesses to asfitted_reader;
