/** Files beside a record: pictures and papers, known by their content. */
import { createHash } from 'node:crypto';
import { z } from 'zod';

/** What is taken, by the bytes that such a file begins with. */
const signatures = {
  'image/jpeg': [0xff, 0xd8, 0xff],
  'image/png': [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
  'application/pdf': [0x25, 0x50, 0x44, 0x46, 0x2d],
} as const;

export type AttachmentType = keyof typeof signatures;
export const attachmentTypes = Object.keys(signatures) as AttachmentType[];
/** Bytes. */
export const largestAttachment = 10 * 1024 * 1024;

export const attachmentDigest = z.string().regex(/^sha256:[0-9a-f]{64}$/, {
  error: 'an attachment is named by its content: sha256: and 64 hexadecimal digits, as POST /v1/attachments answered',
});

export type AttachmentBody = { readonly mediaType: AttachmentType; readonly bytes: number };

export function digestOfBytes(bytes: Uint8Array): string {
  return `sha256:${createHash('sha256').update(bytes).digest('hex')}`;
}

/** What the content itself says it is; null: nothing that is taken. */
export function typeOfBytes(bytes: Uint8Array): AttachmentType | null {
  return attachmentTypes.find((type) => signatures[type].every((byte, at) => bytes[at] === byte)) ?? null;
}
