#!/bin/sh
# Roles, their passwords and the database `asfitted`, as a superuser (PGHOST, PGUSER, PGPASSWORD). Running it again
# changes nothing but passwords that were set anew. Tables are made by `npm run migrate`, as their owner.
set -eu
cd "$(dirname "$0")"

# They become part of a URL.
for name in OWNER_PASSWORD SERVICE_PASSWORD; do
  eval "value=\${$name:-}"
  case $value in
    '') echo "$name is not set" >&2; exit 2 ;;
    *[!A-Za-z0-9_-]*) echo "$name: use letters, digits, - and _ only" >&2; exit 2 ;;
  esac
done

psql -X -q -v ON_ERROR_STOP=1 -d postgres -f roles.sql
# Read from the environment by psql: an argument could be seen by every process.
psql -X -q -v ON_ERROR_STOP=1 -d postgres <<'SQL'
\getenv owner_password OWNER_PASSWORD
\getenv service_password SERVICE_PASSWORD
alter role asfitted_owner password :'owner_password';
alter role asfitted_service password :'service_password';
select 'create database asfitted owner asfitted_owner'
where not exists (select from pg_catalog.pg_database where datname = 'asfitted') \gexec
SQL
echo 'roles and database are there'
