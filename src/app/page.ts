/** Pages by cursor, as every list of this service has them. */
import { Problem } from '../errors.ts';
import { patiently } from './patiently.ts';

export type PageAsked = { readonly first: number; readonly after: string | null };
export type Page<T> = {
  readonly items: T[];
  readonly pageInfo: { readonly endCursor: string | null; readonly hasNextPage: boolean };
};

/** A page of a list that is at hand whole. */
export function pageOf<T>(all: readonly T[], { first, after }: PageAsked, cursorOf: (item: T) => string): Page<T> {
  const start = after === null ? 0 : all.findIndex((item) => cursorOf(item) === after) + 1;
  if (after !== null && start === 0) throw unknownCursor();
  return cut(all.slice(start, start + first + 1), first, cursorOf);
}

/** A page of rows that were read with one more than asked. */
export function cut<T>(rows: readonly T[], first: number, cursorOf: (item: T) => string): Page<T> {
  const items = rows.slice(0, first);
  const last = items.at(-1);
  return {
    items,
    pageInfo: { endCursor: last === undefined ? null : cursorOf(last), hasNextPage: rows.length > first },
  };
}

/** What is on the pages that follow on one that is at hand; they wait for what that one is told to come back for. */
export async function* everyPage<T>(
  begin: Page<T>,
  next: (after: string | null) => Promise<Page<T>>,
): AsyncGenerator<readonly T[], void, undefined> {
  const nextOf = (page: Page<T>) => patiently(() => next(page.pageInfo.endCursor));
  for (let page = begin; ; page = await nextOf(page)) {
    if (page.items.length > 0) yield page.items;
    if (!page.pageInfo.hasNextPage) return;
  }
}

export function unknownCursor(): Problem {
  return new Problem('invalid-input', 'The cursor is not of this list.', {
    errors: [{ parameter: 'after', detail: 'take it from pageInfo.endCursor of the page before' }],
  });
}
