/** A unit as it was at one time, as known at another, with what was mounted on it or under it then. */
import { Problem } from '../errors.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type Past, readPasts } from './read-history.ts';
import { requireSight, requireUnit, type UnitPath, type UnitView } from './read-unit.ts';

export type Then = { readonly performed: string | null; readonly known: string | null };

/** The partner is null also where its past is not the asker's to see: the unit says what was mounted all the same. */
export async function readUnitThen(app: App, asker: Asker, path: UnitPath, then: Then) {
  requireSight(asker, path.maker);
  const [past] = await readPasts(app, asker, async (tx) => [
    { ...path, ...then, unit: (await requireUnit(tx, path)).unit },
  ]);
  if (past === undefined || past instanceof Problem) throw past;
  const { performed, known, settled, horizon } = past;
  const { mounted } = past.state;
  const [partner] =
    mounted === null
      ? []
      : await readPasts(app, asker, async () => [
          { unit: mounted.unit, kind: mounted.kind, maker: path.maker, performed, known: known ?? then.known },
        ]);
  return {
    unit: viewIn(past),
    partner: partner === undefined || partner instanceof Problem ? null : viewIn(partner),
    ...{ performed, known, settled, horizon },
  };
}

function viewIn({ state: { changedUnrecorded: _, ...view } }: Past): UnitView {
  return view;
}
