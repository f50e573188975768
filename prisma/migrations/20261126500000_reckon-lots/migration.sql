-- What comes into a lot at a shop and leaves it otherwise than by use: beside intakes what was scrapped, sent back to
-- the supplier, counted, and stocked again after it had been taken out of a unit. And uses say when and where, so that
-- a balance is reckoned from them alone, in the order of the work.
set lock_timeout = '1s';
set statement_timeout = '60s';

alter table intakes add column what text not null default 'intake';
alter table intakes
  add constraint intakes_what_check check (what in ('intake', 'scrapping', 'return', 'count', 'restocking')) not valid;
alter table intakes add column reference text;
alter table intakes add column location text;
-- What the number is of: kits, or pieces; null: as the lot's part has it. Pieces of a kit's lot have their item.
alter table intakes add column counts text;
alter table intakes add column item text;
-- Of a count of kits: the loose pieces beside them, as JSON.
alter table intakes add column loose text;
-- Of a restocking: the record and the station that the part came out of. Its lot may not be known.
alter table intakes add column origin uuid;
alter table intakes add column station text;
-- The release before asks for the intakes of one lot, and so never meets a row without.
-- squawk-ignore ban-drop-not-null
alter table intakes alter column lot_maker drop not null;
-- squawk-ignore ban-drop-not-null
alter table intakes alter column lot_number drop not null;

alter table part_uses add column shop text;
alter table part_uses add column reference text;
alter table part_uses add column performed_to timestamptz;
alter table part_uses add column serial_maker text;
alter table part_uses add column serial_key text;

-- The owner sees no rows of distributors but while row security is not forced on him.
alter table facts no force row level security;
alter table part_uses no force row level security;
alter table intakes no force row level security;
update part_uses set
  shop = coalesce(said.statement ->> 'shop', said.statement #>> '{body,shop}'),
  reference = btrim(said.statement ->> 'reference'),
  performed_to = said.performed_to
from (select owner, id, performed_to, statement::jsonb as statement from facts) as said
where said.owner = part_uses.owner and said.id = part_uses.fact;
update intakes set reference = btrim(said.statement ->> 'reference')
from (select owner, id, statement::jsonb as statement from facts) as said
where said.owner = intakes.owner and said.id = intakes.fact;
alter table facts force row level security;
alter table part_uses force row level security;
alter table intakes force row level security;
