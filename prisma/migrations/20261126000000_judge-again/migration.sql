-- Which records name an instrument, a person or a shop; and facts after which such records are still to be judged again.
set lock_timeout = '1s';
set statement_timeout = '5s';

-- Projection.
create table mentions (
  owner uuid not null,
  what text not null,
  key text not null,
  performed_to timestamptz not null,
  fact uuid not null,
  maker text,
  primary key (owner, what, key, performed_to, fact)
);
create index mentions_by_maker on mentions (maker, what, key, performed_to) where maker is not null;

-- Written with the fact, taken away when everything that it touches has been judged again.
create table pending_judgements (
  owner uuid not null,
  cause uuid not null,
  client text not null,
  subject text not null,
  touched text not null,
  since timestamptz not null default clock_timestamp(),
  primary key (owner, cause)
);

do $$
declare
  secured text;
begin
  foreach secured in array array['mentions', 'pending_judgements'] loop
    execute format('alter table %I enable row level security', secured);
    execute format('alter table %I force row level security', secured);
    execute format(
      'create policy %I on %I to asfitted_recorder, asfitted_reader '
      'using (owner = any ((select string_to_array(nullif(current_setting(''app.orgs'', true), ''''), '','')::uuid[])::uuid[]))',
      secured || '_own', secured);
  end loop;
end
$$;
create policy mentions_of_all on mentions to asfitted_projector using (true);
create policy mentions_of_maker on mentions for select to asfitted_analyst
  using (maker = any ((select string_to_array(nullif(current_setting('app.makers', true), ''), ',')::text[])::text[]));

grant select, insert on mentions to asfitted_recorder;
grant select, insert, delete on pending_judgements to asfitted_recorder;
grant select on mentions to asfitted_reader, asfitted_analyst, asfitted_projector;
grant insert, delete on mentions to asfitted_projector;
