/** How often work that waits for nothing is done in a second: for half a second, and once at the least. */
export function timesASecond(work: () => unknown, forMs = 500): number {
  const begun = performance.now();
  let done = 0;
  let now = begun;
  while (now - begun < forMs) {
    work();
    done += 1;
    now = performance.now();
  }
  return done / ((now - begun) / 1000);
}
