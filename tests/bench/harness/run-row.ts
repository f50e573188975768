/** Measures a row: ours, theirs, ours, theirs … */
import { type Result, type Round, resultOf } from './figures.ts';
import type { Row } from './row.ts';
import { shown } from './table.ts';

export async function runRow<Ground>(
  row: Row<Ground>,
  ground: Ground,
  { rounds, tell }: { readonly rounds: number; readonly tell: (line: string) => void },
): Promise<Result> {
  tell(`${row.name}: warming up`);
  const sides = await row.prepare(ground);
  try {
    const done: Round[] = [];
    for (let nth = 1; nth <= rounds; nth++) {
      const [ours, theirs] = [await sides.ours(), await sides.theirs()];
      done.push({ ours, theirs });
      const ratio = shown(ours.value / theirs.value);
      tell(
        `${row.name}: round ${nth} of ${rounds}: ${shown(ours.value)} ÷ ${shown(theirs.value)} ${row.unit} = ${ratio}`,
      );
    }
    return resultOf(row, done);
  } finally {
    await sides.close?.();
  }
}
