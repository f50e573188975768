import { chainFault, chainSchema, untied } from '../../core/log/chain.ts';
import type { VerifierKey } from '../../core/log/note.ts';
import { type Kept, keptFaults, notShownWithout, upTo } from './kept.ts';
import type { Outcome } from './outcome.ts';
import { readJson, shaped } from './read-file.ts';
import { sentenceOf } from './sentences.ts';

/** @throws Unreadable */
export async function verifyChain(path: string, keys: readonly VerifierKey[], kept: Kept | null): Promise<Outcome> {
  const chain = shaped(chainSchema, await readJson(path), path, 'a chain');
  const { unit, entries, checkpoint } = chain;
  const fault = chainFault(chain, keys);
  if (fault !== null) {
    const at = entries.findIndex(({ seq }) => seq === fault.seq);
    const place = `place ${fault.seq} of unit ${unit}${at < 0 ? '' : ` (/entries/${at})`}`;
    return { proven: '', faults: [sentenceOf(fault.fault, place)], notShown: [] };
  }
  const loose = untied(chain);
  const hidden = entries.filter(({ leaf }) => leaf === null).map(({ seq }) => seq);
  const log = upTo(checkpoint, keys);
  return {
    proven: `all ${entries.length} places of unit ${unit} are in ${log}, and each record that is shown names the one before it`,
    faults: [
      ...(hidden.length === entries.length
        ? [`unit ${unit}: every record is withheld, so nothing ties this to it.`]
        : []),
      ...keptFaults(checkpoint, kept, keys),
    ],
    notShown: [
      ...(hidden.length === 0 ? [] : [`what the records say that are withheld, at place ${hidden.join(', ')}`]),
      ...(loose.length === 0
        ? []
        : [
            `that the entry at place ${loose.join(', ')} is this unit's: it is withheld, and no record after it names it`,
          ]),
      `what came after place ${entries.length}: it is proven up to ${log}`,
      ...notShownWithout(kept),
    ],
  };
}
