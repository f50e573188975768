/** Which parts of records a document needs: what it doesn't ask for is not read. */
import type { GraphQLResolveInfo } from 'graphql';
import type { RecordParts, RecordView } from '../app/record-views.ts';
import { fieldsAsked } from './asks-for.ts';

/** A record with the parts that were read of it. */
export type RecordSeen = RecordView & { readonly parts: RecordParts };

/** The last is too deep in a history to be asked for as yet. */
const ofStanding = ['status', 'units', 'open', 'correctedBy', 'judgedAgain', 'verdictChanges'];

/** Of a field that gives a record. */
export function partsAsked(info: GraphQLResolveInfo): RecordParts {
  const fields = fieldsAsked(info, 'at any depth');
  return {
    standing: ofStanding.some((field) => fields.has(field)),
    notes: fields.has('note'),
    people: fields.has('technician'),
  };
}

/** @throws where that part was not read: `partsAsked` doesn't know a field that needs it */
export function having(record: RecordSeen, part: keyof RecordParts): RecordView {
  if (record.parts[part]) return record;
  throw new Error(`of a record ${part} are told that were not read`);
}
