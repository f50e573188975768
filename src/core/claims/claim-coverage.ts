/** What each of a maker's terms gives for a claim: which version was in force, and how far its limits reach. */
import type { Quantity } from '../quantity/quantity.ts';
import type { Instant, Interval } from '../time/instant.ts';
import type { ClaimedPart } from './claim-body.ts';
import type { ClaimDates } from './claim-dates.ts';
import { type Coverage, coverageOf } from './coverage.ts';
import type { TermsBody } from './terms-body.ts';

export type TermsVersion = {
  readonly id: string;
  readonly version: number;
  /** The fact that states it. */
  readonly record: string;
  readonly validFrom: Instant;
  readonly validUntil: Instant | null;
  readonly text: string | null;
  readonly parts: TermsBody['parts'];
};

type Chosen = { readonly by: 'delivery' | 'start-up' | 'failure'; readonly at: Interval };
export type TermsCoverage = {
  readonly terms: string;
  /** Null: which version was in force is not known. */
  readonly version: number | null;
  /** The fact that states it. */
  readonly statedBy: string | null;
  readonly text: string | null;
  /** By what the version was chosen. */
  readonly chosenBy: Chosen['by'];
  /** Null: these terms state no limits for the part, or their version is not known. */
  readonly coverage: Coverage | null;
  readonly because: string;
};
export type CoveredClaim = ClaimDates & {
  readonly part: ClaimedPart;
  readonly failed: Interval;
  readonly hours: Quantity | null;
};

/** Of all versions that are known, in the order of the ids of the terms; terms that were not in force are left out. */
export function claimCoverage(claim: CoveredClaim, versions: readonly TermsVersion[]): TermsCoverage[] {
  const chosen = chosenFor(claim);
  const ids = [...new Set(versions.map((one) => one.id))].toSorted();
  return ids.flatMap((terms): TermsCoverage[] => {
    const stated = versions.filter((one) => one.id === terms).toSorted((a, b) => a.version - b.version);
    const inForce = versionsWithin(stated, chosen.at);
    const [version, ...others] = inForce;
    if (version === undefined) return [];
    if (version === null || others.length > 0) {
      const because = `Which version of ${terms} was in force at the ${chosen.by} is not known: its day is not known well enough.`;
      return [{ terms, version: null, statedBy: null, text: null, chosenBy: chosen.by, coverage: null, because }];
    }
    const limits = version.parts[claim.part];
    const because = [
      `${terms}, version ${version.version}, was in force at the ${chosen.by}${reason(chosen)}.`,
      ...(limits === undefined ? [`It states no limits for ${claim.part}.`] : []),
    ].join(' ');
    return [
      {
        ...{ terms, version: version.version, statedBy: version.record, text: version.text, chosenBy: chosen.by },
        ...{ coverage: limits === undefined ? null : coverageOf({ ...claim, limits }), because },
      },
    ];
  });
}

/** Terms are those of the delivery; where that is not known, of the next that is. */
function chosenFor({ delivered, startedUp, failed }: CoveredClaim): Chosen {
  if (delivered !== null) return { by: 'delivery', at: delivered.at };
  return startedUp === null ? { by: 'failure', at: failed } : { by: 'start-up', at: startedUp.at };
}

function reason({ by }: Chosen): string {
  if (by === 'delivery') return '';
  return by === 'start-up' ? ', since the delivery is not known' : ', since neither delivery nor start-up is known';
}

/** Every version that may have been in force, each once; null: none may have been. Of several at one time the latest stated. */
function versionsWithin(stated: readonly TermsVersion[], { from, to }: Interval): (TermsVersion | null)[] {
  const changes = stated.flatMap((one) => [one.validFrom, one.validUntil ?? one.validFrom]);
  const instants = [from, to, ...changes.filter((at) => from < at && at < to)];
  const found = [...new Set(instants.map((at) => stated.findLast((one) => isInForce(one, at)) ?? null))];
  return found.every((one) => one === null) ? [] : found;
}

function isInForce({ validFrom, validUntil }: TermsVersion, at: Instant): boolean {
  return validFrom <= at && (validUntil === null || at < validUntil);
}
