/**
 * What the system catalogues must not show. Each rule is one query that gives its findings, so that none is none; each
 * has a control, a change that it must notice. Sources: PostgreSQL 18, chapter 52 (system catalogs) and 5.9 (row
 * security policies).
 */
import type pg from 'pg';

type Asks = Pick<pg.ClientBase, 'query'>;

export type LintRule = {
  readonly name: string;
  /** Gives rows of one text each. */
  readonly sql: string;
  /** Statements of a superuser, after which the rule must give this finding. */
  readonly control: { readonly change: string; readonly finding: string };
};

/** Tables and whose their rows are; roles, without the cluster's first superuser (oid 10), whatever it is called; grants to others than the owner of the table. */
const common = `
  with tables as (
    select c.oid, c.relname::text as name, c.relrowsecurity as secured, c.relforcerowsecurity as forced, c.relacl, c.relowner,
      (select attnum from pg_attribute a where a.attrelid = c.oid and a.attname = 'owner' and not a.attisdropped) as owner_column,
      (select attnum from pg_attribute a where a.attrelid = c.oid and a.attname = 'unit_id' and not a.attisdropped) as unit_column
    from pg_class c where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace
  ), roles as (
    select oid, rolname::text as name, rolsuper, rolbypassrls, rolcreaterole, rolcreatedb, rolreplication, rolinherit
    from pg_roles where rolname like 'asfitted\\_%' and oid <> 10
  ), grants as (
    select t.oid as relation, t.name as relation_name, acl.grantee, acl.privilege_type as verb, acl.is_grantable
    from tables t, aclexplode(t.relacl) acl where acl.grantee <> t.relowner
    union
    select t.oid, t.name, acl.grantee, acl.privilege_type, acl.is_grantable
    from tables t join pg_attribute a on a.attrelid = t.oid, aclexplode(a.attacl) acl where acl.grantee <> t.relowner
  )`;

