/** A place in a JSON document as RFC 6901 writes it: ['a/b', 0] → "/a~1b/0"; the whole document is "". */
export function pointerOf(path: readonly PropertyKey[]): string {
  return path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}
