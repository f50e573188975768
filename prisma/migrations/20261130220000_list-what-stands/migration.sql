-- What stands open on units, one row a finding, so that a page of what is held or due reads little more than it lists. And
-- registrations are found by the shop where they were made, as other records are.
set lock_timeout = '1s';
set statement_timeout = '60s';

-- Projection. As `unit_states`, it says nothing of who did what for whom.
create table unit_findings (
  unit_id uuid not null,
  -- squawk-ignore prefer-bigint-over-int
  nth int not null,
  fact uuid not null,
  severity text not null,
  finding text not null,
  primary key (unit_id, nth)
);
insert into unit_findings (unit_id, nth, fact, severity, finding)
select unit_id, min(nth)::int - 1, (finding::json ->> 'fact')::uuid, finding::json ->> 'severity', finding
from (
  select unit_id, nth, finding::text as finding
  from unit_states cross join lateral json_array_elements(state::json -> 'open') with ordinality as open (finding, nth)
) as open
group by unit_id, finding;
create index unit_findings_standing on unit_findings (severity, fact, unit_id);

grant select, insert, update, delete on unit_findings to asfitted_recorder;
grant select, insert, delete on unit_findings to asfitted_projector;
grant select on unit_findings to asfitted_reader, asfitted_analyst;

-- squawk-ignore require-concurrent-index-creation
create index facts_containing on facts (owner, id) where kind = 'containment';

-- The owner sees no rows of distributors but while row security is not forced on him.
alter table facts no force row level security;
alter table mentions no force row level security;
insert into mentions (owner, what, key, performed_to, fact, maker)
select owner, 'registered-at', statement::jsonb ->> 'shop', performed_to, id, maker
from facts where kind = 'registration' and jsonb_typeof(statement::jsonb -> 'shop') = 'string';
alter table facts force row level security;
alter table mentions force row level security;
