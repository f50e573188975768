-- What the maker's people were shown of a distributor's, for the distributor to see. It is no fact: nobody states it.
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
grant select on accesses to asfitted_reader;

-- The trace of a unit tells how the instruments of its records stood: of those that records of the maker's units name.
create policy instrument_events_of_maker on instrument_events for select to asfitted_analyst using (exists (
  select from mentions
  where mentions.owner = instrument_events.owner and mentions.what = 'instrument' and mentions.key = instrument_events.instrument
    and mentions.maker = any ((select string_to_array(nullif(current_setting('app.makers', true), ''), ',')::text[])::text[])));
create policy stock_items_of_maker on stock_items for select to asfitted_analyst using (kind = 'instrument' and exists (
  select from mentions
  where mentions.owner = stock_items.owner and mentions.what = 'instrument' and mentions.key = stock_items.key
    and mentions.maker = any ((select string_to_array(nullif(current_setting('app.makers', true), ''), ',')::text[])::text[])));
grant select on instrument_events, stock_items to asfitted_analyst;
