-- The cluster's roles. Run by a superuser; running it again changes nothing.
-- Passwords are set elsewhere, so that this file holds no secret.
--
--   asfitted_owner     owns the database and its tables; migrates; serves no request
--   asfitted_service   what the service logs in as: may read and write nothing itself
--   asfitted_recorder  records facts and reads what a decision needs
--   asfitted_reader    reads what one distributor may see
--   asfitted_analyst   reads across distributors for the maker
--   asfitted_jobs      background loops
--   asfitted_eraser    erases from the private tables, and what names a person who is forgotten
--   asfitted_projector reads what is derived and what it is derived from, of all, and renews projections
--
-- asfitted_service is a member of recorder, reader, analyst, jobs and eraser without inheriting from them: work runs
-- under `set local role`, so a statement outside a transaction with a role can do nothing. In the same way the
-- owner, whom row security holds too, is a member of projector: `npm run projections` works as that role.

do $$
declare
  -- role, whether it logs in
  wanted constant text[][] := array[
    ['asfitted_owner', 'login'],
    ['asfitted_service', 'login'],
    ['asfitted_recorder', 'nologin'],
    ['asfitted_reader', 'nologin'],
    ['asfitted_analyst', 'nologin'],
    ['asfitted_jobs', 'nologin'],
    ['asfitted_eraser', 'nologin'],
    ['asfitted_projector', 'nologin']
  ];
  role text[];
begin
  foreach role slice 1 in array wanted loop
    if not exists (select from pg_catalog.pg_roles where rolname = role[1]) then
      execute format('create role %I', role[1]);
    end if;
    execute format(
      'alter role %I %s noinherit nosuperuser nobypassrls nocreatedb nocreaterole noreplication',
      role[1], role[2]
    );
  end loop;
end
$$;

grant asfitted_recorder, asfitted_reader, asfitted_analyst, asfitted_jobs, asfitted_eraser
  to asfitted_service with admin false, inherit false, set true;

grant asfitted_projector to asfitted_owner with admin false, inherit false, set true;
