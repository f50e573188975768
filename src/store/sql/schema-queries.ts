/**
 * One query a section, each giving `line`, sorted bytewise (`collate "C"`), so that the order is the same on every
 * server. The NOT NULL constraints that Postgres 18 lists are left out: 17 doesn't list them, and the column says so.
 */
export const schemaQueries: readonly { readonly title: string; readonly sql: string }[] = [
  {
    title: 'tables and views, with row security',
    sql: `
      select case c.relkind when 'r' then 'table' when 'p' then 'partitioned table' when 'v' then 'view'
          when 'm' then 'materialized view' when 'S' then 'sequence' when 'f' then 'foreign table' end
        || ' ' || c.relname || ' owner ' || pg_get_userbyid(c.relowner)
        || case when c.relrowsecurity then ' row-security' else '' end
        || case when c.relforcerowsecurity then ' forced' else '' end
        || case when c.relpersistence <> 'p' then ' not-logged' else '' end
        || coalesce(' options ' || array_to_string(c.reloptions, ','), '') as line
      from pg_class c
      where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p', 'v', 'm', 'S', 'f')
      order by c.relname collate "C"`,
  },
  {
    title: 'columns',
    sql: `
      select c.relname || '.' || a.attname || ' ' || format_type(a.atttypid, a.atttypmod)
        || case when a.attnotnull then ' not null' else '' end
        || case a.attidentity when 'a' then ' identity always' when 'd' then ' identity by default' else '' end
        || case when a.attgenerated <> '' then ' generated ' || pg_get_expr(d.adbin, d.adrelid)
             when d.adbin is not null then ' default ' || pg_get_expr(d.adbin, d.adrelid) else '' end
        || case when a.attcollation <> t.typcollation then ' collate ' || a.attcollation::regcollation else '' end as line
      from pg_class c
      join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
      join pg_type t on t.oid = a.atttypid
      left join pg_attrdef d on d.adrelid = c.oid and d.adnum = a.attnum
      where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p', 'v', 'm', 'f')
      order by c.relname collate "C", a.attnum`,
  },
  {
    title: 'constraints',
    sql: `
      select r.conrelid::regclass || '.' || r.conname || ' ' || pg_get_constraintdef(r.oid)
        || case when r.convalidated then '' else ' not-validated' end as line
      from pg_constraint r
      where r.connamespace = 'public'::regnamespace and r.contype <> 'n'
      order by r.conrelid::regclass::text collate "C", r.conname collate "C"`,
  },
  {
    title: 'indexes',
    sql: `
      select pg_get_indexdef(i.indexrelid) || case when i.indisvalid then '' else ' not-valid' end as line
      from pg_index i join pg_class c on c.oid = i.indexrelid
      where c.relnamespace = 'public'::regnamespace
      order by i.indrelid::regclass::text collate "C", c.relname collate "C"`,
  },
  {
    title: 'policies',
    sql: `
      select p.polrelid::regclass || '.' || p.polname
        || case when p.polpermissive then '' else ' restrictive' end
        || ' for ' || case p.polcmd when 'r' then 'select' when 'a' then 'insert' when 'w' then 'update'
             when 'd' then 'delete' else 'all' end
        || ' to ' || (select string_agg(coalesce(o.rolname, 'public'), ', ' order by o.rolname collate "C")
             from unnest(p.polroles) as member left join pg_roles o on o.oid = member)
        || coalesce(' using ' || pg_get_expr(p.polqual, p.polrelid), '')
        || coalesce(' check ' || pg_get_expr(p.polwithcheck, p.polrelid), '') as line
      from pg_policy p join pg_class c on c.oid = p.polrelid
      where c.relnamespace = 'public'::regnamespace
      order by p.polrelid::regclass::text collate "C", p.polname collate "C"`,
  },
  {
    title: 'grants (the owner holds all of its own)',
    sql: `
      with held as (
        select 'schema ' || n.nspname as on_what, n.nspowner as owner, acl.* from pg_namespace n,
          aclexplode(coalesce(n.nspacl, acldefault('n', n.nspowner))) acl where n.nspname = 'public'
        union all
        select c.relname, c.relowner, acl.* from pg_class c,
          aclexplode(coalesce(c.relacl, acldefault(case c.relkind when 'S' then 's' else 'r' end::"char", c.relowner))) acl
          where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p', 'v', 'm', 'S', 'f')
        union all
        select c.relname || '.' || a.attname, c.relowner, acl.* from pg_class c
          join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped, aclexplode(a.attacl) acl
          where c.relnamespace = 'public'::regnamespace
        union all
        select 'function ' || p.oid::regprocedure, p.proowner, acl.* from pg_proc p,
          aclexplode(coalesce(p.proacl, acldefault('f', p.proowner))) acl where p.pronamespace = 'public'::regnamespace
      )
      select on_what || ' to ' || coalesce(r.rolname, 'public') || ': '
        || string_agg(lower(privilege_type) || case when is_grantable then ' with grant option' else '' end, ', '
             order by privilege_type collate "C") as line
      from held left join pg_roles r on r.oid = grantee
      where grantee <> owner
      group by on_what, r.rolname
      order by on_what collate "C", coalesce(r.rolname, 'public') collate "C"`,
  },
  {
    title: 'views',
    sql: `
      select c.relname || ':' || chr(10) || pg_get_viewdef(c.oid) as line
      from pg_class c
      where c.relnamespace = 'public'::regnamespace and c.relkind in ('v', 'm')
      order by c.relname collate "C"`,
  },
  {
    title: 'functions and triggers',
    sql: `
      select line from (
        select p.oid::regprocedure::text as name, pg_get_functiondef(p.oid) as line from pg_proc p
          where p.pronamespace = 'public'::regnamespace and p.prokind in ('f', 'p')
        union all
        select t.tgrelid::regclass || '.' || t.tgname, pg_get_triggerdef(t.oid) from pg_trigger t
          join pg_class c on c.oid = t.tgrelid where c.relnamespace = 'public'::regnamespace and not t.tgisinternal
      ) made order by name collate "C"`,
  },
  {
    title: 'types and extensions',
    sql: `
      select line from (
        select 'type ' || t.typname || coalesce(': ' || (select string_agg(e.enumlabel, ', ' order by e.enumsortorder)
          from pg_enum e where e.enumtypid = t.oid), '') as line from pg_type t
          where t.typnamespace = 'public'::regnamespace and t.typtype in ('e', 'd', 'r')
        union all
        select 'extension ' || e.extname from pg_extension e where e.extname <> 'plpgsql'
      ) made order by line collate "C"`,
  },
];
