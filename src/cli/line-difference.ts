/**
 * What to take away from one text and add to it to get the other, line by line, with the heading (a line that begins
 * with `heading`) that a change stands under. Empty when they are equal.
 */
export function lineDifference(from: string, to: string, heading = /^#/): string {
  const before = from.split('\n');
  const after = to.split('\n');
  const length = commonLengths(before, after);
  const out: string[] = [];
  let i = 0;
  let j = 0;
  let under = '';
  let printed = '';
  const put = (line: string) => {
    if (under !== printed) out.push(under);
    printed = under;
    out.push(line);
  };
  while (i < before.length || j < after.length) {
    const a = before[i];
    const b = after[j];
    if (a !== undefined && a === b) {
      if (heading.test(a)) under = a;
      i += 1;
      j += 1;
    } else if (b === undefined || (a !== undefined && at(length, i + 1, j) >= at(length, i, j + 1))) {
      put(`- ${a}`);
      i += 1;
    } else {
      put(`+ ${b}`);
      j += 1;
    }
  }
  return out.join('\n');
}

/** length[i][j]: how many lines the rest of both from there on have in common, in order. */
function commonLengths(before: readonly string[], after: readonly string[]): number[][] {
  const length = Array.from({ length: before.length + 1 }, () => new Array<number>(after.length + 1).fill(0));
  for (let i = before.length - 1; i >= 0; i -= 1) {
    for (let j = after.length - 1; j >= 0; j -= 1) {
      const row = length[i] ?? [];
      row[j] =
        before[i] === after[j] ? at(length, i + 1, j + 1) + 1 : Math.max(at(length, i + 1, j), at(length, i, j + 1));
    }
  }
  return length;
}

function at(length: readonly number[][], i: number, j: number): number {
  return length[i]?.[j] ?? 0;
}
