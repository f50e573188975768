-- What is asked of many rows and answered by few: units that aren't released, and statements of lots.
set lock_timeout = '1s';
set statement_timeout = '60s';

-- squawk-ignore require-concurrent-index-creation
create index unit_states_not_released on unit_states (unit_id) where status <> 'released';
-- squawk-ignore require-concurrent-index-creation
create index facts_stating_lots on facts (owner, maker) where kind = 'lot';
-- squawk-ignore require-concurrent-index-creation
create index facts_stating_components on facts (owner, maker)
  where kind = 'lot' and strpos(statement, '"components":[{') > 0;
