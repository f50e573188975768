import type pg from 'pg';

/**
 * Refuses a login that row security wouldn't hold: a superuser, one with BYPASSRLS, an owner of tables, or one that
 * could become any of these by `set role`. Asked once, before the service listens.
 */
export async function checkRuntimeRole(pool: pg.Pool): Promise<void> {
  const { rows } = await pool.query<{
    login: string;
    role: string;
    super: boolean;
    bypass: boolean;
    owned: string | null;
  }>(`
    select session_user as login, r.rolname as role, r.rolsuper as super, r.rolbypassrls as bypass, t.owned
    from pg_catalog.pg_roles r
    left join lateral (
      select min(c.oid::regclass::text) as owned from pg_catalog.pg_class c
      where c.relowner = r.oid and c.relkind in ('r', 'p', 'v', 'm')
        and c.relnamespace not in ('pg_catalog'::regnamespace, 'information_schema'::regnamespace, 'pg_toast'::regnamespace)
    ) t on true
    where pg_catalog.pg_has_role(session_user, r.oid, 'member')
      and (r.rolsuper or r.rolbypassrls or t.owned is not null)
    order by r.rolname <> session_user, r.rolname
    limit 1`);
  const worst = rows[0];
  if (worst === undefined) return;
  const what = worst.super ? 'a superuser' : worst.bypass ? 'a role with BYPASSRLS' : `the owner of ${worst.owned}`;
  const who = worst.role === worst.login ? `${worst.login} is` : `${worst.login} can become ${worst.role},`;
  throw new Error(
    `DATABASE_URL logs in as ${worst.login}: ${who} ${what}, so that row security wouldn't keep one distributor from another. Log in as asfitted_service (ops/roles.sql).`,
  );
}
