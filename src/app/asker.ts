/** Who asks, as the token says and the directory confirms. */

/** The closed list of scopes. */
export const scopes = [
  'catalogue:publish',
  'stock:write',
  'record:write',
  'record:read',
  'disposition:write',
  'warranty:read',
  'warranty:decide',
  'containment:write',
  'report:read',
  'organisation:write',
] as const;
export type Scope = (typeof scopes)[number];

/** The organisations that a token speaks for, by slug. A distributor's token may name its maker too. */
export type OrganisationSlugs = { readonly distributor: string | null; readonly maker: string | null };

/** The same organisations by the directory's uuid; null where none is named, or where the directory knows none of that slug and kind. */
export type OrganisationIds = { readonly distributor: string | null; readonly maker: string | null };

export type Asker = OrganisationSlugs & {
  /** The token's subject. */
  readonly subject: string;
  /** The client that the token was issued to; keys are scoped by it. */
  readonly client: string;
  readonly scopes: ReadonlySet<Scope>;
  readonly organisations: OrganisationIds;
  /** What this request has been shown of whose, by organisation: see `journal-access.ts`. */
  readonly shown: Shown;
};

/** Ids of facts by their owner. */
export type Shown = Map<string, Set<string>>;

/** Looks both slugs up in the directory of organisations. */
export type ResolveOrganisations = (slugs: OrganisationSlugs) => Promise<OrganisationIds>;