export const lintRules: readonly LintRule[] = [
  {
    name: 'a table with an owner has row security, forced on the owner of the tables too',
    sql: `select name || case when not secured then ': no row security' else ': not forced' end
      from tables where owner_column is not null and not (secured and forced)`,
    control: { change: 'alter table intakes no force row level security', finding: 'intakes: not forced' },
  },
  {
    name: 'row security goes by an owner that is always stated',
    sql: `select t.name from tables t left join pg_attribute a on a.attrelid = t.oid and a.attnum = t.owner_column
      where t.secured and not (coalesce(a.attnotnull, false) and a.atttypid = 'uuid'::regtype)`,
    control: {
      change: 'alter table attempts drop constraint attempts_pkey; alter table attempts alter owner drop not null',
      finding: 'attempts',
    },
  },
  {
    name: 'every role that may touch a row-secured table has a policy for what it may do',
    sql: `select distinct g.relation_name || ': ' || g.grantee::regrole || ' has no policy for ' || lower(g.verb)
      from grants g join tables t on t.oid = g.relation and t.secured
      where g.verb in ('SELECT', 'INSERT', 'UPDATE', 'DELETE') and g.grantee <> 0 and not exists (
        select from pg_policy p where p.polrelid = g.relation and g.grantee = any (p.polroles)
          and (p.polcmd = '*' or p.polcmd = case g.verb when 'SELECT' then 'r' when 'INSERT' then 'a' when 'UPDATE' then 'w' else 'd' end))`,
    control: {
      change: 'drop policy intakes_own on intakes',
      finding: 'intakes: asfitted_recorder has no policy for insert',
    },
  },
  {
    name: 'a policy compares owner or maker with the context; only the projector sees rows of all',
    sql: `select t.name || ': ' || p.polname || ' lets ' || coalesce(role::regrole::text, 'everybody') || ' see by ' || coalesce(pg_get_expr(p.polqual, p.polrelid), pg_get_expr(p.polwithcheck, p.polrelid), 'nothing')
      from pg_policy p join tables t on t.oid = p.polrelid, unnest(p.polroles) role
      where p.polpermissive and (role = 0 or role::regrole::text <> 'asfitted_projector' and (not (coalesce(pg_get_expr(p.polqual, p.polrelid), pg_get_expr(p.polwithcheck, p.polrelid))
            ~ '^\\(owner = ANY \\(\\(.*current_setting\\(''app\\.orgs''::text, true\\)'
          or p.polcmd = 'r' and coalesce(pg_get_expr(p.polqual, p.polrelid), '')
            ~ '^\\(maker = ANY \\(\\(.*current_setting\\(''app\\.makers''::text, true\\)')
          or coalesce(pg_get_expr(p.polwithcheck, p.polrelid), pg_get_expr(p.polqual, p.polrelid)) <> coalesce(pg_get_expr(p.polqual, p.polrelid), pg_get_expr(p.polwithcheck, p.polrelid))))`,
    control: {
      change: 'create policy too_much on attempts for select to asfitted_reader using (true)',
      finding: 'attempts: too_much lets asfitted_reader see by true',
    },
  },
  {
    // A number that the database itself gives out is no name that anybody could ask for or find taken.
    name: 'every key of a table with an owner begins with it, but for numbers that the database gives out',
    sql: `select t.name || ': ' || i.indexrelid::regclass from tables t join pg_index i on i.indrelid = t.oid and i.indisunique
      where t.owner_column is not null and i.indkey[0] <> t.owner_column and not (i.indnkeyatts = 1 and exists (
        select from pg_attribute a where a.attrelid = t.oid and a.attnum = i.indkey[0] and a.attidentity = 'a'))`,
    control: {
      change: 'create unique index control_key on part_uses (fact, line)',
      finding: 'part_uses: control_key',
    },
  },
  {
    name: 'every foreign key from or to a table with an owner includes it on both sides',
    sql: `select child.name || ': ' || k.conname
      from pg_constraint k join tables child on child.oid = k.conrelid join tables parent on parent.oid = k.confrelid
      where k.contype = 'f' and (child.owner_column is not null or parent.owner_column is not null) and not exists (
        select from generate_subscripts(k.conkey, 1) nth
        where k.conkey[nth] = child.owner_column and k.confkey[nth] = parent.owner_column)`,
    control: {
      change: `create unique index control_target on facts (id);
        alter table intakes add constraint control_parent foreign key (fact) references facts (id)`,
      finding: 'intakes: control_parent',
    },
  },
  {
    // Row security of a view that runs as its owner is the owner's. Those over unit events run so, as decided: readers
    // hold no grant on the events themselves.
    name: 'a view runs as who asks, unless all below it is led by units',
    sql: `select distinct v.relname || ': over ' || below.relname
      from pg_class v join pg_rewrite r on r.ev_class = v.oid join pg_depend d on d.objid = r.oid and d.classid = 'pg_rewrite'::regclass
        and d.refclassid = 'pg_class'::regclass and d.refobjid <> v.oid
      join pg_class below on below.oid = d.refobjid left join tables t on t.oid = below.oid
      where v.relnamespace = 'public'::regnamespace and (v.relkind = 'm' or v.relkind = 'v'
        and not coalesce((select option_value::boolean from pg_options_to_table(v.reloptions) where option_name = 'security_invoker'), false)
        and (t.oid is null or t.secured or t.unit_column is null))`,
    control: { change: 'create view control_view as select * from facts', finding: 'control_view: over facts' },
  },
  {
    name: 'no role of the service is superuser, passes row security by, makes roles or databases, replicates or inherits',
    sql: `select name from roles where rolsuper or rolbypassrls or rolcreaterole or rolcreatedb or rolreplication or rolinherit`,
    control: { change: 'alter role asfitted_reader bypassrls', finding: 'asfitted_reader' },
  },
  {
    name: 'no role of the service is in one that it should not be in, or hands its own on',
    sql: `select m.member::regrole || ' is in ' || m.roleid::regrole from pg_auth_members m
      where (m.member in (select oid from roles) or m.roleid in (select oid from roles))
        and m.member::regrole::text not in (select rolname from pg_roles where rolsuper)
        and (m.admin_option or m.inherit_option or (m.member::regrole::text, m.roleid::regrole::text) not in (
          ('asfitted_service', 'asfitted_recorder'), ('asfitted_service', 'asfitted_reader'), ('asfitted_service', 'asfitted_analyst'),
          ('asfitted_service', 'asfitted_jobs'), ('asfitted_service', 'asfitted_eraser'), ('asfitted_owner', 'asfitted_projector')))`,
    control: {
      change: 'grant pg_read_all_data to asfitted_service',
      finding: 'asfitted_service is in pg_read_all_data',
    },
  },
  {
    name: 'all that is there belongs to the owner, and to nobody who serves requests',
    sql: `select c.relname || ': ' || c.relowner::regrole from pg_class c
      where c.relnamespace = 'public'::regnamespace and c.relowner::regrole::text <> 'asfitted_owner'`,
    control: { change: 'alter table outbox owner to asfitted_jobs', finding: 'outbox: asfitted_jobs' },
  },
  {
    name: 'nothing is granted to everybody, and nothing to be handed on',
    sql: `select relation_name || ': ' || lower(verb) || case when grantee = 0 then ' to everybody' else ' to be handed on by ' || grantee::regrole end
      from grants where grantee = 0 or is_grantable`,
    control: { change: 'grant select on editions to public', finding: 'editions: select to everybody' },
  },
  {
    name: 'no role of the service makes anything in the schema',
    sql: `select name from roles where name <> 'asfitted_owner' and has_schema_privilege(oid, 'public', 'create')`,
    control: { change: 'grant create on schema public to asfitted_jobs', finding: 'asfitted_jobs' },
  },
  {
    name: 'no triggers, and no rules beside views',
    sql: `select tgrelid::regclass || ': ' || tgname from pg_trigger join tables on tables.oid = tgrelid where not tgisinternal
      union all select ev_class::regclass || ': ' || rulename from pg_rewrite join tables on tables.oid = ev_class`,
    control: {
      change: `create function control_function() returns trigger language plpgsql as 'begin return new; end';
        create trigger control_trigger before insert on facts for each row execute function control_function()`,
      finding: 'facts: control_trigger',
    },
  },
  {
    name: 'no functions of our own: nothing runs as somebody else, and none takes an advisory lock',
    sql: `select proname::text from pg_proc where pronamespace = 'public'::regnamespace`,
    control: {
      change: `create function control_lock() returns void language sql security definer as 'select pg_advisory_xact_lock(1)'`,
      finding: 'control_lock',
    },
  },
  {
    name: 'no enum types or domains',
    sql: `select typname::text from pg_type where typnamespace = 'public'::regnamespace and typtype in ('e', 'd')`,
    control: { change: `create type control_kind as enum ('one')`, finding: 'control_kind' },
  },
  {
    name: 'no exclusion and no deferrable constraints',
    sql: `select conrelid::regclass || ': ' || conname from pg_constraint
      where connamespace = 'public'::regnamespace and (contype = 'x' or condeferrable)`,
    control: {
      change: 'alter table intakes add constraint control_late unique (owner, fact, shop) deferrable',
      finding: 'intakes: control_late',
    },
  },
  {
    name: 'names have at most 50 characters',
    sql: `select name from (
        select relname::text as name from pg_class where relnamespace = 'public'::regnamespace
        union all select attname::text from pg_attribute join pg_class on pg_class.oid = attrelid where relnamespace = 'public'::regnamespace
        union all select conname::text from pg_constraint where connamespace = 'public'::regnamespace
        union all select polname::text from pg_policy
        union all select name from roles
      ) named where length(name) > 50`,
    control: {
      change: `alter table intakes add ${'x'.repeat(51)} text`,
      finding: 'x'.repeat(51),
    },
  },
  {
    // What names lead to is a small directory, found before the unit is known.
    name: 'unit_id leads every key of the tables of units, but for the directory of names',
    sql: `select t.name || ': ' || i.indexrelid::regclass from tables t join pg_index i on i.indrelid = t.oid and i.indisunique
      where t.unit_column is not null and t.owner_column is null and t.name <> 'unit_names' and i.indkey[0] <> t.unit_column`,
    control: {
      change: 'create unique index control_unit on unit_events (fact, unit_id)',
      finding: 'unit_events: control_unit',
    },
  },
  {
    name: 'a table of units says nothing of who did it, with what, or where',
    sql: `select t.name || ': ' || a.attname from tables t join pg_attribute a on a.attrelid = t.oid and a.attnum > 0 and not a.attisdropped
      where t.unit_column is not null and t.owner_column is null
        and a.attname ~ '(owner|distributor|person|people|technician|instrument|lot|shop|note|reference|client|subject)'`,
    control: { change: 'alter table unit_heads add last_shop text', finding: 'unit_heads: last_shop' },
  },
];

/** Every finding, beginning with the rule that gives it. */
export async function lintCatalogue(client: Asks, rules: readonly LintRule[] = lintRules): Promise<string[]> {
  const findings: string[] = [];
  for (const rule of rules)
    for (const finding of await findingsOf(client, rule)) findings.push(`${rule.name}: ${finding}`);
  return findings;
}

export async function findingsOf(client: Asks, { sql }: LintRule): Promise<string[]> {
  const { rows } = await client.query<[string]>({ text: `${common} ${sql}`, rowMode: 'array' });
  return rows.map(([finding]) => finding);
}
