/** Somebody else changed what was read: nothing is wrong, the work begins again. */
export class ConcurrentChange extends Error {
  override readonly name = 'ConcurrentChange';
}
