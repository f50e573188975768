set lock_timeout = '1s';
set statement_timeout = '60s';
alter table stock_items validate constraint stock_items_kind_check;
