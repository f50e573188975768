/** What anybody may read: the receipts' key, and what a problem's code means. */
import { z } from 'zod';
import { verifierKeyText } from '../core/log/note.ts';
import { Problem, type ProblemCode, problemCodes } from '../errors.ts';
import type { Routes } from './access.ts';

/** The public half of the key that signs receipts. */
export type PublicKey = {
  readonly name: string;
  /** Eight hexadecimal digits: the key ID of C2SP signed-note. */
  readonly keyId: string;
  /** The 32 bytes of RFC 8032. */
  readonly publicKey: Uint8Array;
  /** The C2SP vkey: name, key ID and the key with its type byte in base64. */
  readonly verifierKey: string;
};

/** Those that sign, the first of them receipts; and those that signed before. */
export type PublicKeys = {
  readonly signers: readonly [PublicKey, ...PublicKey[]];
  readonly former: readonly Omit<PublicKey, 'verifierKey'>[];
};

export function publicFactRoutes({ signers, former }: PublicKeys): Routes {
  const [key, ...others] = signers;
  return (app) => {
    app.get(
      '/log/key',
      {
        schema: {
          operationId: 'readReceiptKey',
          summary: 'The key that receipts are signed with',
          tags: ['log'],
          response: { 200: keySchema },
        },
      },
      async () => ({
        name: key.name,
        keyId: key.keyId,
        algorithm: 'Ed25519' as const,
        publicKey: Buffer.from(key.publicKey).toString('base64'),
        verifierKey: key.verifierKey,
        others: [...others, ...former].map(verifierKeyText),
      }),
    );
    app.get(
      '/problems/:code',
      {
        schema: {
          operationId: 'explainProblem',
          summary: 'What the code of a problem means',
          tags: ['problems'],
          params: z.strictObject({ code: z.string() }),
          response: { 200: meaningSchema },
        },
      },
      async (request) => {
        const { code } = request.params;
        if (!isCode(code)) throw new Problem('not-found', 'No problem has this code.');
        const { status, title, meaning } = problemCodes[code];
        return { code, status, title, meaning };
      },
    );
  };
}

const keySchema = z
  .strictObject({
    name: z.string(),
    keyId: z.string().meta({ description: 'Eight hexadecimal digits (C2SP signed-note)' }),
    algorithm: z.literal('Ed25519'),
    publicKey: z.string().meta({ description: 'The 32 bytes of the key (RFC 8032) in base64' }),
    verifierKey: z.string().meta({ description: 'The same as a C2SP vkey' }),
    others: z
      .array(z.string())
      .meta({ description: 'Keys that also sign checkpoints, or signed before, as C2SP vkeys' }),
  })
  .meta({ description: 'The public half of the key' });

const meaningSchema = z
  .strictObject({ code: z.string(), status: z.int(), title: z.string(), meaning: z.string() })
  .meta({ description: 'The code, its status and what it means' });

function isCode(text: string): text is ProblemCode {
  return Object.hasOwn(problemCodes, text);
}
