/** Answers to what is recorded: outcomes, judgements, and records and attempts read back. */
import { z } from 'zod';
import { receiptSchema } from '../../core/log/receipt.ts';
import {
  asKept,
  content,
  count,
  digest,
  finding,
  instant,
  interval,
  list,
  openFinding,
  pageOf,
  settledFields,
  status,
  unitName,
  uuid,
} from './common-shapes.ts';
import { judgementKept } from './judgement-shapes.ts';

export const receipt = receiptSchema.meta({
  id: 'Receipt',
  description:
    'Proves later, with the record and without the service, what was taken in and when: `signature` is Ed25519 over the canonical JSON (RFC 8785) of the other members, by the key of /log/key',
});
export const id = uuid.meta({ description: 'The id of what was recorded' });

const unitOfRecord = z
  .strictObject({ unit: uuid, maker: z.string(), name: unitName })
  .meta({ id: 'UnitOfRecord', description: 'A unit by the id of the service, its maker, and serial or tag' });

const fit = z
  .record(z.string(), content)
  .meta({ description: 'What sits where after the work, by station; those of the pump are on the pump: pump/…' });
const fun = z.string().nullable().meta({ description: 'The function after the work; null: it matches none' });
const judged = {
  status: status.meta({ description: 'As judged now; GET /v1/records/{id} has it as it is later' }),
  function: fun,
  findings: list(finding),
  fit,
};

/** What `?check=only` answers. */
export function checkedOf<Shape extends { readonly id: typeof id; readonly receipt: typeof receipt }>(
  outcome: z.ZodObject<Shape>,
  name: string,
) {
  const { id: _, receipt: __, ...rest } = outcome.shape;
  const description = `What would be answered; nothing was written: ${outcome.meta()?.id} but for its id and receipt`;
  return z.strictObject(rest).meta({ id: name, description });
}

export const recordOutcome = z
  .strictObject({ id, control: unitOfRecord, pump: unitOfRecord.nullable(), ...judged, receipt })
  .meta({ id: 'RecordOutcome', description: 'The record as kept and judged; the same bytes for the same key' });
export const lifeOutcome = z
  .strictObject({
    id,
    control: unitOfRecord.nullable(),
    pump: unitOfRecord.nullable(),
    findings: list(finding),
    receipt,
  })
  .meta({
    id: 'LifeOutcome',
    description: 'A movement, start-up or retirement as kept, with the units that it is about',
  });
export const lifeChecked = checkedOf(lifeOutcome, 'LifeChecked');

const replaces = uuid.meta({ description: 'The record that counts no more' });
export const correctionOutcome = z
  .union([
    z.strictObject({ ...recordOutcome.shape, replaces }),
    z.strictObject({ ...lifeOutcome.shape, replaces }),
    z.strictObject({ id, replaces, findings: list(finding), receipt }),
  ])
  .meta({ id: 'CorrectionOutcome', description: 'What stands in place of the record, as kept; or that nothing does' });
export const pumpRegistered = z
  .strictObject({ id, pump: unitOfRecord, control: unitOfRecord.nullable(), ...judged, receipt })
  .meta({ id: 'PumpRegistered', description: 'The pump, and the control on it, as registered' });
export const controlRegistered = z
  .strictObject({ id, control: unitOfRecord, ...judged, receipt })
  .meta({ id: 'ControlRegistered', description: 'The control as registered' });

export const recordChecked = checkedOf(recordOutcome, 'RecordChecked');

export const correctionChecked = z
  .union([
    z.strictObject({ ...recordChecked.shape, replaces }),
    z.strictObject({ ...lifeChecked.shape, replaces }),
    z.strictObject({ replaces, findings: list(finding) }),
  ])
  .meta({
    id: 'CorrectionChecked',
    description: 'What would be answered; nothing was written: CorrectionOutcome but for its id and receipt',
  });

export const attachmentOutcome = z
  .strictObject({
    id,
    attachment: digest.meta({ description: 'What records name it by' }),
    version: count,
    receipt,
  })
  .meta({ id: 'AttachmentOutcome', description: 'The file as taken in' });

export const identityOutcome = z
  .strictObject({
    id,
    unit: uuid,
    maker: z.string(),
    names: list(
      z.strictObject({
        name: z.string(),
        kind: z
          .enum(['serial', 'tag', 'former', 'free'])
          .meta({ description: 'former: it still finds the unit; free: it leads nowhere and can be registered anew' }),
        unit: uuid,
      }),
    ).meta({ description: 'What was named anew, or leads elsewhere now' }),
    findings: list(finding),
    receipt,
  })
  .meta({ id: 'IdentityOutcome', description: 'Which unit is which, as kept' });
export const identityChecked = checkedOf(identityOutcome, 'IdentityChecked');

const independence = z.enum(['proven', 'unproven']).meta({
  description:
    'proven: everybody who did the work has a token subject on record, and it is not the one who decides; unproven: of somebody that is not known',
});
export const dispositionOutcome = z
  .strictObject({
    id,
    record: uuid,
    decision: z.enum(['rework', 'concession', 'scrap']),
    independence,
    findings: list(finding),
    receipt,
  })
  .meta({ id: 'DispositionOutcome', description: 'What was decided, as kept' });
export const dispositionChecked = checkedOf(dispositionOutcome, 'DispositionChecked');

export const recordAnswer = z
  .strictObject({
    id,
    kind: z.string(),
    maker: z.string().nullable(),
    edition: z.string().nullable(),
    ruleset: z.string().nullable().meta({ description: 'Which rules it was judged by' }),
    performed: interval,
    recordedAt: instant,
    concerns: uuid.nullable().meta({
      description: 'Of a disposition: the record that it is about; of a correction: the one that it replaces',
    }),
    correctedBy: uuid.nullable().meta({ description: 'The correction that has replaced this record' }),
    judgedAgain: list(uuid).meta({
      description: 'Facts that judged it again because of a later one; the last counts for the unit',
    }),
    entry: z.string().meta({ description: "The log's entry, as in the receipt" }),
    units: list(z.strictObject({ unit: uuid, kind: z.enum(['pump', 'control']).nullable(), name: unitName })),
    status: status.meta({ description: 'As it is now; the judgement says how it was judged then' }),
    open: list(openFinding).meta({ description: 'What this record opened and nothing has cleared' }),
    origin: asKept('Who recorded it'),
    statement: asKept('The body as sent, without its note, people by the ids of the service'),
    judgement: judgementKept,
    private: asKept('Its note, where there is one and the asker may read it').nullable(),
    people: z
      .record(z.string(), z.string())
      .meta({ description: "By the service's id of a person, the shop's own; empty for the maker's people" }),
    ...settledFields,
  })
  .meta({ id: 'Record', description: 'One record whole' });

const attempt = z
  .strictObject({
    id: uuid,
    at: instant,
    kind: z.string(),
    body: asKept('The body as sent'),
    findings: asKept('Why it was refused: as the findings of the answer', 'array'),
  })
  .meta({ id: 'Attempt', description: 'A refused body' });
export const attemptPage = pageOf(attempt, 'Refused bodies, the oldest first');

export const editionPublished = z.strictObject({ id, maker: z.string(), edition: z.string(), digest, receipt }).meta({
  id: 'EditionPublished',
  description: 'The edition by its digest, with the id and receipt that it got when it was published',
});
export const editionAnswer = z
  .strictObject({ digest, content: asKept('The edition: schema/edition.schema.json') })
  .meta({ description: 'The edition as published' });
