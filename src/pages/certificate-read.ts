/** A certificate as it is shown: nothing but what its sections, its leaf and its proof say. */
import { type Certificate, withheldOf } from '../core/log/certificate.ts';
import { type Checkpoint, checkpointIn } from '../core/log/checkpoint.ts';
import type { Section, Subject } from '../core/log/leaf.ts';
import type { RecordRead } from './record-read.ts';
import { type Json, listOf, objectOf, textOf } from './statement.ts';

export type CertificateRead = {
  readonly leaf: Certificate['leaf'];
  readonly proof: Certificate['proof'];
  readonly withheld: readonly Section[];
  /** Of what kind the work is, also where it is stated in a correction. */
  readonly kind: string;
  /** Of the work, also where a correction states it in its body. */
  readonly statement: Json;
  /** What a correction states about the record that it replaces. */
  readonly correction: Json | null;
  readonly judgement: Json;
  readonly origin: Json;
  readonly private: unknown;
  /** Null: the note in it can't be read. */
  readonly checkpoint: Checkpoint | null;
  readonly units: readonly (Subject & { readonly kind: 'control' | 'pump' | null; readonly name: string | null })[];
};

export function readCertificate(certificate: Certificate): CertificateRead {
  const { leaf, sections, proof } = certificate;
  const stated = objectOf(sections.statement?.content);
  const { body, ...about } = stated;
  const isCorrection = leaf.kind === 'correction' && body !== undefined;
  const statement = isCorrection ? objectOf(body) : stated;
  const judgement = objectOf(sections.judgement?.content);
  return {
    ...{ leaf, proof, statement, judgement, withheld: withheldOf(certificate) },
    kind: leaf.kind,
    correction: isCorrection ? about : null,
    origin: objectOf(sections.origin?.content),
    private: sections.private?.content ?? null,
    checkpoint: checkpointIn(proof.checkpoint.slice(0, proof.checkpoint.lastIndexOf('\n\n') + 1)),
    units: unitsOf(leaf.subjects, statement, judgement),
  };
}

/** The names that the statement gives, beside the units that the judgement says they are. */
function unitsOf(subjects: readonly Subject[], statement: Json, judgement: Json): CertificateRead['units'] {
  const judged = objectOf(judgement['units']);
  return subjects.map((subject) => {
    const kind = (['control', 'pump'] as const).find((one) => judged[one] === subject.unit) ?? null;
    return { ...subject, kind, name: kind && nameIn(statement[kind]) };
  });
}

/** As it was named: by its serial, or by its tag; null where it wasn't. */
export function nameIn(reference: unknown): string | null {
  const { serial, tag } = objectOf(reference);
  return textOf(serial) ?? textOf(tag);
}

/** For what is shown of records as of certificates. The names of people are no part of a certificate. */
export function asRecord({ leaf, proof, statement, judgement, ...read }: CertificateRead): RecordRead {
  return {
    ...{ id: leaf.id, kind: leaf.kind, edition: leaf.edition, ruleset: leaf.ruleset, recordedAt: leaf.recordedAt },
    ...{ statement, judgement, origin: read.origin, private: read.private, entry: proof.entry },
    ...{ maker: null, performed: { from: '', to: '' }, concerns: null, correctedBy: null, judgedAgain: [] },
    ...{ units: [], status: textOf(judgement['status']) ?? '', open: [], people: {} },
  };
}

/** A line of torques or settings, with the verdicts that were given on it. */
export type Judged = { readonly line: Json; readonly verdicts: readonly Json[] };

/** Where the statement is withheld: what the verdicts say was read. */
export function judgedLines({ withheld, statement, judgement }: CertificateRead, of: 'torque' | 'setting'): Judged[] {
  const verdicts = listOf(judgement['verdicts']);
  const list = `${of}s`;
  if (withheld.includes('statement'))
    return verdicts
      .filter((one) => one['of'] === of)
      .map((one) => ({
        line: { [joined[of]]: one['place'], reading: one['reading'], instrument: one['instrument'] },
        verdicts: [one],
      }));
  return listOf(statement[list]).map((line, at) => ({
    line,
    verdicts: verdicts.filter(({ pointer }) => textOf(pointer)?.startsWith(`/${list}/${at}/`)),
  }));
}

const joined = { torque: 'joint', setting: 'setting' } as const;
