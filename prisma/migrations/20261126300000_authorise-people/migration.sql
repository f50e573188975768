-- Who may do what, which shops the maker has approved, and how either ends. Projections: a row for each such fact.
set lock_timeout = '1s';
set statement_timeout = '5s';

-- By the service's own id of the person. `scope`: tasks, and what of makers, series, bodies and functions they are for.
create table authorisations (
  owner uuid not null,
  fact uuid not null,
  person uuid not null,
  scope text not null,
  valid_from timestamptz not null,
  valid_until timestamptz,
  primary key (owner, fact)
);
create index authorisations_by_person on authorisations (owner, person);

-- The fact is the maker's; the row belongs to the distributor whose shop it is about, and the maker's people see it too.
create table approvals (
  owner uuid not null,
  fact uuid not null,
  maker text not null,
  shop text not null,
  scope text not null,
  reason text not null,
  valid_from timestamptz not null,
  valid_until timestamptz,
  primary key (owner, fact)
);
create index approvals_by_shop on approvals (owner, shop);
create index approvals_by_maker on approvals (maker, fact);

-- Of an authorisation, or of an approval, which has a maker: what it ends, and from when on.
create table leave_ends (
  owner uuid not null,
  fact uuid not null,
  maker text,
  ends uuid not null,
  ends_from timestamptz not null,
  reason text,
  primary key (owner, fact)
);
create index leave_ends_by_what_ends on leave_ends (owner, ends);
create index leave_ends_by_maker on leave_ends (maker, ends) where maker is not null;

do $$
declare
  secured text;
begin
  foreach secured in array array['authorisations', 'approvals', 'leave_ends'] loop
    execute format('alter table %I enable row level security', secured);
    execute format('alter table %I force row level security', secured);
    execute format(
      'create policy %I on %I to asfitted_recorder, asfitted_reader '
      'using (owner = any ((select string_to_array(nullif(current_setting(''app.orgs'', true), ''''), '','')::uuid[])::uuid[]))',
      secured || '_own', secured);
    execute format('create policy %I on %I to asfitted_projector using (true)', secured || '_of_all', secured);
  end loop;
  foreach secured in array array['approvals', 'leave_ends'] loop
    execute format(
      'create policy %I on %I for select to asfitted_analyst '
      'using (maker = any ((select string_to_array(nullif(current_setting(''app.makers'', true), ''''), '','')::text[])::text[]))',
      secured || '_of_maker', secured);
  end loop;
end
$$;

grant select, insert on authorisations, approvals, leave_ends to asfitted_recorder;
grant select on authorisations, approvals, leave_ends to asfitted_reader;
grant select on approvals, leave_ends to asfitted_analyst;
grant select, insert, delete on authorisations, approvals, leave_ends to asfitted_projector;
