/** Writes schema/edition.schema.json from the zod schema; `--check` exits 1 where the file isn't what the schema says. */
import { readFile, writeFile } from 'node:fs/promises';
import { z } from 'zod';
import { demand, editionSchema, id, place } from '../core/catalogue/edition.ts';
import { quantitySchema } from '../core/quantity/quantity.ts';

const file = new URL('../../schema/edition.schema.json', import.meta.url);
const generated = `${JSON.stringify(editionJsonSchema(), null, 2)}\n`;

if (!process.argv.includes('--check')) {
  await writeFile(file, generated);
} else if ((await readFile(file, 'utf8').catch(() => '')) !== generated) {
  console.error('schema/edition.schema.json is stale: run node src/cli/generate-schemas.ts and commit it');
  process.exitCode = 1;
}

/** What may be sent: fields with a default may be left out. */
function editionJsonSchema() {
  return {
    ...z.toJSONSchema(editionSchema, { io: 'input', metadata: definitions() }),
    title: 'An edition of a catalogue of controls',
    description: 'Its shape. What it must mean besides is said by `npm run -s catalogue -- check FILE`.',
  };
}

/** The parts that get a definition of their own, under the names that the catalogue has for them. */
function definitions() {
  const { elements, series, bodies, functions, kits, checks } = editionSchema.shape;
  const { stations, joints, settings } = bodies.element.shape;
  const named = z.registry<z.core.GlobalMeta & { id: string }>();
  named.add(id, { id: 'id' });
  named.add(place, { id: 'place' });
  named.add(quantitySchema, { ...quantitySchema.meta(), id: 'quantity' });
  named.add(demand, { id: 'demand' });
  named.add(elements.element, { id: 'element' });
  named.add(stations.element, { id: 'station' });
  named.add(joints.unwrap().element, { id: 'joint' });
  named.add(settings.unwrap().element, { id: 'setting' });
  named.add(series.element.shape.sizes.element, { id: 'size' });
  named.add(bodies.element, { id: 'body' });
  named.add(functions.element, { id: 'function' });
  named.add(kits.unwrap().element, { id: 'kit' });
  named.add(checks.unwrap().element, { id: 'check' });
  return named;
}
