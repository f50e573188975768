-- A name may come to lead to another unit, or be free again: a plate that belongs elsewhere, two units that are one. What
-- a unit was called before still finds it (former).
set lock_timeout = '1s';
set statement_timeout = '5s';
alter table unit_names drop constraint unit_names_name_kind_check;
alter table unit_names
  add constraint unit_names_name_kind_check check (name_kind in ('serial', 'tag', 'former', 'free')) not valid;
grant update on unit_names to asfitted_recorder;
