-- Recordings wait while these are made; the service of the release before goes on with what it writes.
set lock_timeout = '1s';
set statement_timeout = '60s';
alter table intakes validate constraint intakes_what_check;
-- squawk-ignore require-concurrent-index-creation
create index part_uses_of_owner on part_uses (owner, lot_maker, lot_number, shop) where lot_number is not null;
-- squawk-ignore require-concurrent-index-creation
create index part_uses_by_serial on part_uses (owner, serial_maker, serial_key) where serial_key is not null;
-- squawk-ignore require-concurrent-index-creation
create index intakes_by_origin on intakes (owner, origin) where origin is not null;
