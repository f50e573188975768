/** Pages as Relay's connections: edges with cursors, and pageInfo. */
import type { Page, PageAsked } from '../app/page.ts';
import { pageOf } from '../app/page.ts';

type Args = { readonly first: number; readonly after?: string | null | undefined };
export type Connection<T> = {
  readonly edges: { readonly node: T; readonly cursor: string }[];
  readonly pageInfo: Page<T>['pageInfo'] & { readonly startCursor: string | null; readonly hasPreviousPage: boolean };
};

/** `first` was looked at before anything ran: see limits.ts. */
export function pageAsked({ first, after }: Args): PageAsked {
  return { first, after: after ?? null };
}

/** Where a page begins after a cursor, what that cursor is of comes before it. */
export function connectionOf<T>(
  { items, pageInfo }: Page<T>,
  { after }: Pick<Args, 'after'>,
  cursorOf: (item: T) => string,
): Connection<T> {
  const edges = items.map((node) => ({ node, cursor: cursorOf(node) }));
  const hasPreviousPage = after !== null && after !== undefined;
  return { edges, pageInfo: { ...pageInfo, startCursor: edges[0]?.cursor ?? null, hasPreviousPage } };
}

/** A page of a list that is at hand whole. */
export function connectionIn<T>(all: readonly T[], args: Args, cursorOf: (item: T) => string): Connection<T> {
  return connectionOf(pageOf(all, pageAsked(args), cursorOf), args, cursorOf);
}
