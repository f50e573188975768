-- Of every unit that is in a shop, by a movement that says so, that movement: what is in stock is found by it.
set lock_timeout = '1s';
set statement_timeout = '60s';

alter table unit_states add column came_in uuid;
update unit_states set came_in = (state::jsonb #>> '{custody,record}')::uuid
where state::jsonb #>> '{custody,is}' = 'in' and state::jsonb ->> 'retired' is null;
-- squawk-ignore require-concurrent-index-creation
create index unit_states_in_stock on unit_states (came_in) where came_in is not null;

create or replace view unit_current as
  select unit_id, maker, unit_kind, seq, function, status, mounted_with, state, came_in from unit_states;
