set lock_timeout = '1s';
set statement_timeout = '60s';
alter table unit_names validate constraint unit_names_name_kind_check;
