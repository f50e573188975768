-- Claims under warranty, what is said about them since, and the maker's terms. Projections: a row for each such fact.
set lock_timeout = '1s';
set statement_timeout = '5s';

-- By the distributor that claims. `replaces`: the claim that this one corrects.
create table claims (
  owner uuid not null,
  fact uuid not null,
  maker text not null,
  unit_id uuid not null,
  unit_kind text not null,
  part text not null,
  symptom text not null,
  failure_mode text not null,
  failed_from timestamptz not null,
  failed_to timestamptz not null,
  replaces uuid,
  recorded_at timestamptz not null,
  primary key (owner, fact)
);
create unique index claims_by_replaced on claims (owner, replaces) where replaces is not null;
create index claims_by_unit on claims (unit_id, fact);
create index claims_by_maker on claims (maker, fact);

-- Evidence of the distributor, and decisions of the maker: their facts are the maker's, the rows the distributor's.
create table claim_entries (
  owner uuid not null,
  fact uuid not null,
  maker text not null,
  claim uuid not null,
  decision text,
  told text,
  recorded_at timestamptz not null,
  primary key (owner, fact)
);
create index claim_entries_by_claim on claim_entries (owner, claim, recorded_at, fact);

-- Free text of claims and their evidence, which is told to the maker, and goes with the private section of the fact.
create table claim_texts (
  owner uuid not null,
  fact uuid not null,
  maker text not null,
  told text not null,
  primary key (owner, fact)
);

do $$
declare
  secured text;
begin
  foreach secured in array array['claims', 'claim_entries', 'claim_texts'] loop
    execute format('alter table %I enable row level security', secured);
    execute format('alter table %I force row level security', secured);
    execute format(
      'create policy %I on %I to asfitted_recorder, asfitted_reader '
      'using (owner = any ((select string_to_array(nullif(current_setting(''app.orgs'', true), ''''), '','')::uuid[])::uuid[]))',
      secured || '_own', secured);
    execute format(
      'create policy %I on %I for select to asfitted_analyst '
      'using (maker = any ((select string_to_array(nullif(current_setting(''app.makers'', true), ''''), '','')::text[])::text[]))',
      secured || '_of_maker', secured);
    execute format('create policy %I on %I to asfitted_projector using (true)', secured || '_of_all', secured);
  end loop;
end
$$;

-- What a maker states of its terms is for everybody, as its editions are.
create table terms (
  maker text not null,
  id text not null,
  -- squawk-ignore prefer-bigint-over-int
  version int not null,
  fact uuid not null,
  valid_from timestamptz not null,
  valid_until timestamptz,
  content text not null,
  fingerprint text not null,
  recorded_at timestamptz not null,
  primary key (maker, id, version)
);

grant select, insert on claims, claim_entries, claim_texts, terms to asfitted_recorder;
grant select on claims, claim_entries, claim_texts, terms to asfitted_reader, asfitted_analyst;
grant select, insert, delete on claims, claim_entries, claim_texts, terms to asfitted_projector;

-- Who erases a private section erases what was told of it.
create policy claim_texts_erased on claim_texts to asfitted_eraser
  using (owner = any ((select string_to_array(nullif(current_setting('app.orgs', true), ''), ',')::uuid[])::uuid[]));
grant select, delete on claim_texts to asfitted_eraser;
