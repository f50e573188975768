-- How much of each item a shop used from a lot, so that recording reads a row an item and not every line of a large lot.
set lock_timeout = '1s';
set statement_timeout = '60s';

-- Projection. Whoever changes it holds the lot's row in `stock_items`.
create table lot_sums (
  owner uuid not null,
  lot_maker text not null,
  lot_number text not null,
  shop text not null,
  item text not null,
  -- squawk-ignore prefer-bigint-over-int
  quantity int not null,
  primary key (owner, lot_maker, lot_number, shop, item)
);

-- The owner sees no rows of distributors but while row security is not forced on him.
alter table facts no force row level security;
alter table part_uses no force row level security;
insert into lot_sums (owner, lot_maker, lot_number, shop, item, quantity)
select owner, lot_maker, lot_number, shop, item, sum(case when exists (
    select from facts
    where facts.owner = part_uses.owner and facts.concerns = part_uses.fact and facts.kind = 'correction')
  then 0 else quantity end)::int
from part_uses
where lot_number is not null and shop is not null
group by owner, lot_maker, lot_number, shop, item;
alter table facts force row level security;
alter table part_uses force row level security;

alter table lot_sums enable row level security;
alter table lot_sums force row level security;
create policy lot_sums_own on lot_sums to asfitted_recorder, asfitted_reader, asfitted_jobs, asfitted_eraser
  using (owner = any ((select string_to_array(nullif(current_setting('app.orgs', true), ''), ',')::uuid[])::uuid[]));
create policy lot_sums_of_all on lot_sums to asfitted_projector using (true);

grant select, insert, update on lot_sums to asfitted_recorder;
grant select on lot_sums to asfitted_reader;
grant select, insert, delete on lot_sums to asfitted_projector;
