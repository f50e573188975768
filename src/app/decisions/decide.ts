/** What a request leads to. Pure but for the ids of what comes new: everything it reads was loaded. */
import { fingerprint } from '../../core/log/fingerprint.ts';
import type { Effects } from '../effects.ts';
import type { Decision } from '../recording/draft.ts';
import type { Loaded } from '../recording/loaded.ts';
import { isLife, isWork, type Request } from '../recording/request.ts';
import { decideClaim, decideClaimDecision, decideClaimEvidence } from './decide-claim.ts';
import { decideContained, decideContainment, decideLift, decideProgress } from './decide-containment.ts';
import { decideCorrection } from './decide-correction.ts';
import { decideDisposition } from './decide-disposition.ts';
import { decideEdition } from './decide-edition.ts';
import { decideErasure } from './decide-erasure.ts';
import { decideIdentity } from './decide-identity.ts';
import { decideInstrument } from './decide-instrument.ts';
import { decideInstrumentVoid } from './decide-instrument-void.ts';
import { decideJudgement } from './decide-judgement.ts';
import {
  decideApproval,
  decideApprovalWithdrawal,
  decideAuthorisation,
  decideAuthorisationWithdrawal,
} from './decide-leave.ts';
import { decideLife } from './decide-life.ts';
import { decideLotMove } from './decide-lot-move.ts';
import { decideRegistration } from './decide-registration.ts';
import { decideRestocking } from './decide-restocking.ts';
import { decideStock } from './decide-stock.ts';
import { decideTerms } from './decide-terms.ts';
import { decideWork } from './decide-work.ts';

export function decide(request: Request, loaded: Loaded, effects: Effects): Decision {
  const before = answeredBefore(request, loaded);
  if (before !== null) return before;
  if (isWork(request)) return decideWork(request, loaded);
  if (isLife(request)) return decideLife(request, loaded);
  switch (request.kind) {
    case 'registration':
      return decideRegistration(request, loaded, effects);
    case 'disposition':
      return decideDisposition(request, loaded);
    case 'correction':
      return decideCorrection(request, loaded);
    case 'identity':
      return decideIdentity(request, loaded);
    case 'judgement':
      return decideJudgement(request, loaded);
    case 'intake':
    case 'scrapping':
    case 'return':
    case 'count':
      return decideLotMove(request, loaded);
    case 'restocking':
      return decideRestocking(request, loaded);
    case 'calibration':
    case 'interim-check':
    case 'incident':
      return decideInstrument(request, loaded);
    case 'instrument-void':
      return decideInstrumentVoid(request, loaded);
    case 'erasure':
      return decideErasure(request, loaded);
    case 'authorisation':
      return decideAuthorisation(request, loaded);
    case 'authorisation-withdrawal':
      return decideAuthorisationWithdrawal(request, loaded);
    case 'approval':
      return decideApproval(request, loaded);
    case 'approval-withdrawal':
      return decideApprovalWithdrawal(request, loaded);
    case 'claim':
      return decideClaim(request, loaded);
    case 'claim-evidence':
      return decideClaimEvidence(request, loaded);
    case 'claim-decision':
      return decideClaimDecision(request, loaded);
    case 'terms':
      return decideTerms(request, loaded, effects);
    case 'containment':
      return decideContainment(request, loaded);
    case 'containment-progress':
      return decideProgress(request, loaded);
    case 'containment-lift':
      return decideLift(request, loaded);
    case 'containment-unit':
      return decideContained(request, loaded);
    case 'edition':
      return decideEdition(request, loaded, effects);
    case 'shop':
    case 'technician':
    case 'instrument':
    case 'attachment':
    case 'lot':
      return decideStock(request, loaded, effects);
  }
}

/** A key is bound to one route and one body; the same again gets the same answer, byte for byte. */
function answeredBefore({ owner, client, key, route, sent }: Request, loaded: Loaded): Decision | null {
  const bound = loaded.keys.find((one) => one.owner === owner && one.client === client && one.key === key);
  if (bound === undefined) return null;
  if (bound.route === route && bound.fingerprint === fingerprint(sent)) {
    return { decided: 'repeat', status: bound.status === 200 ? 200 : 201, answer: bound.answer, replayed: true };
  }
  return {
    decided: 'reject',
    refusal: {
      code: 'key-reused',
      detail:
        'This Idempotency-Key was used for another request. Send a new key, or the body that it was first sent with.',
    },
  };
}
