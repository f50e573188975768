import { describe, expect, it } from 'vitest';
import { digestOfBytes, typeOfBytes } from '../../../src/core/records/attachment.ts';

const bytes = (hex: string) => Buffer.from(hex.replaceAll(' ', ''), 'hex');

describe('a file', () => {
  it.each([
    // ISO/IEC 15948 (PNG) 5.2; ITU-T T.81 (JPEG) B.1.1.3: SOI, then a marker; ISO 32000-1 (PDF) 7.5.2: "%PDF-".
    ['image/png', '89 50 4e 47 0d 0a 1a 0a 00'],
    ['image/jpeg', 'ff d8 ff e0'],
    ['application/pdf', '25 50 44 46 2d 31 2e 37'],
  ])('is %s by the bytes that it begins with', (type, hex) => {
    expect(typeOfBytes(bytes(hex))).toBe(type);
  });

  it('is nothing that is taken where they differ, end early, or come later', () => {
    expect(typeOfBytes(bytes('89 50 4e 47 0d 0a 1a 0b'))).toBeNull();
    expect(typeOfBytes(bytes('89 50 4e 47 0d 0a 1a'))).toBeNull();
    expect(typeOfBytes(bytes('00 ff d8 ff'))).toBeNull();
    expect(typeOfBytes(bytes(''))).toBeNull();
  });

  it('is known by the SHA-256 of its content', () => {
    // FIPS 180-2 app. B.1: the message "abc".
    const digest = 'sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
    expect(digestOfBytes(Buffer.from('abc'))).toBe(digest);
  });
});
