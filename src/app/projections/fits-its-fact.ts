import { canonical } from '../../core/log/canonical.ts';
import { subjectsInOrder } from '../../core/log/leaf.ts';
import type { SourceAnswer } from '../../store/projections/read-sources.ts';

/** Whether a kept answer says what its fact says, with the receipt of that fact, whoever signed it. */
export function fitsItsFact({ answer, stated, entry, recordedAt, digests, salts, subjects }: SourceAnswer): boolean {
  try {
    const kept = JSON.parse(answer) as { receipt: { key: string; signature: string; salts: Record<string, string> } };
    const { key, signature } = kept.receipt;
    const expected = {
      ...(JSON.parse(stated) as object),
      receipt: {
        ...{ key, entry, recordedAt, signature },
        subjects: subjectsInOrder(subjects),
        digests: JSON.parse(digests) as unknown,
        salts: { ...salts, private: salts['private'] ?? kept.receipt.salts['private'] },
      },
    };
    return canonical(kept) === canonical(expected);
  } catch {
    return false;
  }
}
