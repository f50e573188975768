-- Editions of one maker are published one after the other: each is held against those before it. Whoever publishes
-- locks the maker's row; Postgres lets a row be locked by who may update a column of it, and this one means the least.

set local lock_timeout = '1s';
set local statement_timeout = '30s';

grant update (added_at) on organisations to asfitted_recorder;
