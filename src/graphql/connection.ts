/** Pages as Relay's connections: edges with cursors, and pageInfo. */
import type { Page, PageAsked } from '../app/page.ts';
import { pageOf } from '../app/page.ts';

type Args = { readonly first: number; readonly after?: string | null | undefined };
export type Connection<T> = {
  readonly edges: { readonly node: T; readonly cursor: string }[];
  readonly pageInfo: Page<T>['pageInfo'];
};

/** `first` was looked at before anything ran: see limits.ts. */
export function pageAsked({ first, after }: Args): PageAsked {
  return { first, after: after ?? null };
}

export function connectionOf<T>({ items, pageInfo }: Page<T>, cursorOf: (item: T) => string): Connection<T> {
  return { edges: items.map((node) => ({ node, cursor: cursorOf(node) })), pageInfo };
}

/** A page of a list that is at hand whole. */
export function connectionIn<T>(all: readonly T[], args: Args, cursorOf: (item: T) => string): Connection<T> {
  return connectionOf(pageOf(all, pageAsked(args), cursorOf), cursorOf);
}
